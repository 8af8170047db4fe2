// The words, as checks/words sends them: plain text, or pieces with values and cases in them.

let language = "en", plurals, numbers;
const catalogue = {};

/** Take the words of a file; those of a second file come beside them. */
export function takeWords(json) {
  if (json.language !== language || !plurals) {
    language = json.language;
    plurals = new Intl.PluralRules(language);
    numbers = new Intl.NumberFormat(language);
  }
  Object.assign(catalogue, json.say);
}

export const has = (id) => id in catalogue;

/** The words `id` with `values` in their places. Throws an Error that names what is missing. */
export function say(id, values) {
  const words = catalogue[id];
  if (typeof words === "string") return words;
  if (!words) throw new Error(`Words ${id} are missing.`);
  return told(words, values ?? {}, id);
}

function told(pieces, values, id) {
  return pieces.map((piece) => {
    if (typeof piece === "string") return piece;
    const value = values[piece.value ?? piece.select];
    if (value === undefined) throw new Error(`Words ${id} need the value ${piece.value ?? piece.select}.`);
    if (piece.select) return told(caseOf(piece.cases, value), values, id);
    return typeof value === "number" ? numbers.format(value) : value;
  }).join("");
}

const caseOf = (cases, value) =>
  cases[value] ?? cases[typeof value === "number" ? plurals.select(value) : "other"] ?? cases.other;

/** What is wrong with an input that the rules refused, without its key; another error's own message. */
export const sentence = (error) => (error.code ? say(`error-${error.code}`, error.values) : error.message);

/** A place in words: "" the trailer, "2" an axle, "2L" a wheel; the twin of checks/places.py. */
export function placeName(place, axles) {
  if (!place) return "";
  return say({ L: "place-left", R: "place-right" }[place[1]] ?? "place-axle", { axle: place[0], axles });
}

// ---- as rulebooks held them before they were apart ----

const VALUE = { fact: "ask", finding: "title", level: "word", check: "name" };

/** Words of a file by kind and name: `fact.air.ask`, `point.hub_heat`; kept checks are shown by these. */
export function wordsByKind(json) {
  const made = {};
  for (const [id, text] of Object.entries(json.say)) {
    const [, kind, name, , part] = id.match(/^([a-z]+)-([^.]+)(\.(.+))?$/);
    const of = (made[kind] ??= {});
    if (!VALUE[kind]) { of[name] = text; continue; }
    const entry = (of[name] ??= {}), choice = part?.match(/^choice-(.+)$/)?.[1];
    if (choice) (entry.choices ??= {})[choice] = text;
    else entry[part ?? VALUE[kind]] = text;
  }
  return made;
}
