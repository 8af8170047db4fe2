// What a person must know of this browser and this release, on the front page and in the settings.

import { say } from "../data/words.js";
import { inform } from "../dialog.js";
import { h, live } from "../parts/h.js";
import { button, link } from "../parts/page.js";

const MINUTE = 60, HOUR = 3600, DAY = 86400;

/** `seconds` in words, by the largest unit that says enough. */
/** @param {number} seconds */
function span(seconds) {
  const [id, unit] = seconds >= 2 * DAY ? ["app-span-days", DAY] : seconds >= 2 * HOUR ? ["app-span-hours", HOUR]
    : ["app-span-minutes", MINUTE];
  return say(id, { count: Math.round(seconds / unit) });
}

/** @param {number} ahead */
export const clockWords = (ahead) => say("app-clock-off",
  { span: span(Math.abs(ahead)), way: ahead > 0 ? "fast" : "slow" });

const files = () => (location.hash === "#/settings" ? null : link(say("app-to-files"), "#/settings", "plain"));

/** @param {App} app */
export function notices(app) {
  const { lasting, updates } = app;
  return live(() => [
    app.sendState.clock ? h("p", { class: "note", role: "status" }, clockWords(app.sendState.clock)) : null,
    lasting ? null : h("div", { class: "note", role: "status" }, h("p", {}, say("app-notice-keeps-nothing")), files()),
    app.full ? h("div", { class: "note", role: "status" }, h("p", {}, say("app-no-room")), files()) : null,
    isSecureContext ? null : h("p", { class: "note" }, say("app-notice-no-https")),
    updates.waiting ? h("div", { class: "note" }, h("p", {}, say("app-notice-update")),
      button(say("app-update"), () => update(updates), "plain")) : null,
  ]);
}

/** @param {App["updates"]} updates */
async function update(updates) {
  if (await updates.take()) inform(say("app-update-held"));
}
