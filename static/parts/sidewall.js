// Entry that few questions need: a tire's date code and size, a few words, and a choice among very many.

import { factOf } from "../data/asking.js";
import { say, sentence } from "../data/words.js";
import { button } from "./page.js";
import { display, keys } from "./pad.js";
import { h } from "./h.js";

/** A tire's date code: four digits, or three on tires from before 2000. */
/** @param {TextEntry} of */
export function datePad({ key, book, date, before, give, fail, unsure }) {
  const box = display(say("app-sidewall-date"), before ?? "");
  let three = before?.length === 3;
  const turn = () => { three = !three; toggle.setAttribute("aria-pressed", String(three)); };
  const toggle = button(say("app-sidewall-three"), turn, "pick", { "aria-pressed": String(three) });
  const submit = () => {
    const code = box.value.trim(), wanted = three ? 3 : 4;
    if (/^\d+$/.test(code) && code.length !== wanted) {
      return fail(code.length === 3 ? say("app-sidewall-is-three")
        : say("app-sidewall-digits", { count: code.length, wanted }));
    }
    try {
      book.readAnswer(key, code, date);
      return give({ raw: code, typed: code });
    } catch (error) {
      return fail(sentence(error));
    }
  };
  box.addEventListener("keydown", (event) => { if (event.key === "Enter") submit(); });
  return h("div", { class: "pad" }, h("div", { class: "entry" }, box,
    h("span", { class: "unit" }, say("app-sidewall-week-year"))),
    h("div", { class: "picks one" }, toggle), keys(box, false),
    h("div", { class: "row" }, button(say("app-sidewall-unreadable"), unsure, "answer unsure"),
      button(say("app-next"), submit, "answer main")));
}

const SIZE_KEYS = ["ST", "LT", "P", "R", "-", "1", "2", "3", "/", "D", "4", "5", "6", ".", "B", "7", "8", "9", "0",
  "x"];

/** A few words kept as they are, such as a part's number. */
/** @param {TextEntry} of */
export function textPad({ key, book, date, before, give, fail, unsure }) {
  const box = h("input", { class: "display", autocomplete: "off", autocapitalize: "characters", maxlength: 80,
    "aria-label": say(`fact-${key.split("@")[0]}`), value: before ?? "", enterkeyhint: "next" });
  const submit = () => {
    try {
      book.readAnswer(key, box.value, date);
      give({ raw: box.value.trim() });
    } catch (error) {
      fail(sentence(error));
    }
  };
  box.addEventListener("keydown", (event) => { if (event.key === "Enter") submit(); });
  return h("div", { class: "pad" }, h("div", { class: "entry" }, box),
    h("div", { class: "row" }, button(say("app-not-sure"), unsure, "answer unsure"),
      button(say("app-next"), submit, "answer main")));
}

/** A tire's size as it stands on the sidewall. */
/** @param {TextEntry & { suggest: Suggestion | null }} of */
export function sizePad({ key, book, date, before, suggest, give, fail, unsure }) {
  const box = display(say("app-sidewall-size"), before ?? "");
  box.placeholder = say("app-sidewall-size-example");
  const submit = () => {
    const raw = box.value.trim();
    if (!raw) return fail(say("app-sidewall-size-empty"));
    try {
      book.readAnswer(key, raw, date);
      return give({ raw, typed: raw });
    } catch (error) {
      return fail(sentence(error));
    }
  };
  box.addEventListener("keydown", (event) => { if (event.key === "Enter") submit(); });
  return h("div", { class: "pad" }, h("div", { class: "entry" }, box, keys(box, false, ["⌫"], "unit")),
    suggest ? button(say("app-pad-again", { answer: suggest.typed }), () => give(suggest), "pick") : null,
      keys(box, false, SIZE_KEYS, "size"),
    h("div", { class: "row" }, button(say("app-sidewall-unreadable"), unsure, "answer unsure"),
      button(say("app-next"), submit, "answer main")));
}

/** Too many answers for buttons: one is picked from a list. `list` holds `[raw, text]`. */
/** @param {Omit<Entry, "book" | "date"> & { list: Button[], now: Raw }} of */
export function picker({ key, list, now, give, fail, unsure }) {
  const select = h("select", { "aria-label": say(`fact-${factOf(key)}`) }, h("option", { value: "" }, say("app-pick")),
    list.map(([raw, text]) => h("option", { value: raw, selected: now === raw }, text)));
  const take = () => {
    const found = list.find(([raw]) => raw === select.value);
    return found ? give({ raw: found[0], typed: found[1] }) : fail(say("app-pick-none"));
  };
  return h("div", { class: "answers" }, select, h("div", { class: "row" },
    button(say("app-not-sure"), unsure, "answer unsure"), button(say("app-next"), take, "answer main")));
}
