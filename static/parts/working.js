// How a number came about: each limit, answer and sum behind it, as the rulebook's trees say.

import { h } from "./h.js";
import { placeName } from "./plan.js";
import { valueText } from "./numbers.js";

/** The working of one quantity at one place, or nothing where the rulebook cannot show it. */
export function working(app, book, check, name, place, axles) {
  const told = book.explain?.(name, place, { check: check.check, date: check.date, facts: check.facts });
  const text = book.words.quantity[name], where = placeName(place, axles);
  if (!told) return null;
  return h("div", { class: "working" },
    h("p", {}, `${text}${where ? `, ${where.toLowerCase()}` : ""}: `, h("strong", {}, valueText(book, told.value, book.data.quantities[name].unit, app.settings.units))));
}
