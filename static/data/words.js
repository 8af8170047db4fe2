// The words, as checks/words sends them: plain text, or pieces with values and cases in them.

let language = "en";
/** @type {Intl.PluralRules | undefined} */
let plurals;
/** @type {Intl.NumberFormat | undefined} */
let numbers;
/** @type {Record<string, Sentence>} */
const catalogue = {};

/** Take the words of a file; those of a second file come beside them. */
/** @type {(json: WordsFile) => void} */
export function takeWords(json) {
  if (json.language !== language || !plurals) {
    language = json.language;
    plurals = new Intl.PluralRules(language);
    numbers = new Intl.NumberFormat(language);
  }
  Object.assign(catalogue, json.say);
}

/** @type {(id: string) => boolean} */
export const has = (id) => id in catalogue;

/** The words `id` with `values` in their places. Throws an Error that names what is missing. */
/** @type {Say} */
export const say = (id, values) => told(catalogue[id], values, id);

/** A catalogue of its own before the one of all: what was kept with a check, as `{say, has}`. */
/** @type {(own: Record<string, Sentence>) => Words} */
export const wordsOf = (own) => ({
  say: (id, values) => told(own[id] ?? catalogue[id], values, id),
  has: (id) => id in own || has(id),
});

/** @type {(words: Sentence | undefined, values: WordValues | undefined, id: string) => string} */
function told(words, values, id) {
  if (typeof words === "string") return words;
  if (!words) throw Object.assign(new Error(`Words ${id} are missing.`), { unsaid: id });
  return words.map((piece) => {
    if (typeof piece === "string") return piece;
    const name = "value" in piece ? piece.value : piece.select, value = values?.[name];
    if (value === undefined || value === null) throw new Error(`Words ${id} need the value ${name}.`);
    if ("select" in piece) return told(caseOf(piece.cases, value), values, id);
    return typeof value === "number" ? numbers?.format(value) : value;
  }).join("");
}

/** @type {(cases: Record<string, Sentence>, value: string | number) => Sentence} */
const caseOf = (cases, value) =>
  cases[value] ?? cases[typeof value === "number" ? plurals?.select(value) ?? "other" : "other"] ?? cases.other;

/** What is wrong with an input that the rules refused, without its key; another error's own message. */
/** @type {(error: unknown) => string} */
export function sentence(error) {
  const { code, values, message } = /** @type {Error & { code?: string, values?: WordValues }} */ (error);
  return code ? say(`error-${code}`, values) : message;
}

/** A place in words: "" the trailer, "2" an axle, "2L" a wheel; the twin of checks/places.py. */
/** @type {(place: string, axles: number) => string} */
export function placeName(place, axles) {
  if (!place) return "";
  return say({ L: "place-left", R: "place-right" }[place[1]] ?? "place-axle", { axle: place[0], axles });
}

// ---- as rulebooks held them before they stood apart ----

/** @type {Record<string, string>} */
const VALUE = { fact: "ask", finding: "title", level: "word", check: "name" };

/** Words that a rulebook of an earlier release has inside, by kind and name, as a catalogue. */
/** @type {(nested: OldWords) => Record<string, string>} */
export function flatWords(nested) {
  /** @type {Record<string, string>} */
  const flat = {};
  for (const [kind, entries] of Object.entries(nested)) {
    for (const [name, entry] of Object.entries(entries)) {
      if (typeof entry === "string") flat[`${kind}-${name}`] = entry;
      else for (const [part, text] of Object.entries(entry)) put(flat, `${kind}-${name}`, kind, part, text);
    }
  }
  return flat;
}

/** @type {(flat: Record<string, string>, id: string, kind: string, part: string, text: OldText) => void} */
function put(flat, id, kind, part, text) {
  if (typeof text === "string") flat[part === VALUE[kind] ? id : `${id}.${part}`] = text;
  else for (const [choice, word] of Object.entries(text)) flat[`${id}.choice-${choice}`] = word;
}
