// How a number came about: each answer, limit and sum behind it, as the rulebook's trees say.

import { placeName, say } from "../data/words.js";
import { placeFor } from "../engine/formula.js";
import { h } from "./h.js";
import { valueText } from "./numbers.js";

/** The working of one quantity at one place: its result, then every step that leads to it. */
export function working(book, check, name, place, axles, system) {
  const at = placeFor(book.data.quantities[name].scope, place);
  const steps = book.explain?.(name, at, { check: check.check, date: check.date, facts: check.facts }) ?? [];
  const result = steps.at(-1);
  if (!result) return null;
  return h("details", { class: "working" },
    h("summary", {}, h("span", {}, `${title(book, result, axles)}: `, h("strong", {}, valueOf(book, result, system)))),
    stepList(book, steps, axles, system));
}

export const stepList = (book, steps, axles, system) =>
  h("ol", {}, steps.map((step) => line(book, step, axles, system)));

function title(book, step, axles) {
  const id = `${step.kind}-${step.id}`, name = book.words.has(id) ? book.words.say(id) : step.label;
  const where = placeName(step.place, axles);
  return where ? `${name} (${where.toLowerCase()})` : name;
}

/** The step's value in the person's units; words where it is no number. */
export function valueOf(book, step, system) {
  const number = step.unit && Array.isArray(step.value) && step.value.length === 2
    && step.value.every((end) => typeof end === "number");
  if (!number || step.text === "not answered") return step.text;
  return valueText(book, step.value, step.unit, system);
}

function line(book, step, axles, system) {
  return h("li", {}, h("span", {}, title(book, step, axles), " "), h("strong", {}, valueOf(book, step, system)),
    step.formula ? h("p", { class: "sum" }, `= ${step.formula}`) : null,
    step.source ? h("p", { class: "hint" }, `${step.source} (${say(`standing-${step.standing}`)})`) : null);
}
