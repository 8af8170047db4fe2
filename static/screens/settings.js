// Units, where things are kept, and everything in one file.

import { changeLanguage, offered, ownName } from "../data/language.js";
import { addedText, exportText, readExport } from "../data/files.js";
import { localDate } from "../data/records.js";
import { askToPersist } from "../data/store.js";
import { LANGUAGE, say, sentence } from "../data/words.js";
import { draftsOf, readLinks, setSetting } from "../keep.js";
import { back, later, redraw } from "../router.js";
import { h, live } from "../parts/h.js";
import { backButton, button, link, page, trouble } from "../parts/page.js";
import { canSpeak, comfort } from "./comfort.js";
import { notices } from "./notices.js";

/** @type {System[]} */
const SYSTEMS = ["us", "metric"];

/** @param {App} app */
export async function settings(app) {
  const result = h("div", {});
  /** @type {HTMLInputElement} */
  const file = h("input", { type: "file", id: "file", accept: "application/json,.json",
    onchange: () => fetchFile(app, file, result) });
  return page({
    title: say("app-settings"),
    back: backButton(() => back("#/")),
    body: [
      languages(app), units(app), help(app), comforts(app),
      h("section", {}, h("h2", {}, say("app-settings-file")),
        h("p", {}, say("app-settings-file.help")),
        button(say("app-settings-save"), () => saveFile(app, result), "answer"),
        h("label", { for: "file", class: "answer" }, say("app-settings-fetch"), file), result),
      secondPhone(app), shops(),
      kept(app), about(app),
    ],
  });
}

/** Whom the page of a *Stop now* calls where no shop's link has a number. */
/** @param {App} app */
function help(app) {
  const problem = h("div", {});
  const store = async () => {
    const number = box.value.trim(), fits = !number || /\d/.test(number);
    problem.replaceChildren(...fits ? [] : [trouble(say("app-settings-help-wrong"))]);
    if (fits) await setSetting(app, "help_number", number);
  };
  /** @type {HTMLInputElement} */
  const box = h("input", { type: "tel", autocomplete: "tel", maxlength: 40, "aria-label": say("app-settings-help"),
    value: app.settings.help_number ?? "", onchange: store });
  return h("section", { class: "tell-them" }, h("h2", {}, say("app-settings-help")),
    box, problem);
}

/** Each language under its own name: whoever looks for it may read no other. */
/** @param {App} app */
function languages(app) {
  const codes = offered(), told = h("div", {});
  if (codes.length < 2) return null;
  /** @param {string} code */
  const choose = async (code) => {
    if (code === LANGUAGE) return;
    told.replaceChildren(h("p", { role: "status" }, say("app-settings-language-coming")));
    const forbidden = await changeLanguage(app.updates, code).catch(() => null);
    if (forbidden === null) told.replaceChildren(trouble(say("app-settings-language-unsent")));
    if (forbidden) told.replaceChildren(trouble(say("app-update-held")));
  };
  const many = codes.length > 2 ? "answers" : "row";
  return h("section", {}, h("h2", {}, say("app-settings-language")), h("div", { class: many, role: "group" },
    codes.map((code) => button(ownName(code), () => choose(code), "answer",
      { "aria-pressed": String(code === LANGUAGE), lang: code, value: code }))), told);
}

/** @param {App} app */
function units(app) {
  /** @param {System} system */
  const choose = async (system) => { await setSetting(app, "units", system); redraw(); };
  return h("section", {}, h("h2", {}, say("app-settings-units")), h("div", { class: "row", role: "group" },
    SYSTEMS.map((system) => button(say(`app-settings-units-${system}`), () => choose(system), "answer",
      { "aria-pressed": String(app.settings.units === system), value: system }))));
}

/** Reading aloud, where the browser can, and answers for cold hands. */
/** @param {App} app */
function comforts(app) {
  /** @param {"aloud" | "bigTouch"} name */
  const choice = (name) => button(say(`app-settings-${name}`), async () => {
    await setSetting(app, name, !app.settings[name]);
    comfort(app);
    redraw();
  }, "answer", { "aria-pressed": String(Boolean(app.settings[name])), value: name });
  return h("section", { class: "comforts" }, h("h2", {}, say("app-settings-comfort")),
    h("p", {}, say("app-settings-comfort.help")),
    h("div", { class: "answers" }, canSpeak() ? choice("aloud") : null, choice("bigTouch")),
    canSpeak() ? null : h("p", { class: "hint" }, say("app-settings-mute")));
}

/** @param {App} app @param {HTMLElement} result */
async function saveFile(app, result) {
  try {
    const file = new Blob([await exportText(app.store, true, draftsOf(app))], { type: "application/json" });
    const address = URL.createObjectURL(file);
    h("a", { href: address, download: `twentymile-${localDate()}.json` }).click();
    setTimeout(() => URL.revokeObjectURL(address), 60_000);
    result.replaceChildren(h("p", { role: "status" }, say("app-settings-saved")));
  } catch (error) {
    result.replaceChildren(trouble(say("app-settings-not-saved", { why: sentence(error) })));
  }
}

/** @param {App} app @param {HTMLInputElement} input @param {HTMLElement} result */
async function fetchFile(app, input, result) {
  const [chosen] = input.files ?? [];
  if (!chosen) return;
  try {
    const found = await readExport(await chosen.text(), app.store);
    await app.store.commit(found.changes.length ? found.changes
      : [["settings", { key: "fetched", value: localDate() }]]);
    await readLinks(app);
    result.replaceChildren(h("p", { role: "status" }, addedText(found)));
    app.sender.send();
  } catch (error) {
    result.replaceChildren(trouble(sentence(error)));
  }
  input.value = "";
}

/** @param {App} app @param {HTMLElement} box */
const bring = async (app, box) => (await later(() => import("./pair.js"))).offer(app, box);

/** @param {App} app */
function secondPhone(app) {
  const box = h("div", {}), go = () => bring(app, box).catch((error) => box.replaceChildren(trouble(error.message)));
  return h("section", {}, h("h2", {}, say("app-pair")),
    h("p", {}, say("app-pair.help")),
    button(say("app-pair-bring"), go, "answer"), box);
}

/** Where links and codes of shops come in, and the door for those who work at one. */
function shops() {
  return h("section", {}, h("h2", {}, say("app-settings-shops")), h("p", {}, say("app-settings-shops.help")),
    link(say("app-settings-shop"), "/shop", "answer"));
}

/** @param {App} app */
function kept(app) {
  const { persisted } = app.settings;
  const answer = persisted === undefined ? "app-settings-unasked" : `app-settings-promise-${persisted}`;
  const ask = async () => { await setSetting(app, "persisted", await askToPersist()); redraw(); };
  return h("section", {}, h("h2", {}, say("app-settings-keeps")),
    h("p", {}, say(app.lasting ? answer : "app-settings-keeps-nothing")),
    app.lasting && persisted !== true ? button(say("app-settings-ask"), ask, "plain") : null,
    live(() => h("p", {}, say("app-unsent-count", { count: app.sendState.waiting.size }))), notices(app));
}

/** @param {App} app */
function about(app) {
  return h("section", { class: "small" }, h("h2", {}, say("app-settings-about")),
    h("p", {}, say("app-settings-about.help")),
    live(() => h("p", {}, say(app.updates.ready ? "app-settings-ready"
      : isSecureContext ? "app-settings-on-its-way" : "app-settings-no-https"))),
    h("p", {}, say("app-settings-rulebook"), " ", h("code", {}, app.book.hash.slice(0, 12))),
    h("p", {}, say("app-settings-device"), " ", h("code", {}, app.settings.device)));
}
