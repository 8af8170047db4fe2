// The rulebook and the words of an earlier release, by which a kept check was judged and in which it was shown.

import { load } from "../engine/judge.js";
import { has, LANGUAGE, say, wordsOf } from "./words.js";

const NOW = { say, has };

/** The same as `bookOf` of data/judged_by.js, where it is not `ours`, or not in its words. */
/** @type {(app: Books, kept: KeptBy, ours?: OpenBook) => Promise<OpenBook | undefined>} */
export async function olderBook({ books, store }, { record, words }, ours) {
  const { rulebook } = record.body, key = `${rulebook} ${words}`;
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
