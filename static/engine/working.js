// A sum with its numbers put in, and the comparisons that make a finding hold; the twin of checks/working.py.

import { dayText } from "./facts.js";
import { compileTree, mateOf, operands, rangeOf } from "./formula.js";
import { NO, YES } from "./interval.js";

/** @type {Record<string, string>} */
const SIGNS = { "+": "+", "-": "−", "*": "×", "/": "÷", "^": "^" };
// Operators whose sums need no brackets beside this one.
/** @type {Record<string, string[]>} */
const LOOSE = { "+": ["+", "*", "/"], "*": ["*"] };
const BARE = ["", "ratio", "count", "step"]; // units that leave that of the other side as it is
/** @type {Record<string, string>} */
const TURNED = { less: "more", more: "less", most: "least", least: "most" };

/** @param {Tree} tree */
const opOf = (tree) => (typeof tree === "number" ? "" : tree[0]);
/** Whether a tree is that of one of some operators. */
/** @type {<Op extends Operator>(tree: Tree, ...ops: Op[]) => tree is BranchOf<Op>} */
export const isOf = (tree, ...ops) => typeof tree !== "number" && /** @type {Operator[]} */ (ops).includes(tree[0]);
/** @type {("+" | "-" | "*" | "/" | "^")[]} */
const SUMS = ["+", "-", "*", "/", "^"];
/** @param {Tree} tree @returns {boolean} */
const isSum = (tree) => isOf(tree, ...SUMS, "max", "min") || (isOf(tree, "convert") && isSum(tree[3]));

/** Writes sums of one case at one place; `text(range, unit)` as the reader wants it. */
export class Writer {
  /** @param {Case} kase @param {string} place @param {Book} book @param {IntervalWriter} text */
  constructor(kase, place, book, text) {
    this.kase = kase;
    this.place = place;
    this.book = book;
    this.text = text;
  }

  /** @param {string} place */
  at(place) { return new Writer(this.kase, place, this.book, this.text); }

  // Words kept with a check of an earlier release may lack these.
  /** @param {string} name @param {WordValues} [values] */
  say(name, values = {}) {
    const id = `working-${name}`, { words } = this.book;
    return words.has(id) ? words.say(id, values) : Object.values(values).join(" ");
  }

  /** @param {Tree} tree */
  ends(tree) { return compileTree(tree, this.book.context)(this.kase, this.place); }

  /** @param {Interval} ends */
  dates(ends) {
    const [first, last] = ends.map(dayText);
    return first === last ? first : this.say("range", { first, last });
  }

  /** @param {Tree} tree */
  value(tree) {
    if (typeof tree === "number") return String(Number(tree.toPrecision(6)));
    const ends = rangeOf(this.ends(tree));
    return this.isDate(tree) ? this.dates(ends) : this.text(ends, unitOf(tree, this.book) || "ratio");
  }

  /** @param {Tree} tree */
  isDate(tree) {
    return isOf(tree, "fact") && (tree[1] === "today" || this.book.facts[tree[1]].kind === "made");
  }

  /** @param {Tree} tree @returns {string} */
  sum(tree) {
    if (isOf(tree, ...SUMS)) {
      const [op, a, b] = tree;
      return `${this.part(a, op)} ${SIGNS[op]} ${this.part(b, op)}`;
    }
    if (isOf(tree, "neg")) return `−${this.part(tree[1], "*")}`;
    if (isOf(tree, "convert") && isSum(tree[3])) return this.sum(tree[3]);
    if (isOf(tree, "max", "min")) {
      return this.say(tree[0], { listed: operands(tree).map((one) => this.sum(one)).join("; ") });
    }
    return isOf(tree, "mate") ? this.at(mateOf(this.place)).sum(tree[1]) : this.value(tree);
  }

  /** @param {Tree} given @param {string} outer @returns {string} */
  part(given, outer) {
    let tree = given;
    while (isOf(tree, "convert") && isSum(tree[3])) tree = tree[3];
    const text = this.sum(given), inner = opOf(tree), loose = LOOSE[outer] ?? [];
    return !Object.hasOwn(SIGNS, inner) || loose.includes(inner) ? text : `(${text})`;
  }

  /** @param {Tree} tree */
  side(tree) {
    if (isSum(tree)) return `${this.sum(tree)} = ${this.value(tree)}`;
    const name = this.name(tree), value = this.value(tree);
    return name ? this.say("named", { name, value }) : value;
  }

  /** @param {Tree} tree */
  name(tree) {
    return isOf(tree, "fact", "quantity") ? this.book.words.say(`${tree[0]}-${tree[1]}`).replace(/\?$/, "") : "";
  }
}

/** The trees that a value comes from. */
/** @param {Tree} tree @returns {Tree[]} */
function bodies(tree) {
  if (isOf(tree, "if")) return [tree[2], tree[3]];
  return isOf(tree, "each") ? [tree[3]] : treesOf(tree);
}

/** The trees right behind an operator. */
/** @param {Tree} tree @returns {Tree[]} */
export const treesOf = (tree) => (typeof tree === "number" ? []
  : /** @type {unknown[]} */ (tree).slice(1).filter(/** @returns {one is Tree} */ (one) => isTree(one)));
/** @type {(one: unknown) => one is Tree} */
export const isTree = (one) => typeof one === "number" || Array.isArray(one);

/**
 * The unit of what a tree comes to, "" where it cannot be told.
 * 
 * @param {Tree} tree
 * 
 * @param {Book} book
 * 
 * @returns {string}
 */
function unitOf(tree, book) {
  const op = opOf(tree);
  /** @param {Tree[]} trees */
  const first = (trees) => trees.map((one) => unitOf(one, book)).find(Boolean) ?? "";
  if (op === "") return "";
  if (isOf(tree, "fact")) return book.facts[tree[1]]?.unit ?? "day";
  if (isOf(tree, "quantity")) return book.quantities[tree[1]].unit;
  if (isOf(tree, "limit", "table")) return book.limits[tree[1]].unit.split(" by ").at(-1) ?? "";
  if (isOf(tree, "convert")) return tree[2];
  if (isOf(tree, "pick")) return first(Object.keys(tree[2]).sort().map((one) => tree[2][one]));
  if (isOf(tree, "-") && [tree[1], tree[2]].every((one) => unitOf(one, book) === "degC")) return "K";
  if (isOf(tree, "*", "/", "^")) return productUnit(tree[0], unitOf(tree[1], book), unitOf(tree[2], book), book);
  return first(bodies(tree));
}

/** @param {string} op @param {string} left @param {string} right @param {{ units: Units }} book */
function productUnit(op, left, right, { units }) {
  if (op === "/" && left && right) {
    if (units[left].dimension === units[right].dimension) return "ratio";
    return BARE.includes(right) ? left : "";
  }
  if (op === "^") return BARE.includes(left) ? left : "";
  if (BARE.includes(right)) return left;
  return op === "*" && BARE.includes(left) ? right : "";
}

// The comparisons in a finding's pruned tree that hold it up, a sentence each.
/** @param {Tree} tree @param {Writer} writer @param {boolean} [positive] @returns {string[]} */
export function deciding(tree, writer, positive = true) {
  const held = positive ? YES : NO;
  if (isOf(tree, "and", "or")) {
    return operands(tree).filter((part) => writer.ends(part) === held)
      .flatMap((part) => deciding(part, writer, positive));
  }
  if (isOf(tree, "not")) return deciding(tree[1], writer, !positive);
  if (isOf(tree, "mate")) return deciding(tree[1], writer.at(mateOf(writer.place)), positive);
  if (!isOf(tree, "<", "<=") || writer.ends(tree) !== held) return [];
  return treesOf(tree).some((one) => isSwitch(one, writer)) ? [] : [compared(tree, writer, positive)];
}

// Whether a side is 1 or 0 for a yes or no, which is no number to a reader.
/** @param {Tree} tree @param {Writer} writer */
function isSwitch(tree, { book }) {
  const formula = isOf(tree, "quantity") ? book.quantities[tree[1]].formula : 0;
  return isOf(formula, "if") && formula[2] === 1 && formula[3] === 0;
}

/** @type {Record<string, string>} */
const HOLDS = { "<": "less", "<=": "most" };
/** @type {Record<string, string>} */
const FAILS = { "<": "least", "<=": "more" };

// `left < right` as a sentence that begins with what was answered.
/** @param {BranchOf<"<" | "<=">} tree @param {Writer} writer @param {boolean} positive */
function compared([op, left, right], writer, positive) {
  let word = (positive ? HOLDS : FAILS)[op], sides = [left, right];
  if (nearness(left) < nearness(right)) [sides, word] = [[right, left], TURNED[word]];
  const texts = sides.map((one, i) => (writer.isDate(sides[1 - i]) && !writer.isDate(one)
    ? writer.dates(endsOf(writer, one)) : writer.side(one)));
  return writer.say(word, { left: texts[0], right: texts[1] });
}

/** @type {(writer: Writer, tree: Tree) => Interval} */
const endsOf = (writer, tree) => (typeof tree === "number" ? [tree, tree] : rangeOf(writer.ends(tree)));

/** @type {Record<string, number>} */
const NEAR = { fact: 3, quantity: 2 };

// How near a side is to what a person answered, to begin with the nearer one.
/** @param {Tree} tree */
const nearness = (tree) => NEAR[opOf(tree)] ?? Number(answered(tree));

// Whether a side hangs on answers, as far as can be seen from outside.
/** @param {Tree} tree @returns {boolean} */
function answered(tree) {
  const op = opOf(tree);
  if (op === "" || op === "limit" || op === "table") return false;
  return ["fact", "quantity", "mate", "each", "pick", "if"].includes(op) || treesOf(tree).some(answered);
}
