// Faces of the plugs, as one looks into the socket or at the end of the plug: mirror images of each other.

import { say } from "../data/words.js";
import { h, svg } from "./h.js";

// Clock hours of the seven blades looking into the vehicle's socket, keyway up; 0 is the centre.
const HOURS = { white: 7, blue: 5, brown: 11, black: 1, yellow: 9, green: 3, purple: 0 };
const FLAT = ["white", "brown", "yellow", "green"];
// The seven round pins by number (ISO 1724): 1 at the top, keyway at 4, 7 in the middle. Which way round the ring
// they are counted is from memory; the number is moulded beside each.
const ROUND = ["yellow", "blue", "white", "green", "brown", "red", "black"];
/** @type {Record<string, string>} */
const LETTER = { white: "W", brown: "Br", yellow: "Y", green: "G", purple: "R", blue: "", black: "" };

/** Both faces of a plug with the contacts of `marked` filled; a name for each says from where it is seen. */
/** @param {string} plug @param {string[]} marked */
export function plugFaces(plug, marked) {
  return h("div", { class: "faces" }, ["socket", "plug"].map((side) => h("figure", {},
    svg("svg", { viewBox: "0 0 150 110", role: "img", "aria-label": say(`road-lamps-face-${side}`) },
      FACES[plug](side, marked)),
    h("figcaption", {}, say(`road-lamps-face-${side}`)))));
}

/** @param {string} side @param {string[]} marked */
function flat(side, marked) {
  const order = side === "socket" ? FLAT : FLAT.toReversed();
  return [svg("rect", { class: "shell", x: 5, y: 34, width: 140, height: 42, rx: 12 }), order.map((name, n) =>
    contact(name, 26 + n * 33, 55, 12, marked))];
}

/** @param {string} side @param {string[]} marked */
function blades(side, marked) {
  const face = [svg("circle", { class: "shell", cx: 75, cy: 57, r: 50 }),
    svg("rect", { class: "shell", x: 68, y: 1, width: 14, height: 8 })];
  return [face, Object.entries(HOURS).map(([name, hour]) => {
    const angle = hour * Math.PI / 6, way = side === "socket" ? 1 : -1;
    const [x, y] = hour ? [75 + way * 34 * Math.sin(angle), 57 - 34 * Math.cos(angle)] : [75, 57];
    return contact(name, x, y, 11, marked);
  })];
}

/** @param {string} side @param {string[]} marked */
function round(side, marked) {
  const way = side === "socket" ? 1 : -1;
  return [svg("circle", { class: "shell", cx: 75, cy: 53, r: 48 }),
    svg("rect", { class: "shell", x: 68, y: 101, width: 14, height: 8 }), ROUND.map((name, n) => {
      const angle = n * Math.PI / 3, [x, y] = n < 6 ? [75 + way * 32 * Math.sin(angle), 53 - 32 * Math.cos(angle)]
        : [75, 53];
      return contact(name, x, y, 11, marked, String(n + 1));
    })];
}

/** @type {Record<string, (side: string, marked: string[]) => Child>} */
const FACES = { flat4: flat, blade7: blades, round7: round };

/** @type {(name: string, x: number, y: number, r: number, marked: string[], letter?: string) => Element} */
const contact = (name, x, y, r, marked, letter = LETTER[name]) =>
  svg("g", { class: marked.includes(name) ? "contact marked" : "contact" },
    svg("circle", { cx: x.toFixed(1), cy: y.toFixed(1), r }),
    svg("text", { x: x.toFixed(1), y: (y + 4).toFixed(1), "text-anchor": "middle" }, letter));

// The contacts that feed each lamp: where its circuit is measured at the plug. First of plugs with one lamp for stop
// and turn, then of the round one.
/** @type {Record<string, string[]>} */
const FEEDS = { main: ["white"], left: ["yellow", "brown"], right: ["green", "brown"], left_marker: ["brown"],
  right_marker: ["brown"], plate: ["brown"], reverse: ["purple"], module: FLAT, converter: FLAT, by_colour: FLAT,
  turn_left: ["yellow"], turn_right: ["green"], stop: ["yellow", "green"], in_tail: ["brown"] };
/** @type {Record<string, string[]>} */
const OWN_TURN = { ...FEEDS, left: ["red", "black"], right: ["red", "brown"], left_marker: ["black"],
  module: ROUND.filter((name) => name !== "blue") };
/** @type {Record<string, string[]>} */
const TURNS = { left: ["yellow"], right: ["green"] };

/** The contacts at which a fault, as `kind` and `part`, is measured: a ground at white, else what feeds the part. */
/** @param {string} plug @param {string} kind @param {string} [part] */
export function contactsOf(plug, kind, part = "") {
  if (kind.startsWith("ground")) return FEEDS.main;
  if (kind === "dead_turn") return TURNS[part];
  return (plug === "round7" ? OWN_TURN : FEEDS)[part]
    ?? ROUND.concat("purple").filter((name) => part.split("_").includes(name));
}
