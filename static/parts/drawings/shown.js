// Which drawing explains which question, and the box that shows one with its parts named.

import { axlesOf, factOf } from "../../data/asking.js";
import { has, say } from "../../data/words.js";
import { h } from "../h.js";
import { button } from "../page.js";
import * as details from "./details.js";
import { buildOf } from "./trailer.js";

/** Each drawing with the facts it explains. @type {Record<string, Subject>} */
export const SUBJECTS = {
  hub: { draw: details.hub, facts: ["hub_feel", "hub_reading", "hub_spot", "drum_reading", "barrel_reading",
    "barrel_feel", "again_reading", "again_feel", "pair_feel", "cap_wet",
    "hub_cap_off", "seal_leak", "nuts", "nut_count", "smoke", "thrown_grease"] },
  sidewall: { draw: details.sidewall, facts: ["tire_size", "load_range", "tire_max", "tire_made", "tire_rating",
    "load_index", "speed_symbol", "not_for_road", "size_match", "range_match", "spare_made", "spare_other",
    "rating_by"] },
  wear_bars: { draw: details.wearBars, facts: ["wear_bars", "tread", "tread_by"] },
  wear_patterns: { draw: details.wearPatterns, facts: ["worn_centre", "worn_edges", "worn_side", "worn_cupped"] },
  latch: { draw: details.latch, facts: ["latch", "latch_worn", "latch_moved", "ball_size", "coupler_size", "ball_worn",
    "ball_loose", "ball_rating", "coupler_rating"] },
  lift_test: { draw: details.liftTest, facts: ["lift_test"] },
  chains: { draw: details.chains, facts: ["chain_uncrossed", "chain_missing", "chain_anchor", "chain_hook",
    "chain_length", "chain_worn", "chain_off", "chains_hooked", "chain_angle", "chain_slack", "chains_fitted"] },
  breakaway: { draw: details.breakaway, facts: ["breakaway_off", "breakaway_cable", "breakaway_battery", "pin_pull",
    "breakaway_minutes"] },
  spring: { draw: details.spring, facts: ["spring_broken", "ubolt_loose", "shackle_worn", "equalizer_bad",
    "axle_bent", "equalized"] },
  surge_box: { draw: details.surgeBox, facts: ["fluid_low", "fluid_leak", "actuator", "hose_worn", "lockout_stuck"] },
  plugs: { draw: details.plugs, facts: ["plug_worn", "plug_off", "wire_bare", "wire_drags", "ground_rusty",
    "plug_volts"] },
  end_play: { draw: details.endPlay, facts: ["play", "play_wanted", "play_left", "rock_edge", "rock"] },
  lever: { draw: details.lever, facts: ["tongue_by", "lever_reading", "lever_pivot", "lever_scale"] },
  tie_down: { draw: details.tieDown, facts: ["straps_few", "strap_slack", "strap_worn", "ties_counted", "over_angle",
    "tie_1_angle", "tie_2_angle", "load_loose", "both_ends"] },
  rear_lamps: { draw: details.rearLamps, facts: ["width", "lamps_lit", "lamp_tail", "lamp_stop", "lamp_plate",
    "lamp_clearance", "lamp_identification", "reflector", "count_tail", "count_identification", "count_clearance",
    "count_plate_lamp", "count_rear_reflector"] },
};

const READ = ["fact", "is", "pick", "rank", "known"]; // operators that name a fact
const MOST = 3; // drawings offered at a time

/** A way to each drawing that explains one of `keys`, on a trailer of `facts`; nothing where none does. */
/** @param {string[]} keys @param {Answers} facts */
export function drawingsOf(keys, facts) {
  const asked = keys.map(factOf);
  const names = Object.keys(SUBJECTS).filter((name) => SUBJECTS[name].facts.some((fact) => asked.includes(fact)));
  if (!names.length) return new DocumentFragment();
  return h("div", { class: "looks" }, names.slice(0, MOST).map((name) =>
    button(say(`drawing-${name}`), () => explain(name, facts), "plain noun")));
}

/** A drawing over the screen, with its parts named. */
/** @param {string} name @param {Answers} facts */
export function explain(name, facts) {
  const title = say(`drawing-${name}`), picture = SUBJECTS[name].draw(title, buildOf(facts));
  /** @type {HTMLDialogElement} */
  const box = h("dialog", { class: "explained", "aria-label": title, onclose: () => box.remove() },
    h("h2", {}, title), picture,
    h("ol", {}, partsOf(name, picture, axlesOf({ facts })).map((text) => h("li", {}, text))),
    h("p", {}, say(`drawing-${name}.help`)), button(say("app-see"), () => box.close(), "answer main"));
  document.body.append(box);
  box.showModal();
}

/** The names of the parts that are numbered on a drawing, in their order. */
/** @param {string} name @param {Element} picture @param {number} axles */
const partsOf = (name, picture, axles) => Array.from({ length: picture.querySelectorAll(".d-plate").length },
  (_, n) => `drawing-${name}.part-${n + 1}`).filter(has).map((id) => say(id, { axles }));

/** The facts that a rule's formula reads. */
/** @param {unknown} tree @returns {string[]} */
export function factsIn(tree) {
  if (!Array.isArray(tree)) return [];
  const [head, name] = tree, own = READ.includes(head) ? [String(name)] : [];
  return [...own, ...tree.slice(1).flatMap(factsIn)];
}
