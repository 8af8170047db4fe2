// Who borrows a trailer on the desk's code, and that it is back.

import { localTime, seal } from "../data/records.js";
import { keeping } from "../data/store.js";
import { say } from "../data/words.js";
import { readLinks } from "../keep.js";
import { h, moved } from "../parts/h.js";
import { button, timeText } from "../parts/page.js";
import { order } from "./link_reading.js";

/** Who borrows: asked on the desk's code, so that the library calls the one who has the trailer. Kept at each letter: a
 * field that is drawn again while it is typed in changes no more when it is left. */
/** @param {App} app @param {KeptLink} link */
export function borrower(app, link) {
  /** @param {"name" | "phone"} name @param {string} label @param {string} type */
  const box = (name, label, type) => h("label", {}, label, h("input", {
    type, name, value: link.borrower?.[name] ?? "", autocomplete: "off", maxlength: 80,
    oninput: (event) => rename(app, link.id, { [name]: event.target.value.trim() }),
  }));
  return h("form", { onsubmit: (event) => event.preventDefault() }, h("h2", {}, say("app-link-you")),
    h("p", { class: "hint" }, say("app-link-you-why")),
    box("name", say("app-link-your-name"), "text"), box("phone", say("app-link-your-phone"), "tel"));
}

/** Out is the walk before setting off; that it is back, a borrower who began something says with one press. */
/** @param {App} app @param {KeptLink} link @param {string | undefined} last */
export function backAgain(app, link, last) {
  if (link.back && !(last && order(link.back, last) < 0)) {
    return h("p", { class: "note", role: "status" }, say("app-link-back-told", { time: timeText(link.back) }));
  }
  return link.pressed || last ? button(say("app-link-back"), () => bringBack(app, link.id), "answer") : null;
}

/** @param {App} app @param {string} id */
async function bringBack(app, id) {
  const link = await app.store.get("links", id), { name, phone } = link?.borrower ?? {};
  if (!link) return;
  const sealed = await seal("outing", { what: "back", trailer: link.trailer?.id ?? null,
    ...(name && { by: { name, phone: phone ?? "" } }) });
  await app.store.commit([...keeping(sealed, { link: id }), ["links", { ...link, back: localTime() }]]);
  await readLinks(app);
  moved();
  await app.sender.report();
  app.sender.send();
}

/** Nothing is drawn again: the person is typing in the next field by now. */
/** @param {App} app @param {string} id @param {Partial<KeptLink["borrower"]>} given */
async function rename(app, id, given) {
  await app.store.change("links", id, (link) => link && { ...link, borrower: { ...link.borrower, ...given } });
  await readLinks(app);
}
