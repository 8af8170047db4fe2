// Ranges [low, high] and three-valued truth; the twin of checks/interval.py, which gives the grounds.

export const NO = 1, YES = 2, MAYBE = 3;
/** @type {Interval} */
export const WHOLE = [-Infinity, Infinity];

/** @param {number} p @param {number} q @param {number} r @param {number} s @returns {Interval} */
const holding = (p, q, r, s) => [Math.min(p, q, r, s), Math.max(p, q, r, s)];
/** @param {number} x @param {number} y */
const product = (x, y) => (x === 0 || y === 0 ? 0 : x * y);
/** @param {number} x @param {number} y */
const quotient = (x, y) => (x === 0 || Math.abs(y) === Infinity ? 0 : x / y);

/** @param {Interval} a @param {Interval} b @returns {Interval} */
export const add = (a, b) => [a[0] + b[0], a[1] + b[1]];
/** @param {Interval} a @param {Interval} b @returns {Interval} */
export const sub = (a, b) => [a[0] - b[1], a[1] - b[0]];
/** @param {Interval} a @param {Interval} b @returns {Interval} */
export const mul = (a, b) =>
  holding(product(a[0], b[0]), product(a[0], b[1]), product(a[1], b[0]), product(a[1], b[1]));

/** @param {Interval} a @param {Interval} b @returns {Interval} */
export function div(a, b) {
  if (b[0] === 0 && b[1] === 0) return WHOLE;
  if (a[0] === 0 && a[1] === 0) return [0, 0];
  const touches = b[0] <= 0 && 0 <= b[1];
  if ((b[0] < 0 && 0 < b[1]) || (touches && a[0] < 0 && 0 < a[1])) return WHOLE;
  const low = b[0] || 0, high = b[1] || -0; // an end at zero is seen from inside
  return holding(quotient(a[0], low), quotient(a[0], high), quotient(a[1], low), quotient(a[1], high));
}

/** @param {Interval} a @returns {Interval} */
export const neg = (a) => [-a[1], -a[0]];

/** @param {Interval} a @returns {Interval} */
export function absolute(a) {
  if (a[0] >= 0) return a;
  return a[1] <= 0 ? [-a[1], -a[0]] : [0, Math.max(-a[0], a[1])];
}

/** @param {Interval} a @param {Interval} b @returns {Interval} */
export const smaller = (a, b) => [Math.min(a[0], b[0]), Math.min(a[1], b[1])];
/** @param {Interval} a @param {Interval} b @returns {Interval} */
export const larger = (a, b) => [Math.max(a[0], b[0]), Math.max(a[1], b[1])];

/** @param {Interval} a @returns {Interval} */
export const exp = (a) => [Math.exp(a[0]), Math.exp(a[1])];

/** @param {number} x */
const lnOf = (x) => (x <= 0 ? -Infinity : Math.log(x));
/** @param {Interval} a @returns {Interval} */
export const ln = (a) => (a[1] <= 0 ? WHOLE : [lnOf(a[0]), lnOf(a[1])]);

/** @param {number} x @param {number} y */
function powerOf(x, y) {
  if (x === 0) return y === 0 ? 1 : y > 0 ? 0 : Infinity;
  return x === 1 ? 1 : Math.pow(x, y); // 1 to an infinite power is NaN here and 1 in Python
}

/** @param {Interval} a @param {Interval} b @returns {Interval} */
export function power(a, b) {
  if (a[1] < 0 || (a[1] === 0 && b[1] <= 0)) return WHOLE;
  if (a[1] === 0) return [0, 0];
  const low = Math.max(a[0], 0);
  return holding(powerOf(low, b[0]), powerOf(low, b[1]), powerOf(a[1], b[0]), powerOf(a[1], b[1]));
}

/** @param {Interval} a @param {Interval} b @returns {Interval} */
export const hull = (a, b) => [Math.min(a[0], b[0]), Math.max(a[1], b[1])];

/** @param {Interval} a @param {Interval} b */
export const less = (a, b) => (a[1] < b[0] ? YES : a[0] >= b[1] ? NO : MAYBE);
/** @param {Interval} a @param {Interval} b */
export const atMost = (a, b) => (a[1] <= b[0] ? YES : a[0] > b[1] ? NO : MAYBE);

// tables over the bit sets 0..3; an empty set stays empty
const SETS = [0, NO, YES, MAYBE];
export const NOT = [0, YES, NO, MAYBE];
export const AND = SETS.map((a) => SETS.map((b) => (a && b ? ((a | b) & NO) | (a & b & YES) : 0)));
export const OR = SETS.map((a) => SETS.map((b) => (a && b ? ((a | b) & YES) | (a & b & NO) : 0)));
