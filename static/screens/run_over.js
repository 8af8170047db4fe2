// A run that has ended: kept with its trailer, sent to the shop whose link it was made under.

import * as runs from "../data/run.js";
import { recordOf } from "../data/run_kept.js";
import { localTime, seal } from "../data/records.js";
import { keeping } from "../data/store.js";
import { Gone } from "../data/drafts.js";
import { say } from "../data/words.js";
import { setSetting } from "../keep.js";
import { sure } from "../dialog.js";
import { redraw } from "../router.js";
import { h } from "../parts/h.js";
import { button, link as anchor } from "../parts/page.js";
import { distance, framed, minutesText, whatOf } from "./road.js";
import { advanced, drawn, quiet, storedRun, tellOthers } from "./run_clock.js";
import { carriedBy, carriedCard, doubtOf, ofTrailer } from "./run_verdict.js";

/** End the run for whoever says so twice: a kept run never changes. */
/** @param {App} app */
export async function endRun(app) {
  const due = runs.dueOf(await advanced(app, runs.advance));
  const question = due.length ? say("road-run-end-due", { what: whatOf(due) }) : say("road-run-end-sure");
  if (!await sure(question, say("road-run-end"))) return;
  await keepRun(app);
  quiet();
  tellOthers();
  redraw();
}

/** The run becomes a record, once, whichever window ends it; under a shop's link it goes to the shop. */
/** @param {App} app */
async function keepRun(app) {
  const now = await storedRun(app);
  if (!now || now.ended !== null) return;
  const over = runs.end(now, Date.now()), sealed = await seal("run", recordOf(over, localTime));
  try {
    await app.store.commit([...keeping(sealed, over.link ? { link: over.link } : {}),
      ["settings", { key: "run", value: over }]], ["settings", "run", isUnder(now.id)]);
    app.settings.run = over;
  } catch (error) {
    if (!(error instanceof Gone)) throw error; // another window was first
  }
  await app.sender.report();
  app.sender.send();
}

/** @param {string} id @returns {(there: unknown) => boolean} */
const isUnder = (id) => (there) => {
  const run = /** @type {{ value: Run | null }} */ (there).value;
  return run?.id === id && run.ended === null;
};

/** @param {App} app @param {Run} now */
export async function ended(app, now) {
  const { stops } = recordOf(now, localTime), left = stops.filter(({ done }) => !done);
  const ticked = stops.filter(({ done, check }) => done && !check);
  const carried = await carriedBy(app, now), stop = carried.level === "stop";
  drawn(now, () => {});
  return framed(say("road-run-ended"), [
    await ofTrailer(app, now), carriedCard(app, carried),
    h("p", { class: "driven" }, say("road-run-driven",
      { distance: distance(app, now.km), time: minutesText(now.minutes) })),
    h("p", {}, say("road-run-ended-done", { count: stops.length - left.length - ticked.length,
      all: stops.filter(({ reached }) => reached).length })),
    ticked.length > 0 && h("p", { class: "note" }, say("road-run-ended-ticked", { what: whatOf(ticked) })),
    left.filter(({ reached }) => reached).map((one) =>
      h("p", { class: "note" }, say("road-run-ended-left", { what: whatOf([one]) }))),
    left.filter(({ reached }) => !reached).map((one) =>
      h("p", {}, say("road-run-ended-ahead", { what: whatOf([one]), distance: distance(app, one.km ?? 0) }))),
    h("p", { class: "hint" }, say(now.link ? "road-run-kept-sent" : "road-run-kept")),
    now.trailer && anchor(say("road-run-trailer"), `#/trailer/${now.trailer}`, "answer"),
  ], stop ? null : button(say("road-run-new"), async () => {
    await setSetting(app, "run", null);
    tellOthers();
    redraw();
  }, `answer ${doubtOf(app, carried) ? "quietly" : "main"}`), stop ? "road halt" : "road");
}
