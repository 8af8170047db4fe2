// One answer in words.

import { say } from "../data/words.js";
import { factOf } from "../data/asking.js";
import { numberAnswer, withUnit } from "./numbers.js";

/** An answer in words, or null when there is none. */
export function answerText(book, key, raw, system, typed) {
  const fact = book.data.facts[factOf(key)], name = factOf(key);
  if (raw === undefined) return null;
  if (raw === null) return say("app-not-sure");
  if (fact.kind === "choice") return [raw].flat().map((one) => book.words.say(`fact-${name}.choice-${one}`))
    .join(say("app-or"));
  if (fact.kind === "size" || fact.kind === "text") return raw;
  if (fact.kind === "made") return raw.length === 3 ? say("app-before-2000", { code: raw }) : raw;
  return typed ? typedText(book, typed) : numberAnswer(book, fact, raw, system);
}

function typedText(book, typed) {
  const at = typed.lastIndexOf(" "), unit = typed.slice(at + 1);
  return book.data.units[unit] ? withUnit(book, typed.slice(0, at), unit) : typed;
}
