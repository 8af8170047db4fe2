// The worker that lets the app start without signal.
//
// Strategy: every file of one release is put in one cache when the worker installs; if a single one
// is missing the install fails and the old release goes on. Pages get files from that cache first.
// A new release waits until the page says that the person agreed.
//
// Rejected: taking over at once (an open page would lose the files it was built with in the middle
// of a check); fetching first (a weak signal keeps a person waiting at the roadside); caching
// whatever goes by (a page of an error or of another release could stay for good).
//
// What can go wrong: the browser clears the cache when the phone runs short of room, then the next
// start needs the network; a server that keeps sending an old sw.js keeps the old release; two
// windows share one worker, so an update reloads only the window that asked for it.

const PREFIX = "twentymile-";
const NAME = PREFIX + self.SHELL.version;
const FILES = new Set(self.SHELL.files);

self.addEventListener("install", (event) => {
  // "reload" goes past the browser's own cache, which may hold a file of the last release.
  const fresh = [...FILES].map((file) => new Request(file, { cache: "reload" }));
  event.waitUntil(caches.open(NAME).then((cache) => cache.addAll(fresh)));
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    const names = await caches.keys();
    await Promise.all(names.filter((name) => name.startsWith(PREFIX) && name !== NAME).map((name) => caches.delete(name)));
    await self.clients.claim();
  })());
});

self.addEventListener("message", (event) => {
  if (event.data === "update") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const { request } = event, address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== location.origin) return;
  const path = request.mode === "navigate" && address.pathname === "/" ? "/" : address.pathname;
  if (FILES.has(path)) event.respondWith(fromCache(path, request));
});

async function fromCache(path, request) {
  const cache = await caches.open(NAME);
  return (await cache.match(path)) ?? fetch(request);
}
