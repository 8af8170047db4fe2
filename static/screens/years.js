// Each hub against its mate over the years, drawn stop by stop.

import { explain } from "../engine/explain.js";
import { checksOf } from "../data/queries.js";
import { placeName, say } from "../data/words.js";
import { BadInput } from "../engine/judge.js";
import { BEFORE, climb, gap } from "../engine/trend.js";
import { h, svg } from "../parts/h.js";
import { framed, withWords } from "./road.js";

const KINDS = ["run_stop", "quick_stop"];
const TOP = 1.5; // N m at the edge of the plot

export const years = (app, trailer) => withWords(async () => {
  const stops = (await checksOf(app.store)).map(({ record }) => record.body)
    .filter((one) => KINDS.includes(one.check) && one.trailer === trailer).sort((a, b) => (a.date < b.date ? -1 : 1));
  const axles = Math.max(1, ...stops.map(({ facts }) => Number(facts.axles) || 1));
  const wheels = Array.from({ length: axles }, (_, n) => [`${n + 1}L`, `${n + 1}R`]).flat();
  return framed(say("road-years-title"), [h("p", {}, say("road-years-lead")),
    wheels.map((wheel) => section(app.book, stops, wheel, axles))],
    null, "road", `#/trailer/${trailer}`);
});

function section(book, stops, wheel, axles) {
  const rows = stops.map((stop) => rowOf(book, stop, wheel)).filter(Boolean), name = placeName(wheel, axles);
  const found = climb(rows);
  const text = rows.length <= BEFORE ? say("road-years-few") : found
    ? say("road-years-climb", { wheel: name, low: Math.max(0, found.low).toFixed(1), high: found.high.toFixed(1) })
    : say("road-years-level");
  return h("section", { class: found ? "card look" : "" }, h("h2", {}, name), h("p", {}, text), rows.length > 1
    && plot(rows, name));
}

/** [middle, spread] of a wheel against its mate at a stop, or null where nothing can be said. */
export function rowOf(book, { check, date, facts }, wheel) {
  const mate = wheel.slice(0, -1) + (wheel.endsWith("L") ? "R" : "L");
  const value = (name, place) => explain(book, name, place, { check, date, facts }).at(-1).value;
  try {
    const middle = (name) => value(name, "").reduce((sum, one) => sum + one, 0) / 2;
    const perUnit = middle("drag_rise") * middle("share_reached") * middle("share_left");
    return perUnit > 0 ? gap(value("hub_surface", wheel), value("hub_surface", mate), perUnit, feltOf(facts, wheel))
      : null;
  } catch (error) {
    if (error instanceof BadInput) return null; // answers that today's rules no longer take say nothing here
    throw error;
  }
}

function feltOf(facts, wheel) {
  const felt = facts[`pair_feel@${wheel.slice(0, -1)}`];
  if (typeof felt !== "string") return null;
  if (felt === "alike") return felt;
  const [side, much] = felt.split("_");
  return (side === "left") === wheel.endsWith("L") ? much : `mate_${much}`;
}

function plot(rows, name) {
  const x = (n) => 24 + n * 320 / Math.max(1, rows.length - 1),
    y = (value) => 60 - 50 * Math.max(-1, Math.min(1, value / TOP));
  return svg("svg", { class: "years", viewBox: "0 0 360 120", role: "img",
    "aria-label": say("road-years-plot", { wheel: name, count: rows.length }) },
    svg("rect", { class: "band", x: 20, y: y(0.35), width: 330, height: y(-0.35) - y(0.35) }),
      svg("path", { class: "axis", d: "M20 60H350M20 10V110" }),
    rows.map(([middle, spread], n) => [
      svg("path", { class: "open", d: `M${x(n)} ${y(middle - spread)}V${y(middle + spread)}` }),
      svg("circle", { cx: x(n), cy: y(middle), r: 4 }),
    ]));
}
