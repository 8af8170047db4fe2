// The five signs: shape, word and colour together, after open standards only. Stop: red octagon
// (Vienna Convention, MUTCD). Mend: yellow triangle, look again: blue disc, nothing found: green
// square (ISO 3864 warning, mandatory action, safe condition). Not checked: dashed grey outline.

import { judged } from "../data/asking.js";
import { say } from "../data/words.js";
import { h, svg } from "./h.js";
import { announce } from "./page.js";

const SHAPES = {
  stop: () => svg("path", { d: "M14 2L34 2L46 14L46 34L34 46L14 46L2 34L2 14Z" }),
  mend: () => svg("path", { d: "M24 4L45 42L3 42Z", "stroke-linejoin": "round" }),
  look: () => svg("circle", { cx: 24, cy: 24, r: 22 }),
  nothing: () => svg("rect", { x: 4, y: 4, width: 40, height: 40 }),
  unchecked: () => svg("rect", { x: 5, y: 5, width: 38, height: 38, rx: 6 }),
};
const MARKS = { stop: ["STOP", 28.5], mend: ["!", 37], look: ["!", 33], nothing: ["–", 33], unchecked: ["?", 33] };

/** The bare shape as a 48 by 48 group, for the sign and for the plan. */
/** @param {Level} level @param {Props<SVGGElement>} place */
export function shape(level, place = {}) {
  const [mark, y] = MARKS[level];
  return svg("g", { class: `shape ${level}`, ...place },
    SHAPES[level](),
    svg("text", { x: 24, y, "text-anchor": "middle", class: level === "stop" ? "small" : "" }, mark));
}

/** Shape and word. `large` for the head of a verdict; `words` of a kept check, as it was shown then. */
/** @param {Level} level @param {{ large?: boolean, words?: Pick<Words, "say"> }} of1 */
export function sign(level, { large = false, words = { say } } = {}) {
  return h("span", { class: `sign ${level}${large ? " large" : ""}` },
    svg("svg", { viewBox: "0 0 48 48", "aria-hidden": "true" }, shape(level)),
    h("span", { class: "word" }, words.say(`level-${level}`)));
}

/** The shape alone, where a word would be too much to see; its word is for who listens. */
/** @param {Level} level */
export const badge = (level) =>
  svg("svg", { viewBox: "0 0 48 48", role: "img", "aria-label": say(`level-${level}`) }, shape(level));

const HEARD_MS = 400; // after the heading of a screen that comes with it, which would cut it short
let shown = "", timer = 0;

/** A draft's level that is not the one shown before is said once to whoever listens, as `text`. */
/** @param {string} draft @param {Level} level @param {string} [text] */
export function tell(draft, level, text = say(`level-${level}`)) {
  const now = `${draft} ${level}`;
  if (shown.startsWith(draft) && shown !== now) {
    clearTimeout(timer);
    timer = setTimeout(() => announce(text), HEARD_MS);
  }
  shown = now;
}

/** The sign of a draft's level as a link to its verdict; nothing for a trailer's own questions. */
/** @param {OpenBook} book @param {Draft} draft */
export function levelNow(book, draft) {
  if (draft.check === "trailer") return null;
  const { level } = judged(book, draft);
  tell(draft.id, level);
  const href = level === "stop" ? `#/now/${draft.id}` : `#/sofar/${draft.id}`;
  return h("a", { href, class: "now", "aria-label": say("app-stop-so-far", { level: say(`level-${level}`) }) },
    sign(level));
}
