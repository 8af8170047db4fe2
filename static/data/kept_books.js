// The rulebook and the words a kept check was judged by and shown in, which may be those of an earlier release.

import { load } from "../engine/judge.js";
import { has, LANGUAGE, say, wordsOf } from "./words.js";

const NOW = { say, has };

/** The rulebook a kept check was judged by, with the words it was shown in; undefined where it is not here. */
/** @type {(app: Books, kept: { record: CheckRecord, words?: string }) => Promise<OpenBook | undefined>} */
export async function bookOf({ book, figuresBook, books, store }, { record, words }) {
  const { rulebook } = record.body, key = `${rulebook} ${words}`;
  const ours = [book, figuresBook].find((one) => one?.hash === rulebook);
  if (ours && (!words || ours.said.hash === words)) return ours;
  if (!books.has(key)) {
    const [rules, said] = await Promise.all([store.get("rulebooks", rulebook),
      words ? store.get("words", words) : undefined]);
    if (ours && said && said.data.language !== LANGUAGE) return ours; // read in the language of today
    if (rules) books.set(key, Object.assign(load(rules.data, wordsWith(rules, said)), { data: rules.data }));
  }
  return books.get(key);
}

// A rulebook of an earlier release has its words inside.
/** @type {(rules: { data: OldRulebook }, said: { data: WordsFile } | undefined) => Words} */
function wordsWith({ data }, said) {
  if (data.words) return wordsOf(flatWords(data.words));
  return said ? wordsOf(said.data.say) : NOW;
}

// ---- as rulebooks held them before they stood apart ----

/** @type {Record<string, string>} */
const VALUE = { fact: "ask", finding: "title", level: "word", check: "name" };

/** Words that a rulebook of an earlier release has inside, by kind and name, as a catalogue. */
/** @type {(nested: OldWords) => Record<string, string>} */
function flatWords(nested) {
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
