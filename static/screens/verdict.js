// What it comes to: sign, what to do now, the marked plan, findings worst first, and what is open.

import { has, placeName, say } from "../data/words.js";
import { answers, axlesOf, factOf, judged, placeOf, stepOfKey, steps } from "../data/asking.js";
import { bookOf, trailerOf, trailersOf } from "../data/queries.js";
import { draftOf, keepCheck, saveDraft, startCheck } from "../keep.js";
import { askHash, back, go, later, missing, resumeHash } from "../router.js";
import { h, live, svg } from "../parts/h.js";
import { backButton, button, link, page, timeText } from "../parts/page.js";
import { plan } from "../parts/plan.js";
import { shape, sign } from "../parts/sign.js";
import { answerText } from "../parts/answer.js";
import { cautions, findings, unsettled } from "../parts/findings.js";
import { photoSection } from "./camera.js";

const sums = () => later(() => import("./sums.js"));

/** The verdict on a draft: nothing is kept for good until the person says so. */
export async function sofar(app, id) {
  const draft = await draftOf(app, id);
  if (!draft) return missing("This check is not on this phone any more.");
  const { book } = app, list = steps(book, draft);
  const open = list.some((step) => step.keys.some((key) => !(key in draft.facts) && !draft.skipped?.includes(key)));
  const facts = answers(book, draft);
  return page({
    name: "verdict",
    back: backButton(() => back(open ? resumeHash(book, draft) : `#/answers/${draft.id}`), open ? "Go on asking" : "Check your answers"),
    end: open ? link("Answers", `#/answers/${draft.id}`, "plain") : null,
    body: [callShop(app, draft.link, judged(book, draft).level), report(app, book, { ...draft, facts, verdict: judged(book, draft) }, (key) => {
      const step = stepOfKey(list, key);
      return step ? askHash(draft, step, "sofar") : `#/answers/${draft.id}`;
    }), await photoSection(app, draft.id, axlesOf(draft))],
    foot: [draft.check === "quick_stop" ? button(say("app-stop-more"), () => goOn(app, draft), "answer") : null,
      button("Keep and send", () => keepCheck(app, draft), "answer main")],
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
  const item = await app.store.get("records", id);
  if (!item) return missing("This check is not on this phone.");
  const { record } = item, { body } = record, book = await bookOf(app, body.rulebook);
  if (!book) return missing("The rulebook this check was judged by is not on this phone.");
  const trailer = (await trailersOf(app.store)).find((t) => t.id === trailerOf(item));
  const under = item.link ? { link: item.link, trailer: { id: body.trailer, facts: {}, typed: {} } } : null;
  const again = async () => (body.check === "figures" ? (await sums()).again(app, body) : startCheck(app, body.check, body.trailer, body.facts, body.typed, under));
  return page({
    name: "verdict",
    back: backButton(() => back("#/")),
    end: link("History", "#/history", "plain"),
    body: [
      live(() => h("p", { class: "kept", role: "status" }, sentText(app, item))),
      callShop(app, item.link, body.verdict.level),
      body.check === "figures" ? (await sums()).keptSums(app, book, body) : report(app, book, body, null),
      await photoSection(app, item.draft ?? id, axlesOf(body)),
      answerList(app, book, body),
      h("section", { class: "small" }, h("p", {}, `${book.words.check[body.check].name}, ${timeText(record.made)}${trailer ? `, ${trailer.name}` : ""}`),
        h("p", {}, "Judged by rulebook ", h("code", {}, body.rulebook.slice(0, 12))),
        h("p", {}, "Record ", h("code", {}, record.id))),
    ],
    foot: [
      h("div", { class: "row" },
        button("Check again with these answers", again, "answer"),
        item.link ? link("What else is due", `#/job/${item.link}`, "answer main") :
        trailer ? link("Front page", "#/", "answer main") : link("Save this trailer", `#/trailer/from/${id}`, "answer main")),
    ],
  });
}

function sentText(app, item) {
  if (!app.sendState.waiting.has(item.id)) return "Saved on this phone and sent.";
  const refused = app.sendState.refused.find((one) => one.id === item.id);
  if (refused) return `Saved on this phone. The server would not take it: ${refused.message}`;
  return "Saved on this phone. Not yet sent: it goes by itself when there is signal.";
}

/** Who to call when it is bad, for a check that a shop asked for. */
function callShop(app, linkId, level) {
  const shop = ["stop", "mend"].includes(level) && app.links.find((link) => link.id === linkId)?.shop;
  return shop?.phone ? h("a", { class: "answer", href: `tel:${shop.phone.replace(/[^\d+]/g, "")}` }, `Call ${shop.name}`) : null;
}

function report(app, book, check, askAbout) {
  const { verdict } = check, { words } = book, axles = axlesOf(check);
  return [
    h("h1", { tabindex: "-1", class: "head" }, sign(verdict.level, words, { large: true })),
    h("p", { class: "act" }, words.level[verdict.level].do),
    cautions(book, verdict),
    h("div", { class: "summary" }, plan({ axles, levels: verdict.places, words }), numbers(verdict)),
    findings(book, check, axles, app.settings.units),
    roadside(check),
    next(book, verdict, axles, askAbout),
    unsettled(book, verdict, axles),
  ];
}

function numbers({ readiness, coverage, level }) {
  const parts = [h("p", {}, h("strong", {}, `${coverage.answered} of ${coverage.asked}`), " questions answered")];
  if (level === "stop") parts.unshift(h("p", {}, "No readiness number beside a Stop now."));
  else if (readiness) parts.unshift(gauge(readiness));
  return h("div", { class: "numbers" }, parts);
}

function gauge([low, high]) {
  const text = low === high ? `${low}` : `${low} to ${high}`;
  return h("div", { class: "gauge" },
    h("p", {}, "Readiness ", h("strong", {}, text), " of 100"),
    svg("svg", { viewBox: "0 0 100 12", preserveAspectRatio: "none", "aria-hidden": "true" },
      svg("rect", { class: "track", width: 100, height: 12 }),
      svg("rect", { class: "part", x: low, width: Math.max(high - low, 2), height: 12 })),
    h("p", { class: "hint" }, "Low end: all that is open is bad. High end: all of it is good."));
}

const roadsideSteps = () => Array.from({ length: 20 }, (_, i) => `app-roadside-step-${i + 1}`).filter(has);

/** After a Stop now on the road: what to do there, in order, and what to leave. */
function roadside({ check, verdict }) {
  if (verdict.level !== "stop" || !["run_stop", "quick_stop"].includes(check)) return null;
  return h("section", { class: "roadside" },
    h("h2", {}, say("app-roadside-title")),
    h("ol", {}, roadsideSteps().map((id) => h("li", {}, say(id)))));
}

function next(book, verdict, axles, askAbout) {
  if (!verdict.next.length || !askAbout) return null;
  const item = ({ fact, place, level }) => {
    const key = place ? `${fact}@${place}` : fact, where = placeName(place, axles);
    return h("li", {}, h("a", { href: askAbout(key), class: "nextask" },
      h("span", {}, book.words.fact[fact].ask, where ? h("span", { class: "place" }, where) : null),
      h("span", { class: "could" }, "could be", svg("svg", { viewBox: "0 0 48 48", role: "img", "aria-label": book.words.level[level].word }, shape(level)))));
  };
  const [first, rest] = [verdict.next.slice(0, 4), verdict.next.slice(4)];
  return h("section", {}, h("h2", {}, "What to check next"), h("ul", { class: "plainlist" }, first.map(item)),
    rest.length ? h("details", {}, h("summary", {}, `${rest.length} more`), h("ul", { class: "plainlist" }, rest.map(item))) : null);
}

function answerList(app, book, body) {
  const axles = axlesOf(body);
  return h("details", {}, h("summary", {}, "The answers"), h("dl", { class: "given" },
    Object.entries(body.facts).map(([key, raw]) => h("div", {},
      h("dt", {}, book.words.fact[factOf(key)].ask, " ", h("span", { class: "place" }, placeName(placeOf(key), axles))),
      h("dd", {}, answerText(book, key, raw, app.settings.units, body.typed?.[key]))))));
}

