// Which *Stop now* an answer has just brought, and which of those kept are still waiting for a word.

import { axlesOf, judged } from "./asking.js";
import { isCheck } from "./queries.js";
import { foundText, has, say } from "./words.js";
import { TOO_HOT } from "../engine/judge.js";

/** @type {(one: Found) => string} */
export const idOf = ({ finding, place }) => `${finding}@${place}`;

const UNJUDGED = ["trailer", "figures"]; // questions of a trailer alone, and figures

/** Findings of a verdict that say *Stop now*, or another level `at`, worst first. */
/** @type {(verdict: Pick<Verdict, "findings">, at?: Level) => Found[]} */
export const stopsOf = ({ findings }, at = "stop") => findings.filter(({ level }) => level === at);

/** Those of a draft. */
/** @type {(book: OpenBook, draft: Draft, at?: Level) => Found[]} */
export const stopsIn = (book, draft, at) => (UNJUDGED.includes(draft.check) ? [] : stopsOf(judged(book, draft), at));

/**
 * The finding whose own words say what to do first: the worst. At *Look again* it is one that holds up driving on, and
 * its words stand in place of the level's, which are milder.
 */
/** @param {OpenBook} book @param {Pick<Verdict, "findings"> & { level?: Level }} verdict */
export function firstToDo(book, { level, findings: list }) {
  if (level !== "look") return level === "stop" || level === "mend" ? list[0] : undefined;
  return list.find(({ finding }) => finding === TOO_HOT)
    ?? list.find(({ finding }) => book.data.findings[finding]?.holds);
}

/** Whether what was found holds driving on up: at *Look again* only some does. */
/** @type {(book: OpenBook, level: Level | null, found?: Found) => boolean} */
export const holdsUp = (book, level, found) => (level === "look"
  ? Boolean(firstToDo(book, { level, findings: found ? [found] : [] })) : level !== null);

/** What a draft at *Look again* holds driving on up for: it stands wherever a *Stop now* would. */
/** @type {(book: OpenBook, draft: Draft) => Found | undefined} */
export function heldIn(book, draft) {
  const verdict = UNJUDGED.includes(draft.check) ? null : judged(book, draft);
  return verdict?.level === "look" ? firstToDo(book, verdict) : undefined;
}

/** What to do first about a hub there that driving on is held up for; "" where there is none. */
/** @type {(book: OpenBook, draft: Draft, isThere: (place: string) => boolean) => string} */
export function heldAt(book, draft, isThere) {
  const held = heldIn(book, draft), id = `finding-${held?.finding}.do`;
  return held && isThere(held.place) && has(id) ? say(id) : "";
}

/**
 * Those of `before` that `after` has no more. One of the same wheel or kind that came by the same answer stands for
 * them: another word for the same hub, or the wheel of a sign.
 */
/** @type {(book: OpenBook, before: Draft, after: Draft, at?: Level) => Found[]} */
export function lostStops(book, before, after, at) {
  const was = stopsIn(book, before, at), is = stopsIn(book, after, at), had = new Set(was.map(idOf));
  return was.filter((one) => !is.some((other) => idOf(other) === idOf(one)
    || (!had.has(idOf(other)) && (other.finding === one.finding || (one.place !== "" && other.place === one.place)))));
}

/** Those that `after` has and `before` had not. */
/** @type {(book: OpenBook, before: Draft, after: Draft) => Found[]} */
export function freshStops(book, before, after) {
  const known = new Set(stopsIn(book, before).map(idOf));
  // One whose wheel is told now is the one that was known before.
  return stopsIn(book, after).filter((one) => !known.has(idOf(one)) && !known.has(idOf({ ...one, place: "" })));
}

export const DECISIONS = ["mended", "towed", "wrong"];

/** Each that was found, worst first, where this release has words for it. */
/** @type {(found: Found[], facts: Answers) => string} */
export const whatOf = (found, facts) =>
  found.map((one) => foundText(one, axlesOf({ facts }))).filter(Boolean).join("; ");

/** What a card names: each *Stop now*, else what to act on first. */
/** @type {(book: OpenBook, verdict: Verdict) => Found[]} */
export const namedOf = (book, verdict) => (verdict.level === "stop" ? stopsOf(verdict)
  : [firstToDo(book, verdict) ?? verdict.findings[0]]);

/** *Stop nows* of a kept check that has several, each of which is to be ticked before all are over. */
/** @type {(item: KeptRecord) => Found[]} */
export function severalOf({ record }) {
  const stops = record.kind === "check" ? stopsOf(record.body.verdict) : [];
  return stops.length > 1 ? stops : [];
}

/** What is left of them, in words. */
/** @type {(item: KeptRecord) => string} */
export const leftOf = (item) => textOf(item, severalOf(item).filter((one) => !item.settled?.includes(idOf(one))));

/** @type {(item: KeptRecord, found: Found[]) => string} */
export const textOf = ({ record }, found) => (record.kind === "check" ? whatOf(found, record.body.facts) : "");

/** Where a kept *Stop now* or *Mend* is read; on the link's page what only a link told of it. */
/** @type {(item: KeptCheck) => string} */
export const whereOf = ({ id, link, told, record }) => (told ? `#/job/${link}`
  : `#/${record.body.verdict.level === "stop" ? "now" : "check"}/${id}`);

/** Worst first, what holds driving on up last, where there is a `book` to tell it; -1 for what nobody has to answer. */
/** @type {(item: KeptCheck, book?: OpenBook) => number} */
function rankOf({ record: { body: { verdict } } }, book) {
  const rank = ["stop", "mend"].indexOf(verdict?.level);
  return rank < 0 && book && verdict && firstToDo(book, verdict) ? 2 : rank;
}

/** The newest first: an id begins with its time (RFC 9562, version 7). */
/** @type {(a: { id: string }, b: { id: string }) => number} */
export const newest = (a, b) => (a.id < b.id ? 1 : -1);

export const LAPSES = 24 * 60 * 60_000; // ms in which an answer can be taken back

/** By the check it is about, the last word on how it ended; `open` takes the one before back. */
/** @type {(records: KeptRecord[]) => Map<string, KeptRecord & { record: WorkRecord }>} */
export function latest(records) {
  const last = new Map();
  for (const item of records) if (item.record.kind === "work" && item.record.body.about) {
    last.set(item.record.body.about, item);
  }
  return last;
}

/**
 * Kept checks at *Stop now* or *Mend* that nobody has answered, worst and newest first. `records` are
 * the store's items: a record of kind `work` with `about` answers the check it names. With a `book` those at
 * *Look again* too that nobody is to drive on with.
 */
/** @type {(records: KeptRecord[], book?: OpenBook) => KeptCheck[]} */
export function undecided(records, book) {
  const last = latest(records);
  return records.filter(isCheck).filter((one) => rankOf(one, book) >= 0
    && (last.get(one.id)?.record.body.answer ?? "open") === "open")
    .sort((a, b) => rankOf(a, book) - rankOf(b, book) || newest(a, b));
}
