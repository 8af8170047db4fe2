// Runs kept with a trailer, newest first: how far, which stops were made, and what was left.

import { leftOf, pastOf } from "../data/presets.js";
import { say } from "../data/words.js";
import { h } from "../parts/h.js";
import { dayText, link } from "../parts/page.js";
import { distance, roadWords, whatOf } from "./road.js";

/** @param {App} app @param {string} trailer */
export async function runList(app, trailer) {
  const { runs } = await pastOf(app.store, trailer);
  if (!runs.length || !(await roadWords())) return null;
  return h("section", {}, h("h2", {}, say("road-runs")), h("ul", { class: "plainlist" },
    runs.map((run) => h("li", {}, line(app, run)))));
}

/** @param {App} app @param {PastRun} run */
function line(app, run) {
  const reached = run.stops.filter((stop) => stop.reached), done = reached.filter((stop) => stop.check);
  const ticked = reached.filter((stop) => stop.done && !stop.check);
  const left = leftOf(run).filter((stop) => stop.reached);
  return [h("p", {}, say("road-runs-line", { day: dayText(run.began), distance: distance(app, run.km),
    done: done.length, all: reached.length })),
  ticked.length > 0 && h("p", { class: "hint" }, say("road-run-ended-ticked", { what: whatOf(ticked) })),
  left.length > 0 && h("p", { class: "hint" }, say("road-run-ended-left", { what: whatOf(left) })),
  done.map((stop) => link(whatOf([stop]), `#/check/${stop.check}`))];
}
