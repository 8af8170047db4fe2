// What was done to a trailer since its last run, as far as this phone knows: from the bench, from checks, from runs.

import { ROADSIDE } from "./asking.js";
import { checksOf, recordsOf, trailerOf } from "./queries.js";

const STORED = 90; // days without use after which hubs are looked at again, common practice, no source
const STOOD = 3; // months of standing, as answered on a walk, that count as stored
const DAY = 86_400_000;
// What a shop's work means for the next run: it takes the wheel off whatever it does to a hub.
/** @type {Record<string, string[]>} */
const SHOP = { bearings: ["bearings", "wheels_off"], brakes: ["bearings", "wheels_off"], wheels: ["wheels_off"],
  tires: ["tires", "wheels_off"] };

/** Kept checks and runs of a trailer, newest first: `{ checks, runs }`, each with `made` and its body. */
/** @type {(store: StoreOf, trailer: string | null) => Promise<Past>} */
export async function pastOf(store, trailer) {
  const { readable } = await recordsOf(store);
  /** @type {Past} */
  const past = { checks: [], runs: [] };
  for (const item of readable) {
    const { id, record: { made, kind, body } } = item;
    if (!trailer || trailerOf(item) !== trailer) continue;
    if (kind === "check") past.checks.push({ id, made, ...body });
    if (kind === "run") past.runs.push({ id, made, ...body });
  }
  /** @type {(a: { made: string }, b: { made: string }) => number} */
  const newestFirst = (a, b) => Date.parse(b.made) - Date.parse(a.made);
  return { checks: past.checks.sort(newestFirst), runs: past.runs.sort(newestFirst) };
}

/** The bore as the last stop of a trailer was told it, or of the run without one; null where it was left empty. */
/** @param {App} app @param {string | null | undefined} trailer @returns {Promise<Answers | undefined>} */
export async function boreOf({ store, settings: { run } }, trailer) {
  const last = (await checksOf(store)).find((item) =>
    ("hub_size" in item.record.body.facts || item.skipped?.includes("hub_size"))
    && (trailer ? trailerOf(item) === trailer : run?.checks?.includes(item.id)));
  return last && { hub_size: last.record.body.facts.hub_size ?? null };
}

/**
 * What counts as done since the last run: `{ WORK: { by, made } }`. `by` is `bench`, `shop`, `tires`, `answer`,
 * `calendar`, `left` (a stop of the last run that was not made) or `boat`; `made` the day it is known from, or null.
 * `past`: as from `pastOf`; `facts`: those of the trailer; `now`: ms since 1970; `service`: a shop's last work.
 */
/** @param {Past} of @param {Answers | undefined} facts @param {number} now @param {Service | null} [service] */
export function presetsOf({ checks, runs }, facts, now, service = null) {
  const [last] = runs, since = last ? Date.parse(last.began) : -Infinity;
  const fresh = checks.filter(({ made }) => Date.parse(made) > since);
  /** @type {Record<string, Why>} */
  const found = {};
  /** @param {string} work @param {string} by @param {string | null} made */
  const note = (work, by, made) => { found[work] ??= { by, made }; };
  const bench = fresh.find(({ check }) => check === "bench");
  if (bench) SHOP.bearings.forEach((work) => note(work, "bench", bench.made));
  if (service && Date.parse(service.finished) > since) {
    service.work.flatMap((code) => SHOP[code] ?? []).forEach((work) => note(work, "shop", service.finished));
  }
  const tires = newTires(fresh, checks);
  if (tires) note("tires", "tires", tires.made);
  const wet = fresh.find((one) => one.facts?.dunked === "yes");
  if (wet) note("dunked", "answer", wet.made);
  else if (facts?.boat === "yes") note("dunked", "boat", null);
  const stood = fresh.find((one) => Number(one.facts?.stood_months) >= STOOD);
  if (stood) note("stored", "answer", stood.made);
  const used = [last?.ended, ...checks.filter(({ check }) => ROADSIDE.includes(check)).map(({ made }) => made)]
    .flatMap((day) => (day ? [Date.parse(day)] : []));
  if (used.length && now - Math.max(...used) > STORED * DAY) {
    note("stored", "calendar", new Date(Math.max(...used)).toISOString());
  }
  if (last && leftOf(last).some(({ what }) => what.includes("nuts"))) {
    (last.work ?? []).forEach((work) => note(work, "left", last.began));
  }
  return found;
}

/** What shops did last to a trailer, by the links this phone has read. */
/** @param {{ links: KeptLink[] }} of @param {string | null} trailer @returns {Service | null} */
export function serviceOf({ links }, trailer) {
  const all = links.flatMap((one) => (trailer && one.trailer?.id === trailer && one.service ? [one.service] : []));
  return all.toSorted((a, b) => Date.parse(b.finished) - Date.parse(a.finished))[0] ?? null;
}

/**
 * From when to when the bearings were last packed, in ms since 1970, as far as this phone knows; or null. A year or
 * month that was answered runs from its first day to its last.
 */
/** @param {Past} of @param {Answers | undefined} facts @param {Service | null} service @returns {Interval | null} */
export function packedOf({ checks }, facts, service) {
  const days = checks.filter(({ check }) => check === "bench").map(({ made }) => Date.parse(made));
  if (service?.work.some((code) => SHOP[code]?.includes("bearings"))) days.push(Date.parse(service.finished));
  const told = [facts, ...checks.map((one) => one.facts)].find((one) => Number.isFinite(one?.service_year));
  const year = Number(told?.service_year), month = Number(told?.service_month) || null;
  /** @type {Interval[]} */
  const all = days.map((day) => [day, day]);
  if (told) all.push([Date.UTC(year, (month ?? 1) - 1), Date.UTC(year, month ?? 12) - 1]);
  return all.toSorted((a, b) => b[1] - a[1])[0] ?? null;
}

/** Stops of a kept run that were not made, due or still ahead. */
/** @param {{ stops?: KeptStop[] }} of */
export const leftOf = ({ stops = [] }) => stops.filter(({ done }) => !done);

/** The first fresh check in which some wheel's date code is another than in the check before. */
/** @param {PastCheck[]} fresh @param {PastCheck[]} checks */
function newTires(fresh, checks) {
  const codes = ({ facts = {} }) => Object.entries(facts)
    .filter(([key, code]) => key.startsWith("tire_made@") && typeof code === "string");
  return fresh.find((one) => codes(one).some(([key, code]) => {
    const before = checks.slice(checks.indexOf(one) + 1).find(({ facts }) => typeof facts?.[key] === "string");
    return before && before.facts[key] !== code;
  }));
}

/** The air as last answered, as answers and as typed, where that is not three hours old; else nothing. */
/** @param {Past} of @param {number} now @returns {{ facts?: Answers, typed?: Typed }} */
export function airOf({ checks }, now) {
  const last = checks.find(({ facts }) => (facts?.air ?? null) !== null);
  const age = last ? now - Date.parse(last.made) : -1, typed = last?.typed?.air;
  return last && age >= 0 && age < 3 * 3_600_000
    ? { facts: { air: last.facts.air }, typed: typed ? { air: typed } : {} } : {};
}

/** The same for a stop of a trailer that begins now. */
/** @param {StoreOf} store @param {string | null} [trailer] */
export const airNow = async (store, trailer = null) => airOf(await pastOf(store, trailer), Date.now());
