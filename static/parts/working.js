// How a number came about: each answer, limit and sum behind it, as the rulebook's trees say.

import { placeName, say } from "../data/words.js";
import { decidedBy, explain } from "../engine/explain.js";
import { placeFor } from "../engine/formula.js";
import { h } from "./h.js";
import { valueText } from "./numbers.js";

/** The working of one quantity at one place: its result, then every step that leads to it. */
export function working(book, check, name, place, axles, system) {
  const at = placeFor(book.data.quantities[name].scope, place);
  const text = (range, unit) => valueText(book, range, unit, system);
  const steps = explain(book, name, at, payloadOf(check), text);
  const result = steps.at(-1);
  if (!result) return null;
  return h("details", { class: "working" },
    h("summary", {}, h("span", {}, `${title(book, result, axles)}: `, h("strong", {}, valueOf(book, result, system)))),
    stepList(book, steps, axles, system));
}

const payloadOf = ({ check, date, facts }) => ({ check, date, facts });

/** The comparisons that made a finding hold at a place, with the person's units. */
export function decision(book, check, finding, place, system) {
  const text = (range, unit) => valueText(book, range, unit, system);
  const lines = decidedBy(book, finding, place, payloadOf(check), text);
  return lines.length ? h("div", { class: "decision" }, h("strong", {}, say("working-decides")),
    h("ul", { class: "plainlist" }, lines.map((one) => h("li", {}, one)))) : null;
}

export const stepList = (book, steps, axles, system) =>
  h("ol", {}, steps.map((step) => line(book, step, axles, system)));

function title(book, step, axles) {
  if (step.kind === "limit") return say("working-limit");
  const id = `${step.kind}-${step.id}`, name = book.words.has(id) ? book.words.say(id) : step.label;
  const where = placeName(step.place, axles);
  return where ? `${name} (${where.toLowerCase()})` : name;
}

/** The step's value in the person's units; words where it is no number. */
export function valueOf(book, step, system) {
  const number = step.unit && Array.isArray(step.value) && step.value.length === 2
    && step.value.every((end) => typeof end === "number");
  if (!number || step.answered === false) return step.text;
  return valueText(book, step.value, step.unit, system);
}

function line(book, step, axles, system) {
  return h("li", {}, h("span", {}, title(book, step, axles), " "), h("strong", {}, valueOf(book, step, system)),
    step.sum && step.sum !== valueOf(book, step, system) ? h("p", { class: "sum" }, `= ${step.sum}`) : null,
    step.source ? h("p", { class: "hint" }, `${step.source} (${say(`standing-${step.standing}`)})`) : null);
}
