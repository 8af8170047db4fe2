// A verdict beside the earlier ones of its trailer: what was not looked at this time, and how ready it was.

import { firstToDo } from "../data/stops.js";
import { byStation, leftOut } from "../data/walking.js";
import { say } from "../data/words.js";
import { h, svg } from "../parts/h.js";
import { bold, dayText } from "../parts/page.js";

/** `checks` are the kept ones of the same trailer, newest first. */
/** @param {OpenBook} book @param {WholeJudged} check @param {KeptCheck[]} checks */
export const compare = (book, check, checks) => [
  notThisTime(book, check.verdict, checks), readiness(book, check, checks),
];

/** What the depth of the walk left out, and when each was last looked at. */
/** @param {OpenBook} book @param {Verdict} verdict @param {KeptCheck[]} checks */
function notThisTime(book, verdict, checks) {
  const { whole, partly } = leftOut(book, verdict, checks);
  /** @type {[string, string[]][]} */
  const groups = whole.map(([made, points]) => [say(made ? "app-verdict-last" : "app-verdict-never",
    { day: made && dayText(made) }), points]);
  if (partly.length) groups.push([say("app-verdict-partly"), partly]);
  return groups.length ? h("section", {}, h("h2", {}, say("app-verdict-left")), groups.map(([head, points]) =>
    [h("h3", {}, head), h("ul", { class: "left-out" }, byStation(book, points).map((line) => h("li", {}, line)))]))
    : null;
}

/** Readiness compares this trailer with itself: only beside earlier checks, never beside what holds driving on up. */
/** @param {OpenBook} book @param {WholeJudged} of @param {KeptCheck[]} checks */
function readiness(book, { check, verdict }, checks) {
  const before = checks.flatMap(({ record: { body } }) =>
    (body.check === check && body.verdict.readiness && !firstToDo(book, body.verdict)
      ? [body.verdict.readiness] : [])).slice(0, 7).reverse();
  if (!before.length || firstToDo(book, verdict)) {
    return before.length ? h("p", { class: "hint" }, say("app-no-readiness")) : null;
  }
  if (!verdict.readiness) return null;
  const all = [...before, verdict.readiness];
  /** @param {Interval} of */
  const text = ([low, high]) => (low === high ? `${low}` : say("app-from-to", { from: String(low), to: String(high) }));
  return h("section", { class: "gauge" }, h("h2", {}, bold("app-readiness", "range", text(verdict.readiness))),
    h("p", { class: "hint" }, say("app-readiness.help")), plot(all),
    h("p", {}, say("app-readiness-before", { range: text(all[all.length - 2]) })));
}

/** A bar a check from low to high end, the newest last and filled. */
/** @param {Interval[]} all */
function plot(all) {
  const wide = 320 / all.length;
  return svg("svg", { viewBox: "0 0 320 108", role: "img", "aria-label": say("app-readiness-plot",
    { count: all.length }) }, svg("path", { class: "axis", d: "M0 104H320M0 4H320" }),
  all.map(([low, high], n) => svg("rect", { class: n === all.length - 1 ? "part" : "track", x: n * wide + wide / 4,
    width: Math.min(wide / 2, 28), y: 104 - high, height: Math.max(high - low, 2) })));
}
