// One question at a time, on a plan of the trailer. Every answer is on disk before the next question.

import { has, placeName, say } from "../data/words.js";
import { answered, axlesOf, choicesOf, factOf, isDone, judged, SHORT, steps } from "../data/asking.js";
import { freshStops } from "../data/stops.js";
import { Gone } from "../data/store.js";
import { announce } from "../dialog.js";
import { draftOf, saveDraft } from "../keep.js";
import { askHash, back, go, missing, redraw, resumeHash } from "../router.js";
import { h } from "../parts/h.js";
import { fewCounts, withUnit } from "../parts/numbers.js";
import { datePad, numberPad, sizePad, textPad } from "../parts/pad.js";
import { backButton, button, page, trouble } from "../parts/page.js";
import { plan } from "../parts/plan.js";
import { sign } from "../parts/sign.js";
import { cameraButton } from "./camera.js";

export async function ask(app, id, stepId, then) {
  const draft = await draftOf(app, id);
  if (!draft) return missing(say("app-check-gone"));
  // A change may reach a question about the trailer itself that a plain walk passes over.
  const view = then && !steps(app.book, draft).some((s) => s.id === stepId) ? { ...draft, known: [] } : draft;
  const list = steps(app.book, view), at = list.findIndex((step) => step.id === stepId);
  if (at < 0) return go(resumeHash(app.book, draft), { replace: true });
  return new Question(app, draft, list, at, then).page();
}

export class Question {
  constructor(app, draft, list, at, then) {
    Object.assign(this, { app, draft, list, at, then, step: list[at], book: app.book });
    this.problem = h("div", {});
  }

  page() {
    const { step, draft } = this, key = step.keys[0];
    const axles = axlesOf(draft), fact = `fact-${factOf(key)}`;
    const question = say(step.together ? `point-${step.point}` : fact);
    const checklist = step.together ? this.checklist() : null;
    const help = step.together ? say("app-tap-every") : has(`${fact}.help`) && say(`${fact}.help`);
    return page({
      name: `asking ${this.level() === "stop" ? "halt" : ""}`,
      title: question,
      back: backButton(() => this.back()),
      middle: this.sign(),
      end: button(say("app-put-down"), () => go("#/"), "plain"),
      body: [
        h("div", { class: "where" }, plan({ axles, at: step.place, station: step.station }),
          h("div", {}, h("p", { class: "count" }, say("app-count", { at: this.at + 1, all: this.list.length })),
            h("p", { class: "station" }, say(`station-${step.station}`)),
            h("p", { class: "place" }, this.placeText(axles))),
          this.camera()),
        help ? h("p", { class: "help" }, help) : null,
        this.problem,
        checklist?.rows,
      ],
      foot: checklist?.done ?? this.control(key),
    });
  }

  camera() {
    const { app, step, draft } = this, point = step.place ? `${step.point}@${step.place}` : step.point;
    if (["trailer", "figures"].includes(draft.check)) return null;
    return cameraButton(app, draft.id, point, () => this.putBy());
  }

  placeText(axles) {
    const { step } = this, point = say(`point-${step.point}`);
    return placeName(step.place, axles) || (point === say(`station-${step.station}`) ? "" : point);
  }

  /** Keep what is begun but not answered yet: the camera may make the phone reload the page. */
  async putBy() {
    const entry = document.querySelector(".asking .display");
    const begun = {
      step: this.step.id, ticks: this.state && [...this.state],
      text: entry?.value, unit: entry?.closest(".pad").dataset.unit,
    };
    this.draft = await saveDraft(this.app, { ...this.draft, begun });
  }

  get begun() { return this.draft.begun?.step === this.step.id ? this.draft.begun : {}; }

  sign() {
    const level = this.level();
    if (!level) return null;
    const label = say("app-so-far", { level: say(`level-${level}`) });
    const href = `#/${level === "stop" ? "now" : "sofar"}/${this.draft.id}`;
    return h("a", { href, class: "now", "aria-label": label }, sign(level));
  }

  level(draft = this.draft) {
    return draft.check === "trailer" ? null : judged(this.book, draft).level;
  }

  /** A level that has changed is said aloud, and a Stop now is felt. */
  tell(next) {
    const [before, after] = [this.level(), this.level(next)];
    if (before === after) return;
    announce(say(`level-${after}`));
    if (after === "stop") navigator.vibrate?.([200, 100, 200]);
  }

  control(key) {
    const fact = this.book.data.facts[factOf(key)];
    const shared = {
      book: this.book, fact, key, date: this.draft.date, system: this.app.settings.units,
      give: (answer) => this.give({ [key]: answer }),
      fail: (message) => this.fail(message),
      unsure: () => this.give({ [key]: { raw: null } }),
    };
    const skip = fact.optional || this.skippable ? button(say("app-skip"), () => this.give({ [key]: {} }),
      "plain skip") : null;
    const counts = fact.kind === "number" ? fewCounts(fact) : null;
    if (counts) return [skip, this.buttons(key, counts.map((n) => [n, String(n)]), shared.unsure)];
    if (fact.kind === "number") return [skip, numberPad({ ...shared, before: this.typedBefore(key),
      suggest: this.sameAs(key) })];
    const before = this.begun.text ?? this.draft.facts[key];
    if (fact.kind === "made") return [skip, datePad({ ...shared, before })];
    if (fact.kind === "text") return [skip, textPad({ ...shared, before })];
    if (fact.kind === "size") return [skip, sizePad({ ...shared, before, suggest: this.sameAs(key) })];
    const choices = choicesOf(this.book, this.draft, key).map((one) => [one, say(`fact-${factOf(key)}.choice-${one}`)]);
    return [skip, this.buttons(key, choices, shared.unsure)];
  }

  typedBefore(key) {
    if (this.begun.text !== undefined) return this.begun;
    const [text, unit] = this.draft.typed?.[key]?.split(" ") ?? [];
    return /^-?\d+(\.\d+)?$/.test(text ?? "") ? { text, unit } : null;
  }

  /** The last exact number given for the same question at another place. */
  sameAs(key) {
    const exact = (k) => ["number", "string"].includes(typeof this.draft.facts[k]);
    const others = Object.keys(this.draft.typed ?? {})
      .filter((k) => k !== key && factOf(k) === factOf(key) && exact(k));
    const last = others.at(-1);
    if (!last) return null;
    const [text, unit] = this.draft.typed[last].split(" ");
    return { text: withUnit(this.book, text, unit), raw: this.draft.facts[last], typed: this.draft.typed[last] };
  }

  /** One button per `[raw, text]`; many short ones stand two abreast. */
  buttons(key, list, unsure) {
    const now = this.draft.facts[key], pressed = (raw) => ({ "aria-pressed": String(now === raw) });
    const short = list.length > 3 && list.every(([, text]) => text.length < 30);
    const many = list.length > 8 && list.every(([, text]) => text.length < 10);
    const one = ([raw, text]) =>
      button(text, () => this.give({ [key]: { raw, typed: text } }), "answer", { ...pressed(raw), value: raw });
    return h("div", { class: `answers${many ? " many" : short ? " two" : ""}`, role: "group" }, list.map(one),
      button(say("app-not-sure"), unsure, `answer unsure${list.length % 2 ? "" : " wide"}`, pressed(null)));
  }

  checklist() {
    const { step, draft } = this, begun = new Map(this.begun.ticks);
    const state = this.state = new Map(step.keys.map((key) => [key, begun.has(key) ? begun.get(key)
      : draft.facts[key]]));
    const done = h("div", { class: "row" });
    const rows = step.keys.map((key) => this.tick(key, state, () => finish()));
    const all = (raw) => this.give(Object.fromEntries(step.keys.map((key) => [key, { raw }])));
    const ticked = (now) => now === "yes" || now === null;
    const rest = (raw) =>
      this.give(Object.fromEntries([...state].map(([key, now]) => [key, { raw: ticked(now) ? now : raw }])));
    const finish = () => {
      const marked = [...state.values()].some(ticked), none = say("app-none-of", { count: step.keys.length });
      done.replaceChildren(
        button(say(marked ? "app-rest-unsure" : "app-not-sure"), () => (marked ? rest(null) : all(null)),
          "answer unsure"),
        button(marked ? say("app-only-these") : none, () => (marked ? rest("no") : all("no")), "answer main"));
    };
    finish();
    return { rows: h("ul", { class: "ticks" }, rows), done };
  }

  tick(key, state, changed) {
    const set = (raw) => {
      state.set(key, state.get(key) === raw ? undefined : raw);
      yes.setAttribute("aria-pressed", state.get(key) === "yes");
      maybe.setAttribute("aria-pressed", state.get(key) === null);
      changed();
    };
    const text = say(`fact-${factOf(key)}`), label = say("app-not-sure-of", { names: text });
    const yes = button(text, () => set("yes"), "tick", { "aria-pressed": String(state.get(key) === "yes") });
    const maybe = button("?", () => set(null), "maybe",
      { "aria-pressed": String(state.get(key) === null), "aria-label": label });
    return h("li", {}, yes, maybe);
  }

  fail(message) {
    this.problem.replaceChildren(trouble(message));
  }

  async give(given) {
    const before = this.draft, next = answered(before, given);
    this.tell(next);
    this.draft = next;
    this.fresh = freshStops(this.book, before, next).length > 0;
    let stored;
    try {
      stored = await saveDraft(this.app, next);
    } catch (error) {
      if (error instanceof Gone) { this.fail(error.message); return; }
      // The answer stays in memory, so going on is possible; the person decides.
      this.problem.replaceChildren(trouble(error.message,
        button(say("app-go-on-unsaved"), () => this.forward(next), "plain")));
      return;
    }
    this.forward(stored);
  }

  forward(next) {
    const { book, then, step } = this;
    if (this.fresh) return go(`#/now/${next.id}`);
    const view = then && !steps(book, next).some((s) => s.id === step.id) ? { ...next, known: [] } : next;
    const list = steps(book, view), at = list.findIndex((s) => s.id === step.id);
    const more = at >= 0 && !isDone(next, list[at]);
    if (more) return redraw();
    if (then) return back(`#/${then}/${next.id}`);
    const following = list[at + 1];
    if (next.byPlace && following?.station !== "about") return go(`#/walk/${next.id}`);
    if (following) return go(askHash(next, following));
    // A short check goes straight to its verdict when nothing is left open.
    const open = list.some((s) => !isDone(next, s));
    return go(SHORT.includes(next.check) && !open ? `#/sofar/${next.id}` : `#/answers/${next.id}`);
  }

  back() {
    const before = this.list[this.at - 1];
    if (this.then) return back(`#/${this.then}/${this.draft.id}`);
    return back(before ? askHash(this.draft, before) : "#/");
  }
}

