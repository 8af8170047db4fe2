// The hand all drawings share: three line weights, flat fills, colours from the tokens of the page.
//
// Outline 4, part 2.5, detail 1.25 at 360 units of width; nothing is shaded. Colours come from
// classes, so a drawing follows sun and night by itself and prints in black and white.

import { svg } from "../h.js";

/** @param {string} d */
export const edge = (d) => svg("path", { class: "d-edge", d });
/** @param {string} d */
export const part = (d) => svg("path", { class: "d-part", d });
/** @param {string} d */
export const steel = (d) => svg("path", { class: "d-steel", d });
/** @param {string} d */
export const dark = (d) => svg("path", { class: "d-dark", d });
/** @param {string} d */
export const thin = (d) => svg("path", { class: "d-thin", d });
/** @param {string} d */
export const line = (d) => svg("path", { class: "d-ring", d });
/** @param {string} kind @param {number} cx @param {number} cy @param {number} r */
export const disc = (kind, cx, cy, r) => svg("circle", { class: `d-${kind}`, cx, cy, r });
/**
 * @param {string} kind @param {number} x @param {number} y @param {number} width @param {number} height
 * @param {number} rx
 */
export const box = (kind, x, y, width, height, rx = 0) => svg("rect", { class: `d-${kind}`, x, y, width, height, rx });

/** Ground under a side view. */
/** @param {number} y @param {number} from @param {number} to */
export const ground = (y, from = 8, to = 352) => svg("path", { class: "d-ground", d: `M${from} ${y}H${to}` });

/** `count` points evenly round a circle, the first at the top: `[[x, y, angle in radians]]`. */
/** @param {number} count @param {number} cx @param {number} cy @param {number} r */
export function round(count, cx, cy, r) {
  return Array.from({ length: count }, (_, n) => {
    const angle = (2 * Math.PI * n) / count - Math.PI / 2;
    return [cx + r * Math.cos(angle), cy + r * Math.sin(angle), angle];
  });
}

/** @param {number} n */
const to = (n) => Math.round(n * 10) / 10;

/** A six-sided nut. */
/** @param {number} cx @param {number} cy @param {number} r */
export function nut(cx, cy, r) {
  return part(`${round(6, cx, cy, r).map(([x, y], n) => `${n ? "L" : "M"}${to(x)} ${to(y)}`).join("")}Z`);
}

/** A whole drawing: `label` is what someone hears who cannot see it. */
/** @param {string} label @param {number} width @param {number} height @param {...Child} parts */
export function drawing(label, width, height, ...parts) {
  return svg("svg", { class: "drawing", viewBox: `0 0 ${width} ${height}`, role: "img", "aria-label": label }, parts);
}

/** The stamped plate of a zone with the stripe that joins it to its part once somebody looked. */
/** @param {number} number @param {XY} of1 @param {XY} of2 @param {string} state */
export function plate(number, [x, y], [px, py], state = "") {
  const far = Math.hypot(px - x, py - y) || 1, ux = (px - x) / far, uy = (py - y) / far;
  return svg("g", { class: state },
    svg("path", { class: "d-lead", d: `M${to(x + ux * 14)} ${to(y + uy * 14)}L${px} ${py}` }),
    svg("path",
      { class: "d-stripe", d: `M${to(x + ux * 10)} ${to(y + uy * 10)}L${to(x + ux * 30)} ${to(y + uy * 30)}` }),
    svg("rect", { class: "d-plate", x: x - 12, y: y - 12, width: 24, height: 24 }),
    svg("text", { class: "d-number", x, y: y + 5.5 }, String(number)));
}

const REACH = 40; // as far as this from a zone a finger still means it; units of the drawing

/** A drawing whose zones can be tapped: `chosen` hears the one that lies nearest to the finger. */
/** @param {Element} of @param {Record<string, ZoneMark>} zones @param {(zone: string) => unknown} chosen */
export function pointed(of, zones, chosen) {
  const picture = /** @type {SVGSVGElement} */ (of);
  picture.classList.add("pointed");
  picture.addEventListener("click", ({ clientX, clientY }) => {
    const frame = picture.getScreenCTM();
    if (!frame) return;
    const finger = new DOMPoint(clientX, clientY).matrixTransform(frame.inverse());
    const [nearest] = Object.entries(zones).map(([zone, { plate: from, at }]) =>
      ({ zone, far: fromLine([finger.x, finger.y], from, at) })).sort((a, b) => a.far - b.far);
    if (nearest && nearest.far <= REACH) chosen(nearest.zone);
  });
  return picture;
}

/** How far a point is from the line between two others. */
/** @param {XY} of @param {XY} from @param {XY} to */
function fromLine([x, y], [ax, ay], [bx, by]) {
  const [dx, dy] = [bx - ax, by - ay];
  const along = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(x - ax - along * dx, y - ay - along * dy);
}
