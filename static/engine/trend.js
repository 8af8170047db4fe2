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
const FLAT = 0.02;
const WANDER = 0.08;
const ALARM = 2.5;
const RECENT = 3;
export const BEFORE = 4;
const OPEN = 30;

// [middle, spread, mates] of how much more drag a hub has than its mate, N m; null when nothing is known.
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
  return [(low + high) / 2 / perUnit, Math.hypot(FLAT + WANDER * sound, (high - low) / Math.sqrt(12) / perUnit),
    MATES * sound];
}

// { shown, low, high } of the first steady climb in a row of gaps, or null.
/** @param {Gap[]} rows */
export function climb(rows) {
  for (let count = BEFORE + 1; count <= rows.length; count++) {
    let [slope, spread] = ramp(rows.slice(0, count), Math.max(BEFORE, count - RECENT));
    for (let start = Math.max(BEFORE, count - RECENT) + 1; start < count; start++) {
      const fit = ramp(rows.slice(0, count), start);
      if (fit[0] / fit[1] > slope / spread) [slope, spread] = fit;
    }
    if (slope > ALARM * spread) return { shown: count - 1, low: slope - 2 * spread, high: slope + 2 * spread };
  }
  return null;
}

/** @param {Gap[]} rows @param {number} start @returns {Interval} */
function ramp(rows, start) {
  const mates = rows.reduce((sum, row) => sum + row[2], 0) / rows.length;
  let [level, cross, steep, levelSum, steepSum] = [1 / mates ** 2, 0, 0, 0, 0];
  rows.forEach(([middle, spread], number) => {
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
/** @param {Reading[]} points @param {number} value */
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
