// A question as one row: its words, then every answer for one tap.

import { placeOf, factOf } from "../data/asking.js";
import { say } from "../data/words.js";
import { unitText } from "../engine/units.js";
import { fewCounts, numberAnswer, offeredUnits, ownRange, roughPicks, typedText } from "./numbers.js";
import { h } from "./h.js";
import { button } from "./page.js";

/** Whether every answer of a fact can be tapped in a row. */
/** @param {OpenBook} book @param {string} key */
export const isQuick = (book, key) => {
  const fact = book.data.facts[factOf(key)];
  return fact.kind === "choice" || Boolean(fact.kind === "number" && fewCounts(fact));
};

/** The answers of a fact as `[raw, text, typed]`. */
/** @type {(book: OpenBook, key: string, system: System, choices?: string[] | null) => Offer[]} */
function offered(book, key, system, choices) {
  const name = factOf(key), fact = book.data.facts[name];
  if (fact.kind === "choice") {
    return inOrder(choices ?? fact.choices).map((one) => [one, say(`fact-${name}.choice-${one}`)]);
  }
  const counts = fewCounts(fact);
  if (counts) return counts.map((n) => [n, String(n)]);
  const [unit] = offeredUnits(fact, system);
  return roughPicks(book, fact, unit)
    .map((pick) => [ownRange(book, fact, unit, pick), pick.text, `${pick.text} ${unit}`]);
}

// Answers that compare left with right stand as the sides do, two and two.
const SIDE_BY_SIDE = ["left_clearly", "right_clearly", "left_slightly", "right_slightly", "alike"];
/** @param {string[]} choices */
const inOrder = (choices) => (choices.includes("left_clearly") ? SIDE_BY_SIDE.filter((one) => choices.includes(one))
  : choices);

/** @param {unknown} a @param {unknown} b */
const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);

/**
 * The row. `answer` is what stands so far where `asked`; `give({raw, typed})` hears a tap; `other` is
 * the address where an exact figure can be typed; `choices` are those offered, all if left out; `where` is the
 * place's name, for a row among others that ask the same elsewhere.
 */
/** @param {RowParts} of */
export function choicesRow({ book, key, answer, asked, system, typed, give, other, choices, where }) {
  const name = factOf(key), list = offered(book, key, system, choices), fact = book.data.facts[name];
  const unit = fact.kind === "number" && !fewCounts(fact)
    ? unitText(book.data.units, offeredUnits(fact, system)[0]) : "";
  const told = asked && answer !== null && !list.some(([raw]) => same(raw, answer));
  /** @param {Offer} of */
  const one = ([raw, text, words]) => button(text, () => give({ raw, typed: words }), "pick",
    { "aria-pressed": String(asked && same(raw, answer)) });
  return h("section", { class: "row-of", "data-key": key, "data-place": placeOf(key) },
    h("div", { class: "row-head" }, h("h2", {}, say(`fact-${name}`), unit ? h("span", { class: "unit" }, ` ${unit}`)
      : null, where ? h("span", { class: "unit" }, ` ${where}`) : null),
      other ? h("a", { class: "plain", href: other }, say("app-stop-exact")) : null),
    told ? h("p", { class: "told" }, typed ? typedText(book, typed)
      : numberAnswer(book, fact, answer, system)) : null,
    h("div", { class: `picks ${fact.kind}`, role: "group",
      "aria-label": [say(`fact-${name}`), where].filter(Boolean).join(" ") }, list.map(one),
      button(say("app-not-sure"), () => give({ raw: null }), "pick unsure",
        { "aria-pressed": String(asked && answer === null) })));
}
