// A figure as a sentence: what it comes to, or what is missing to tell.

import { placeName, say } from "../data/words.js";
import { factOf, placeOf } from "../data/asking.js";

const LANGUAGE = document.documentElement.lang || "en";
/** @import { Figures } from "../data/figures.js" */

/** @type {(text: string) => string} */
const capital = (text) => text && text[0].toUpperCase() + text.slice(1);

/** A question with its place, in words; the place is left away where it is told already. */
/** @type {(figures: Figures, key: string, told?: string) => string} */
export const asked = ({ book, axles }, key, told = "") => [placeOf(key) === told ? ""
  : placeName(placeOf(key), axles), book.words.say(`fact-${factOf(key)}`)].filter(Boolean).join(": ");

/** Its name, as a heading. */
/** @type {(figures: Figures, one: FigureOf) => string} */
export const titleOf = ({ book, axles }, { name, place }) =>
  [placeName(place, axles), capital(book.words.say(`quantity-${name}`))].filter(Boolean).join(": ");

/** What a figure of `data/figures.js` comes to, in one sentence with its value and unit. */
/** @type {(figures: Figures, one: FigureOf) => string} */
export const sentenceOf = (figures, one) =>
  [placeName(one.place, figures.axles), toldOf(figures, one)].filter(Boolean).join(": ");

/** @param {Figures} figures @param {FigureOf} one */
function toldOf(figures, one) {
  const { book } = figures, { name } = one, last = lastOf(one), [low, high] = last.value;
  const what = capital(book.words.say(`quantity-${name}`)), says = `quantity-${name}.says`;
  if (one.missing.length) return needs(figures, one, what);
  if (low === Infinity) { // beyond every number: such as a law that sets no weight
    const own = `quantity-${name}.none`;
    return book.words.has(own) ? book.words.say(own) : say("app-figures-none-set", { what });
  }
  if (!Number.isFinite(low) || !Number.isFinite(high) || figures.isOpen(one)) return untold(figures, one, what);
  // Words that an earlier release kept may lack it.
  return book.words.has(says) ? capital(book.words.say(says, valuesOf(figures, one, low, high)))
    : `${what}: ${figures.text([low, high], last.unit ?? "ratio")}`;
}

/** A figure's own step, behind those that lead to it. */
/** @type {(one: FigureOf) => RangeStep} */
const lastOf = ({ steps }) => /** @type {RangeStep} */ (steps[steps.length - 1]);

/** As it is read aloud: whole numbers from a hundred on, thousands apart. */
/** @type {(text: string) => string} */
const readable = (text) => text.replace(/(?<![.\d])\d{3,}(\.\d+)?/g, (digits) =>
  Math.round(Number(digits)).toLocaleString(LANGUAGE));

/** @param {Figures} figures @param {FigureOf} one @param {number} low @param {number} high @returns {WordValues} */
function valuesOf({ book, text: plain }, one, low, high) {
  const { unit = "ratio" } = lastOf(one);
  /** @param {number} from @param {number} to */
  const text = (from, to) => readable(plain([from, to], unit));
  const side = high < 0 ? "under" : low < 0 ? "either" : "over";
  return {
    side, value: text(low, high), amount: side === "under" ? text(-high, -low) : text(low, high),
    short: text(-low || 0, -low || 0), left: text(high, high), count: Math.round(high),
    links: one.name === "weakest_link" ? weakest(book, one.steps) : "",
  };
}

/** The links of which each may be the weakest, in words. */
/** @param {OpenBook} book @param {Step[]} steps */
function weakest(book, steps) {
  const known = /** @type {RangeStep[]} */ (steps.filter(({ kind, id }) => kind === "quantity"
    && id.startsWith("link_")));
  const least = Math.min(...known.map(({ value }) => value[1]));
  const names = known.filter(({ value }) => value[0] <= least).map(({ id }) => book.words.say(`quantity-${id}`));
  return new Intl.ListFormat(LANGUAGE, { type: "disjunction" }).format(names);
}

const MOST = 3; // questions named at once

/** What was answered leaves it open: which answers are wanting. */
/** @param {Figures} figures @param {FigureOf} one @param {string} what */
function untold(figures, one, what) {
  const open = [...new Set(figures.unsure(one).map((key) => asked(figures, key, one.place)))];
  if (!open.length) return say("app-figures-rough", { what });
  return say("app-figures-untold", { what, open: open.slice(0, MOST).join(" "),
    others: Math.max(0, open.length - MOST) });
}

/** @param {Figures} figures @param {FigureOf} one @param {string} what */
function needs(figures, one, what) {
  const [key, ...more] = one.missing, others = more.filter((other) => figures.ripe(other)).length;
  return say("app-figures-needs", { what, question: asked(figures, key, one.place), others });
}
