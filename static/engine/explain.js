// The working of a quantity, step by step; the twin of checks/explain.py.

import { BadInput, shown, wholeOf } from "./facts.js";
import { axlesOf, bitOf, bitsOf, compileTree, mateOf, placeFor, rangeOf, same, slotAt } from "./formula.js";
import { NO, YES } from "./interval.js";
import { rangeText } from "./units.js";
import { isOf, isTree, treesOf, Writer, deciding } from "./working.js";

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
/** @type {(cases: Record<string, Tree>) => [choice: string, arm: Tree][]} */
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
  const range = rangeOf(value(["quantity", name], at, kase, book));
  const step = rangeStep("quantity", name, at, range, unit, book);
  steps.set(key, { ...step, sum: here.sum(tree), source, standing });
}

// The tree without the branches that the answers rule out.
/** @param {Tree} tree @param {string} place @param {Case} kase @param {Book} book @returns {Tree} */
function prune(tree, place, kase, book) {
  /** @type {(t: Tree) => Tree} */
  const inner = (t) => prune(t, place, kase, book);
  if (isOf(tree, "pick")) {
    const [op, name, cases] = tree, [low, high] = rangeOf(value(["rank", name], place, kase, book));
    if (low === high) return inner(cases[book.context.choices[name][low]]);
    return [op, name, Object.fromEntries(arms(cases).map(([one, arm]) => [one, inner(arm)]))];
  }
  if (isOf(tree, "if")) {
    const truth = value(tree[1], place, kase, book);
    if (truth === YES) return inner(tree[2]);
    if (truth === NO) return inner(tree[3]);
  }
  if (isOf(tree, "mate")) return [tree[0], prune(tree[1], mateOf(place), kase, book)];
  if (typeof tree === "number" || isOf(tree, "each")) return tree;
  return plain(/** @type {Branch} */ (/** @type {unknown[]} */ (tree).map((one) => (isTree(one) ? inner(one) : one))));
}

/** What a sum may be taken with and stays as it is: on its right, and on either side. */
/** @type {Record<string, number>} */
const IDLE = { "+": 0, "-": 0, "*": 1, "/": 1 };

/** A sum without a written term of nothing or a written factor of one. */
/** @param {Branch} tree @returns {Tree} */
function plain(tree) {
  if (!isOf(tree, "+", "-", "*", "/")) return tree;
  const [op, a, b] = tree;
  if (b === IDLE[op]) return a;
  return isOf(tree, "+", "*") && a === IDLE[op] ? b : tree;
}

/** @param {Tree} tree @param {Writer} writer @param {Map<string, Step>} steps */
function addInputs(tree, writer, steps) {
  const { kase, place } = writer;
  /** @type {(branch: Tree, at?: string) => void} */
  const add = (branch, at = place) => addInputs(branch, at === place ? writer : writer.at(at), steps);
  if (isOf(tree, "quantity")) addQuantity(tree[1], writer, steps);
  else if (isOf(tree, "fact", "is", "rank", "known")) addFact(tree[1], writer, steps);
  else if (isOf(tree, "limit")) addLimit(tree[1], writer, steps);
  else if (isOf(tree, "table")) {
    add(tree[2]);
    addLimit(tree[1], writer, steps);
  } else if (isOf(tree, "pick")) {
    addFact(tree[1], writer, steps);
    arms(tree[2]).forEach(([, arm]) => add(arm));
  } else if (isOf(tree, "mate")) add(tree[1], mateOf(place));
  else if (isOf(tree, "each")) kase.wheels.forEach((wheel) => add(tree[3], wheel));
  else treesOf(tree).forEach((one) => add(one));
}

/** @param {string} name @param {Writer} writer @param {Map<string, Step>} steps */
function addFact(name, writer, steps) {
  if (name === "today") return;
  const { kase, book } = writer, fact = book.facts[name], at = placeFor(fact.scope, writer.place);
  const whole = wholeOf(fact), answer = kase.facts.get(slotAt(name, at).key) ?? whole;
  /** @type {Step} */
  let step;
  if (fact.kind === "choice") {
    const names = fact.choices.filter((one, i, all) => bitsOf(answer) & bitsOf(bitOf(all, i)));
    const text = names.map((one) => book.words.say(`fact-${name}.choice-${one}`)).join(` ${writer.say("or")} `);
    step = { ...shell("fact", name, at), value: names, text };
  } else step = rangeStep("fact", name, at, rangeOf(answer), fact.unit, book);
  if (fact.kind === "made") step.text = writer.dates(rangeOf(answer));
  step.answered = !same(answer, whole);
  if (!step.answered) step.text = writer.say("open");
  steps.set(`fact ${name} ${at}`, step);
}

/** @param {string} name @param {Writer} writer @param {Map<string, Step>} steps */
function addLimit(name, writer, steps) {
  const { book } = writer;
  const { value: given, unit, source, standing } = book.limits[name];
  const ends = /** @type {Interval | Interval[]} */ (Array.isArray(given) ? given : [given, given]);
  const isTable = Array.isArray(ends[0]);
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
