// Numbers as people give and read them: units, rough picks, and what was typed in words.

import { has, say } from "../data/words.js";
import { rangeText, sayRanges, toUnit, unitText } from "../engine/units.js";

sayRanges({
  between: (from, to) => say("app-from-to", { from, to }),
  endless: (up) => say(up ? "app-end-any" : "app-end-none"),
  // One with decimals takes the case that names it, or the last.
  unit: (units, unit, count) => (has(`unit-${unit}`)
    ? say(`unit-${unit}`, { count: count.includes(".") ? count : Number(count) }) : units[unit].label),
});

const US = ["US", "LR", "MM"]; // where road signs and gauges are in miles and psi

/** The units a person is likely to use, from the language the phone is set to. */
export function likelyUnits(language = navigator.language) {
  try {
    return US.includes(new Intl.Locale(language).maximize().region ?? "") ? "us" : "metric";
  } catch {
    return "metric";
  }
}

/** A number's text with its unit's label, closed up where the label begins with a stroke. */
/** @param {OpenBook} book @param {string} text @param {string} unit */
export const withUnit = (book, text, unit) => {
  const label = book.data.units[unit] ? unitText(book.data.units, unit, text) : "";
  return `${text}${label && !label.startsWith("/") ? " " : ""}${label}`;
};

/** What was typed with its unit, as "150 lb", in words. */
/** @param {OpenBook} book @param {string} typed */
export function typedText(book, typed) {
  const at = typed.lastIndexOf(" "), unit = typed.slice(at + 1);
  return book.data.units[unit] ? withUnit(book, typed.slice(0, at), unit) : typed;
}

/** @param {System} system */
const other = (system) => (system === "us" ? "metric" : "us");

/** The units a fact can be given in, the person's own first. */
/** @param {Fact} fact @param {System} system */
export function offeredUnits(fact, system) {
  const show = fact.show ?? { us: fact.unit, metric: fact.unit };
  return [...new Set([show[system], show[other(system)]])];
}

/** Both ends of a range in another form. */
/** @type {(range: Interval, to: (end: number) => number) => Interval} */
export const ends = ([low, high], to) => [to(low), to(high)];

/** A number of `unit` in the fact's own unit. */
/** @param {OpenBook} book @param {Pick<Fact, "unit">} fact @param {number} value @param {string} unit */
export function inOwnUnit(book, fact, value, unit) {
  return toUnit(book.data.units, value, unit, fact.unit);
}

/** @param {OpenBook} book @param {Pick<Fact, "unit">} fact @param {number} value @param {string} unit */
export function fromOwnUnit(book, fact, value, unit) {
  return toUnit(book.data.units, value, fact.unit, unit);
}

/** An answer in the fact's own unit as text in the person's units. */
/** @param {OpenBook} book @param {Fact} fact @param {Raw} raw @param {System} system */
export function numberAnswer(book, fact, raw, system) {
  const [unit] = offeredUnits(fact, system);
  const [low, high = low] = [raw].flat();
  const range = ends([Number(low), Number(high)], (end) => fromOwnUnit(book, fact, end, unit));
  return rangeText(book.data.units, range, unit);
}

/** A quantity or range as text, in the person's units where the fact table knows a pair for it. */
/** @param {OpenBook} book @param {Interval} value @param {string} unit @param {System} system */
export function valueText(book, value, unit, system) {
  const long = unit === "s" && value.every((end) => end > 90 || end === 0);
  const units = book.data.units, target = long ? "min" : units[unit][system] ?? unit;
  return rangeText(units, target === unit ? value : ends(value, (end) => toUnit(units, end, unit, target)), target);
}

// Rough answers offered for one tap, as the edges between them. Only for what a person knows without
// an instrument; a pressure or a tread that nobody measured is "not sure".
/** @type {Record<string, number[]>} */
const EDGES = {
  degF: [20, 40, 60, 80, 100], degC: [-10, 0, 10, 20, 30], mi: [10, 20, 50, 100, 200], km: [15, 30, 80, 150, 300],
  mph: [30, 45, 55, 65, 75], km_h: [50, 70, 90, 105, 120], min: [2, 5, 10, 20, 30],
};

/** Rough answers for one tap: `[{text, low, high}]`, in `unit`. */
/** @param {OpenBook} book @param {Fact} fact @param {string} unit */
export function roughPicks(book, fact, unit) {
  if (fact.scope !== "trailer" || !EDGES[unit]) return [];
  const [low, high] = ends([fact.low, fact.high], (end) => fromOwnUnit(book, fact, end, unit));
  const edges = EDGES[unit].filter((edge) => low < edge && edge < high);
  return [...edges, high].map((to, i) => {
    const from = i ? edges[i - 1] : low;
    const between = from < 0 ? say("app-from-to", { from: String(from), to: String(to) })
      : `${from}–${to}`; // a dash beside a minus misreads
    const text = !i ? say("app-under", { to: String(to) }) : i === edges.length
      ? say("app-over", { from: String(from) }) : between;
    return { text, low: from, high: to };
  });
}

/** A rough answer in the fact's own unit, within what the fact can be. */
/** @type {(book: OpenBook, fact: Fact, unit: string, pick: RoughPick) => Interval} */
export function ownRange(book, fact, unit, pick) {
  const [low, high] = ends([pick.low, pick.high], (end) => inOwnUnit(book, fact, end, unit));
  return [Math.max(low, fact.low), Math.min(high, fact.high)];
}

/** A count of a few: each number is a button of its own. */
/** @param {Fact} fact */
export const fewCounts = (fact) =>
  fact.unit === "count" && fact.high - fact.low <= 6
    ? Array.from({ length: fact.high - fact.low + 1 }, (_, i) => fact.low + i) : null;
