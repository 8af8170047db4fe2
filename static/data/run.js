// A run on the road: which stops are due, from stored stamps alone. Nothing here draws, asks or stores.
//
// A run is plain JSON. Every change gives a new one; what it knows only grows: minutes driven never go back
// whatever the clock does, a stop once reached stays due until it is done, and a stop done never comes again.

export const MILE = 1.609344; // km
const HOUR = 3_600_000; // ms
// A longer silence than this was not driven through: the person is asked before it counts.
export const SILENCE = 6 * HOUR;
const EVERY = 180; // minutes on the road between stops, common practice, no source
const EARTH = 6371.0088; // km, mean radius (IUGG)
const FASTEST = 200; // km/h: a fix that needs more is a wrong one
const ROUGHEST = 100; // m: a coarser fix says nothing
const STILL = 0.025; // km: under this a fix only wanders
const BESIDE = 3; // km: a check asked for so near a stop is made at that stop
const COOLED = 30; // minutes of standing after which hubs begin anew
const SPEEDS = [8, 145]; // km/h that a stop takes, as in checks/trade/hubs.py

export const WORK = ["bearings", "wheels_off", "tires", "stored", "dunked"];

// Miles after which each thing is looked at. Common practice, no source; hubs need 20 miles to warm (heat model).
/** @type {Record<string, (work: string[]) => number[]>} */
const AFTER = {
  hubs: (work) => (some(work, "bearings", "stored", "dunked", "wheels_off") ? [20, 50, 100] : [20, 100]),
  nuts: (work) => (some(work, "wheels_off", "tires", "bearings") ? [10, 25, 50] : []),
  load: () => [50],
};
/** @param {string[]} work @param {...string} names */
const some = (work, ...names) => names.some((name) => work.includes(name));

/**
 * The stops of a leg by distance, `{ id, what: [..], km }`, nearest first. `leg`: "out" or "back". `dues`: checks
 * a shop asked for, `{ id, km, check, what }`; each is at the stop beside it (`dues` there), or has one of its own.
 */
/** @type {(leg: Leg["name"], work: string[], dues?: RunDue[]) => StopByKm[]} */
export function planOf(leg, work, dues = []) {
  // Nothing was unscrewed between the way out and the way back, but a boat went into the water.
  const counts = leg === "out" ? work : work.filter((one) => one === "dunked");
  /** @type {Map<number, string[]>} */
  const stops = new Map();
  for (const [what, miles] of Object.entries(AFTER)) {
    for (const at of miles(counts)) stops.set(at, [...(stops.get(at) ?? []), what]);
  }
  const plan = [...stops].map(([at, what]) => ({ id: `${leg}:${at}`, what, km: at * MILE }));
  return (leg === "out" ? withDues(plan, dues) : plan).sort((a, b) => a.km - b.km);
}

/** @param {StopByKm[]} plan @param {RunDue[]} dues */
function withDues(plan, dues) {
  const all = plan.map((stop) => ({ ...stop }));
  for (const due of dues) {
    const beside = all.find(({ km }) => Math.abs(km - due.km) < BESIDE);
    if (beside) beside.dues = [...(beside.dues ?? []), due];
    else all.push({ id: `out:due${due.id}`, what: due.check === "quick_stop" ? ["hubs"] : ["shop"], km: due.km,
      dues: [due] });
  }
  return all;
}

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

// What each kind of check looks at; only a check that looks at all of a stop's things does it.
/** @type {Record<string, string[]>} */
const LOOKS = { run_stop: ["hubs", "nuts", "load", "tires", "shop"], quick_stop: ["hubs"],
  walkaround: ["nuts", "load", "tires", "shop"], tires: ["tires"] };

/** The kind of check that does a stop, and what was asked for there. */
/** @param {Pick<RunStop, "what" | "dues">} of */
export function checkFor({ what, dues = [] }) {
  const [due = null] = dues;
  return { check: due?.check ?? (what.every((one) => LOOKS.quick_stop.includes(one)) ? "quick_stop" : "run_stop"),
    due };
}

/** All due stops that a kept check looked at are done by it. `check`: its number, `kind` what it is. */
/** @param {Run} run @param {{ check: string, kind: string }} of1 @param {number} now */
export function finishBy(run, { check, kind }, now) {
  if (run.ended !== null) return run;
  const next = advance(run, now), looks = LOOKS[kind] ?? [];
  const looked = dueOf(next).filter(({ what, dues = [] }) => what.every((one) => looks.includes(one))
    || dues.some((due) => due.check === kind));
  return looked.reduce((one, { id }) => finish(one, id, now, check), next);
}

/** Due stops nobody has answered the call for. */
/** @param {Run} run */
export const loudOf = (run) => dueOf(run).filter(({ id }) => !run.heard?.includes(id));

/** The call for what is due now was heard; what comes later calls again. */
/** @param {Run} run */
export const hear = (run) => ({ ...run,
  heard: [...new Set([...(run.heard ?? []), ...dueOf(run).map(({ id }) => id)])] });

/** What a stop made now need not ask: kilometres and km/h since the hubs were cold, and when it came to stand. */
/** @param {Run} run @param {number} now */
export function knownAt(run, now) {
  const { km, minutes } = run.cold ?? { km: 0, minutes: 0 }, driven = run.km - km, took = run.minutes - minutes;
  const mean = run.by === "time" || took < 5 ? run.speed : driven / took * 60;
  return { run_distance: Math.round(driven * 10) / 10,
    run_speed: Math.round(Math.min(SPEEDS[1], Math.max(SPEEDS[0], mean))),
    stood: run.rests && run.stood ? Math.min(run.stood, now) : now };
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

/**
 * A number as people type it: "12.5", "12,5", "1,250" and "−5"; NaN where it is none.
 * @param {string} text
 */
export function numberOf(text) {
  const tidy = text.trim().replace("−", "-"), thousands = /^\d{1,3}(,\d{3})+(\.\d+)?$/.test(tidy);
  return Number((thousands ? tidy.replaceAll(",", "") : tidy.replace(",", ".")) || Number.NaN);
}

/** The distance so far as typed, in km: it counts from now on. Throws a RangeError for one that cannot be. */
/** @param {Run} run @param {number} km @param {number} now */
export function typed(run, km, now) {
  if (!(km >= 0 && km <= 10_000)) throw new RangeError("a distance from 0 to 10000 km");
  return latched({ ...advance(run, now), km, fix: null });
}

/** Whether position counts the distance; without it time does. */
/** @param {Run} run @param {Run["by"]} by @param {number} now */
export const countBy = (run, by, now) => ({ ...advance(run, now), by, fix: null });

/** The way back begins: its stops count from here. */
/** @type {(run: Run, now: number) => Run} */
export function turnBack(run, now) {
  const next = advance(run, now);
  if (next.legs.some(({ name }) => name === "back")) return next;
  return { ...next, legs: [...next.legs, { name: "back", km: next.km, minutes: next.minutes }] };
}

/** @param {Run} run @param {number} now */
export const end = (run, now) => (run.ended !== null ? run : { ...advance(run, now), rests: true, ended: now });

/** What is kept of a run that has ended: miles, minutes, stops, and no place. `local` tells a stamp's time. */
/** @type {(run: Run, local: (now: Date) => string) => RunBody} */
export function recordOf(run, local) {
  /** @param {number | null | undefined} at */
  const stamp = (at) => (typeof at === "number" ? local(new Date(at)) : null);
  /** @param {number} value */
  const round = (value) => Math.round(value * 10) / 10;
  /** @param {RunStop} stop */
  const told = (stop) => ({ id: stop.id, what: stop.what,
    ...(stop.km === undefined ? { minutes: round(stop.minutes) } : { km: round(stop.km) }),
    reached: stamp(run.reached[stop.id]), done: stamp(run.done[stop.id]?.at),
    check: run.done[stop.id]?.check ?? null });
  /** @param {RunStop} of */
  const stands = ({ id, km }) => id in run.done || dueOf(run).some((stop) => stop.id === id)
    || (km !== undefined && !(id in run.reached));
  return { run: run.id, trailer: run.trailer, began: local(new Date(run.began)), ended: stamp(run.ended), by: run.by,
    km: round(run.km), minutes: round(run.minutes), speed: round(run.speed), work: run.work,
    legs: run.legs.map(({ name, km, minutes }) => ({ name, km: round(km), minutes: round(minutes) })),
    stops: stopsOf(run).filter(stands).map(told) };
}
