// What a check found stays with the run, its sign first and what to do, until somebody says how it ended.

import { axlesOf } from "../data/asking.js";
import { recordsOf, trailerOf } from "../data/queries.js";
import { stopsIn, undecided } from "../data/stops.js";
import { has, placeName, say } from "../data/words.js";
import { redraw } from "../router.js";
import { h } from "../parts/h.js";
import { dayText, link } from "../parts/page.js";
import { sign } from "../parts/sign.js";
import { howEnded } from "./stop_now.js";

/**
 * The worst that nobody has answered of what was found on this run, or on its trailer at any time: a kept check, or
 * one still open that says *Stop now*; and whether what was found on the run was last said to be towed away.
 */
/** @param {App} app @param {RunOf} run @returns {Promise<Carried>} */
export async function carriedBy(app, run) {
  const [{ readable }, drafts] = await Promise.all([recordsOf(app.store), app.store.all("drafts")]);
  /** @type {(item: KeptRecord) => boolean} */
  const mine = (item) => (run.trailer ? trailerOf(item) === run.trailer : Boolean(run.checks?.includes(item.id)));
  const [kept] = undecided(readable).filter(mine);
  const answers = readable.flatMap(({ record }) => (record.kind === "work" && record.body.about
    && run.checks?.includes(record.body.about) ? [record.body.answer] : []));
  const open = kept?.record.body.verdict.level === "stop" ? null : openStop(app, run, drafts);
  if (open) return { level: "stop", at: `#/now/${open.draft.id}`, found: open.found, facts: open.draft.facts };
  if (!kept) return { level: null, at: "#/", facts: {}, towed: answers.at(-1) === "towed" };
  const { body, made } = kept.record, { level, findings } = body.verdict;
  return { level: level === "stop" ? "stop" : "mend", at: `#/${level === "stop" ? "now" : "check"}/${kept.id}`,
    found: findings[0], facts: body.facts, item: kept, made };
}

/** @param {App} app @param {RunOf} run @param {Draft[]} drafts */
function openStop(app, run, drafts) {
  /** @type {(draft: Draft) => boolean} */
  const mine = (draft) => (run.trailer ? draft.trailer === run.trailer : Boolean(run.id) && draft.run === run.id);
  for (const draft of drafts.filter(mine)) {
    try {
      const [found] = stopsIn(app.book, draft);
      if (found) return { draft, found };
    } catch { /* a draft of another release may be of any shape; the front page tells of it */ }
  }
  return null;
}

/** Its sign, the wheel, what to do, the way to its page, and how it ended. */
/** @param {App} app @param {Carried} carried */
export function carriedCard(app, { level, at, found, facts, item, made }) {
  if (!level) return null;
  const known = found && has(`finding-${found.finding}`);
  const what = known ? [placeName(found.place, axlesOf({ facts })), say(`finding-${found.finding}`)] : [];
  return h("section", { class: `card carried ${level}` }, sign(level, { large: true }),
    h("h2", {}, what.filter(Boolean).join(": ")),
    known && h("p", { class: "act" }, say(`finding-${found.finding}.do`)),
    h("p", { class: "act" }, say(`level-${level}.do`)),
    made && h("p", { class: "hint" }, say("road-run-found", { day: dayText(made) })),
    link(say(level === "mend" ? "road-run-found-read" : "road-run-what-now"), at, "answer main"),
    item && howEnded(app, item, redraw));
}
