// Figures: what can be worked out, what each one needs, and what it comes to, in sentences. All answers of
// one trailer stand together, so that a weight given for one figure is there for the next.

import { say, wordsAt } from "../data/words.js";
import { factOf, isDone, profileOf } from "../data/asking.js";
import { Figures, FIXED, openOf } from "../data/figures.js";
import { fetchBook, joined, trailersOf } from "../data/queries.js";
import { localDate, localTime, uuid7 } from "../data/records.js";
import { sure } from "../dialog.js";
import { draftOf, keepCheck, saveDraft } from "../keep.js";
import { back, go, later, redraw } from "../router.js";
import { h } from "../parts/h.js";
import { backButton, button, link, page } from "../parts/page.js";
import { sign } from "../parts/sign.js";
import { valueText } from "../parts/numbers.js";
import { stepList } from "../parts/working.js";
import { asked, sentenceOf, titleOf } from "../parts/figure.js";
import { answerText } from "../parts/answer.js";
import { cautions, findings, unsettled } from "../parts/findings.js";
import { padsFor, Question } from "./ask.js";

const ADDRESSES = ["/rulebook-figures.json", wordsAt("-figures")], WAIT = 30_000;
/** @type {WorkedDraft | null} */
let fresh = null; // a draft nobody has answered in yet: it is kept with its first answer

// ---- the rulebook's second part ----

/** @param {App} app */
async function fetched(app) {
  if (app.figuresBook) return app.figuresBook;
  document.getElementById("screen")?.replaceChildren(h("p", { class: "wait" }, say("app-figures-fetching")));
  let book;
  try {
    book = await fetchBook(ADDRESSES, { signal: AbortSignal.timeout(WAIT) });
  } catch (error) {
    return { missing: say(Object(error).answered ? "app-figures-other" : "app-figures-no-signal") };
  }
  // A page that no worker serves yet has fetched past it: the worker is asked to keep it too.
  if (!navigator.serviceWorker?.controller) navigator.serviceWorker?.ready.then(({ active }) =>
    active?.postMessage("asked"));
  app.figuresBook = Object.assign(book, { said: joined(app.book.said, book.said) });
  return book;
}

/** @param {string} text */
const notYet = (text) => page({
  title: say("app-figures-not-here"), back: backButton(() => back("#/")), body: h("p", { class: "note" }, text),
  foot: button(say("app-try-again"), () => redraw(), "answer main"),
});

// ---- the draft ----

/** `#/figures`: the open draft of the chosen trailer, or a new one. */
/** @param {App} app @returns {Promise<string>} */
async function newest(app) {
  const trailer = app.settings.trailer ?? null;
  /** @param {Draft} draft */
  const isOpen = (draft) => draft.check === "figures" && draft.trailer === trailer;
  const open = (await app.store.all("drafts")).filter(isOpen);
  if (open.length) return open[open.length - 1].id;
  const known = (await trailersOf(app.store)).find((one) => one.id === trailer);
  return begin(known?.id ?? null, known?.facts, known?.typed).id;
}

/** @param {string | null} trailer @param {Answers} [facts] @param {Typed} [typed] */
function begin(trailer, facts, typed) {
  return fresh = {
    id: uuid7(), check: "figures", trailer, date: localDate(), started: localTime(),
    facts: { ...facts }, typed: { ...typed }, skipped: [], known: Object.keys(facts ?? {}),
  };
}

/** Once more for the trailer of kept figures: with what it is and what stands on its plates, never what was weighed. */
/** @param {App} app @param {CheckBody} body */
export async function again(app, { trailer, facts, typed }) {
  const profile = profileOf(app.book, { facts, typed });
  /** @type {<T>(given: Record<string, T> | undefined) => Record<string, T>} */
  const fixed = (given) => Object.fromEntries(Object.entries(given ?? {})
    .filter(([key]) => FIXED.includes(factOf(key))));
  const draft = begin(trailer ?? null, { ...fixed(facts), ...profile.facts }, { ...fixed(typed), ...profile.typed });
  await saveDraft(app, draft);
  go(`#/figures/${draft.id}`);
}

/** `#/figures/<draft>/<point>/<fact key>`, each part but the first only where a screen needs it. */
/** @param {App} app @param {string} [id] @param {string} [point] @param {string} [key] */
export async function figuresScreen(app, id, point, key) {
  const book = await fetched(app);
  if ("missing" in book) return notYet(book.missing);
  if (!id) return go(`#/figures/${await newest(app)}`, { replace: true });
  const kept = (await draftOf(app, id)) ?? (fresh?.id === id ? fresh : null);
  if (!kept) return go("#/figures", { replace: true });
  const figures = figuresOf(app, book, { ...kept, date: localDate() });
  if (!point) return topics(figures);
  const about = figures.point(point);
  if (!about) return go(`#/figures/${id}`, { replace: true });
  return key ? question(figures, about, key) : topic(figures, about);
}

/** The figures of a draft, written in the units of this phone's owner. */
/** @param {App} app @param {OpenBook} book @param {Draft} draft @returns {OwnFigures} */
function figuresOf(app, book, draft) {
  const system = app.settings.units;
  /** @type {IntervalWriter} */
  const text = (range, unit) => valueText(book, range, unit, system);
  return Object.assign(new Figures(book, draft, text), { app, system });
}

// ---- screens ----

/** @param {OwnFigures} figures */
function topics(figures) {
  const { app, draft } = figures;
  /** @param {Topic} point */
  const entry = (point) => {
    const level = figures.level(point), done = figures.come(point);
    return h("a", { href: `#/figures/${draft.id}/${point.id}`, class: "answer topic" },
      h("span", {}, say(`point-${point.id}`),
        done.length ? h("span", { class: "hint" }, sentenceOf(figures, done[0])) : null),
    level ? sign(level) : null);
  };
  return page({
    title: say("check-figures.front"),
    back: backButton(() => back("#/")),
    body: [h("p", { class: "hint" }, say("check-figures.help")), searched(figures, entry),
      draft === fresh || !Object.keys(draft.facts).length ? null
        : button(say("app-figures-throw-away"), () => throwAway(app, draft), "plain danger")],
    foot: Object.keys(draft.typed ?? {}).length
      ? button(say("app-keep-and-send"), () => keep(figures), "answer main") : null,
  });
}

/** The list of topics, and a field that leaves those whose title or figures hold what is typed. */
/** @param {OwnFigures} figures @param {(point: Topic) => HTMLElement} entry */
function searched(figures, entry) {
  const none = h("p", { role: "status" });
  const parts = figures.topics.map(([station, list]) => {
    const rows = list.map((point) => ({ shown: entry(point), text: [`point-${point.id}`, ...point.shows.map((name) =>
      `quantity-${name}`)].map((id) => plain(say(id))).join(" ") }));
    const part = h("section", {}, h("h2", {}, say(`station-${station}`)),
      h("div", { class: "answers" }, rows.map(({ shown }) => shown)));
    return { part, rows };
  });
  /** @type {HTMLInputElement} */
  const field = h("input", { type: "search", id: "find-figure", autocomplete: "off", oninput: narrow });
  function narrow() {
    const wanted = alike(field.value);
    for (const { part, rows } of parts) {
      for (const { shown, text } of rows) shown.hidden = !wanted.some((one) => text.includes(one));
      part.hidden = rows.every(({ shown }) => shown.hidden);
    }
    none.textContent = parts.every((one) => one.part.hidden) ? say("app-figures-found-none") : "";
  }
  return [h("form", { role: "search", onsubmit: (event) => event.preventDefault() },
    h("label", { for: "find-figure" }, say("app-figures-find")), field), none, parts.map(({ part }) => part)];
}

// Without case and accents: who types with cold thumbs leaves them out.
/** @param {string} text */
const plain = (text) => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();

/** What is typed, and the catalogue's own word where another one for the same thing is begun. */
/** @param {string} text */
function alike(text) {
  const typed = plain(text.trim());
  if (typed.length < 3) return [typed];
  return [typed, ...plain(say("app-figures-also")).split("; ").map((line) => line.split(": "))
    .filter(([, others]) => others?.split(", ").some((one) => one.startsWith(typed) || typed.startsWith(one)))
    .map(([own]) => own)];
}

/** @param {OwnFigures} figures */
const keep = ({ app, book, draft }) => keepCheck(app, draft, /** @type {AppBook} */ (book));

/** @param {App} app @param {Draft} draft */
async function throwAway(app, draft) {
  if (!(await sure(say("app-figures-sure-throw-away"), say("app-throw-away")))) return;
  await app.store.commit([["drafts", null, draft.id]]);
  go("#/");
}

/** @param {OwnFigures} figures @param {Topic} point */
function topic(figures, point) {
  const { draft } = figures, { id } = point, here = `#/figures/${draft.id}`;
  const list = figures.questions(point), open = openOf(figures, list), begun = list.length > open.length;
  /** @param {string} key */
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

/** The first figure in a sentence, what was found, the other figures, the answers, and what waits for one. */
/** @type {(figures: OwnFigures, point: Topic, given?: Child, href?: (key: string) => string) => Child} */
function outcome(figures, point, given, href) {
  const { book, axles } = figures, check = figures.check(point), all = figures.results(point);
  const done = all.filter((one) => !one.missing.length), waiting = all.filter((one) => one.missing.length);
  const [first, ...others] = done, wanted = first ? waiting : waiting.slice(1);
  return [
    first ? result(figures, first, "lead") : waiting.length ? h("p", { class: "lead" }, sentenceOf(figures, waiting[0]))
      : null,
    cautions(book, check.verdict),
    findings(book, check, axles, figures.system),
    others.length ? h("section", {}, h("h2", {}, say("app-worked-out")), others.map((one) => result(figures, one)))
      : null,
    given,
    href && wanted.length ? h("section", {}, h("h2", {}, say("app-figures-waiting")),
      h("ul", { class: "plainlist" }, wanted.map((one) => wait(figures, one, href)))) : null,
    unsettled(book, check.verdict, axles),
  ];
}

/** @param {OwnFigures} figures @param {FigureOf} one @param {string} [kind] */
function result(figures, one, kind = "") {
  const { book, axles, system } = figures;
  return h("div", { class: `result ${kind}`, "data-figure": one.name + (one.place && `@${one.place}`) },
    h("p", { class: "told" }, sentenceOf(figures, one)),
    h("details", { class: "working" }, h("summary", { "aria-label": say("app-figures-working-of",
      { what: titleOf(figures, one) }) }, say("app-figures-working")), stepList(book, one.steps, axles, system)));
}

/** @param {OwnFigures} figures @param {FigureOf} one @param {(key: string) => string} href */
const wait = (figures, one, href) => h("li", {},
  h("a", { class: "nextask", href: href(one.missing[0]) }, h("span", {}, sentenceOf(figures, one))));

/** @param {OwnFigures} figures @param {QuestionStep} step @param {(key: string) => string} href */
function row(figures, { id: key }, href) {
  const { book, draft, system } = figures, ask = asked(figures, key);
  const text = answerText(book, key, draft.facts[key], system, draft.typed?.[key]);
  return h("div", { class: text ? "" : "open" }, h("dt", {}, ask),
    h("dd", {}, text ?? say(draft.skipped?.includes(key) ? "app-skipped" : "app-not-answered")),
    h("dd", {}, h("a", { href: href(key), class: "change", "aria-label": say("app-change-of", { name: ask }) },
      say(text ? "app-change" : "app-answer"))));
}

/** @param {OwnFigures} figures @param {Topic} point @param {string} key */
async function question(figures, point, key) {
  const { draft } = figures, list = figures.questions(point);
  const at = list.findIndex((step) => step.id === key);
  const here = `#/figures/${draft.id}/${point.id}`;
  if (at < 0) return go(here, { replace: true });
  if (draft.trailer && !draft.still && FIXED.includes(factOf(key))) {
    const confirming = await (await later(() => import("./still.js"))).still(figures.app, draft, { book: figures.book,
      fixed: FIXED, onward: () => go(here, { replace: true }) });
    if (confirming) return confirming;
  }
  return new FigureQuestion(figures, point, list, at, await padsFor(figures.book, list[at])).page();
}

class FigureQuestion extends Question {
  /**
   * @param {OwnFigures} figures @param {Topic} point @param {QuestionStep[]} list @param {number} at
   * @param {Pads | null} pads
   */
  constructor(figures, point, list, at, pads) {
    super(figures.app, figures.draft, list, at, "", pads);
    this.book = figures.book;
    this.topic = point;
    this.was = isDone(figures.draft, list[at]);
    this.skippable = true;
  }

  // A level would be that of all figures together, most of them not begun.
  level() { return null; }

  href(key = "") { return `#/figures/${this.draft.id}/${this.topic.id}${key && `/${encodeURIComponent(key)}`}`; }

  /** The next open question; after one answer was changed, what it comes to. */
  /** @param {Draft} next */
  forward(next) {
    if (fresh?.id === next.id) fresh = null;
    const figures = figuresOf(this.app, this.book, next), list = figures.questions(this.topic);
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
/** @param {App} app @param {OpenBook} book @param {CheckBody} body */
export function keptFigures(app, book, body) {
  const known = Object.keys(body.facts);
  const figures = figuresOf(app, book, /** @type {Draft} */ ({ id: "", ...body, skipped: [], known }));
  figures.verdict = body.verdict;
  const worth = figures.all.filter((point) => figures.level(point) || figures.come(point).length);
  return [h("h1", { tabindex: "-1" }, say("check-figures")),
    worth.length ? worth.map((point) => h("section", {},
      h("h2", { class: "topichead" }, book.words.say(`point-${point.id}`)), outcome(figures, point)))
      : h("p", {}, say("app-figures-none"))];
}
