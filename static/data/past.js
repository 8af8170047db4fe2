// What kept checks say over the years of one trailer: rows for engine/trend.js; the twin of checks/history.py.

import { HUB_STOPS } from "./asking.js";
import { MILE } from "./run_plan.js";
import { compileTree, mateOf, rangeOf } from "../engine/formula.js";
import { BadInput } from "../engine/judge.js";
import { atValue, climb, gap, refills, since, slopes } from "../engine/trend.js";

export const DAY = 86_400_000;

/** A value of `work`, or null for answers that today's rules no longer take. */
/** @template T @param {() => T} work */
function readable(work) {
  try {
    return work();
  } catch (error) {
    if (error instanceof BadInput) return null;
    throw error;
  }
}

/** What quantities come to in a check, as `(name, place) => [low, high]`; null where it does not have the wheel. */
/** @param {Loaded} loaded @param {Payload} of1 @param {string} wheel */
function worths(loaded, { check, date, facts }, wheel) {
  const { kase, book } = loaded.read({ check, date, facts });
  if (!kase.wheels.includes(wheel)) return null;
  /** @type {(name: string, place?: string) => Interval} */
  const worth = (name, place = "") => rangeOf(compileTree(["quantity", name], book.context)(kase, place));
  return worth;
}

/** [low, high, noise, mates] of a wheel against its mate at a stop, or null where nothing can be said. */
/** @param {OpenBook} book @param {Payload} check @param {string} wheel */
function gapOf(book, check, wheel) {
  return readable(() => {
    const worth = worths(book, check, wheel);
    if (!worth) return null;
    /** @param {string} name @param {string} [at] */
    const middle = (name, at = "") => worth(name, at).reduce((sum, one) => sum + one, 0) / 2;
    const perUnit = middle("drag_rise") * middle("share_reached") * middle("share_left");
    return perUnit > 0 ? gap(worth("hub_surface", wheel), worth("hub_surface", mateOf(wheel)), perUnit,
      middle("sound_usual", wheel) / perUnit, feltOf(check.facts, wheel)) : null;
  });
}

/** @param {Answers} facts @param {string} wheel */
function feltOf(facts, wheel) {
  const felt = facts[`pair_feel@${wheel.slice(0, -1)}`];
  if (typeof felt !== "string") return null;
  if (felt === "alike") return felt;
  const [side, much] = felt.split("_");
  return (side === "left") === wheel.endsWith("L") ? much : `mate_${much}`;
}

/** Kept checks (`{made, check, date, facts}`, however ordered) in order of time, with `at`: ms since 1970. */
/** @param {MadeCheck[]} checks @returns {TimedCheck[]} */
export const inOrder = (checks) => checks.map((one) => ({ ...one, at: Date.parse(one.made) }))
  .sort((a, b) => a.at - b.at);

/**
 * A hub over the years: `{ points: [{at, row, fresh}], climb }`. Bench work begins the row again.
 * `climb` is `{shown, low, high}` of the row since then, or null.
 */
/** @param {OpenBook} book @param {TimedCheck[]} checks @param {string} wheel */
export function hubOf(book, checks, wheel) {
  const bench = Math.max(-Infinity, ...checks.filter(({ check }) => check === "bench").map(({ at }) => at));
  const points = checks.filter(({ check }) => HUB_STOPS.includes(check)).flatMap((one) => {
    const found = gapOf(book, one, wheel);
    if (!found) return [];
    return [{ at: one.at, row: found, fresh: one.at > bench }];
  });
  return { points, climb: climb(points.filter(({ fresh }) => fresh).map(({ row }) => row)) };
}

/** Days on which bench work was kept, and on which a wheel had another date code than before. */
/** @param {TimedCheck[]} checks @param {string} wheel */
export function marksOf(checks, wheel) {
  const bench = checks.filter(({ check }) => check === "bench").map(({ at }) => ({ at, kind: "bench" }));
  const coded = checks.filter(({ facts }) => typeof facts[`tire_made@${wheel}`] === "string");
  /** @param {Payload} of */
  const code = ({ facts }) => facts[`tire_made@${wheel}`];
  const fresh = coded.filter((one, n) => n && code(one) !== code(coded[n - 1]));
  return [...bench, ...fresh.map(({ at }) => ({ at, kind: "tires" }))];
}

/** Cold pressure of a tire, kPa: `{ points: [[day, low, high]], loss }`, loss as kPa a month, from least to most. */
/** @param {OpenBook} book @param {TimedCheck[]} checks @param {string} wheel */
export function pressureOf(book, checks, wheel) {
  const answered = checks.filter(({ facts }) => isKnown(facts[`pressure@${wheel}`]));
  const all = answered.flatMap(/** @returns {Reading[]} */ (one) => {
    const value = readable(() => worths(book, one, wheel)?.("pressure_cold", wheel) ?? null);
    return value ? [[one.at / DAY, ...widened(value, STEP.pressure)]] : [];
  });
  const row = since(all, refills(all)), slope = slopes(row);
  return { points: all, loss: slope && slope[0] < 0 ? [Math.max(0, -slope[1] * MONTH), -slope[0] * MONTH] : null };
}

const MONTH = 30.44; // days
// Half the step people read a gauge to: 1 psi in kPa, 1/32 in (assumed).
export const STEP = { pressure: 3.45, tread: 0.5 };
/** @type {(range: Interval, by: number) => Interval} */
const widened = ([low, high], by) =>
  (high - low < 2 * by ? [(low + high) / 2 - by, (low + high) / 2 + by] : [low, high]);
/** @param {Raw} raw */
const isKnown = (raw) => raw !== undefined && raw !== null;

/**
 * Tread of a tire, 32nds: `{ points, wear, reached }`. `wear`: 32nds per 1,000 miles, from least to most, where
 * miles are known; `reached`: days (since 1970) from when to when the tread comes down to `bars`.
 */
/**
 * @param {OpenBook} book @param {TimedCheck[]} checks @param {(at: number) => number} miles @param {string} wheel
 * @param {number} bars
 */
export function treadOf(book, checks, miles, wheel, bars) {
  const key = `tread@${wheel}`, marks = marksOf(checks, wheel).filter(({ kind }) => kind === "tires");
  const all = checks.filter(({ facts }) => isKnown(facts[key])).flatMap(/** @returns {Reading[]} */ (one) => {
    const value = readable(() => rangeOf(book.readAnswer(key, one.facts[key], one.date)));
    return value ? [[one.at / DAY, ...widened(value, STEP.tread)]] : [];
  });
  const row = since(all, [...refills(all), ...marks.map(({ at }) => at / DAY)]);
  /** @type {Reading[]} */
  const far = row.map(([day, low, high]) => [miles(day * DAY) / 1000, low, high]);
  const slope = far.length > 1 && far[far.length - 1][0] - far[0][0] > 0.1 ? slopes(far) : null;
  return { points: all, wear: slope && slope[0] < 0 ? [Math.max(0, -slope[1]), -slope[0]] : null,
    reached: row.length > 1 ? atValue(row, bars) : null };
}

/**
 * Miles known to be driven up to a moment: for each day the farthest of what checks say since setting off and
 * what runs counted. What nobody wrote down is missing, so wear per mile is the most it can be.
 */
/** @type {(checks: TimedCheck[], runs: PastRun[]) => (at: number) => number} */
export function milesOf(checks, runs) {
  const days = new Map();
  /** @param {number} at @param {number} km */
  const add = (at, km) => {
    const day = Math.floor(at / DAY);
    if (km > 0) days.set(day, Math.max(days.get(day) ?? 0, km));
  };
  for (const { at, facts } of checks) if (Number.isFinite(facts.run_distance)) add(at, Number(facts.run_distance));
  for (const run of runs) add(Date.parse(run.ended ?? run.made), run.km);
  return (at) => [...days].reduce((sum, [day, km]) => sum + (day <= at / DAY ? km : 0), 0) / MILE;
}
