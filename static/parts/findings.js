// What was found, worst first, with its cautions; and what cannot be told yet.

import { placeName } from "../data/words.js";
import { factOf } from "../data/asking.js";
import { h, svg } from "./h.js";
import { shape, sign } from "./sign.js";
import { working } from "./working.js";

export function cautions(book, verdict) {
  const ids = [...new Set(verdict.findings.flatMap((f) => book.data.findings[f.finding].cautions ?? []))];
  if (!ids.length) return null;
  return h("section", { class: "cautions" }, h("h2", {}, "Mind yourself first"), h("ul", {}, ids.map((id) => h("li", {}, book.words.caution[id]))));
}

/** One entry a finding, with all the places it holds at. */
function byFinding(entries) {
  const found = new Map();
  for (const entry of entries) {
    const known = found.get(entry.finding) ?? { ...entry, places: [], facts: [] };
    known.places.push(entry.place);
    known.facts.push(...(entry.facts ?? []));
    found.set(entry.finding, known);
  }
  return [...found.values()];
}

const placesText = (places, axles) => places.map((p) => placeName(p, axles)).filter(Boolean).join("; ");

export function findings(book, check, axles, system) {
  const list = byFinding(check.verdict.findings);
  if (!list.length) return null;
  return h("section", {}, h("h2", {}, "Found"), list.map((entry) => card(book, check, entry, axles, system)));
}

function card(book, check, entry, axles, system) {
  const words = book.words.finding[entry.finding], finding = book.data.findings[entry.finding];
  const places = placesText(entry.places, axles);
  return h("article", { class: `card ${entry.level}` },
    h("div", { class: "cardhead" }, sign(entry.level, book.words)),
    h("h3", {}, words.title), places ? h("p", { class: "place" }, places) : null,
    h("p", { class: "do" }, words.do),
    h("p", {}, words.why),
    h("details", {}, h("summary", {}, "Working and source"),
      (finding.shows ?? []).flatMap((name) => entry.places.map((place) => working(book, check, name, place, axles, system))),
      h("p", {}, sourceText(book, finding))));
}

function sourceText(book, { source, standing }) {
  const word = book.words.standing[standing];
  return source.toLowerCase() === word ? `${source}.` : `Source: ${source} (${word}).`;
}

export function unsettled(book, verdict, axles) {
  const group = (why, title, text) => {
    const list = byFinding(verdict.cannot_tell.filter((entry) => entry.why === why));
    if (!list.length) return null;
    return h("details", {}, h("summary", {}, `${title}: ${list.length}`), h("p", { class: "hint" }, text),
      h("ul", { class: "plainlist" }, list.map((entry) => unsettledItem(book, entry, axles))));
  };
  const parts = [
    group("open", "Not answered", "A question is open. These could still be true."),
    group("vague", "Too rough to say", "All is answered, but not closely enough to tell. A closer reading would settle it."),
  ].filter(Boolean);
  return parts.length ? h("section", {}, h("h2", {}, "Can’t tell yet"), parts) : null;
}

function unsettledItem(book, entry, axles) {
  const asks = [...new Set(entry.facts.map(factOf))].map((fact) => book.words.fact[fact].ask);
  const where = placesText(entry.places, axles);
  return h("li", { class: "maybe" },
    svg("svg", { viewBox: "0 0 48 48", role: "img", "aria-label": book.words.level[entry.level].word }, shape(entry.level)),
    h("div", {}, h("strong", {}, book.words.finding[entry.finding].title), where ? h("p", { class: "place" }, where) : null,
      asks.length ? h("p", {}, `Would settle it: ${asks.join(" · ")}`) : null));
}
