// Everything on this phone, brought to another one through a link that lives for a day.

import { addedText, exportText, readExport } from "../data/files.js";
import { post, reason } from "../data/sending.js";
import { announce } from "../dialog.js";
import { readLinks } from "../keep.js";
import { back, missing, redraw } from "../router.js";
import { h } from "../parts/h.js";
import { backButton, button, page, timeText, trouble } from "../parts/page.js";

const MOST = 20_000_000; // bytes the server takes

/** Send what is here, then show the way to it. */
export async function offer(app, box) {
  box.replaceChildren(h("p", { role: "status" }, "Sending…"));
  const { bundle, short } = await bundled(app);
  const reply = await post("/api/pairs", { bundle }, app.settings.device);
  if (reply?.status !== 200 && reply?.status !== 201) {
    box.replaceChildren(trouble(reply ? reason(reply.status, reply.body) : "No answer from the server. Try again with signal, or save a file above."));
    return;
  }
  const { secret, expires, qr } = reply.body, address = `${location.origin}/#/pair/${secret}`;
  box.replaceChildren(...[
    short ? h("p", { class: "note" }, "The photos are too many for this way and stay here. A file holds them too.") : null,
    h("p", {}, `Point the other phone’s camera at this, or open the link there. It works until ${timeText(expires)}.`),
    qr ? picture(qr) : null,
    h("input", { class: "address", readonly: true, "aria-label": "Link for the other phone", value: address, onfocus: (event) => event.target.select() }),
    h("div", { class: "row" }, navigator.share ? button("Share the link", () => navigator.share({ url: address }).catch(() => {}), "answer") : null,
      navigator.clipboard ? button("Copy the link", async () => { await navigator.clipboard.writeText(address); announce("Copied."); }, "answer") : null),
    h("p", { class: "hint" }, "Whoever has this link can read what is on this phone. Give it to nobody else."),
  ].filter(Boolean));
}

async function bundled(app) {
  const whole = await exportText(app.store), short = new Blob([whole]).size > MOST;
  return { bundle: JSON.parse(short ? await exportText(app.store, false) : whole), short };
}

function picture(text) {
  const address = URL.createObjectURL(new Blob([text], { type: "image/svg+xml" }));
  return h("img", { class: "qr", src: address, alt: "Code for the other phone’s camera", onload: () => URL.revokeObjectURL(address) });
}

/** `#/pair/<secret>`: what would come in, and a button. The secret moves from the address into the entry of this page. */
export async function pair(app, secret) {
  if (secret) { history.replaceState({ pair: secret }, "", "#/pair/"); return redraw(); }
  const held = history.state?.pair;
  if (!held) return missing("Open the link from the other phone once more.");
  const reply = await post("/api/pairs/read", { secret: held }, app.settings.device);
  if (reply?.status !== 200) return failed(app, reply);
  const bundle = reply.body?.bundle ?? reply.body;
  let found;
  try {
    found = await readExport(JSON.stringify(bundle), app.store);
  } catch (error) {
    return screen(app, trouble(error.message));
  }
  const box = h("div", {}, preview(found));
  const take = button("Bring it in", () => bringIn(app, bundle, box, take), "answer main");
  return screen(app, box, news(found).length ? take : null);
}

const screen = (app, body, foot) => page({ title: "From your other phone", back: backButton(() => back("#/")), body, foot });

function failed(app, reply) {
  const text = reply ? [reason(reply.status, reply.body), reply.body?.error?.fix].filter(Boolean).join(" ") : "No answer from the server. Nothing was changed.";
  return screen(app, trouble(text), button("Try again", () => redraw(), "answer main"));
}

const news = ({ records, drafts, photos, links }) =>
  [[records, "records"], [drafts, "unfinished checks"], [photos, "photos"], [links, "links of shops"]].filter(([n]) => n);

function preview(found) {
  const lines = news(found), { known } = found;
  return [
    lines.length ? h("p", {}, "This would be added to what is on this phone:") : h("p", {}, "There is nothing new in it."),
    lines.length ? h("ul", {}, lines.map(([n, what]) => h("li", {}, h("strong", {}, String(n)), ` ${what}`))) : null,
    known ? h("p", {}, `${known} records are here already and stay as they are.`) : null,
  ];
}

async function bringIn(app, bundle, box, take) {
  try {
    const found = await readExport(JSON.stringify(bundle), app.store);
    if (found.changes.length) await app.store.commit(found.changes);
    await readLinks(app);
    box.replaceChildren(h("p", { role: "status" }, addedText(found)));
    take.remove();
    app.sender.send();
  } catch (error) {
    box.replaceChildren(trouble(error.message));
  }
}
