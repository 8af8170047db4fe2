// The working of a quantity, step by step; the twin of checks/explain.py.

import { BadInput, bitOf, shown, wholeOf } from "./facts.js";
import { axlesOf, compileTree, mateOf, placeFor, same } from "./formula.js";
import { NO, YES } from "./interval.js";
import { rangeText } from "./units.js";
import { LOOSE, SIGNS as SUMS, Writer, deciding } from "./working.js";

/** @type {Record<string, string>} */
const SIGNS = { ...SUMS, "<": "<", "<=": "≤" };

/** @type {(book: Book) => IntervalWriter} */
const plainly = ({ units }) => (range, unit) => rangeText(units, range, unit);

/**
 * The steps to a quantity of a loaded rulebook; `text(range, unit)` writes values as the reader wants them.
 * @param {Loaded} loaded
 * @param {string} name
 * @param {string} place
 * @param {Payload} payload
 * @param {IntervalWriter | null} [text]
 */
export function explain(loaded, name, place, payload, text = null) {
  const { kase, book } = loaded.read(payload);
  if (!Object.hasOwn(book.quantities, name)) throw new BadInput("no_quantity", name);
  const { scope } = book.quantities[name], { wheels } = kase;
  const places = { trailer: [""], axle: axlesOf(wheels), wheel: wheels }[scope];
  if (!places.includes(place)) {
    throw new BadInput("quantity_place", name, { scope, places: shown(places) });
  }
  const steps = new Map();
  addQuantity(name, new Writer(kase, place, book, text ?? plainly(book)), steps);
  return [...steps.values()];
}

/**
 * The comparisons that make a finding hold at a place, a sentence each.
 * @param {Loaded} loaded
 * @param {string} finding
 * @param {string} place
 * @param {Payload} payload
 * @param {IntervalWriter | null} [text]
 */
export function decidedBy(loaded, finding, place, payload, text = null) {
  const { kase, book } = loaded.read(payload), tree = prune(book.findings[finding].when, place, kase, book);
  return [...new Set(deciding(tree, new Writer(kase, place, book, text ?? plainly(book))))];
}

// Sorted as in Python; an object would put a choice such as "2" first.
/** @param {Record<string, Tree>} cases */
const arms = (cases) => Object.keys(cases).sort().map((one) => [one, cases[one]]);
/** @param {Tree} tree @param {string} place @param {Case} kase @param {Book} book */
const value = (tree, place, kase, book) => compileTree(tree, book.context)(kase, place);

/** @param {string} name @param {Writer} writer @param {Map<string, Step>} steps */
function addQuantity(name, { kase, book, place, ...writer }, steps) {
  const { scope, unit, formula, source, standing } = book.quantities[name];
  const at = placeFor(scope, place), key = `quantity ${name} ${at}`;
  if (steps.has(key)) return;
  const here = new Writer(kase, at, book, writer.text), tree = prune(formula, at, kase, book);
  addInputs(tree, here, steps);
  const range = value(["quantity", name], at, kase, book);
  const step = rangeStep("quantity", name, at, range, unit, book);
  steps.set(key, { ...step, formula: infix(tree), sum: here.sum(tree), source, standing });
}

// The tree without the branches that the answers rule out.
/** @param {Tree} tree @param {string} place @param {Case} kase @param {Book} book @returns {Tree} */
function prune(tree, place, kase, book) {
  if (!Array.isArray(tree)) return tree;
  const [op, first, second] = tree;
  /** @type {(t: Tree) => Tree} */
  const inner = (t) => prune(t, place, kase, book);
  if (op === "pick") {
    const [low, high] = value(["rank", first], place, kase, book);
    if (low === high) return inner(second[book.context.choices[first][low]]);
    return [op, first, Object.fromEntries(arms(second).map(([one, arm]) => [one, inner(arm)]))];
  }
  if (op === "if") {
    const truth = value(first, place, kase, book);
    if (truth === YES) return inner(second);
    if (truth === NO) return inner(tree[3]);
  }
  if (op === "mate") return [op, prune(first, mateOf(place), kase, book)];
  return op === "each" ? tree : [op, ...tree.slice(1).map(inner)];
}

/** @param {Tree} tree @param {Writer} writer @param {Map<string, Step>} steps */
function addInputs(tree, writer, steps) {
  if (!Array.isArray(tree)) return;
  const [op, first, second, third] = tree, { kase, place } = writer;
  /** @type {(branch: Tree, at?: string) => void} */
  const add = (branch, at = place) => addInputs(branch, at === place ? writer : writer.at(at), steps);
  if (op === "quantity") addQuantity(first, writer, steps);
  else if (["fact", "is", "rank", "known"].includes(op)) addFact(first, writer, steps);
  else if (op === "limit") addLimit(first, writer, steps);
  else if (op === "table") {
    add(second);
    addLimit(first, writer, steps);
  } else if (op === "pick") {
    addFact(first, writer, steps);
    arms(second).forEach(([, arm]) => add(arm));
  } else if (op === "mate") add(first, mateOf(place));
  else if (op === "each") kase.wheels.forEach((wheel) => add(third, wheel));
  else tree.slice(1).forEach((one) => add(one));
}

/** @param {string} name @param {Writer} writer @param {Map<string, Step>} steps */
function addFact(name, writer, steps) {
  if (name === "today") return;
  const { kase, book } = writer, fact = book.facts[name], at = placeFor(fact.scope, writer.place);
  const whole = wholeOf(fact), answer = kase.facts[name]?.[at] ?? whole;
  /** @type {Step} */
  let step;
  if (fact.kind === "choice") {
    const names = fact.choices.filter((one, i, all) => answer & bitOf(all, i));
    const text = names.map((one) => book.words.say(`fact-${name}.choice-${one}`)).join(` ${writer.say("or")} `);
    step = { ...shell("fact", name, at), value: names, text };
  } else step = rangeStep("fact", name, at, answer, fact.unit, book);
  if (fact.kind === "made") step.text = writer.dates(answer);
  step.answered = !same(answer, whole);
  if (!step.answered) step.text = writer.say("open");
  steps.set(`fact ${name} ${at}`, step);
}

/** @param {string} name @param {Writer} writer @param {Map<string, Step>} steps */
function addLimit(name, writer, steps) {
  const { book } = writer;
  const { value: given, unit, source, standing } = book.limits[name];
  const ends = /** @type {any[]} */ (Array.isArray(given) ? given : [given, given]), isTable = Array.isArray(ends[0]);
  const text = isTable ? writer.say("table") : rangeText(book.units, /** @type {Interval} */ (ends), unit);
  steps.set(`limit ${name}`, { ...shell("limit", name, ""), unit, value: ends, text, source, standing });
}

/** @param {Step["kind"]} kind @param {string} id @param {string} place */
const shell = (kind, id, place) => ({ kind, id, place, label: label(id) });

/**
 * @param {Step["kind"]} kind
 * @param {string} name
 * @param {string} place
 * @param {Interval} range
 * @param {string} unit
 * @param {Book} book
 */
function rangeStep(kind, name, place, range, unit, book) {
  return { ...shell(kind, name, place), value: range, text: rangeText(book.units, range, unit), unit };
}

/** @param {string} name */
const label = (name) => String(name.split(".").pop()).replaceAll("_", " ");
/** @param {string[]} names */
const labels = (names) => names.map(label).join(" or ");

// A tree as a person would write the sum.
/** @param {Tree} tree @returns {string} */
function infix(tree) {
  if (!Array.isArray(tree)) return String(Number(tree.toPrecision(6)));
  const [op, a, b, c] = tree;
  if (SIGNS[op]) return `${part(a, op)} ${SIGNS[op]} ${part(b, op)}`;
  if (["fact", "limit", "quantity", "rank", "known"].includes(op)) return label(a);
  if (op === "is") return `${label(a)} is ${labels(b)}`;
  if (op === "pick") {
    return `by ${label(a)} (${arms(b).map(([one, arm]) => `${label(one)}: ${infix(arm)}`).join(", ")})`;
  }
  if (op === "table") return `${label(a)} at (${infix(b)})`;
  if (op === "mate") return `mate's ${part(a, op)}`;
  if (op === "each") return `${a} over ${b} of (${infix(c)})`;
  if (op === "if") return `(${infix(b)} if ${infix(a)}, else ${infix(c)})`;
  if (op === "convert") return `${part(c, "*")} in ${b}`;
  if (op === "neg") return `−${part(a, "*")}`;
  return `${op}(${tree.slice(1).map(infix).join(", ")})`;
}

// An operand, in brackets where leaving them away would change the sum.
/** @param {Tree} tree @param {string} outer @returns {string} */
function part(tree, outer) {
  const text = infix(tree), inner = Array.isArray(tree) ? tree[0] : "";
  const loose = LOOSE[outer] ?? [];
  return !SIGNS[inner] || loose.includes(inner) ? text : `(${text})`;
}
