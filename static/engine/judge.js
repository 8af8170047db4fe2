// Answers in, verdict out; the twin of checks/judge.py, fed by the exported rulebook alone.

import {
  Case, axlesOf, bitsOf, compileTree, leansOf, placeFor, rangeOf, reading, same, slotAt, slotsIn, touched,
} from "./formula.js";
import { BadInput, readAnswer, readDate, shown, splitKey, wheelOrder, wholeOf } from "./facts.js";
import { MAYBE, NO, YES } from "./interval.js";

export { BadInput };
/** @type {Level[]} */
export const LEVELS = ["stop", "mend", "look", "nothing", "unchecked"]; // worst first
/** As one level stands for several. @type {Level[]} */
const WORST = ["stop", "mend", "look", "unchecked", "nothing"];
export const DEPTHS = ["trip", "month", "season"]; // how far a walk goes
export const CHECKS = ["walkaround", "run_stop", "quick_stop", "nuts_stop", "load_stop", "tires", "bench", "figures"];
// Findings that stand for a doubt: answers too coarse to rule out worse, numbers too near a limit,
// a sign of danger while answers are missing.
export const TOO_HOT = "too_hot";
export const STAND_INS = ["too_rough", "too_near", TOO_HOT, "mates_apart"];
/** @type {Record<string, number>} */
const SCORE = { stop: 0, mend: 0, look: 0.5, nothing: 1 };
// The facts that end all asking: one at the whole trailer, to which nobody goes back, one at its wheel; and the depth
// at which nothing more is asked.
const FIRE = "flames", SMOKE = "smoke", BURNS = -1;
const FOUND_WEIGHT = 1; // what a point of weight 0 counts once something is found there

// The rulebook, compiled once: everything the app asks of the rules goes through what this returns.
// `words` is `{say, has}`, for the answers named in a working.
/** @param {Rulebook} json @param {Words} words @returns {Loaded} */
export function load(json, words) {
  const book = { ...compileBook(json), words };
  /** @type {Judgement | undefined} */
  let last;
  /** @param {Payload} payload */
  const read = (payload) => {
    const { facts, wheels } = readCase(payload, book);
    return new Case(facts, wheels);
  };
  return {
    hash: json.hash,
    words,
    judge(payload, afresh) {
      const before = afresh ? undefined : last;
      last = undefined; // what is refused half-way leaves nothing behind
      last = judge(payload, book, before);
      return last.verdict;
    },
    asked(check, facts, date) {
      const kase = read({ check, date, facts }), depth = depthOf(check, kase);
      return stands(check, kase.wheels, book).flatMap((stand) => {
        const visit = visitOf(stand, kase, depth), { station, point, place } = stand;
        return visit ? [{ station, point: point.json, place, keys: visit.keys.map(({ key }) => key) }] : [];
      });
    },
    // The choices of a choice fact that apply to these answers, in the fact's order.
    offered(key, facts, date) {
      const { name, place } = homeOf(key, book), tests = book.offers[name];
      const kase = read({ check: CHECKS[0], date, facts });
      return json.facts[name].choices.filter((one) => !tests[one] || tests[one](kase, place) !== NO);
    },
    // What engine/explain.js needs, which comes later than a first visit.
    read: (payload) => ({ kase: read(payload), book }),
    readAnswer: (key, raw, date) => readAnswer(homeOf(key, book).fact, key, raw, readDate(date), json.units),
  };
}

/** @template T, U @param {Record<string, T>} object @param {(value: T, name: string) => U} f */
const mapped = (object, f) =>
  /** @type {Record<string, U>} */ (
    Object.fromEntries(Object.entries(object).map(([name, value]) => [name, f(value, name)])));

/** @param {Rulebook} json @returns {Context} */
export function contextOf(json) {
  return {
    whole: { ...mapped(json.facts, wholeOf), today: [-36525, 36525] },
    scope: { ...mapped({ ...json.facts, ...json.quantities }, (item) => item.scope), today: "trailer" },
    choices: mapped(json.facts, (fact) => fact.choices),
    limits: mapped(json.limits, (limit) => limit.value),
    quantities: mapped(json.quantities, (quantity) => quantity.formula),
    units: json.units,
    compiled: {},
    shared: {},
  };
}

/** @param {Rulebook} json @returns {Omit<Book, "words">} */
function compileBook(json) {
  const context = contextOf(json);
  /** When it is first asked for: all at once would hold up a slow phone's start. @type {(tree: Tree) => Test} */
  const compiled = (tree) => {
    /** @type {Test | undefined} */
    let test;
    return (kase, place) => (test ??= compileTree(tree, context))(kase, place);
  };
  /** @type {(tree: Tree | undefined) => Test | undefined} */
  const maybe = (tree) => (tree ? compiled(tree) : undefined);
  const findings = mapped(json.findings, (f, id) => ({ ...f, id, test: compiled(f.when), alarmed: maybe(f.alarm),
    mooted: maybe(f.moot) }));
  const stations = json.stations.map(({ id, points }) => ({
    id,
    points: points.map((point) => ({
      ...point,
      json: point,
      applies: maybe(point.applies),
      findings: point.findings.map((one) => findings[one]),
      moots: point.findings.some((one) => findings[one].mooted),
    })),
  }));
  return { ...json, context, findings, stations, homes: new Map(), stands: {},
    asks: mapped(json.facts, (fact) => maybe(fact.when)),
    offers: mapped(json.facts, (fact) => mapped(fact.only ?? {}, compiled)) };
}

const MUCH = 24; // keys

/**
 * The verdict, and all that it came by. A point whose answers stand as in the judgement `before` is as it was there.
 *
 * @param {Payload} payload @param {Book} book @param {Judgement} [before] @returns {Judgement}
 */
function judge(payload, book, before) {
  const { check, facts, wheels, changed, signs } = readCase(payload, book, before?.kase.facts);
  const all = stands(check, wheels, book), depth = depthOf(check, { facts, wheels });
  // where much has changed, looking through what it touches takes longer than judging afresh
  const known = changed.length < MUCH && before?.all === all && before.depth === depth
    && before.verdict.date === payload.date ? before : null;
  const kase = known?.kase ?? new Case(facts, wheels);
  for (const [key, { at, made }] of kase.cache) {
    if (touched(made.leans ??= leansOf(made.of, book.context), at, changed)) kase.cache.delete(key);
  }
  /** @param {Stand} stand @param {Home[]} homes */
  const leans = ({ point, place }, homes) => touched(leansAt(point, book), place, homes);
  const anew = all.map((stand) => !known || leans(stand, changed));
  const walk = all.map((stand, i) => (anew[i] ? visitOf(stand, kase, depth) : known?.walk[i]));
  /** @type {Home[]} */
  const restaged = [], keys = keysOf(walk, kase, book, payload.facts, restaged, known);
  const seen = walk.map((visit, i) =>
    visit && (anew[i] || leans(all[i], restaged) ? lookAt(visit, kase, book) : known?.seen[i]));
  const verdict = verdictOf(payload, signs, seen, keys, kase, book);
  return { all, depth, kase, walk, keys, turn: turns, seen, verdict };
}

/** The names in a point's trees and in those of what it asks; what ends the asking at its wheel is there for all. */
/** @param {CompiledPoint} point @param {Book} book */
const leansAt = (point, { facts, context }) => point.leans ??= leansOf([point,
  point.facts.map((name) => facts[name].when), SMOKE], context);

/**
 * @param {Payload} payload @param {string[]} signs @param {(Seen | undefined)[]} seen @param {Home[]} keys
 * @param {Case} kase @param {Book} book @returns {Verdict}
 */
function verdictOf({ check, date }, signs, seen, keys, kase, book) {
  /** @type {Verdict["points"]} */
  const points = [];
  /** @type {Found[]} */
  const findings = [];
  /** @type {Doubt[]} */
  const cannot = [];
  const leftOut = [];
  let low = 0, high = 0, weight = 0;
  for (const one of seen) if (one) {
    const { entry, found, unsettled, left, share, ends } = one;
    if (left) leftOut.push(left);
    if (entry) points.push(entry);
    findings.push(...found);
    cannot.push(...unsettled);
    weight += share;
    low += share * ends[0];
    high += share * ends[1];
  }
  /** @type {(one: Found) => number} */
  const dangerOf = ({ finding }) => book.findings[finding]?.danger ?? 0;
  const count = Array(HUSHED + 1).fill(0); // of keys, by how they stand
  for (const { slot } of keys) count[slot.stage]++;
  const cannotTell = bySeverity(cannot);
  const level = count[ASKED] + count[MUST] ? overall(new Set(points.map((point) => point.level))) : "unchecked";
  return {
    rulebook: book.hash,
    check,
    date,
    level,
    readiness: level === "stop" || level === "mend" || !weight ? null : [percent(low, weight), percent(high, weight)],
    coverage: { answered: count[MUST], asked: count[MUST] + count[MUST | OPEN] },
    places: byPlace(points, kase),
    points,
    findings: once(bySeverity(findings.sort((a, b) => dangerOf(b) - dangerOf(a))), signs),
    cannot_tell: cannotTell,
    next: nextFacts(cannotTell, keys),
    left_out: leftOut,
  };
}

/** What a point comes to at its place. @param {Visit} visit @param {Case} kase @param {Book} book @returns {Seen} */
export function lookAt(visit, kase, book) {
  const { point, place, keys } = visit, [found, doubts, later] = examine(visit, kase, book);
  const unsettled = visit.over ? [] : doubts; // nobody is sent to look closer
  const deeper = !visit.over && visit.later.some(({ fact }) => !fact.optional);
  const left = later.length || deeper ? { point: point.id, place } : null;
  if (deeper && !keys.length && !found.length && !unsettled.length) {
    // nobody looked: no level, but it is open
    return { found, unsettled, left, share: point.weight, ends: [0, 1] };
  }
  const [level, open] = pointLevel(visit, found, unsettled, kase, book);
  // a doubt that another answer speaks against, or a fire leaves open, keeps its point's level, and is not told
  const told = unsettled.filter(({ finding, why, facts }) => (facts.length || why === "vague")
    && !(point.moots && book.findings[finding].mooted?.(kase, place) === YES));
  const seen = { entry: { point: point.id, place, level, open }, found, unsettled: told, left,
    share: weightOf(point, level), ends: scoreEnds(level, unsettled, later) };
  // no level without a card
  if (level === "look" && !found.length) found.push({ finding: standIn(visit, unsettled, kase, book), place, level });
  // what was found would send on from a hub too hot for a hand that is open
  else if (level === "look" && !found.some(({ finding }) => book.findings[finding].holds) && unsettled.some(
    ({ why, finding }) => why === "open" && book.findings[finding].card === TOO_HOT
      && book.findings[finding].alarmed?.(kase, place) === YES)) {
    found.push({ finding: TOO_HOT, place, level });
  }
  return seen;
}

/** @param {unknown} value @returns {value is Record<string, unknown>} */
const isObject = (value) => typeof value === "object" && value !== null && !Array.isArray(value);

/** What is answered, put into `facts`, and which keys stood there otherwise. */
/** @param {Payload} payload @param {Book} book @param {Facts} [facts] */
function readCase(payload, book, facts = new Map()) {
  if (!isObject(payload)) throw new BadInput("input");
  for (const key of Object.keys(payload)) {
    if (!["check", "date", "facts"].includes(key)) throw new BadInput("input_key", key);
  }
  const { check, date, facts: raw } = payload;
  if (!CHECKS.includes(check)) {
    throw new BadInput("check", "check", { given: shown(check), offer: CHECKS.join(", ") });
  }
  const day = readDate(date);
  if (!isObject(raw)) throw new BadInput("facts", "facts");
  facts.delete("today");
  /** @type {Home[]} */
  const changed = [];
  let named = 0, first = "";
  const signs = unplaced(raw, book);
  for (const key of Object.keys(raw)) if (!signs.includes(key)) {
    const home = homeOf(key, book), given = raw[key];
    // Nearly all are as they were; what may be another inside is read anew.
    if (home.raw !== given || home.day !== day || Array.isArray(given)) {
      home.value = readAnswer(home.fact, key, given, day, book.units);
      [home.raw, home.day] = [given, day];
    }
    const value = /** @type {Value} */ (home.value);
    if (!same(facts.get(key), value)) changed.push(home);
    facts.set(key, value);
    if (home.place && Number(home.place[0]) > named) [named, first] = [Number(home.place[0]), key];
  }
  const wheels = wheelOrder(axles(facts, raw, named, first));
  const everywhere = signs.flatMap((sign) => wheels.map((at) => `${sign}@${at}`));
  for (const key of everywhere) {
    if (facts.get(key) !== YES) changed.push(homeOf(key, book));
    facts.set(key, YES);
  }
  for (const key of facts.keys()) if (!Object.hasOwn(raw, key) && !everywhere.includes(key)) {
    facts.delete(key);
    changed.push(homeOf(key, book));
  }
  facts.set("today", [day, day]);
  return { check, facts, wheels, changed, signs };
}

const SIGN = "has_"; // of a finding that is just a sign seen at a wheel; the fact of the sign follows

// Signs seen at a wheel that nobody has told: the fact without a place. They count at every wheel.
/** @param {Answers} raw @param {Pick<Book, "findings">} book */
const unplaced = (raw, { findings }) => Object.keys(raw).filter((key) => raw[key] === "yes" && SIGN + key in findings);

// The findings, those of a sign whose wheel nobody told once and of no wheel.
/** @param {Found[]} found @param {string[]} signs */
function once(found, signs) {
  /** @param {Found} one */
  const isOf = ({ finding }) => signs.some((sign) => SIGN + sign === finding);
  return found.filter((one, n) => !isOf(one) || found.findIndex(({ finding }) => finding === one.finding) === n)
    .map((one) => (isOf(one) ? { ...one, place: "" } : one));
}

/** Where an answer belongs: its key is taken apart once. @param {string} key @param {Book} book */
function homeOf(key, book) {
  let home = book.homes.get(key);
  if (!home) {
    const [name, place] = splitKey(key, book.facts);
    const fact = book.facts[name], whole = book.context.whole[name];
    book.homes.set(key, home = { key, name, place, fact, whole, slot: slotAt(name, place) });
  }
  return home;
}

// Axles as answered; else as many as the places named, and at least one.
/** @param {Facts} facts @param {Answers} raw @param {number} named @param {string} first */
function axles(facts, raw, named, first) {
  if (raw.axles === null || raw.axles === undefined) return named || 1;
  const count = Math.trunc(rangeOf(/** @type {Value} */ (facts.get("axles")))[1]);
  if (named > count) {
    throw new BadInput("axle", first, { axle: String(named), axles: String(count) });
  }
  return count;
}

/** A check's points at their places, in walking order: the same for all trailers of so many wheels. */
/** @param {string} check @param {string[]} wheels @param {Book} book @returns {Stand[]} */
export function stands(check, wheels, book) {
  const { facts, asks } = book;
  return book.stands[check + wheels.length] ??= book.stations.flatMap(({ id: station, points }) =>
    [...wheels, ""].flatMap((place) => points
      .filter((point) => point.checks.includes(check) && (point.scope === "wheel") === (place !== ""))
      .flatMap((point) => (point.scope === "axle" ? axlesOf(wheels) : [place]).map((at) => ({
        station, point, place: at, spots: point.facts.map((name) => ({ ask: asks[name],
          home: homeOf(slotAt(name, placeFor(facts[name].scope, at)).key, book) })),
      })))));
}

/** @param {Stand} stand @param {Case} kase @param {number} depth how far the walk goes @returns {Visit | undefined} */
export function visitOf({ point, place, spots }, kase, depth) {
  if (point.applies?.(kase, place) === NO) return;
  const far = kase.facts.get(`${SMOKE}@${place}`) === YES ? BURNS : depth;
  /** @type {Visit} */
  const visit = { point, place, keys: [], later: [], over: false };
  for (const { home, ask } of spots) if (ask?.(kase, place) !== NO) {
    const deep = DEPTHS.indexOf(home.fact.depth ?? "trip") > far && isOpen(home, kase);
    visit[deep ? "later" : "keys"].push(home);
  }
  visit.over = far === BURNS && spots.some(({ home }) => isOpen(home, kase));
  return visit;
}

// How far this walk goes; all the way unless it says otherwise, and no further once there is a fire.
/** @param {string} check @param {Pick<Case, "facts" | "wheels">} kase */
function depthOf(check, { facts, wheels }) {
  if (wheels.some((at) => facts.get(`${FIRE}@${at}`) === YES)) return BURNS;
  const told = [1, 2, 4].indexOf(bitsOf(facts.get("walk_depth") ?? 0));
  return check === "walkaround" && told >= 0 ? told : DEPTHS.length - 1;
}

/** @param {Home} home @param {Case} kase */
function isOpen({ key, whole }, { facts }) {
  const value = facts.get(key);
  return value === undefined || same(value, whole);
}

// How a key stands in a check, a bit each: asked and may be left out, asked and must be answered, still open; or of a
// deeper walk alone, which waits for it or, `SPARED`, does not; or what only a fire keeps from being asked.
const ASKED = 1, MUST = 2, OPEN = 4, DEEPER = 8, SPARED = 16, HUSHED = 32;

let turns = 0; // of asking

/** All keys of a walk, told how they stand. Those that stand otherwise than `before` are added to `changed`. */
/**
 * @param {(Visit | undefined)[]} walk @param {Case} kase @param {Book} book @param {Answers} raw
 * @param {Home[]} [changed] @param {Judgement | null} [before]
 */
export function keysOf(walk, kase, book, raw, changed = [], before = null) {
  const turn = ++turns;
  /** @type {Home[]} */
  const keys = [];
  /** @param {Home[]} homes @param {boolean} later @param {boolean} [over] */
  const ask = (homes, later, over) => {
    for (const home of homes) if (home.slot.asked !== turn) {
      const { key, slot, fact: { optional, kind } } = home;
      // What names every choice is not open: somebody looked, but too briefly to rule any out.
      const open = isOpen(home, kase) && !(kind === "choice" && Array.isArray(raw[key]));
      const stage = later ? optional ? SPARED : over ? HUSHED : DEEPER : (optional ? ASKED : MUST) | (open ? OPEN : 0);
      if (slot.asked !== before?.turn || slot.stage !== stage) changed.push(home);
      slot.asked = turn;
      slot.stage = stage;
      keys.push(home);
    }
  };
  for (const visit of walk) if (visit) ask(visit.keys, false);
  for (const visit of walk) if (visit) ask(visit.later, true, visit.over);
  for (const home of before?.keys ?? []) if (home.slot.asked !== turn) changed.push(home);
  return keys;
}

// Findings that hold at a point, those that cannot be told yet, and those of a deeper walk.
/** @param {Visit} visit @param {Case} kase @param {Book} book @returns {[Found[], Doubt[], Found[]]} */
function examine({ point, place }, kase, { findings }) {
  /** @type {Found[][]} */
  const [found, left] = [[], []];
  /** @type {Doubt[]} */
  const unsettled = [];
  for (const { id, level, test, optional } of point.findings) {
    const { value: truth, reads } = reading(test, kase, place);
    if (truth === YES) found.push({ finding: id, place, level });
    if (truth !== MAYBE) continue;
    /** @type {string[]} */
    const missing = [], /** @type {string[]} */ needs = [];
    let all = 0;
    for (const { key, asked, stage } of slotsIn(reads)) if (asked === turns) {
      all |= stage;
      if (stage & OPEN) (stage & MUST ? missing : needs).push(key);
    }
    if (all & DEEPER) left.push({ finding: id, place, level });
    else if (missing.length || all & HUSHED) unsettled.push({ finding: id, place, level, why: "open", facts: missing });
    else if (!optional && !(all & SPARED)) unsettled.push({ finding: id, place, level, why: "vague", facts: needs });
  }
  return found.length ? [...worstOnly(found, unsettled, findings), left] : [found, unsettled, left];
}

// Drops what a worse finding that holds already says.
/** @type {(found: Found[], unsettled: Doubt[], findings: Book["findings"]) => [Found[], Doubt[]]} */
function worstOnly(found, unsettled, findings) {
  const holds = new Set(found.map((f) => f.finding));
  /** @param {Found} one */
  const counts = ({ finding }) => {
    let above = findings[finding].beneath;
    while (above && !holds.has(above)) above = findings[above].beneath;
    return !above;
  };
  return [found.filter(counts), unsettled.filter(counts)];
}

/**
 * @param {Visit} visit
 * @param {Found[]} found
 * @param {Doubt[]} unsettled
 * @param {Case} kase
 * @param {Book} book
 * @returns {[Level, string[]]}
 */
function pointLevel({ point, place, keys, over }, found, unsettled, kase, book) {
  /** @param {number} bits */
  const those = (bits) => keys.filter(({ slot: { stage } }) => (stage & bits) === bits);
  const opens = those(MUST | OPEN).map(({ key }) => key);
  if (found.length) return [bySeverity(found)[0].level, opens];
  // a point that counts needs an answer, if only an optional one
  const required = those(MUST).length, wanted = required || !point.weight ? required : keys.length;
  const untouched = wanted > 0 && wanted === (required ? opens : those(OPEN)).length;
  if (over || untouched || unsettled.some((u) => u.why === "open")) {
    return [alarmAt(point, place, kase) ? "look" : "unchecked", opens];
  }
  return [raising(unsettled, kase, book).length ? "look" : "nothing", opens];
}

/** The first finding whose alarm holds at a point. */
/** @param {CompiledPoint} point @param {string} place @param {Case} kase */
const alarmAt = ({ findings }, place, kase) => findings.find((f) => f.alarmed?.(kase, place) === YES);

/** Whether answers too coarse for this doubt are a reason to look again. */
/** @param {Found} entry @param {Pick<Rulebook, "findings">} book */
export const raises = ({ finding, level }, { findings: { [finding]: rule } }) =>
  !rule?.told_only && (level !== "look" || Boolean(rule?.alarm));

// Doubts for which a point is *look*: of what must be mended, or while their alarm holds.
/** @param {Doubt[]} unsettled @param {Case} kase @param {Book} book */
const raising = (unsettled, kase, book) => unsettled.filter((u) => raises(u, book)
  && (u.level !== "look" || book.findings[u.finding].alarmed?.(kase, u.place) === YES));

/** The finding that says why a point is *look* where none holds, by what was answered. */
/** @param {Visit} visit @param {Doubt[]} unsettled @param {Case} kase @param {Book} book */
function standIn({ point, place }, unsettled, kase, book) {
  const [rough, near] = STAND_INS;
  if (!unsettled.length || unsettled.some((u) => u.why === "open")) {
    return alarmAt(point, place, kase)?.card ?? TOO_HOT;
  }
  /** @param {Slot} slot */
  const glanced = ({ key }) => {
    const bits = kase.facts.get(key);
    return typeof bits !== "object" && (bits ?? 1).toString(2).lastIndexOf("1") > 0;
  };
  const rest = raising(unsettled, kase, book).some(({ finding, facts }) => facts.length
    || slotsIn(reading(book.findings[finding].test, kase, place).reads).some(glanced));
  return rest ? rough : near;
}

// A point's share of the readiness; a sign at a point that counts nothing else counts too.
/** @param {CompiledPoint} point @param {Level} level */
const weightOf = ({ weight }, level) => weight || (SCORE[level] < 1 ? FOUND_WEIGHT : 0);

/** @param {Level} level @param {Found[]} unsettled @param {Found[]} left @returns {Interval} */
function scoreEnds(level, unsettled, left) {
  const best = SCORE[level] ?? 1, doubts = [...unsettled, ...left].map((one) => SCORE[one.level]);
  return [level === "unchecked" ? 0 : Math.min(best, ...doubts), best];
}

// Rounded, but all only where nothing is left to wish for.
/** @param {number} part @param {number} weight */
const percent = (part, weight) => Math.min(Math.trunc((100 * part) / weight + 0.5), part === weight ? 100 : 99);
/** @type {<T extends { level: Level }>(list: T[]) => T[]} */
const bySeverity = (list) => LEVELS.flatMap((level) => list.filter((one) => one.level === level));

/** @param {Set<Level>} levels @returns {Level} */
const overall = (levels) => WORST.find((level) => levels.has(level)) ?? "unchecked";

// Worst level at each place that was visited; a place with an open point is unchecked.
/** @param {Verdict["points"]} points @param {Case} kase */
function byPlace(points, kase) {
  /** @type {Record<string, Set<Level>>} */
  const levels = {};
  for (const { place, level } of points) (levels[place] ??= new Set()).add(level);
  return Object.fromEntries(["", ...axlesOf(kase.wheels), ...kase.wheels].filter((place) => levels[place])
    .map((place) => [place, overall(levels[place])]));
}

// Open facts, first the one whose answer could change the verdict most; among equals, as walked.
/** @param {Doubt[]} cannot worst first @param {Home[]} keys @returns {Verdict["next"]} */
function nextFacts(cannot, keys) {
  /** @type {Map<string, { level: Level, settles: number }>} */
  const gain = new Map();
  for (const { level, facts } of cannot) for (const key of facts) {
    const one = gain.get(key);
    if (one) one.settles++;
    else gain.set(key, { level, settles: 1 });
  }
  return bySeverity(keys.flatMap(({ key, name, place }) => {
    const one = gain.get(key);
    return one ? [{ fact: name, place, ...one }] : [];
  }).sort((a, b) => b.settles - a.settles));
}
