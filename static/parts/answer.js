// One answer in words.

import { say } from "../data/words.js";
import { factOf } from "../data/asking.js";
import { numberAnswer, typedText } from "./numbers.js";

/** @param {string} code */
const oldCode = (code) => (code.length === 3 ? say("app-before-2000", { code }) : code);

/** An answer in words, or null when there is none. */
/**
 * @param {OpenBook} book @param {string} key @param {Raw} raw @param {System} system
 * @param {string} [typed]
 */
export function answerText(book, key, raw, system, typed) {
  const fact = book.data.facts[factOf(key)], name = factOf(key);
  if (raw === undefined) return null;
  if (raw === null) return say("app-not-sure");
  if (fact.kind === "choice") return [raw].flat().map((one) => book.words.say(`fact-${name}.choice-${one}`))
    .join(say("app-or"));
  if (fact.kind === "size" || fact.kind === "text") return String(raw);
  if (fact.kind === "made") return oldCode(String(raw));
  return typed ? typedText(book, typed) : numberAnswer(book, fact, raw, system);
}
