// What figures come to, in sentences: those of one question, and those that were kept.

import { say } from "../data/words.js";
import { Figures, openOf } from "../data/figures.js";
import { keepCheck } from "../keep.js";
import { back, go } from "../router.js";
import { h } from "../parts/h.js";
import { backButton, button, link, page } from "../parts/page.js";
import { valueText } from "../parts/numbers.js";
import { stepList } from "../parts/working.js";
import { asked, sentenceOf, titleOf } from "../parts/figure.js";
import { answerText } from "../parts/answer.js";
import { findings, unsettled } from "../parts/findings.js";
import { cautions } from "../parts/mind.js";

/** The figures of a draft, written in the units of this phone's owner. */
/** @param {App} app @param {OpenBook} book @param {Draft} draft @returns {OwnFigures} */
export function figuresOf(app, book, draft) {
  const system = app.settings.units;
  /** @type {IntervalWriter} */
  const text = (range, unit) => valueText(book, range, unit, system);
  return Object.assign(new Figures(book, draft, text), { app, system });
}

/** @param {OwnFigures} figures */
export const keep = ({ app, book, draft }) => keepCheck(app, draft, /** @type {AppBook} */ (book));

/** @param {OwnFigures} figures @param {Topic} point */
export function topic(figures, point) {
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
    cautions(book, check.verdict, check.check),
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
