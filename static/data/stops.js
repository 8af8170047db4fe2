// Which *Stop now* an answer has just brought, and which of those kept are still waiting for a word.

import { judged } from "./asking.js";
import { isCheck } from "./queries.js";

/** @type {(one: Found) => string} */
const idOf = ({ finding, place }) => `${finding}@${place}`;

const UNJUDGED = ["trailer", "figures"]; // a trailer's own questions, and figures

/** Findings that say *Stop now* in a draft, worst first. */
/** @type {(book: OpenBook, draft: Draft) => Found[]} */
export const stopsIn = (book, draft) =>
  (UNJUDGED.includes(draft.check) ? [] : judged(book, draft).findings.filter(({ level }) => level === "stop"));

/** Those that `after` has and `before` had not. */
/** @type {(book: OpenBook, before: Draft, after: Draft) => Found[]} */
export function freshStops(book, before, after) {
  const known = new Set(stopsIn(book, before).map(idOf));
  return stopsIn(book, after).filter((one) => !known.has(idOf(one)));
}

export const DECISIONS = ["mended", "towed", "wrong"];

/** Whether nobody has said yet which wheel a draft's finding is at. */
/** @type {(draft: Pick<Draft, "unplaced">, found: Pick<Found, "finding">) => boolean} */
export const isUnplaced = ({ unplaced }, { finding }) => unplaced !== undefined && finding.endsWith(unplaced);

// Worst first; -1 for what nobody has to answer.
/** @type {(item: KeptRecord) => number} */
const rankOf = ({ record }) => (record.kind === "check" ? ["stop", "mend"].indexOf(record.body.verdict?.level) : -1);

/**
 * Kept checks at *Stop now* or *Mend* that nobody has answered, worst and newest first. `records` are
 * the store's items: a record of kind `work` with `about` answers the check it names.
 */
/** @type {(records: KeptRecord[]) => KeptCheck[]} */
export function undecided(records) {
  const answeredIds = new Set(records.map(({ record }) => (record.kind === "work" ? record.body.about : null)));
  return records.filter(isCheck).filter((one) => rankOf(one) >= 0 && !answeredIds.has(one.id))
    .sort((a, b) => rankOf(a) - rankOf(b) || (a.id < b.id ? 1 : -1));
}
