// Saved trailers: the numbers that need not be asked again, and the history of each wheel.

import { foundText, has, placeName, say } from "../data/words.js";
import { axlesOf, factOf, isKnown, placeOf, profileOf, steps } from "../data/asking.js";
import { checksOf, checkOf, trailerOf, trailersOf } from "../data/queries.js";
import { localDate, localTime, uuid7 } from "../data/records.js";
import { sure } from "../dialog.js";
import { keepTrailer, saveDraft, setSetting, startCheck } from "../keep.js";
import { back, go, missing, resumeHash, show } from "../router.js";
import { h } from "../parts/h.js";
import { backButton, button, dayText, link, page, timeText, trouble } from "../parts/page.js";
import { drawing } from "../parts/drawings/line.js";
import { buildOf, placeDrawing } from "../parts/drawings/trailer.js";
import { plan } from "../parts/plan.js";
import { badge, sign } from "../parts/sign.js";
import { answerText } from "../parts/answer.js";
import { carriedBy, carriedCard } from "./run_verdict.js";

/** @param {App} app */
export async function trailerList(app) {
  const every = await trailersOf(app.store, true), list = every.filter((t) => !t.retired);
  const away = every.filter((t) => t.retired);
  return page({
    title: say("app-trailers"),
    back: backButton(() => back("#/")),
    body: [list.length ? await rows(app, list) : h("p", {}, say("app-trailers-empty")),
      away.length ? h("details", {}, h("summary", {}, say("app-trailers-away", { count: away.length })),
        await rows(app, away)) : null],
    foot: link(say("app-add-trailer"), "#/trailer/new", "answer main"),
  });
}

/** Each with what is still open of it. */
/** @param {App} app @param {SavedTrailer[]} list */
const rows = async (app, list) => h("ul", { class: "plainlist" }, await Promise.all(list.map(async (t) => {
  const { level } = await carriedBy(app, { trailer: t.id });
  return h("li", {}, link(t.name, `#/trailer/${t.id}`, "row-link"), level && sign(level));
})));

/** @param {App} app */
export const newTrailer = (app) =>
  naming(say("app-add-trailer"), (name) => edit(app, { id: uuid7(), name, facts: {}, typed: {} }));

/** A trailer out of what a check has already asked. */
/** @param {App} app @param {string} checkId */
export async function fromCheck(app, checkId) {
  const item = await checkOf(app.store, checkId);
  if (!item) return missing(say("app-no-check"));
  const { facts, typed } = profileOf(app.book, item.record.body);
  return naming(say("app-save-this-trailer"), async (name) => {
    const trailer = uuid7();
    // The check itself stays as it was kept; only this phone's list learns whose it is.
    await keepTrailer(app, { trailer, name, facts, typed }, [["records", { ...item, of: trailer }]]);
  });
}

/** @param {string} title @param {(name: string) => unknown} done @param {string} name */
function naming(title, done, name = "") {
  const box = h("input", { id: "name", autocomplete: "off", maxlength: 60, value: name });
  const problem = h("div", {});
  /** @param {Event} event */
  const submit = async (event) => {
    event.preventDefault();
    if (!box.value.trim()) return problem.replaceChildren(trouble(say("app-trailer-unnamed")));
    return done(box.value.trim());
  };
  return page({
    title,
    back: backButton(() => back("#/trailers")),
    body: h("form", { onsubmit: submit }, problem, h("label", { for: "name" }, say("app-trailer-name")), box,
      h("button", { class: "answer main" }, say("app-trailer-go-on"))),
  });
}

/** Ask the trailer's own facts, as a draft like any other. */
/** @param {App} app @param {TrailerFacts} of1 */
async function edit(app, { id, name, facts, typed }) {
  const began = { date: localDate(), started: localTime() };
  const draft = { id: uuid7(), check: "trailer", trailer: id, name, facts, typed, skipped: [], ...began };
  await saveDraft(app, draft);
  go(resumeHash(app.book, draft));
}

/** @param {App} app @param {string} id */
export async function trailerScreen(app, id) {
  const trailer = (await trailersOf(app.store, true)).find((t) => t.id === id);
  if (!trailer) return missing(say("app-no-such-trailer"));
  const carried = await carriedBy(app, { trailer: id });
  if (trailer.retired) return putAway(app, trailer, carried);
  /** @param {KeptCheck} item */
  const isIts = (item) => trailerOf(item) === id && item.record.body.check !== "figures";
  const checks = (await checksOf(app.store)).filter(isIts);
  const axles = axlesOf(trailer), last = checks[0]?.record.body.verdict;
  return page({
    title: trailer.name,
    back: backButton(() => back("#/trailers")),
    body: [
      carriedCard(app, carried), drawnOf(trailer),
      h("div", { class: "summary" }, plan({ axles, levels: last?.places ?? null }),
        last ? h("div", {}, h("p", {}, say("app-last-check")), sign(last.level),
          h("p", {}, timeText(checks[0].record.made)))
          : h("p", {}, say("app-not-checked-yet"))),
      numbers(app, trailer), wheels(app, checks, axles), await runsOf(app, id),
      link(say("app-years"), `#/years/${id}`, "answer"), link(say("app-trip"), "#/trip", "answer"),
      button(say("app-bench-here"), () => startCheck(app, "bench", id), "answer"),
      h("div", { class: "row" }, button(say("app-change-numbers"), () => edit(app, trailer), "answer"),
        button(say("app-trailer-rename"), () => show(rename(app, trailer)), "answer")),
      h("div", { class: "row" }, button(say("app-trailer-copy"), () => show(copy(app, trailer)), "answer"),
        button(say("app-retire"), () => retire(app, trailer, carried), "answer")),
    ],
    foot: button(say("app-use-next"), async () => { await setSetting(app, "trailer", id); go("#/"); }, "answer main"),
  });
}

/** This trailer from its side, as far as its numbers tell. */
/** @param {SavedTrailer} trailer */
function drawnOf({ name, facts }) {
  const { width, height, parts } = placeDrawing("side", buildOf(facts));
  return drawing(say("app-trailer-side", { name }), width, height, parts);
}

/** @param {App} app @param {SavedTrailer} trailer */
function numbers(app, trailer) {
  const { book } = app, asked = { ...trailer, check: "trailer", date: localDate(), known: [] };
  const keys = steps(book, asked).flatMap((s) => s.keys), axles = axlesOf(trailer);
  return h("section", {}, h("h2", {}, say("app-its-numbers")),
    h("dl", { class: "given" }, keys.map((key) => h("div", {},
    h("dt", {}, say(`fact-${factOf(key)}`), " ", h("span", { class: "place" }, placeName(placeOf(key), axles))),
    h("dd", {}, answerText(book, key, trailer.facts[key], app.settings.units, trailer.typed?.[key])
      ?? say("app-not-known"))))));
}

/** Runs kept with this trailer; without their words, which come late, nothing is said of them. */
/** @param {App} app @param {string} id */
async function runsOf(app, id) {
  const part = await import("./runs.js").catch(() => null);
  return part?.runList(app, id) ?? null;
}

/** @param {App} app @param {KeptCheck[]} checks @param {number} axles */
function wheels(app, checks, axles) {
  /** @param {KeptCheck} item */
  const placesOf = (item) => Object.keys(item.record.body.verdict.places);
  const places = [...new Set(checks.flatMap(placesOf))].filter(Boolean).sort();
  if (!places.length) return null;
  return h("section", {}, h("h2", {}, say("app-wheel-history")), places.map((place) =>
    h("details", {}, h("summary", {}, placeName(place, axles)), h("ul", { class: "plainlist" },
      checks.filter((item) => place in item.record.body.verdict.places).map((item) => wheelEntry(app, item, place))))));
}

const FIGURES = ["pressure", "side_pressure", "tread", "wear_bars", "hub_reading", "hub_feel"];

/** @param {App} app @param {KeptCheck} item @param {string} place */
function wheelEntry(app, item, place) {
  const { verdict, facts, typed } = item.record.body, level = verdict.places[place];
  /** @param {string} id */
  const title = (id) => (has(`finding-${id}`) ? say(`finding-${id}`) : id);
  const found = verdict.findings.filter((f) => f.place === place).map((f) => title(f.finding));
  const told = FIGURES.map((fact) => `${fact}@${place}`).filter((key) => isKnown(facts[key]))
    .map((key) => answerText(app.book, key, facts[key], app.settings.units, typed?.[key]));
  return h("li", {}, h("a", { href: `#/check/${item.id}`, class: "maybe" },
    badge(level), h("span", {}, dayText(item.record.made), told.length ? h("strong", {}, ` ${told.join(", ")}`) : "",
      found.length ? `: ${found.join(", ")}` : "")));
}

/** @param {App} app @param {SavedTrailer} trailer */
const rename = (app, trailer) => naming(say("app-trailer-rename"),
  (name) => keepTrailer(app, { ...trailer, trailer: trailer.id, name }), trailer.name);

/** Another trailer of the same kind: its numbers, none of its history. */
/** @param {App} app @param {SavedTrailer} of1 */
const copy = (app, { name, facts, typed }) => naming(say("app-trailer-copy"),
  (other) => keepTrailer(app, { trailer: uuid7(), name: other, facts, typed }), say("app-trailer-second", { name }));

/** @param {App} app @param {SavedTrailer} trailer @param {Carried} carried */
const putAway = (app, trailer, carried) => page({
  title: trailer.name,
  back: backButton(() => back("#/trailers")),
  body: [carriedCard(app, carried), h("p", {}, say("app-trailer-is-away"))],
  foot: button(say("app-trailer-bring-back"), () => keepTrailer(app, { ...trailer, trailer: trailer.id,
    retired: undefined }), "answer main"),
});

/** @param {App} app @param {SavedTrailer} trailer @param {Carried} carried what is still open of it */
async function retire(app, trailer, { level, found, facts }) {
  const open = level && `${[say(`level-${level}`), foundText(found, axlesOf({ facts }))].filter(Boolean).join(". ")}. `;
  if (!(await sure((open ?? "") + say("app-sure-retire", { name: trailer.name }), say("app-take-off")))) return;
  await keepTrailer(app, { ...trailer, trailer: trailer.id, retired: true });
}
