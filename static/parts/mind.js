// What to do at a level, and what to mind while doing it. A *Stop now* says it before anything else has come.

import { foundText, has, say } from "../data/words.js";
import { axlesOf, ROADSIDE } from "../data/asking.js";
import { h } from "./h.js";

/** What to do at a level, by the kind of check: who stands in a driveway is not told to leave the road. */
/** @type {(check: string, level: Level, words?: Pick<Words, "say">) => string} */
export function doing(check, level, words = { say }) {
  const home = `app-home-${level}`;
  return !ROADSIDE.includes(check) && has(home) ? say(home) : words.say(`level-${level}.do`);
}

export const FIRE = "has_flames", SMOKE = "has_smoke"; // nobody is to move what burns, not even off the road

/** The head of a *Stop now*: the first of `stops` and its place, what to do about it, and where; `here` as below. */
/** @param {Found[]} stops @param {{ check: string, facts: Answers }} check @param {boolean} [here] */
export function whatNow([worst], { check, facts }, here) {
  const title = `${foundText(worst, axlesOf({ facts }), say("level-stop"))}.`, todo = `finding-${worst.finding}.do`;
  return [h("h1", { tabindex: "-1", "aria-label": `${say("level-stop")}. ${title}` }, title),
    here && !has(todo) ? null : h("p", { class: "act" }, say(todo)),
    worst.finding === FIRE ? null : h("p", { class: "act" }, doing(check, "stop"))];
}

/** Cautions of what was found; with `here` without those whose words have not come yet. */
/** @param {OpenBook} book @param {Pick<Verdict, "findings">} verdict @param {string} check @param {boolean} [here] */
export function cautions(book, verdict, check, here) {
  const burns = verdict.findings.some(({ finding }) => finding === FIRE || finding === SMOKE);
  const ids = [...new Set(verdict.findings.flatMap((f) => book.data.findings[f.finding].cautions ?? []))]
    .filter((id) => (id !== "traffic" || ROADSIDE.includes(check) && !burns) && (!here || has(`caution-${id}`)));
  if (!ids.length) return null;
  return h("section", { class: "cautions" }, h("h2", {}, say("app-cautions")),
    h("ul", {}, ids.map((id) => h("li", {}, say(`caution-${id}`)))));
}
