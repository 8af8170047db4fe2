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
