// Units, where things are kept, and everything in one file.

import { addedText, exportText, readExport } from "../data/files.js";
import { localDate } from "../data/records.js";
import { askToPersist } from "../data/store.js";
import { readLinks, setSetting } from "../keep.js";
import { back, later, redraw } from "../router.js";
import { h, live } from "../parts/h.js";
import { backButton, button, page, trouble } from "../parts/page.js";
import { notices } from "./notices.js";

export async function settings(app) {
  const result = h("div", {});
  const file = h("input", { type: "file", id: "file", accept: "application/json,.json", onchange: () => fetchFile(app, file, result) });
  return page({
    title: "Settings",
    back: backButton(() => back("#/")),
    body: [
      h("section", {}, h("h2", {}, "Units"), h("div", { class: "row", role: "group" }, ["us", "metric"].map((system) =>
        button({ us: "US: psi, °F, miles", metric: "Metric: kPa, °C, km" }[system], async () => { await setSetting(app, "units", system); redraw(); }, "answer",
          { "aria-pressed": String(app.settings.units === system), value: system })))),
      h("section", {}, h("h2", {}, "Your file"),
        h("p", {}, "One file holds every check, trailer and unfinished check on this phone."),
        button("Save everything to a file", () => saveFile(app, result), "answer"),
        h("label", { for: "file", class: "answer" }, "Fetch from a file", file), result),
      secondPhone(app),
      kept(app), about(app),
    ],
  });
}

async function saveFile(app, result) {
  try {
    const address = URL.createObjectURL(new Blob([await exportText(app.store)], { type: "application/json" }));
    h("a", { href: address, download: `twentymile-${localDate()}.json` }).click();
    setTimeout(() => URL.revokeObjectURL(address), 60_000);
    result.replaceChildren(h("p", { role: "status" }, "The file is in your downloads."));
  } catch (error) {
    result.replaceChildren(trouble(`The file could not be made: ${error.message}`));
  }
}

async function fetchFile(app, input, result) {
  const [chosen] = input.files;
  if (!chosen) return;
  try {
    const found = await readExport(await chosen.text(), app.store);
    await app.store.commit(found.changes.length ? found.changes : [["settings", { key: "fetched", value: localDate() }]]);
    await readLinks(app);
    result.replaceChildren(h("p", { role: "status" }, addedText(found)));
    app.sender.send();
  } catch (error) {
    result.replaceChildren(trouble(error.message));
  }
  input.value = "";
}

const bring = async (app, box) => (await later(() => import("./pair.js"))).offer(app, box);

function secondPhone(app) {
  const box = h("div", {});
  return h("section", {}, h("h2", {}, "Second phone"),
    h("p", {}, "Show everything that is here on another phone too. The server holds it for one day."),
    button("Bring it to another phone", () => bring(app, box).catch((error) => box.replaceChildren(trouble(error.message))), "answer"), box);
}

function kept(app) {
  const { persisted } = app.settings;
  const answer = { true: "This browser promises to keep it.", false: "This browser may clear it when the phone runs short of room, so send it or save a file.", null: "This browser does not say whether it will keep it." }[persisted ?? null];
  const ask = async () => { await setSetting(app, "persisted", await askToPersist()); redraw(); };
  return h("section", {}, h("h2", {}, "What this phone keeps"),
    h("p", {}, app.lasting ? (persisted === undefined ? "Asked of the browser after the first save." : answer) : "This browser keeps nothing when the app is closed."),
    app.lasting && persisted !== true ? button("Ask the browser to keep it", ask, "plain") : null,
    live(() => h("p", {}, `Not yet sent: ${app.sendState.waiting.size}`)), notices(app));
}

function about(app) {
  return h("section", { class: "small" }, h("h2", {}, "About"),
    h("p", {}, "Twentymile judges what you see, feel and measure. It does not replace the maker’s figures, local law or a licensed mechanic."),
    live(() => h("p", {}, app.updates.ready ? "Works without signal on this phone."
      : isSecureContext ? "Some of the app is still on its way to this phone." : "Works without signal only from an https address or localhost.")),
    h("p", {}, "Rulebook ", h("code", {}, app.book.hash.slice(0, 12))),
    h("p", {}, "This phone’s number ", h("code", {}, app.settings.device)));
}
