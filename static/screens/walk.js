// The walk, by place: one drawing of this trailer for each place where a person stands, and an answer of its
// own for each zone there. A zone called fine sooner than it can be looked at counts as a glance.

import { answered, axlesOf, factOf, isDone, isYesNo, steps } from "../data/asking.js";
import { freshStops } from "../data/stops.js";
import { placeName, say } from "../data/words.js";
import { beginCheck, draftOf, saveDraft } from "../keep.js";
import { go, missing, openHash } from "../router.js";
import { placeDrawing, buildOf } from "../parts/drawings/trailer.js";
import { drawing, plate } from "../parts/drawings/line.js";
import { h } from "../parts/h.js";
import { backButton, button, page, trouble } from "../parts/page.js";
import { levelNow } from "./level_now.js";

const LAMPS = ["lamp_tail", "lamp_plate", "lamp_stop", "lamp_left", "lamp_right"];
const FINE = { latch: "yes", nuts: "tight", inner_seen: "yes", tongue_feel: "level" };
const SAME = { inside: "outside" }; // the inner side shows the same faults as the outer
const walkHash = (draft, place = "") => `#/walk/${draft.id}${place && `/${place}`}`;

/** Begin a walk as before every trip. Nothing is kept before an answer. */
export async function startWalk(app) {
  const draft = await beginCheck(app, "walkaround", app.settings.trailer, { walk_depth: "trip" });
  const walk = { ...draft, known: [...draft.known, "walk_depth"], byPlace: true };
  app.drafts.set(walk.id, walk);
  return go(walkHash(walk), { replace: true });
}

/** A place of the walk, or, without one, the next that is still open. */
export async function walkStep(app, id, place) {
  const draft = await draftOf(app, id);
  if (!draft) return missing(say("app-stop-gone"));
  return place ? new Walk(app, draft, place).page() : onward(app, draft, true);
}

const placesOf = (draft) => {
  const wheels = (side) => Array.from({ length: axlesOf(draft) }, (_, n) => `wheel.${n + 1}${side}`);
  return ["hitch", ...wheels("R"), "rear", ...wheels("L"), "load"];
};

function onward(app, draft, replace = false) {
  const about = steps(app.book, draft).find((step) => step.station === "about" && !isDone(draft, step));
  if (about) return go(`#/ask/${draft.id}/${encodeURIComponent(about.id)}`, { replace });
  const open = placesOf(draft).find((at) => new Walk(app, draft, at).rows().some(({ done }) => !done));
  if (open) return go(walkHash(draft, open), { replace });
  const left = steps(app.book, draft).some((step) => !isDone(draft, step));
  return go(left ? openHash(app.book, draft) : `#/sofar/${draft.id}`, { replace });
}

class Walk {
  constructor(app, draft, at) {
    const [place, wheel = ""] = at.split(".");
    Object.assign(this, { app, draft, at, place, wheel, book: app.book, looking: performance.now() });
    this.problem = h("div", {});
    this.box = h("div", { class: "walk" });
  }

  key(fact) {
    const { scope } = this.book.data.facts[fact];
    if (scope === "trailer") return fact;
    return `${fact}@${scope === "axle" ? this.wheel[0] : this.wheel}`;
  }

  /** The zones here that this trailer has, each with what it settles; lamps are a row for each command. */
  rows() {
    const asked = new Set(steps(this.book, this.draft).flatMap((step) => step.keys));
    const zones = this.book.data.zones.filter((zone) => zone.place === this.place);
    const lamps = (facts) => LAMPS.slice(1)
      .map((lamp) => (lamp === "lamp_plate" ? LAMPS.slice(0, 2) : [lamp]).filter((one) => facts.includes(one)));
    const list = zones.flatMap(({ id, facts }) => {
      const all = facts.map((fact) => this.key(fact)), now = facts.filter((fact) => asked.has(this.key(fact)));
      const command = (some, n) => ({ zone: id, id: `lamps_${n + 1}`, all: some, keys: some });
      if (id === "lamps") return lamps(now).map(command);
      return [{ zone: id, id, all, keys: now.map((fact) => this.key(fact)) }];
    });
    return list.filter(({ keys }) => keys.length)
      .map((row) => ({ ...row, state: this.stateOf(row), done: this.stateOf(row) !== "" }));
  }

  stateOf({ id, all, keys }) {
    const { facts, looked = {} } = this.draft;
    const told = keys.every((key) => key in facts || factOf(key) === "inner_seen");
    if (!told || !(`${this.at}.${id}` in looked)) return "";
    const known = (key) => key in facts && facts[key] !== null && !Array.isArray(facts[key]);
    const bad = (key) => known(key) && facts[key] !== fineOf(key);
    if (all.some(bad)) return "something";
    return looked[`${this.at}.${id}`];
  }

  page() {
    this.draw();
    const title = placeName(this.wheel, axlesOf(this.draft)) || say(`app-walk-${this.place}`);
    return page({
      name: "asking walking", title,
      back: backButton(() => history.back()), middle: levelNow(this.book, this.draft),
      end: button(say("app-stop-later"), () => go("#/"), "plain"), body: [this.problem, this.box],
    });
  }

  draw() {
    const rows = this.rows(), { width, height, parts, zones } = placeDrawing(this.place, buildOf(this.draft.facts));
    const ids = [...new Set(rows.map(({ zone }) => zone))];
    const stateOf = (zone) => {
      const states = rows.filter((row) => row.zone === zone).map(({ state }) => state);
      if (states.every((one) => one && one !== "glance" && one !== "unsure")) return "fine";
      return states.includes("glance") ? "glance" : "";
    };
    const plates = ids.filter((id) => zones[id]).map((id) =>
      plate(ids.indexOf(id) + 1, zones[id].plate, zones[id].at, stateOf(id)));
    this.box.replaceChildren(drawing(say(`app-walk-${this.place}`), width, height, parts, plates),
      ...rows.map((row) => this.row(row, ids.indexOf(row.zone) + 1)));
  }

  row(row, number) {
    const { id, state } = row, name = say(`app-walk-zone-${id}`), lamp = id.startsWith("lamps");
    const pressed = (now) => String(state === now || (now === "fine" && state === "glance"));
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

  /** Fine, if it took as long as a look takes; else a glance. */
  fine(row) {
    const limit = (name) => this.book.data.limits[`walk.${name}`].value;
    const takes = row.id === "inside" ? limit("glance_inside") : row.keys.length * limit("glance_fault");
    const seen = (performance.now() - this.looking) / 1000 >= takes;
    const any = (key) => this.book.data.facts[factOf(key)].choices;
    return this.give(row, seen ? "fine" : "glance", (key) => (seen ? fineOf(key) : any(key)));
  }

  give(row, state, raw) {
    return this.save(row, state, Object.fromEntries(this.own(row).map((key) =>
      [key, { raw: factOf(key) === "inner_seen" ? this.innerSeen(key, state) : raw(key) }])));
  }

  /**
   * The keys a row may answer. The two sides of a tire share their faults: what was ticked at the other
   * one stays.
   */
  own(row) {
    const mine = this.draft.looked?.[`${this.at}.${row.id}`] === "something";
    const free = (key) => mine || this.draft.facts[key] !== "yes";
    return row.keys.filter((key) => (factOf(key) === "inner_seen" ? this.otherInside : free(key)));
  }

  /** How the inner side of the tire across the axle was looked at. */
  get otherInside() {
    return this.draft.looked?.[`wheel.${this.wheel[0]}${this.wheel[1] === "L" ? "R" : "L"}.inside`];
  }

  /** The inner sides of an axle count as seen only where both were looked at long enough. */
  innerSeen(key, state) {
    const sides = [state, this.otherInside];
    if (sides.includes("unsure")) return null;
    return sides.every((one) => one === "fine") ? "yes" : this.book.data.facts[factOf(key)].choices;
  }

  async save(row, state, given) {
    const before = this.draft;
    const next = { ...answered(before, given), looked: { ...before.looked, [`${this.at}.${row.id}`]: state } };
    this.looking = performance.now();
    this.draft = next;
    try {
      this.draft = await saveDraft(this.app, next);
    } catch (error) {
      const on = button(say("app-stop-unsaved"), () => this.forward(before), "plain");
      this.problem.replaceChildren(trouble(error.message, on));
      return null;
    }
    return this.forward(before);
  }

  forward(before) {
    if (freshStops(this.book, before, this.draft).length) return go(`#/now/${this.draft.id}`);
    document.querySelector(".walking .now")?.replaceWith(levelNow(this.book, this.draft));
    if (this.opened || this.rows().some(({ done }) => !done)) return this.draw();
    return onward(this.app, this.draft);
  }

  something(row) {
    if (row.id.startsWith("lamps")) return this.give(row, "something", () => "yes");
    this.opened = row.id;
    return this.draw();
  }

  /** Every fault of a zone, those of deeper walks too; each tick is kept when tapped. */
  faults(row) {
    const from = SAME[row.zone] ?? row.zone;
    const source = this.book.data.zones.find((zone) => zone.place === this.place && zone.id === from);
    const bad = (fact) => this.book.data.facts[fact].choices.filter((one) => one !== fineOf(fact));
    const ticked = (fact) => this.book.data.facts[fact].kind === "choice"
      && (isYesNo(this.book.data.facts[fact]) || fact in FINE);
    const facts = source.facts.filter(ticked);
    const ticks = facts.flatMap((fact) => bad(fact).map((choice) => this.tick(row, this.key(fact), choice)));
    const done = button(say("app-walk-no-more"), () => {
      this.opened = null;
      const rest = this.own(row).filter((key) => !(key in this.draft.facts) && factOf(key) !== "inner_seen");
      return this.save(row, "something", Object.fromEntries(rest.map((key) => [key, { raw: fineOf(key) }])));
    }, "answer main");
    return h("div", { class: "faults" }, h("ul", { class: "ticks" }, ticks), done);
  }

  tick(row, key, choice) {
    const fact = factOf(key), on = this.draft.facts[key] === choice;
    const alone = isYesNo(this.book.data.facts[fact]) && !(fact in FINE), ask = say(`fact-${fact}`);
    const text = alone ? ask : `${ask} ${say(`fact-${fact}.choice-${choice}`)}`;
    const tap = () => this.save(row, "something", { [key]: { raw: on ? fineOf(key) : choice } });
    return h("li", {}, button(text, tap, "tick", { "aria-pressed": String(on) }));
  }
}

const fineOf = (key) => FINE[factOf(key)] ?? "no";
