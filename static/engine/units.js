// Units, and numbers as text for a person; the twin of checks/units.py.

const ENDLESS = 1e9;

/** @param {Units} units @param {number} value @param {string} source @param {string} target */
export function toUnit(units, value, source, target) {
  const a = units[source], b = units[target];
  if (a.dimension !== b.dimension) {
    throw new RangeError(`${source} is a ${a.dimension}, ${target} a ${b.dimension}`);
  }
  // as a tree converts a limit, so that an answer on a limit is on it to the last bit
  return source === target ? value : value * (a.factor / b.factor) + (a.offset - b.offset) / b.factor;
}

/** @param {number} value @param {number} places */
export function numberText(value, places) {
  if (Math.abs(value) >= ENDLESS) return words.endless(value > 0);
  const text = rounded(Math.abs(value), places);
  return value < 0 && Number(text) !== 0 ? "-" + text : text;
}

// toFixed rounds a tie up, Python to the even digit. A tie at this many places is an odd multiple
// of a power of two, so it can be told exactly.
/** @param {number} value @param {number} places */
function rounded(value, places) {
  if ((value * 2 ** (places + 1)) % 2 !== 1) return value.toFixed(places);
  const down = Math.floor(value * 10 ** places);
  return ((down + (down % 2)) / 10 ** places).toFixed(places);
}

let words = {
  /** @param {string} low @param {string} high */
  between: (low, high) => `${low} to ${high}`,
  /** @type {(up: boolean) => string} */
  endless: (up) => (up ? "any" : "none"),
  /** @type {(units: Units, unit: string, count: string) => string} */
  unit: (units, unit) => units[unit].label,
};

/** From here on ranges are said in these words. */
/** @param {typeof words} own */
export function sayRanges(own) { words = own; }

/** What stands after a number of this unit. */
/** @param {Units} units @param {string} unit @param {string} [count] */
export const unitText = (units, unit, count = "") => words.unit(units, unit, count);

/** @param {Units} units @param {Interval} range @param {string} unit */
export function rangeText(units, range, unit) {
  const { places } = units[unit], [a, b] = range.map((end) => numberText(end, places));
  const label = unitText(units, unit, b);
  return (a === b ? a : words.between(a, b)) + (unit === "in32" || !label ? "" : " ") + label;
}
