// How far a walk goes: three of them, each saying what it leaves out and when it was last done. Then its way on.

import { checksOf, trailerOf } from "../data/queries.js";
import { DEPTHS, earlier, lastDeep, nextOn } from "../data/walking.js";
import { say } from "../data/words.js";
import { beginCheck } from "../keep.js";
import { askHash, back, go } from "../router.js";
import { h } from "../parts/h.js";
import { backButton, dayText, page } from "../parts/page.js";

/** @param {Pick<Draft, "id">} draft @param {string} place */
const walkHash = (draft, place = "") => `#/walk/${draft.id}${place && `/${place}`}`;

/** A walk of the trailer chosen last, once it is said how far. */
/** @param {App} app */
export const startWalk = (app) => depths(app, app.settings.trailer ?? null,
  async (depth) => beginCheck(app, "walkaround", app.settings.trailer, { walk_depth: depth }));

/** @param {App} app @param {string | null} trailer @param {(depth: string) => Promise<Draft>} begun */
export async function depths(app, trailer, begun) {
  const checks = (await checksOf(app.store)).filter((item) => trailer && trailerOf(item) === trailer);
  /** @param {string} depth */
  const begin = async (depth) => {
    const draft = { ...await begun(depth), ...earlier(app.book, checks) };
    app.drafts.set(draft.id, draft); // nothing is kept before an answer
    return onward(app, draft, true);
  };
  /** @param {string} depth */
  const when = (depth) => {
    const made = lastDeep(checks, depth);
    return trailer ? h("span", {}, made ? say("app-walk-last", { day: dayText(made) }) : say("app-walk-never")) : null;
  };
  return page({
    name: "depths",
    title: say("app-walk-how-far"),
    back: backButton(() => back("#/")),
    body: h("p", { class: "help" }, say("app-walk-how")),
    foot: DEPTHS.map((depth) => h("button", { type: "button", class: "big", value: depth, onclick: () => begin(depth) },
      h("strong", {}, say(`app-walk-${depth}`)), h("span", {}, say(`app-walk-${depth}.without`)), when(depth))),
  });
}

/** To the next place or question that is open, else to what was found. */
/** @param {App} app @param {Draft} draft @param {boolean} replace */
export function onward(app, draft, replace = false) {
  const next = nextOn(app.book, draft);
  if (!next) return go(`#/sofar/${draft.id}`, { replace });
  return go(next.step ? askHash(draft, next.step) : walkHash(draft, next.at), { replace });
}
