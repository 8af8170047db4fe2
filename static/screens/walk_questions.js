// What a place of the walk asks beside its zones: what nobody can guess, and what no zone settles.

import { answered, choicesOf, factOf, isDone } from "../data/asking.js";
import { glanceOf, Place } from "../data/walking.js";
import { say } from "../data/words.js";
import { answerText } from "../parts/answer.js";
import { drawingsOf } from "../parts/drawings/shown.js";
import { h } from "../parts/h.js";
import { numberPad } from "../parts/pad.js";
import { button, trouble } from "../parts/page.js";
import { choicesRow, isQuick } from "../parts/rows.js";
import { onward } from "./walk_depths.js";
import { own } from "./walk_zones.js";

/** @typedef {import("./walk.js").Walk} Walk */

/** What nobody can guess: asked first, and only then what it was the last time. */
/** @param {Walk} walk @param {Place} place */
export function proofOf(walk, place) {
  const proof = place.proof();
  if (!proof) return [];
  const { key } = proof, { book, draft, app } = walk, fact = book.data.facts[factOf(key)], asked = key in draft.facts;
  /** @param {Answer} answer */
  const give = (answer) => proved(walk, proof, answer);
  const body = asked || isQuick(book, key)
    ? choicesRow({ book, key, answer: draft.facts[key], asked, system: app.settings.units, typed: draft.typed?.[key],
      give, other: isQuick(book, key) ? null : `#/ask/${draft.id}/${encodeURIComponent(key)}/walk` })
    : h("section", { class: "row-of" }, h("h2", {}, say(`fact-${factOf(key)}`)), numberPad({ book, fact, key,
      date: draft.date, system: app.settings.units, give, unsure: () => give({ raw: null }),
      fail: (message) => walk.problem.replaceChildren(trouble(message)) }));
  const drawn = drawingsOf([key], draft.facts);
  return [h("div", { class: "proof" }, body, drawn, asked ? lastTime(walk, place, key) : null)];
}

/** A question of this place that no zone settles: as a row where one tap answers it, else the way to it. */
/** @param {Walk} walk @param {QuestionStep} step */
export function askedHere(walk, { id, point, keys, together }) {
  const { book, draft, app } = walk, [key] = keys, drawn = drawingsOf(keys, draft.facts);
  const href = `#/ask/${draft.id}/${encodeURIComponent(id)}/walk`;
  if (!together && isQuick(book, key)) {
    const choices = book.data.facts[factOf(key)].kind === "choice" ? choicesOf(book, draft, key) : null;
    return h("div", { class: "asked" }, choicesRow({ book, key, answer: draft.facts[key], asked: key in draft.facts,
      choices, system: app.settings.units, give: (answer) => walk.save(answered(draft, { [key]: answer })) }), drawn);
  }
  const done = isDone(draft, { keys }), name = say(together ? `point-${point}` : `fact-${factOf(key)}`);
  const told = done && !together && answerText(book, key, draft.facts[key], app.settings.units, draft.typed?.[key]);
  return h("div", { class: "asked" }, h("section", { class: "row-of" }, h("h2", {}, name),
    told ? h("p", { class: "told" }, told) : null,
    h("a", { class: `answer ${done ? "" : "todo"}`, href }, say(done ? "app-walk-change" : "app-walk-answer"))),
    drawn);
}

/** @param {Walk} walk @param {Place} place @param {string} key */
function lastTime(walk, place, key) {
  const { before = {} } = walk.draft;
  if (!(key in before)) return null;
  const value = answerText(walk.book, key, before[key], walk.app.settings.units);
  const again = place.differs && isQuick(walk.book, key);
  if (!again) return h("p", { class: "hint" }, say("app-walk-before", { value }));
  return h("div", { class: "note" }, h("p", {}, say("app-walk-differs", { value })),
    button(say("app-walk-all-the-same"), () => onward(walk.app, walk.draft), "plain"));
}

/** A count that is not that of the last walk takes the look back: the zone is to be looked at once more. */
/** @param {Walk} walk @param {{ zone: string, key: string }} of @param {Answer} answer */
function proved(walk, { zone, key }, answer) {
  const before = walk.draft, given = { [key]: answer };
  let { looked } = before;
  const told = new Place(walk.book, answered(before, given), walk.at);
  if (told.differs && isQuick(walk.book, key)) {
    for (const row of told.rows().filter((one) => one.zone === zone && one.state === "fine")) {
      looked = { ...looked, [`${walk.at}.${row.id}`]: "glance" };
      for (const one of own(walk, row)) given[one] = { raw: glanceOf(walk.book, one) };
    }
  }
  return walk.save({ ...answered(before, given), looked });
}

/** A count that differs keeps the person here until its zone was looked at once more. */
/** @param {Walk} walk */
export function wantsAnother(walk) {
  const { place } = walk, proof = place.proof();
  return proof !== null && place.differs && isQuick(walk.book, proof.key)
    && place.rows().some(({ zone, state }) => zone === proof.zone && state === "glance");
}
