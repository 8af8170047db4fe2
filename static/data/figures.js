// What can be worked out from one set of answers: which questions each figure needs, and what it comes to.

import { explain } from "../engine/explain.js";
import { placeFor } from "../engine/formula.js";
import { LEVELS } from "../engine/judge.js";
import { isOf, treesOf } from "../engine/working.js";
import { answers, axlesOf, CONSTANT, factOf, isDone, judged, placeOf, pointOf, visits } from "./asking.js";

// What stands on plates and stamps of a trailer and of what tows it: told once, then confirmed in one tap. The ball's
// size is none of them on a walk, where it is asked as a thing that cannot be guessed.
export const FIXED = [...CONSTANT, "ball_size", "ball_rating", "coupler_rating", "hitch_rating", "tow_rating",
  "combined_rating", "rear_axle_rating", "axle_rating", "wheel_rating", "tire_family", "rating_by", "tire_rating",
  "load_index", "speed_symbol", "tongue_rating", "chain_size", "chain_grade", "chains_fitted", "stud", "empty_weight",
  "ball_to_axle", "equalized"];

/**
 * A rulebook that was sent without what the `first` one has, whole. Throws where that is of another release.
 *
 * @param {SentBeside} sent @param {Rulebook | undefined} first @returns {Rulebook}
 */
export function filled({ like, but, beside, ...part }, first) {
  if (first?.hash !== beside) throw Object.assign(new Error("rules of two releases"), { answered: true });
  /** @template T @param {string} kind @param {Record<string, T>} own @param {Record<string, T>} known */
  const whole = (kind, own, known) => {
    const names = like[kind] ?? Object.keys(known).filter((name) => !but[kind].includes(name));
    return { ...own, ...Object.fromEntries(names.map((name) => [name, known[name]])) };
  };
  return { ...part,
    units: whole("units", part.units, first.units), facts: whole("facts", part.facts, first.facts),
    limits: whole("limits", part.limits, first.limits),
    quantities: whole("quantities", part.quantities, first.quantities) };
}

/** Names of the facts that a tree looks at. */
/** @type {(tree: Tree | undefined) => string[]} */
const named = (tree) => {
  if (tree === undefined) return [];
  return isOf(tree, "fact", "is", "rank", "pick", "known") ? [tree[1]] : treesOf(tree).flatMap(named);
};

/** @type {(point: Point) => point is Topic} */
const isTopic = (point) => Boolean(point.shows?.length);

/** One set of answers with what follows from it: places, figures, judgement. */
export class Figures {
  /** `text(range, unit)` writes a value as its reader wants it. */
  /** @param {OpenBook} book @param {Draft} draft @param {IntervalWriter} text */
  constructor(book, draft, text) {
    this.book = book;
    this.draft = draft;
    this.text = text;
    this.axles = axlesOf(draft);
    this.facts = answers(book, draft);
    this.visits = visits(book, draft, this.facts);
    /** @type {Map<string, QuestionStep>} */
    this.steps = new Map();
    for (const visit of this.visits) for (const key of visit.keys) {
      if (!this.steps.has(key)) this.steps.set(key, { ...visit, id: key, keys: [key], together: false });
    }
    this.verdict = judged(book, draft);
  }

  /** Points that work something out and apply to this trailer, by station: `[[station, [point]]]`. */
  /** @returns {[string, Topic[]][]} */
  get topics() {
    const here = new Set(this.visits.map((visit) => visit.point));
    /** @type {(station: Station) => Topic[]} */
    const shown = ({ points }) => points.filter(isTopic).filter(({ id }) => here.has(id));
    /** @type {[string, Topic[]][]} */
    const all = this.book.data.stations.map((s) => [s.id, shown(s)]);
    return all.filter(([, list]) => list.length);
  }

  get all() { return this.topics.flatMap(([, list]) => list); }

  /** @param {string} id */
  point(id) { return this.all.find((point) => point.id === id); }

  /** @param {Scope} scope */
  places(scope) {
    const rows = Array.from({ length: this.axles }, (_, i) => String(i + 1));
    return { trailer: [""], axle: rows, wheel: rows.flatMap((n) => [`${n}L`, `${n}R`]) }[scope];
  }

  /** The working of a quantity, and the keys it still waits for; "not sure" is an answer. */
  /** @param {string} name @param {string} place @param {Topic} point @returns {FigureOf} */
  working(name, place, point) {
    const { book, facts, draft } = this;
    const steps = explain(book, name, place, { check: "figures", date: draft.date, facts }, this.text);
    const keys = steps.filter((s) => s.kind === "fact").map((s) => (s.place ? `${s.id}@${s.place}` : s.id));
    const missing = keys.filter((key) => !(key in facts) && this.steps.has(key));
    // A figure over what happens to be known has nothing yet.
    const empty = !keys.length && JSON.stringify(book.data.quantities[name].formula).includes('"known"');
    if (empty) missing.push(...this.own(point).filter((key) => !(key in facts)));
    return { name, place, steps, keys, missing: missing.sort((a, b) => Number(this.ripe(b)) - Number(this.ripe(a))) };
  }

  /** Keys behind a figure that nobody knows; of what it may take in, where none is in its steps. */
  /** @param {FigureOf} one */
  unsure({ keys, name }) {
    /** @type {(list: string[]) => string[]} */
    const open = (list) => list.filter((key) => (this.facts[key] ?? null) === null);
    const shown = this.all.find((point) => point.shows.includes(name));
    return keys.length ? open(keys) : open(shown ? this.own(shown) : []);
  }

  /** Whether it comes to no less than it could be anyway: its numbers are not known. */
  /** @param {FigureOf} one */
  isOpen(one) {
    if (!this.unsure(one).length) return false;
    const { book, draft } = this;
    /** @type {(key: string) => boolean} */
    const isNumber = (key) => book.data.facts[factOf(key)].kind !== "choice";
    const facts = Object.fromEntries(Object.entries(this.facts).filter(([key]) => key === "axles" || !isNumber(key)));
    const bare = explain(book, one.name, one.place, { check: "figures", date: draft.date, facts });
    return String(bare.at(-1)?.value) === String(one.steps.at(-1)?.value);
  }

  /** Answers that chose between ways of working it out, and so stand in none of its steps. */
  /** @param {FigureOf} one */
  decided({ steps }) {
    const { quantities } = this.book.data;
    return steps.filter((step) => step.kind === "quantity").flatMap((step) => named(quantities[step.id].formula)
      .map((name) => this.key(name, step.place))).filter((key) => key in this.facts);
  }

  /** @param {string} name @param {string} place */
  key(name, place) {
    const at = placeFor(this.book.data.facts[name]?.scope ?? "trailer", place);
    return at ? `${name}@${at}` : name;
  }

  /** @param {Topic} point */
  results(point) {
    /** @type {(name: string) => string[]} */
    const places = (name) => this.places(this.book.data.quantities[name].scope);
    return point.shows.flatMap((name) => places(name).map((place) => this.working(name, place, point)));
  }

  /** Results that came out of answers. */
  /** @param {Topic} point */
  come(point) { return this.results(point).filter((one) => one.keys.length && !one.missing.length); }

  /** @param {{ id: string }} point */
  own(point) { return this.visits.filter((visit) => visit.point === point.id).flatMap((visit) => visit.keys); }

  /** Keys that decide whether a key is asked at all. */
  /** @param {string} key */
  deciding(key) {
    const asking = this.visits.filter((visit) => visit.keys.includes(key));
    const trees = asking.map((visit) => pointOf(this.book, visit.point).applies);
    return [this.book.data.facts[factOf(key)].when, ...(trees.every(Boolean) ? trees : [])].flatMap(named)
      .map((name) => this.key(name, placeOf(key))).filter((one) => this.steps.has(one));
  }

  /** Asked for certain: whatever decides it is answered. */
  /** @param {string} key @returns {boolean} */
  ripe(key) { return this.deciding(key).every((one) => one in this.draft.facts); }

  /** The questions of a topic in walking order: its own, and what its figures need from others. */
  /** @param {Topic} point */
  questions(point) {
    /** @type {(one: FigureOf) => string[]} */
    const behind = (one) => [...one.keys, ...one.missing, ...this.decided(one)];
    const wanted = new Set([...this.own(point), ...this.results(point).flatMap(behind)]);
    if (point.scope !== "trailer") wanted.add("axles");
    for (const key of wanted) if (this.steps.has(key)) this.deciding(key).forEach((one) => wanted.add(one));
    return [...this.steps.values()].filter(({ id }) => wanted.has(id) && this.ripe(id));
  }

  /** The judgement of one point alone, in the form a whole check has. */
  /** @param {{ id: string }} point */
  check(point) {
    /** @type {<T extends Found>(list: T[]) => T[]} */
    const only = (list) => list.filter(({ finding }) => pointOf(this.book, point.id).findings.includes(finding));
    const verdict = { findings: only(this.verdict.findings), cannot_tell: only(this.verdict.cannot_tell) };
    return { check: "figures", date: this.draft.date, facts: this.facts, verdict };
  }

  /** @param {{ id: string }} point */
  level(point) {
    const { findings: found } = this.check(point).verdict;
    return LEVELS.find((level) => found.some((f) => f.level === level));
  }
}

/** The steps of a list that nobody has answered. */
/** @type {(figures: Figures, list: QuestionStep[]) => QuestionStep[]} */
export const openOf = (figures, list) => list.filter((step) => !isDone(figures.draft, step));
