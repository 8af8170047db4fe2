// What was found, worst first; and what cannot be told yet.

import { placeName, say, titleOf } from "../data/words.js";
import { factOf } from "../data/asking.js";
import { firstToDo } from "../data/stops.js";
import { h, nodes } from "./h.js";
import { badge, sign } from "./sign.js";
import { STAND_INS, raises } from "../engine/judge.js";

/** The doubts for which a point is *Look again*: they stand on the card that stands for them. */
/** @param {OpenBook} book @param {Doubt[]} entries @param {string} name @param {string[]} places */
function raising(book, entries, name, places) {
  const alarm = STAND_INS.indexOf(name) > 1;
  return entries.filter((one) => places.includes(one.place)
    && (alarm ? one.why === "open" : one.why === "vague" && raises(one, book.data)));
}

/** @param {OpenBook} book @param {Doubt[]} entries @param {number} axles @param {boolean} [usual] */
function doubtList(book, entries, axles, usual) {
  const list = byFinding(worstDoubts(book, entries));
  return h("ul", { class: "plainlist" }, list.map((entry) => unsettledItem(book, entry, axles, usual)));
}

/** A finding in one line, wheel first, in the words it was kept with. */
/** @param {OpenBook} book @param {Pick<Found, "finding" | "place">} of1 @param {number} axles */
export function foundLine(book, { finding, place }, axles) {
  const where = placeName(place, axles), title = titleOf({ finding, place }, book.words);
  return where ? say("app-stop-now-headline", { where, title }) : `${title}.`;
}

/** What to do about a finding: beside what keeps the trailer where it is, a milder one that sends on comes after. */
/**
 * @param {OpenBook} book @param {Pick<Found, "finding" | "level">} of1
 * @param {Pick<Verdict, "findings"> & { level?: Level }} verdict
 */
export function toDo(book, { finding, level: of }, verdict) {
  const text = book.words.say(`finding-${finding}.do`), sends = of === "look" && book.data.findings[finding]?.sends_on;
  return sends && firstToDo(book, verdict) ? say("app-found-then", { do: text }) : text;
}

/** One entry a finding, with all the places it holds at. */
/** @param {(Found & Partial<Doubt>)[]} entries */
function byFinding(entries) {
  const found = new Map();
  for (const entry of entries) {
    const known = found.get(entry.finding) ?? { ...entry, places: [], facts: [] };
    if (!known.places.includes(entry.place)) known.places.push(entry.place);
    known.facts.push(...(entry.facts ?? []));
    found.set(entry.finding, known);
  }
  return [...found.values()];
}

/** @param {string[]} places @param {number} axles */
const placesText = (places, axles) => places.map((p) => placeName(p, axles)).filter(Boolean).join("; ");

/** @param {OpenBook} book @param {Judged} check @param {number} axles @param {System} system */
export function findings(book, check, axles, system) {
  const list = byFinding(check.verdict.findings);
  if (!list.length) return null;
  return h("section", {}, h("h2", {}, say("app-found")), list.map((entry) => card(book, check, entry, axles, system)));
}

/**
 * @param {OpenBook} book @param {Judged} check @param {Gathered} entry @param {number} axles @param {System} system
 */
function card(book, check, entry, axles, system) {
  const places = placesText(entry.places, axles);
  const why = `finding-${entry.finding}.why`;
  return h("article", { class: `card ${entry.level}` },
    h("div", {}, sign(entry.level, { words: book.words })),
    h("h3", {}, titleOf(entry, book.words)), places ? h("p", { class: "place" }, places) : null,
    h("p", { class: "do" }, toDo(book, entry, check.verdict)),
    book.words.has(why) ? h("p", {}, book.words.say(why)) : null,
    STAND_INS.includes(entry.finding)
      ? doubtList(book, raising(book, check.verdict.cannot_tell, entry.finding, entry.places), axles) : null,
    explained(book, check, entry.finding), reasons(book, check, entry, axles, system));
}

/** Ways to the drawings of the parts a finding speaks of, once they are here. */
/** @param {OpenBook} book @param {Judged} check @param {string} finding */
function explained(book, { facts }, finding) {
  const box = h("div", {}), { when } = book.data.findings[finding];
  import("./drawings/shown.js").then(({ drawingsOf, factsIn }) => box.append(drawingsOf(factsIn(when), facts)))
    .catch(() => {}); // a verdict stands without them
  return box;
}

// Worked out when it is opened: what that takes comes later than a first visit.
/**
 * @param {OpenBook} book @param {Judged} check @param {Gathered} entry @param {number} axles @param {System} system
 */
function reasons(book, check, entry, axles, system) {
  const finding = book.data.findings[entry.finding], inside = h("div", {});
  const fill = async () => {
    if (inside.firstChild) return;
    const part = await import("./working.js").catch(() => null);
    const shown = part ? [
      part.decision(book, check, entry.finding, entry.places[0], system),
      ...(finding.shows ?? []).flatMap((name) => entry.places
        .map((place) => part.working(book, check, name, place, axles, system))),
    ] : [];
    inside.replaceChildren(...nodes([shown, h("p", {}, part?.sourceOf(finding, book.words))]));
  };
  return h("details", { ontoggle: fill }, h("summary", {}, say("app-working-and-source")), inside);
}

/**
 * @param {OpenBook} book @param {Pick<Verdict, "cannot_tell" | "findings"> & { level?: Level }} verdict
 * @param {number} axles
 */
export function unsettled(book, verdict, axles) {
  const onCard = new Set(verdict.findings.filter(({ finding }) => STAND_INS.includes(finding))
    .flatMap(({ finding, place }) => raising(book, verdict.cannot_tell, finding, [place])));
  /** @param {Doubt["why"]} why */
  const group = (why) => {
    const entries = verdict.cannot_tell.filter((entry) => entry.why === why && !onCard.has(entry));
    if (!entries.length) return null;
    const { length } = byFinding(worstDoubts(book, entries));
    // a doubt beside "nothing found" is not folded away, and is no warning
    const usual = why === "vague" && verdict.level === "nothing";
    return h("details", { open: usual }, h("summary", {}, say(usual ? "app-usual" : `app-${why}`, { count: length })),
      h("p", { class: "hint" }, say(`app-${why}.help`)),
      doubtList(book, entries, axles, usual));
  };
  const parts = [
    group("open"),
    group("vague"),
  ].filter(Boolean);
  return parts.length ? h("section", {}, h("h2", {}, say("app-cannot-tell")), parts) : null;
}

/** Without the doubts that a worse one at the same place says already. */
/** @param {OpenBook} book @param {Doubt[]} entries */
function worstDoubts(book, entries) {
  const at = new Set(entries.map(({ finding, place }) => `${finding}@${place}`));
  /** @param {string} finding */
  const above = (finding) => book.data.findings[finding]?.beneath;
  return entries.filter(({ finding, place }) => {
    let worse = above(finding);
    while (worse && !at.has(`${worse}@${place}`)) worse = above(worse);
    return !worse;
  });
}

/** A doubt in its own words, "could be ...", where it has them. */
/** @param {Words} words @param {Pick<Gathered, "finding" | "why">} of1 */
function doubtOf(words, { finding, why }) {
  const doubt = `finding-${finding}.doubt`;
  if (why === "vague" && words.has(doubt)) return words.say(doubt);
  return say(why === "vague" ? "app-doubt" : "app-doubt-open", { what: words.say(`finding-${finding}`) });
}

/** @param {OpenBook} book @param {Gathered} entry @param {number} axles @param {boolean} [usual] without a level */
function unsettledItem(book, entry, axles, usual) {
  const asks = [...new Set(entry.facts.map(factOf))].map((fact) => book.words.say(`fact-${fact}`));
  const where = placesText(entry.places, axles);
  return h("li", { class: "maybe" },
    usual ? null : badge(entry.level), h("div", {}, h(usual ? "span" : "strong", {}, doubtOf(book.words, entry)), where
      ? h("p", { class: "place" }, where) : null,
      asks.length ? h("p", {}, say("app-would-settle", { questions: asks.join(" · ") })) : null));
}
