// Every answer of a check in one list, with a way to change each, and what is still open marked.

import { placeName } from "../data/words.js";
import { axlesOf, factOf, placeOf, steps } from "../data/asking.js";
import { photosOf } from "../data/queries.js";
import { sure } from "../dialog.js";
import { draftOf, keepTrailer } from "../keep.js";
import { askHash, back, go, missing } from "../router.js";
import { h } from "../parts/h.js";
import { backButton, button, link, page } from "../parts/page.js";
import { answerText } from "../parts/answer.js";
import { photoSection } from "./camera.js";

export async function answersScreen(app, id) {
  const draft = await draftOf(app, id);
  if (!draft) return missing("This check is not on this phone any more.");
  const { book } = app, list = steps(book, draft);
  const open = list.filter((step) => step.keys.some((key) => !(key in draft.facts) && !draft.skipped?.includes(key)));
  const aside = Object.keys(draft.aside ?? {}).length;
  const known = (draft.known ?? []).filter((key) => key in draft.facts);
  return page({
    title: "Check your answers",
    back: backButton(() => back(list.length ? askHash(draft, open[0] ?? list.at(-1)) : "#/")),
    end: button("Put it down", () => go("#/"), "plain"),
    body: [
      open.length ? h("p", { class: "note" }, `${open.length} not answered yet. You can still go on: what is open is never counted as good.`) : null,
      aside ? h("p", { class: "note" }, `The rules were updated since you began. Answers that no longer fit are laid aside and not counted: ${aside}.`) : null,
      groups(app, draft, list),
      known.length ? h("details", {}, h("summary", {}, `Known about the trailer: ${known.length}`), h("dl", { class: "given" }, known.map((key) => row(app, draft, key, { id: key, place: placeOf(key) })))) : null,
      draft.check === "trailer" ? null : await photoSection(app, draft.id, axlesOf(draft)),
      button("Throw this check away", () => throwAway(app, draft), "plain danger"),
    ],
    foot: draft.check === "trailer"
      ? button("Save trailer", () => keepTrailer(app, draft), "answer main")
      : link("See the verdict", `#/sofar/${draft.id}`, "answer main"),
  });
}

function groups(app, draft, list) {
  const found = new Map();
  for (const step of list) {
    const title = placeName(step.place, axlesOf(draft));
    const name = [app.book.words.station[step.station], title].filter(Boolean).join(": ");
    if (!found.has(name)) found.set(name, []);
    found.get(name).push(...step.keys.map((key) => [key, step]));
  }
  return [...found].map(([name, pairs]) => h("section", {}, h("h2", {}, name),
    h("dl", { class: "given" }, [...new Set(pairs.map(([, step]) => step))].map((step) =>
      step.together ? checklistRow(app, draft, step) : row(app, draft, step.keys[0], step)))));
}

/** A question and its answer, with the way to change it. */
function row(app, draft, key, step) {
  const text = answerText(app.book, key, draft.facts[key], app.settings.units, draft.typed?.[key]);
  return line(draft, step, app.book.words.fact[factOf(key)].ask, text ?? (draft.skipped?.includes(key) ? "Skipped" : null));
}

function checklistRow(app, draft, step) {
  const { words } = app.book, names = (raw) => step.keys.filter((key) => draft.facts[key] === raw).map((key) => words.fact[factOf(key)].ask);
  const [yes, unsure, open] = [names("yes"), names(null), names(undefined)];
  const parts = [yes.join(", "), unsure.length ? `Not sure: ${unsure.join(", ")}` : ""].filter(Boolean);
  return line(draft, step, words.point[step.point], open.length ? null : parts.join(". ") || "None of these");
}

function line(draft, step, name, text) {
  const where = placeName(step.place, axlesOf(draft));
  return h("div", { class: text ? "" : "open" }, h("dt", {}, name), h("dd", {}, text ?? "Not answered yet"),
    h("dd", {}, h("a", { href: askHash(draft, step, "answers"), class: "change", "aria-label": `Change: ${name} ${where}` }, text ? "Change" : "Answer")));
}

async function throwAway(app, draft) {
  if (!(await sure("Throw this check away? Its answers go for good.", "Throw away"))) return;
  const photos = (await photosOf(app.store, draft.id)).flatMap(({ id }) => [["photos", null, id], ["pictures", null, id]]);
  await app.store.commit([["drafts", null, draft.id], ...photos]);
  go("#/");
}
