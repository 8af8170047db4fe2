// A stop, hands first: eyes and nose before hands, one axle a screen with both mates in view, and the
// road's figures last, since hubs cool while figures wait. Its order and its saving; screens are beside it.

import { answered, axlesOf, feltApart, HUB_ANSWER, isYesNo, placeOf, pointOf, steps } from "../data/asking.js";
import { freshStops } from "../data/stops.js";
import { say, sentence } from "../data/words.js";
import { draftOf, keptOf, meant, saveDraft } from "../keep.js";
import { back, go, later, openHash, redraw, slot } from "../router.js";
import { h } from "../parts/h.js";
import { backButton, button, page, trouble } from "../parts/page.js";
import { levelNow } from "../parts/sign.js";

export const SIDES = ["L", "R"];
/** @param {Pick<Draft, "id">} draft @param {string} step */
export const stopHash = (draft, step) => `#/stop/${draft.id}/${encodeURIComponent(step)}`;

/** A screen of the stop by its step: `signs`, `where.FACT`, `trailer`, `hubs.AXLE` or `run`. */
/** @param {App} app @param {string} id @param {string} step @param {(stop: Stop) => Shown | Promise<Shown>} screen */
export async function stopAt(app, id, step, screen) {
  const draft = await draftOf(app, id);
  if (!draft) return keptOf(app, id);
  const stop = new Stop(app, draft, step);
  return feltApart(app.book, draft, step.startsWith("hubs") ? ["hub_feel@"] : undefined)
    ? (await later(() => import("./still.js"))).feltBefore(stop) : screen(stop);
}

export class Stop {
  /** @param {App} app @param {Draft} draft @param {string} step */
  constructor(app, draft, step) {
    this.app = app;
    this.book = app.book;
    this.draft = draft;
    this.step = step;
    this.at = ""; // the wheel tapped on the drawing
    /** @type {Given} */
    this.fresh = {};
    this.problem = h("div", {});
    this.halted = false; // by a *Stop now* whose page is on its way: a second tap takes nothing back
  }

  /** Save answers; a *Stop now* they bring opens its page, whatever was to come next. */
  /** @param {Given} given @param {(() => unknown) | null} next @param {Partial<Draft>} more what is told with them */
  async give(given, next = null, more = {}) {
    if (this.halted) return;
    if (feltApart(this.book, this.draft, Object.keys(given))) return redraw();
    const before = this.draft, after = { ...answered(before, given), ...more };
    if (!await meant(this.app, before, after)) return redraw();
    this.draft = after;
    this.halted = freshStops(this.book, before, after).length > 0;
    try {
      await saveDraft(this.app, after);
    } catch (error) {
      // The answer stays in memory, so going on is possible; the person decides. A *Stop now* waits for no decision.
      if (this.problem.isConnected && !(this.halted && this.app.drafts.has(after.id))) {
        this.halted = false;
        const on = button(say("app-stop-unsaved"), () => this.onward(before, next), "plain");
        return this.problem.replaceChildren(trouble(sentence(error), on));
      }
    }
    return this.onward(before, next);
  }

  /** @param {Draft} before @param {(() => unknown) | null} next */
  onward(before, next) {
    if (!freshStops(this.book, before, this.draft).length) return next?.();
    navigator.vibrate?.([200, 100, 200]);
    return go(`#/now/${this.draft.id}`);
  }

  /** Keys still to be asked here, of some stations; what a full stop alone asks comes question by question. */
  /** @param {string[]} stations */
  keys(stations) {
    return steps(this.book, this.draft).filter(({ station, point }) => stations.includes(station)
      && pointOf(this.book, point).checks.includes("quick_stop")).flatMap((one) => one.keys);
  }

  /** @param {string[]} stations */
  open(stations) {
    return this.keys(stations).filter((key) => !(key in this.draft.facts) && !this.draft.skipped?.includes(key));
  }

  /** The next screen after `step`, in the order of the stop. */
  forward(step = this.step, replace = false) {
    const { draft, book } = this, axles = axlesOf(draft);
    const order = ["trailer", ...Array.from({ length: axles }, (_, n) => `hubs.${n + 1}`), "run"];
    for (const one of order.slice(order.indexOf(step) + 1)) {
      if (one === "trailer" && !this.open(["about"]).length) continue;
      if (one === "run" && !runKeys(this).some((key) => !(key in draft.facts))) continue;
      if (one.startsWith("hubs") && !this.openHubs(one.split(".")[1])) continue;
      return go(stopHash(draft, one), { replace });
    }
    const left = steps(book, draft).some((s) => s.keys.some((key) => !(key in draft.facts)
      && !draft.skipped?.includes(key)));
    return go(left ? openHash(book, draft) : `#/sofar/${draft.id}`, { replace });
  }

  /** Whether a hub of an axle is still to be felt or measured. */
  /** @param {string} axle */
  openHubs(axle) {
    return this.open(["wheels"]).some((key) => HUB_ANSWER.test(key)
      && placeOf(key)[0] === axle);
  }

  /** The camera may make the phone load the page again, so what was answered is stored first. */
  /** @param {string} point */
  camera(point) {
    const stored = async () => { this.draft = await saveDraft(this.app, this.draft); };
    return slot(() => import("./camera.js"), ({ cameraButton }) =>
      cameraButton(this.app, this.draft.id, point, stored));
  }

  /** @param {StopParts} of */
  page({ title, body, foot, home = null, name = "" }) {
    const { draft, book } = this;
    return page({
      name: `asking handsfirst ${name}`,
      title,
      back: backButton(() => (home ? back(home) : history.back())),
      middle: levelNow(book, draft),
      end: button(say("app-stop-later"), () => go(`#/pause/${draft.id}`), "plain"),
      body: [this.problem, body],
      foot,
    });
  }
}

/** Yes or no facts that are seen, smelt or heard before a hand goes near. */
/** @param {OpenBook} book */
export const signFacts = (book) => pointOf(book, "hub_signs").facts.filter((name) => isYesNo(book.data.facts[name]));

/** @param {Draft} draft */
export const wheels = (draft) => Array.from({ length: axlesOf(draft) },
  (_, n) => SIDES.map((side) => `${n + 1}${side}`)).flat();

/** @param {OpenBook} book @param {Draft} draft @param {string} fact */
export const placesOf = (book, draft, fact) => (book.data.facts[fact].scope === "wheel"
  ? wheels(draft).map((at) => `${fact}@${at}`) : [fact]);

const RUN_LATER = ["hub_method", "hub_spot"];
/** @param {Stop} stop */
export const runKeys = (stop) => stop.keys(["road"]).filter((key) => !RUN_LATER.includes(key));
