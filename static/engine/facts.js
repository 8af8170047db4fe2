// What a typed answer means: a range or a choice set; the twin of checks/facts.py.

import { setOf } from "./formula.js";
import { rangeText, toUnit } from "./units.js";

const PLACE = /^[1-3]([LR]?)$/;
const WITH_UNIT = /^\s*([-+]?[0-9]+(?:[.,][0-9]+)?)\s*([^0-9\s].*?)?\s*$/;
const LONGEST_TEXT = 80;
const DAY_MS = 86400000;
const EPOCH = Date.UTC(2000, 0, 1) / DAY_MS;

/** An input that cannot be used: of the answer `key` the words `error-CODE` with `values` say why. */
export class BadInput extends Error {
  /** @param {string} code @param {string} [key] @param {WordValues} [values] */
  constructor(code, key = "", values = {}) {
    super(`${key}: ${code}`);
    Object.assign(this, { code, key, values });
  }
}

/** @param {Fact} fact @returns {Value} */
export function wholeOf(fact) {
  return fact.kind === "choice" ? setOf(fact.choices, fact.choices) : [fact.low, fact.high];
}

/** @param {number} axles */
export function wheelOrder(axles) {
  const rows = ["1", "2", "3"].slice(0, axles);
  return [...rows.map((n) => n + "R"), ...rows.reverse().map((n) => n + "L")];
}

// The fact's id and the place of "fact", "fact@2" or "fact@2L".
/** @param {string} key @param {Record<string, Fact>} facts */
export function splitKey(key, facts) {
  const at = key.indexOf("@");
  const name = at < 0 ? key : key.slice(0, at), place = at < 0 ? "" : key.slice(at + 1);
  if (!Object.hasOwn(facts, name)) throw new BadInput("no_fact", key, { given: shown(name), near: "here" });
  const found = PLACE.exec(place), { scope } = facts[name];
  if (scope !== (found ? (found[1] ? "wheel" : "axle") : place ? "" : "trailer")) {
    const example = { trailer: name, axle: `${name}@1`, wheel: `${name}@1L` }[scope];
    throw new BadInput("scope", key, { given: shown(name), scope, example: shown(example) });
  }
  return [name, place];
}

// null is "not sure". day is a number of readDate.
/**
 * @param {Fact} fact @param {string} key @param {Raw} raw @param {number} day @param {Units} units
 * @returns {Value}
 */
export function readAnswer(fact, key, raw, day, units) {
  if (raw === null || raw === undefined) return wholeOf(fact);
  if (fact.past) fact = { ...fact, high: Math.min(fact.high, new Date((day + EPOCH) * DAY_MS).getUTCFullYear()) };
  if (fact.kind === "choice") return readChoice(fact, key, raw);
  if (fact.kind === "made") return readMade(fact, key, raw, day);
  if (fact.kind === "size") return readSize(fact, key, raw, units);
  if (fact.kind === "text") return readText(key, raw);
  if (!Array.isArray(raw)) {
    const value = readNumber(fact, key, raw, units);
    return [Math.max(value - fact.spread, fact.low), Math.min(value + fact.spread, fact.high)];
  }
  if (raw.length !== 2) {
    throw new BadInput("range_of_two", key, { count: String(raw.length) });
  }
  const [low, high] = raw.map((end) => readNumber(fact, key, end, units));
  if (low > high) {
    throw new BadInput("range_backwards", key, { given: shown(raw) });
  }
  return [low, high];
}

/** @param {string} key @param {Raw} raw @returns {[number, number]} */
function readText(key, raw) {
  const length = typeof raw === "string" ? [...raw.replace(/^ +| +$/g, "")].length : 0;
  if (!length || length > LONGEST_TEXT) throw new BadInput("text", key, { most: String(LONGEST_TEXT) });
  return [1, 1];
}

/** @param {Fact} fact @param {string} key @param {Raw} raw */
function readChoice(fact, key, raw) {
  const wanted = /** @type {string[]} */ (Array.isArray(raw) ? raw : [raw]), offer = () => fact.choices.join(", ");
  if (!wanted.length) {
    throw new BadInput("choice_none", key, { offer: offer() });
  }
  for (const one of wanted) {
    if (fact.choices.includes(one)) continue;
    throw new BadInput("choice_unknown", key, { given: shown(one), offer: offer() });
  }
  return setOf(fact.choices, wanted);
}

/** @param {Fact} fact @param {string} key @param {Raw} raw @param {Units} units */
function readNumber(fact, key, raw, units) {
  const span = () => rangeText(units, [fact.low, fact.high], fact.unit);
  let unit = fact.unit;
  if (typeof raw === "string") {
    const found = WITH_UNIT.exec(raw);
    if (!found && unit === "count") throw new BadInput("number", key, { given: shown(raw), span: span() });
    if (!found) throw new BadInput("number_text", key, { given: shown(raw), unit });
    raw = Number(found[1].replace(",", "."));
    if (found[2]) unit = findUnit(fact, key, found[2], units);
  }
  if (typeof raw !== "number" || !Number.isFinite(raw)) {
    throw new BadInput("number", key, { given: shown(raw), span: span() });
  }
  const kind = units[unit].dimension, { dimension: wanted, label } = units[fact.unit];
  if (kind !== wanted) throw new BadInput("number_dimension", key, { unit, kind, own: fact.unit, wanted, label });
  const value = toUnit(units, raw, unit, fact.unit);
  if (!(fact.low <= value && value <= fact.high)) {
    const given = rangeText(units, [value, value], fact.unit);
    throw new BadInput("number_outside", key, { given, span: span() });
  }
  if (fact.unit === "count" && !Number.isInteger(value)) {
    throw new BadInput("number_whole", key, { given: shown(raw) });
  }
  return value;
}

// By id or label; of two with one label, the one of the fact's dimension is meant.
/** @param {Fact} fact @param {string} key @param {string} named @param {Units} units */
function findUnit(fact, key, named, units) {
  const found = Object.keys(units).filter((name) => named === name || named === units[name].label).sort();
  if (!found.length) {
    throw new BadInput("unit_unknown", key, { given: shown(named), known: Object.keys(units).sort().join(", ") });
  }
  const { dimension } = units[fact.unit];
  return found.find((name) => units[name].dimension === dimension) ?? found[0];
}

// The week that a date code names, as its first day; checks/facts.py names the source.
/** @param {number} week @param {number} year */
function weekStart(week, year) {
  const newYear = dayNumber(year, 1, 1);
  const weekday = (newYear + 5) % 7; // 2000-01-01 was a Saturday; Monday is 0
  return newYear + ((6 - weekday) % 7) + 7 * (week - 1);
}

/** @param {Fact} fact @param {string} key @param {Raw} raw @param {number} day @returns {Interval} */
function readMade(fact, key, raw, day) {
  const code = typeof raw === "string" ? raw.trim() : "";
  if (!/^[0-9]{3,4}$/.test(code)) {
    throw new BadInput("made_code", key, { given: shown(raw) });
  }
  const week = Number(code.slice(0, 2));
  if (week < 1 || week > 53) {
    throw new BadInput("made_week", key, { given: shown(code), week: String(week) });
  }
  if (code.length === 3) return [fact.low, -1];
  const start = weekStart(week, 2000 + Number(code.slice(2)));
  if (start > day) {
    const year = `20${code.slice(2)}`;
    throw new BadInput("made_later", key, { given: shown(code), week: String(week), year });
  }
  return [start, start + 6];
}

const MM_PER_IN = 25.4;
const TAIL = "(?: ?(?:ST|LT|C))?(?:[ (,][ -~]*)?$";
const METRIC = new RegExp("^(?:ST|LT|P)? ?([0-9]{3}) ?(?:/ ?([0-9]{2}))? ?Z?[-RDB] ?([0-9]{1,2}(?:\\.5)?)" + TAIL);
const NUMERIC = new RegExp(
  "^(?:ST|LT)? ?([0-9]{1,2}\\.[0-9]{2})(?: ?/ ?[0-9]{1,2}\\.[0-9]{2})? ?[-RDB] ?([0-9]{1,2}(?:\\.5)?)" + TAIL,
);
const DOTLESS = /^((?:ST|LT)? ?[4-9])([0-9]{2})( ?\/ ?[0-9])?([0-9]{2})?( ?[-RDB] ?[0-9]{1,2}.*)$/;
const FLOTATION = new RegExp(
  "^([0-9]{2}(?:\\.[0-9]{1,2})?) ?X ?[0-9]{1,2}(?:\\.[0-9]{1,2})? ?[-RDB] ?[0-9]{1,2}" + TAIL,
);
const LETTER = new RegExp("^[A-N]R? ?[0-9]{2} ?[-RDB] ?[0-9]{2}" + TAIL);
const LONGEST_SIZE = 40;

/** @param {Fact} fact @param {string} key @param {Raw} raw @param {Units} units @returns {Interval} */
function readSize(fact, key, raw, units) {
  let text = typeof raw === "string" && [...raw].length <= LONGEST_SIZE ? raw : "";
  text = text.replace(/[ \t]+/g, " ").replace(/^ | $/g, "").toUpperCase().replaceAll("×", "X").replaceAll("–", "-");
  if (LETTER.test(text)) {
    throw new BadInput("size_letter", key, { given: shown(raw) });
  }
  if (!fact.sizes) return [fact.low, fact.high]; // a rulebook kept from before the numbers stood in it
  const across = diameter(text, fact.sizes);
  if (!across) {
    throw new BadInput("size_unknown", key, { given: shown(raw) });
  }
  if (across[0] < fact.low || across[1] > fact.high) {
    const given = rangeText(units, across, "mm");
    throw new BadInput("size_across", key, { given: shown(raw), across: given });
  }
  return across;
}

/** @param {string} text @param {Sizes} known @returns {Interval | null} */
function diameter(text, known) {
  const dotless = DOTLESS.exec(text);
  if (dotless && Boolean(dotless[3]) === Boolean(dotless[4])) {
    const [, head, part, other, otherPart, tail] = dotless;
    text = `${head}.${part}${other ? `${other}.${otherPart}` : ""}${tail}`;
  }
  let found = METRIC.exec(text);
  if (found) {
    const [least, most] = found[2] ? [Number(found[2]) / 100, Number(found[2]) / 100] : known.no_aspect;
    return acrossOf(Number(found[3]), Number(found[1]), least, most, known.design);
  }
  found = NUMERIC.exec(text);
  if (found) {
    const rim = Number(found[2]), [least, most] = rim <= known.small_to ? known.small_rim : known.large_rim;
    return acrossOf(rim, Number(found[1]) * MM_PER_IN, least, most, 0);
  }
  found = FLOTATION.exec(text);
  if (!found) return null;
  const across = Number(found[1]) * MM_PER_IN;
  return [across - known.design, across + known.design];
}

/**
 * @param {number} rim
 * 
 * @param {number} width
 * 
 * @param {number} least
 * 
 * @param {number} most
 * 
 * @param {number} spread
 * 
 * @returns {Interval}
 */
function acrossOf(rim, width, least, most, spread) {
  const across = rim * MM_PER_IN;
  return [across + 2 * width * least - spread, across + 2 * width * most + spread];
}

/** @param {number} year @param {number} month @param {number} date */
const dayNumber = (year, month, date) => Date.UTC(year, month - 1, date) / DAY_MS - EPOCH;

// Days since 2000-01-01 of a date "YYYY-MM-DD".
/** @param {Raw} raw */
export function readDate(raw) {
  const text = typeof raw === "string" ? raw : "";
  const time = /^[0-9]{4}-[0-9]{2}-[0-9]{2}$/.test(text) ? Date.parse(text) : NaN;
  const real = !Number.isNaN(time) && new Date(time).toISOString().startsWith(text);
  if (!real || text < "0001") {
    throw new BadInput("date", "date", { given: shown(raw) });
  }
  return time / DAY_MS - EPOCH;
}

// The other way: a day since 2000-01-01 as "YYYY-MM-DD".
/** @param {number} day */
export const dayText = (day) => new Date((day + EPOCH) * DAY_MS).toISOString().slice(0, 10);

// A value in a message, written as Python's repr writes it, so that both engines say the same.
/** @param {Raw} value @returns {string} */
export function shown(value) {
  if (value === null || value === undefined) return "None";
  if (typeof value === "boolean") return value ? "True" : "False";
  if (typeof value === "number") return String(value).replace("Infinity", "inf");
  if (Array.isArray(value)) return `[${value.map(shown).join(", ")}]`;
  if (typeof value === "object") {
    return `{${Object.entries(value).map(([k, v]) => `${shown(k)}: ${shown(v)}`).join(", ")}}`;
  }
  const text = value.replace(/\\/g, "\\\\").replace(/\n/g, "\\n").replace(/\r/g, "\\r").replace(/\t/g, "\\t");
  return text.includes("'") && !text.includes('"') ? `"${text}"` : `'${text.replace(/'/g, "\\'")}'`;
}
