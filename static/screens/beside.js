// What nobody is to drive on with yet, of the trailer of a verdict or one that may be it: a later check ends none.

import { say } from "../data/words.js";
import { h } from "../parts/h.js";
import { carriedBy, maybeOf, maybeRows, openRow } from "./run_verdict.js";

/** Each with its sign and the way to its page; null where nothing is open. */
/**
 * @param {App} app @param {{ id?: string, trailer: string | null, link?: string }} check one that is no news to itself
 * @returns {Promise<Element | null>}
 */
export async function openBeside(app, { id, trailer, link }) {
  const run = { trailer, link }, first = await carriedBy(app, run);
  /** @param {Carried} one */
  const other = ({ level, of }) => level && level !== "mend" && of?.id !== id;
  const its = [first, ...first.more ?? []].filter(other), maybe = (await maybeOf(app, run)).filter(other);
  if (!its.length && !maybe.length) return null;
  return h("section", { class: "beside" },
    its.length ? [h("h2", {}, say("app-beside")), h("p", {}, say("app-beside.help"))] : null,
    its.map((one) => openRow(one)),
    maybe.length ? [h("h2", {}, say("road-run-maybe")), h("p", {}, say("road-run-on-maybe"))] : null,
    await maybeRows(app, maybe));
}
