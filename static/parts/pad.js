// Number entry with the thumb: units, rough answers for one tap, and our own keys, so that no
// keyboard covers the question. A keyboard still works: the display is a real input.

import { digitsOf } from "../data/typed.js";
import { say, sentence } from "../data/words.js";
import { rangeText, unitText } from "../engine/units.js";
import { ends, fromOwnUnit, inOwnUnit, offeredUnits, ownRange, roughPicks, withUnit } from "./numbers.js";
import { button } from "./page.js";
import { h, nodes } from "./h.js";

/** @type {Record<string, string>} */
const SPOKEN = { "⌫": "app-pad-delete", "±": "app-pad-sign", ".": "app-pad-point" };
// Four abreast: one row less than a telephone has, so that question and pad fit a small screen.
const KEYS = ["1", "2", "3", "⌫", "4", "5", "6", ".", "7", "8", "9", "0"];

/** `give({raw, typed})` hears a whole answer, `fail(message)` hears what is wrong with it. */
/** @param {NumberEntry} of */
export function numberPad({ book, fact, key, date, system, before, suggest, give, fail, unsure }) {
  const offered = offeredUnits(fact, system);
  let unit = before?.unit && offered.includes(before.unit) ? before.unit : offered[0];
  const box = display(say("app-pad-number"), before?.text ?? "");
  const root = h("div", { class: "pad" });
  const submit = () => {
    try {
      give(read(book, fact, key, date, box.value, unit));
    } catch (error) {
      fail(sentence(error));
    }
  };
  const draw = () => (root.dataset.unit = unit, root.replaceChildren(...nodes([
    h("div", { class: "entry" }, box, unitButton(book, offered, unit, (next) => { unit = next; draw(); })),
    picks(book, fact, unit, suggest, give),
    keys(box, fact.low < 0),
    h("div", { class: "row" }, button(say("app-not-sure"), unsure, "answer unsure"),
      button(say("app-next"), submit, "answer main"))])));
  box.addEventListener("keydown", (event) => { if (event.key === "Enter") submit(); });
  draw();
  return root;
}

/** @param {string} label @param {string} value */
export function display(label, value) {
  return h("input", { class: "display", inputmode: "none", autocomplete: "off", "aria-label": label, value,
    enterkeyhint: "next" });
}

/** @param {OpenBook} book @param {string[]} offered @param {string} unit @param {(unit: string) => void} change */
function unitButton(book, offered, unit, change) {
  const { units } = book.data, label = unitText(units, unit);
  if (offered.length < 2) return label ? h("span", { class: "unit" }, label) : null;
  const next = offered[(offered.indexOf(unit) + 1) % offered.length];
  return button(label, () => change(next), "unit swap",
    { "aria-label": say("app-pad-unit", { unit: label, other: unitText(units, next) }) });
}

/**
 * @param {OpenBook} book @param {Fact} fact @param {string} unit @param {Suggestion | null | undefined} suggest
 * @param {Give} give
 */
function picks(book, fact, unit, suggest, give) {
  const rough = roughPicks(book, fact, unit);
  if (!rough.length && !suggest) return null;
  return h("div", { class: "picks", role: "group", "aria-label": say("app-pad-rough") },
    suggest ? button(say("app-pad-again", { answer: suggest.text }), () => give(suggest), "pick") : null,
    rough.map((pick) => button(pick.text, () => give(picked(book, fact, unit, pick)), "pick")));
}

/** @param {OpenBook} book @param {Fact} fact @param {string} unit @param {RoughPick} pick */
function picked(book, fact, unit, pick) {
  return { raw: ownRange(book, fact, unit, pick), typed: `${pick.text} ${unit}` };
}

/** @param {HTMLInputElement} box @param {boolean} signed @param {string[]} shown @param {string} wide */
export function keys(box, signed, shown = signed ? KEYS.map((key) => (key === "." ? "±" : key)) : KEYS, wide = "") {
  /** @param {string} key */
  const press = (key) => {
    if (key === "⌫") box.value = box.value.slice(0, -1);
    else if (key === "±") box.value = box.value.startsWith("-") ? box.value.slice(1) : `-${box.value}`;
    else box.value += key;
  };
  return h("div", { class: `keys ${wide}` }, shown.map((key) =>
    button(key, () => press(key), "key", { "aria-label": SPOKEN[key] && say(SPOKEN[key]) })));
}

/** What was typed, as `{raw, typed}`. Throws with a message in the unit it was typed in. */
/**
 * @param {OpenBook} book @param {Fact} fact @param {string} key @param {string} date @param {string} text
 * @param {string} unit
 */
function read(book, fact, key, date, text, unit) {
  if (!text.trim()) throw new Error(say("app-pad-empty"));
  const tidy = digitsOf(text);
  if (!tidy) throw new Error(say("app-pad-no-number", { text }));
  const raw = inOwnUnit(book, fact, Number(tidy), unit);
  if (raw < fact.low || raw > fact.high) throw new Error(outside(book, fact, tidy, unit));
  book.readAnswer(key, raw, date);
  return { raw, typed: `${tidy} ${unit}` };
}

/** @param {OpenBook} book @param {Fact} fact @param {string} typed @param {string} unit */
function outside(book, fact, typed, unit) {
  const range = ends([fact.low, fact.high], (end) => fromOwnUnit(book, fact, end, unit));
  return say("app-pad-outside", { given: withUnit(book, typed, unit), range: rangeText(book.data.units, range, unit) });
}
