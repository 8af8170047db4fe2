// Figures: the rulebook's second part, the open draft of a trailer, and the questions. All answers of one
// trailer stand together, so that a weight given for one figure is there for the next.

import { say, wordsAt } from "../data/words.js";
import { factOf, isDone, profileOf } from "../data/asking.js";
import { FIXED, openOf } from "../data/figures.js";
import { fetchBook, joined, trailersOf } from "../data/queries.js";
import { localDate, localTime, uuid7 } from "../data/records.js";
import { draftOf, saveDraft } from "../keep.js";
import { back, go, later, show } from "../router.js";
import { h } from "../parts/h.js";
import { Question } from "./ask.js";
import { padsFor } from "./ask_entry.js";
import { notHere } from "./road.js";
import { topics } from "./figures_list.js";
import { figuresOf, topic } from "./figures_told.js";

const ADDRESSES = ["/rulebook-figures.json", wordsAt("-figures")], WAIT = 30_000;
/** @type {WorkedDraft | null} */
let fresh = null; // a draft nobody has answered in yet: it is kept with its first answer

// ---- the rulebook's second part ----

/** @param {App} app */
async function fetched(app) {
  if (app.figuresBook) return app.figuresBook;
  show(h("p", { class: "wait" }, say("app-figures-fetching")));
  let book;
  try {
    book = await fetchBook(ADDRESSES, { signal: AbortSignal.timeout(WAIT) });
  } catch (error) {
    return { missing: say(Object(error).answered ? "app-figures-other" : "road-missing") };
  }
  // A page that no worker serves yet has fetched past it: the worker is asked to keep it too.
  if (!navigator.serviceWorker?.controller) navigator.serviceWorker?.ready.then(({ active }) =>
    active?.postMessage("asked"));
  app.figuresBook = Object.assign(book, { said: joined(app.book.said, book.said) });
  return book;
}

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
  if ("missing" in book) return notHere(book.missing);
  if (!id) return `#/figures/${await newest(app)}`;
  const kept = (await draftOf(app, id)) ?? (fresh?.id === id ? fresh : null);
  if (!kept) return "#/figures";
  const figures = figuresOf(app, book, { ...kept, date: localDate() });
  if (!point) return topics(figures, kept === fresh);
  const about = figures.point(point);
  if (!about) return `#/figures/${id}`;
  return key ? question(figures, about, key) : topic(figures, about);
}

// ---- questions ----

/** @param {OwnFigures} figures @param {Topic} point @param {string} key */
async function question(figures, point, key) {
  const { draft } = figures, list = figures.questions(point);
  const at = list.findIndex((step) => step.id === key);
  const here = `#/figures/${draft.id}/${point.id}`;
  if (at < 0) return here;
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
