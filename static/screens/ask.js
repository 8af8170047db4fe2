// One question at a time, on a plan of the trailer. Every answer is on disk before the next question.

import { has, placeName, say, sentence } from "../data/words.js";
import { answered, axlesOf, CONSTANT, factOf, feltApart, isDone, judged, PROFILE, SHORT, steps,
} from "../data/asking.js";
import { freshStops, heldAt } from "../data/stops.js";
import { Gone } from "../data/drafts.js";
import { draftOf, keptOf, meant, saveDraft } from "../keep.js";
import { askHash, back, go, later, redraw, resumeHash, slot } from "../router.js";
import { h } from "../parts/h.js";
import { backButton, button, page, trouble } from "../parts/page.js";
import { plan } from "../parts/plan.js";
import { levelNow } from "../parts/sign.js";
import { control, padsFor } from "./ask_entry.js";

/** `from` is the screen to go back to with the answer, `of1` its step; without it the next question comes. */
/** @param {App} app @param {string} id @param {string} stepId @param {string} from @param {string} [of1] */
export async function ask(app, id, stepId, from, of1 = "") {
  const then = from && `#/${from}/${id}${of1 && `/${of1}`}`;
  const draft = await draftOf(app, id);
  if (!draft) return keptOf(app, id);
  // A change may reach a question about the trailer itself that a plain walk passes over.
  const view = then && !steps(app.book, draft).some((s) => s.id === stepId) ? { ...draft, known: [] } : draft;
  const list = steps(app.book, view), at = list.findIndex((step) => step.id === stepId);
  if (at < 0) return resumeHash(app.book, draft);
  const { keys } = list[at];
  if (feltApart(app.book, draft, keys)) return `#/stop/${id}/hubs.1`; // which asks what is to be done
  if (draft.trailer && !draft.still && !then && CONSTANT.includes(factOf(keys[0]))) {
    const still = await (await later(() => import("./still.js"))).still(app, draft);
    if (still) return still;
  }
  return new Question(app, draft, list, at, then, await padsFor(app.book, list[at])).page();
}

export class Question {
  /**
   * @param {App} app @param {Draft} draft @param {QuestionStep[]} list @param {number} at @param {string} then
   * @param {Pads | null} pads
   */
  constructor(app, draft, list, at, then, pads) {
    this.app = app;
    /** @type {OpenBook} */
    this.book = app.book;
    this.draft = draft;
    this.list = list;
    this.at = at;
    this.step = list[at];
    this.then = then;
    this.pads = /** @type {Required<Pads>} */ (pads ?? {}); // as padsFor fetched for this step
    this.looking = performance.now();
    /** @type {Promise<unknown>} */
    this.saving = Promise.resolve();
    this.fresh = this.skippable = false;
    /** @type {Map<string, Raw> | undefined} */
    this.state = undefined;
    this.problem = h("div", {});
  }

  page() {
    const { step, draft } = this, key = step.keys[0];
    const axles = axlesOf(draft), fact = `fact-${factOf(key)}`;
    const question = say(step.together ? `point-${step.point}` : fact);
    const checklist = step.together ? this.pads.checklist(this) : null;
    const every = PROFILE.includes(step.station) ? "app-tap-what" : "app-tap-every"; // what a trailer has is no fault
    const help = step.together ? say(every) : has(`${fact}.help`) && say(`${fact}.help`);
    const handsOff = heldAt(this.book, draft, (place) => place === step.place);
    return page({
      name: `asking ${this.level() === "stop" ? "halt" : ""}`,
      title: question,
      back: backButton(() => this.back()),
      middle: this.level() && levelNow(this.book, draft),
      end: button(say("app-stop-later"), () => go(`#/pause/${draft.id}`), "plain"),
      body: [
        h("div", { class: "where" }, plan({ axles, at: step.place, station: step.station }),
          h("div", {}, this.count(),
            h("p", { class: "station" }, say(`station-${step.station}`)),
            h("p", { class: "place" }, this.placeText(axles))),
          this.camera()),
        handsOff ? h("p", { class: "act" }, handsOff) : null,
        help ? h("p", { class: "help" }, help) : null,
        slot(() => import("../parts/drawings/shown.js"), ({ drawingsOf }) => drawingsOf(step.keys, draft.facts)),
        this.problem,
        checklist?.rows,
      ],
      foot: checklist?.done ?? control(this, key),
    });
  }

  /** Where it stands among those asked one after the other: a walk goes by place, a stop by axle. */
  count() {
    const walk = this.draft.check === "walkaround";
    const row = walk ? this.list.filter(({ station }) => PROFILE.includes(station)) : this.list;
    const at = row.indexOf(this.step) + 1;
    return at && !this.then ? h("p", { class: "count" }, say("app-count", { at, all: row.length })) : null;
  }

  camera() {
    const { app, step, draft } = this, point = step.place ? `${step.point}@${step.place}` : step.point;
    if (["trailer", "figures"].includes(draft.check)) return null;
    return slot(() => import("./camera.js"), ({ cameraButton }) =>
      cameraButton(app, draft.id, point, () => this.putBy()));
  }

  /** @param {number} axles */
  placeText(axles) {
    const { step } = this, point = say(`point-${step.point}`);
    return placeName(step.place, axles) || (point === say(`station-${step.station}`) ? "" : point);
  }

  /** Keep what is begun but not answered yet: the camera may make the phone reload the page. */
  async putBy() {
    /** @type {HTMLInputElement | null} */
    const entry = document.querySelector(".asking .display");
    /** @type {Begun} */
    const begun = {
      step: this.step.id, ticks: this.state && [...this.state],
      text: entry?.value, unit: entry?.closest(".pad")?.getAttribute("data-unit") ?? undefined,
    };
    this.draft = await saveDraft(this.app, { ...this.draft, begun });
  }

  /** @returns {Begun} */
  get begun() { return this.draft.begun?.step === this.step.id ? this.draft.begun : {}; }

  /** @returns {Level | null} */
  level(draft = this.draft) {
    return draft.check === "trailer" ? null : judged(this.book, draft).level;
  }

  /** A Stop now is felt. */
  /** @param {Draft} next */
  tell(next) {
    const [before, after] = [this.level(), this.level(next)];
    if (before !== after && after === "stop") navigator.vibrate?.([200, 100, 200]);
  }

  /** @param {string} message */
  fail(message) {
    this.problem.replaceChildren(trouble(message));
  }

  /** A tick is kept and judged at once, one after the other; one that is taken back is as if never made. */
  /** @param {string} key @param {Raw} raw */
  ticked(key, raw) {
    this.saving = this.saving.then(async () => {
      const before = this.draft, next = answered(before, { [key]: { raw } });
      if (raw === undefined) next.skipped = before.skipped;
      if (!await meant(this.app, before, next)) return redraw();
      this.tell(next);
      this.draft = next;
      try {
        this.draft = await saveDraft(this.app, next);
      } catch (error) {
        this.fail(sentence(error));
        if (error instanceof Gone) return;
      }
      document.querySelector(".asking .now")?.replaceWith(levelNow(this.book, this.draft) ?? "");
      if (freshStops(this.book, before, this.draft).length) await go(`#/now/${next.id}`);
    });
  }

  /** @param {Given} given */
  async give(given) {
    await this.saving;
    if (feltApart(this.book, this.draft, Object.keys(given))) return redraw();
    const before = this.draft, next = answered(before, given);
    if (!await meant(this.app, before, next)) return redraw();
    this.tell(next);
    this.draft = next;
    this.fresh = freshStops(this.book, before, next).length > 0;
    let stored = next;
    try {
      stored = await saveDraft(this.app, next);
    } catch (error) {
      if (error instanceof Gone) return this.fail(error.message);
      // The answer stays in memory, so going on is possible; the person decides. A *Stop now* waits for no decision.
      if (!this.fresh) return this.problem.replaceChildren(trouble(sentence(error),
        button(say("app-stop-unsaved"), () => this.forward(next), "plain")));
    }
    return this.forward(stored);
  }

  /** @param {Draft} next */
  forward(next) {
    const { book, then, step } = this;
    if (this.fresh) return go(`#/now/${next.id}`);
    const view = then && !steps(book, next).some((s) => s.id === step.id) ? { ...next, known: [] } : next;
    const list = steps(book, view), at = list.findIndex((s) => s.id === step.id);
    const more = at >= 0 && !isDone(next, list[at]);
    if (more) return redraw();
    if (then) return back(then);
    const following = list.slice(at + 1).find((one) => !isDone(next, one));
    if (next.check === "walkaround") return go(`#/walk/${next.id}`);
    if (following) return go(askHash(next, following));
    // A short check goes straight to its verdict when nothing is left open.
    const open = list.some((s) => !isDone(next, s));
    return go(SHORT.includes(next.check) && !open ? `#/sofar/${next.id}` : `#/answers/${next.id}`);
  }

  back() {
    const before = this.list[this.at - 1];
    if (this.then) return back(this.then);
    if (this.draft.check === "walkaround") return history.back();
    return back(before ? askHash(this.draft, before) : "#/");
  }
}

