// Each hub against its mate over the years, and each tire's pressure and tread, drawn stop by stop.

import { pastOf } from "../data/presets.js";
import { DAY, hubOf, inOrder, marksOf, milesOf, pressureOf, STEP, treadOf } from "../data/past.js";
import { axlesOf } from "../data/asking.js";
import { MILE } from "../data/run_plan.js";
import { has, numberText, placeName, say } from "../data/words.js";
import { BEFORE, shownOf } from "../engine/trend.js";
import { chart, key } from "../parts/chart.js";
import { h } from "../parts/h.js";
import { fromOwnUnit } from "../parts/numbers.js";
import { dayText, link } from "../parts/page.js";
import { sign } from "../parts/sign.js";
import { framed, roadWords, withWords } from "./road.js";

const BAND = 0.35; // N m either way: what two sound mates differ by at most stops (docs/trends.md)
const BARS = 2; // 32nds: how high wear bars are (49 CFR 571.119 S6.4)
const FAR = 20 * 365; // days: a date farther off says nothing

/** @param {number} axles */
const wheelsOf = (axles) => Array.from({ length: axles }, (_, n) => [`${n + 1}L`, `${n + 1}R`]).flat();

/** @param {App} app @param {string} trailer */
async function rowsOf(app, trailer) {
  const { checks, runs } = await pastOf(app.store, trailer), all = inOrder(checks);
  return { checks: all, miles: milesOf(all, runs), axles: Math.max(1, ...all.map(axlesOf)) };
}

/** @param {App} app @param {string} trailer */
export const years = (app, trailer) => withWords(async () => {
  const { checks, miles, axles } = await rowsOf(app, trailer);
  return framed(say("road-years-title"), [h("p", {}, say("road-years-lead")), key(say("road-years-key")),
    wheelsOf(axles).map((wheel) => [h("h2", {}, placeName(wheel, axles)), hub(app.book, checks, wheel, axles),
      pressure(app, checks, wheel, axles), tread(app, checks, miles, wheel, axles)])],
    null, "road", `#/trailer/${trailer}`);
});

/** A card for each steady climb of a trailer's hubs up to a stop, kept or not yet; or null. */
/** @param {App} app @param {string | null} trailer @param {MadeCheck} stop */
export async function climbs(app, trailer, stop) {
  if (!trailer || !(await roadWords())) return null;
  const { checks: all, axles } = await rowsOf(app, trailer), [last] = inOrder([stop]);
  const checks = [...all.filter(({ id, at }) => id !== stop.id && at <= last.at), last];
  const found = wheelsOf(axles).flatMap((wheel) => {
    const { climb } = hubOf(app.book, checks, wheel);
    return climb ? [climbText(climb, placeName(wheel, axles))] : [];
  });
  return found.length ? h("section", { class: "card look" }, found.map((text) => h("p", {}, text)),
    link(say("road-years"), `#/years/${trailer}`)) : null;
}

/** @param {{ low: number, high: number }} of @param {string} wheel */
const climbText = ({ low, high }, wheel) =>
  say("road-years-climb", { wheel, low: numberText(Math.max(0, low), 1), high: numberText(high, 1) });

/** @param {Omit<ChartMark, "text">[]} marks */
const worded = (marks) => marks.map((one) => ({ ...one, text: say(`road-years-mark-${one.kind}`) }));

/** @type {(check: TimedCheck, wheel: string) => Found[]} */
const stopsAt = ({ verdict }, wheel) =>
  verdict?.findings.filter(({ level, place }) => level === "stop" && place === wheel) ?? [];

/** Kept checks that said *Stop now* at a wheel, the newest first. */
/** @type {(checks: TimedCheck[], wheel: string) => TimedCheck[]} */
const haltsOf = (checks, wheel) => checks.filter((one) => stopsAt(one, wheel).length).reverse();

/** @param {TimedCheck} check @param {string} wheel */
function haltLine(check, wheel) {
  const [{ finding }] = stopsAt(check, wheel), id = `finding-${finding}`;
  return link([sign("stop"), h("span", {}, has(id) ? say(id) : finding, h("br"), dayText(check.made))],
    `#/check/${check.id}`, "entryrow");
}

/** @param {OpenBook} book @param {TimedCheck[]} checks @param {string} wheel @param {number} axles */
function hub(book, checks, wheel, axles) {
  const { points, climb } = hubOf(book, checks, wheel), name = placeName(wheel, axles);
  const since = points.filter(({ fresh }) => fresh).length, halts = haltsOf(checks, wheel);
  const text = climb ? climbText(climb, name) : since <= BEFORE ? say("road-years-few", { count: since })
    : say("road-years-level");
  return h("section", { class: climb ? "card look" : "" }, halts.map((one) => haltLine(one, wheel)), h("p", {}, text),
    points.length > 1 && chart({
      points: points.map(({ at, row }) => ({ at, ...shownOf(row) })),
      band: [-BAND, BAND], marks: worded(marksOf(checks, wheel).filter(({ kind }) => kind === "bench")),
      label: say("road-years-plot", { wheel: name, count: points.length }), unit: say("road-years-unit-drag"),
    }));
}

/** One wider than what a gauge is read to is rough. */
/** @param {Reading[]} points @param {number} step @param {number} scale */
const drawn = (points, step, scale) => points.map(([day, low, high]) =>
  ({ at: day * DAY, low: low * scale, high: high * scale, rough: high - low > 2 * step + 1e-6 }));
/** @param {number} low @param {number} high @param {number} digits */
function span(low, high, digits) {
  const [from, to] = [low, high].map((end) => numberText(end, digits));
  return from === to ? from : say("app-from-to", { from, to });
}

/** @param {App} app @param {TimedCheck[]} checks @param {string} wheel @param {number} axles */
function pressure(app, checks, wheel, axles) {
  const { points, loss } = pressureOf(app.book, checks, wheel), name = placeName(wheel, axles);
  if (points.length < 2) return null;
  const us = app.settings.units !== "metric", unit = us ? "psi" : "kPa";
  const scale = fromOwnUnit(app.book, { unit: "kPa" }, 1, unit);
  return h("section", {}, h("h3", {}, say("road-years-pressure")),
    h("p", {}, loss ? say("road-years-loss", { loss: span(loss[0] * scale, loss[1] * scale, us ? 1 : 0), unit })
      : say("road-years-no-loss")),
    chart({ points: drawn(points, STEP.pressure, scale), unit,
      label: say("road-years-plot-pressure", { wheel: name, count: points.length }),
      digits: 0, marks: worded(marksOf(checks, wheel).filter(({ kind }) => kind === "tires")) }));
}

/**
 * @param {App} app @param {TimedCheck[]} checks @param {(at: number) => number} miles @param {string} wheel
 * @param {number} axles
 */
function tread(app, checks, miles, wheel, axles) {
  const { points, wear, reached } = treadOf(app.book, checks, miles, wheel, BARS), name = placeName(wheel, axles);
  if (points.length < 2) return null;
  const us = app.settings.units !== "metric", unit = us ? "/32 in" : "mm";
  const scale = fromOwnUnit(app.book, { unit: "in32" }, 1, us ? "in32" : "mm");
  const per = us ? 1 : 1 / MILE; // by 1,000 miles or 1,000 km
  return h("section", {}, h("h3", {}, say("road-years-tread")),
    wear && h("p", {}, say(us ? "road-years-wear-mi" : "road-years-wear-km",
      { wear: span(wear[0] * scale * per, wear[1] * scale * per, 1), unit })),
    h("p", {}, barsText(reached)),
    chart({ points: drawn(points, STEP.tread, scale), unit,
      label: say("road-years-plot-tread", { wheel: name, count: points.length }),
      marks: worded(marksOf(checks, wheel).filter(({ kind }) => kind === "tires")) }));
}

/** From which to which day the tread comes down to the bars. */
/** @param {Interval | null} reached */
function barsText(reached) {
  if (!reached) return say("road-years-bars-unknown");
  /** @param {number} value */
  const day = (value) => dayText(new Date(value * DAY).toISOString());
  const [from, to] = reached;
  const limit = Date.now() / DAY + FAR;
  if (from > limit) return say("road-years-bars-far");
  return to > limit ? say("road-years-bars-from", { from: day(from) })
    : say("road-years-bars", { from: day(from), to: day(to) });
}
