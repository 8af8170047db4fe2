// Faces of the plugs, as one looks into the socket or at the end of the plug: mirror images of each other.

import { say } from "../data/words.js";
import { h, svg } from "./h.js";

// Clock hours of the seven blades looking into the vehicle's socket, keyway up; 0 is the centre.
const HOURS = { white: 7, blue: 5, brown: 11, black: 1, yellow: 9, green: 3, purple: 0 };
const FLAT = ["white", "brown", "yellow", "green"];
/** @type {Record<string, string>} */
const LETTER = { white: "W", brown: "Br", yellow: "Y", green: "G", purple: "R", blue: "", black: "" };

/** Both faces of a plug with the contacts of `marked` filled; a name for each says from where it is seen. */
/** @param {string} plug @param {string[]} marked */
export function plugFaces(plug, marked) {
  return h("div", { class: "faces" }, ["socket", "plug"].map((side) => h("figure", {},
    svg("svg", { viewBox: "0 0 150 110", role: "img", "aria-label": say(`road-lamps-face-${side}`) },
      plug === "flat4" ? flat(side, marked) : blades(side, marked)),
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

/** @param {string} name @param {number} x @param {number} y @param {number} r @param {string[]} marked */
const contact = (name, x, y, r, marked) => svg("g", { class: marked.includes(name) ? "contact marked" : "contact" },
  svg("circle", { cx: x.toFixed(1), cy: y.toFixed(1), r }),
    svg("text", { x: x.toFixed(1), y: (y + 4).toFixed(1), "text-anchor": "middle" }, LETTER[name]));

// The contact that feeds each lamp: where its circuit is measured at the plug.
/** @type {Record<string, string[]>} */
const FEEDS = { main: ["white"], left: ["yellow", "brown"], right: ["green", "brown"], left_marker: ["brown"],
  right_marker: ["brown"], plate: ["brown"], reverse: ["purple"], module: FLAT, converter: FLAT, by_colour: FLAT };

/** The contacts at which a fault, as `kind` and `part`, is measured: a ground at white, else what feeds the part. */
/** @param {string} kind @param {string} part */
export const contactsOf = (kind, part) => (kind.startsWith("ground") ? FEEDS.main : FEEDS[part])
  ?? FLAT.concat("purple").filter((name) => (part ?? "").split("_").includes(name));
