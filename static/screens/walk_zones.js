// The zones of a place on the walk: drawn with their numbers, each called fine, or something, or not sure.
// One called fine sooner than it can be looked at counts as a glance.

import { answered, factOf, isYesNo } from "../data/asking.js";
import { fineOf, glanceOf } from "../data/walking.js";
import { say } from "../data/words.js";
import { placeDrawing, buildOf } from "../parts/drawings/trailer.js";
import { drawingsOf } from "../parts/drawings/shown.js";
import { drawing, plate, pointed } from "../parts/drawings/line.js";
import { h } from "../parts/h.js";
import { button, trouble } from "../parts/page.js";

/** @typedef {import("./walk.js").Walk} Walk */
/** @typedef {import("../data/walking.js").Place} Place */

/** @param {Walk} walk @param {Place} of @param {ZoneRow[]} rows @param {string[]} ids */
export function picture(walk, { name }, rows, ids) {
  const { width, height, parts, zones } = placeDrawing(name, buildOf(walk.draft.facts));
  /** @param {string} zone */
  const stateOf = (zone) => {
    const states = rows.filter((row) => row.zone === zone).map(({ state }) => state);
    if (states.every((one) => one && one !== "glance" && one !== "unsure")) return "fine";
    return states.includes("glance") ? "glance" : "";
  };
  const here = ids.filter((id) => zones[id]);
  const plates = here.map((id) => plate(ids.indexOf(id) + 1, zones[id].plate, zones[id].at, stateOf(id)));
  return pointed(drawing(say(`app-walk-${name}`), width, height, parts, plates),
    Object.fromEntries(here.map((id) => [id, zones[id]])), (id) => tapped(walk, rows, id));
}

/** @param {Walk} walk @param {ZoneRow} row @param {number} number */
export function zoneRow(walk, row, number) {
  const { id, state } = row, name = say(`app-walk-zone-${id}`), lamp = isLamp(id);
  /** @param {string} now */
  const pressed = (now) => String(walk.opened === id ? now === "something"
    : state === now || (now === "fine" && state === "glance"));
  /** @param {string} word @param {() => unknown} tap @param {string} now */
  const one = (word, tap, now) => button(say(word), tap, `pick ${now}`,
    { "aria-pressed": pressed(now), "aria-label": `${name}: ${say(word)}` });
  return h("section", { class: `zone-row ${state}`, "data-zone": id },
    h("h2", {}, h("span", { class: "stamp" }, String(number)), name,
      state === "glance" ? h("span", { class: "hint" }, say("app-walk-glance")) : null),
    h("div", { class: "picks" },
      one(lamp ? "app-walk-lit" : "app-walk-fine", () => fine(walk, row), "fine"),
      one(lamp ? "app-walk-unlit" : "app-walk-something", () => something(walk, row), "something"),
      one("app-not-sure", () => give(walk, row, "unsure", () => null), "unsure")),
    walk.opened === id ? faults(walk, row) : null);
}

/** @param {string} id */
function isLamp(id) { return /^lamps_\d/.test(id); }

/** Fine, if it took as long as a look takes; else a glance. */
/** @param {Walk} walk @param {ZoneRow} row */
function fine(walk, row) {
  /** @param {string} name */
  const limit = (name) => Number(walk.book.data.limits[`walk.${name}`].value);
  const takes = row.id === "inside" ? limit("glance_inside") : row.keys.length * limit("glance_fault");
  const seen = (performance.now() - walk.looking) / 1000 >= takes;
  return give(walk, row, seen ? "fine" : "glance", (key) => (seen ? fineOf(key) : glanceOf(walk.book, key)));
}

/** @param {Walk} walk @param {ZoneRow} row @param {Look} state @param {(key: string) => Raw} raw */
function give(walk, row, state, raw) {
  const given = Object.fromEntries(own(walk, row).map((key) =>
    [key, { raw: factOf(key) === "inner_seen" ? innerSeen(walk, key, state) : raw(key) }]));
  if (walk.opened === row.id) walk.opened = null;
  return answer(walk, row, state, given);
}

/**
 * The keys a row may answer. The two sides of a tire share their faults: what was ticked at the other
 * one stays.
 */
/** @param {Walk} walk @param {ZoneRow} row */
export function own(walk, row) {
  const mine = walk.draft.looked?.[`${walk.at}.${row.id}`] === "something";
  /** @param {string} key */
  const free = (key) => mine || walk.draft.facts[key] !== "yes";
  return row.keys.filter((key) => (factOf(key) === "inner_seen" ? otherInside(walk) : free(key)));
}

/** How the inner side of the tire across the axle was looked at. */
/** @param {Walk} walk */
function otherInside(walk) {
  const { wheel } = walk.place;
  return walk.draft.looked?.[`wheel.${wheel[0]}${wheel[1] === "L" ? "R" : "L"}.inside`];
}

/** The inner sides of an axle count as seen only where both were looked at long enough. */
/** @param {Walk} walk @param {string} key @param {Look} state */
function innerSeen(walk, key, state) {
  const sides = [state, otherInside(walk)];
  if (sides.includes("unsure")) return null;
  return sides.every((one) => one === "fine" || one === "something") ? "yes" : glanceOf(walk.book, key);
}

/** @param {Walk} walk @param {ZoneRow} row @param {Look} state @param {Given} given */
function answer(walk, row, state, given) {
  const looked = { ...walk.draft.looked, [`${walk.at}.${row.id}`]: state };
  return walk.save({ ...answered(walk.draft, given), looked });
}

/** A zone tapped on the drawing opens its list; of the lamps, the first that is still open is brought up. */
/** @param {Walk} walk @param {ZoneRow[]} rows @param {string} zone */
function tapped(walk, rows, zone) {
  const there = rows.filter((row) => row.zone === zone), row = there.find(({ state }) => !state) ?? there[0];
  if (!isLamp(row.id)) something(walk, row);
  const section = walk.box.querySelector(`[data-zone="${row.id}"]`);
  section?.scrollIntoView({ block: "start" });
  /** @type {HTMLElement | null | undefined} */
  const first = section?.querySelector(".tick") ?? section?.querySelector(".pick");
  first?.focus({ preventScroll: true });
}

/** @param {Walk} walk @param {ZoneRow} row */
function something(walk, row) {
  if (isLamp(row.id)) return give(walk, row, "something", () => "yes");
  walk.opened = row.id;
  return walk.draw();
}

/** Every fault of a zone, those of deeper walks too; each tick is kept when tapped. */
/** @param {Walk} walk @param {ZoneRow} row */
function faults(walk, row) {
  const { place } = walk, bad = /** @param {string} fact */ (fact) => walk.book.data.facts[fact].choices
    .filter((one) => one !== fineOf(fact));
  const ticks = row.faults.flatMap((fact) => bad(fact).map((choice) => tick(walk, row, place.key(fact), choice)));
  const drawn = drawingsOf(row.faults, walk.draft.facts);
  return h("div", { class: "faults" }, drawn, h("ul", { class: "ticks" }, ticks),
    button(say("app-walk-no-more"), () => noMore(walk, row), "answer main"));
}

/** @param {Walk} walk @param {ZoneRow} row */
function noMore(walk, row) {
  if (!walk.place.hasFault(row)) { // the zone is still to be answered
    const list = walk.box.querySelector(`[data-zone="${row.id}"] .faults`);
    return list?.querySelector(".trouble") ?? list?.append(trouble(say("app-walk-none-ticked")));
  }
  walk.opened = null;
  const rest = own(walk, row).filter((key) => !isTold(walk.draft.facts[key]) && factOf(key) !== "inner_seen");
  /** @type {Given} */
  const given = Object.fromEntries(rest.map((key) => [key, { raw: fineOf(key) }]));
  for (const key of row.keys) {
    if (factOf(key) === "inner_seen" && otherInside(walk)) given[key] = { raw: innerSeen(walk, key, "something") };
  }
  return answer(walk, row, "something", given);
}

/** @param {Walk} walk @param {ZoneRow} row @param {string} key @param {string} choice */
function tick(walk, row, key, choice) {
  const fact = factOf(key), on = walk.draft.facts[key] === choice;
  const alone = isYesNo(walk.book.data.facts[fact]) && choice === "yes", ask = say(`fact-${fact}`);
  const text = alone ? ask : `${ask} ${say(`fact-${fact}.choice-${choice}`)}`;
  const tap = () => answer(walk, row, "something", { [key]: { raw: on ? fineOf(key) : choice } });
  return h("li", {}, button(text, tap, "tick", { "aria-pressed": String(on) }));
}

/** @param {Raw} raw */
const isTold = (raw) => raw !== undefined && raw !== null && !Array.isArray(raw);
