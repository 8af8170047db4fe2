// Saved trailers: the numbers that need not be asked again, and the history of each wheel.

import { placeName, say } from "../data/words.js";
import { axlesOf, factOf, placeOf, PROFILE, steps } from "../data/asking.js";
import { checksOf, trailerOf, trailersOf } from "../data/queries.js";
import { localDate, localTime, uuid7 } from "../data/records.js";
import { sure } from "../dialog.js";
import { keepTrailer, saveDraft, setSetting, startCheck } from "../keep.js";
import { back, go, missing, resumeHash } from "../router.js";
import { h, svg } from "../parts/h.js";
import { backButton, button, dayText, link, page, trouble } from "../parts/page.js";
import { plan } from "../parts/plan.js";
import { shape, sign } from "../parts/sign.js";
import { answerText } from "../parts/answer.js";

export async function trailerList(app) {
  const list = await trailersOf(app.store);
  return page({
    title: "Trailers",
    back: backButton(() => back("#/")),
    body: list.length ? h("ul", { class: "plainlist" }, list.map((t) => h("li", {}, link(t.name, `#/trailer/${t.id}`, "row-link"))))
      : h("p", {}, "No trailer is saved yet. A saved trailer keeps its numbers and the history of its wheels, so that you are asked less."),
    foot: link("Add a trailer", "#/trailer/new", "answer main"),
  });
}

export const newTrailer = (app) => naming(app, "Add a trailer", "", (name) => edit(app, { id: uuid7(), name, facts: {}, typed: {} }));

/** A trailer out of what a check has already asked. */
export async function fromCheck(app, checkId) {
  const item = await app.store.get("records", checkId);
  if (!item) return missing("This check is not on this phone.");
  const { facts, typed } = profileOf(app, item.record.body);
  return naming(app, "Save this trailer", "", async (name) => {
    const trailer = uuid7();
    // The check itself stays as it was kept; only this phone's list learns whose it is.
    await keepTrailer(app, { trailer, name, facts, typed }, [["records", { ...item, of: trailer }]]);
  });
}

function profileOf(app, body) {
  const wanted = new Set(app.book.data.stations.filter((s) => PROFILE.includes(s.id)).flatMap((s) => s.points.flatMap((p) => p.facts)));
  const only = (given) => Object.fromEntries(Object.entries(given ?? {}).filter(([key, raw]) => wanted.has(factOf(key)) && raw !== null));
  return { facts: only(body.facts), typed: only(body.typed) };
}

function naming(app, title, before, done) {
  const box = h("input", { id: "name", autocomplete: "off", maxlength: 60, value: before });
  const problem = h("div", {});
  const submit = async (event) => {
    event.preventDefault();
    if (!box.value.trim()) return problem.replaceChildren(trouble("Give it a name you will know it by, such as “green boat trailer”."));
    return done(box.value.trim());
  };
  return page({
    title,
    back: backButton(() => back("#/trailers")),
    body: h("form", { onsubmit: submit }, problem, h("label", { for: "name" }, "What do you call it?"), box,
      h("button", { class: "answer main" }, "Go on")),
  });
}

/** Ask the trailer's own facts, as a draft like any other. */
async function edit(app, { id, name, facts, typed }) {
  const draft = { id: uuid7(), check: "trailer", trailer: id, name, facts, typed, skipped: [], date: localDate(), started: localTime() };
  await saveDraft(app, draft);
  go(resumeHash(app.book, draft));
}

export async function trailerScreen(app, id) {
  const trailer = (await trailersOf(app.store)).find((t) => t.id === id);
  if (!trailer) return missing("This trailer is not on this phone.");
  const checks = (await checksOf(app.store)).filter((item) => trailerOf(item) === id && item.record.body.check !== "figures");
  const axles = axlesOf(trailer), last = checks[0]?.record.body.verdict;
  return page({
    title: trailer.name,
    back: backButton(() => back("#/trailers")),
    body: [
      h("div", { class: "summary" }, plan({ axles, levels: last?.places ?? null, words: app.book.words }),
        last ? h("div", {}, h("p", {}, "Last check"), sign(last.level, app.book.words), h("p", {}, dayText(checks[0].record.made))) : h("p", {}, "Not checked yet.")),
      numbers(app, trailer), wheels(app, checks, axles),
      link(say("app-years"), `#/years/${id}`, "answer"),
      button("Bench record: bearings done here", () => startCheck(app, "bench", id), "answer"),
      h("div", { class: "row" }, button("Change its numbers", () => edit(app, trailer), "answer"),
        button("Take off the list", () => retire(app, trailer), "answer")),
    ],
    foot: button("Use for the next check", async () => { await setSetting(app, "trailer", id); go("#/"); }, "answer main"),
  });
}

function numbers(app, trailer) {
  const { book } = app, keys = steps(book, { ...trailer, check: "trailer", date: localDate(), known: [] }).flatMap((s) => s.keys);
  return h("section", {}, h("h2", {}, "Its numbers"), h("dl", { class: "given" }, keys.map((key) => h("div", {},
    h("dt", {}, book.words.fact[factOf(key)].ask, " ", h("span", { class: "place" }, placeName(placeOf(key), axlesOf(trailer)))),
    h("dd", {}, answerText(book, key, trailer.facts[key], app.settings.units, trailer.typed?.[key]) ?? "Not known")))));
}

function wheels(app, checks, axles) {
  const places = [...new Set(checks.flatMap((item) => Object.keys(item.record.body.verdict.places)))].filter(Boolean).sort();
  if (!places.length) return null;
  return h("section", {}, h("h2", {}, "History, wheel by wheel"), places.map((place) =>
    h("details", {}, h("summary", {}, placeName(place, axles)), h("ul", { class: "plainlist" },
      checks.filter((item) => place in item.record.body.verdict.places).map((item) => wheelEntry(app, item, place))))));
}

function wheelEntry(app, item, place) {
  const { verdict } = item.record.body, level = verdict.places[place];
  const found = verdict.findings.filter((f) => f.place === place).map((f) => app.book.words.finding[f.finding]?.title ?? f.finding);
  return h("li", {}, h("a", { href: `#/check/${item.id}`, class: "maybe" },
    svg("svg", { viewBox: "0 0 48 48", role: "img", "aria-label": app.book.words.level[level].word }, shape(level)),
    h("span", {}, dayText(item.record.made), found.length ? `: ${found.join(", ")}` : "")));
}

async function retire(app, trailer) {
  if (!(await sure(`Take ${trailer.name} off the list? Its checks stay in the history.`, "Take off"))) return;
  await keepTrailer(app, { ...trailer, trailer: trailer.id, retired: true });
}
