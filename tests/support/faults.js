// What the simulator does in a page of the app: the app's own modules, with the app's own store.
async () => {
  const from = (path) => import(`/static/${path}.js`);
  const keep = await from("keep"), store = await from("data/store"), files = await from("data/files");
  const drafts = await from("data/drafts");
  const outbox = await from("data/outbox"), queries = await from("data/queries");
  const photos = await from("data/photos"), asking = await from("data/asking");
  const offering = await from("data/offering");
  const opened = await store.openStore(() => {});
  const settings = Object.fromEntries((await opened.store.all("settings")).map(({ key, value }) => [key, value]));
  const app = {
    ...opened, settings, book: await queries.fetchBook(["/rulebook.json", "/words.en.json"]),
    books: new Map(), links: await opened.store.all("links"), drafts: new Map(),
    sendState: { waiting: new Set(), refused: [] },
  };
  app.sender = new outbox.Sender(app.store, settings.device, (state) => { app.sendState = state; });
  app.sender.start();
  const held = new Map(); // drafts as this window saved them last
  // What a person would be told is told to the simulator.
  const told = async (work) => {
    try {
      return { done: await work() };
    } catch (error) {
      if (error instanceof store.StorageFull) return { why: "full" };
      if (error instanceof drafts.Gone) return { why: "gone" };
      return { why: `${error?.name}: ${error?.message}` };
    }
  };
  const draftOf = async (id) => held.get(id) ?? (await keep.draftOf(app, id));
  window.sim = {
    lasting: app.lasting,
    device: settings.device,
    begin: (under) => told(async () => {
      const link = under && app.links.find((one) => one.id === under);
      const draft = await keep.beginCheck(app, "run_stop", null, { axles: 2, brakes: "none" }, {},
        link ? { link: link.id, trailer: link.trailer } : null);
      held.set(draft.id, await keep.saveDraft(app, draft));
      return draft.id;
    }),
    answer: (id, key, raw) => told(async () => {
      const draft = await draftOf(id);
      if (!draft) throw new drafts.Gone();
      held.set(id, await keep.saveDraft(app, asking.answered(draft, { [key]: { raw } })));
    }),
    look: (id) => told(async () => { held.set(id, await keep.draftOf(app, id)); }),
    keep: (id) => told(async () => {
      const draft = await keep.draftOf(app, id);
      if (!draft) throw new drafts.Gone();
      // A file may have brought what the other phone kept of the same draft.
      const brought = new Set((await app.store.all("records")).map((item) => item.id));
      await keep.keepCheck(app, draft);
      held.delete(id);
      const kept = (await app.store.all("records")).find((item) => item.draft === id && !brought.has(item.id));
      if (!kept) throw new store.StorageFull("not kept");
      return { id: kept.id, hash: kept.hash };
    }),
    newer: (foreign) => told(async () => {
      const { seal } = await from("data/records");
      const facts = foreign ? { of_next_year: 1 } : { axles: 2, "hub_feel@1L": "warm" };
      const sealed = await seal("check", { check: "run_stop", date: "2026-07-14", facts,
        typed: {}, trailer: null, rulebook: "f".repeat(64), verdict: { level: "look" } });
      await app.store.commit(store.keeping(sealed));
      return { id: sealed.id, hash: sealed.hash };
    }),
    photo: (id, shade) => told(async () => {
      const canvas = new OffscreenCanvas(40, 30), pen = canvas.getContext("2d");
      pen.fillStyle = `hsl(${shade} 80% 40%)`;
      pen.fillRect(0, 0, 40, 30);
      const picture = await photos.shrink(await canvas.convertToBlob({ type: "image/jpeg" }));
      const before = new Set((await app.store.all("photos")).map((one) => one.id));
      await photos.keepPhoto(app, { check: id, point: "hub_heat@1L" }, picture);
      return (await app.store.all("photos")).find((one) => one.check === id && !before.has(one.id))?.id;
    }),
    link: (link) => told(async () => { await app.store.commit([["links", link]]); await keep.readLinks(app); }),
    unsent: () => [...app.sendState.waiting].sort(),
    send: (refused) => told(async () => {
      await app.sender.send({ refused });
      clearTimeout(app.sender.timer);
    }),
    older: () => told(async () => {
      for (const { id } of await app.store.all("outbox")) {
        const kept = await app.store.get("records", id);
        const headers = { "Content-Type": "application/json", "X-Twentymile-Device": settings.device };
        const body = JSON.stringify({ record: kept?.record, hash: kept?.hash });
        if (kept) await fetch("/api/records", { method: "POST", headers, body }).catch(() => {});
      }
    }),
    again: () => told(async () => {
      const records = await app.store.all("records");
      await app.store.commit(records.map(({ id }) => ["outbox", { id, message: "" }]));
    }),
    offer: () => told(async () => {
      await app.store.commit([["settings", null, "offered"]]);
      await offering.offerAgain(app.store, app.settings.device, undefined, Date.now());
      return Boolean(await app.store.get("settings", "offered"))
        || !(await app.store.all("records")).some((item) => item.sent);
    }),
    text: () => files.exportText(app.store),
    take: (text) => told(async () => {
      const found = await files.readExport(text, app.store);
      if (found.changes.length) await app.store.commit(found.changes);
      await keep.readLinks(app);
    }),
    look: () => { navigator.serviceWorker.getRegistration().then((one) => one?.update()).catch(() => {}); },
    newest: async () => {
      const registration = await navigator.serviceWorker.getRegistration();
      await registration?.update().catch(() => {});
      const worker = registration?.installing;
      while (worker?.state === "installing") await new Promise((done) => { setTimeout(done, 20); });
      return Boolean(registration?.waiting);
    },
    releases: async () => Promise.all((await caches.keys()).map(async (name) => {
      const cache = await caches.open(name);
      const scripts = (await cache.keys()).filter(({ url }) => url.endsWith(".js"));
      const texts = await Promise.all(scripts.map(async (one) => (await cache.match(one))?.text()));
      return [name, [...new Set(texts.map((text) => /of release (\d+)/.exec(text ?? "")?.[1]).filter(Boolean))]];
    })),
    hang: () => { // requests that never come to an end
      const request = () => ({});
      IDBDatabase.prototype.transaction = () => ({ objectStore: () => ({ get: request, getAll: request,
        put: request, delete: request }), abort() {} });
    },
    waits: (call, ...given) => Promise.race([window.sim[call](...given),
      new Promise((done) => { setTimeout(() => done({ why: "waits" }), 400); })]),
    drop: () => { // a connection can be lost once
      const real = IDBDatabase.prototype.transaction;
      if (real.dropped) return;
      IDBDatabase.prototype.transaction = function () {
        IDBDatabase.prototype.transaction = real;
        throw new DOMException("The database connection is closing.", "InvalidStateError");
      };
      IDBDatabase.prototype.transaction.dropped = true;
    },
    state: async () => ({
      // First: what is sent while this reads on has left the outbox, and is marked.
      outbox: (await app.store.all("outbox")).map(({ id, message, check }) => ({ id, message, check })),
      drafts: Object.fromEntries((await app.store.all("drafts")).map(({ id, facts }) => [id, facts])),
      records: (await app.store.all("records")).map(({ id, hash, sent, draft, record }) =>
        ({ id, hash, sent: Boolean(sent), draft, facts: record.body.facts })),
      photos: (await app.store.all("photos")).map(({ id, hash, check, sent }) => ({ id, hash, check, sent: Boolean(sent) })),
      pictures: (await app.store.all("pictures")).map(({ id }) => id),
    }),
  };
}
