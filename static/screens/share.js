// A kept verdict to pass on: as text, as a picture, on paper. All of it is made on the phone.

import { axlesOf, countsOf, factOf, placeOf } from "../data/asking.js";
import { bookOf } from "../data/judged_by.js";
import { recordsOf, trailerBy, trailerOf } from "../data/queries.js";
import { undecided } from "../data/stops.js";
import { byStation, leftOut } from "../data/walking.js";
import { placeName, say } from "../data/words.js";
import { inform } from "../dialog.js";
import { linkFor, shopFor } from "../keep.js";
import { answerText } from "../parts/answer.js";
import { foundLine, toDo } from "../parts/findings.js";
import { button, timeText } from "../parts/page.js";
import { shape } from "../parts/sign.js";
import { h, svg } from "../parts/h.js";
import { redraw } from "../router.js";
import { taken } from "./mended.js";
import { howEnded } from "./stop_now.js";

const WIDTH = 1080, SIDE = 60, LINE = 52;

/** What a kept *Mend* or held wheel asks until somebody has said how it ended, and the way to take that back. */
/** @param {App} app @param {KeptCheck} item */
export async function ending(app, item) {
  const { readable } = await recordsOf(app.store);
  const open = undecided(readable, app.book).some(({ id }) => id === item.id);
  if (!open) return taken(app, readable, ({ id }) => id === item.id);
  return item.record.body.verdict.level !== "stop" ? howEnded(app, item, redraw) : null;
}

/** To send a kept check on as text or as a picture, or to print it; none of it needs signal. */
/** @param {App} app @param {KeptCheck} item */
export function passOn(app, item) {
  /** @param {string} how */
  const one = (how) => button(say(`app-share-${how}`), () => share(app, item, how), "answer");
  return h("section", {}, h("h2", {}, say("app-share")),
    h("div", { class: "row" }, one("text"), one("picture"), one("print")));
}

/** Why a shop does not get a check of the trailer that its link was for; null where none had a link, or it works. */
/** @param {App} app @param {string | null} trailer */
export function cutOff(app, trailer) {
  const shop = linkFor(app, trailer) ? null : shopFor(app, undefined, trailer);
  return shop ? `${say("app-link-ended", { shop: shop.name })}.` : null;
}

/** Pass a kept check on as `text`, `picture` or `print`. */
/** @param {App} app @param {KeptCheck} item @param {string} how */
async function share(app, item, how) {
  if (how === "print") { print(); return; }
  const lines = await linesOf(app, item);
  const text = lines.join("\n");
  if (how === "text") await give({ text }, async () => navigator.clipboard.writeText(text));
  else await picture(app, item, lines);
}

/** What the verdict says, a line a thing: the level, what was found and what to do, the counts, what was left out. */
/** @param {App} app @param {KeptCheck} item */
async function linesOf(app, item) {
  const { record } = item, { body } = record, book = (await bookOf(app, item)) ?? app.book, axles = axlesOf(body);
  const trailer = await trailerBy(app, trailerOf(item), item.link);
  const found = body.verdict.findings.map((one) =>
    `${foundLine(book, one, axles)} ${toDo(book, one, body.verdict)}`);
  const counts = Object.entries(countsOf(book, body)).filter(([, count]) => count)
    .map(([kind, count]) => say(`app-verdict-${kind}`, { count })).join(", ");
  const left = byStation(book, leftOut(book, body.verdict, []).whole.flatMap(([, points]) => points));
  return [[book.words.say(`level-${body.verdict.level}`), trailer?.name].filter(Boolean).join(": "),
    [say(`check-${body.check}`), timeText(record.made)].join(", "), ...new Set(found), counts,
    left.length ? `${say("app-verdict-left")}: ${left.join("; ")}` : ""].filter(Boolean);
}

/** By the phone's own way to share, or else by `otherwise`, which is told. */
/** @param {ShareData} data @param {() => unknown} otherwise */
async function give(data, otherwise) {
  try {
    if (navigator.share && (!data.files || navigator.canShare?.(data))) { await navigator.share(data); return; }
  } catch (error) {
    if (Object(error).name === "AbortError") return; // the person thought better of it
  }
  const told = await Promise.resolve(otherwise()).then(() => (data.files ? "filed" : "copied"), () => "by-hand");
  inform(say(`app-share-${told}`), told === "by-hand" ? data.text : "");
}

/** @param {App} app @param {KeptCheck} of1 @param {string[]} lines */
async function picture(app, { record }, lines) {
  const image = await drawn(record.body.verdict.level, lines);
  const file = new File([image], `${record.body.date}.png`, { type: "image/png" });
  await give({ files: [file] }, () => {
    const at = URL.createObjectURL(file), link = Object.assign(document.createElement("a"), { href: at,
      download: file.name });
    link.click();
    setTimeout(() => URL.revokeObjectURL(at), 60_000);
  });
}

/** The lines under the level's sign, black on white, as a PNG. */
/** @param {Level} level @param {string[]} lines @returns {Promise<Blob>} */
async function drawn(level, lines) {
  const canvas = document.createElement("canvas");
  const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  pen.font = "36px system-ui, sans-serif";
  const rows = lines.slice(1).flatMap((line) => [...wrapped(pen, line), ""]);
  Object.assign(canvas, { width: WIDTH, height: 260 + rows.length * LINE });
  Object.assign(pen, { fillStyle: "#fff" });
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(await signImage(level), SIDE, 40, 150, 150);
  Object.assign(pen, { fillStyle: "#000", font: "bold 52px system-ui, sans-serif" });
  pen.fillText(lines[0], SIDE + 180, 135, WIDTH - 2 * SIDE - 180);
  pen.font = "36px system-ui, sans-serif";
  rows.forEach((row, n) => pen.fillText(row, SIDE, 260 + n * LINE));
  return new Promise((done) => { canvas.toBlob((blob) => done(/** @type {Blob} */ (blob)), "image/png"); });
}

/** @param {CanvasRenderingContext2D} pen @param {string} line */
function wrapped(pen, line) {
  const rows = [""];
  for (const word of line.split(" ")) {
    const longer = [rows.at(-1), word].filter(Boolean).join(" ");
    if (pen.measureText(longer).width > WIDTH - 2 * SIDE) rows.push(word);
    else rows[rows.length - 1] = longer;
  }
  return rows;
}

/** The sign as an image that a canvas can draw. */
/** @param {Level} level */
async function signImage(level) {
  const ink = getComputedStyle(document.documentElement).getPropertyValue(`--${level}`).trim();
  const paint = { fill: ink || "#fff", stroke: "#000", "stroke-width": 2 };
  const group = shape(level), mark = /** @type {SVGTextElement} */ (group.querySelector("text"));
  for (const [name, value] of Object.entries(paint)) group.setAttribute(name, String(value));
  const size = level === "stop" ? 13.5 : 28, letters = ["mend", "unchecked"].includes(level) ? "#000" : "#fff";
  Object.assign(mark.style, { font: `700 ${size}px sans-serif`, stroke: "none", fill: letters });
  const box = svg("svg", { xmlns: "http://www.w3.org/2000/svg", viewBox: "0 0 48 48", width: 150, height: 150 }, group);
  const image = new Image(), text = new XMLSerializer().serializeToString(box);
  image.src = URL.createObjectURL(new Blob([text], { type: "image/svg+xml" }));
  await image.decode();
  return image;
}

/** Every answer of a kept check, folded away. */
/** @param {App} app @param {OpenBook} book @param {CheckBody} body */
export function answerList(app, book, body) {
  const axles = axlesOf(body);
  return h("details", {}, h("summary", {}, say("app-the-answers")), h("dl", { class: "given" },
    Object.entries(body.facts).map(([key, raw]) => h("div", {},
      h("dt", {}, book.words.say(`fact-${factOf(key)}`), " ",
        h("span", { class: "place" }, placeName(placeOf(key), axles))),
      h("dd", {}, answerText(book, key, raw, app.settings.units, body.typed?.[key]))))));
}

