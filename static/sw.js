// The worker that lets the app start without signal.
//
// Strategy: every file of one release is put in one cache when the worker installs; if a single one
// is missing or of another release the install fails, and the old release, or the network, goes on until
// the next start tries anew. Pages get files from that cache first.
// A new release waits until the page says that the person agreed. What a first visit can do without
// is fetched right after it, proven by hashes, so that a release is never mixed, and its scripts as one
// file, which weighs less; the page calls itself ready without signal only then. A later
// release installs with everything at once.
//
// Rejected: taking over at once (an open page would lose the files it was built with in the middle
// of a check); fetching first (a weak signal keeps a person waiting at the roadside); caching
// whatever goes by (a page of an error or of another release could stay for good).
//
// What can go wrong: the browser clears the cache when the phone runs short of room, then the next
// start needs the network; a server that keeps sending an old sw.js keeps the old release; two
// windows share one worker, so an update reloads only the window that asked for it.

const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
const PREFIX = "twentymile-";
const NAME = PREFIX + worker.SHELL.version;
const REST = worker.SHELL.rest; // address: the first digits of its SHA-256
const TOGETHER = worker.SHELL.together; // where a file stands that brings others, its hash, and which they are
const HELD = new Set([...worker.SHELL.files, ...Object.keys(REST), ...TOGETHER.files]);
const ASKED = worker.SHELL.asked; // the same, of what is fetched when it is first asked for

worker.addEventListener("install", (event) => {
  event.waitUntil(worker.registration.active ? first().then(complete).then(renew) : first());
});

/** Fetch what a start takes. All of it is proven by one hash: one for each would weigh as much as a script. */
async function first() {
  const got = await Promise.all(worker.SHELL.files.map(fresh));
  const lines = await Promise.all(got.map(async ({ address, response }) =>
    `${address} ${await hashOf(await response.clone().arrayBuffer())}\n`));
  // A browser takes no page that it was led to from another address.
  const whole = got.every(({ response }) => response.ok && !response.redirected);
  if (!whole || (await hashOf(new TextEncoder().encode(lines.join("")))) !== worker.SHELL.proof)
    throw new Error("a file is not of this release");
  const cache = await caches.open(NAME);
  await Promise.all(got.map(({ address, response }) => cache.put(address, response)));
}

// "no-cache" asks whether the browser's own copy is of this release: the page has just fetched most.
/** @param {string} address */
const fresh = async (address) => ({ address, response: await fetch(new Request(address, { cache: "no-cache" })) });

/** @param {BufferSource} bytes */
async function hashOf(bytes) {
  const found = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(found, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** What the last release was asked for is fetched again, or the old release goes on. */
async function renew() {
  const all = Object.keys(ASKED), held = await Promise.all(all.map((address) => caches.match(address)));
  if (held.some(Boolean)) await Promise.all(all.map(asked));
}

/** Fetched once, then kept. Throws like `proven`. */
/** @param {string} address */
async function asked(address) {
  const cache = await caches.open(NAME), held = await cache.match(address);
  if (held) return held;
  const response = await proven(address, ASKED[address]);
  await cache.put(address, response.clone());
  return response;
}

/** A file by its address. Throws TypeError without signal, Error when it is of another release. */
/** @param {string} address @param {string} hash */
async function proven(address, hash) {
  const { response } = await fresh(address);
  const found = await hashOf(await response.clone().arrayBuffer());
  if (!response.ok || !found.startsWith(hash)) throw new Error(`${address} is not of this release`);
  return response;
}

/** Fetch what is still missing. Throws when a file cannot be had, or is of another release. */
async function complete() {
  const cache = await caches.open(NAME);
  for (const [address, hash] of Object.entries(REST)) {
    if (await cache.match(address)) continue;
    await cache.put(address, await proven(address, hash));
  }
  if (!await cache.match(TOGETHER.files[TOGETHER.files.length - 1])) await takeApart(cache);
}

/** Scripts one after the other, behind a line of JSON: the bytes of each, in the order of their list. */
/** @param {Cache} cache */
async function takeApart(cache) {
  const joined = new Uint8Array(await (await proven(TOGETHER.address, TOGETHER.hash)).arrayBuffer());
  const line = joined.indexOf("\n".charCodeAt(0));
  /** @type {number[]} */
  const sizes = JSON.parse(new TextDecoder().decode(joined.subarray(0, line)));
  const headers = { "Content-Type": "text/javascript" };
  let at = line + 1;
  for (const [n, bytes] of sizes.entries()) {
    await cache.put(TOGETHER.files[n], new Response(joined.subarray(at, at += bytes), { headers }));
  }
}

worker.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    const names = await caches.keys();
    await Promise.all(names.filter((name) => name.startsWith(PREFIX) && name !== NAME)
      .map((name) => caches.delete(name)));
    await worker.clients.claim();
  })());
});

worker.addEventListener("message", (event) => {
  if (event.data === "update") worker.skipWaiting();
  // Without signal it fails, and the page asks again when there is some.
  if (event.data === "asked") event.waitUntil(Promise.all(Object.keys(ASKED).map(asked)).catch(() => {}));
  if (event.data === "complete") event.waitUntil(complete().then(() => event.source?.postMessage("ready"), () => {}));
});

worker.addEventListener("fetch", (event) => {
  const { request } = event, address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== location.origin) return;
  const path = request.mode === "navigate" && address.pathname === "/" ? "/" : address.pathname;
  if (HELD.has(path)) event.respondWith(fromCache(path, request));
  // 409: there is signal, but the server has gone on to another release.
  if (path in ASKED) event.respondWith(asked(path).catch((error) => (error instanceof TypeError ? Response.error()
    : new Response(null, { status: 409 }))));
});

/** @param {string} path @param {Request} request */
async function fromCache(path, request) {
  const cache = await caches.open(NAME);
  return (await cache.match(path)) ?? fetch(request);
}
