// What it comes to: sign, what to do now, the marked plan, findings worst first, and what is open.

import { has, placeName, say } from "../data/words.js";
import { answers, axlesOf, factOf, isDone, judged, placeOf, ROADSIDE, stepOfKey, steps } from "../data/asking.js";
import { bookOf, recordOf, trailerOf, trailersOf } from "../data/queries.js";
import { draftOf, keepCheck, saveDraft, startCheck } from "../keep.js";
import { askHash, back, go, later, missing, resumeHash } from "../router.js";
import { h, live, svg } from "../parts/h.js";
import { backButton, bold, button, call, link, page, timeText } from "../parts/page.js";
import { plan } from "../parts/plan.js";
import { badge, sign } from "../parts/sign.js";
import { answerText } from "../parts/answer.js";
import { cautions, findings, unsettled } from "../parts/findings.js";
import { photoSection } from "./camera.js";

const sums = () => later(() => import("./sums.js"));

/** The verdict on a draft: nothing is kept for good until the person says so. */
export async function sofar(app, id) {
  const draft = await draftOf(app, id);
  if (!draft) return missing(say("app-check-gone"));
  const { book } = app, list = steps(book, draft);
  const open = list.some((step) => !isDone(draft, step)), before = `#/answers/${draft.id}`;
  const facts = answers(book, draft), verdict = judged(book, draft);
  return page({
    name: "verdict",
    back: backButton(() => back(open ? resumeHash(book, draft) : before),
      say(open ? "app-go-on-asking" : "app-check-answers")),
    end: open ? link(say("app-answers-link"), before, "plain") : null,
    body: [callShop(app, draft.link, verdict.level), report(app, book, { ...draft, facts, verdict }, (key) => {
      const step = stepOfKey(list, key);
      return step ? askHash(draft, step, "sofar") : before;
    }), await photoSection(app, draft.id, axlesOf(draft))],
    foot: [draft.check === "quick_stop" ? button(say("app-stop-more"), () => goOn(app, draft), "answer") : null,
      button(say("app-keep-and-send"), () => keepCheck(app, draft), "answer main")],
  });
}

/** A stop for hubs only becomes a full one, with all its answers. */
async function goOn(app, draft) {
  const full = { ...draft, check: "run_stop" };
  await saveDraft(app, full);
  go(resumeHash(app.book, full));
}

/** A check that was kept, shown by the rulebook it was judged by. */
export async function kept(app, id) {
  const item = await recordOf(app.store, id);
  if (!item) return missing(say("app-no-check"));
  const { record } = item, { body } = record, book = await bookOf(app, item), isSums = body.check === "figures";
  if (!book) return missing(say("app-no-rulebook"));
  const trailer = (await trailersOf(app.store)).find((t) => t.id === trailerOf(item));
  const under = item.link ? { link: item.link, trailer: { id: body.trailer, facts: {}, typed: {} } } : null;
  const again = async () => (isSums ? (await sums()).again(app, body)
    : startCheck(app, body.check, body.trailer, body.facts, body.typed, under));
  return page({
    name: "verdict",
    back: backButton(() => back("#/")),
    end: link(say("app-history"), "#/history", "plain"),
    body: [
      live(() => h("p", { class: "kept", role: "status" }, sentText(app, item))),
      callShop(app, item.link, body.verdict.level),
      isSums ? (await sums()).keptSums(app, book, body) : report(app, book, body, null),
      await climbing(app, trailerOf(item), body.check), await photoSection(app, item.draft ?? id, axlesOf(body)),
      answerList(app, book, body),
      h("section", { class: "small" },
        h("p", {}, [say(`check-${body.check}`), timeText(record.made), trailer?.name].filter(Boolean).join(", ")),
        h("p", {}, say("app-judged-by"), " ", h("code", {}, body.rulebook.slice(0, 12))),
        h("p", {}, say("app-record"), " ", h("code", {}, record.id))),
    ],
    foot: [
      h("div", { class: "row" },
        button(say("app-check-again"), again, "answer"),
        item.link ? link(say("app-else-due"), `#/job/${item.link}`, "answer main") :
        trailer ? link(say("app-to-front"), "#/", "answer main")
          : link(say("app-save-this-trailer"), `#/trailer/from/${id}`, "answer main")),
    ],
  });
}

/** A hub that grew worse from stop to stop, where none of them was bad. */
async function climbing(app, trailer, check) {
  if (!trailer || !["run_stop", "quick_stop"].includes(check)) return null;
  const { climbs } = await later(() => import("./years.js")).catch(() => ({}));
  return await climbs?.(app, trailer) ?? null;
}

function sentText(app, item) {
  if (!app.lasting) return say(app.sendState.waiting.has(item.id) ? "app-held" : "app-held-sent");
  if (!app.sendState.waiting.has(item.id)) return say("app-sent");
  const refused = app.sendState.refused.find((one) => one.id === item.id);
  if (refused) return say("app-saved-refused", { message: refused.message });
  return say("app-saved-unsent");
}

/** Who to call when it is bad, for a check that a shop asked for. */
function callShop(app, linkId, level) {
  const shop = ["stop", "mend"].includes(level) && app.links.find((one) => one.id === linkId)?.shop;
  return shop?.phone ? call(shop.phone, shop.name) : null;
}

function report(app, book, check, askAbout) {
  const { verdict } = check, axles = axlesOf(check), clear = `check-${check.check}.clear`;
  return [
    h("h1", { tabindex: "-1", class: "head" }, sign(verdict.level, { large: true, words: book.words })),
    h("p", { class: "act" }, book.words.say(`level-${verdict.level}.do`)),
    verdict.level === "nothing" && book.words.has(clear) ? h("p", {}, book.words.say(clear)) : null,
    cautions(book, verdict),
    h("div", { class: "summary" }, plan({ axles, levels: verdict.places }), numbers(verdict)),
    findings(book, check, axles, app.settings.units),
    roadside(check),
    next(book, verdict, axles, askAbout),
    unsettled(book, verdict, axles),
  ];
}

function numbers({ readiness, coverage, level }) {
  const parts = [h("p", {}, bold("app-coverage", "counts", say("app-coverage-counts", coverage)))];
  if (level === "stop") parts.unshift(h("p", {}, say("app-no-readiness")));
  else if (readiness) parts.unshift(gauge(readiness));
  return h("div", { class: "numbers" }, parts);
}

function gauge([low, high]) {
  const text = low === high ? `${low}` : say("app-from-to", { from: String(low), to: String(high) });
  return h("div", { class: "gauge" },
    h("p", {}, bold("app-readiness", "range", text)),
    svg("svg", { viewBox: "0 0 100 12", preserveAspectRatio: "none", "aria-hidden": "true" },
      svg("rect", { class: "track", width: 100, height: 12 }),
      svg("rect", { class: "part", x: low, width: Math.max(high - low, 2), height: 12 })),
    h("p", { class: "hint" }, say("app-readiness.help")));
}

const roadsideSteps = () => Array.from({ length: 20 }, (_, i) => `app-roadside-step-${i + 1}`).filter(has);

/** After a Stop now on the road: what to do there, in order, and what to leave. */
function roadside({ check, verdict }) {
  if (verdict.level !== "stop" || !ROADSIDE.includes(check)) return null;
  return h("section", { class: "roadside" },
    h("h2", {}, say("app-roadside-title")),
    h("ol", {}, roadsideSteps().map((id) => h("li", {}, say(id)))));
}

function next(book, verdict, axles, askAbout) {
  if (!verdict.next.length || !askAbout) return null;
  const item = ({ fact, place, level }) => {
    const key = place ? `${fact}@${place}` : fact, where = placeName(place, axles);
    return h("li", {}, h("a", { href: askAbout(key), class: "nextask" },
      h("span", {}, book.words.say(`fact-${fact}`), where ? h("span", { class: "place" }, where) : null),
      h("span", { class: "could" }, say("app-could-be"), badge(level))));
  };
  const [first, rest] = [verdict.next.slice(0, 4), verdict.next.slice(4)];
  return h("section", {}, h("h2", {}, say("app-check-next")), h("ul", { class: "plainlist" }, first.map(item)),
    rest.length ? h("details", {}, h("summary", {}, say("app-more", { count: rest.length })),
      h("ul", { class: "plainlist" }, rest.map(item))) : null);
}

function answerList(app, book, body) {
  const axles = axlesOf(body);
  return h("details", {}, h("summary", {}, say("app-the-answers")), h("dl", { class: "given" },
    Object.entries(body.facts).map(([key, raw]) => h("div", {},
      h("dt", {}, book.words.say(`fact-${factOf(key)}`), " ",
        h("span", { class: "place" }, placeName(placeOf(key), axles))),
      h("dd", {}, answerText(book, key, raw, app.settings.units, body.typed?.[key]))))));
}

