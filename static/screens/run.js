// A run on the screen: which of its screens is shown. All that counts is in data/run.js.

import { standAt } from "../router.js";
import { begin, planning, start } from "./run_begin.js";
import { listen, storedRun } from "./run_clock.js";
import { driving } from "./run_drive.js";
import { ended } from "./run_over.js";
import { withWords } from "./road.js";

/**
 * `#/run`; `#/run/start` and `#/run/from/LINK` begin one at once, or go on at `#/run/before/LINK` where it is asked
 * first; `#/run/plan` changes what it counts in.
 */
/** @param {App} app @param {string | undefined} at @param {string | undefined} link */
export const run = (app, at, link) => withWords(async () => {
  listen(app);
  let now = await storedRun(app);
  const before = `#/run/before/${link ?? ""}`;
  if (at === "start" || at === "from") {
    standAt(before);
    if (now?.ended !== null) now = await start(app, link);
  }
  if (now?.ended !== null) return now && at !== "before" ? ended(app, now) : begin(app, link);
  if (at === "plan") return planning(app, now);
  if (location.hash === before) standAt("#/run");
  return driving(app);
});
