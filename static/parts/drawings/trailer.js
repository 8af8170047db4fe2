// This trailer, drawn from where a person stands: its side, its hitch, a wheel, its rear, its load.
//
// Each place gives the drawing's parts and, for each zone that this trailer has there, where its
// plate stands and which point of the drawing the plate belongs to. Proportions are those of a
// light trailer of five by eight feet (common practice, no source); nothing is to scale.

import { box, disc, dark, edge, ground, nut, part, round, steel, thin } from "./line.js";

/** @type {Record<string, boolean>} */
const WIDE = { under_80: false, "80_or_more": true };

/** What a drawing has to know of a trailer. */
/** @param {Answers} facts */
export function buildOf(facts) {
  /** @param {string} name */
  const yes = (name) => facts[name] === "yes";
  return {
    axles: Number(facts.axles) || 1, brakes: String(facts.brakes ?? "none"), boat: yes("boat"), tilt: yes("tilt"),
    ramps: yes("ramps"), enclosed: yes("enclosed"), wide: WIDE[String(facts.width)],
  };
}

/** @type {Record<string, (build: Build) => PlaceDrawing>} */
const PLACES = { hitch, side, wheel, rear, load };

/** `{width, height, parts, zones: {id: {plate: [x, y], at: [x, y]}}}` of a place. */
/** @param {string} place @param {Build} build */
export const placeDrawing = (place, build) => PLACES[place](build);

// ---- from the side --------------------------------------------------------------------------

/** @param {number} axles */
function wheelsAt(axles) {
  const first = 214 - (axles - 1) * 32;
  return Array.from({ length: axles }, (_, n) => first + n * 64);
}

/** @param {number} x @param {number} y */
const sideWheel = (x, y = 142) => [disc("tire", x, y, 30), disc("rim", x, y, 19), disc("barrel", x, y, 7)];

/** @param {Build} of */
function sideBody({ axles, boat, enclosed, tilt, ramps }) {
  if (boat) {
    return [edge("M88 128H316"), part("M84 112Q90 74 112 70H312L304 112Q196 122 84 112Z"), thin("M96 92H308"),
      part("M62 78h10v50h-10z"), thin("M72 84L92 90"), part("M146 116h16v12h-16zM262 116h16v12h-16z")];
  }
  if (enclosed) return [part("M92 40H316V128H92Q80 84 92 40Z"), thin("M92 118H316M270 58h30v60M296 90v8"),
    box("steel", 110, 54, 26, 6)];
  const walls = [part("M92 102H316V128H92Z"), thin("M92 110H316"), edge("M92 102V76H312V102"),
    thin("M136 76v26M180 76v26M224 76v26M268 76v26")];
  const end = ramps ? [edge("M316 128V66"), thin("M322 70v54M312 92h10")] : [edge("M316 128V80")];
  return [...walls, ...end, tilt ? steel(`M${wheelsAt(axles)[0] - 66} 128h20l-10 14z`) : null];
}

/** @param {number[]} wheels */
function sideFender(wheels) {
  const [a, b] = [wheels[0] - 40, wheels[wheels.length - 1] + 40];
  return edge(`M${a} 138a40 40 0 0 1 40 -38H${b - 40}a40 40 0 0 1 40 38`);
}

/** The parts at the front of a side view: tongue, coupler, jack and what the brakes have there. */
/** @param {Build} of */
function sideTongue({ brakes }) {
  return [edge("M92 128H44L30 136"), part("M20 130h20v14H20z"), part("M56 96h7v44h-7z"), thin("M59.5 140v22M52 164h15"),
    thin("M26 144q8 12 20 -2"), brakes === "surge" ? steel("M66 118h22v10H66z") : null,
    brakes === "electric" ? [part("M68 114h20v14H68z"), thin("M74 110v4M82 110v4")] : null];
}

/** @type {(build: Build) => PlaceDrawing} */
function side(build) {
  const wheels = wheelsAt(build.axles);
  return {
    width: 360, height: 180,
    parts: [sideBody(build), sideTongue(build), wheels.map((x) => sideWheel(x)), sideFender(wheels), ground(172)],
    zones: Object.fromEntries(wheels.map((x, n) => [String(n + 1), { plate: [x, 100], at: [x, 112] }])),
  };
}

// ---- the hitch, from the left and a little above ----------------------------------------------

/** @type {(build: Build) => PlaceDrawing} */
function hitch(build) {
  const breakaway = build.brakes !== "none";
  const parts = [
    part("M0 58h62v26H0z"), steel("M62 64h48v14H62z"), disc("part", 52, 71, 5), thin("M52 64V50M46 50h12"),
    steel("M92 50h22v14H92z"), disc("steel", 103, 40, 13),
    part("M88 34Q90 16 112 16H172L196 34V62H176L166 48H128Q120 62 92 58Z"), part("M128 16L142 2H172L166 16Z"),
      disc("steel", 156, 24, 4),
    edge("M196 40H360M196 58H360"), thin("M196 49H360"),
    chains(), plug(),
    part("M262 8h14v62h-14z"), thin("M269 70V118"), steel("M256 118h26v8h-26z"), thin("M276 14h16M292 10v10"),
    breakaway ? [part("M206 62h26v14H206z"), thin("M206 70Q150 96 66 84")] : null,
    build.brakes === "surge" ? [steel("M200 24h46v16H200z"), part("M214 14h18v10H214z")] : null,
  ];
  /** @type {Record<string, ZoneMark>} */
  const zones = {
    ball: { plate: [104, 104], at: [104, 66] }, latch: { plate: [200, 14], at: [160, 12] },
    chains: { plate: [170, 134], at: [146, 112] }, plug: { plate: [30, 112], at: [54, 96] },
      jack: { plate: [306, 96], at: [276, 90] },
  };
  if (breakaway) zones.breakaway = { plate: [236, 112], at: [220, 78] };
  if (build.brakes === "surge") zones.fluid = { plate: [340, 16], at: [232, 18] };
  return { width: 360, height: 150, parts, zones };
}

/** Two hanging chains, a link at a time along a parabola. */
function chains() {
  /** @param {number} x1 @param {number} y1 @param {number} x2 @param {number} y2 @param {number} sag */
  const hung = (x1, y1, x2, y2, sag) => Array.from({ length: 9 }, (_, n) => {
    const f = n / 8;
    return disc("ring", x1 + (x2 - x1) * f, y1 + (y2 - y1) * f + 4 * sag * f * (1 - f), 4.5);
  });
  return [hung(64, 80, 196, 62, 34), hung(64, 84, 212, 60, 46)];
}

const plug = () => [dark("M36 88h22v12H36z"), thin("M58 94Q110 140 200 60"), thin("M36 91h-8M36 97h-8")];

// ---- one wheel: its face on the left, seen from behind on the right -----------------------------

/** @type {(build: Build) => PlaceDrawing} */
function wheel(build) {
  const nuts = round(5, 92, 104, 30);
  const face = [
    edge("M10 92a82 82 0 0 1 164 0"), disc("tire", 92, 104, 66), disc("rim", 92, 104, 46),
    nuts.map(([x, y]) => nut(x, y, 7)), disc("barrel", 92, 104, 17), disc("part", 92, 104, 10),
      thin("M86 98a9 9 0 0 1 7 -4"),
  ];
  const behind = [
    edge("M206 46q26 -26 58 0"), box("tire", 212, 42, 46, 128, 14), thin("M222 44v124M235 42v128M248 44v124"),
    steel("M258 94h20v22h-20z"), part("M278 98H352V112H278z"),
    part("M292 84h44v6h-44zM296 78h36v6h-36zM288 90h52v6h-52z"), thin("M302 74v42M326 74v42M298 116h32"),
    build.brakes === "none" ? null : part("M262 74h8v62h-8z"),
    edge("M280 34H352"), thin("M290 34v46M340 34v46"),
  ];
  return {
    width: 360, height: 190, parts: [face, behind, ground(178)],
    zones: {
      outside: { plate: [24, 150], at: [40, 138] }, nuts: { plate: [150, 30], at: [104, 80] },
      inside: { plate: [286, 152], at: [256, 146] }, spring: { plate: [306, 58], at: [314, 78] },
    },
  };
}

// ---- the rear ---------------------------------------------------------------------------------

/** @type {(build: Build) => PlaceDrawing} */
function rear(build) {
  const { enclosed, boat, ramps } = build;
  const lamps = [box("dark", 64, 104, 26, 16), box("dark", 270, 104, 26, 16), box("steel", 158, 106, 44, 18)];
  const wheels = [box("tire", 40, 104, 26, 56, 8), box("tire", 294, 104, 26, 56, 8), thin("M66 134H294")];
  const bodies = {
    boat: [edge("M64 126H296"), part("M92 40H268L250 96Q180 124 110 96Z"), steel("M164 60h32v44h-32z"),
      thin("M180 104v18M170 122h20"), thin("M112 60L76 126M248 60L284 126")],
    enclosed: [part("M64 14H296V128H64Z"), thin("M180 14V128M172 62v18M188 62v18"), box("steel", 72, 22, 10, 6),
      box("steel", 278, 22, 10, 6)],
    ramps: [part("M64 96H296V126H64Z"), edge("M72 96V28H288V96"), thin("M72 44H288M72 60H288M72 78H288"),
      steel("M66 88h12v12H66zM282 88h12v12h-12z")],
    gate: [part("M64 96H296V126H64Z"), part("M76 62H284V96H76z"), thin("M76 74H284M76 86H284"),
      steel("M70 70h8v14h-8zM282 70h8v14h-8z")],
  };
  const kind = boat ? "boat" : enclosed ? "enclosed" : ramps ? "ramps" : "gate";
  /** @type {PlaceDrawing["zones"]} */
  const zones = { lamps: { plate: [32, 76], at: [70, 106] }, gate: { plate: [328, 62], at: [286, 84] } };
  return { width: 360, height: 180, parts: [wheels, bodies[kind], lamps, ground(166)], zones };
}

// ---- the load ---------------------------------------------------------------------------------

/** @type {(build: Build) => PlaceDrawing} */
function load(build) {
  const wheels = wheelsAt(build.axles);
  const cargo = build.boat || build.enclosed ? null
    : [part("M140 58h128v44H140z"), thin("M140 72h128"), edge("M128 106L160 58M280 106L248 58")];
  const straps = build.boat ? [edge("M286 66L300 128"), thin("M292 66h-10")] : null;
  return {
    width: 360, height: 180,
    parts: [sideBody(build), cargo, straps, sideTongue(build), wheels.map((x) => sideWheel(x)), ground(172)],
    zones: { tied: { plate: [330, 40], at: [build.boat ? 298 : 282, build.boat ? 84 : 70] },
      level: { plate: [90, 30], at: [92, build.boat ? 72 : 74] } },
  };
}
