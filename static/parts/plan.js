// The trailer from above, hitch at the top: left on the page is left on the trailer.

import { placeName, say } from "../data/words.js";
import { h, svg } from "./h.js";
import { shape } from "./sign.js";

const WIDTH = 120, TONGUE = 34, GAP = 34, BODY = { x: 34, width: 52 };

/** @param {number} n @param {number} axles @param {number} length */
const axleY = (n, axles, length) => TONGUE + length / 2 + 8 + (n - (axles + 1) / 2) * GAP;

/** What the plan says to someone who cannot see it. */
/** @param {number} axles @param {string | null} at @param {Record<string, Level> | null} levels */
function spoken(axles, at, levels) {
  if (levels) {
    const told = Object.entries(levels).map(([p, l]) =>
      say("app-plan-mark", { place: placeName(p, axles) || say("app-trailer"), level: say(`level-${l}`) }));
    return say("app-plan-marked", { marks: told.join(" ") });
  }
  return say("app-plan", { axles, place: placeName(at ?? "", axles) || say("app-trailer") });
}

/** The trailer from above with its tires to be tapped: `chosen` hears which one; `marked` are those with something. */
/** @param {{ axles: number, marked: string[], chosen: (place: string) => void }} of1 */
export function tires({ axles, marked, chosen }) {
  /** @type {HTMLElement[]} */
  const all = [];
  /** @param {string} place */
  const one = (place) => {
    const tire = h("button", { type: "button", class: "tire", "aria-pressed": "false",
      "aria-label": placeName(place, axles), onclick: () => {
        const on = tire.getAttribute("aria-pressed") === "false";
        for (const other of all) other.setAttribute("aria-pressed", String(on && other === tire));
        chosen(on ? place : "");
      } }, marked.includes(place) ? "●" : "");
    all.push(tire);
    return tire;
  };
  return h("div", { class: "tires", role: "group", "aria-label": say("app-stop-which-wheel") },
    svg("svg", { viewBox: "0 0 60 26", "aria-hidden": "true" },
      svg("path", { d: "M8 26L30 8 52 26M25 8a5 5 0 1 0 10 0a5 5 0 1 0 -10 0" })),
    Array.from({ length: axles }, (_, n) => [one(`${n + 1}L`), h("i", {}), one(`${n + 1}R`)]));
}

// Stations that are one end of the trailer rather than the whole of it.
/** @type {Record<string, string>} */
const ENDS = { hitch: "front", rear: "rear" };

/** The plan: `at` highlights a place (`station` tells its end), `levels` marks each with its sign. */
/** @param {PlanParts} of */
export function plan({ axles = 1, at = null, station = "", levels = null }) {
  const length = 56 + GAP * (axles - 1) + 20, height = TONGUE + length + 10;
  /** @param {string} place */
  const here = (place) => at !== null && at !== "" && (place === at || place.startsWith(at));
  const end = at === "" ? ENDS[station] ?? "all" : "";
  /** @type {Child[]} */
  const parts = [tongue(end === "front"), svg("rect",
    { class: end === "all" ? "bed here" : "bed", ...BODY, y: TONGUE, height: length, rx: 4 })];
  for (let n = 1; n <= axles; n++) {
    const y = axleY(n, axles, length);
    parts.push(svg("path", { class: here(String(n)) ? "axle here" : "axle", d: `M22 ${y}H98` }));
    for (const [side, x] of Object.entries({ L: 10, R: 98 })) {
      parts.push(svg("rect", { class: here(n + side) ? "tire here" : "tire", x, y: y - 14, width: 12, height: 28,
        rx: 3 }));
    }
  }
  if (end === "rear") parts.push(svg("path", { class: "here", d: `M${BODY.x} ${TONGUE + length}h${BODY.width}` }));
  if (levels) parts.push(marks(levels, axles, length));
  return h("div", { class: "plan" }, svg("svg", {
    viewBox: `0 0 ${WIDTH} ${height}`, role: "img", "aria-label": spoken(axles, at, levels),
  }, parts));
}

/** @param {boolean} here */
function tongue(here) {
  const mark = here ? " here" : "";
  return [svg("path", { class: `tongue${mark}`, d: `M60 8L44 ${TONGUE}M60 8L76 ${TONGUE}` }),
    svg("circle", { class: `ball${mark}`, cx: 60, cy: 7, r: 5 })];
}

/** @param {Record<string, Level>} levels @param {number} axles @param {number} length */
function marks(levels, axles, length) {
  return Object.entries(levels).map(([place, level]) => {
    const y = place ? axleY(Number(place[0]), axles, length) : TONGUE + 12;
    const x = { L: 16, R: 104 }[place[1]] ?? 60;
    return shape(level, { transform: `translate(${x - 12} ${y - 12}) scale(.5)` });
  });
}
