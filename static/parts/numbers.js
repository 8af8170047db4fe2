// Numbers as people give and read them: units, rough picks, and what was typed in words.

import { numberText, rangeText, toUnit } from "../engine/units.js";

const US = ["US", "LR", "MM"]; // where road signs and gauges are in miles and psi

/** The units a person is likely to use, from the language the phone is set to. */
export function likelyUnits(language = navigator.language) {
  try {
    return US.includes(new Intl.Locale(language).maximize().region) ? "us" : "metric";
  } catch {
    return "metric";
  }
}

const other = (system) => (system === "us" ? "metric" : "us");

/** The units a fact can be given in, the person's own first. */
export function offeredUnits(fact, system) {
  const show = fact.show ?? { us: fact.unit, metric: fact.unit };
  return [...new Set([show[system], show[other(system)]])];
}

/** A number of `unit` in the fact's own unit, kept inside the fact's range. */
export function inOwnUnit(book, fact, value, unit) {
  return toUnit(book.data.units, value, unit, fact.unit);
}

/** An answer in the fact's own unit as text in the person's units. */
export function numberAnswer(book, fact, raw, system) {
  const [unit] = offeredUnits(fact, system);
  const ends = (Array.isArray(raw) ? raw : [raw, raw]).map((end) => toUnit(book.data.units, end, fact.unit, unit));
  return rangeText(book.data.units, ends, unit);
}

/** A quantity or range as text, in the person's units where the fact table knows a pair for it. */
export function valueText(book, value, unit, system) {
  const units = book.data.units, target = system === "us" ? TWIN[unit] ?? unit : unit;
  const ends = target === unit ? value : value.map((end) => toUnit(units, end, unit, target));
  return rangeText(units, ends, target);
}

const TWIN = {
  degC: "degF", K: "dF", km: "mi", m: "ft", mm: "in", km_h: "mph", kPa: "psi", kg: "lb", N_m: "lb_ft", m_s: "mph",
};

/** A step that reads well: 1, 2, 5 times a power of ten, about a fifth of the span. */
function niceStep(span) {
  const power = 10 ** Math.floor(Math.log10(span / 5));
  return [1, 2, 5, 10].map((n) => n * power).find((step) => span / step <= 5.5);
}

/** Rough answers for one tap: `[{text, low, high}]` in `unit`; exact ones for small counts. */
export function roughPicks(book, fact, unit) {
  const units = book.data.units;
  if (fact.unit === "count") return fact.high - fact.low <= 8 ? counts(fact) : [];
  const [low, high] = [fact.low, fact.high].map((end) => toUnit(units, end, fact.unit, unit));
  const step = niceStep(high - low), picks = [];
  for (let from = Math.floor(low / step) * step; from < high; from += step) {
    const ends = [Math.max(from, low), Math.min(from + step, high)];
    const text = ends[0] <= low ? `under ${tidy(from + step)}` : ends[1] >= high ? `over ${tidy(from)}` : `${tidy(from)}–${tidy(from + step)}`;
    picks.push({ text, low: ends[0], high: ends[1] });
  }
  return picks;
}

const tidy = (value) => numberText(value, value % 1 ? 1 : 0);

function counts(fact) {
  return Array.from({ length: fact.high - fact.low + 1 }, (_, i) => ({ text: String(fact.low + i), exact: fact.low + i }));
}
