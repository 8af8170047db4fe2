// What a person must know of this browser and this release, on the front page and in the settings.

import { inform } from "../dialog.js";
import { h, live } from "../parts/h.js";
import { button } from "../parts/page.js";

export function notices({ lasting, updates }) {
  return live(() => [
    lasting ? null : h("p", { class: "note" }, "This browser keeps nothing once the app is closed (a private window does that). Finish and send before you close it."),
    isSecureContext ? null : h("p", { class: "note" }, "This address has no https, so the app needs the network each time it starts. Your answers are still kept on this phone."),
    updates.waiting ? h("div", { class: "note" }, h("p", {}, "A new version is here."), button("Update", () => update(updates), "plain")) : null,
  ]);
}

async function update(updates) {
  if (await updates.take()) inform("A check is open in another window. Finish it or put it down there, then update.");
}
