// The walk, by place: one drawing of this trailer for each place where a person stands, and an answer of its
// own for each zone there. A zone called fine sooner than it can be looked at counts as a glance.

import { answered, axlesOf, choicesOf, factOf, isDone, isYesNo } from "../data/asking.js";
import { checksOf, trailerOf } from "../data/queries.js";
import { freshStops } from "../data/stops.js";
import { DEPTHS, earlier, fineOf, glanceOf, lastDeep, nextOn, Place } from "../data/walking.js";
import { placeName, say, sentence } from "../data/words.js";
import { beginCheck, draftOf, saveDraft } from "../keep.js";
import { askHash, back, go, missing } from "../router.js";
import { answerText } from "../parts/answer.js";
import { placeDrawing, buildOf } from "../parts/drawings/trailer.js";
import { drawingsOf } from "../parts/drawings/shown.js";
import { drawing, plate, pointed } from "../parts/drawings/line.js";
import { h, nodes } from "../parts/h.js";
import { numberPad } from "../parts/pad.js";
import { backButton, button, dayText, page, trouble } from "../parts/page.js";
import { choicesRow, isQuick } from "../parts/rows.js";
import { levelNow } from "../parts/sign.js";
import { cameraButton } from "./camera.js";

/** @param {Pick<Draft, "id">} draft @param {string} place */
const walkHash = (draft, place = "") => `#/walk/${draft.id}${place && `/${place}`}`;

/** How far to go: three walks, each saying what it leaves out and when it was last done. */
/** @param {App} app */
export const startWalk = (app) => depths(app, app.settings.trailer ?? null,
  async (depth) => beginCheck(app, "walkaround", app.settings.trailer, { walk_depth: depth }));

/** A place of the walk, or, without one, the next that is still open. */
/** @param {App} app @param {string} id @param {string | undefined} place */
export async function walkStep(app, id, place) {
  const draft = await draftOf(app, id);
  if (!draft) return missing(say("app-check-gone"));
  if (!("walk_depth" in draft.facts)) {
    return depths(app, draft.trailer, async (depth) => answered(draft, { walk_depth: { raw: depth } }));
  }
  return place ? new Walk(app, draft, place).page() : onward(app, draft, true);
}

/** @param {App} app @param {string | null} trailer @param {(depth: string) => Promise<Draft>} begun */
async function depths(app, trailer, begun) {
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

/** @param {App} app @param {Draft} draft @param {boolean} replace */
function onward(app, draft, replace = false) {
  const next = nextOn(app.book, draft);
  if (!next) return go(`#/sofar/${draft.id}`, { replace });
  return go(next.step ? askHash(draft, next.step) : walkHash(draft, next.at), { replace });
}

// The jack is wanted for the first, and looked at after it.
const FIRST = ["lift_test"];

class Walk {
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
    const { place } = this, rows = place.rows(), ids = [...new Set(rows.map(({ zone }) => zone))], asks = place.asks();
    /** @param {boolean} first */
    const asked = (first) => asks.filter(({ keys }) => FIRST.includes(keys[0]) === first).map((one) => this.asked(one));
    this.box.replaceChildren(this.picture(place, rows, ids), ...asked(true),
      ...rows.map((row) => this.row(row, ids.indexOf(row.zone) + 1)), ...this.proof(place), ...asked(false),
      cameraButton(this.app, this.draft.id, this.photoPoint(place), () => this.stored()));
  }

  /** @param {Place} of @param {ZoneRow[]} rows @param {string[]} ids */
  picture({ name }, rows, ids) {
    const { width, height, parts, zones } = placeDrawing(name, buildOf(this.draft.facts));
    /** @param {string} zone */
    const stateOf = (zone) => {
      const states = rows.filter((row) => row.zone === zone).map(({ state }) => state);
      if (states.every((one) => one && one !== "glance" && one !== "unsure")) return "fine";
      return states.includes("glance") ? "glance" : "";
    };
    const here = ids.filter((id) => zones[id]);
    const plates = here.map((id) => plate(ids.indexOf(id) + 1, zones[id].plate, zones[id].at, stateOf(id)));
    return pointed(drawing(say(`app-walk-${name}`), width, height, parts, plates),
      Object.fromEntries(here.map((id) => [id, zones[id]])), (id) => this.tapped(rows, id));
  }

  /** @param {ZoneRow} row @param {number} number */
  row(row, number) {
    const { id, state } = row, name = say(`app-walk-zone-${id}`), lamp = this.isLamp(id);
    /** @param {string} now */
    const pressed = (now) => String(state === now || (now === "fine" && state === "glance"));
    /** @param {string} word @param {() => unknown} tap @param {string} now */
    const one = (word, tap, now) => button(say(word), tap, `pick ${now}`,
      { "aria-pressed": pressed(now), "aria-label": `${name}: ${say(word)}` });
    return h("section", { class: `zone-row ${state}`, "data-zone": id },
      h("h2", {}, h("span", { class: "stamp" }, String(number)), name,
        state === "glance" ? h("span", { class: "hint" }, say("app-walk-glance")) : null),
      h("div", { class: "picks" },
        one(lamp ? "app-walk-lit" : "app-walk-fine", () => this.fine(row), "fine"),
        one(lamp ? "app-walk-unlit" : "app-walk-something", () => this.something(row), "something"),
        one("app-not-sure", () => this.give(row, "unsure", () => null), "unsure")),
      this.opened === id ? this.faults(row) : null);
  }

  /** @param {string} id */
  isLamp(id) { return /^lamps_\d/.test(id); }

  /** What nobody can guess: asked first, and only then what it was the last time. */
  /** @param {Place} place */
  proof(place) {
    const proof = place.proof();
    if (!proof) return [];
    const { key } = proof, { book, draft, app } = this, fact = book.data.facts[factOf(key)], asked = key in draft.facts;
    /** @param {Answer} answer */
    const give = (answer) => this.proved(proof, answer);
    const body = asked || isQuick(book, key)
      ? choicesRow({ book, key, answer: draft.facts[key], asked, system: app.settings.units, typed: draft.typed?.[key],
        give, other: isQuick(book, key) ? null : `#/ask/${draft.id}/${encodeURIComponent(key)}/walk` })
      : h("section", { class: "row-of" }, h("h2", {}, say(`fact-${factOf(key)}`)), numberPad({ book, fact, key,
        date: draft.date, system: app.settings.units, give, unsure: () => give({ raw: null }),
        fail: (message) => this.problem.replaceChildren(trouble(message)) }));
    const drawn = drawingsOf([key], draft.facts);
    return [h("div", { class: "proof" }, body, drawn, asked ? this.lastTime(place, key) : null)];
  }

  /** A question of this place that no zone settles: as a row where one tap answers it, else the way to it. */
  /** @param {QuestionStep} step */
  asked({ id, point, keys, together }) {
    const { book, draft, app } = this, [key] = keys, drawn = drawingsOf(keys, draft.facts);
    const href = `#/ask/${draft.id}/${encodeURIComponent(id)}/walk`;
    if (!together && isQuick(book, key)) {
      const choices = book.data.facts[factOf(key)].kind === "choice" ? choicesOf(book, draft, key) : null;
      return h("div", { class: "asked" }, choicesRow({ book, key, answer: draft.facts[key], asked: key in draft.facts,
        choices, system: app.settings.units, give: (answer) => this.save(answered(draft, { [key]: answer })) }), drawn);
    }
    const done = isDone(draft, { keys }), name = say(together ? `point-${point}` : `fact-${factOf(key)}`);
    const told = done && !together && answerText(book, key, draft.facts[key], app.settings.units, draft.typed?.[key]);
    return h("div", { class: "asked" }, h("section", { class: "row-of" }, h("h2", {}, name),
      told ? h("p", { class: "told" }, told) : null,
      h("a", { class: `answer ${done ? "" : "todo"}`, href }, say(done ? "app-walk-change" : "app-walk-answer"))),
      drawn);
  }

  /** @param {Place} place @param {string} key */
  lastTime(place, key) {
    const { before = {} } = this.draft;
    if (!(key in before)) return null;
    const value = answerText(this.book, key, before[key], this.app.settings.units);
    const again = place.differs && isQuick(this.book, key);
    if (!again) return h("p", { class: "hint" }, say("app-walk-before", { value }));
    return h("div", { class: "note" }, h("p", {}, say("app-walk-differs", { value })),
      button(say("app-walk-all-the-same"), () => onward(this.app, this.draft), "plain"));
  }

  /** A count that is not that of the last walk takes the look back: the zone is to be looked at once more. */
  /** @param {{ zone: string, key: string }} of @param {Answer} answer */
  proved({ zone, key }, answer) {
    const before = this.draft, given = { [key]: answer };
    let { looked } = before;
    const told = new Place(this.book, answered(before, given), this.at);
    if (told.differs && isQuick(this.book, key)) {
      for (const row of told.rows().filter((one) => one.zone === zone && one.state === "fine")) {
        looked = { ...looked, [`${this.at}.${row.id}`]: "glance" };
        for (const one of this.own(row)) given[one] = { raw: glanceOf(this.book, one) };
      }
    }
    return this.save({ ...answered(before, given), looked });
  }

  /** Fine, if it took as long as a look takes; else a glance. */
  /** @param {ZoneRow} row */
  fine(row) {
    /** @param {string} name */
    const limit = (name) => Number(this.book.data.limits[`walk.${name}`].value);
    const takes = row.id === "inside" ? limit("glance_inside") : row.keys.length * limit("glance_fault");
    const seen = (performance.now() - this.looking) / 1000 >= takes;
    return this.give(row, seen ? "fine" : "glance", (key) => (seen ? fineOf(key) : glanceOf(this.book, key)));
  }

  /** @param {ZoneRow} row @param {Look} state @param {(key: string) => Raw} raw */
  give(row, state, raw) {
    return this.answer(row, state, Object.fromEntries(this.own(row).map((key) =>
      [key, { raw: factOf(key) === "inner_seen" ? this.innerSeen(key, state) : raw(key) }])));
  }

  /**
   * The keys a row may answer. The two sides of a tire share their faults: what was ticked at the other
   * one stays.
   */
  /** @param {ZoneRow} row */
  own(row) {
    const mine = this.draft.looked?.[`${this.at}.${row.id}`] === "something";
    /** @param {string} key */
    const free = (key) => mine || this.draft.facts[key] !== "yes";
    return row.keys.filter((key) => (factOf(key) === "inner_seen" ? this.otherInside : free(key)));
  }

  /** How the inner side of the tire across the axle was looked at. */
  get otherInside() {
    const { wheel } = this.place;
    return this.draft.looked?.[`wheel.${wheel[0]}${wheel[1] === "L" ? "R" : "L"}.inside`];
  }

  /** The inner sides of an axle count as seen only where both were looked at long enough. */
  /** @param {string} key @param {Look} state */
  innerSeen(key, state) {
    const sides = [state, this.otherInside];
    if (sides.includes("unsure")) return null;
    return sides.every((one) => one === "fine" || one === "something") ? "yes" : glanceOf(this.book, key);
  }

  /** @param {ZoneRow} row @param {Look} state @param {Given} given */
  answer(row, state, given) {
    const looked = { ...this.draft.looked, [`${this.at}.${row.id}`]: state };
    return this.save({ ...answered(this.draft, given), looked });
  }

  /** @param {Draft} next */
  async save(next) {
    const before = this.draft;
    this.looking = performance.now();
    this.draft = next;
    this.problem.replaceChildren();
    try {
      this.draft = await saveDraft(this.app, next);
    } catch (error) {
      const on = button(say("app-stop-unsaved"), () => this.forward(before), "plain");
      this.problem.replaceChildren(trouble(sentence(error), on));
      return null;
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
    if (this.opened || !this.place.isDone || this.wantsAnother) return this.draw();
    return onward(this.app, this.draft);
  }

  /** A count that differs keeps the person here until its zone was looked at once more. */
  get wantsAnother() {
    const { place } = this, proof = place.proof();
    return proof !== null && place.differs && isQuick(this.book, proof.key)
      && place.rows().some(({ zone, state }) => zone === proof.zone && state === "glance");
  }

  /** A zone tapped on the drawing opens its list; of the lamps, the first that is still open is brought up. */
  /** @param {ZoneRow[]} rows @param {string} zone */
  tapped(rows, zone) {
    const there = rows.filter((row) => row.zone === zone), row = there.find(({ state }) => !state) ?? there[0];
    if (!this.isLamp(row.id)) this.something(row);
    const section = this.box.querySelector(`[data-zone="${row.id}"]`);
    section?.scrollIntoView({ block: "start" });
    /** @type {HTMLElement | null | undefined} */
    const first = section?.querySelector(".tick") ?? section?.querySelector(".pick");
    first?.focus({ preventScroll: true });
  }

  /** @param {ZoneRow} row */
  something(row) {
    if (this.isLamp(row.id)) return this.give(row, "something", () => "yes");
    this.opened = row.id;
    return this.draw();
  }

  /** Every fault of a zone, those of deeper walks too; each tick is kept when tapped. */
  /** @param {ZoneRow} row */
  faults(row) {
    const { place } = this, bad = /** @param {string} fact */ (fact) => this.book.data.facts[fact].choices
      .filter((one) => one !== fineOf(fact));
    const ticks = row.faults.flatMap((fact) => bad(fact).map((choice) => this.tick(row, place.key(fact), choice)));
    const drawn = drawingsOf(row.faults, this.draft.facts);
    return h("div", { class: "faults" }, drawn, h("ul", { class: "ticks" }, ticks),
      button(say("app-walk-no-more"), () => this.noMore(row), "answer main"));
  }

  /** @param {ZoneRow} row */
  noMore(row) {
    this.opened = null;
    const keys = row.faults.map((fact) => this.place.key(fact));
    /** @param {string} key */
    const bad = (key) => isTold(this.draft.facts[key]) && this.draft.facts[key] !== fineOf(key);
    if (!keys.some(bad)) return this.draw(); // nothing was ticked: the zone is still to be answered
    const rest = this.own(row).filter((key) => !isTold(this.draft.facts[key]) && factOf(key) !== "inner_seen");
    /** @type {Given} */
    const given = Object.fromEntries(rest.map((key) => [key, { raw: fineOf(key) }]));
    for (const key of row.keys) {
      if (factOf(key) === "inner_seen" && this.otherInside) given[key] = { raw: this.innerSeen(key, "something") };
    }
    return this.answer(row, "something", given);
  }

  /** @param {ZoneRow} row @param {string} key @param {string} choice */
  tick(row, key, choice) {
    const fact = factOf(key), on = this.draft.facts[key] === choice;
    const alone = isYesNo(this.book.data.facts[fact]) && choice === "yes", ask = say(`fact-${fact}`);
    const text = alone ? ask : `${ask} ${say(`fact-${fact}.choice-${choice}`)}`;
    const tap = () => this.answer(row, "something", { [key]: { raw: on ? fineOf(key) : choice } });
    return h("li", {}, button(text, tap, "tick", { "aria-pressed": String(on) }));
  }
}

/** @param {Raw} raw */
const isTold = (raw) => raw !== undefined && raw !== null && !Array.isArray(raw);
