// A run on the road: which stops are due, from stored stamps alone. Nothing here draws, asks or stores.
//
// A run is plain JSON. Every change gives a new one; what it knows only grows: minutes driven never go back
// whatever the clock does, a stop once reached stays due until it is done, and a stop done never comes again.

import { axlesOf } from "./asking.js";
import { AGAIN, LOOKS, MILE, planOf } from "./run_plan.js";

const HOUR = 3_600_000; // ms
// A longer silence than this was not driven through: the person is asked before it counts.
const SILENCE = 6 * HOUR;
const EVERY = 180; // minutes on the road between stops, common practice, no source
const EARTH = 6371.0088; // km, mean radius (IUGG)
const FASTEST = 200; // km/h: a fix that needs more is a wrong one
const ROUGHEST = 100; // m: a coarser fix says nothing
const STILL = 0.025; // km: under this a fix only wanders
const COOLED = 30; // minutes of standing after which hubs begin anew

/** A run begun now. `speed`: km/h usually driven; `work`: of `WORK`, what was done since the last run. */
/** @type {(of: RunBegun) => Run} */
export function begin({ id, trailer = null, link = null, speed, work = [], why = {}, dues = [], now }) {
  return { id, trailer, link, speed, work, why, dues, legs: [{ name: "out", km: 0, minutes: 0 }],
    km: 0, by: "time", minutes: 0, last: now, began: now, rests: false, ended: null, fix: null,
    reached: {}, done: {}, heard: [] };
}

/** Another plan for the same run; what was reached and done stays so. */
/** @param {Run} run @param {Partial<Run>} changes @param {number} now */
export const replan = (run, changes, now) => latched({ ...advance(run, now), ...changes });

/**
 * The run as of `now`, in ms since 1970. What passed since the last stamp was driven, unless the run rests, has
 * ended, the clock went back, or the silence was too long: then nothing is counted and `silent` says since when.
 */
/** @param {Run} run @param {number} now @param {Fix | null} fix */
export function advance(run, now, fix = null) {
  if (run.ended !== null) return run;
  const passed = now - run.last;
  const silent = passed > SILENCE && !run.rests;
  const driven = run.rests || passed <= 0 || silent ? 0 : passed / 60_000;
  const placed = fix ? moved(run, fix, driven) : { km: run.km + (run.by === "position" && run.fix ? 0
    : driven / 60 * run.speed) };
  /** @type {Run} */
  const next = { ...run, ...placed, minutes: run.minutes + driven, last: now };
  if (silent) Object.assign(next, { rests: true, silent: run.last, stood: run.last, fix: null });
  return latched(next);
}

// The way from fix to fix as the crow flies; a fix too coarse or too far to be true moves nothing.
/** @type {(run: Run, fix: Fix, driven: number) => Partial<Run>} */
function moved(run, fix, driven) {
  if (!(fix.accuracy <= ROUGHEST) || run.rests) return { km: run.km };
  if (!run.fix) return { km: run.km + driven / 60 * run.speed, fix, by: "position" };
  const km = apart(run.fix, fix);
  if (km < Math.max(STILL, fix.accuracy / 1000)) return { km: run.km };
  if (driven <= 0 || km > driven / 60 * FASTEST) return { km: run.km, fix };
  return { km: run.km + km, fix };
}

/** Kilometres between two places in degrees (haversine). */
/** @param {Pick<Fix, "latitude" | "longitude">} a @param {Pick<Fix, "latitude" | "longitude">} b */
export function apart(a, b) {
  const rad = Math.PI / 180;
  const [up, along] = [(b.latitude - a.latitude) * rad / 2, (b.longitude - a.longitude) * rad / 2];
  const part = Math.sin(up) ** 2 + Math.cos(a.latitude * rad) * Math.cos(b.latitude * rad) * Math.sin(along) ** 2;
  return 2 * EARTH * Math.asin(Math.min(1, Math.sqrt(part)));
}

// What is reached is written down, so that a corrected distance or clock cannot take it back.
/** @type {(run: Run) => Run} */
function latched(run) {
  const reached = { ...run.reached };
  for (const stop of stopsOf(run)) {
    if (!(stop.id in reached) && ((stop.km ?? Infinity) <= run.km
      || (stop.minutes ?? Infinity) <= run.minutes)) reached[stop.id] = run.last;
  }
  return { ...run, reached };
}

/** Every stop of the legs begun so far, in the run's own kilometres and minutes, and the next by the clock. */
/** @type {(run: Run) => RunStop[]} */
export function stopsOf(run) {
  return [...planned(run), ...(run.again ?? [])];
}

/** @param {Run} run @returns {RunStop[]} */
function planned(run) {
  return run.legs.flatMap((leg, number) => {
    const until = run.legs[number + 1];
    const byKm = planOf(leg.name, run.work, run.dues).map((stop) => ({ ...stop, km: leg.km + stop.km }))
      .filter((stop) => !until || stop.km <= until.km || stop.id in run.reached || goesOn(stop));
    return [...byKm, ...byClock(run, leg, until)];
  });
}

// What was asked for after work counts all miles; turning round early does not settle it.
/** @param {RunStop} of */
const goesOn = ({ what, dues }) => what.includes("nuts") || Boolean(dues);

/** @param {Run} run @param {Leg} leg @param {Leg | undefined} until */
function byClock(run, leg, until) {
  const driven = (until ? until.minutes : run.minutes) - leg.minutes;
  const count = Math.floor(driven / EVERY) + (until ? 0 : 1);
  return Array.from({ length: count }, (_, i) => (
    { id: `${leg.name}:h${i + 1}`, what: ["hubs", "tires", "load"], minutes: leg.minutes + (i + 1) * EVERY }));
}

/** Stops reached and not done, first the one reached first. Of those by the clock only the last of a leg counts. */
/** @type {(run: Run) => RunStop[]} */
export function dueOf(run) {
  const due = stopsOf(run).filter(({ id }) => id in run.reached && !(id in run.done));
  return due.filter((stop) => !due.some((other) => later(other, stop)));
}

/** @param {string} id */
const hours = (id) => /^(\w+):h(\d+)$/.exec(id);
/** @param {{ id: string }} other @param {{ id: string }} stop */
const later = (other, stop) => {
  const [a, b] = [hours(other.id), hours(stop.id)];
  return Boolean(a && b && a[1] === b[1] && Number(a[2]) > Number(b[2]));
};

/** The stops not yet reached, with `left`: kilometres, and `minutesLeft` at the usual speed; nearest first. */
/** @type {(run: Run) => StopAhead[]} */
export function aheadOf(run) {
  return stopsOf(run).filter(({ id }) => !(id in run.reached) && !(id in run.done)).map((stop) => {
    const left = stop.km === undefined ? (stop.minutes - run.minutes) / 60 * run.speed : stop.km - run.km;
    return { ...stop, left, minutesLeft: stop.km === undefined ? stop.minutes - run.minutes : left / run.speed * 60 };
  }).sort((a, b) => a.minutesLeft - b.minutesLeft);
}

/** A stop done, and with it every earlier one of the clock on that leg. `check`: the kept check's number, or null. */
/** @param {Run} run @param {string} id @param {number} now @param {string | null} check */
export function finish(run, id, now, check = null) {
  const next = advance(run, now);
  const covered = stopsOf(next).filter((stop) => stop.id === id || later({ id }, stop)).map((stop) => stop.id);
  return { ...next, done: { ...Object.fromEntries(covered.map((one) => [one, { at: now, check }])), ...next.done } };
}

/** How far past a due stop the run is, in kilometres or minutes; never under nothing. */
/** @type {(run: Run, stop: RunStop) => { km?: number, minutes?: number }} */
export const pastBy = (run, stop) => (stop.km === undefined
  ? { minutes: Math.max(0, run.minutes - stop.minutes) } : { km: Math.max(0, run.km - stop.km) });

/** Stops said to be looked at by hand, the last one first: each can be taken back. */
/** @type {(run: Run) => RunStop[]} */
export const tickedOf = (run) => stopsOf(run).filter(({ id }) => run.done[id]?.check === null)
  .filter((stop, _, all) => !all.some((other) => later(other, stop)))
  .sort((a, b) => run.done[b.id].at - run.done[a.id].at);

/** A stop said to be looked at was not, after all: it is due again, with what that had covered. */
/** @type {(run: Run, id: string, now: number) => Run} */
export function unfinish(run, id, now) {
  const next = advance(run, now), mine = next.done[id];
  if (next.ended !== null || mine?.check !== null) return next;
  const done = Object.fromEntries(Object.entries(next.done).filter(([one, { at, check }]) =>
    one !== id && !(check === null && at === mine.at && later({ id }, { id: one }))));
  return { ...next, done };
}

// What a check of one thing at each wheel is made of.
/** @type {Record<string, string[]>} */
const ONE = { quick_stop: ["hubs"], nuts_stop: ["nuts"], tires: ["tires"] };

/**
 * All due stops that a kept check looked at are done by it, and wheels it found something at are looked at again soon.
 * `check`: its number, `kind` what it is, with its verdict and answers; `felt`: when (ms) its hubs were told, if
 * long ago, so that what was reached since stays due.
 */
/** @param {Run} run @param {CheckDone} of1 @param {number} now */
export function finishBy(run, { check, kind, verdict, facts, felt = Infinity }, now) {
  if (run.ended !== null) return run;
  const checks = [...(run.checks ?? []), check], looks = LOOKS[kind] ?? [];
  /** @type {Run} */
  const next = { ...advance(run, now), checks };
  const looked = dueOf(next).filter(({ id, what, dues = [] }) => next.reached[id] <= felt
    && (what.every((one) => looks.includes(one)) || dues.some((due) => due.check === kind)));
  const after = looked.reduce((one, { id }) => finish(one, id, now, check), next);
  const left = (after.again ?? []).filter(({ id, what }) => id in after.reached
    || !what.every((one) => looks.includes(one)));
  // What is to be looked at again, or worse: of the levels only those begin so.
  const places = Object.keys(verdict?.places ?? {}).filter((at) => at && /^[sml]/.test(verdict?.places[at] ?? ""));
  const again = { id: ["again", checks.length].join(":"), what: ONE[kind] ?? ["hubs", "tires"],
    km: after.km + AGAIN * MILE, places, axles: axlesOf({ facts: facts ?? {} }) };
  return { ...after, again: places.length ? [...left, again] : left };
}

/** Due stops nobody has answered the call for. */
/** @param {Run} run */
export const loudOf = (run) => dueOf(run).filter(({ id }) => !run.heard?.includes(id));

/** The call for what is due at `now` was heard; what comes later calls again. */
/** @type {(run: Run, now: number) => Run} */
export function hear(run, now) {
  const next = advance(run, now); // what came in while the finger was on its way stands among what is due
  return { ...next, heard: [...new Set([...(next.heard ?? []), ...dueOf(next).map(({ id }) => id)])] };
}

/** Standing still from now on; `goOn` drives on. Neither loses anything. */
/** @param {Run} run @param {number} now */
export const rest = (run, now) => (run.rests ? advance(run, now) : { ...advance(run, now), rests: true, stood: now });
/** @param {Run} run @param {number} now */
export function goOn(run, now) {
  if (run.ended !== null) return run;
  const known = { ...advance(run, now) }, stood = known.stood ?? now;
  if (known.rests && Math.abs(now - stood) > COOLED * 60_000) known.cold = { km: known.km, minutes: known.minutes };
  delete known.silent;
  return { ...known, rests: false, stood: null, fix: null };
}

/** The distance so far as typed, in km: it counts from now on. Throws a RangeError for one that cannot be. */
/** @param {Run} run @param {number} km @param {number} now */
export function typed(run, km, now) {
  if (!(km >= 0 && km <= 10_000)) throw new RangeError("a distance from 0 to 10000 km");
  const before = advance(run, now), next = latched({ ...before, km, fix: null });
  return { ...next, typed: { from: before.km, to: km,
    reached: Object.keys(next.reached).filter((id) => !(id in before.reached)) } };
}

/** Without the last distance typed: what it alone had reached is ahead again, and calls again when it comes. */
/** @type {(run: Run, now: number) => Run} */
export function untyped(run, now) {
  const { typed: last, ...next } = advance(run, now);
  if (!last || run.ended !== null) return run;
  const gone = new Set(last.reached.filter((id) => !(id in next.done)));
  return latched({ ...next, km: Math.max(0, next.km + last.from - last.to), fix: null,
    reached: Object.fromEntries(Object.entries(next.reached).filter(([id]) => !gone.has(id))),
    heard: (next.heard ?? []).filter((id) => !gone.has(id)) });
}

/** Whether position counts the distance; without it time does. */
/** @param {Run} run @param {Run["by"]} by @param {number} now */
export const countBy = (run, by, now) => ({ ...advance(run, now), by, fix: null });

/** The way back begins: its stops count from here. */
/** @type {(run: Run, now: number) => Run} */
export function turnBack(run, now) {
  const next = { ...advance(run, now) };
  if (next.legs.some(({ name }) => name === "back")) return next;
  delete next.typed; // the way back counts from here, so that it cannot be another distance any more
  return { ...next, legs: [...next.legs, { name: "back", km: next.km, minutes: next.minutes }] };
}

/** @param {Run} run @param {number} now */
export const end = (run, now) => (run.ended !== null ? run : { ...advance(run, now), rests: true, ended: now });
