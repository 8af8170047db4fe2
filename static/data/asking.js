// What a check still has to ask, worked out afresh from its answers each time. No screens here.
//
// A draft keeps every answer ever given, also those whose question has gone because an earlier
// answer changed; `answers` leaves those out, so that going back loses nothing and judges nothing stale.

export const PROFILE = ["about", "trailer"]; // stations that describe the trailer itself

// Checks of one thing, straight to their verdict when it is answered; and those made beside the road.
export const SHORT = ["quick_stop", "nuts_stop", "load_stop"];
export const ROADSIDE = ["run_stop", ...SHORT];
export const HUB_STOPS = ["run_stop", "quick_stop"]; // those that feel or measure the hubs

// What does not change from check to check: told once, then confirmed in one tap.
export const CONSTANT = ["pressure_label", "tire_marked", "tire_max", "tire_made", "tire_size", "load_range",
  "coupler_size", "gross_rating", "spare_made"];

/** What a hand or a thermometer is told at a hub. */
export const HUB_ANSWER = /^(hub_feel|hub_reading|pair_feel)@/;
const COOLED_MS = 15 * 60_000; // a hub told then and one told now say nothing: common practice, no source

const ALL_CHECKS = ["walkaround", "run_stop", "tires", "bench"];

/** @type {(key: string) => string} */
export const factOf = (key) => key.split("@")[0];
/** @type {(key: string) => string} */
export const placeOf = (key) => key.split("@")[1] ?? "";

// A draft is never changed in place, so what follows from it is worked out once and kept beside it.
/** @type {<T>(work: (book: OpenBook, draft: Asked) => T) => (book: OpenBook, draft: Asked) => T} */
function once(work) {
  const kept = new WeakMap();
  return (book, draft) => {
    const byBook = kept.get(draft) ?? kept.set(draft, new Map()).get(draft);
    if (!byBook.has(book)) byBook.set(book, work(book, draft));
    return byBook.get(book);
  };
}

/** Points in walking order with the fact keys asked there: `[{station, point, place, keys}]`. */
/** @type {(book: OpenBook, draft: Asked, facts?: Answers) => VisitedPoint[]} */
export function visits(book, draft, facts = answers(book, draft)) {
  /** @type {(check: string) => VisitedPoint[]} */
  const asked = (check) => book.asked(check, facts, draft.date).map((visit) => ({ ...visit, point: visit.point.id }));
  if (draft.check !== "trailer") return asked(draft.check);
  const seen = new Set();
  return ALL_CHECKS.flatMap(asked)
    .filter(({ station, point, place }) => {
      const id = `${point}@${place}`;
      return PROFILE.includes(station) && !seen.has(id) && seen.add(id);
    });
}

/** The answers that still count: asked now, or known about the trailer. */
export const answers = once((book, draft) => {
  const known = new Set(draft.known ?? []);
  let facts = readable(book, draft);
  for (let round = 0; round < 6; round++) {
    const keys = new Set(visits(book, draft, facts).flatMap((visit) => visit.keys));
    const kept = Object.fromEntries(Object.entries(facts).filter(([key]) => keys.has(key) || known.has(key)));
    if (Object.keys(kept).length === Object.keys(facts).length) break;
    facts = kept;
  }
  return facts;
});

/** The answers as they are judged and kept: a sign of which nobody told the wheel stands there without one. */
export const told = once((book, draft) => {
  const facts = { ...answers(book, draft) };
  for (const sign of [draft.unplaced ?? []].flat()) {
    const keys = Object.keys(facts).filter((key) => factOf(key) === sign);
    if (!keys.length || keys.some((key) => facts[key] !== "yes")) continue;
    for (const key of keys) delete facts[key];
    facts[sign] = "yes";
  }
  return facts;
});

/** Answers the rulebook can read, on axles the trailer has. */
/** @type {(book: OpenBook, draft: Asked) => Answers} */
function readable(book, draft) {
  const axles = axlesOf(draft);
  return Object.fromEntries(Object.entries(draft.facts).filter(([key, raw]) =>
    Number(placeOf(key)[0] ?? 0) <= axles && isReadable(book, draft, key, raw)));
}

/** @type {(book: OpenBook, draft: Asked, key: string, raw: Raw) => boolean} */
function isReadable(book, { date }, key, raw) {
  try {
    book.readAnswer(key, raw, date);
    return true;
  } catch {
    return false;
  }
}

/** A draft of an earlier rulebook: what this one cannot read is laid aside, so that it is asked again. */
/** @type {<T extends Draft | undefined>(book: OpenBook, draft: T) => T} */
export function adopt(book, draft) {
  if (!draft || draft.rulebook === book.hash || draft.check === "figures") return draft;
  const lost = Object.keys(draft.facts).filter((key) => !isReadable(book, draft, key, draft.facts[key]));
  const facts = { ...draft.facts }, aside = { ...draft.aside };
  for (const key of lost) { aside[key] = facts[key]; delete facts[key]; }
  return { ...draft, facts, aside, rulebook: book.hash };
}

/** @type {(of: { facts: Answers }) => number} */
export function axlesOf({ facts }) {
  if (Number.isInteger(facts.axles)) return Number(facts.axles);
  return Math.max(1, ...Object.keys(facts).map((key) => Number(placeOf(key)[0] ?? 1)));
}

export const judged = once((book, draft) => judgedAfresh(book, draft, false));

/** The verdict that is kept: nothing in it is remembered from an earlier one. */
/** @param {OpenBook} book @param {Asked} draft */
export const judgedAfresh = (book, draft, afresh = true) =>
  book.judge({ check: draft.check, date: draft.date, facts: told(book, draft) }, afresh);

/** The choices of a fact that apply to what is answered so far. */
/** @type {(book: OpenBook, draft: Asked, key: string) => string[]} */
export const choicesOf = (book, draft, key) => book.offered(key, answers(book, draft), draft.date);

/** @type {(fact: Fact) => boolean} */
export const isYesNo = (fact) => fact.kind === "choice" && fact.choices.join() === "no,yes";

/** One question, or one checklist, per step: `[{id, station, point, place, keys, together}]`. */
export const steps = once((book, draft) => {
  /** @type {QuestionStep[]} */
  const list = [];
  const known = new Set(draft.known ?? []), taken = new Set();
  for (const visit of visits(book, draft)) {
    const fresh = visit.keys.filter((key) => !known.has(key) && !taken.has(key));
    fresh.forEach((key) => taken.add(key));
    const ticks = pointOf(book, visit.point).together ? fresh.filter((k) => isYesNo(book.data.facts[factOf(k)])) : [];
    /** @type {(id: string, keys: string[], together: boolean) => void} */
    const step = (id, keys, together) => { list.push({ ...visit, id, keys, together }); };
    if (ticks.length > 1) step(`${visit.point}.${visit.place}`, ticks, true);
    for (const key of fresh) if (ticks.length < 2 || !ticks.includes(key)) step(key, [key], false);
  }
  return list;
});

const pointsOf = new WeakMap();

/** @type {(book: OpenBook, id: string) => Point} */
export function pointOf(book, id) {
  if (!pointsOf.has(book)) {
    pointsOf.set(book, new Map(book.data.stations.flatMap((s) => s.points.map((p) => [p.id, p]))));
  }
  return pointsOf.get(book).get(id);
}

/** Answered or skipped on purpose; "not sure" is an answer. */
/** @type {(draft: Asked, step: { keys: string[] }) => boolean} */
export function isDone(draft, step) {
  return step.keys.every((key) => key in draft.facts || draft.skipped?.includes(key));
}

/** @type {(list: QuestionStep[], key: string) => QuestionStep | undefined} */
export const stepOfKey = (list, key) => list.find((step) => step.keys.includes(key));

/** The draft with some answers set: `{key: {raw, typed}}`; raw undefined means skipped. */
/** @type {(draft: Draft, given: Given) => Draft} */
export function answered(draft, given) {
  const facts = { ...draft.facts }, typed = { ...draft.typed };
  const skipped = new Set(draft.skipped ?? []);
  const feltAt = { ...draft.feltAt };
  for (const [key, { raw, typed: words }] of Object.entries(given)) {
    if (HUB_ANSWER.test(key) && (facts[key] ?? null) === null) feltAt[key] = Date.now();
    delete typed[key];
    skipped.delete(key);
    if (raw === undefined) { delete facts[key]; skipped.add(key); } else facts[key] = raw;
    if (words) typed[key] = words;
  }
  return { ...draft, facts, typed, skipped: [...skipped], begun: undefined, feltAt };
}

/**
 * What a stop was told of hubs too long ago for another hub, with when (ms): `[[key, at]]`, the first first. Where no
 * hub was told it is its signs.
 */
/** @type {(draft: Draft) => [string, number][]} */
export function cooled({ check, facts, feltAt = {}, seenAt = NaN }) {
  const felt = Object.entries(feltAt).filter(([key]) => (facts[key] ?? null) !== null);
  if (!felt.length) felt.push(["", seenAt]);
  return felt.filter(([, at]) => HUB_STOPS.includes(check) && Date.now() - at > COOLED_MS)
    .sort(([, a], [, b]) => a - b);
}

/** Whether there is any, and a hub, of `keys` or of those left, is to be told. */
/** @type {(book: OpenBook, draft: Draft, keys?: string[]) => boolean} */
export const feltApart = (book, draft, keys = steps(book, draft).map(({ id }) => id)
  .filter((key) => !(key in draft.facts))) => keys.some((key) => HUB_ANSWER.test(key)) && cooled(draft).length > 0;

/** What a check has learnt of the trailer itself: `{facts, typed}`, for another check or a saved trailer. */
/** @type {(book: OpenBook, of: { facts: Answers, typed?: Typed }) => { facts: Answers, typed: Typed }} */
export function profileOf(book, { facts, typed }) {
  const points = book.data.stations.filter((one) => PROFILE.includes(one.id)).flatMap((one) => one.points);
  const wanted = new Set(points.flatMap((point) => point.facts));
  /** @type {<T>(given: Record<string, T> | undefined) => Record<string, T>} */
  const only = (given) => Object.fromEntries(Object.entries(given ?? {})
    .filter(([key, raw]) => wanted.has(factOf(key)) && raw !== null));
  return { facts: only(facts), typed: only(typed) };
}

/** Whether an answer names one thing, and is neither open nor vague. */
/** @type {(raw: Raw) => boolean} */
export const isKnown = (raw) => raw !== undefined && raw !== null && !Array.isArray(raw);

/** How the questions of a check were answered: `{looked, glanced, unsure, open}`. */
/** @type {(book: OpenBook, check: Payload) => Counts} */
export function countsOf(book, check) {
  const walk = visits(book, check, check.facts).filter(({ station }) => !PROFILE.includes(station));
  const keys = [...new Set(walk.flatMap((visit) => visit.keys))];
  const counts = { looked: 0, glanced: 0, unsure: 0, open: 0 };
  for (const key of keys) {
    const fact = book.data.facts[factOf(key)], raw = check.facts[key] ?? check.facts[factOf(key)];
    if (fact.optional && !isKnown(raw)) continue;
    counts[kindOf(fact, raw)] += 1;
  }
  return counts;
}

/** @type {(fact: Fact, raw: Raw) => keyof Counts} */
function kindOf(fact, raw) {
  if (raw === undefined) return "open";
  if (raw === null) return "unsure";
  return fact.kind === "choice" && Array.isArray(raw) && raw.length === fact.choices.length ? "glanced" : "looked";
}
