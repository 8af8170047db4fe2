// A run on the screen: which of its screens is shown. All that counts is in data/run.js.

import { standAt } from "../router.js";
import { begin, planning, start } from "./run_begin.js";
import { listen, storedRun } from "./run_clock.js";
import { driving } from "./run_drive.js";
import { ended } from "./run_over.js";
import { withWords } from "./road.js";

/** `#/run`; `#/run/start` and `#/run/from/LINK` begin one at once, `#/run/plan` changes what it counts in. */
/** @param {App} app @param {string | undefined} at @param {string | undefined} link */
export const run = (app, at, link) => withWords(async () => {
  listen(app);
  let now = await storedRun(app);
  if (at === "start" || at === "from") {
    standAt("#/run");
    if (!now || now.ended !== null) now = await start(app, link);
  }
  if (!now) return begin(app, link);
  if (at === "plan" && now.ended === null) return planning(app, now);
  return now.ended === null ? driving(app) : ended(app, now);
});
