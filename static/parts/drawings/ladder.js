// The touch ladder of a stop: what sound hubs feel like today, and beside it what these hubs were.

import { axlesOf, isKnown } from "../../data/asking.js";
import { placeName, say } from "../../data/words.js";
import { compileTree, rangeOf } from "../../engine/formula.js";
import { h, svg } from "../h.js";
import { valueText } from "../numbers.js";
import { drawing, edge } from "./line.js";

const RUNG = 26, TOP = 22, LEFT = 74, RIGHT = 246, LEAST = 0, MOST = 80; // degC, the ends that are drawn
/** @type {Record<string, string>} */
const BY = { hand: "hub_feel", thermometer: "hub_reading" };
const SIDES = { L: LEFT - 30, R: RIGHT + 30 };

/** A ladder for each axle whose hubs were felt or measured, with what it says in words. */
/** @param {OpenBook} book @param {Payload} check @param {System} system */
export function ladders(book, check, system) {
  const { kase, book: rules } = book.read({ check: check.check, date: check.date, facts: check.facts });
  /** @type {(tree: Tree, place: string) => Interval} */
  const worth = (tree, place) => rangeOf(compileTree(tree, rules.context)(kase, place));
  // what a hand told before a thermometer is fetched is no reading
  const fact = BY[String(check.facts.hub_method)];
  const told = kase.wheels.filter((wheel) => isKnown(check.facts[`${fact}@${wheel}`]));
  if (!told.length) return null;
  const air = isKnown(check.facts.air) || Array.isArray(check.facts.air) ? worth(["fact", "air"], "") : null;
  return h("section", {}, h("h2", {}, say("drawing-touch_ladder")),
    [...new Set(told.map((wheel) => wheel.slice(0, -1)))].map((axle) => {
      const wheels = told.filter((wheel) => wheel.slice(0, -1) === axle);
      const most = Math.max(...wheels.map((wheel) => worth(["quantity", "sound_usual"], wheel)[1]));
      /** @type {Interval | null} */
      const band = air && air[1] + most <= MOST ? [air[0], air[1] + most] : null;
      const hubs = wheels.map((wheel) => ({ wheel, range: worth(["quantity", "hub_surface"], wheel) }));
      const drawn = ladder(book, axle, axlesOf(check), band, hubs, system, air ? "wide" : "no-band");
      drawn.querySelector("figcaption")?.append(...besideMate(book, check, axle, band, hubs));
      return drawn;
    }));
}

// Findings on what two mates differ by: a hub that is usual by itself may be too warm beside its mate.
const APART = ["pair_apart", "pair_after_work", "hub_far_from_mate", "hub_warmer_than_mate"];

/** Which of two mates was felt to be warmer, and why that counts where each alone is usual. */
/**
 * @param {OpenBook} book @param {Payload & { verdict?: Pick<Verdict, "findings"> }} check @param {string} axle
 * @param {Interval | null} band @param {{ range: Interval }[]} hubs
 */
function besideMate(book, { facts, verdict }, axle, band, hubs) {
  const felt = facts[`pair_feel@${axle}`], told = typeof felt === "string"
    && book.data.facts.pair_feel?.choices.includes(felt) ? [` ${say(`fact-pair_feel.choice-${felt}`)}.`] : [];
  const apart = verdict?.findings.some(({ finding, place }) => APART.includes(finding) && place.startsWith(axle));
  const usual = band && hubs.every(({ range }) => range[0] <= band[1]);
  return apart && usual ? [...told, ` ${say("drawing-touch_ladder.apart")}`] : told;
}

/** The rungs from cold up: each word with the degrees it stands for. */
/** @param {OpenBook} book */
const rungsOf = (book) => Object.keys(book.data.limits).filter((name) => name.startsWith("hubs.touch_"))
  .map((name) => ({ feel: name.slice("hubs.touch_".length), ends: book.data.limits[name].value }))
  .filter(({ feel }) => book.data.facts.hub_feel.choices.includes(feel))
  .map(({ feel, ends }) => ({ feel, ends: /** @type {Interval} */ (ends) })).sort((a, b) => a.ends[0] - b.ends[0]);

/**
 * @param {OpenBook} book @param {string} axle @param {number} axles @param {Interval | null} band
 * @param {{ wheel: string, range: Interval }[]} hubs @param {System} system
 * @param {string} unknown why there is no band
 */
function ladder(book, axle, axles, band, hubs, system, unknown) {
  const rungs = rungsOf(book), high = TOP + rungs.length * RUNG, y = heights(rungs, high);
  const text = band ? say("drawing-touch_ladder.band", { most: valueText(book, [band[1], band[1]], "degC", system) })
    : say(`drawing-touch_ladder.${unknown}`);
  const words = rungs.map(({ feel }, n) => {
    const top = high - (n + 1) * RUNG, within = band && y(band[1]) < top + RUNG - 1;
    return [svg("rect", { class: within ? "d-steel" : "d-rung", x: LEFT, y: top, width: RIGHT - LEFT, height: RUNG }),
      svg("text", { class: "d-word", x: (LEFT + RIGHT) / 2, y: top + RUNG / 2 + 4.5, "text-anchor": "middle" },
        say(`fact-hub_feel.choice-${feel}`).split(",")[0])];
  });
  const bracket = band && [LEFT - 6, RIGHT + 6].map((x) => edge(`M${x} ${y(band[0])}V${y(band[1])}`));
  return h("figure", { class: "touched" },
    drawing(text, 320, high + 6, words, bracket, hubs.map((hub) => reading(hub, y))),
    h("figcaption", {}, axles > 1 ? h("strong", {}, placeName(axle, axles), " ") : null, text));
}

/** Where a temperature stands on rungs of one height. */
/** @param {{ ends: Interval }[]} rungs @param {number} bottom @returns {(degC: number) => number} */
function heights(rungs, bottom) {
  const edges = [LEAST, ...rungs.slice(1).map(({ ends }) => ends[0]), MOST];
  return (degC) => {
    const within = Math.min(Math.max(degC, LEAST), MOST);
    const n = Math.min(edges.findLastIndex((one) => one <= within), rungs.length - 1);
    return bottom - (n + (within - edges[n]) / (edges[n + 1] - edges[n])) * RUNG;
  };
}

/** A hub beside the ladder, left on the left: as long as what was told leaves open. */
/** @param {{ wheel: string, range: Interval }} of @param {(degC: number) => number} y */
function reading({ wheel, range: [low, high] }, y) {
  const side = wheel.endsWith("L") ? "L" : "R", x = SIDES[side], long = Math.max(y(low) - y(high), 6);
  const tip = side === "L" ? LEFT - 10 : RIGHT + 10, middle = y(high) + long / 2;
  return [svg("text", { class: "d-word", x, y: 14, "text-anchor": "middle" }, say(`drawing-touch_ladder.${side}`)),
    svg("rect", { class: "d-plate", x: x - 6, y: y(high), width: 12, height: long }),
    svg("path", { class: "d-thin", d: `M${x} ${middle}H${tip}` })];
}
