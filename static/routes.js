// Which address has which screen, and the start: what this phone holds is opened.

import { Sender } from "./data/outbox.js";
import { fetchBook, laterWords } from "./data/queries.js";
import { localDate, uuid7 } from "./data/records.js";
import { openStore, StorageFull } from "./data/store.js";
import { Updates } from "./data/updates.js";
import { say, wordsAt } from "./data/words.js";
import { hearDrafts, readLinks, setSetting } from "./keep.js";
import { h, moved } from "./parts/h.js";
import { likelyUnits } from "./parts/numbers.js";
import { announce, page } from "./parts/page.js";
import { later, redraw, show, soon, start } from "./router.js";
import { begin, front } from "./screens/front.js";
import { stopNow } from "./screens/stop_short.js";
import { stopStep } from "./screens/stop_signs.js";

const asking = () => later(() => import("./screens/ask.js"));
const stopping = () => soon(() => import("./screens/stop_now.js"));
const hubs = () => soon(() => import("./screens/stop_hubs.js"));
const stopRows = () => soon(() => import("./screens/stop_rows.js"));
const verdicts = () => soon(() => import("./screens/verdict.js"));
const links = () => later(() => import("./screens/link.js"));
const readings = () => later(() => import("./screens/link_reading.js"));
const trailers = () => later(() => import("./screens/trailer.js"));

/** @param {App} app @returns {Route[]} */
const routesOf = (app) => [
  [/^#?\/?$/, () => front(app)],
  [/^#\/begin\/(run_stop|walkaround|tires)$/, (check) => begin(app, check)],
  [/^#\/stop\/([^/]+)\/hubs\.(\d)$/, async (id, axle) => (await hubs()).hubsStep(app, id, axle)],
  [/^#\/stop\/([^/]+)\/(trailer|run)$/, async (id, step) => (await stopRows()).rowsStep(app, id, step)],
  [/^#\/stop\/([^/]+)\/?([^/]+)?$/, (id, step) => stopStep(app, id, step)],
  [/^#\/walk$/, async () => (await later(() => import("./screens/walk_depths.js"))).startWalk(app)],
  [/^#\/walk\/([^/]+)\/?([^/]+)?$/,
    async (id, place) => (await later(() => import("./screens/walk.js"))).walkStep(app, id, place)],
  [/^#\/now\/([^/]+)$/, (id) => stopNow(app, id)],
  [/^#\/ask\/([^/]+)\/([^/]+)\/?(answers|sofar|stop|walk)?\/?([^/]+)?$/,
    async (id, step, then, at) => (await asking()).ask(app, id, step, then, at)],
  [/^#\/answers\/([^/]+)$/, async (id) => (await later(() => import("./screens/answers.js"))).answersScreen(app, id)],
  [/^#\/pause\/([^/]+)$/, async (id) => (await later(() => import("./screens/pause.js"))).pause(app, id)],
  [/^#\/sofar\/([^/]+)$/, async (id) => (await verdicts()).sofar(app, id)],
  [/^#\/figures\/?([^/]+)?\/?([^/]+)?\/?([^/]+)?$/,
    async (id, point, key) => (await later(() => import("./screens/figures.js"))).figuresScreen(app, id, point, key)],
  [/^#\/check\/([^/]+)$/, async (id) => (await verdicts()).kept(app, id)],
  [/^#\/trailers$/, async () => (await trailers()).trailerList(app)],
  [/^#\/trailer\/new$/, async () => (await trailers()).newTrailer(app)],
  [/^#\/trailer\/from\/([^/]+)$/, async (id) => (await trailers()).fromCheck(app, id)],
  [/^#\/trailer\/([^/]+)$/, async (id) => (await trailers()).trailerScreen(app, id)],
  [/^#\/lamps\/?([a-z_]+)?$/, async (at) => (await later(() => import("./screens/lamps.js"))).lamps(app, at)],
  [/^#\/run\/?(start|from|before|plan)?\/?([^/]+)?$/,
    async (at, link) => (await later(() => import("./screens/run.js"))).run(app, at, link)],
  [/^#\/trip$/, async () => (await later(() => import("./screens/trip.js"))).trip(app)],
  [/^#\/years\/([^/]+)$/, async (id) => (await later(() => import("./screens/years.js"))).years(app, id)],
  [/^#\/history$/, async () => (await later(() => import("./screens/history.js"))).history(app)],
  [/^#\/settings$/, async () => (await later(() => import("./screens/settings.js"))).settings(app)],
  [/^#\/from\/(.*)$/, async (secret) => (await links()).from(app, secret)],
  [/^#\/job\/([^/]+)$/, async (id) => (await links()).job(app, id)],
  [/^#\/pair\/?(.*)$/, async (secret) => (await later(() => import("./screens/pair.js"))).pair(app, secret)],
];

/** What the screens share: what is kept, and what is known since the start. */
async function opened() {
  const book = await fetchBook(["/rulebook.json", wordsAt()]); // first, for its words
  const { store, lasting } = await openStore(blocked);
  const kept = Object.fromEntries((await store.all("settings")).map(({ key, value }) => [key, value]));
  const settings = Object.assign(/** @type {Settings} */ ({}), kept);
  // What sends is there once the number of this phone is.
  const app = Object.assign(/** @type {App} */ ({}), {
    book, store, lasting, settings,
    books: new Map(), // those of kept checks
    links: [],
    drafts: new Map(), // the newest answers, should the disk refuse them
    sendState: /** @type {SendState} */ ({ waiting: new Set(), refused: [], clock: 0 }),
    updates: new Updates(moved),
  });
  if (!settings.units) await firstSetting(app, "units", likelyUnits());
  if (!settings.device) await firstSetting(app, "device", uuid7().replaceAll("-", ""));
  app.sender = new Sender(store, settings.device, (state) => { app.sendState = state; moved(); });
  await app.sender.report();
  await readLinks(app);
  return app;
}

/** On a full phone the app starts all the same, and says so. */
/** @template {keyof Settings} K @param {App} app @param {K} key @param {Settings[K]} value */
async function firstSetting(app, key, value) {
  await setSetting(app, key, value).catch((error) => {
    if (!(error instanceof StorageFull)) throw error;
    app.full = true;
  });
}

const blocked = () =>
  show(page({ title: say("app-blocked"), body: h("p", { role: "status" }, say("app-blocked.help")) }));

// The first screen has a weak signal to itself for this long, in ms.
const FIRST_SCREEN = 2500;

/** What any check comes to is here before the signal is lost, the reasons of findings too. */
/** @param {App} app */
function fetchMore(app) {
  const offer = async () => (await later(() => import("./data/offering.js"))).offer(app);
  const ready = async () => (await later(() => import("./engine/warm.js"))).warm(app.book, localDate());
  for (const load of [hubs, stopRows, asking, stopping, verdicts, laterWords, offer, ready]) load().catch(() => {});
}

async function startUp() {
  const app = await opened(), { settings, updates } = app;
  // What else an address names is kept where nothing can be read: the front page says that.
  if (!app.lasting && !/^#\/(from|pair|settings)/.test(location.hash)) history.replaceState(null, "", "#/");
  await start(routesOf(app), (hash) => {
    updates.open(/^#\/(ask|stop|walk|answers|sofar|figures)/.test(hash));
    if (settings.aloud || settings.bigTouch) import("./screens/comfort.js").then((part) => part.comfort(app), () => {});
  });
  announce(""); // that it is starting is over
  updates.start(settings.started);
  if (!settings.started) await firstSetting(app, "started", true);
  app.sender.start();
  // Front page and run tell of a Stop now that another window has found.
  hearDrafts((id) => { if (location.hash.includes(id) || /^(#\/(run)?)?$/.test(location.hash)) redraw(); });
  setTimeout(() => fetchMore(app), FIRST_SCREEN);
  if (app.links.length) readings().then(({ refresh }) => refresh(app)).catch(() => {});
}

startUp().catch(notStarted);
