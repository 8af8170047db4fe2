// What it comes to: sign, what to do now, the marked plan, findings worst first, and what is open.

import { placeName, say } from "../data/words.js";
import { answers, axlesOf, countsOf, HUB_STOPS, isDone, judged, profileOf, stepOfKey, steps,
} from "../data/asking.js";
import { bookOf } from "../data/judged_by.js";
import { checkOf, checksOf, trailerBy, trailerOf } from "../data/queries.js";
import { localTime } from "../data/records.js";
import { firstToDo } from "../data/stops.js";
import { draftOf, keepCheck, keptOf, saveDraft, shopFor, startCheck } from "../keep.js";
import { askHash, back, go, later, missing, resumeHash, slot } from "../router.js";
import { h, live } from "../parts/h.js";
import { backButton, button, call, link, page, timeText } from "../parts/page.js";
import { plan } from "../parts/plan.js";
import { badge, sign } from "../parts/sign.js";
import { cautions, doing, FIRE } from "../parts/mind.js";
import { findings, foundLine, unsettled } from "../parts/findings.js";

const figures = () => later(() => import("./figures.js"));

/** The verdict on a draft: nothing is kept for good until the person says so. */
/** @param {App} app @param {string} id */
export async function sofar(app, id) {
  const draft = await draftOf(app, id);
  if (!draft) return keptOf(app, id);
  const { book } = app, list = steps(book, draft);
  const open = list.some((step) => !isDone(draft, step)), before = `#/answers/${draft.id}`;
  const facts = answers(book, draft), verdict = judged(book, draft), check = { ...draft, facts, verdict };
  /** @param {string} key */
  const askAbout = (key) => {
    const step = stepOfKey(list, key);
    return step ? askHash(draft, step, "sofar") : before;
  };
  const halted = await stillOpen(app, draft);
  return page({
    name: "verdict",
    back: backButton(() => back(open ? resumeHash(book, draft) : before),
      say(open ? "app-go-on-asking" : "app-check-answers")),
    end: open ? link(say("app-answers-link"), before, "plain") : null,
    body: [halted, callShop(app, draft, verdict.level),
      report(app, book, check, await compared(app, book, check, draft.trailer), askAbout, Boolean(halted)),
      await climbing(app, draft.trailer, { ...check, made: localTime() }),
      await withMore(camera, ({ photoSection }) => photoSection(app, draft.id, axlesOf(draft)))],
    foot: [draft.check === "quick_stop" && verdict.findings[0]?.finding !== FIRE
      ? button(say("app-stop-more"), () => goOn(app, draft), "answer") : null,
      button(say("app-keep-and-send"), () => keepCheck(app, draft), "answer main")],
  });
}

/** A stop for hubs only becomes a full one, with all its answers. */
/** @param {App} app @param {Draft} draft */
async function goOn(app, draft) {
  const full = { ...draft, check: "run_stop" };
  await saveDraft(app, full);
  go(resumeHash(app.book, full));
}

/** Beside earlier checks of a saved trailer (those before `than`): what was left out this time, and readiness. */
/**
 * @param {App} app @param {OpenBook} book @param {WholeJudged} check @param {string | null} trailer
 * @param {string | null} than
 */
async function compared(app, book, check, trailer, than = null) {
  const mine = trailer ? (await checksOf(app.store)).filter((item) => trailerOf(item) === trailer) : [];
  const checks = mine.filter(({ id }) => !than || id < than);
  if (!checks.length && !check.verdict.left_out?.length) return null;
  return withMore(comparing, ({ compare }) => compare(book, check, checks));
}

const camera = () => import("./camera.js");
const touching = () => import("../parts/drawings/ladder.js");
const comparing = () => import("./compare.js");
const sharing = () => import("./share.js");
/** @param {App} app @param {{ id: string, trailer: string | null, link?: string }} check */
const stillOpen = (app, check) => withMore(() => import("./beside.js"), ({ openBeside }) => openBeside(app, check));

/** What stands below a verdict is left away where it is not on the phone yet. */
/** @template T @param {() => Promise<T>} load @param {(part: T) => Child | Promise<Child>} show */
const withMore = (load, show) => later(load).then(show, () => null);

/** A check that was kept, shown by the rulebook it was judged by. */
/** @param {App} app @param {string} id */
export async function kept(app, id) {
  const item = await checkOf(app.store, id);
  if (!item) return missing(say("app-no-check"));
  const { record } = item, { body } = record, book = await bookOf(app, item), isFigures = body.check === "figures";
  if (!book) return missing(say("app-no-rulebook"));
  const trailer = await trailerBy(app, trailerOf(item), item.link);
  const under = item.link ? { link: item.link, trailer: { id: body.trailer ?? null, facts: {}, typed: {} } } : null;
  const cut = item.link ? null : await withMore(sharing, ({ cutOff }) => cutOff(app, trailerOf(item)));
  // What the trailer is goes along, never what was seen or read on it.
  const { facts, typed } = profileOf(app.book, body);
  const beside = isFigures ? null : await compared(app, book, body, trailerOf(item), id);
  const halted = isFigures ? null : await stillOpen(app, { id, trailer: trailerOf(item), link: item.link });
  const again = async () => (isFigures ? (await figures()).again(app, body)
    : startCheck(app, body.check, trailerOf(item), facts, typed, under));
  return page({
    name: "verdict",
    back: backButton(() => back("#/")),
    end: link(say("app-history"), "#/history", "plain"),
    body: [
      halted, live(() => h("p", { class: "kept", role: "status" }, sentText(app, item, cut))),
      callShop(app, { link: item.link, trailer: trailerOf(item) }, body.verdict.level),
      isFigures ? (await later(() => import("./figures_told.js"))).keptFigures(app, book, body)
        : report(app, book, { ...body, id }, beside, null, Boolean(halted)),
      await climbing(app, trailerOf(item), { ...body, id, made: record.made }),
      await withMore(sharing, ({ ending }) => ending(app, item)),
      await withMore(sharing, ({ passOn }) => (isFigures ? null : passOn(app, item))),
      await withMore(camera, ({ photoSection }) => photoSection(app, item.draft ?? id, axlesOf(body))),
      await withMore(sharing, ({ answerList }) => answerList(app, book, body)),
      h("p", { class: "small" }, [say(`check-${body.check}`), timeText(record.made), trailer?.name].filter(Boolean)
        .join(", ")),
      h("details", { class: "small" }, h("summary", {}, say("app-details")),
        h("p", {}, say("app-judged-by"), " ", h("code", {}, body.rulebook.slice(0, 12))),
        h("p", {}, say("app-record"), " ", h("code", {}, record.id))),
    ],
    foot: [
      h("div", { class: "row" },
        button(say(isFigures ? "app-check-again" : "app-check-same"), again, "answer"),
        item.link ? link(say("app-else-due"), `#/job/${item.link}`, "answer main") :
        trailer ? link(say("app-to-front"), "#/", "answer main")
          : link(say("app-save-this-trailer"), `#/trailer/from/${id}`, "answer main")),
    ],
  });
}

/** A hub that grew worse from stop to stop up to this check, kept or not, where none of them was bad. */
/** @param {App} app @param {string | null} trailer @param {MadeCheck} check */
async function climbing(app, trailer, check) {
  if (!trailer || !HUB_STOPS.includes(check.check)) return null;
  const part = await later(() => import("./years.js")).catch(() => null);
  return await part?.climbs(app, trailer, check) ?? null;
}

/** @param {App} app @param {KeptCheck} item @param {Child} cut why the shop does not get it */
function sentText(app, item, cut) {
  if (!app.lasting) return say(app.sendState.waiting.has(item.id) ? "app-held" : "app-held-sent");
  if (!app.sendState.waiting.has(item.id)) return cut ? [say("app-saved"), " ", cut] : say("app-sent");
  const refused = app.sendState.refused.find((one) => one.id === item.id);
  if (refused) return say("app-saved-refused", { message: refused.message });
  return say("app-saved-unsent");
}

/** Who to call when it is bad, for a trailer that a shop sent a link for. */
/** @param {App} app @param {{ link?: string, trailer: string | null }} of1 @param {Level} level */
function callShop(app, { link: under, trailer }, level) {
  const shop = ["stop", "mend"].includes(level) ? shopFor(app, under, trailer) : null;
  return shop?.phone ? call(shop.phone, shop.name) : null;
}

/** The worst finding in one line, wheel first; nothing where nothing was found. */
/** @param {OpenBook} book @param {Judged} check @param {number} axles @param {Counts} counts */
function headline(book, check, axles, counts) {
  const first = firstToDo(book, check.verdict) ?? check.verdict.findings[0];
  if (!first) return null;
  if (first.finding === "too_rough" && counts.glanced) return say("app-verdict-glances", { count: counts.glanced });
  return foundLine(book, first, axles);
}

/**
 * @param {App} app @param {OpenBook} book @param {WholeJudged} check @param {Child} beside
 * @param {((key: string) => string) | null} askAbout @param {boolean} halted whether something else holds driving on up
 */
function report(app, book, check, beside, askAbout = null, halted = false) {
  const { verdict } = check, axles = axlesOf(check), clear = `check-${check.check}.clear`;
  const counts = countsOf(book, check), line = headline(book, check, axles, counts);
  const first = firstToDo(book, verdict);
  return [
    h("div", { class: "head" }, sign(verdict.level, { large: !line, words: book.words })),
    line ? h("h1", { tabindex: "-1", class: "worst" }, line) : h("h1", { tabindex: "-1", class: "unseen" },
      book.words.say(`level-${verdict.level}`)),
    first && h("p", { class: "act" }, book.words.say(`finding-${first.finding}.do`)),
    first && (verdict.level === "look" || first.finding === FIRE) || halted && sendsOn(verdict.level) ? null
      : h("p", { class: "act" }, doing(check.check, verdict.level, book.words)),
    verdict.level === "nothing" && book.words.has(clear) ? h("p", {}, book.words.say(clear)) : null,
    cautions(book, verdict, check.check),
    h("div", { class: "summary" }, plan({ axles, levels: verdict.places }), h("p", {}, countsText(counts))),
    findings(book, check, axles, app.settings.units),
    HUB_STOPS.includes(check.check) ? slot(touching, ({ ladders }) =>
      ladders(book, check, app.settings.units) ?? new DocumentFragment()) : null,
    verdict.level === "stop" && check.id ? link(say("app-verdict-stop"), `#/now/${check.id}`, "answer") : null,
    unsettled(book, verdict, axles),
    next(book, verdict, axles, askAbout),
    beside,
  ];
}

/** Whether what is to do at a level is to go on and look again later. */
/** @param {Level} level */
const sendsOn = (level) => !["stop", "mend"].includes(level);

/** "31 looked at, 2 glanced at, 4 not sure": how the questions were answered. */
/** @param {Counts} counts */
const countsText = (counts) => Object.entries(counts).filter(([kind, count]) => count || kind === "looked")
  .map(([kind, count]) => say(`app-verdict-${kind}`, { count })).join(", ");

/**
 * @param {OpenBook} book @param {Verdict} verdict @param {number} axles
 * @param {((key: string) => string) | null} askAbout
 */
function next(book, verdict, axles, askAbout) {
  if (!verdict.next.length || !askAbout) return null;
  /** @param {Verdict["next"][number]} of */
  const item = ({ fact, place, level }) => {
    const key = place ? `${fact}@${place}` : fact, where = placeName(place, axles);
    return h("li", {}, h("a", { href: askAbout(key), class: "nextask" },
      h("span", {}, book.words.say(`fact-${fact}`), where ? h("span", { class: "place" }, where) : null),
      verdict.level === "nothing" ? null : h("span", { class: "could" }, say("app-could-be"), badge(level))));
  };
  const [first, rest] = [verdict.next.slice(0, 4), verdict.next.slice(4)];
  return h("section", {}, h("h2", {}, say("app-check-next")), h("ul", { class: "plainlist" }, first.map(item)),
    rest.length ? h("details", {}, h("summary", {}, say("app-more", { count: rest.length })),
      h("ul", { class: "plainlist" }, rest.map(item))) : null);
}
