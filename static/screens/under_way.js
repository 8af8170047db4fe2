// The run under way, on the front page; loud when a stop is due.

import { advance, dueOf } from "../data/run.js";
import { say } from "../data/words.js";
import { h } from "../parts/h.js";

/** @param {App} of */
export function underWay({ settings: { run } }) {
  if (!run) return null;
  const call = dueOf(advance(run, Date.now())).length > 0;
  return h("a", { class: call ? "due loud" : "due", href: "#/run" },
    h("strong", {}, say(call ? "app-run-due" : "app-run-on")));
}

/** A stop for the hubs, planned or not, with what the run knows. */
/** @param {App} app */
export async function stopHere(app) {
  const { checkAt } = await import("./run_drive.js"), { run } = app.settings;
  const due = run ? dueOf(advance(run, Date.now())) : [];
  return checkAt(app, due.find(({ what }) => what.includes("hubs")) ?? { what: ["hubs"] });
}
