// A sum with its numbers put in, and the comparisons that make a finding hold; the twin of checks/working.py.

import { dayText } from "./facts.js";
import { compileTree, mateOf } from "./formula.js";
import { NO, YES } from "./interval.js";

const SIGNS = { "+": "+", "-": "−", "*": "×", "/": "÷", "^": "^" };
const EXTREMES = ["max", "min"];
const BARE = ["", "ratio", "count", "step"]; // units that leave the other side's as it is
const TURNED = { less: "more", more: "less", most: "least", least: "most" };

const opOf = (tree) => (Array.isArray(tree) ? tree[0] : "");
const isSum = (tree) => Object.hasOwn(SIGNS, opOf(tree)) || EXTREMES.includes(opOf(tree))
  || (opOf(tree) === "convert" && isSum(tree[3]));

/** Writes sums of one case at one place; `text(range, unit)` as the reader wants it. */
export class Writer {
  constructor(kase, place, book, text) {
    Object.assign(this, { kase, place, book, text });
  }

  at(place) { return new Writer(this.kase, place, this.book, this.text); }

  /** Words kept with a check of an earlier release may lack these. */
  say(name, values = {}) {
    const id = `working-${name}`, { words } = this.book;
    return words.has(id) ? words.say(id, values) : Object.values(values).join(" ");
  }

  ends(tree) { return compileTree(tree, this.book.context)(this.kase, this.place); }

  dates(ends) {
    const [first, last] = ends.map(dayText);
    return first === last ? first : this.say("range", { first, last });
  }

  value(tree) {
    if (!Array.isArray(tree)) return String(Number(tree.toPrecision(6)));
    const ends = this.ends(tree);
    return this.isDate(tree) ? this.dates(ends) : this.text(ends, unitOf(tree, this.book) || "ratio");
  }

  isDate(tree) {
    return opOf(tree) === "fact" && (tree[1] === "today" || this.book.facts[tree[1]].kind === "made");
  }

  sum(tree) {
    const op = opOf(tree);
    if (Object.hasOwn(SIGNS, op)) return `${this.part(tree[1], op)} ${SIGNS[op]} ${this.part(tree[2], op)}`;
    if (op === "neg") return `−${this.part(tree[1], "*")}`;
    if (op === "convert" && isSum(tree[3])) return this.sum(tree[3]);
    if (EXTREMES.includes(op)) return this.say(op, { listed: tree.slice(1).map((one) => this.sum(one)).join("; ") });
    return op === "mate" ? this.at(mateOf(this.place)).sum(tree[1]) : this.value(tree);
  }

  part(given, outer) {
    let tree = given;
    while (opOf(tree) === "convert" && isSum(tree[3])) tree = tree[3];
    const text = this.sum(given), inner = opOf(tree), loose = { "+": ["+", "*", "/"], "*": ["*"] }[outer] ?? [];
    return !Object.hasOwn(SIGNS, inner) || loose.includes(inner) ? text : `(${text})`;
  }

  side(tree) {
    if (isSum(tree)) return `${this.sum(tree)} = ${this.value(tree)}`;
    const name = this.name(tree), value = this.value(tree);
    return name ? this.say("named", { name, value }) : value;
  }

  name(tree) {
    const op = opOf(tree);
    return ["fact", "quantity"].includes(op) ? this.book.words.say(`${op}-${tree[1]}`).replace(/\?$/, "") : "";
  }
}

/** The unit of what a tree comes to, "" where it cannot be told. */
export function unitOf(tree, book) {
  const op = opOf(tree), first = (trees) => trees.map((one) => unitOf(one, book)).find(Boolean) ?? "";
  if (op === "") return "";
  if (op === "fact") return book.facts[tree[1]]?.unit ?? "day";
  if (op === "quantity") return book.quantities[tree[1]].unit;
  if (op === "limit" || op === "table") return book.limits[tree[1]].unit.split(" by ").at(-1);
  if (op === "convert") return tree[2];
  if (op === "pick") return first(Object.keys(tree[2]).sort().map((one) => tree[2][one]));
  if (["*", "/", "^"].includes(op)) return productUnit(op, ...tree.slice(1).map((one) => unitOf(one, book)), book);
  return first(tree.slice({ if: 2, each: 3 }[op] ?? 1));
}

function productUnit(op, left, right, { units }) {
  if (op === "/" && left && right) {
    if (units[left].dimension === units[right].dimension) return "ratio";
    return BARE.includes(right) ? left : "";
  }
  if (op === "^") return BARE.includes(left) ? left : "";
  if (BARE.includes(right)) return left;
  return op === "*" && BARE.includes(left) ? right : "";
}

/** The comparisons in a finding's pruned tree that hold it up, a sentence each. */
export function deciding(tree, writer, positive = true) {
  const op = opOf(tree), held = positive ? YES : NO;
  if (op === "and" || op === "or") {
    return tree.slice(1).flatMap((part) => (writer.ends(part) === held ? deciding(part, writer, positive) : []));
  }
  if (op === "not") return deciding(tree[1], writer, !positive);
  if (op === "mate") return deciding(tree[1], writer.at(mateOf(writer.place)), positive);
  const compares = (op === "<" || op === "<=") && writer.ends(tree) === held;
  return compares ? [compared(tree, writer, positive)] : [];
}

// `left < right` as a sentence that begins with what was answered.
function compared([op, left, right], writer, positive) {
  let word = positive ? { "<": "less", "<=": "most" }[op] : { "<": "least", "<=": "more" }[op], sides = [left, right];
  if (nearness(left) < nearness(right)) [sides, word] = [[right, left], TURNED[word]];
  const texts = sides.map((one, i) => (writer.isDate(sides[1 - i]) && !writer.isDate(one)
    ? writer.dates(endsOf(writer, one)) : writer.side(one)));
  return writer.say(word, { left: texts[0], right: texts[1] });
}

const endsOf = (writer, tree) => (Array.isArray(tree) ? writer.ends(tree) : [tree, tree]);

// How near a side is to what a person answered, to begin with the nearer one.
const nearness = (tree) => ({ fact: 3, quantity: 2 })[opOf(tree)] ?? Number(answered(tree));

// Whether a side hangs on answers, as far as can be seen from outside.
function answered(tree) {
  const op = opOf(tree);
  if (op === "" || op === "limit" || op === "table") return false;
  return ["fact", "quantity", "mate", "each", "pick", "if"].includes(op) || tree.slice(1).some(answered);
}
