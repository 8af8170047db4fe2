// Drawings of single things, each to explain one question: where the hand goes, what a mark means.
//
// What each was checked against stands in docs/drawings.md; shapes are simplified, nothing is to scale.
// The numbers on a drawing are those of the names beneath it: `drawing-NAME.part-1` and on.

import { box, dark, disc, drawing, edge, line, nut, part, plate, round, steel, thin } from "./line.js";
import { svg } from "../h.js";

/** A hub from behind, cut open at the tire: barrel, cap, nuts, drum if braked, and the back of a hand. */
/** @param {string} label @param {Partial<Build>} build */
export function hub(label, { brakes = "none" } = {}) {
  const braked = brakes !== "none";
  return drawing(label, 320, 178,
    box("tire", 110, 6, 60, 40, 12), box("tire", 110, 124, 60, 40, 12), part("M122 46h36v18h-36zM122 106h36v18h-36z"),
    part("M0 76h96v18H0z"), braked ? [part("M70 40h34v90H70z"), thin("M104 48H82v74h22")] : null,
    steel("M96 64h92v42H96z"), thin("M112 64v42M170 64v42"), part("M118 56h10v58h-10z"),
    part("M160 50h11v12h-11zM160 108h11v12h-11z"), part("M188 72h16q12 13 0 26h-16z"), thin("M196 78q4 7 0 14"), hand(),
    plate(1, [262, 154], [184, 100]), plate(2, [296, 118], [210, 88]), plate(3, [206, 160], [168, 116]),
    braked ? plate(4, [34, 34], [76, 52]) : null);
}

/** The back of a hand, fingers bent away, at the barrel. */
const hand = () => [
  part("M173 62Q172 50 182 44L214 26Q228 18 240 28L304 50V84H240Q226 86 212 78L190 68Q180 68 173 62Z"),
  thin("M200 40q10 8 4 18M214 32q12 10 6 24M228 28q12 12 8 28"),
];

let arcs = 0; // each round of words has a path of its own name

/** Words along a tire's round. */
/** @param {string} text @param {number} r @param {number} middle in degrees from the top */
function along(text, r, middle) {
  const id = `arc-${++arcs}`, start = middle * Math.PI / 180 - Math.PI / 2, far = Math.PI / 3;
  /** @param {number} angle */
  const at = (angle) => `${(160 + r * Math.cos(angle)).toFixed(1)} ${(178 + r * Math.sin(angle)).toFixed(1)}`;
  return [svg("path", { id, class: "d-none", d: `M${at(start - far)}A${r} ${r} 0 0 1 ${at(start + far)}` }),
    svg("text", { class: "d-word on-dark" },
      svg("textPath", { href: `#${id}`, startOffset: "50%", "text-anchor": "middle" }, text))];
}

/** A sidewall with the four things to read on it. */
/** @param {string} label */
export const sidewall = (label) => drawing(label, 320, 176,
  disc("tire", 160, 178, 156), disc("rim", 160, 178, 84), round(5, 160, 178, 46).map(([x, y]) => nut(x, y, 8)),
  along("ST205/75R15", 134, -34), along("LOAD RANGE C", 134, 30), along("MAX LOAD 1820 LB", 104, -26),
  along("DOT … 2523", 104, 43),
  plate(1, [16, 22], [68, 70]), plate(2, [304, 22], [244, 66]), plate(3, [126, 152], [116, 92]),
  plate(4, [206, 152], [224, 112]));

/** A groove with its wear bar: tread still above it, and level with it. */
/** @param {string} label */
export function wearBars(label) {
  /** @param {number} x @param {number} top */
  const groove = (x, top) => [dark(`M${x} ${top}h38v${118 - top}h-38zM${x + 74} ${top}h38v${118 - top}h-38z`),
    dark(`M${x} 100h112v24H${x}z`), box("steel", x + 38, 84, 36, 16)];
  return drawing(label, 320, 140, groove(18, 40), groove(190, 84),
    thin("M74 46v34M70 52l4 -6 4 6M70 74l4 6 4 -6"),
    plate(1, [74, 18], [74, 44]), plate(2, [160, 122], [84, 94]), plate(3, [246, 40], [246, 84]));
}

/** Four ways a tread wears: middle, both edges, one edge, dips; a thin line where it was new. */
/** @param {string} label */
export function wearPatterns(label) {
  const tops = ["M0 30Q6 30 12 34Q30 62 48 34Q54 30 60 30", "M0 56Q6 32 18 30H42Q54 32 60 56", "M0 28L48 50L60 62",
    "M0 30h10q6 22 14 0h10q6 26 14 0h12"];
  return drawing(label, 320, 134, tops.map((top, n) => svg("g", { transform: `translate(${12 + n * 79} 0)` },
    dark(`${top}V80q-2 16 -12 18H12Q2 96 0 80Z`), thin("M0 26H60"), plate(n + 1, [30, 118], [30, 104]))));
}

/** The coupler's latch: its jaw has to close under the ball. */
/** @param {string} label */
export const latch = (label) => drawing(label, 320, 158,
  part("M40 66Q44 30 90 28H220L260 56V90H232L216 72H150Q140 102 96 98L40 90Z"), disc("steel", 96, 72, 30),
  steel("M88 100h16v22H88z"), part("M56 120h80v14H56z"), steel("M126 86l24 -18 12 12 -30 26z"),
  edge("M146 28L170 10H232"), disc("part", 194, 40, 6), line("M194 28v24"), edge("M260 62H320M260 82H320"),
  plate(1, [20, 122], [76, 84]), plate(2, [186, 128], [146, 92]), plate(3, [272, 18], [234, 10]),
  plate(4, [300, 38], [202, 41]));

/** The lift test: with the latch shut the jack lifts the vehicle's rear, not the coupler off the ball. */
/** @param {string} label */
export const liftTest = (label) => drawing(label, 320, 156,
  part("M0 40h72v44H0z"), part("M72 62h34v10H72z"), disc("steel", 116, 58, 13), steel("M110 66h12v8h-12z"),
  part("M98 56Q100 36 124 36H178L196 48V72H176L164 62H144Q136 74 102 72Z"),
  edge("M196 52H320M196 68H320"), part("M224 16h14v76h-14z"), thin("M231 92v42M238 22h14M252 18v10"),
  steel("M218 134h26v8h-26z"), line("M36 32V8M30 16l6 -8 6 8M274 44V16M268 24l6 -8 6 8"), thin("M4 144H316"),
  plate(1, [296, 116], [242, 104]), plate(2, [20, 112], [36, 86]), plate(3, [126, 112], [118, 80]));

/** Two chains crossed under the tongue, seen from below the vehicle's bumper. */
/** @param {string} label */
export function chains(label) {
  /** @param {XY} from @param {XY} to */
  const hung = ([x1, y1], [x2, y2]) => Array.from({ length: 12 }, (_, n) => {
    const turn = Math.atan2(y2 - y1, x2 - x1) * 180 / Math.PI, x = x1 + (x2 - x1) * n / 11, y = y1 + (y2 - y1) * n / 11;
    return svg("ellipse", { class: "d-ring", rx: 9, ry: n % 2 ? 2 : 5,
      transform: `translate(${x.toFixed(1)} ${y.toFixed(1)}) rotate(${turn.toFixed(1)})` });
  });
  return drawing(label, 320, 156, part("M8 16h30v124H8z"),
    part("M38 70h46v16H38z"), part("M78 62H176L304 18V42L208 78 304 114v24L176 94H78Q66 78 78 62Z"),
    disc("steel", 92, 78, 13), hung([40, 34], [222, 112]), hung([40, 122], [222, 44]),
    disc("part", 40, 34, 5), disc("part", 40, 122, 5),
    plate(1, [140, 28], [131, 66]), plate(2, [78, 138], [44, 124]), plate(3, [262, 78], [224, 104]));
}

/** Breakaway: the cable goes to the vehicle itself, not to a chain or the ball mount. */
/** @param {string} label */
export const breakaway = (label) => drawing(label, 320, 150,
  part("M0 26h64v60H0z"), steel("M64 40h44v12H64z"), disc("steel", 112, 36, 12), disc("part", 50, 74, 6),
  line("M56 76Q130 116 206 70"), steel("M206 58h32v24h-32z"), disc("part", 208, 70, 5),
  part("M238 50h76v38h-76z"), thin("M252 62h14M259 55v14M288 62h14M248 44v6M304 44v6"),
  plate(1, [30, 124], [48, 82]), plate(2, [128, 132], [128, 98]), plate(3, [200, 22], [216, 56]),
  plate(4, [284, 124], [280, 92]));

/** Leaf spring with U-bolts, shackle and, between two axles, the equalizer. */
/** @param {string} label @param {Partial<Build>} build */
export function spring(label, { axles = 1 } = {}) {
  /** @param {number} x */
  const leaf = (x) => [edge(`M${x} 56q50 34 100 0`), line(`M${x + 12} 67q38 22 76 0M${x + 24} 77q26 15 52 0`),
    part(`M${x + 37} 84h26v18H${x + 37}z`), line(`M${x + 34} 62v46M${x + 66} 62v46M${x + 28} 108h44`)];
  if (axles > 1) {
    return drawing(label, 320, 150, edge("M4 20H316"), leaf(24), leaf(196), part("M124 56L160 38 196 56 160 66Z"),
      line("M160 20v30"), edge("M24 20v36M296 20v36"), plate(1, [14, 92], [38, 68]), plate(2, [124, 126], [92, 104]),
      plate(3, [230, 134], [244, 100]), plate(4, [160, 100], [160, 62]));
  }
  return drawing(label, 320, 150, edge("M30 20H290"), leaf(110), edge("M110 20v36"), steel("M204 56L224 22h10L214 60z"),
    plate(1, [66, 70], [124, 68]), plate(2, [206, 126], [178, 106]), plate(3, [110, 128], [154, 96]),
    plate(4, [268, 62], [222, 42]));
}

/** A surge brake's coupler: it slides, and a push rod works the cylinder; the cap is on top. */
/** @param {string} label */
export const surgeBox = (label) => drawing(label, 320, 148,
  part("M20 64Q22 42 50 42H120V96H40Q20 92 20 64Z"), disc("steel", 50, 74, 16), part("M110 50H244V92H110z"),
  steel("M176 30h34v20h-34z"), line("M182 24h22"), line("M124 72h44"), steel("M168 60h34v24h-34z"),
  thin("M202 72h30q12 0 12 14v10"), edge("M244 58H320M244 82H320"), line("M74 24H34M42 18l-8 6 8 6M66 18l8 6 -8 6"),
  plate(1, [22, 122], [52, 92]), plate(2, [140, 122], [142, 76]), plate(3, [252, 18], [206, 26]),
  plate(4, [216, 124], [190, 82]));

/** Seven-way plug of the trailer, its face, and a flat four-way beside it. */
/** @param {string} label */
export const plugs = (label) => drawing(label, 320, 150,
  disc("rubber", 92, 76, 62), disc("part", 92, 76, 50),
  round(6, 92, 76, 31).map(([x, y]) => box("steel", x - 5, y - 8, 10, 16)), disc("steel", 92, 76, 7),
  part("M84 6h16v14H84z"), box("rubber", 190, 54, 112, 40, 8),
  [0, 1, 2].map((n) => disc("steel", 212 + n * 25, 74, 7)), disc("part", 286, 74, 8),
  plate(1, [170, 22], [136, 44]), plate(2, [246, 124], [246, 96]), plate(3, [300, 24], [288, 64]));

/** End play: rock the tire top and bottom, watch its edge against something that stands still. */
/** @param {string} label */
export const endPlay = (label) => drawing(label, 320, 182,
  box("tire", 122, 16, 54, 132, 16), thin("M136 20v124M149 18v128M162 20v124"), part("M176 74h130v16H176z"),
  steel("M104 70h18v24h-18z"), steel("M232 90h26v60h-26z"), part("M218 150h54v14h-54z"), thin("M6 166H314"),
  part("M36 122h34v44H36z"), line("M70 130H114M108 126l8 4 -8 4"),
  line("M104 30H84M90 24l-7 6 7 6M194 30h20M208 24l7 6 -7 6M194 132h20M208 126l7 6 -7 6"),
  plate(1, [60, 30], [78, 30]), plate(2, [18, 96], [96, 128]), plate(3, [296, 126], [254, 118]));

/** Tongue weight by a beam and a bathroom scale: known distances share the load. */
/** @param {string} label */
export const lever = (label) => drawing(label, 320, 160,
  edge("M30 70H294"), part("M58 44h96v18H58z"), disc("steel", 104, 62, 9), part("M100 8h10v36h-10z"),
  part("M20 80h38v34H20z"), part("M262 84h44v14h-44z"), box("steel", 252, 98, 62, 14), thin("M284 70v14M6 114h308"),
  thin("M38 122v14M104 122v14M284 122v14M38 129h246"),
  plate(1, [20, 44], [30, 84]), plate(2, [70, 20], [98, 46]), plate(3, [282, 40], [284, 94]),
  plate(4, [71, 146], [71, 130]), plate(5, [194, 146], [194, 130]));

/** A strap's angles: steeper holds down, flatter holds back. */
/** @param {string} label */
export const tieDown = (label) => drawing(label, 320, 140,
  part("M110 26h100v72H110z"), edge("M20 98H300"), edge("M60 98L110 30M260 98L210 30"), edge("M108 26h104"),
  line("M88 98a28 28 0 0 0 -11 -23"), steel("M53 94h14v12H53zM253 94h14v12h-14z"),
  plate(1, [30, 62], [82, 84]), plate(2, [34, 126], [58, 104]), plate(3, [286, 48], [236, 66]));

/** Lamps at the rear of a trailer under 80 inches wide, and of one of 80 and more. */
/** @param {string} label @param {Partial<Build>} build */
export function rearLamps(label, { wide = true } = {}) {
  const rear = [part("M26 80H294V110H26z"), box("lamp", 34, 84, 32, 18), box("lamp", 254, 84, 32, 18),
    box("steel", 130, 88, 48, 18), disc("lamp", 190, 92, 5), box("tire", 8, 92, 18, 44, 5),
    box("tire", 294, 92, 18, 44, 5), thin("M4 137H316")];
  const more = wide ? [part("M26 10H294V80H26z"), [140, 156, 172].map((x) => box("lamp", x, 15, 9, 9)),
    box("lamp", 30, 15, 9, 9), box("lamp", 281, 15, 9, 9)] : null;
  const all = [more, rear, plate(1, [50, 150], [50, 98]), plate(2, [222, 150], [192, 96]),
    plate(3, [154, 150], [154, 104]),
    wide ? [plate(4, [160, 52], [160, 24]), plate(5, [60, 52], [37, 24])] : null];
  return drawing(label, 320, wide ? 164 : 96, svg("g", wide ? {} : { transform: "translate(0 -68)" }, all));
}
