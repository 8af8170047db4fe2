// Which *Stop now* an answer has just brought, and which of those kept are still waiting for a word.

import { judged } from "./asking.js";

const idOf = ({ finding, place }) => `${finding}@${place}`;

const UNJUDGED = ["trailer", "figures"]; // a trailer's own questions, and sums

/** Findings that say *Stop now* in a draft, worst first. */
export const stopsIn = (book, draft) =>
  (UNJUDGED.includes(draft.check) ? [] : judged(book, draft).findings.filter(({ level }) => level === "stop"));

/** Those that `after` has and `before` had not. */
export function freshStops(book, before, after) {
  const known = new Set(stopsIn(book, before).map(idOf));
  return stopsIn(book, after).filter((one) => !known.has(idOf(one)));
}

export const DECISIONS = ["mended", "towed", "wrong"];

/**
 * Kept checks at *Stop now* or *Mend* that nobody has answered, worst and newest first. `records` are
 * the store's items: a record of kind `work` with `about` answers the check it names.
 */
export function undecided(records) {
  const answeredIds = new Set(records.filter(({ record }) => record.kind === "work")
    .map(({ record }) => record.body.about));
  const rank = { stop: 0, mend: 1 };
  return records
    .filter(({ id, record }) => record.kind === "check" && record.body.verdict?.level in rank && !answeredIds.has(id))
    .sort((a, b) => rank[a.record.body.verdict.level] - rank[b.record.body.verdict.level] || (a.id < b.id ? 1 : -1));
}
