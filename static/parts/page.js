// The frame every screen shares: a bar on top, the content, and what the thumb needs at the foot.

import { LOCALE, say } from "../data/words.js";
import { h, svg } from "./h.js";

/** @param {Listener<HTMLButtonElement>} onclick @param {string} label */
export const backButton = (onclick, label = say("app-back")) =>
  h("button", { class: "plain back", type: "button", onclick },
    svg("svg", { viewBox: "0 0 24 24", "aria-hidden": "true" }, svg("path", { d: "M15 4l-8 8 8 8" })), label);

/** `{title, back, middle, end, body, foot}`; the title is the heading that takes focus. */
/** @param {PageParts} of */
export function page({ title, back, middle, end, body, foot, name = "" }) {
  return h("div", { class: `page ${name}` },
    h("header", { class: "bar" }, back ?? h("span"), middle ?? h("span"), end ?? h("span")),
    h("main", {}, title ? h("h1", { tabindex: "-1" }, title) : null, body),
    foot ? h("footer", { class: "foot" }, foot) : null);
}

/**
 * @param {Child} text @param {Listener<HTMLButtonElement>} onclick @param {string} kind
 * @param {Props<HTMLButtonElement>} more
 */
export const button = (text, onclick, kind = "", more = {}) =>
  h("button", { type: "button", class: kind, onclick, ...more }, text);

/** @param {Child} text @param {string} href @param {string} kind */
export const link = (text, href, kind = "") => h("a", { href, class: kind }, text);

/** A box that says what went wrong and how to put it right; it takes focus when shown. */
/** @param {string} message @param {...Child} more */
export function trouble(message, ...more) {
  const box = h("div", { class: "trouble", role: "alert", tabindex: "-1" }, h("p", {}, message), more);
  requestAnimationFrame(() => box.focus());
  return box;
}

/** @param {string} iso */
export const dayText = (iso) =>
  new Date(iso).toLocaleDateString(LOCALE, { day: "numeric", month: "short", year: "numeric" });

/** @param {string} iso */
export const timeText = (iso) =>
  new Date(iso).toLocaleString(LOCALE, { day: "numeric", month: "short", year: "numeric", hour: "numeric",
    minute: "2-digit" });

/** The same in short: its year only where it is another, and its day where it is not this one if `soon`. */
/** @param {string | number} iso @param {boolean} [soon] */
export function momentText(iso, soon) {
  const at = new Date(iso), now = new Date(), today = soon && at.toDateString() === now.toDateString();
  return at.toLocaleString(LOCALE, { hour: "numeric", minute: "2-digit",
    ...!today && { day: "numeric", month: "short" },
    year: at.getFullYear() === now.getFullYear() ? undefined : "numeric" });
}

/** Words with their value `name` in bold. */
/** @param {string} id @param {string} name @param {Child} value */
export function bold(id, name, value) {
  const [before, after] = say(id, { [name]: "\0" }).split("\0");
  return [before, h("strong", {}, value), after];
}

/** The way to call a number. */
/** @param {string} number @param {string} name @param {string} kind @param {string} text */
export const call = (number, name, kind = "answer", text = say("app-call", { name })) =>
  h("a", { class: kind, href: `tel:${number.replace(/[^\d+]/g, "")}` }, text);

/** Say it to whoever listens to the screen. */
/** @param {string} text */
export const announce = (text) => document.getElementById("spoken")?.replaceChildren(text);
