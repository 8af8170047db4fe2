// The level so far, in view at the top of every question; a tap shows why.

import { judged } from "../data/asking.js";
import { say } from "../data/words.js";
import { h } from "../parts/h.js";
import { sign } from "../parts/sign.js";

/** The sign of a draft's level as a link to its verdict; nothing for a trailer's own questions. */
export function levelNow(book, draft) {
  if (draft.check === "trailer") return null;
  const { level } = judged(book, draft);
  const href = level === "stop" ? `#/now/${draft.id}` : `#/sofar/${draft.id}`;
  return h("a", { href, class: "now", "aria-label": say("app-stop-so-far", { level: say(`level-${level}`) }) },
    sign(level));
}
