// How a number came about: each answer, limit and sum behind it, as the rulebook's trees say.

import { placeName, say } from "../data/words.js";
import { decidedBy, explain } from "../engine/explain.js";
import { placeFor } from "../engine/formula.js";
import { h } from "./h.js";
import { valueText } from "./numbers.js";

/** The working of one quantity at one place: its result, then every step that leads to it. */
/**
 * @param {OpenBook} book @param {Payload} check @param {string} name @param {string} place @param {number} axles
 * @param {System} system
 */
export function working(book, check, name, place, axles, system) {
  const at = placeFor(book.data.quantities[name].scope, place);
  /** @param {Interval} range @param {string} unit */
  const text = (range, unit) => valueText(book, range, unit, system);
  const steps = explain(book, name, at, payloadOf(check), text);
  const result = steps.at(-1);
  if (!result) return null;
  return h("details", { class: "working" },
    h("summary", {}, h("span", {}, `${title(book, result, axles)}: `, h("strong", {}, valueOf(book, result, system)))),
    stepList(book, steps, axles, system));
}

/** @param {Payload} of */
const payloadOf = ({ check, date, facts }) => ({ check, date, facts });

/** The comparisons that made a finding hold at a place, with the person's units. */
/**
 * @param {OpenBook} book @param {Payload} check @param {string} finding @param {string} place
 * @param {System} system
 */
export function decision(book, check, finding, place, system) {
  /** @param {Interval} range @param {string} unit */
  const text = (range, unit) => valueText(book, range, unit, system);
  const lines = decidedBy(book, finding, place, payloadOf(check), text);
  return lines.length ? h("div", {}, h("strong", {}, say("working-decides")),
    h("ul", { class: "plainlist" }, lines.map((one) => h("li", {}, one)))) : null;
}

/** @param {OpenBook} book @param {Step[]} steps @param {number} axles @param {System} system */
export const stepList = (book, steps, axles, system) =>
  h("ol", {}, steps.map((step) => line(book, step, axles, system)));

/** @param {OpenBook} book @param {Step} step @param {number} axles */
function title(book, step, axles) {
  if (step.kind === "limit") return say("working-limit");
  const id = `${step.kind}-${step.id}`, name = book.words.has(id) ? book.words.say(id) : step.label;
  const where = placeName(step.place, axles);
  return where ? `${name} (${where.toLowerCase()})` : name;
}

/** @type {(value: unknown) => value is Interval} */
const isRange = (value) => Array.isArray(value) && value.length === 2 && value.every((end) => typeof end === "number");

/** The step's value in the person's units; words where it is no number. */
/** @param {OpenBook} book @param {Step} step @param {System} system */
export function valueOf(book, step, system) {
  const { value, unit } = step;
  if (!unit || !isRange(value) || step.answered === false) return step.text;
  return valueText(book, value, unit, system);
}

/** @param {OpenBook} book @param {Step} step @param {number} axles @param {System} system */
function line(book, step, axles, system) {
  return h("li", {}, h("span", {}, title(book, step, axles), " "), h("strong", {}, valueOf(book, step, system)),
    step.sum && step.sum !== valueOf(book, step, system) ? h("p", { class: "sum" }, `= ${step.sum}`) : null,
    step.source ? h("p", { class: "hint" }, sourceOf(step, book.words)) : null);
}

// What the rules give as source where nothing was read.
const UNREAD = /^common practice, no source$/i;

/**
 * Who says so, and how firm that is: what is cited as it is printed, and our words for it in the reader's language;
 * the twin of checks/sources.py. Where nothing was read the standing says so.
 */
/** @param {{ source?: string, standing?: string }} of1 @param {Words} words */
export function sourceOf({ source = "", standing: id }, words) {
  const standing = say(`standing-${id}`);
  if (UNREAD.test(source)) return `${standing[0].toUpperCase()}${standing.slice(1)}.`;
  const [before, after] = say("app-source", { source: "\n", standing }).split("\n");
  return [before, source.split("; ").flatMap((part, at) => {
    const [, number] = /^\{(\d+)\}$/.exec(part) ?? [], name = `source-${number}`;
    const text = number ? (words.has(name) ? words.say(name) : "") : `[${part}]`;
    return [at && text ? "; " : "",
      ...text.split(/[[\]]/).map((one, odd) => (odd % 2 ? h("span", { lang: "en" }, one) : one))];
  }), after];
}
