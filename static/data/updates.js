// The app's own files: whether all are here, and newer ones waiting.

import { LANGUAGE } from "./words.js";

const OPEN = "twentymile-check-open";

/** Which language the server is to answer in, and the worker that keeps the app in it. */
/** @param {string} language */
export function setLanguage(language) {
  document.cookie = `language=${language};path=/;max-age=31536000;samesite=lax`;
  return navigator.serviceWorker?.register(`/sw.js?language=${language}`, { updateViaCache: "none" });
}

/** A new worker waits until no page has a check open and the person says so. */
export class Updates {
  /** @type {ServiceWorker | null} */
  waiting = null;
  ready = false;
  /** @type {(() => void) | null} */
  #release = null;

  /** @param {() => void} changed */
  constructor(changed) { this.changed = changed; }

  /** `again`: not the first start, so the figures may come too. */
  /** @param {boolean | undefined} again */
  async start(again) {
    // Anew at each start: some browsers forget after a week what a script has set.
    const registration = await setLanguage(LANGUAGE);
    if (!registration) return;
    // Ready is said only once the worker also holds what a first visit does not fetch.
    navigator.serviceWorker.addEventListener("message",
      ({ data }) => { if (data === "ready") { this.ready = true; this.changed(); } });
    const complete = async () => {
      const { active } = await navigator.serviceWorker.ready;
      active?.postMessage("complete");
      if (again) active?.postMessage("asked");
    };
    addEventListener("online", complete);
    complete();
    this.#look(registration);
    registration.addEventListener("updatefound", () => {
      registration.installing?.addEventListener("statechange", () => this.#look(registration));
    });
  }

  /** @param {ServiceWorkerRegistration} registration */
  #look(registration) {
    const waiting = registration.waiting && navigator.serviceWorker.controller ? registration.waiting : null;
    if (waiting === this.waiting) return;
    this.waiting = waiting;
    this.changed();
  }

  /** Say whether this page has a check open; other pages see it through a shared lock. */
  /** @param {boolean} isOpen */
  open(isOpen) {
    if (!navigator.locks || isOpen === Boolean(this.#release)) return;
    if (!isOpen) { this.#release?.(); this.#release = null; return; }
    /** @type {Promise<void>} */
    const closed = new Promise((done) => { this.#release = done; });
    navigator.locks.request(OPEN, { mode: "shared" }, () => closed);
  }

  /** Switch to the waiting release; true when an open check in some window forbids it. */
  async take() {
    const { held } = await navigator.locks.query();
    if (held?.some((lock) => lock.name === OPEN)) return true;
    navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
    this.waiting?.postMessage("update");
    return false;
  }
}
