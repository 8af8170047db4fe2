// Answers in, verdict out; the twin of checks/judge.py, fed by the exported rulebook alone.

import { Case, axlesOf, bitsOf, compileTree, keyAt, needed, placeFor, rangeOf, same } from "./formula.js";
import { BadInput, readAnswer, readDate, shown, splitKey, wheelOrder, wholeOf } from "./facts.js";
import { MAYBE, NO, YES } from "./interval.js";

export { BadInput };
/** @type {Level[]} */
export const LEVELS = ["stop", "mend", "look", "nothing", "unchecked"]; // worst first
export const DEPTHS = ["trip", "month", "season"]; // how far a walk goes
export const CHECKS = ["walkaround", "run_stop", "quick_stop", "nuts_stop", "load_stop", "tires", "bench", "figures"];
// Findings that stand for a doubt: answers too coarse to rule out worse, numbers too near a limit,
// a sign of danger while answers are missing.
export const TOO_HOT = "too_hot";
export const STAND_INS = ["too_rough", "too_near", TOO_HOT];
/** @type {Record<string, number>} */
const SCORE = { stop: 0, mend: 0, look: 0.5, nothing: 1 };
const FOUND_WEIGHT = 1; // what a point of weight 0 counts once something is found there

// The rulebook, compiled once: everything the app asks of the rules goes through what this returns.
// `words` is `{say, has}`, for the answers named in a working.
/** @param {Rulebook} json @param {Words} words @returns {Loaded} */
export function load(json, words) {
  const book = { ...compileBook(json), words };
  return {
    hash: json.hash,
    words,
    judge: (payload) => judge(payload, book),
    asked(check, facts, date) {
      const { kase } = readCase({ check, date, facts }, book);
      return visits(check, kase, book).map((visit) => ({
        station: visit.station, point: visit.point.json, place: visit.place, keys: visit.keys,
      }));
    },
    // The choices of a choice fact that apply to these answers, in the fact's order.
    offered(key, facts, date) {
      const name = nameOf(key), tests = book.offers[name] ?? {};
      const { kase } = readCase({ check: CHECKS[0], date, facts }, book);
      return json.facts[name].choices.filter((one) => !tests[one] || tests[one](kase, placeOf(key)) !== NO);
    },
    // What engine/explain.js needs, which comes later than a first visit.
    read: (payload) => ({ kase: readCase(payload, book).kase, book }),
    readAnswer(key, raw, date) {
      const [name] = splitKey(key, json.facts);
      return readAnswer(json.facts[name], key, raw, readDate(date), json.units);
    },
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
  const findings = mapped(json.findings, (f, id) => ({ ...f, id, test: compiled(f.when), alarmed: maybe(f.alarm) }));
  const stations = json.stations.map(({ id, points }) => ({
    id,
    points: points.map((point) => ({
      ...point,
      json: point,
      applies: maybe(point.applies),
      findings: point.findings.map((one) => findings[one]),
    })),
  }));
  return { ...json, context, findings, stations, asks: mapped(json.facts, (fact) => maybe(fact.when)),
    offers: mapped(json.facts, (fact) => mapped(fact.only ?? {}, compiled)) };
}

/** @param {Payload} payload @param {Book} book @returns {Verdict} */
export function judge(payload, book) {
  const { check, kase } = readCase(payload, book);
  const walk = visits(check, kase, book), keys = keysOf(walk);
  const open = openKeys(keys, kase, book, payload.facts);
  const deeper = new Set(walk.flatMap((visit) => visit.deeper).filter((key) => !keys.has(key)));
  // optional keys of a deeper walk: nobody is asked for them and nothing waits for them
  const spared = new Set(walk.flatMap((visit) => visit.spared).filter((key) => !keys.has(key)));
  /** @type {Verdict["points"]} */
  const points = [];
  /** @type {Found[]} */
  const findings = [];
  /** @type {Doubt[]} */
  const cannot = [];
  const leftOut = [];
  let low = 0, high = 0, weight = 0;
  for (const visit of walk) {
    const [found, unsettled, left] = examine(visit, kase, book, open, deeper, spared);
    if (left.length || visit.deeper.length) leftOut.push({ point: visit.point.id, place: visit.place });
    if (visit.deeper.length && !visit.keys.length && !found.length && !unsettled.length) {
      weight += visit.point.weight;
      high += visit.point.weight; // nobody looked: no level, but it is open
      continue;
    }
    const [level, opens] = pointLevel(visit, found, unsettled, open, kase, book);
    points.push({ point: visit.point.id, place: visit.place, level, open: opens });
    findings.push(...found);
    // no level without a card
    if (level === "look" && !found.length) {
      findings.push({ finding: standIn(visit, unsettled, kase, book), place: visit.place, level });
    }
    cannot.push(...unsettled);
    const [worst, best] = scoreEnds(level, found, [...unsettled, ...left]);
    const share = weightOf(visit.point, level);
    weight += share;
    low += share * worst;
    high += share * best;
  }
  findings.sort(severity);
  cannot.sort(severity);
  const level = open.size < keys.size ? overall(points) : "unchecked";
  const required = [...keys].filter((key) => !isOptional(key, book));
  return {
    rulebook: book.hash,
    check,
    date: payload.date,
    level,
    readiness: level === "stop" || level === "mend" || !weight ? null : [percent(low, weight), percent(high, weight)],
    coverage: {
      answered: required.filter((key) => !open.has(key)).length,
      asked: required.length,
    },
    places: byPlace(points, kase),
    points,
    findings,
    cannot_tell: cannot,
    next: nextFacts(cannot, keys),
    left_out: leftOut,
  };
}

/** @param {unknown} value @returns {value is Record<string, unknown>} */
const isObject = (value) => typeof value === "object" && value !== null && !Array.isArray(value);

/** @param {Payload} payload @param {Book} book */
function readCase(payload, book) {
  if (!isObject(payload)) throw new BadInput("input");
  for (const key of Object.keys(payload)) {
    if (!["check", "date", "facts"].includes(key)) {
      throw new BadInput("input_key", key);
    }
  }
  const { check, date, facts: raw } = payload;
  if (!CHECKS.includes(check)) {
    const offer = CHECKS.join(", ");
    throw new BadInput("check", "check", { given: shown(check), offer });
  }
  const day = readDate(date);
  if (!isObject(raw)) {
    throw new BadInput("facts", "facts");
  }
  /** @type {Facts} */
  const facts = { today: { "": [day, day] } };
  let named = 0, first = "";
  for (const key of Object.keys(raw)) {
    const [name, place] = splitKey(key, book.facts);
    (facts[name] ??= {})[place] = readAnswer(book.facts[name], key, raw[key], day, book.units);
    if (place && Number(place[0]) > named) [named, first] = [Number(place[0]), key];
  }
  return { check, kase: new Case(facts, wheelOrder(axles(facts, raw, named, first))) };
}

// Axles as answered; else as many as the places named, and at least one.
/** @param {Facts} facts @param {Answers} raw @param {number} named @param {string} first */
function axles(facts, raw, named, first) {
  if (raw.axles === null || raw.axles === undefined) return named || 1;
  const count = Math.trunc(rangeOf(facts.axles[""])[1]);
  if (named > count) {
    throw new BadInput("axle", first, { axle: String(named), axles: String(count) });
  }
  return count;
}

// The points that apply to this trailer in this kind of check, in walking order.
/** @param {string} check @param {Case} kase @param {Book} book */
const visits = (check, kase, book) => [...walked(check, kase, book)];

/** The same, one after the other. @param {string} check @param {Case} kase @param {Book} book */
export function* walked(check, kase, book) {
  const depth = depthOf(check, kase);
  for (const station of book.stations) {
    const points = station.points.filter((point) => point.checks.includes(check));
    for (const place of [...kase.wheels, ""]) {
      for (const point of points) {
        if ((point.scope === "wheel") !== (place !== "")) continue;
        for (const at of point.scope === "axle" ? axlesOf(kase.wheels) : [place]) {
          if (point.applies && point.applies(kase, at) === NO) continue;
          yield { station: station.id, point, place: at, ...keysAt(point, at, kase, book, depth) };
        }
      }
    }
  }
}

/** @param {Visit[]} walk */
const keysOf = (walk) => new Set(walk.flatMap((visit) => visit.keys));
/** @type {Map<string, string[]>} */
const PARTS = new Map(); // a key is cut once
/** @param {string} key */
function partsOf(key) {
  let parts = PARTS.get(key);
  if (!parts) PARTS.set(key, parts = [...key.split("@"), ""]);
  return parts;
}
/** @param {string} key */
const nameOf = (key) => partsOf(key)[0];
/** @param {string} key */
const placeOf = (key) => partsOf(key)[1];
/** @param {string} key @param {Book} book */
const isOptional = (key, book) => Boolean(book.facts[nameOf(key)]?.optional);

// How far this walk goes; all the way unless it says otherwise.
/** @param {string} check @param {Case} kase */
function depthOf(check, kase) {
  const told = [1, 2, 4].indexOf(bitsOf(kase.facts.walk_depth?.[""]));
  return check === "walkaround" && told >= 0 ? told : DEPTHS.length - 1;
}

/** @param {CompiledPoint} point @param {string} place @param {Case} kase @param {Book} book @param {number} depth */
function keysAt(point, place, kase, book, depth) {
  /** @type {string[][]} */
  const [keys, deeper, spared] = [[], [], []];
  for (const name of point.facts) {
    const ask = book.asks[name];
    if (ask && ask(kase, place) === NO) continue;
    const home = placeFor(book.facts[name].scope, place);
    const key = keyAt(name, home);
    const later = DEPTHS.indexOf(book.facts[name].depth ?? "trip") > depth && isOpen(key, kase, book);
    if (!later) keys.push(key);
    else (isOptional(key, book) ? spared : deeper).push(key);
  }
  return { keys, deeper, spared };
}

/** @param {string} key @param {Case} kase @param {Book} book */
function isOpen(key, kase, book) {
  const name = nameOf(key), value = kase.facts[name]?.[placeOf(key)];
  return value === undefined || same(value, book.context.whole[name]);
}

// What names every choice is not open: somebody looked, but too briefly to rule any out.
/** @param {Set<string>} keys @param {Case} kase @param {Book} book @param {Answers} raw */
function openKeys(keys, kase, book, raw) {
  const vague = (/** @type {string} */ key) => Array.isArray(raw[key]) && book.facts[nameOf(key)].kind === "choice";
  return new Set([...keys].filter((key) => isOpen(key, kase, book) && !vague(key)));
}

// Findings that hold at a point, and those that cannot be told yet.
/**
 * @param {Visit} visit
 * @param {Case} kase
 * @param {Book} book
 * @param {Set<string>} open
 * @param {Set<string>} deeper
 * @param {Set<string>} spared
 * @returns {[Found[], Doubt[], Found[]]}
 */
export function examine({ point, place }, kase, book, open, deeper, spared) {
  /** @type {Found[][]} */
  const [found, left] = [[], []];
  /** @type {Doubt[]} */
  const unsettled = [];
  for (const { id, level, test, optional } of point.findings) {
    const truth = test(kase, place);
    if (truth === YES) found.push({ finding: id, place, level });
    if (truth !== MAYBE) continue;
    const reads = open.size || deeper.size || spared.size ? [...needed(test, kase, place)] : [];
    if (reads.some((key) => deeper.has(key))) {
      left.push({ finding: id, place, level });
      continue;
    }
    const needs = reads.filter((key) => open.has(key));
    const missing = needs.filter((key) => !isOptional(key, book));
    if (!missing.length && (optional || reads.some((key) => spared.has(key)))) continue;
    const why = missing.length ? "open" : "vague";
    unsettled.push({ finding: id, place, level, why, facts: missing.length ? missing : needs });
  }
  return [...worstOnly(found, unsettled, book), left];
}

// Drops what a worse finding that holds already says.
/** @param {Found[]} found @param {Doubt[]} unsettled @param {Book} book @returns {[Found[], Doubt[]]} */
function worstOnly(found, unsettled, book) {
  const holds = new Set(found.map((f) => f.finding));
  /** @param {Found} one */
  const stands = ({ finding }) => {
    let above = book.findings[finding].beneath;
    while (above && !holds.has(above)) above = book.findings[above].beneath;
    return !above;
  };
  return [found.filter(stands), unsettled.filter(stands)];
}

/**
 * @param {Visit} visit
 * @param {Found[]} found
 * @param {Doubt[]} unsettled
 * @param {Set<string>} open
 * @param {Case} kase
 * @param {Book} book
 * @returns {[Level, string[]]}
 */
function pointLevel(visit, found, unsettled, open, kase, book) {
  const required = visit.keys.filter((key) => !isOptional(key, book));
  const opens = required.filter((key) => open.has(key));
  if (found.length) return [worstOf(found.map((f) => f.level), LEVELS) ?? "look", opens];
  // a point that counts needs an answer, if only an optional one
  const wanted = required.length || !visit.point.weight ? required : visit.keys;
  const untouched = wanted.length > 0 && wanted.every((key) => open.has(key));
  if (untouched || unsettled.some((u) => u.why === "open")) {
    const alarmed = visit.point.findings.some((f) => f.alarmed?.(kase, visit.place) === YES);
    return [alarmed ? "look" : "unchecked", opens];
  }
  return [unsettled.some((u) => raises(u, book)) ? "look" : "nothing", opens];
}

/** Whether answers too coarse for this doubt are a reason to look again. */
/** @param {Found} entry @param {Pick<Rulebook, "findings">} book */
export const raises = ({ finding, level }, book) => level !== "look" && !book.findings[finding]?.told_only;

/** The finding that says why a point is *look* where none holds, by what was answered. */
/** @param {Visit} visit @param {Doubt[]} unsettled @param {Case} kase @param {Book} book */
function standIn({ place }, unsettled, kase, book) {
  const [rough, near] = STAND_INS;
  if (!unsettled.length || unsettled.some((u) => u.why === "open")) return TOO_HOT;
  /** @param {string} key */
  const glanced = (key) => {
    const bits = kase.facts[nameOf(key)]?.[placeOf(key)];
    return typeof bits !== "object" && (bits ?? 1).toString(2).lastIndexOf("1") > 0;
  };
  const raising = unsettled.filter((u) => raises(u, book));
  const rest = raising.some(({ finding, facts }) => facts.length
    || [...needed(book.findings[finding].test, kase, place)].some(glanced));
  return rest ? rough : near;
}

/** @param {Level[]} levels @param {Level[]} order @returns {Level | undefined} */
const worstOf = (levels, order) => order.find((level) => levels.includes(level));

// A point's share of the readiness; a sign at a point that counts nothing else counts too.
/** @param {CompiledPoint} point @param {Level} level */
const weightOf = ({ weight }, level) => weight || (["stop", "mend", "look"].includes(level) ? FOUND_WEIGHT : 0);

/** @param {Level} level @param {Found[]} found @param {Found[]} unsettled @returns {Interval} */
function scoreEnds(level, found, unsettled) {
  const best = found.length ? Math.min(...found.map((f) => SCORE[f.level])) : SCORE[level] ?? 1;
  const worst = Math.min(best, ...unsettled.map((u) => SCORE[u.level]));
  return [level === "unchecked" ? 0 : worst, best];
}

// Rounded, but all only where nothing is left to wish for.
/** @param {number} part @param {number} weight */
const percent = (part, weight) => Math.min(Math.trunc((100 * part) / weight + 0.5), part === weight ? 100 : 99);
/** @param {Found} a @param {Found} b */
const severity = (a, b) => LEVELS.indexOf(a.level) - LEVELS.indexOf(b.level);

/** @param {{ level: Level }[]} points */
function overall(points) {
  const levels = points.map((p) => p.level);
  return worstOf(levels, ["stop", "mend", "look", "unchecked", "nothing"]) ?? "unchecked";
}

// Worst level at each place that was visited; a place with an open point is unchecked.
/** @param {Verdict["points"]} points @param {Case} kase */
function byPlace(points, kase) {
  /** @type {Record<string, Level>} */
  const places = {};
  for (const place of ["", ...axlesOf(kase.wheels), ...kase.wheels]) {
    const here = points.filter((p) => p.place === place);
    if (here.length) places[place] = overall(here);
  }
  return places;
}

// Open facts, first the one whose answer could change the verdict most; among equals, as walked.
/** @param {Doubt[]} cannot @param {Set<string>} keys */
function nextFacts(cannot, keys) {
  const gain = new Map([...keys].map((key) => [key, { key, worst: LEVELS.length, settles: 0 }]));
  for (const { level, facts } of cannot) {
    for (const key of facts) {
      const one = gain.get(key);
      if (!one) continue;
      one.worst = Math.min(one.worst, LEVELS.indexOf(level));
      one.settles += 1;
    }
  }
  return [...gain.values()]
    .filter((one) => one.settles)
    .sort((a, b) => a.worst - b.worst || b.settles - a.settles)
    .map(({ key, worst, settles }) => ({
      fact: nameOf(key), place: placeOf(key), level: LEVELS[worst], settles,
    }));
}
