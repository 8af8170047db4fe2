// What a check found stays with the run and on its link's page, its sign first and what to do, until somebody
// says how it ended; and what the shop has not decided, until the shop has.

import { axlesOf } from "../data/asking.js";
import { isCheck, recordsOf, trailerBy, trailerOf } from "../data/queries.js";
import { LOOKS } from "../data/run_plan.js";
import { heldIn, holdsUp, latest, namedOf, newest, stopsIn, undecided, whereOf } from "../data/stops.js";
import { foundText, has, say } from "../data/words.js";
import { LEVELS } from "../engine/judge.js";
import { draftsOf, underWay } from "../keep.js";
import { redraw, resumeHash } from "../router.js";
import { h } from "../parts/h.js";
import { doing } from "../parts/mind.js";
import { dayText, link as anchor, timeText } from "../parts/page.js";
import { sign } from "../parts/sign.js";
import { openOf, telling, withLost } from "./link_reading.js";
import { taken } from "./mended.js";
import { howEnded } from "./stop_now.js";

/**
 * The worst that nobody has answered of what was found on this run, or on its trailer at any time: a kept check, or
 * one still open that nobody is to drive on with; `more` the others, worst first; and whether what was found on the
 * run was last said to be towed away.
 */
/** @param {App} app @param {RunOf} run @returns {Promise<Carried>} */
export const carriedBy = async (app, run) => withShops(app, run, await ownOf(app, run));

/** The same of what this phone has kept or begun itself. */
/** @param {App} app @param {RunOf} run @returns {Promise<Carried>} */
export async function ownOf(app, run) {
  const { readable, all } = await openHere(app), [first, ...more] = all.filter((one) => isOf(run, one));
  const undo = () => taken(app, readable, (item) => isOf(run, { of: ofItem(item) }));
  if (first) return { ...first, more, undo };
  const answers = readable.flatMap(({ record }) => (record.kind === "work" && record.body.about
    && run.checks?.includes(record.body.about) ? [record.body.answer] : []));
  return { ...lookAgain(readable, run) ?? { level: null, at: "#/", facts: {} },
    towed: answers.at(-1) === "towed", undo };
}

/**
 * Each *Stop now* or hub to be settled first that may be of the trailer a run begins with: of which nobody has said
 * whose it is, and any where no trailer is chosen. What `carriedBy` has is surely of it, and left out.
 */
/** @param {App} app @param {RunOf} run @returns {Promise<Carried[]>} */
export async function maybeOf(app, run) {
  const { all } = await openHere(app), known = run.trailer ?? run.link;
  const rest = [...all, ...ofShops(app, all)].filter((one) => one.level !== "mend" && !isOf(run, one));
  return known ? rest.filter(({ of }) => !of?.trailer && !of?.link) : rest;
}

/** What is asked before somebody drives on all the same, or told where nobody is to; "" where nothing is found. */
/** @type {(app: App, one: Carried) => string} */
export const doubtOf = ({ book }, { level, found, shop }) =>
  (holdsUp(book, level, found) ? say(`road-run-on-${shop ? "shop" : level}`) : "");

/** All of this phone that nobody has answered, worst first: *Stop now*, kept or in a draft, *Mend*, what is held. */
/** @param {App} app @returns {Promise<{ readable: KeptRecord[], all: Carried[] }>} */
async function openHere(app) {
  const [{ readable }, drafts] = await Promise.all([recordsOf(app.store), draftsOf(app)]);
  const records = withLost(app, readable), kept = undecided(records, app.book).map((item) => keptOf(app.book, item));
  return { readable: records, all: worstFirst([...kept, ...openDrafts(app, drafts)]) };
}

/** @type {(list: Carried[]) => Carried[]} */
const worstFirst = (list) => LEVELS.flatMap((of) => list.filter(({ level }) => level === of));

/** @param {KeptRecord} item */
const ofItem = (item) => ({ id: item.id, trailer: trailerOf(item), link: item.link, run: item.run });

/** @param {OpenBook} book @param {KeptCheck} item @returns {Carried} */
function keptOf(book, item) {
  const { body: { check, facts, verdict }, made } = item.record, { level } = verdict;
  const [found, ...others] = namedOf(book, verdict);
  return { level, at: whereOf(item), check, found, others, facts, item, made, of: ofItem(item) };
}

/** @param {App} app @param {Draft[]} drafts @returns {Carried[]} */
const openDrafts = (app, drafts) => drafts.flatMap((draft) => {
  const { id, check, facts, trailer, link, run, started, date } = draft;
  try {
    const [stop, ...others] = stopsIn(app.book, draft), found = stop ?? heldIn(app.book, draft);
    return found ? [{ level: stop ? "stop" : "look", at: stop ? `#/now/${id}` : resumeHash(app.book, draft), check,
      facts, made: started ?? date, of: { id, trailer, link, run }, found, others }] : [];
  } catch { // a draft of another release may be of any shape; the front page tells of it
    return [];
  }
});

/**
 * The newest check of the run at *Look again* that nobody has answered and no later one of the run, which looks at as
 * much, has followed.
 */
/** @param {KeptRecord[]} records @param {RunOf} run @returns {Carried | null} */
function lookAgain(records, run) {
  const made = records.filter(isCheck).filter(({ id }) => run.checks?.includes(id)).sort(newest);
  const said = latest(records);
  /** @param {KeptCheck} item */
  const looks = (item) => LOOKS[item.record.body.check] ?? [];
  const open = made.find((one, at) => one.record.body.verdict.level === "look" && !said.has(one.id)
    && !made.slice(0, at).some((later) => looks(one).every((what) => looks(later).includes(what))));
  if (!open) return null;
  const { facts, verdict: { level, findings: [found] } } = open.record.body;
  return { level, at: whereOf(open), found, facts, made: open.record.made, of: ofItem(open) };
}

/** What has no name is taken for one trailer: its *Stop now* is not lost by beginning another run. */
/** @type {(run: RunOf, one: Pick<Carried, "of">) => boolean} */
const isOf = (run, { of: { id = "", trailer, link, run: on } = {} }) => Boolean(run.link && link === run.link)
  || (run.trailer ? trailer === run.trailer : !trailer && !link)
  || Boolean(run.checks?.includes(id)) || Boolean(run.id && on === run.id);

/** With all that the shop has not decided, and the phone has not itself: only the shop can end it. */
/** @type {(app: App, run: RunOf, own: Carried) => Carried} */
export function withShops(app, run, own) {
  const mine = own.level ? [own, ...own.more ?? []] : [], { undo, towed } = own;
  const [first, ...more] = worstFirst([...mine, ...ofShops(app, mine).filter((one) => isOf(run, one))]);
  return first ? { ...first, more, undo, towed } : own;
}

/** What shops have not decided, each once, but for those of `known`. */
/** @param {App} app @param {Carried[]} known @returns {Carried[]} */
function ofShops(app, known) {
  const seen = new Set(known.map(({ of }) => of?.id));
  return telling(app).flatMap((its) => openOf(its).filter(({ record }) => !seen.has(record) && seen.add(record))
    .map(({ record: id, level, made, findings: [found] }) => ({ level, at: `#/job/${its.id}`, found, made,
      facts: its.trailer.facts ?? {}, shop: its.shop.name, of: { id, trailer: its.trailer.id, link: its.id } })));
}

/** What a trailer is called here, or by the shop whose link it came with; null where it has no name. */
/** @param {App} app @param {{ trailer?: string | null, link?: string | null }} [of] */
const trailerName = async (app, { trailer, link } = {}) => (await trailerBy(app, trailer, link))?.name ?? null;

/** Whose run it is. */
/** @param {App} app @param {RunOf} run */
export const ofTrailer = async (app, run) =>
  h("p", { class: "whose" }, (await trailerName(app, run)) ?? say("road-run-no-trailer"));

/**
 * Its sign, the wheel, what to do, the way to its page, and how it ended or that the shop decides; the others in brief;
 * and the way to take back what was answered lately.
 */
/** @param {App} app @param {Carried} carried @returns {Child} */
export function carriedCard(app, carried) {
  const { level, at, check = "", found, others = [], facts, made, item, shop, more, undo } = carried;
  if (!level) return undo?.();
  const held = level === "look" && doubtOf(app, carried); // its own words, since those of the level are milder
  const known = found && has(`finding-${found.finding}`);
  const card = h("section", { class: `card carried ${level}`, role: shop && "status" },
    sign(level, { large: level !== "look" }),
    found && h("h2", {}, textOf([found, ...others], facts)),
    known && h("p", { class: "act" }, say(`finding-${found.finding}.do`)),
    !held && h("p", { class: "act" }, doing(underWay(app) ? "run_stop" : check, level)),
    shop && made ? h("p", { class: "act" }, say("app-link-open", { day: dayText(made) }))
      : made && h("p", { class: "hint" }, say("app-run-found", { day: timeText(made) })),
    at && at !== location.hash && anchor(say(level === "stop" ? "app-run-what-now" : "app-run-found-read"), at,
      level === "look" ? "answer quietly" : "answer main"),
    item && howEnded(app, item, redraw));
  return [card, more?.map((one) => openRow(one)), undo?.()];
}

/** In the code of a newer release where this one has no words for it. */
/** @type {(found: Found[], facts: Answers) => string} */
const textOf = (found, facts) => found.map((one) => foundText(one, axlesOf({ facts }), one.finding)).join("; ");

/** Another in brief: its sign, the wheel, whose trailer or only since when, and the way to its page. */
/** @param {Carried} one @param {string} [trailer] */
export function openRow({ level, at, found, others = [], facts, made = "" }, trailer) {
  const day = timeText(made);
  return h("a", { class: `due ${level}`, href: at }, level && sign(level),
    found && h("strong", {}, textOf([found, ...others], facts)),
    h("span", {}, trailer ? say("app-stop-undecided", { trailer, day }) : say("app-run-found", { day })));
}

/** All that may be of the trailer, by whose it is, and what to do about it. */
/** @param {App} app @param {Carried[]} list @returns {Promise<Child>} */
export async function maybeCard(app, list) {
  if (!list.length) return null;
  return h("section", {}, h("h2", {}, say("road-run-maybe")), h("p", {}, say("road-run-maybe.help")),
    await maybeRows(app, list));
}

/** A row of each, by whose it is. */
/** @param {App} app @param {Carried[]} list */
export async function maybeRows(app, list) {
  const names = await Promise.all(list.map(({ of }) => trailerName(app, of)));
  return list.map((one, at) => openRow(one, names[at] ?? say("app-stop-now-a-trailer")));
}
