// The words, as checks/words sends them: plain text, or pieces with values and cases in them.

// The page names a language and the region whose dates and numbers it is written with.
const REGION = document.documentElement.lang || "en";
export const LANGUAGE = REGION.split("-")[0];

/** @param {string} tag */
const spoken = (tag) => tag.split("-")[0] === LANGUAGE;
/** The reader's own way to write a day, where the browser is set to this language. */
export const LOCALE = navigator.languages.find(spoken) ?? REGION;

/** Where the words of a part are. */
export const wordsAt = (part = "") => `/words${part}.${LANGUAGE}.json`;

let language = "";
// What a language counts and writes numbers by is made when first used: that too holds up a slow phone's start.
/** @type {Intl.PluralRules | undefined} */
let plurals;
/** @type {Intl.NumberFormat | undefined} */
let numbers;
// Newest first; joining them would take longer than looking twice.
/** @type {Record<string, Sentence>[]} */
const catalogues = [];

const NONE_ALIKE = 35; // a hash sign

/** @type {Record<string, string>} after a name told in the id before, and how an id goes on so often */
const SAME_NAME = { "^": ".", "~": ".choice-" };

/** A file's words by their ids, which travel beside them in a row, each without what it begins with like the last. */
/** @type {(sent: SentWords) => WordsFile} */
export function byId({ ids, say: texts, ...rest }) {
  let id = "";
  return { ...rest, say: Object.fromEntries(ids.split(" ").map((tail, at) => {
    const [first] = tail, on = SAME_NAME[first];
    id = (on ? id.split(".")[0] + on : id.slice(0, first.charCodeAt(0) - NONE_ALIKE)) + tail.slice(1);
    return [id, texts[at]];
  })) };
}

/** Take the words of a file; those of a second file come beside them. */
/** @type {(json: WordsFile) => void} */
export function takeWords(json) {
  if (json.language !== language) plurals = numbers = undefined;
  language = json.language;
  if (!catalogues.includes(json.say)) catalogues.unshift(json.say);
}

/** @type {(id: string) => Sentence | undefined} */
const found = (id) => catalogues.find((one) => id in one)?.[id];

/** @type {(id: string) => boolean} */
export const has = (id) => found(id) !== undefined;

/** The words `id` with `values` in their places. Throws an Error that names what is missing. */
/** @type {Say} */
export const say = (id, values) => told(found(id), values, id);

/** A catalogue of its own before the one of all: what was kept with a check, as `{say, has}`. */
/** @type {(own: Record<string, Sentence>) => Words} */
export const wordsOf = (own) => ({
  say: (id, values) => told(own[id] ?? found(id), values, id),
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
    return typeof value === "number" ? numbersOf().format(value) : value;
  }).join("");
}

/** @type {(cases: Record<string, Sentence>, value: string | number) => Sentence} */
const caseOf = (cases, value) =>
  cases[value] ?? cases[typeof value === "number" ? plural(value) : "other"] ?? cases.other;

const numbersOf = () => (numbers ??= new Intl.NumberFormat(language === LANGUAGE ? REGION : language));

/** A number with so many decimals, as the language writes it. */
/** @type {(value: number, digits?: number) => string} */
export const numberText = (value, digits = 0) =>
  value.toLocaleString(REGION, { minimumFractionDigits: digits, maximumFractionDigits: digits });

/** @type {(count: number) => string} */
const plural = (count) => (plurals ??= new Intl.PluralRules(language)).select(count);

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

/** The sign that was found, where nobody has told its wheel; or "". */
/** @type {(one: Pick<Found, "finding" | "place">) => string} */
export const signOf = ({ finding, place }) => (place ? "" : /^has_(.+)/.exec(finding)?.[1] ?? "");

/** What was found, in words: at a wheel, or at one that nobody has told. */
/** @type {(one: Pick<Found, "finding" | "place">, words?: Words) => string} */
export function titleOf(one, words = { say, has }) {
  const sign = signOf(one);
  return sign ? say("app-stop-now-unplaced", { sign: words.say(`fact-${sign}`) })
    : words.say(`finding-${one.finding}`);
}

/** What was found with its place; where this release has no words for it `otherwise`, or "". */
/** @type {(one: Found | undefined, axles: number, otherwise?: string) => string} */
export function foundText(one, axles, otherwise) {
  const what = one && has(`finding-${one.finding}`) ? titleOf(one) : otherwise;
  return one && what ? [placeName(one.place, axles), what].filter(Boolean).join(": ") : "";
}
