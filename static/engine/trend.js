// What a row of readings says that no single one does; the twin of checks/trend.py, where the numbers are explained.

/** @type {Record<string, Interval>} */
export const FELT = {
  alike: [-3.5, 3.5],
  slightly: [2.5, 9],
  clearly: [7.5, 17],
  mate_slightly: [-9, -2.5],
  mate_clearly: [-17, -7.5],
};
const MATES = 0.15;
const [KELVIN, FLAT] = [1.2, 0.03];
const STEPS = [0.2, 0.4];
const [ALARM, MOST] = [3.8, Math.log(1000)];
const RECENT = 3;
export const BEFORE = 4;
const [GRID, EITHER] = [0.02, 30];
const OPEN = 30;

// [low, high, noise, mates] of how much more drag a hub has than its mate, N m; null when nothing is known.
/**
 * @param {Interval} own @param {Interval} mate @param {number} perUnit @param {number} sound
 * @param {string | null} [felt] @returns {Gap | null}
 */
export function gap(own, mate, perUnit, sound, felt = null) {
  let [low, high] = [own[0] - mate[1], own[1] - mate[0]];
  if (felt !== null) {
    [low, high] = [Math.max(low, FELT[felt][0]), Math.min(high, FELT[felt][1])];
    if (low > high) [low, high] = FELT[felt];
  }
  if (high - low > OPEN) return null;
  return [low / perUnit, high / perUnit, Math.hypot(FLAT, KELVIN / perUnit), MATES * sound];
}

/** Middle and one sigma of a gap. @param {Gap} row @returns {[number, number]} */
const middleOf = ([low, high, noise]) => [(low + high) / 2, Math.hypot(noise, (high - low) / Math.sqrt(12))];

// { low, high, rough } a plot has of a gap: all that a word leaves open, else one sigma round the middle.
/** @param {Gap} row */
export function shownOf(row) {
  const [low, high, noise] = row, rough = high - low > 2 * noise, [middle, spread] = middleOf(row);
  return rough ? { low, high, rough } : { low: middle - spread, high: middle + spread, rough };
}

// { shown, low, high } of the first steady climb in a row of gaps, or null.
/** @param {Gap[]} rows */
export function climb(rows) {
  const costs = rows.map(unlikely), levels = Array.from({ length: 2 * EITHER + 1 }, (_, n) => GRID * (n - EITHER));
  let held = levels.map(() => 0), mates = 0;
  for (let count = 1; count <= rows.length; count++) {
    mates += rows[count - 1][3];
    if (count > RECENT) held = held.map((old, n) => old + costs[count - 1 - RECENT][n]);
    const last = costs.slice(Math.max(0, count - RECENT), count), longest = Math.min(RECENT, count - BEFORE);
    if (longest < 1) continue;
    const base = held.map((old, n) => old + (levels[n] * count / mates) ** 2 / 2), level = cheapest(base, last, 0, 0);
    let [ratio, long] = [-Infinity, 0];
    for (let n = 1; n <= longest; n++) {
      const found = level - Math.min(...STEPS.map((step) => cheapest(base, last, n, step)));
      if (found >= ratio) [ratio, long] = [found, n];
    }
    if (ratio <= ALARM) continue;
    const [slope, spread] = ramp(rows.slice(0, count), count - long);
    return { shown: count - 1, low: slope - 2 * spread, high: slope + 2 * spread };
  }
  return null;
}

/** @param {Gap} row */
function unlikely([low, high, noise]) {
  const root = noise * Math.SQRT2, half = Math.max((high - low) / 2, noise / 10), best = erf(half / root);
  return Array.from({ length: 2 * EITHER + Math.round(RECENT * STEPS[1] / GRID) + 1 }, (_, n) => {
    const away = GRID * (n - EITHER) - (low + high) / 2;
    const share = (erf((away + half) / root) - erf((away - half) / root)) / 2 / best;
    return share <= Math.exp(-MOST) ? MOST : -Math.log(share);
  });
}

/** @param {number[]} base @param {number[][]} last @param {number} climbing @param {number} step */
function cheapest(base, last, climbing, step) {
  const ups = last.map((_, n) => Math.round(Math.max(0, n + 1 - last.length + climbing) * step / GRID));
  return Math.min(...base.map((cost, level) => last.reduce((sum, row, n) => sum + row[level + ups[n]], cost)));
}

// Abramowitz and Stegun, Handbook of Mathematical Functions, 7.1.26: to 1.5e-7.
const ERF = [1.061405429, -1.453152027, 1.421413741, -0.284496736, 0.254829592];

/** @param {number} x */
function erf(x) {
  const t = 1 / (1 + 0.3275911 * Math.abs(x));
  return Math.sign(x) * (1 - ERF.reduce((sum, one) => sum * t + one, 0) * t * Math.exp(-x * x));
}

/** @param {Gap[]} rows @param {number} start @returns {Interval} */
function ramp(rows, start) {
  const mates = rows.reduce((sum, row) => sum + row[3], 0) / rows.length;
  let [level, cross, steep, levelSum, steepSum] = [1 / mates ** 2, 0, 0, 0, 0];
  rows.forEach((row, number) => {
    const [middle, spread] = middleOf(row);
    const [weight, up] = [1 / (spread * spread), Math.max(0, number - start + 1)];
    level += weight;
    cross += weight * up;
    steep += weight * up * up;
    levelSum += weight * middle;
    steepSum += weight * up * middle;
  });
  const solved = level * steep - cross * cross;
  return [(level * steepSum - cross * levelSum) / solved, Math.sqrt(level / solved)];
}

/** @param {Reading[]} points */
const pairs = (points) => points.flatMap((early) => points.filter((late) => late[0] > early[0])
  .map((late) => [early, late]));

// [least, most] slope of all straight lines through every range of [at, low, high]; null when there is none.
/** @param {Reading[]} points @returns {Interval | null} */
export function slopes(points) {
  let [least, most] = [-Infinity, Infinity];
  for (const [[early, low, high], [late, nextLow, nextHigh]] of pairs(points)) {
    least = Math.max(least, (nextLow - high) / (late - early));
    most = Math.min(most, (nextHigh - low) / (late - early));
  }
  return least === -Infinity || least > most ? null : [least, most];
}

// [from, to] when a falling row may reach `value`; `to` is Infinity where it may never; null when none falls.
/** @param {Reading[]} points @param {number} value @returns {Interval | null} */
export function atValue(points, value) {
  const slope = slopes(points);
  if (!slope || slope[0] >= 0) return null;
  const ends = candidates(points, slope).filter((m) => m < 0).map((m) => reach(points, m, value));
  const last = slope[1] >= 0 ? Infinity : Math.max(...ends.map(([, to]) => to));
  return [Math.min(...ends.map(([from]) => from)), last];
}

/** @param {Reading[]} points @param {Interval} slope */
function candidates(points, slope) {
  const found = new Set(slope);
  for (const [[early, low, high], [late, nextLow, nextHigh]] of pairs(points)) {
    found.add((nextLow - low) / (late - early));
    found.add((nextHigh - high) / (late - early));
  }
  return [...found].filter((m) => m >= slope[0] && m <= slope[1]);
}

/** @param {Reading[]} points @param {number} slope @param {number} value */
function reach(points, slope, value) {
  const lowest = Math.max(...points.map(([at, low]) => low - slope * at));
  const highest = Math.min(...points.map(([at, , high]) => high - slope * at));
  return [(value - Math.min(lowest, highest)) / slope, (value - highest) / slope];
}

// The points from the last mark on (a refill, a new tire, bearing work), in order of time.
/** @param {Reading[]} points @param {number[]} marks */
export function since(points, marks) {
  const start = Math.max(-Infinity, ...marks);
  return points.filter(([at]) => at >= start).toSorted((a, b) => a[0] - b[0] || a[1] - b[1] || a[2] - b[2]);
}

// Times at which a row that can only fall stands surely higher than before.
/** @param {Reading[]} points */
export function refills(points) {
  const found = [];
  let lowest = Infinity;
  for (const [at, low, high] of since(points, [])) {
    if (low > lowest) {
      found.push(at);
      lowest = high;
    }
    lowest = Math.min(lowest, high);
  }
  return found;
}
