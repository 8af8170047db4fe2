// Expression trees compiled to closures of a case and a place; the twin of checks/formula.py.

import * as iv from "./interval.js";
import { NO, YES } from "./interval.js";

/** @type {Record<string, string>} */
const AXLE = {};
/** @type {Record<string, string>} */
const MATE = {};
/** @type {Record<string, string[]>} */
const PAIR = {};
for (const n of ["1", "2", "3"]) {
  PAIR[n] = [n + "L", n + "R"];
  AXLE[n + "L"] = AXLE[n + "R"] = n;
  MATE[n + "L"] = n + "R";
  MATE[n + "R"] = n + "L";
}

// Tables, not string cutting: a cut string is hashed anew at every look-up.
/** @param {string} place */
const axleOf = (place) => AXLE[place] ?? place;
/** @param {string[]} wheels */
export const axlesOf = (wheels) => [...new Set(wheels.map(axleOf))].sort();
/** @param {string} place */
export const mateOf = (place) => MATE[place];
/** @param {Scope} scope @param {string} place */
export const placeFor = (scope, place) =>
  scope === "trailer" ? "" : scope === "axle" ? axleOf(place) : place;

/** @type {Record<string, Record<string, Slot>>} */
const SLOTS = {};
/** Where a name's answers or values stand, by place. @param {string} name @returns {(at: string) => Slot} */
function slotsOf(name) {
  const row = (SLOTS[name] ??= {});
  return (at) => row[at] ??= { key: at ? `${name}@${at}` : name, reads: null, turn: 0, asked: 0, stage: 0 };
}
/** Where a fact's answer stands at a place. @param {string} name @param {string} at */
export const slotAt = (name, at) => slotsOf(name)(at);

/** The trees behind an operator that has nothing else. */
/** @type {(tree: BranchOf<OfOne | OfTwo | "if" | "and" | "or" | "min" | "max">) => Tree[]} */
export const operands = ([, ...trees]) => trees;

class FormulaError extends Error {}

// One set of answers, by key.
export class Case {
  /** @param {Facts} facts @param {string[]} wheels */
  constructor(facts, wheels) {
    this.facts = facts;
    this.wheels = wheels;
    /** What is looked at, while somebody asks. @type {Reads | null} */
    this.seen = null;
    /** What quantities came to. @type {Map<string, Worked>} */
    this.cache = new Map();
  }
}

let turns = 0;

/** What a test comes to, and what it looks at. @param {Test} test @param {Case} c @param {string} place */
export function reading(test, c, place) {
  const { seen } = c;
  /** @type {Reads} */
  const reads = c.seen = [];
  const value = test(c, place);
  c.seen = seen;
  return { value, reads };
}

/** The slots of facts among what was looked at, in order, each once. @param {Reads} reads @returns {Slot[]} */
export function slotsIn(reads) {
  for (const one of reads) if (one.reads) one.slots ??= slotsIn(one.reads);
  const turn = ++turns;
  /** @type {Slot[]} */
  const found = [];
  for (const one of reads) if (one.turn !== turn) {
    one.turn = turn;
    if (!one.reads) found.push(one);
    else for (const slot of one.slots ?? []) if (slot.turn !== turn) {
      slot.turn = turn;
      found.push(slot);
    }
  }
  return found;
}

/**
 * All names in trees, 1 where one is asked for other wheels than the place's own, too, else 0. Any text that is a name
 * counts, so that an operator cannot be forgotten here.
 *
 * @param {unknown} tree @param {Context} ctx @param {number} [wide] @param {Map<unknown, number>} [leans]
 */
export function leansOf(tree, ctx, wide = 0, leans = new Map()) {
  if (Array.isArray(tree) && (tree[0] === "mate" || tree[0] === "each")) wide = 1;
  if (typeof tree === "object") for (const one of Object.values(tree ?? {})) leansOf(one, ctx, wide, leans);
  if (typeof tree === "string" && ctx.scope[tree] && !(Number(leans.get(tree)) >= wide)) {
    leans.set(tree, wide);
    leansOf(ctx.quantities[tree], ctx, wide, leans);
  }
  return leans;
}

/** Whether what leans on names may come to something else at a place now that some keys have changed. */
/** @param {Leans} leans @param {string} at @param {Home[]} changed */
export const touched = (leans, at, changed) => changed.some(({ name, place, fact }) => {
  const wide = leans.get(name);
  return wide || (wide === 0 && placeFor(fact.scope, at) === place);
});

/** @param {Tree} tree @param {Context} ctx @returns {Test} */
export function compileTree(tree, ctx) {
  if (typeof tree === "number") {
    /** @type {Interval} */
    const point = [tree, tree];
    return () => point;
  }
  const maker = /** @type {Maker | undefined} */ (MAKERS[tree[0]]);
  // The rest of a tree was checked when the rulebook was made; this can be an app left behind by it.
  if (!maker) throw new FormulaError(`unknown operator '${tree[0]}'`);
  return shared(tree, maker, ctx);
}

const LONG = 160; // a tree, as text

/** A long tree that stands in several is worked out once at each place, as a quantity is. */
/** @param {Branch} tree @param {Maker} maker @param {Context} ctx @returns {Test} */
function shared(tree, maker, ctx) {
  const name = JSON.stringify(tree);
  if (name.length < LONG) return maker(tree, ctx);
  let part = ctx.shared[name];
  if (part) part.now = part.kept;
  else {
    const body = maker(tree, ctx), kept = once(name, { of: tree, body }, (place) => place);
    part = ctx.shared[name] = { now: body, kept, test: (c, place) => part.now(c, place) };
  }
  return part.test;
}

/** @param {string} name @param {Context} ctx @returns {Test} */
function lookup(name, ctx) {
  const whole = ctx.whole[name], scope = ctx.scope[name], slots = slotsOf(name);
  return (c, place) => {
    const slot = slots(placeFor(scope, place));
    c.seen?.push(slot);
    return c.facts.get(slot.key) ?? whole;
  };
}

/** @type {Maker<"fact">} */
const fact = (tree, ctx) => lookup(tree[1], ctx);

/** @type {Maker<"limit">} */
function limit(tree, ctx) {
  const value = ctx.limits[tree[1]];
  const range = /** @type {Interval} */ (Array.isArray(value) ? value : [value, value]);
  return () => range;
}

/** @type {Maker<"quantity">} */
function quantity(tree, ctx) {
  const name = tree[1], scope = ctx.scope[name];
  const made = (ctx.compiled[name] ??= { of: name, body: compileTree(ctx.quantities[name], ctx) });
  return once(name, made, (place) => placeFor(scope, place));
}

/** Works a part of the rules out once for each place that it is told apart at. */
/** @param {string} name @param {Made} made @param {(place: string) => string} there @returns {Test} */
function once(name, made, there) {
  const slots = slotsOf(name);
  return (c, place) => {
    const at = there(place), { key } = slots(at);
    let worked = c.cache.get(key);
    if (!worked) c.cache.set(key, worked = { at, made, turn: 0, ...reading(made.body, c, at) });
    c.seen?.push(worked);
    return worked.value;
  };
}

// One bit a choice; beyond 30 choices a set is a BigInt, for which the same operators stand.
/** @param {string[]} choices */
const isWide = (choices) => choices.length > 30;
/** @param {string[]} choices @param {number} i @returns {Choices} */
export const bitOf = (choices, i) => (isWide(choices) ? 1n << BigInt(i) : 1 << i);
/** @param {string[]} choices @param {string[]} wanted @returns {Choices} */
export const setOf = (choices, wanted) =>
  // All bits of a set are of one kind, be it numbers or BigInts.
  wanted.reduce((bits, one) => bits | /** @type {number} */ (bitOf(choices, choices.indexOf(one))),
    /** @type {number} */ (/** @type {Choices} */ (isWide(choices) ? 0n : 0)));

// A set of choices and its mask are of one kind, be it numbers or BigInts: the operators stand for both.
/** @type {(value: Value) => number} */
export const bitsOf = (value) => /** @type {number} */ (value);
// What the loader of the rules has proven to be a range.
/** @type {(value: Value) => Interval} */
export const rangeOf = (value) => /** @type {Interval} */ (value);

/** @type {Maker<"is">} */
function is(tree, ctx) {
  const [, name, wanted] = tree, look = lookup(name, ctx);
  const mask = bitsOf(setOf(ctx.choices[name], wanted));
  return (c, place) => {
    const value = bitsOf(look(c, place));
    return (value & mask ? YES : 0) | (value & ~mask ? NO : 0);
  };
}

/** @param {number | bigint} value */
const highestBit = (value) =>
  typeof value === "number" ? 31 - Math.clz32(value) : value.toString(2).length - 1;

/** @type {Maker<"rank">} */
function rank(tree, ctx) {
  const look = lookup(tree[1], ctx);
  return (c, place) => {
    const value = bitsOf(look(c, place));
    return [highestBit(value & -value), highestBit(value)];
  };
}

/** @type {(a: Value, b: Value) => Value} */
const join = (a, b) => (typeof a === "number" ? a | bitsOf(b) : iv.hull(rangeOf(a), rangeOf(b)));

/** @type {Maker<"pick">} */
function pick(tree, ctx) {
  const [, name, cases] = tree;
  const look = lookup(name, ctx);
  const arms = ctx.choices[name].map((one) => compileTree(cases[one], ctx));
  const bits = arms.map((_, i) => bitsOf(bitOf(ctx.choices[name], i)));
  return (c, place) => {
    const value = bitsOf(look(c, place));
    /** @type {Value | null} */
    let result = null;
    for (let i = 0; i < arms.length; i++) {
      if (!(value & bits[i])) continue;
      const arm = arms[i](c, place);
      result = result === null ? arm : join(result, arm);
    }
    return /** @type {Value} */ (result); // a set is never empty
  };
}

/** @param {Interval[]} points @param {number} x */
function interpolate(points, x) {
  if (x <= points[0][0]) return points[0][1];
  for (let i = 1; i < points.length; i++) {
    const [x0, y0] = points[i - 1], [x1, y1] = points[i];
    if (x <= x1) return x === x1 ? y1 : y0 + (y1 - y0) * ((x - x0) / (x1 - x0));
  }
  return points[points.length - 1][1];
}

/** @type {Maker<"table">} */
function table(tree, ctx) {
  const points = /** @type {Interval[]} */ (ctx.limits[tree[1]]), inner = compileTree(tree[2], ctx);
  return (c, place) => {
    const [a, b] = rangeOf(inner(c, place));
    const p = interpolate(points, a), q = interpolate(points, b);
    let low = Math.min(p, q), high = Math.max(p, q);
    for (const [x, y] of points) {
      if (a < x && x < b) {
        low = Math.min(low, y);
        high = Math.max(high, y);
      }
    }
    return [low, high];
  };
}

/** @type {(f: (a: Interval) => Value) => Maker<OfOne>} */
const unary = (f) => (tree, ctx) => {
  const inner = compileTree(tree[1], ctx);
  return (c, place) => f(rangeOf(inner(c, place)));
};

/** @type {(f: (a: Interval, b: Interval) => Value) => Maker<OfTwo>} */
const binary = (f) => (tree, ctx) => {
  const a = compileTree(tree[1], ctx), b = compileTree(tree[2], ctx);
  return (c, place) => f(rangeOf(a(c, place)), rangeOf(b(c, place)));
};

/** @type {(f: (a: Interval, b: Interval) => Interval) => Maker<"min" | "max">} */
const fold = (f) => (tree, ctx) => {
  const inner = operands(tree).map((t) => compileTree(t, ctx));
  return (c, place) => {
    let result = rangeOf(inner[0](c, place));
    for (let i = 1; i < inner.length; i++) result = f(result, rangeOf(inner[i](c, place)));
    return result;
  };
};

/** @type {(rules: number[][], settled: number) => Maker<"and" | "or">} */
const junction = (rules, settled) => (tree, ctx) => {
  const a = compileTree(tree[1], ctx), b = compileTree(tree[2], ctx);
  return (c, place) => {
    const left = bitsOf(a(c, place));
    return left === settled ? settled : rules[left][bitsOf(b(c, place))];
  };
};

/** @type {Maker<"if">} */
function when(tree, ctx) {
  const [cond, then, otherwise] = operands(tree).map((t) => compileTree(t, ctx));
  return (c, place) => {
    const truth = cond(c, place);
    if (truth === YES) return then(c, place);
    if (truth === NO) return otherwise(c, place);
    return join(then(c, place), otherwise(c, place));
  };
}

/** @type {Maker<"mate">} */
function mate(tree, ctx) {
  const inner = compileTree(tree[1], ctx);
  return (c, place) => inner(c, mateOf(place));
}

/** @type {Record<string, (c: Case, place: string) => string[]>} */
const WHEELS = {
  others: (c, place) => c.wheels.filter((w) => w !== place),
  axle: (c, place) => PAIR[axleOf(place)],
  left: (c, place) => [`${axleOf(place)}L`],
  right: (c, place) => [`${axleOf(place)}R`],
  side: (c, place) => c.wheels.filter((w) => w.at(-1) === place.at(-1)),
  all: (c) => c.wheels,
};

// What goes over many wheels is worked out once for all places that have the same ones.
/** @type {Record<string, (place: string) => string>} */
const THERE = { others: (place) => place, side: (place) => place.at(-1) ?? "", all: () => "" };

/** @param {number[]} ends */
function median(ends) {
  ends.sort((a, b) => a - b);
  const half = ends.length >> 1;
  return ends.length % 2 ? ends[half] : (ends[half - 1] + ends[half]) / 2;
}

/** @type {(f: (values: number[]) => number) => (values: Value[]) => Value} */
const ends = (f) => (values) => [f(values.map((v) => rangeOf(v)[0])), f(values.map((v) => rangeOf(v)[1]))];
/** @type {Record<string, (values: Value[]) => Value>} */
const GATHER = {
  any: (values) => values.map(bitsOf).reduce((result, v) => iv.OR[result][v], NO),
  all: (values) => values.map(bitsOf).reduce((result, v) => iv.AND[result][v], YES),
  count: (values) => [values.filter((v) => v === YES).length, values.filter((v) => v !== NO).length],
  max: ends((list) => Math.max(...list)),
  min: ends((list) => Math.min(...list)),
  median: ends(median),
};

/** @type {Maker<"each">} */
function each(tree, ctx) {
  const [, how, group, term] = tree, gather = GATHER[how], wheels = WHEELS[group], inner = compileTree(term, ctx);
  /** @type {Test} */
  const body = (c, place) => gather(wheels(c, place).map((w) => inner(c, w)));
  const there = THERE[group];
  return there ? once(JSON.stringify(tree), { of: tree, body }, there) : body;
}

/** @type {(i: 0 | 1) => Maker<OfOne>} */
const end = (i) => unary((range) => [range[i], range[i]]);

/** @type {Maker<"known">} */
function known(tree, ctx) {
  const look = lookup(tree[1], ctx), whole = ctx.whole[tree[1]];
  return (c, place) => (same(look(c, place), whole) ? NO : YES);
}

// Are two values of one fact equal?
/** @param {Value | undefined} a @param {Value} b */
export const same = (a, b) => a === b
  || (typeof a === "object" && a[0] === rangeOf(b)[0] && a[1] === rangeOf(b)[1]);

/** @type {Maker<"convert">} */
function convert(tree, ctx) {
  const [, source, target, body] = tree;
  const from = ctx.units[source], to = ctx.units[target];
  const factor = from.factor / to.factor, offset = (from.offset - to.offset) / to.factor;
  const inner = compileTree(body, ctx);
  return (c, place) => {
    const [a, b] = rangeOf(inner(c, place));
    return [a * factor + offset, b * factor + offset];
  };
}

/** @type {{ [Op in Operator]: Maker<Op> }} */
export const MAKERS = {
  fact, limit, quantity, is, rank, pick, table, mate, each, known, convert,
  if: when,
  not: unary((truth) => iv.NOT[bitsOf(truth)]),
  and: junction(iv.AND, NO),
  or: junction(iv.OR, YES),
  low: end(0),
  high: end(1),
  between: binary(iv.hull),
  min: fold(iv.smaller),
  max: fold(iv.larger),
  "+": binary(iv.add),
  "-": binary(iv.sub),
  "*": binary(iv.mul),
  "/": binary(iv.div),
  "^": binary(iv.power),
  "<": binary(iv.less),
  "<=": binary(iv.atMost),
  neg: unary(iv.neg),
  abs: unary(iv.absolute),
  exp: unary(iv.exp),
  ln: unary(iv.ln),
};

