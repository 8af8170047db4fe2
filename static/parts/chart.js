// A row of readings over the days: bars from least to most, a dot where the reading is close. No colour says anything.

import { LOCALE, numberText } from "../data/words.js";
import { h, svg } from "./h.js";

const [LEFT, RIGHT, TOP, BOTTOM] = [40, 352, 18, 104];

/**
 * `points`: `[{at, low, high, rough}]`, `at` in ms since 1970; `band`: the healthy `[low, high]`; `marks`:
 * `[{at, kind, text}]`, upright lines; `label`: what it shows, for who cannot see it; `unit` beside the figures.
 */
/** @param {ChartParts} of */
export function chart({ points, band = null, marks = [], label, unit, digits = 1 }) {
  const ends = [...points.flatMap(({ low, high }) => [low, high]), ...(band ?? [])];
  const [low, high] = [Math.min(...ends), Math.max(...ends)], days = [...points, ...marks].map(({ at }) => at);
  const [first, last] = [Math.min(...days), Math.max(...days)];
  /** @param {number} at */
  const x = (at) => (last > first ? LEFT + 10 + (at - first) / (last - first) * (RIGHT - LEFT - 20)
    : (LEFT + RIGHT) / 2);
  /** @param {number} value */
  const y = (value) => (high > low ? BOTTOM - (value - low) / (high - low) * (BOTTOM - TOP) : (TOP + BOTTOM) / 2);
  /** @param {number} value */
  const figure = (value) =>
    svg("text", { x: LEFT - 4, y: y(value) + 4, "text-anchor": "end" }, numberText(value, digits));
  /** @param {number} at */
  const day = (at) => new Date(at).toLocaleDateString(LOCALE, { month: "short", year: "numeric" });
  return svg("svg", { class: "years", viewBox: "0 0 360 124", role: "img", "aria-label": label },
    band && svg("rect", { class: "band", x: LEFT, y: y(band[1]), width: RIGHT - LEFT,
      height: y(band[0]) - y(band[1]) }),
    svg("path", { class: "axis", d: `M${LEFT} ${BOTTOM + 4}H${RIGHT}M${LEFT} ${TOP - 4}V${BOTTOM + 4}` }),
    figure(low), high > low && figure(high), svg("text", { x: 2, y: 58 }, unit),
    marks.map((mark) => [svg("path", { class: `mark ${mark.kind}`, d: `M${x(mark.at)} ${TOP - 4}V${BOTTOM + 4}` }),
      svg("text", { x: x(mark.at), y: TOP - 4, "text-anchor": "middle" }, mark.text)]),
    points.map((one) => reading(one, x(one.at), y)),
    svg("text", { x: LEFT, y: 121 }, day(first)),
    last > first && svg("text", { x: RIGHT, y: 121, "text-anchor": "end" }, day(last)));
}

/** @param {ChartPoint} of @param {number} x @param {(value: number) => number} y */
function reading({ low, high, rough }, x, y) {
  const least = y(low), most = y(high);
  if (rough) {
    return svg("rect", { class: "rough", x: x - 3, y: most, width: 6, height: Math.max(2, least - most) });
  }
  return [svg("path", { class: "open", d: `M${x} ${least}V${most}` }),
    svg("circle", { cx: x, cy: (least + most) / 2, r: 3.5 })];
}

/** What stands under a chart: what its signs mean. */
/** @param {string} text */
export const key = (text) => h("p", { class: "hint" }, text);
