// The walk, by place: one drawing of this trailer for each place where a person stands, and an answer of its
// own for each zone there. This is a place's screen and its saving; zones and questions are beside it.

import { answered, axlesOf } from "../data/asking.js";
import { freshStops } from "../data/stops.js";
import { Place } from "../data/walking.js";
import { placeName, say, sentence } from "../data/words.js";
import { draftOf, keptOf, meant, saveDraft } from "../keep.js";
import { go } from "../router.js";
import { h, nodes } from "../parts/h.js";
import { backButton, button, page, trouble } from "../parts/page.js";
import { levelNow } from "../parts/sign.js";
import { cameraButton } from "./camera.js";
import { depths, onward } from "./walk_depths.js";
import { askedHere, proofOf, wantsAnother } from "./walk_questions.js";
import { picture, zoneRow } from "./walk_zones.js";

/** A place of the walk, or, without one, the next that is still open. */
/** @param {App} app @param {string} id @param {string | undefined} place */
export async function walkStep(app, id, place) {
  const draft = await draftOf(app, id);
  if (!draft) return keptOf(app, id);
  if (!("walk_depth" in draft.facts)) {
    return depths(app, draft.trailer, async (depth) => answered(draft, { walk_depth: { raw: depth } }));
  }
  return place ? new Walk(app, draft, place).page() : onward(app, draft, true);
}

// The jack is wanted for the first, and looked at after it.
const FIRST = ["lift_test"];

export class Walk {
  /** @param {App} app @param {Draft} draft @param {string} at */
  constructor(app, draft, at) {
    this.app = app;
    this.book = app.book;
    this.draft = draft;
    this.at = at;
    this.looking = performance.now();
    /** The zone whose faults are open. @type {string | null} */
    this.opened = null;
    this.problem = h("div", {});
    this.box = h("div", {});
  }

  get place() { return new Place(this.book, this.draft, this.at); }

  page() {
    this.draw();
    const { name, wheel } = this.place;
    return page({
      name: "asking walking",
      title: placeName(wheel, axlesOf(this.draft)) || say(`app-walk-${name}`),
      back: backButton(() => history.back()), middle: levelNow(this.book, this.draft),
      end: button(say("app-stop-later"), () => go(`#/pause/${this.draft.id}`), "plain"),
      body: [this.problem, this.box],
    });
  }

  draw() {
    const { place } = this, rows = place.rows();
    // a fault that led away from the list, to a *Stop now* say, is found in it again
    this.opened ??= rows.find((row) => place.isLeft(row))?.id ?? null;
    const ids = [...new Set(rows.map(({ zone }) => zone))], asks = place.asks();
    /** @param {boolean} first */
    const asked = (first) => asks.filter(({ keys }) => FIRST.includes(keys[0]) === first)
      .map((one) => askedHere(this, one));
    this.box.replaceChildren(picture(this, place, rows, ids), ...asked(true),
      ...rows.map((row) => zoneRow(this, row, ids.indexOf(row.zone) + 1)), ...proofOf(this, place), ...asked(false),
      cameraButton(this.app, this.draft.id, this.photoPoint(place), () => this.stored()));
  }

  /** @param {Draft} next */
  async save(next) {
    const before = this.draft;
    if (!await meant(this.app, before, next)) return this.draw();
    this.looking = performance.now();
    this.draft = next;
    this.problem.replaceChildren();
    try {
      this.draft = await saveDraft(this.app, next);
    } catch (error) {
      const on = button(say("app-stop-unsaved"), () => this.forward(before), "plain");
      this.problem.replaceChildren(trouble(sentence(error), on));
      // the person decides, but a *Stop now* waits for no decision
      if (!this.app.drafts.has(next.id) || !freshStops(this.book, before, next).length) return null;
    }
    return this.forward(before);
  }

  /** The camera may make the phone load the page again. */
  async stored() { this.draft = await saveDraft(this.app, this.draft); }

  /** @param {Place} of */
  photoPoint({ name, wheel }) {
    const zone = this.book.data.zones.find((one) => one.place === name);
    const point = this.book.data.stations.flatMap(({ points }) => points)
      .find(({ checks, facts }) => checks.includes("walkaround") && zone && facts.includes(zone.facts[0]));
    const id = point?.id ?? name;
    return wheel ? `${id}@${wheel}` : id;
  }

  /** @param {Draft} before */
  forward(before) {
    if (freshStops(this.book, before, this.draft).length) return go(`#/now/${this.draft.id}`);
    document.querySelector(".walking .now")?.replaceWith(...nodes([levelNow(this.book, this.draft)]));
    if (this.opened || !this.place.isDone || wantsAnother(this)) return this.draw();
    return onward(this.app, this.draft);
  }
}
