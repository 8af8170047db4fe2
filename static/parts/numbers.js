// Numbers as people give and read them: units, rough picks, and what was typed in words.

import { say } from "../data/words.js";
import { rangeText, toUnit } from "../engine/units.js";

const US = ["US", "LR", "MM"]; // where road signs and gauges are in miles and psi

/** The units a person is likely to use, from the language the phone is set to. */
export function likelyUnits(language = navigator.language) {
  try {
    return US.includes(new Intl.Locale(language).maximize().region) ? "us" : "metric";
  } catch {
    return "metric";
  }
}

/** A number's text with its unit's label, closed up where the label begins with a stroke. */
export const withUnit = (book, text, unit) => {
  const label = book.data.units[unit]?.label ?? "";
  return `${text}${label && !label.startsWith("/") ? " " : ""}${label}`;
};

const other = (system) => (system === "us" ? "metric" : "us");

/** The units a fact can be given in, the person's own first. */
export function offeredUnits(fact, system) {
  const show = fact.show ?? { us: fact.unit, metric: fact.unit };
  return [...new Set([show[system], show[other(system)]])];
}

/** A number of `unit` in the fact's own unit. */
export function inOwnUnit(book, fact, value, unit) {
  return toUnit(book.data.units, value, unit, fact.unit);
}

export function fromOwnUnit(book, fact, value, unit) {
  return toUnit(book.data.units, value, fact.unit, unit);
}

/** An answer in the fact's own unit as text in the person's units. */
export function numberAnswer(book, fact, raw, system) {
  const [unit] = offeredUnits(fact, system);
  const ends = (Array.isArray(raw) ? raw : [raw, raw]).map((end) => toUnit(book.data.units, end, fact.unit, unit));
  return rangeText(book.data.units, ends, unit);
}

/** A quantity or range as text, in the person's units where the fact table knows a pair for it. */
export function valueText(book, value, unit, system) {
  const long = unit === "s" && value.every((end) => end > 90 || end === 0);
  const units = book.data.units, target = long ? "min" : system === "us" ? units[unit].us ?? unit : unit;
  const ends = target === unit ? value : value.map((end) => toUnit(units, end, unit, target));
  return rangeText(units, ends, target);
}

// Rough answers offered for one tap, as the edges between them. Only for what a person knows without
// an instrument; a pressure or a tread that nobody measured is "not sure".
const EDGES = {
  degF: [20, 40, 60, 80, 100], degC: [-10, 0, 10, 20, 30], mi: [10, 20, 50, 100, 200], km: [15, 30, 80, 150, 300],
  mph: [30, 45, 55, 65, 75], km_h: [50, 70, 90, 105, 120], min: [2, 5, 10, 20, 30],
};

/** Rough answers for one tap: `[{text, low, high}]`, in `unit`. */
export function roughPicks(book, fact, unit) {
  if (fact.scope !== "trailer" || !EDGES[unit]) return [];
  const [low, high] = [fact.low, fact.high].map((end) => toUnit(book.data.units, end, fact.unit, unit));
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

/** A count of a few: each number is a button of its own. */
export const fewCounts = (fact) =>
  fact.unit === "count" && fact.high - fact.low <= 6
    ? Array.from({ length: fact.high - fact.low + 1 }, (_, i) => fact.low + i) : null;
