// What a run tells others: a check made at its stop, and the record that is kept of it.

import { dueOf, stopsOf } from "./run.js";

const SPEEDS = [8, 145]; // km/h that a stop takes, as in checks/trade/hubs.py

/** What a stop made now need not ask: kilometres and km/h since the hubs were cold, and when it came to stand. */
/** @param {Run} run @param {number} now */
export function knownAt(run, now) {
  const { km, minutes } = run.cold ?? { km: 0, minutes: 0 }, driven = run.km - km, took = run.minutes - minutes;
  const mean = run.by === "time" || took < 5 ? run.speed : driven / took * 60;
  return { run_distance: Math.round(driven * 10) / 10,
    run_speed: Math.round(Math.min(SPEEDS[1], Math.max(SPEEDS[0], mean))),
    stood: run.rests && run.stood ? Math.min(run.stood, now) : now };
}

/** What is kept of a run that has ended: miles, minutes, stops, and no place. `local` tells a stamp's time. */
/** @type {(run: Run, local: (now: Date) => string) => RunBody} */
export function recordOf(run, local) {
  /** @param {number | null | undefined} at */
  const stamp = (at) => (typeof at === "number" ? local(new Date(at)) : null);
  /** @param {number} value */
  const round = (value) => Math.round(value * 10) / 10;
  /** @param {RunStop} stop */
  const told = (stop) => ({ id: stop.id, what: stop.what,
    ...(stop.places && { places: stop.places, axles: stop.axles ?? 1 }),
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
