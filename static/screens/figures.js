// Figures: what can be worked out, what each one needs, and what it comes to, in sentences. All answers of
// one trailer stand together, so that a weight given for one figure is there for the next.

import { placeName, say } from "../data/words.js";
import { explain } from "../engine/explain.js";
import { placeFor } from "../engine/formula.js";
import { LEVELS } from "../engine/judge.js";
import { answers, axlesOf, factOf, isDone, judged, placeOf, pointOf, visits } from "../data/asking.js";
import { fetchBook, trailersOf } from "../data/queries.js";
import { localDate, localTime, uuid7 } from "../data/records.js";
import { sure } from "../dialog.js";
import { draftOf, keepCheck, saveDraft } from "../keep.js";
import { back, go, redraw } from "../router.js";
import { h } from "../parts/h.js";
import { backButton, button, link, page } from "../parts/page.js";
import { sign } from "../parts/sign.js";
import { valueText } from "../parts/numbers.js";
import { stepList, valueOf } from "../parts/working.js";
import { answerText } from "../parts/answer.js";
import { cautions, findings, unsettled } from "../parts/findings.js";
import { padsFor, Question } from "./ask.js";

const ADDRESSES = ["/rulebook-figures.json", "/words-figures.en.json"], WAIT = 30_000;
let fresh = null; // a draft nobody has answered in yet: it is kept with its first answer

// ---- the rulebook's second part ----

async function fetched(app) {
  if (app.figuresBook) return app.figuresBook;
  document.getElementById("screen").replaceChildren(h("p", { class: "wait" }, say("app-figures-fetching")));
  let book;
  try {
    book = await fetchBook(ADDRESSES, { signal: AbortSignal.timeout(WAIT) });
  } catch (error) {
    return { missing: say(error.answered ? "app-figures-other" : "app-figures-no-signal") };
  }
  // A page that no worker serves yet has fetched past it: the worker is asked to keep it too.
  if (!navigator.serviceWorker?.controller) navigator.serviceWorker?.ready.then(({ active }) =>
    active.postMessage("asked"));
  app.figuresBook = book;
  return book;
}

const notYet = (text) => page({
  title: say("app-figures-not-here"), back: backButton(() => back("#/")), body: h("p", { class: "note" }, text),
  foot: button(say("app-try-again"), () => redraw(), "answer main"),
});

// ---- the draft ----

/** `#/figures`: the open draft of the chosen trailer, or a new one. */
async function newest(app) {
  const trailer = app.settings.trailer ?? null;
  const isOpen = (draft) => draft.check === "figures" && draft.trailer === trailer;
  const open = (await app.store.all("drafts")).filter(isOpen);
  if (open.length) return open.at(-1).id;
  const known = (await trailersOf(app.store)).find((one) => one.id === trailer);
  return begin(known?.id ?? null, known?.facts, known?.typed);
}

function begin(trailer, facts, typed) {
  fresh = {
    id: uuid7(), check: "figures", trailer, date: localDate(), started: localTime(),
    facts: { ...facts }, typed: { ...typed }, skipped: [], known: Object.keys(facts ?? {}),
  };
  return fresh.id;
}

/** The answers of kept figures once more, as a new one. */
export async function again(app, { trailer, facts, typed }) {
  const id = begin(trailer, facts, typed);
  await saveDraft(app, fresh);
  go(`#/figures/${id}`);
}

/** `#/figures/<draft>/<point>/<fact key>`, each part but the first only where a screen needs it. */
export async function figuresScreen(app, id, point, key) {
  const book = await fetched(app);
  if (book.missing) return notYet(book.missing);
  if (!id) return go(`#/figures/${await newest(app)}`, { replace: true });
  const kept = (await draftOf(app, id)) ?? (fresh?.id === id ? fresh : null);
  if (!kept) return go("#/figures", { replace: true });
  const figures = new Figures(app, book, { ...kept, date: localDate() });
  if (!point) return topics(figures);
  if (!figures.point(point)) return go(`#/figures/${id}`, { replace: true });
  return key ? question(figures, point, key) : topic(figures, point);
}

// ---- what a figure needs ----

/** Names of the facts that a tree looks at. */
const named = (tree) => {
  if (!Array.isArray(tree)) return [];
  return ["fact", "is", "rank", "pick", "known"].includes(tree[0]) ? [tree[1]] : tree.flatMap(named);
};

/** One set of answers with what follows from it: places, figures, judgement. */
class Figures {
  constructor(app, book, draft) {
    Object.assign(this, { app, book, draft, axles: axlesOf(draft) });
    this.facts = answers(book, draft);
    this.visits = visits(book, draft, this.facts);
    this.steps = new Map();
    for (const visit of this.visits) for (const key of visit.keys) {
      if (!this.steps.has(key)) this.steps.set(key, { ...visit, id: key, keys: [key] });
    }
    this.verdict = judged(book, draft);
  }

  /** Points that work something out and apply to this trailer, by station: `[[station, [point]]]`. */
  get topics() {
    const here = new Set(this.visits.map((visit) => visit.point));
    const shown = ({ points }) => points.filter((p) => p.shows?.length && here.has(p.id));
    return this.book.data.stations.map((s) => [s.id, shown(s)]).filter(([, list]) => list.length);
  }

  get all() { return this.topics.flatMap(([, list]) => list); }

  point(id) { return this.all.find((point) => point.id === id); }

  places(scope) {
    const rows = Array.from({ length: this.axles }, (_, i) => String(i + 1));
    return { trailer: [""], axle: rows, wheel: rows.flatMap((n) => [`${n}L`, `${n}R`]) }[scope];
  }

  /** The working of a quantity, and the keys it still waits for; "not sure" is an answer. */
  working(name, place, point) {
    const { book, facts, draft } = this;
    const steps = explain(book, name, place, { check: "figures", date: draft.date, facts },
      (range, unit) => valueText(book, range, unit, this.app.settings.units));
    const keys = steps.filter((s) => s.kind === "fact").map((s) => (s.place ? `${s.id}@${s.place}` : s.id));
    const missing = keys.filter((key) => !(key in facts) && this.steps.has(key));
    // A figure over what happens to be known has nothing yet.
    const empty = !keys.length && JSON.stringify(book.data.quantities[name].formula).includes('"known"');
    if (empty) missing.push(...this.own(point).filter((key) => !(key in facts)));
    return { name, place, steps, keys, missing: missing.sort((a, b) => this.ripe(b) - this.ripe(a)) };
  }

  /** Answers that chose between ways of working it out, and so stand in none of its steps. */
  decided({ steps }) {
    const { quantities } = this.book.data;
    return steps.filter((step) => step.kind === "quantity").flatMap((step) => named(quantities[step.id].formula)
      .map((name) => this.key(name, step.place))).filter((key) => key in this.facts);
  }

  key(name, place) {
    const at = placeFor(this.book.data.facts[name]?.scope ?? "trailer", place);
    return at ? `${name}@${at}` : name;
  }

  results(point) {
    const places = (name) => this.places(this.book.data.quantities[name].scope);
    return point.shows.flatMap((name) => places(name).map((place) => this.working(name, place, point)));
  }

  /** Results that came out of answers. */
  come(point) { return this.results(point).filter((one) => one.keys.length && !one.missing.length); }

  own(point) { return this.visits.filter((visit) => visit.point === point.id).flatMap((visit) => visit.keys); }

  /** Keys that decide whether a key is asked at all. */
  deciding(key) {
    const asking = this.visits.filter((visit) => visit.keys.includes(key));
    const trees = asking.map((visit) => pointOf(this.book, visit.point).applies);
    return [this.book.data.facts[factOf(key)].when, ...(trees.every(Boolean) ? trees : [])].flatMap(named)
      .map((name) => this.key(name, placeOf(key))).filter((one) => this.steps.has(one));
  }

  /** Asked for certain: whatever decides it is answered. */
  ripe(key) { return this.deciding(key).every((one) => one in this.draft.facts); }

  /** The questions of a topic in walking order: its own, and what its figures need from others. */
  questions(point) {
    const behind = (one) => [...one.keys, ...one.missing, ...this.decided(one)];
    const wanted = new Set([...this.own(point), ...this.results(point).flatMap(behind)]);
    if (point.scope !== "trailer") wanted.add("axles");
    for (const key of wanted) if (this.steps.has(key)) this.deciding(key).forEach((one) => wanted.add(one));
    return [...this.steps.values()].filter(({ id }) => wanted.has(id) && this.ripe(id));
  }

  /** The judgement of one point alone, in the form a whole check has. */
  check(point) {
    const only = (list) => list.filter(({ finding }) => this.book.data.findings[finding].point === point.id);
    const verdict = { findings: only(this.verdict.findings), cannot_tell: only(this.verdict.cannot_tell) };
    return { check: "figures", date: this.draft.date, facts: this.facts, verdict };
  }

  level(point) {
    const { findings: found } = this.check(point).verdict;
    return LEVELS.find((level) => found.some((f) => f.level === level));
  }
}

const openOf = (figures, list) => list.filter((step) => !isDone(figures.draft, step));

// ---- screens ----

function topics(figures) {
  const { app, draft } = figures;
  const entry = (point) => {
    const level = figures.level(point), done = figures.come(point).length;
    return h("a", { href: `#/figures/${draft.id}/${point.id}`, class: "answer topic" },
      h("span", {}, say(`point-${point.id}`),
      done ? h("span", { class: "hint" }, say("app-figures-done", { count: done })) : null),
    level ? sign(level) : null);
  };
  return page({
    title: say("check-figures.front"),
    back: backButton(() => back("#/")),
    body: [h("p", { class: "hint" }, say("check-figures.help")), searched(figures, entry),
      draft === fresh || !Object.keys(draft.facts).length ? null
        : button(say("app-figures-throw-away"), () => throwAway(app, draft), "plain danger")],
    foot: Object.keys(draft.typed).length ? button(say("app-keep-and-send"), () => keep(figures), "answer main") : null,
  });
}

/** The list of topics, and a field that leaves those whose title or figures hold what is typed. */
function searched(figures, entry) {
  const none = h("p", { role: "status" });
  const parts = figures.topics.map(([station, list]) => {
    const rows = list.map((point) => [entry(point), [`point-${point.id}`, ...point.shows.map((name) =>
      `quantity-${name}`)].map((id) => say(id)).join(" ").toLowerCase()]);
    const part = h("section", {}, h("h2", {}, say(`station-${station}`)),
      h("div", { class: "answers" }, rows.map(([shown]) => shown)));
    return { part, rows };
  });
  const field = h("input", { type: "search", id: "find-figure", autocomplete: "off", oninput: narrow });
  function narrow() {
    const typed = field.value.trim().toLowerCase();
    for (const { part, rows } of parts) {
      for (const [shown, text] of rows) shown.hidden = !text.includes(typed);
      part.hidden = rows.every(([shown]) => shown.hidden);
    }
    none.textContent = parts.every((one) => one.part.hidden) ? say("app-figures-found-none") : "";
  }
  return [h("form", { role: "search", onsubmit: (event) => event.preventDefault() },
    h("label", { for: "find-figure" }, say("app-figures-find")), field), none, parts.map(({ part }) => part)];
}

const keep = ({ app, book, draft }) => keepCheck(app, draft, book);

async function throwAway(app, draft) {
  if (!(await sure(say("app-figures-sure-throw-away"), say("app-throw-away")))) return;
  await app.store.commit([["drafts", null, draft.id]]);
  go("#/");
}

function topic(figures, id) {
  const { draft } = figures, point = figures.point(id), here = `#/figures/${draft.id}`;
  const list = figures.questions(point), open = openOf(figures, list), begun = list.length > open.length;
  const href = (key) => `${here}/${id}/${encodeURIComponent(key)}`;
  const goOn = begun ? say("app-figures-go-on", { count: open.length }) : say("app-figures-start");
  const onward = open.length ? link(goOn, href(open[0].id), "answer main")
    : button(say("app-keep-and-send"), () => keep(figures), "answer main");
  const given = list.length ? h("section", {}, h("h2", {}, say("app-figures-answers")),
    h("dl", { class: "given" }, list.map((step) => row(figures, step, href)))) : null;
  return page({
    name: "figures",
    title: say(`point-${id}`),
    back: backButton(() => back(here), say("app-figures-all")),
    end: button(say("app-stop-later"), () => go("#/"), "plain"),
    body: outcome(figures, point, given, href),
    foot: open.length && begun ? h("div", { class: "row" },
      button(say("app-keep-and-send"), () => keep(figures), "answer"), onward) : onward,
  });
}

/** Findings first, then each figure, the answers, and the figures that wait for one. */
function outcome(figures, point, given, href) {
  const { app, book, axles } = figures, check = figures.check(point), all = figures.results(point);
  const done = all.filter((one) => !one.missing.length), waiting = all.filter((one) => one.missing.length);
  return [
    weakest(figures, done),
    cautions(book, check.verdict),
    findings(book, check, axles, app.settings.units),
    done.length ? h("section", {}, h("h2", {}, say("app-worked-out")), done.map((one) => result(figures, one))) : null,
    given,
    href && waiting.length ? h("section", {}, h("h2", {}, say("app-figures-waiting")),
      h("ul", { class: "plainlist" }, waiting.map((one) => wait(figures, one, href)))) : null,
    unsettled(book, check.verdict, axles),
  ];
}

/** Which link has the least room left, in a sentence; links that overlap are not told apart. */
function weakest({ app, book }, done) {
  const links = done.filter(({ name }) => name.startsWith("margin_"))
    .map((one) => [one, one.steps.at(-1)]).filter(([, last]) => last.value.every(Number.isFinite));
  const [least] = links.sort(([, a], [, b]) => a.value[1] - b.value[1]);
  const apart = least && links.every((one) => one === least || one[1].value[0] > least[1].value[1]);
  if (links.length < 2 || !apart) return null;
  return h("p", { class: "lead" }, say("app-figures-weakest",
    { link: say(`quantity-${least[0].name}`), value: valueOf(book, least[1], app.settings.units) }));
}

const title = ({ book, axles }, { name, place }) => {
  const text = book.words.say(`quantity-${name}`);
  return [text[0].toUpperCase() + text.slice(1), placeName(place, axles)].filter(Boolean).join(": ");
};

function result(figures, one) {
  const { app, book, axles } = figures, last = one.steps.at(-1);
  const none = last.value[0] === Infinity; // beyond every number: such as a law that sets no weight
  const known = last.value.every(Number.isFinite);
  const text = none ? say("app-figures-none-set") : known ? valueOf(book, last, app.settings.units)
    : say("app-figures-untold");
  return h("div", { class: "result", "data-figure": one.name + (one.place && `@${one.place}`) },
    h("p", {}, title(figures, one)), h("strong", {}, text),
    h("details", { class: "working" }, h("summary", {}, say("app-figures-working")),
      stepList(book, one.steps, axles, app.settings.units)));
}

function wait(figures, one, href) {
  const [key, ...more] = one.missing, others = more.filter((other) => figures.ripe(other)).length;
  return h("li", {}, h("a", { class: "nextask", href: href(key) }, h("span", {}, title(figures, one),
    h("span", { class: "place" }, say("app-figures-needs", { question: asked(figures, key), others })))));
}

/** A question with its place, in words. */
const asked = ({ axles }, key) => [say(`fact-${factOf(key)}`), placeName(placeOf(key), axles)].filter(Boolean)
  .join(" ");

function row(figures, { id: key }, href) {
  const { app, book, draft } = figures, ask = asked(figures, key);
  const text = answerText(book, key, draft.facts[key], app.settings.units, draft.typed[key]);
  return h("div", { class: text ? "" : "open" }, h("dt", {}, ask),
    h("dd", {}, text ?? say(draft.skipped.includes(key) ? "app-skipped" : "app-not-answered")),
    h("dd", {}, h("a", { href: href(key), class: "change", "aria-label": say("app-change-of", { name: ask }) },
      say(text ? "app-change" : "app-answer"))));
}

async function question(figures, id, key) {
  const { draft } = figures, list = figures.questions(figures.point(id));
  const at = list.findIndex((step) => step.id === key);
  if (at < 0) return go(`#/figures/${draft.id}/${id}`, { replace: true });
  return new FigureQuestion(figures, id, list, at, await padsFor(figures.book, list[at])).page();
}

class FigureQuestion extends Question {
  skippable = true;

  constructor(figures, point, list, at, pads) {
    super(figures.app, figures.draft, list, at, "", pads);
    Object.assign(this, { book: figures.book, topic: point, was: isDone(figures.draft, list[at]) });
  }

  // A level would be that of all figures together, most of them not begun.
  level() { return null; }

  href(key = "") { return `#/figures/${this.draft.id}/${this.topic}${key && `/${encodeURIComponent(key)}`}`; }

  /** The next open question; after one answer was changed, what it comes to. */
  forward(next) {
    if (fresh?.id === next.id) fresh = null;
    const figures = new Figures(this.app, this.book, next), list = figures.questions(figures.point(this.topic));
    const at = list.findIndex((step) => step.id === this.step.id);
    const open = this.was ? null : openOf(figures, list.slice(at + 1))[0] ?? openOf(figures, list)[0];
    if (open) return go(this.href(open.id));
    return this.was ? back(this.href()) : go(this.href());
  }

  back() {
    const before = this.was ? null : this.list[this.at - 1];
    return back(this.href(before?.id));
  }
}

/** Kept figures: each that came out, by the rulebook it was judged by. */
export function keptFigures(app, book, body) {
  const known = Object.keys(body.facts);
  const figures = new Figures(app, book, { ...body, skipped: [], known, typed: body.typed ?? {} });
  figures.verdict = body.verdict;
  const worth = figures.all.filter((point) => figures.level(point) || figures.come(point).length);
  return [h("h1", { tabindex: "-1" }, say("check-figures")),
    worth.length ? worth.map((point) => h("section", {},
      h("h2", { class: "topichead" }, book.words.say(`point-${point.id}`)), outcome(figures, point)))
      : h("p", {}, say("app-figures-none"))];
}
