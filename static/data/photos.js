// Photos: made small and upright, kept as bytes. Nothing of what a camera writes beside the picture
// (place, time, its own number) is kept: only pixels pass through the canvas.

import { localTime, sha256, uuid7 } from "./records.js";
import { say } from "./words.js";

export const EDGE = 1600, BYTES = 250_000;
const QUALITIES = [0.75, 0.65, 0.55, 0.45]; // stepped down until the file is small enough
const SMALLER = 0.75; // then the picture itself

/** A picture file as `{data, type, width, height}`: upright, small. Throws with a message. */
/** @type {(file: Blob) => Promise<Pixels>} */
export async function shrink(file) {
  let image;
  try {
    image = await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch {
    throw new Error(say("app-photo-unreadable"));
  }
  let edge = EDGE, best;
  do {
    best = await encoded(image, edge);
    edge *= SMALLER;
  } while (best.blob.size > BYTES);
  image.close();
  return { data: await best.blob.arrayBuffer(), type: "image/jpeg", width: best.width, height: best.height };
}

/** @type {(image: ImageBitmap, edge: number) => Promise<Shrunk>} */
async function encoded(image, edge) {
  const scale = Math.min(1, edge / Math.max(image.width, image.height));
  const [width, height] = [image.width, image.height].map((side) => Math.max(1, Math.round(side * scale)));
  const canvas = new OffscreenCanvas(width, height), pen = canvas.getContext("2d", { alpha: false });
  if (!pen) throw new Error(say("app-photo-unreadable"));
  Object.assign(pen, { fillStyle: "#fff", imageSmoothingQuality: "medium" });
  pen.fillRect(0, 0, width, height);
  pen.drawImage(image, 0, 0, width, height);
  const [first, ...lower] = QUALITIES;
  let blob = await canvas.convertToBlob({ type: "image/jpeg", quality: first });
  for (const quality of lower) {
    if (blob.size <= BYTES) break;
    blob = await canvas.convertToBlob({ type: "image/jpeg", quality });
  }
  return { blob, width, height };
}

/** Keep a photo with its check, a draft or one that is kept already; then it waits to be sent, too. */
/** @type {(app: Keeper, at: { check: string, point: string }, photo: Pixels) => Promise<void>} */
export async function keepPhoto(app, { check, point }, { data, type, width, height }) {
  const hash = await sha256(new Uint8Array(data)), id = uuid7();
  const record = (await app.store.all("records")).find((item) => checkOf(item) === check);
  /** @type {Change[]} */
  const changes = [
    ["pictures", { id, data, type }],
    ["photos", { id, check, point, type, width, height, length: data.byteLength, hash, made: localTime() }],
  ];
  if (record) changes.push(["outbox", { id, check: record.id, message: "" }]);
  await app.store.commit(changes);
  await app.sender.report();
  if (record) app.sender.send();
}

/** What photos of a kept check are filed under: the number of the draft it came from. */
/** @type {(item: KeptRecord) => string} */
const checkOf = (item) => item.draft ?? item.id;
