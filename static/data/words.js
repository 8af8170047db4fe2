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
export const say = (id, values) => told(catalogue[id], values, id);

/** A catalogue of its own before the one of all: what was kept with a check, as `{say, has}`. */
export const wordsOf = (own) => ({
  say: (id, values) => told(own[id] ?? catalogue[id], values, id),
  has: (id) => id in own || has(id),
});

function told(words, values, id) {
  if (typeof words === "string") return words;
  if (!words) throw Object.assign(new Error(`Words ${id} are missing.`), { unsaid: id });
  return words.map((piece) => {
    if (typeof piece === "string") return piece;
    const value = values?.[piece.value ?? piece.select];
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

// ---- as rulebooks held them before they stood apart ----

const VALUE = { fact: "ask", finding: "title", level: "word", check: "name" };

/** Words that a rulebook of an earlier release has inside, by kind and name, as a catalogue. */
export function flatWords(nested) {
  const flat = {};
  for (const [kind, entries] of Object.entries(nested)) {
    for (const [name, entry] of Object.entries(entries)) {
      if (typeof entry === "string") flat[`${kind}-${name}`] = entry;
      else for (const [part, text] of Object.entries(entry)) put(flat, `${kind}-${name}`, kind, part, text);
    }
  }
  return flat;
}

function put(flat, id, kind, part, text) {
  if (part === VALUE[kind]) flat[id] = text;
  else if (part !== "choices") flat[`${id}.${part}`] = text;
  else for (const [choice, word] of Object.entries(text)) flat[`${id}.choice-${choice}`] = word;
}
