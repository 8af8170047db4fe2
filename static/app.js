// Start, routes, and what the screens share. The address after # says which screen is shown, so the
// phone's own back button works and a reload comes back to the same question.

import { load } from "./engine/judge.js";
import { adopt, answers, judged, PROFILE, visits } from "./asking.js";
import { h, live, moved } from "./parts/h.js";
import { likelyUnits } from "./parts/numbers.js";
import { button, link, page } from "./parts/page.js";
import { localDate, localTime, seal, uuid7 } from "./record.js";
import { Sender } from "./send.js";
import { askToPersist, keeping, openStore, StorageFull } from "./store.js";
import { answersScreen } from "./screens/answers.js";
import { ask, resumeHash } from "./screens/ask.js";
import { front, stop } from "./screens/front.js";
import { history } from "./screens/history.js";
import { fromCheck, newTrailer, trailerBody, trailerList, trailerScreen } from "./screens/trailer.js";
import { kept, sofar } from "./screens/verdict.js";
import { openBook, Updates } from "./shell.js";

const ROUTES = [
  [/^#?\/?$/, front],
  [/^#\/stop$/, stop],
  [/^#\/ask\/([^/]+)\/([^/]+)\/?(answers|sofar)?$/, ask],
  [/^#\/answers\/([^/]+)$/, answersScreen],
  [/^#\/sofar\/([^/]+)$/, sofar],
  [/^#\/sums\/?([^/]+)?\/?([^/]+)?\/?([^/]+)?$/, (app, ...at) => app.later("later/figures", "sums", ...at)],
  [/^#\/check\/([^/]+)$/, kept],
  [/^#\/trailers$/, trailerList],
  [/^#\/trailer\/new$/, newTrailer],
  [/^#\/trailer\/from\/([^/]+)$/, fromCheck],
  [/^#\/trailer\/([^/]+)$/, trailerScreen],
  [/^#\/history$/, history],
  [/^#\/settings$/, (app) => app.later("screens/settings", "settings")],
  [/^#\/from\/(.*)$/, (app, secret) => app.later("later/links", "from", secret)],
  [/^#\/job\/([^/]+)$/, (app, id) => app.later("later/links", "job", id)],
  [/^#\/pair\/?(.*)$/, (app, secret) => app.later("later/pair", "pair", secret)],
];

class App {
  settings = {};
  sendState = { waiting: new Set(), refused: [] };
  #trail = [];
  #drawing = 0;
  #drafts = new Map(); // the newest answers, should the disk refuse them

  async start_up() {
    Object.assign(this, await openStore());
    for (const { key, value } of await this.store.all("settings")) this.settings[key] = value;
    if (!this.settings.units) await this.set("units", likelyUnits());
    if (!this.settings.device) await this.set("device", uuid7().replaceAll("-", ""));
    this.book = await openBook();
    this.books = new Map([[this.book.hash, this.book]]);
    this.updates = new Updates(moved);
    this.sender = new Sender(this.store, this.settings.device, (state) => this.#sent(state));
    await this.sender.report();
    this.links = await this.store.all("links");
    addEventListener("hashchange", () => this.redraw());
    await this.redraw();
    this.updates.start(this.settings.started);
    if (!this.settings.started) await this.set("started", true);
    this.sender.start();
    if (this.links.length) this.later("later/links", "refresh").catch(() => {});
  }

  /** Call `name` of a file that the first visit did not need. */
  async later(file, name, ...given) {
    let part;
    try {
      part = await import(`./${file}.js`);
    } catch {
      throw new Error("This part of the app is not on the phone yet. It comes by itself when there is signal: load the page again then.");
    }
    return part[name](this, ...given);
  }

  get offline() { return this.updates.ready; }

  // ---- moving about ----

  go(hash, { replace = false } = {}) {
    if (location.hash === hash) return this.redraw();
    replace ? location.replace(hash) : (location.hash = hash);
    return null;
  }

  /** Back along the way the person came, where that is the way they came. */
  back(hash) {
    if (this.#trail.at(-2) === hash) globalThis.history.back();
    else this.go(hash, { replace: true });
  }

  async redraw() {
    const turn = ++this.#drawing, hash = location.hash;
    const [route, screen] = ROUTES.find(([pattern]) => pattern.test(hash)) ?? [/./, () => this.missing("There is no such page.")];
    const parts = (route.exec(hash) ?? []).slice(1).map((part) => part && decodeURIComponent(part));
    let shown;
    try {
      shown = await screen(this, ...parts);
    } catch (error) {
      shown = this.failed(error);
    }
    if (!shown || turn !== this.#drawing) return;
    this.#follow(hash);
    this.updates.open(/^#\/(ask|answers|sofar|sums)/.test(hash));
    document.getElementById("screen").replaceChildren(shown);
    const heading = shown.querySelector("h1");
    document.title = [heading?.textContent, "Twentymile"].filter((t, i, all) => t && all.indexOf(t) === i).join(" – ");
    scrollTo(0, 0);
    heading?.focus({ preventScroll: true });
    document.body.dataset.shown = hash;
  }

  #follow(hash) {
    if (this.#trail.at(-1) === hash) return;
    if (this.#trail.at(-2) === hash) this.#trail.pop();
    else this.#trail.push(hash);
  }

  missing(text) {
    return page({ title: "Not here", body: h("p", {}, text), foot: link("Front page", "#/", "answer main") });
  }

  failed(error) {
    return page({
      title: "Something went wrong",
      body: [h("p", {}, "What was saved on this phone is still there."), h("p", { class: "small" }, String(error?.message ?? error))],
      foot: h("div", { class: "row" }, link("Settings and files", "#/settings", "answer"), link("Front page", "#/", "answer main")),
    });
  }

  /** Ask before something that cannot be undone. */
  sure(question, yes) {
    return new Promise((resolve) => {
      const end = (answer) => () => { box.close(); box.remove(); resolve(answer); };
      const box = h("dialog", { "aria-label": question, oncancel: end(false) }, h("p", {}, question),
        h("div", { class: "row" }, button("No, go back", end(false), "answer"), button(yes, end(true), "answer main")));
      document.body.append(box);
      box.showModal();
    });
  }

  say(text) { document.getElementById("spoken").textContent = text; }

  notices() {
    return live(() => [
      this.lasting ? null : h("p", { class: "note" }, "This browser keeps nothing once the app is closed (a private window does that). Finish and send before you close it."),
      isSecureContext ? null : h("p", { class: "note" }, "This address has no https, so the app needs the network each time it starts. Your answers are still kept on this phone."),
      this.updates.waiting ? h("div", { class: "note" }, h("p", {}, "A new version is here."), button("Update", () => this.update(), "plain")) : null,
    ]);
  }

  async update() {
    const held = await this.updates.take();
    if (held) this.sure("A check is open in another window. Finish it or put it down there, then update.", "I see");
  }

  // ---- what is kept ----

  async set(key, value) {
    this.settings[key] = value;
    await this.store.commit([["settings", { key, value }]]);
  }

  async draft(id) { return adopt(this.book, this.#drafts.get(id) ?? (await this.store.get("drafts", id))); }

  async saveDraft(draft) {
    this.#drafts.set(draft.id, draft);
    await this.store.commit([["drafts", draft]]);
    this.#drafts.delete(draft.id);
    await this.#askOnce();
  }

  /** Begin a check; what is known of the trailer, saved here or `under` a shop's link, is not asked again. */
  async start(check, trailerId = null, facts = {}, typed = {}, under = null) {
    const trailer = under?.trailer ?? (await this.trailers()).find((t) => t.id === trailerId);
    const draft = adopt(this.book, {
      id: uuid7(), check, trailer: trailer?.id ?? null, date: localDate(), started: localTime(),
      facts: { ...trailer?.facts, ...facts }, typed: { ...trailer?.typed, ...typed }, skipped: [], known: [],
      link: under?.link, due: under?.due,
    });
    const walk = visits(this.book, draft), asked = new Set(walk.flatMap((v) => v.keys));
    const profile = new Set(walk.filter((v) => PROFILE.includes(v.station)).flatMap((v) => v.keys));
    const known = Object.keys(trailer?.facts ?? {}).filter((key) => profile.has(key) || !asked.has(key));
    await this.saveDraft({ ...draft, known });
    this.go(resumeHash(this.book, { ...draft, known }));
  }

  async keepCheck(draft, book = this.book) {
    const facts = answers(book, draft), { check, date, trailer } = draft;
    const typed = Object.fromEntries(Object.entries(draft.typed ?? {}).filter(([key]) => key in facts));
    const verdict = judged(book, draft);
    const sealed = await seal("check", { check, date, facts, typed, trailer, rulebook: book.hash, verdict });
    const photos = (await this.store.all("photos")).filter((photo) => photo.check === draft.id);
    const link = this.links.find((one) => one.id === draft.link);
    const more = [
      ["rulebooks", { hash: book.hash, data: book.data }],
      ["records", { ...sealed, draft: draft.id, ...(link && { link: link.id, due: draft.due }) }],
      ...photos.map(({ id }) => ["outbox", { id, check: sealed.id, message: "" }]),
    ];
    if (link) more.push(["links", { ...link, done: { ...link.done, [draft.due]: sealed.id } }]);
    await this.#keep(sealed, draft.id, more, `#/check/${sealed.id}`);
  }

  async keepTrailer(draft, others = []) {
    const body = trailerBody(this, draft), sealed = await seal("trailer", body);
    this.settings.trailer = body.retired ? null : body.trailer;
    const more = [["settings", { key: "trailer", value: this.settings.trailer }], ...others];
    await this.#keep(sealed, draft.check ? draft.id : null, more, body.retired ? "#/trailers" : `#/trailer/${body.trailer}`);
  }

  async #keep(sealed, draftId, more, hash) {
    const gone = draftId ? [["drafts", null, draftId]] : [];
    const changes = [...keeping(sealed), ...more, ...gone];
    // On a full disk the answers go first: a rulebook is many times as large, and came with the app.
    const small = changes.filter(([kind]) => kind !== "rulebooks");
    try {
      await this.store.commit(changes).catch((error) => {
        if (!(error instanceof StorageFull)) throw error;
        return this.store.commit(small);
      });
    } catch (error) {
      if (!(error instanceof StorageFull)) throw error;
      document.getElementById("screen").replaceChildren(this.failed(error));
      return;
    }
    this.#drafts.delete(draftId);
    this.links = await this.store.all("links");
    await this.#askOnce();
    await this.sender.report();
    this.say("Saved on this phone.");
    this.go(hash, { replace: true });
    this.sender.send();
  }

  async #askOnce() {
    if (this.settings.persisted !== undefined || !this.lasting) return;
    this.settings.persisted = null;
    this.set("persisted", await askToPersist());
  }

  /** The trailer a kept check belongs to: by itself, or since it was saved out of that check. */
  trailerOf(item) { return item.record.body.trailer ?? item.of ?? null; }

  async checks() {
    return (await this.store.all("records")).filter((item) => item.record.kind === "check").reverse();
  }

  /** Saved trailers in their newest version, by name; with `retired` also those taken off the list. */
  async trailers(retired = false) {
    const newest = new Map();
    for (const { record } of await this.store.all("records")) {
      if (record.kind === "trailer") newest.set(record.body.trailer, { ...record.body, id: record.body.trailer });
    }
    return [...newest.values()].filter((t) => retired || !t.retired).sort((a, b) => a.name.localeCompare(b.name));
  }

  /** The rulebook a check was judged by, kept on this phone under its hash. */
  async bookOf(hash) {
    if (!this.books.has(hash)) {
      const kept = await this.store.get("rulebooks", hash);
      if (kept) this.books.set(hash, Object.assign(load(kept.data), { data: kept.data }));
    }
    return this.books.get(hash);
  }

  #sent(state) {
    this.sendState = state;
    moved();
  }
}

const app = new App();
app.start_up().catch((error) => {
  document.getElementById("screen").replaceChildren(page({
    title: "Twentymile could not start",
    body: [h("p", {}, "Check the connection and load the page again. What was saved on this phone is still there."), h("p", { class: "small" }, String(error?.message ?? error))],
    foot: button("Try again", () => location.reload(), "answer main"),
  }));
});
