// The walk by place, worked out afresh from its draft: where a person stands next, the zones there, and
// what each answer says of how it was looked at. No screens here.

import { axlesOf, factOf, isDone, isKnown, isYesNo, steps } from "./asking.js";

export const DEPTHS = ["trip", "month", "season"];

const LAMPS = [["lamp_tail", "lamp_plate"], ["lamp_stop"], ["lamp_left"], ["lamp_right"]];
/** @type {Record<string, string>} */
const FINE = { latch: "yes", nuts: "tight", inner_seen: "yes", tongue_feel: "level" };
/** @type {Record<string, string>} */
const SAME = { inside: "outside" }; // the inner side shows the same faults as the outer

/** The answer of a fact where nothing is wrong. */
/** @param {string} key */
export const fineOf = (key) => FINE[factOf(key)] ?? "no";

/** What a fact is told by when it was only glanced at: every choice, so that nothing is ruled out. */
/** @param {OpenBook} book @param {string} key */
export const glanceOf = (book, key) => book.data.facts[factOf(key)].choices;

/** @param {OpenBook} book @param {string} fact */
const isLook = (book, fact) => fact in FINE || isYesNo(book.data.facts[fact]);

/** The places of the walk in order: `hitch`, `wheel.1R`, ..., `load`. */
/** @param {Draft} draft */
export function placesOf(draft) {
  /** @param {string} side */
  const wheels = (side) => Array.from({ length: axlesOf(draft) }, (_, n) => `wheel.${n + 1}${side}`);
  return ["hitch", ...wheels("R"), "rear", ...wheels("L"), "load"];
}

/** A place and what is asked there of this trailer. */
export class Place {
  /** @param {AppBook} book @param {Draft} draft @param {string} at */
  constructor(book, draft, at) {
    const [name, wheel = ""] = at.split(".");
    this.book = book;
    this.draft = draft;
    this.at = at;
    this.name = name;
    this.wheel = wheel;
    this.zones = book.data.zones.filter((zone) => zone.place === name);
  }

  /** @param {string} fact */
  key(fact) {
    const { scope } = this.book.data.facts[fact];
    if (scope === "trailer") return fact;
    return `${fact}@${scope === "axle" ? this.wheel[0] : this.wheel}`;
  }

  /** The zones here, each with the keys it settles and the faults to choose from; each lamp's switch is one. */
  rows() {
    const asked = new Set(steps(this.book, this.draft).flatMap((step) => step.keys));
    return this.zones.flatMap((zone) => this.rowsOf(zone, asked)).filter(({ keys }) => keys.length)
      .map((row) => ({ ...row, state: this.stateOf(row) }));
  }

  /** @param {Zone} of @param {Set<string>} asked */
  rowsOf({ id, facts }, asked) {
    const seen = facts.filter((fact) => isLook(this.book, fact));
    /** @param {string} name @param {string[]} some */
    const row = (name, some) => ({ zone: id, id: name, faults: some,
      keys: some.map((fact) => this.key(fact)).filter((key) => asked.has(key)) });
    if (id !== "lamps") return [{ ...row(id, seen), faults: this.faultsOf(id) }];
    const switched = LAMPS.flat();
    return [...LAMPS.map((some, n) => row(`lamps_${n + 1}`, some)),
      row("lamps_more", seen.filter((fact) => !switched.includes(fact)))];
  }

  /** @param {string} id */
  faultsOf(id) {
    const from = this.zones.find((zone) => zone.id === (SAME[id] ?? id));
    return (from?.facts ?? []).filter((fact) => isLook(this.book, fact));
  }

  /** "" until answered; then `fine`, `glance`, `unsure` or `something`. */
  /** @param {Omit<ZoneRow, "state">} of @returns {ZoneRow["state"]} */
  stateOf({ id, faults, keys }) {
    const { facts, looked = {} } = this.draft, name = `${this.at}.${id}`;
    const told = keys.every((key) => key in facts || factOf(key) === "inner_seen");
    if (!told || !(name in looked)) return "";
    return this.hasFault({ faults }) ? "something" : looked[name];
  }

  /** Whether a fault was ticked in this row, and its list left before the others were. */
  /** @param {ZoneRow} row */
  isLeft(row) {
    return !row.state && this.draft.looked?.[`${this.at}.${row.id}`] === "something" && this.hasFault(row);
  }

  /** Whether one of a zone's faults is told. */
  /** @param {Pick<ZoneRow, "faults">} of1 */
  hasFault({ faults }) {
    const { facts } = this.draft;
    return faults.map((fact) => this.key(fact)).some((key) => isKnown(facts[key]) && facts[key] !== fineOf(key));
  }

  /**
   * What nobody can guess here, `{zone, key}`: they take turns from walk to walk, and a second one comes
   * to one of several wheels at a time.
   */
  proof() {
    const all = this.book.data.proofs.filter((one) => one.place === this.name);
    if (!all.length) return null;
    const alike = placesOf(this.draft).filter((at) => at.startsWith(this.name));
    const turn = (this.draft.turn ?? 0) % (alike.length * (all.length - 1) + 1);
    const { zone, fact } = all[turn && alike.indexOf(this.at) === (turn - 1) % alike.length
      ? 1 + Math.floor((turn - 1) / alike.length) : 0];
    return { zone, key: this.key(fact) };
  }

  /** Whether the proof given differs from that of the last walk. */
  get differs() {
    const proof = this.proof(), { facts, before = {} } = this.draft;
    if (!proof) return false;
    const { key } = proof;
    return key in before && isKnown(facts[key]) && facts[key] !== before[key];
  }

  /** Questions of this place that no zone settles, in their order. */
  rest() {
    const zoned = new Set(this.book.data.zones.flatMap(({ facts }) => facts.filter((fact) => isLook(this.book, fact))));
    return steps(this.book, this.draft).filter((step) => placeOfStep(step) === this.at
      && step.keys.some((key) => !zoned.has(factOf(key))));
  }

  /** Those of them that stand on the place's own screen: how far to go is asked before, the proof by itself. */
  asks() {
    const own = ["walk_depth", this.proof()?.key];
    return this.rest().filter(({ keys }) => !own.includes(keys[0]));
  }

  get isDone() {
    const proof = this.proof();
    if (!this.asks().every((step) => isDone(this.draft, step))) return false;
    return this.rows().every(({ state }) => state) && (!proof || proof.key in this.draft.facts);
  }
}

/** @param {QuestionStep} of */
function placeOfStep({ station, place }) {
  if (station === "about") return "about";
  if (["hitch", "by_wheels"].includes(station)) return "hitch";
  if (station === "wheels") return `wheel.${place.length > 1 ? place : `${place}L`}`;
  return station === "rear" ? "rear" : "load";
}

/** Where the walk goes on: `{step}` to ask, `{at}` to stand, or null when all is answered. */
/** @param {AppBook} book @param {Draft} draft */
export function nextOn(book, draft) {
  /** @param {QuestionStep[]} list */
  const open = (list) => list.find((step) => !isDone(draft, step));
  const about = open(steps(book, draft).filter(({ station }) => station === "about"));
  if (about) return { step: about };
  for (const at of placesOf(draft)) {
    const place = new Place(book, draft, at);
    if (!place.isDone) return { at };
  }
  const left = open(steps(book, draft));
  return left ? { step: left } : null;
}

// ---- against earlier walks ----

/** When a walk of at least this depth was last kept: its day, or null. `checks` are newest first. */
/** @param {KeptCheck[]} checks @param {string} depth */
export function lastDeep(checks, depth) {
  const enough = DEPTHS.slice(DEPTHS.indexOf(depth));
  return checks.find(({ record }) => record.body.check === "walkaround"
    && enough.includes(String(record.body.facts.walk_depth ?? "season")))?.record.made ?? null;
}

/**
 * What a walk left out of the points that count: `{whole: [[made, points]], partly: points}`, the whole ones
 * by when they were last looked at (null: never), newest first.
 */
/** @param {OpenBook} book @param {Verdict} verdict @param {KeptCheck[]} checks */
export function leftOut(book, verdict, checks) {
  const counting = new Set(book.data.stations.flatMap(({ points }) => points)
    .filter(({ weight }) => weight).map(({ id }) => id));
  const begun = new Set((verdict.points ?? []).map(({ point }) => point));
  const left = [...new Set((verdict.left_out ?? []).map(({ point }) => point))].filter((one) => counting.has(one));
  /** @param {KeptCheck} of @param {string} point */
  const looked = ({ record }, point) => (record.body.verdict.points ?? [])
    .some((one) => one.point === point && one.level !== "unchecked");
  const whole = new Map();
  for (const point of left.filter((one) => !begun.has(one))) {
    const made = checks.find((item) => looked(item, point))?.record.made ?? null;
    whole.set(made, [...whole.get(made) ?? [], point]);
  }
  return { whole: [...whole].sort(([a], [b]) => (a ?? "") < (b ?? "") ? 1 : -1),
    partly: left.filter((one) => begun.has(one)) };
}

/** Points in words, a station at a time. */
/** @param {OpenBook} book @param {string[]} points */
export const byStation = ({ data, words }, points) => data.stations.flatMap(({ id, points: all }) => {
  const here = all.filter((one) => points.includes(one.id)).map((one) => words.say(`point-${one.id}`));
  return here.length ? [`${words.say(`station-${id}`)}: ${here.join(", ")}`] : [];
});

/** What the walk before gave for each proof, and how many walks there were: `{before, turn}`. */
/** @param {AppBook} book @param {KeptCheck[]} checks */
export function earlier(book, checks) {
  const walks = checks.filter(({ record }) => record.body.check === "walkaround");
  const proofs = new Set(book.data.proofs.map(({ fact }) => fact));
  /** @type {Answers} */
  const before = {};
  for (const { record } of [...walks].reverse()) {
    for (const [key, raw] of Object.entries(record.body.facts)) {
      if (proofs.has(factOf(key)) && isKnown(raw)) before[key] = raw;
    }
  }
  return { before, turn: walks.length };
}
