// Drawings of single things, each to explain one question: where the hand goes, what a mark means.
//
// Checked against public descriptions, named beside each; shapes are simplified, nothing is to scale.

import { box, dark, disc, drawing, edge, part, round, steel, thin, word } from "./line.js";

/** A hub cut open from the side: tire and wheel, drum if braked, barrel, cap, and the back of a hand. */
/** @param {string} label @param {{ braked?: boolean }} of1 */
export function hub(label, { braked = false } = {}) {
  // Order of parts as in the exploded views of trailer axle service manuals (from memory).
  return drawing(label, 320, 170,
    box("tire", 110, 6, 60, 40, 12), box("tire", 110, 124, 60, 40, 12), part("M122 46h36v18h-36zM122 106h36v18h-36z"),
    part("M0 76h96v18H0z"), braked ? part("M70 40h34v90H70z") : null, braked ? thin("M104 48H82v74h22") : null,
    steel("M96 64h92v42H96z"), thin("M112 64v42M170 64v42"), part("M118 56h10v58h-10z"),
    part("M188 72h16q12 13 0 26h-16z"), thin("M196 78q4 7 0 14"), hand());
}

/** The back of a hand, fingers bent away, at the barrel. */
const hand = () => [
  part("M173 62Q172 50 182 44L214 26Q228 18 240 28L304 50V84H240Q226 86 212 78L190 68Q180 68 173 62Z"),
  thin("M200 40q10 8 4 18M214 32q12 10 6 24M228 28q12 12 8 28"),
];

/** Sidewall with the four things to read on it (49 CFR 571.139 S5.5: size, load range, maximum load, date). */
/** @param {string} label */
export function sidewall(label) {
  return drawing(label, 320, 170,
    disc("tire", 160, 180, 172), disc("rim", 160, 180, 92),
    turned("ST205/75R15", 66, 56, -33), turned("C", 140, 28, -6), turned("MAX LOAD", 206, 36, 16),
    turned("DOT 2523", 270, 72, 38));
}

/** Words that follow a tire's round. */
/** @param {string} text @param {number} x @param {number} y @param {number} turn in degrees */
function turned(text, x, y, turn) {
  const t = word(0, 0, text, 13);
  t.setAttribute("transform", `translate(${x} ${y}) rotate(${turn})`);
  t.setAttribute("class", "d-word on-dark");
  return t;
}

/** A tread groove with its wear bar: tread still above it, and level with it (49 CFR 571.139 S5.5.9). */
/** @param {string} label */
export function wearBars(label) {
  /** @param {number} x @param {number} top */
  const block = (x, top) => [dark(`M${x} ${top}h34v${110 - top}h-34zM${x + 66} ${top}h34v${110 - top}h-34z`),
    box("steel", x + 34, 78, 32, 32)];
  return drawing(label, 320, 130, block(20, 34), block(180, 78), thin("M20 118h110M180 118h110"),
    thin("M70 40v34M66 46l4 -6 4 6M66 68l4 6 4 -6"));
}

/** Four ways a tread wears: middle, both edges, one edge, patches. */
/** @param {string} label */
export function wearPatterns(label) {
  const tops = ["M0 30Q20 44 40 30", "M0 44Q20 24 40 44", "M0 26L40 46", "M0 30q6 -6 10 4q6 10 12 -2q8 -10 18 6"];
  return drawing(label, 320, 110, tops.map((top, n) => {
    const one = dark(`${top}V96H0Z`);
    one.setAttribute("transform", `translate(${20 + n * 74} 0)`);
    return one;
  }));
}

/** The coupler's latch: its jaw has to close under the ball. */
/** @param {string} label */
export function latch(label) {
  return drawing(label, 320, 150,
    part("M40 60Q44 24 90 22H220L260 50V84H232L216 66H150Q140 96 96 92L40 84Z"), disc("steel", 96, 66, 30),
    steel("M88 92h16v24H88z"), part("M60 114h72v14H60z"), steel("M128 78l20 -18 12 12 -26 26z"),
    edge("M150 22L176 4H226"), edge("M260 56H320M260 76H320"));
}

/** The lift test: with the latch shut the jack lifts the vehicle's rear, not the coupler off the ball. */
/** @param {string} label */
export function liftTest(label) {
  return drawing(label, 320, 150,
    part("M0 50h70v34H0z"), steel("M70 66h28v10H70z"), disc("steel", 110, 58, 13),
      part("M92 56Q94 36 118 36H172L190 48V72H170L158 60H138Q130 74 96 72Z"),
    edge("M190 52H320M190 68H320"), part("M206 20h12v72h-12z"), thin("M212 92v36"), steel("M200 128h24v8h-24z"),
    thin("M30 40V14M24 22l6 -8 6 8M252 44V18M246 26l6 -8 6 8"), thin("M8 142H312"));
}

/** Two chains crossed under the tongue, seen from above. */
/** @param {string} label */
export function chains(label) {
  /** @param {number} x1 @param {number} y1 @param {number} x2 @param {number} y2 */
  const link = (x1, y1, x2, y2) => Array.from({ length: 11 },
    (_, n) => disc("ring", x1 + ((x2 - x1) * n) / 10, y1 + ((y2 - y1) * n) / 10, 6));
  return drawing(label, 320, 150, part("M10 20h30v110H10z"), disc("steel", 96, 75, 16),
    part("M84 62H190L300 20V40L206 75 300 110v20L190 88H84Q76 75 84 62Z"),
    link(42, 34, 200, 108), link(42, 116, 200, 42));
}

/** Breakaway: the cable goes to the vehicle's frame, not to a chain or the ball mount. */
/** @param {string} label */
export function breakaway(label) {
  return drawing(label, 320, 130, part("M0 26h64v60H0z"), disc("part", 50, 74, 6), thin("M56 76Q130 112 210 70"),
    steel("M210 58h30v22h-30z"), disc("part", 212, 69, 5),
    part("M240 52h70v34h-70z"), thin("M254 62h16M262 54v16M286 62h14"), steel("M64 40h40v12H64z"),
      disc("steel", 112, 38, 12));
}

/** Leaf spring with U-bolts, shackle and, between two axles, the equalizer. */
/** @param {string} label @param {{ axles?: number }} of1 */
export function spring(label, { axles = 1 } = {}) {
  /** @param {number} x */
  const leaf = (x) => [edge(`M${x} 56q50 34 100 0`), thin(`M${x + 12} 66q38 24 76 0M${x + 24} 76q26 16 52 0`),
    part(`M${x + 38} 82h24v16H${x + 38}z`),
    thin(`M${x + 36} 62v44M${x + 64} 62v44M${x + 32} 106h36`)];
  if (axles > 1) return drawing(label, 320, 130, edge("M4 20H316"), leaf(24), leaf(196),
    part("M124 56L160 40 196 56 160 64Z"), thin("M160 20v24"), edge("M24 20v36M296 20v36"));
  return drawing(label, 320, 130, edge("M30 20H290"), leaf(110), edge("M110 20v36"),
    steel("M204 56L224 22h10L214 60z"));
}

/** A surge brake's coupler box: it slides, and a push rod works the cylinder; the cap is on top. */
/** @param {string} label */
export function surgeBox(label) {
  return drawing(label, 320, 120, part("M20 52Q22 30 50 30H120V84H40Q20 80 20 52Z"), disc("steel", 50, 62, 16),
    part("M110 40H240V80H110z"), steel("M176 22h30v18h-30z"), thin("M182 16h18"),
    thin("M124 60h44M168 50h26v20h-26zM194 60h14"), edge("M240 48H320M240 72H320"));
}

/** Seven-way plug of the trailer, its face, from SAE J2863 (pin names; from memory) ; four-way beside it. */
/** @param {string} label */
export function plugs(label) {
  const pins = round(6, 96, 66, 30).map(([x, y]) => box("steel", x - 5, y - 8, 10, 16));
  return drawing(label, 320, 132, disc("rubber", 96, 66, 58), disc("part", 96, 66, 48), pins, disc("steel", 96, 66, 7),
    part("M88 4h16v12H88z"),
    box("rubber", 200, 46, 104, 38, 8), [0, 1, 2].map((n) => disc("steel", 220 + n * 24, 65, 7)),
      disc("part", 292, 65, 8));
}

/** End play: rock the tire top and bottom, watch its edge against something that stands still. */
/** @param {string} label */
export function endPlay(label) {
  return drawing(label, 320, 170, box("tire", 120, 10, 52, 140, 16), thin("M132 12v136M146 10v140M160 12v136"),
    part("M172 70h120v18H172z"), steel("M96 66h24v26H96z"),
    thin("M94 24L70 34M78 26l-8 8 11 2M94 136L70 126M78 134l-8 -8 11 -2"), steel("M216 88h30v60h-30z"),
      thin("M206 148h50M10 158h300"), thin("M186 4v26M180 24l6 6 6 -6"));
}

/** Tongue weight by a bar and a bathroom scale: known distances share the load. */
/** @param {string} label */
export function lever(label) {
  return drawing(label, 320, 150, edge("M30 66H290"), part("M60 40h90v20H60z"), thin("M104 60v6"),
    part("M104 8h10v32h-10z"), part("M22 78h36v30H22zM258 84h44v14h-44z"), box("steel", 250, 98, 60, 12),
    thin("M40 66v12M280 66v18M40 130h64M104 130h176M40 124v12M104 124v12M280 124v12"), thin("M8 112h304"));
}

/** A strap's angles: steeper holds down, flatter holds back. */
/** @param {string} label */
export function tieDown(label) {
  return drawing(label, 320, 130, part("M110 30h100v66H110z"), edge("M20 96H300"), edge("M60 96L112 32M260 96L208 32"),
    thin("M84 96a24 24 0 0 0 -9 -19"), steel("M54 92h12v12H54zM254 92h12v12h-12z"));
}

/** Lamps a trailer under 80 inches wide has at its rear, and one of 80 and more (49 CFR 571.108, table I-b). */
/** @param {string} label @param {{ wide?: boolean }} of1 */
export function rearLamps(label, { wide = false } = {}) {
  const lamps = [box("lamp", 34, 70, 30, 16), box("lamp", 256, 70, 30, 16), box("steel", 138, 74, 44, 18)];
  const more = wide ? [142, 156, 170].map((x) => box("lamp", x, 16, 8, 8)).concat([box("lamp", 30, 16, 10, 8),
    box("lamp", 280, 16, 10, 8)]) : [];
  return drawing(label, 320, 130, wide ? part("M26 10H294V66H26z") : null, part("M26 66H294V94H26z"), lamps, more,
    box("tire", 10, 80, 16, 40, 5), box("tire", 294, 80, 16, 40, 5));
}
