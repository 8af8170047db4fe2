// What a question is answered with: buttons, a number's keys, or an entry that few questions need.

import { choicesOf, factOf } from "../data/asking.js";
import { say } from "../data/words.js";
import { later } from "../router.js";
import { h } from "../parts/h.js";
import { fewCounts, withUnit } from "../parts/numbers.js";
import { numberPad } from "../parts/pad.js";
import { button } from "../parts/page.js";

/** @typedef {import("./ask.js").Question} Question */

// Figures that tires of a trailer share; what is read or measured is read anew at each wheel.
const ALIKE = ["tire_max", "tire_size", "tire_rating", "tire_load", "load_index", "axle_rating"];
/** The entry that a step's question needs, where it is one that few need. */
/** @param {OpenBook} book @param {QuestionStep} step */
export async function padsFor(book, step) {
  if (step.together) return later(() => import("./checklist.js"));
  const { kind, choices = [] } = book.data.facts[factOf(step.keys[0])];
  return SELDOM.includes(kind) || choices.length > MANY ? later(() => import("../parts/sidewall.js")) : null;
}

const LADDER = 6; // ordered answers up to so many stand one above the other
const MANY = 16;
const SELDOM = ["made", "size", "text"]; // kinds of entry that few questions need

/** @param {Question} question @param {string} key */
export function control(question, key) {
  const fact = question.book.data.facts[factOf(key)];
  const shared = {
    book: question.book, fact, key, date: question.draft.date, system: question.app.settings.units,
    /** @param {Answer} answer */
    give: (answer) => question.give({ [key]: answer }),
    /** @param {string} message */
    fail: (message) => question.fail(message),
    unsure: () => question.give({ [key]: { raw: null } }),
  };
  const skip = fact.optional || question.skippable ? button(say("app-skip"), () => question.give({ [key]: {} }),
    "plain skip") : null;
  const counts = fact.kind === "number" ? fewCounts(fact) : null;
  /** @type {(n: number) => Button} */
  const count = (n) => [n, String(n)];
  if (counts) return [skip, buttons(question, key, counts.map(count), shared.unsure)];
  if (fact.kind === "number") return [skip, numberPad({ ...shared, before: typedBefore(question, key),
    suggest: sameAs(question, key) })];
  const before = String(question.begun.text ?? question.draft.facts[key] ?? "");
  if (fact.kind === "made") return [skip, question.pads.datePad({ ...shared, before })];
  if (fact.kind === "text") return [skip, question.pads.textPad({ ...shared, before })];
  if (fact.kind === "size") return [skip, question.pads.sizePad({ ...shared, before, suggest: sameAs(question, key) })];
  /** @type {(one: string) => Button} */
  const choice = (one) => [one, say(`fact-${factOf(key)}.choice-${one}`)];
  const choices = choicesOf(question.book, question.draft, key).map(choice);
  return [skip, buttons(question, key, choices, shared.unsure)];
}

/** @param {Question} question @param {string} key */
function typedBefore(question, key) {
  if (question.begun.text !== undefined) return question.begun;
  const [text, unit] = question.draft.typed?.[key]?.split(" ") ?? [];
  return /^-?\d+(\.\d+)?$/.test(text ?? "") ? { text, unit } : null;
}

/** The last exact figure given for the same question at another place, where it is likely to be the same there. */
/** @param {Question} question @param {string} key */
function sameAs(question, key) {
  if (!ALIKE.includes(factOf(key))) return null;
  /** @param {string} k */
  const exact = (k) => ["number", "string"].includes(typeof question.draft.facts[k]);
  const { typed = {} } = question.draft, others = Object.keys(typed)
    .filter((k) => k !== key && factOf(k) === factOf(key) && exact(k));
  const last = others.at(-1);
  if (!last) return null;
  const [text, unit] = typed[last].split(" ");
  return { text: withUnit(question.book, text, unit), raw: question.draft.facts[last], typed: typed[last] };
}

/** One button per `[raw, text]`; many short ones stand two abreast. */
/** @param {Question} question @param {string} key @param {Button[]} list @param {() => unknown} unsure */
function buttons(question, key, list, unsure) {
  const now = question.draft.facts[key];
  /** @param {Raw} raw */
  const pressed = (raw) => ({ "aria-pressed": String(now === raw) });
  if (list.length > MANY) return question.pads.picker({ key, list, now, unsure,
    give: (answer) => question.give({ [key]: answer }), fail: (message) => question.fail(message) });
  const short = list.length > LADDER && list.every(([, text]) => text.length < 30);
  const many = list.length > 8 && list.every(([, text]) => text.length < 10);
  /** @param {Button} of */
  const one = ([raw, text]) =>
    button(text, () => question.give({ [key]: { raw, typed: text } }), "answer", { ...pressed(raw), value: raw });
  return h("div", { class: `answers${many ? " many" : short ? " two" : ""}`, role: "group" }, list.map(one),
    button(say("app-not-sure"), unsure, `answer unsure${list.length % 2 ? "" : " wide"}`, pressed(null)));
}
