// What it comes to: sign, what to do now, the marked plan, findings worst first, and what is open.

import { answers, axlesOf, factOf, judged, placeOf, stepOfKey, steps } from "../asking.js";
import { photoSection } from "../parts/camera.js";
import { h, live, svg } from "../parts/h.js";
import { backButton, button, link, page, timeText } from "../parts/page.js";
import { placeName, plan } from "../parts/plan.js";
import { shape, sign } from "../parts/sign.js";
import { working } from "../parts/working.js";
import { answerText } from "./answers.js";
import { askHash, resumeHash } from "./ask.js";

/** The verdict on a draft: nothing is kept for good until the person says so. */
export async function sofar(app, id) {
  const draft = await app.draft(id);
  if (!draft) return app.missing("This check is not on this phone any more.");
  const { book } = app, list = steps(book, draft);
  const open = list.some((step) => step.keys.some((key) => !(key in draft.facts) && !draft.skipped?.includes(key)));
  const facts = answers(book, draft);
  return page({
    name: "verdict",
    back: backButton(() => app.back(open ? resumeHash(book, draft) : `#/answers/${draft.id}`), open ? "Go on asking" : "Check your answers"),
    end: open ? link("Answers", `#/answers/${draft.id}`, "plain") : null,
    body: [callShop(app, draft.link, judged(book, draft).level), report(app, book, { ...draft, facts, verdict: judged(book, draft) }, (key) => {
      const step = stepOfKey(list, key);
      return step ? askHash(draft, step, "sofar") : `#/answers/${draft.id}`;
    }), await photoSection(app, draft.id, axlesOf(draft))],
    foot: button("Keep and send", () => app.keepCheck(draft), "answer main"),
  });
}

/** A check that was kept, shown by the rulebook it was judged by. */
export async function kept(app, id) {
  const item = await app.store.get("records", id);
  if (!item) return app.missing("This check is not on this phone.");
  const { record } = item, { body } = record, book = await app.bookOf(body.rulebook);
  if (!book) return app.missing("The rulebook this check was judged by is not on this phone.");
  const trailer = (await app.trailers()).find((t) => t.id === app.trailerOf(item));
  const under = item.link ? { link: item.link, trailer: { id: body.trailer, facts: {}, typed: {} } } : null;
  const again = async () => (body.check === "figures" ? app.later("later/figures", "again", body) : app.start(body.check, body.trailer, body.facts, body.typed, under));
  return page({
    name: "verdict",
    back: backButton(() => app.back("#/")),
    end: link("History", "#/history", "plain"),
    body: [
      live(() => h("p", { class: "kept", role: "status" }, sentText(app, item))),
      callShop(app, item.link, body.verdict.level),
      body.check === "figures" ? await app.later("later/figures", "keptSums", book, body) : report(app, book, body, null),
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
    findings(app, book, check, axles),
    roadside(book, check),
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

/** After a Stop now on the road: what to do there, in order, and what to leave. */
function roadside({ words }, { check, verdict }) {
  if (verdict.level !== "stop" || !words.roadside || !["run_stop", "quick_stop"].includes(check)) return null;
  return h("section", { class: "roadside" },
    h("h2", {}, words.roadside.title),
    h("ol", {}, words.roadside.steps.map((step) => h("li", {}, step))));
}

export function cautions(book, verdict) {
  const ids = [...new Set(verdict.findings.flatMap((f) => book.data.findings[f.finding].cautions ?? []))];
  if (!ids.length) return null;
  return h("section", { class: "cautions" }, h("h2", {}, "Mind yourself first"), h("ul", {}, ids.map((id) => h("li", {}, book.words.caution[id]))));
}

/** One entry a finding, with all the places it holds at. */
function byFinding(entries) {
  const found = new Map();
  for (const entry of entries) {
    const known = found.get(entry.finding) ?? { ...entry, places: [], facts: [] };
    known.places.push(entry.place);
    known.facts.push(...(entry.facts ?? []));
    found.set(entry.finding, known);
  }
  return [...found.values()];
}

const placesText = (places, axles) => places.map((p) => placeName(p, axles)).filter(Boolean).join("; ");

export function findings(app, book, check, axles) {
  const list = byFinding(check.verdict.findings);
  if (!list.length) return null;
  return h("section", {}, h("h2", {}, "Found"), list.map((entry) => card(app, book, check, entry, axles)));
}

function card(app, book, check, entry, axles) {
  const words = book.words.finding[entry.finding], finding = book.data.findings[entry.finding];
  const places = placesText(entry.places, axles);
  return h("article", { class: `card ${entry.level}` },
    h("div", { class: "cardhead" }, sign(entry.level, book.words)),
    h("h3", {}, words.title), places ? h("p", { class: "place" }, places) : null,
    h("p", { class: "do" }, words.do),
    h("p", {}, words.why),
    h("details", {}, h("summary", {}, "Working and source"),
      (finding.shows ?? []).flatMap((name) => entry.places.map((place) => working(app, book, check, name, place, axles))),
      h("p", {}, sourceText(book, finding))));
}

function sourceText(book, { source, standing }) {
  const word = book.words.standing[standing];
  return source.toLowerCase() === word ? `${source}.` : `Source: ${source} (${word}).`;
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

export function unsettled(book, verdict, axles) {
  const group = (why, title, text) => {
    const list = byFinding(verdict.cannot_tell.filter((entry) => entry.why === why));
    if (!list.length) return null;
    return h("details", {}, h("summary", {}, `${title}: ${list.length}`), h("p", { class: "hint" }, text),
      h("ul", { class: "plainlist" }, list.map((entry) => unsettledItem(book, entry, axles))));
  };
  const parts = [
    group("open", "Not answered", "A question is open. These could still be true."),
    group("vague", "Too rough to say", "All is answered, but not closely enough to tell. A closer reading would settle it."),
  ].filter(Boolean);
  return parts.length ? h("section", {}, h("h2", {}, "Can’t tell yet"), parts) : null;
}

function unsettledItem(book, entry, axles) {
  const asks = [...new Set(entry.facts.map(factOf))].map((fact) => book.words.fact[fact].ask);
  const where = placesText(entry.places, axles);
  return h("li", { class: "maybe" },
    svg("svg", { viewBox: "0 0 48 48", role: "img", "aria-label": book.words.level[entry.level].word }, shape(entry.level)),
    h("div", {}, h("strong", {}, book.words.finding[entry.finding].title), where ? h("p", { class: "place" }, where) : null,
      asks.length ? h("p", {}, `Would settle it: ${asks.join(" · ")}`) : null));
}

function answerList(app, book, body) {
  const axles = axlesOf(body);
  return h("details", {}, h("summary", {}, "The answers"), h("dl", { class: "given" },
    Object.entries(body.facts).map(([key, raw]) => h("div", {},
      h("dt", {}, book.words.fact[factOf(key)].ask, " ", h("span", { class: "place" }, placeName(placeOf(key), axles))),
      h("dd", {}, answerText(book, key, raw, app.settings.units, body.typed?.[key]))))));
}

