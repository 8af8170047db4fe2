// Everything on this phone, brought to another one through a link that lives for a day.

import { addedText, exportText, readExport } from "../data/files.js";
import { post, reason } from "../data/sending.js";
import { say, sentence } from "../data/words.js";
import { draftsOf, readLinks } from "../keep.js";
import { back, missing, redraw } from "../router.js";
import { h, nodes } from "../parts/h.js";
import { announce, backButton, bold, button, page, timeText, trouble } from "../parts/page.js";

const MOST = 20_000_000; // bytes the server takes

/** Send what is here, then show the way to it. */
/** @param {App} app @param {HTMLElement} box */
export async function offer(app, box) {
  box.replaceChildren(h("p", { role: "status" }, say("app-pair-sending")));
  const { bundle, short } = await bundled(app);
  const reply = await post("/api/pairs", { bundle }, app.settings.device);
  if (reply?.status !== 200 && reply?.status !== 201) {
    box.replaceChildren(trouble(reply ? reason(reply.status, reply.body) : say("app-pair-no-answer")));
    return;
  }
  const { secret, expires = "", qr } = reply.body ?? {}, address = `${location.origin}/#/pair/${secret}`;
  box.replaceChildren(...nodes([
    short ? h("p", { class: "note" }, say("app-pair-photos-stay")) : null,
    h("p", {}, say("app-pair-how", { time: timeText(expires) })),
    qr ? picture(qr) : null,
    h("input", {
      class: "address", readonly: true, "aria-label": say("app-pair-link"), value: address,
      onfocus: (event) => event.target.select(),
    }),
    h("div", { class: "row" },
      typeof navigator.share === "function" ? button(say("app-pair-share"), () => share(address), "answer") : null,
      navigator.clipboard ? button(say("app-pair-copy"), () => copy(address), "answer") : null),
    h("p", { class: "hint" }, say("app-pair-mind")),
  ]));
}

/** @param {string} url */
const share = (url) => navigator.share({ url }).catch(() => {});

/** @param {string} address */
async function copy(address) {
  await navigator.clipboard.writeText(address);
  announce(say("app-pair-copied"));
}

/** @param {App} app */
async function bundled(app) {
  const whole = await exportText(app.store, true, draftsOf(app)), short = new Blob([whole]).size > MOST;
  return { bundle: JSON.parse(short ? await exportText(app.store, false, draftsOf(app)) : whole), short };
}

/** @param {string} text */
function picture(text) {
  const address = URL.createObjectURL(new Blob([text], { type: "image/svg+xml" }));
  const onload = () => URL.revokeObjectURL(address);
  return h("img", { class: "qr", src: address, alt: say("app-pair-code"), onload });
}

/** `#/pair/<secret>`: what would come in, and a button. The secret moves into the entry of this page. */
/** @param {App} app @param {string} secret */
export async function pair(app, secret) {
  if (secret) { history.replaceState({ ...history.state, pair: secret }, "", "#/pair/"); return redraw(); }
  const held = history.state?.pair;
  if (!held) return missing(say("app-pair-open-again"));
  const reply = await post("/api/pairs/read", { secret: held }, app.settings.device);
  if (reply?.status !== 200) return failed(reply);
  const bundle = reply.body?.bundle ?? reply.body;
  let found;
  try {
    found = await readExport(JSON.stringify(bundle), app.store);
  } catch (error) {
    return screen(trouble(sentence(error)));
  }
  const box = h("div", {}, preview(found));
  const take = button(say("app-pair-take"), () => bringIn(app, bundle, box, take), "answer main");
  return screen(box, news(found).length ? take : null);
}

/** @param {Child} body @param {Child} [foot] */
const screen = (body, foot) => page({ title: say("app-pair-from"), back: backButton(() => back("#/")), body, foot });

/** @param {Reply | null} reply */
function failed(reply) {
  const text = reply ? [reason(reply.status, reply.body), reply.body?.error?.fix].filter(Boolean).join(" ")
    : say("app-pair-nothing-changed");
  return screen(trouble(text), button(say("app-try-again"), () => redraw(), "answer main"));
}

/** @param {FileCounts} of */
const news = ({ records, drafts, photos, links }) =>
  Object.entries({ records, drafts, photos, links }).filter(([, count]) => count);

/** @param {FileCounts} found */
function preview(found) {
  const lines = news(found), { known } = found;
  return [
    lines.length ? h("p", {}, say("app-pair-would-add")) : h("p", {}, say("app-pair-nothing-new")),
    lines.length ? h("ul", {}, lines.map(([what, count]) => h("li", {},
      bold(`app-pair-${what}`, "count", String(count))))) : null,
    known ? h("p", {}, say("app-pair-known", { known })) : null,
  ];
}

/** @param {App} app @param {unknown} bundle @param {HTMLElement} box @param {HTMLElement} take */
async function bringIn(app, bundle, box, take) {
  try {
    const found = await readExport(JSON.stringify(bundle), app.store);
    if (found.changes.length) await app.store.commit(found.changes);
    await readLinks(app);
    box.replaceChildren(h("p", { role: "status" }, addedText(found)));
    take.remove();
    app.sender.send();
  } catch (error) {
    box.replaceChildren(trouble(sentence(error)));
  }
}
