// What a check found stays with the run and on its link's page, its sign first and what to do, until somebody
// says how it ended; and what the shop has not decided, until the shop has.

import { axlesOf } from "../data/asking.js";
import { isCheck, recordsOf, trailerOf } from "../data/queries.js";
import { LOOKS } from "../data/run_plan.js";
import { isUnplaced, stopsIn, undecided } from "../data/stops.js";
import { foundText, has, placeName, say } from "../data/words.js";
import { redraw } from "../router.js";
import { h } from "../parts/h.js";
import { firstToDo } from "../parts/findings.js";
import { dayText, link } from "../parts/page.js";
import { sign } from "../parts/sign.js";
import { isRead } from "./link_reading.js";
import { howEnded } from "./stop_now.js";

/**
 * The worst that nobody has answered of what was found on this run, or on its trailer at any time: a kept check, or
 * one still open that says *Stop now*; and whether what was found on the run was last said to be towed away.
 */
/** @param {App} app @param {RunOf} run @returns {Promise<Carried>} */
export const carriedBy = async (app, run) => withShops(app, run, await ownOf(app, run));

/** The same of what this phone has kept or begun itself. */
/** @param {App} app @param {RunOf} run @returns {Promise<Carried>} */
export async function ownOf(app, run) {
  const [{ readable }, drafts] = await Promise.all([recordsOf(app.store), app.store.all("drafts")]);
  /** @type {(item: KeptRecord) => boolean} */
  const mine = (item) => isUnder(run, item) || isOfTrailer(run, trailerOf(item), item.link)
    || Boolean(run.checks?.includes(item.id));
  const [kept] = undecided(readable).filter(mine);
  const answers = readable.flatMap(({ record }) => (record.kind === "work" && record.body.about
    && run.checks?.includes(record.body.about) ? [record.body.answer] : []));
  const open = kept?.record.body.verdict.level === "stop" ? null : openStop(app, run, drafts);
  if (open) return { level: "stop", at: `#/now/${open.draft.id}`, found: open.found, facts: open.draft.facts };
  if (!kept) {
    const towed = answers.at(-1) === "towed", again = lookAgain(app.book, readable.filter(isCheck), run);
    return again ? { ...again, towed } : { level: null, at: "#/", facts: {}, towed };
  }
  const { body, made } = kept.record, { level, findings } = body.verdict;
  return { level: level === "stop" ? "stop" : "mend", at: `#/${level === "stop" ? "now" : "check"}/${kept.id}`,
    found: findings[0], facts: body.facts, item: kept, made };
}

/** The newest check of the run at *Look again* that no later one of the run, which looks at as much, has followed. */
/** @param {OpenBook} book @param {KeptCheck[]} kept @param {RunOf} run @returns {Carried | null} */
function lookAgain(book, kept, run) {
  const made = kept.filter(({ id }) => run.checks?.includes(id)).sort((a, b) => (a.id < b.id ? 1 : -1));
  /** @param {KeptCheck} item */
  const looks = (item) => LOOKS[item.record.body.check] ?? [];
  const open = made.find((one, at) => one.record.body.verdict.level === "look"
    && !made.slice(0, at).some((later) => looks(one).every((what) => looks(later).includes(what))));
  if (!open) return null;
  const { body, made: when } = open.record, found = firstToDo(book, body.verdict) ?? body.verdict.findings[0];
  return { level: "look", at: `#/check/${open.id}`, found, facts: body.facts, made: when };
}

/** @type {(run: RunOf, of: { link?: string }) => boolean} */
const isUnder = (run, of) => Boolean(run.link) && of.link === run.link;

/** What has no name is taken for one trailer: its *Stop now* is not lost by beginning another run. */
/** @type {(run: RunOf, trailer: string | null | undefined, link: string | undefined) => boolean} */
const isOfTrailer = (run, trailer, under) => (run.trailer ? trailer === run.trailer : !trailer && !under);

/** With the *Stop now* that the shop has not decided, where the phone itself has none: only the shop can end it. */
/** @type {(app: App, run: RunOf, own: Carried) => Carried} */
export function withShops(app, run, own) {
  if (own.level === "stop") return own;
  const under = app.links.filter(isRead).find((one) => one.open?.level === "stop" && !one.dead
    && (one.id === run.link || (run.trailer && one.trailer.id === run.trailer)));
  if (!under?.open) return own;
  const { id, open: { made, findings: [found] }, trailer, shop } = under;
  return { level: "stop", at: `#/job/${id}`, found, facts: trailer.facts ?? {}, made, shop: shop.name };
}

/** @param {App} app @param {RunOf} run @param {Draft[]} drafts */
function openStop(app, run, drafts) {
  /** @type {(draft: Draft) => boolean} */
  const mine = (draft) => isUnder(run, draft) || isOfTrailer(run, draft.trailer, draft.link)
    || (Boolean(run.id) && draft.run === run.id);
  for (const draft of drafts.filter(mine)) {
    try {
      const [found] = stopsIn(app.book, draft);
      if (found) return { draft, found: isUnplaced(draft, found) ? { ...found, place: "" } : found };
    } catch { /* a draft of another release may be of any shape; the front page tells of it */ }
  }
  return null;
}

/** Its sign, the wheel, what to do, the way to its page, and how it ended or that the shop decides. */
/** @param {App} app @param {Carried} carried */
export function carriedCard(app, { level, at, found, others, facts, item, made, shop }) {
  if (!level) return null;
  const known = found && has(`finding-${found.finding}`), axles = axlesOf({ facts });
  const holds = known && level === "look" && firstToDo(app.book, { level, findings: [found] });
  /** @param {Found} one */
  const text = (one) => foundText(one, axles) || [placeName(one.place, axles), one.finding].filter(Boolean).join(": ");
  return h("section", { class: `card carried ${level}`, role: shop && "status" },
    sign(level, { large: level !== "look" }),
    found && h("h2", {}, text(found)), others?.map((one) => h("p", {}, text(one))),
    known && h("p", { class: "act" }, say(`finding-${found.finding}.do`)),
    !holds && h("p", { class: "act" }, say(`level-${level}.do`)),
    shop && made ? h("p", { class: "act" }, say("app-link-open", { day: dayText(made) }))
      : made && h("p", { class: "hint" }, say("app-run-found", { day: dayText(made) })),
    at && link(say(level === "stop" ? "app-run-what-now" : "app-run-found-read"), at,
      level === "look" ? "answer quietly" : "answer main"),
    item && howEnded(app, item, redraw));
}
