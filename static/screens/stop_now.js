// The page of a *Stop now*: which wheel, what to do, cautions of this thing only, steps one by one, and
// what to tell whoever comes. It opens at once, from wherever the person was, and stays on the front
// page until somebody says how it ended.

import { answers, axlesOf, factOf, judged, placeOf, ROADSIDE } from "../data/asking.js";
import { bookOf } from "../data/judged_by.js";
import { checkOf, recordsOf, trailerBy, trailerOf } from "../data/queries.js";
import { DECISIONS, leftOf, severalOf, stopsOf, undecided } from "../data/stops.js";
import { foundText, placeName, say, signOf } from "../data/words.js";
import { decide, draftOf, keepCheck, keptOf, saveDraft, shopFor } from "../keep.js";
import { backOr, go, land, later, resumeHash } from "../router.js";
import { answerText } from "../parts/answer.js";
import { h, nodes } from "../parts/h.js";
import { cautions, FIRE, SMOKE, whatNow } from "../parts/mind.js";
import { backButton, button, call, link, page, timeText } from "../parts/page.js";
import { plan } from "../parts/plan.js";
import { sign, tell } from "../parts/sign.js";
import { wheelChooser } from "./stop_signs.js";

/** The page for a draft or a kept check. */
/** @param {App} app @param {string} id */
export async function stopNow(app, id) {
  const draft = await draftOf(app, id);
  const item = draft ? null : await checkOf(app.store, id) ?? null;
  const seen = draft ? fromDraft(app.book, draft) : item && await fromKept(app, item);
  if (!seen) return keptOf(app, id);
  if (!seen.stops.length) return draft ? `#/sofar/${id}` : `#/check/${id}`;
  const trailer = await trailerBy(app, draft ? draft.trailer : item && trailerOf(item), (draft ?? item)?.link);
  const said = item && await saidOf(app, item);
  return new StopPage(app, { ...seen, draft, item, said, trailer: trailer ?? null }).page();
}

/** What somebody has said of a kept one already, with the way to take it back; null while nobody has. */
/** @param {App} app @param {KeptCheck} item */
async function saidOf(app, item) {
  const { readable } = await recordsOf(app.store);
  if (undecided(readable).some(({ id }) => id === item.id)) return null;
  const part = await later(() => import("./mended.js")).catch(() => null);
  return part?.taken(app, readable, ({ id }) => id === item.id) ?? [];
}

/** @param {OpenBook} book @param {Draft} draft */
function fromDraft(book, draft) {
  const verdict = judged(book, draft);
  return { book, check: { ...draft, facts: answers(book, draft) },
    stops: stopsOf(verdict) };
}

/** @param {App} app @param {KeptCheck} item */
async function fromKept(app, item) {
  const { body } = item.record, book = (await bookOf(app, item)) ?? app.book;
  return { book, check: body, stops: stopsOf(body.verdict).filter((f) => f.finding in book.data.findings) };
}

/** What was typed of what was mended, by check: it outlives a screen that is drawn anew.
 * @type {Map<string, string>} */
const mending = new Map();

/** What became of a kept *Stop now* or *Mend*; what is mended asks what was done. `then` comes after. */
/** @param {App} app @param {KeptRecord} item @param {() => unknown} then */
export function howEnded(app, item, then) {
  const some = severalOf(item).length > 0, what = item.settled?.length && leftOf(item);
  /** @param {string} one */
  const give = async (one) => {
    const asks = one === "mended" || some;
    const part = asks && await later(() => import("./mended.js"));
    if (part) {
      const given = one === "mended" ? part.ask(app, item, then, mending) : part.askAll(app, item, one, then);
      box.replaceChildren(...nodes(given));
      return;
    }
    await decide(app, item, one);
    then();
  };
  /** @type {HTMLElement} */
  const box = h("section", {}, h("h2", {}, say("app-stop-now-ended")),
    what && h("p", {}, say("app-mended-left", { what })),
    h("div", { class: "picks" },
    DECISIONS.map((one) => button(say(`app-stop-now-${one}`), () => give(one), "answer"))));
  if (mending.has(item.id)) give("mended");
  return box;
}

// What stands at the end of the place once the phone has told where it is.
const POSITION = /(, )?-?\d+\.\d{5}, -?\d+\.\d{5}$/;

// In the order they are taken, by the worst found: help is called before anybody works on the wheel, and nobody is sent
// to what burns or smokes.
/** @type {Record<string, string[]>} */
const STEPS = {
  [FIRE]: ["fire-1", "fire-2", "fire-3", "fire-4"],
  [SMOKE]: ["fire-1", "smoke-1", "step-3", "step-7", "step-2", "step-4"],
};
const USUAL = ["step-1", "step-2", "step-3", "step-7", "step-4", "step-5"], FORBIDDEN = "app-roadside-step-6";

class StopPage {
  /** @param {App} app @param {StopSeen} seen */
  constructor(app, seen) {
    const { book, check, stops, draft, item, trailer } = seen;
    this.app = app;
    this.book = book;
    this.check = check;
    this.stops = stops;
    this.draft = draft;
    this.item = item;
    this.said = seen.said;
    this.trailer = trailer;
    /** Where they stand, as told, and the steps done: they stay with the check, begun or kept. */
    this.place = (draft ?? item)?.stoppedAtPlace ?? "";
    const done = (draft ?? item)?.stepsDone; // a release before counted them
    this.ticked = Array.isArray(done) ? done : [];
    this.axles = axlesOf(this.check);
    this.road = ROADSIDE.includes(this.check.check);
  }

  page() {
    const { draft, book, axles, check, stops } = this, [worst, ...others] = stops;
    // beside a fire nothing else is to be done now
    const fire = worst.finding === FIRE;
    const unplaced = this.stops.map(signOf).find(Boolean);
    const levels = Object.fromEntries(this.stops.map(({ place, level }) => [place, level]));
    if (draft) tell(draft.id, "stop", ""); // the heading says it
    return page({
      name: "stop-now halt",
      back: backButton(() => backOr(draft ? resumeHash(book, draft) : `#/check/${this.item?.id}`)),
      middle: sign("stop", { words: book.words }),
      body: [
        whatNow(this.stops, check),
        draft && unplaced ? this.which(draft, unplaced) : null,
        others.length ? h("ul", {}, others.map((one) => h("li", {}, this.headline(one),
          fire ? "" : ` ${say(`finding-${one.finding}.do`)}`))) : null,
        h("div", { class: "summary" }, plan({ axles, levels }),
          cautions(book, { findings: fire ? [worst] : stops }, check.check)),
        this.steps(), this.tellThem(), this.after(),
        draft && this.app.full ? h("p", { class: "hint", role: "status" }, say("app-no-room")) : null,
      ],
      foot: this.foot(),
    });
  }

  /** @param {Found} found */
  headline(found) {
    return `${foundText(found, this.axles)}.`;
  }

  /** @param {Draft} draft @param {string} unplaced */
  which(draft, unplaced) {
    const { app } = this;
    return h("section", {}, h("h2", {}, say("app-stop-which-wheel")),
      wheelChooser(app, draft, unplaced, () => go(`#/now/${draft.id}`)));
  }

  /** One step at a time, each with its *done*. What is forbidden is none. */
  steps() {
    if (!this.road) return null;
    const [{ finding }] = this.stops, all = STEPS[finding] ?? USUAL;
    const left = all.filter((one) => !this.ticked.includes(one));
    const box = h("section", { class: "roadside" }, h("h2", {}, say("app-roadside-title")),
      finding === FIRE ? null : h("p", { class: "act" }, say(FORBIDDEN)),
      h("ol", {}, all.filter((one) => one === left[0] || !left.includes(one)).map((one) =>
        h("li", { class: one === left[0] ? "" : "done" }, say(`app-roadside-${one}`)))),
      left.length ? button(say("app-stop-now-done", { n: all.indexOf(left[0]) + 1, all: all.length }),
        () => this.tick(left[0]), "answer") : null);
    return box;
  }

  /** @param {string} step */
  async tick(step) {
    this.ticked = [...this.ticked, step];
    await this.keep({ stepsDone: this.ticked });
    document.querySelector(".stop-now .roadside")?.replaceWith(...nodes([this.steps()]));
  }

  /** @param {AtStop} what */
  async keep(what) {
    const { app, draft, item } = this;
    if (draft) {
      this.draft = { ...draft, ...what };
      this.draft = await saveDraft(app, this.draft).catch(() => this.draft);
    } else await app.store.change("records", item?.id ?? "", (now) => now && { ...now, ...what }).catch(() => {});
  }

  // ---- what to tell whoever comes ----

  tellThem() {
    const text = () => this.card(this.place);
    const shown = h("pre", { class: "tell" }, text());
    const place = h("input", { "aria-label": say("app-stop-now-where"), placeholder: say("app-stop-now-where"),
      autocomplete: "off", value: this.place, onchange: () => this.keep({ stoppedAtPlace: this.place }),
      oninput: () => { this.place = place.value; shown.textContent = text(); } });
    const heard = h("p", { class: "hint", role: "status" });
    /** @param {string} id */
    const hear = (id) => { heard.textContent = say(id); };
    const unknown = () => { hear("app-stop-now-unlocated"); place.focus(); };
    const locate = () => (navigator.geolocation ? navigator.geolocation.getCurrentPosition(({ coords }) => {
      const typed = place.value.replace(POSITION, "").trim();
      const here = `${coords.latitude.toFixed(5)}, ${coords.longitude.toFixed(5)}`;
      place.value = this.place = [typed, here].filter(Boolean).join(", ");
      heard.textContent = "";
      shown.textContent = text();
      this.keep({ stoppedAtPlace: this.place });
    }, unknown, { enableHighAccuracy: true, timeout: 20_000 }) : unknown());
    const share = async () => {
      try {
        if (navigator.share) return await navigator.share({ text: text() });
        await navigator.clipboard.writeText(text());
        hear("app-stop-now-copied");
      } catch (error) { // who thought better of it is told nothing
        if (Object(error).name !== "AbortError") hear("app-stop-now-uncopied");
      }
    };
    return h("section", { class: "tell-them" }, h("h2", {}, say("app-stop-now-tell")), shown, place,
      h("div", { class: "row" }, button(say("app-stop-now-locate"), locate, "answer"),
        button(say("app-stop-now-share"), share, "answer")), heard, this.call());
  }

  /** @param {string | undefined} place */
  card(place) {
    const { trailer, book, check, app } = this, wanted = ["hub_size", "tire_size", "brakes", "axles",
      "bearing_numbers", "seal_numbers", "grease_kind"];
    const facts = { ...trailer?.facts, ...check.facts };
    const sizes = Object.keys(facts).filter((key) => wanted.includes(factOf(key)) && facts[key] !== null)
      .map((key) => [[say(`app-card-${factOf(key)}`), placeName(placeOf(key), this.axles)].filter(Boolean).join(", "),
        factOf(key) in book.data.facts ? answerText(book, key, facts[key], app.settings.units, check.typed?.[key])
          : facts[key]].join(": ")); // what only figures ask is known of a trailer too
    const made = this.draft?.started ?? this.item?.record.made;
    return [say("app-stop-now-card", { trailer: trailer?.name ?? say("app-stop-now-a-trailer") }),
      made ? timeText(made) : "",
      ...this.stops.map((one) => this.headline(one)),
      ...sizes, place ? say("app-stop-now-at", { place }) : ""].filter(Boolean).join("\n");
  }

  call() {
    const { app, draft, item } = this;
    const shop = shopFor(app, (draft ?? item)?.link, draft ? draft.trailer : item && trailerOf(item));
    if (shop?.phone) return call(shop.phone, shop.name);
    const own = app.settings.help_number;
    if (own) return call(own, "", "answer", say("app-stop-now-call-own"));
    return h("p", { class: "hint" }, say("app-stop-now-no-number"), " ",
      link(say("app-settings"), "#/settings", "plain"));
  }

  // ---- how it goes on ----

  after() {
    const { app, item } = this;
    return this.said ?? (item && howEnded(app, item, () => land("#/")));
  }

  foot() {
    const { app, draft, book } = this;
    if (!draft) return link(say("app-stop-verdict"), `#/check/${this.item?.id}`, "answer");
    return h("div", { class: "row" }, link(say("app-stop-now-go-on"), resumeHash(book, draft), "answer"),
      button(say("app-keep-and-send"), () => keepCheck(app, this.draft ?? draft), "answer main"));
  }
}
