// Another language for the whole app: fetched whole before anything changes, so that it starts without signal.

import { setLanguage } from "./updates.js";
import { LANGUAGE } from "./words.js";

/** The languages there are, by their codes. */
export const offered = () => (document.documentElement.dataset.languages ?? LANGUAGE).split(" ");

/** What a language calls itself. */
/** @param {string} code */
export const ownName = (code) => new Intl.DisplayNames([code], { type: "language" }).of(code) ?? code;

/** Go over to a language. Gives true while a check in another window forbids it; throws without signal. */
/** @param {import("./updates.js").Updates} updates @param {string} code */
export async function changeLanguage(updates, code) {
  try {
    const registration = await setLanguage(code);
    if (!registration) return location.reload(); // nothing is kept for the time without signal
    updates.waiting = await installed(registration);
    const forbidden = await updates.take();
    if (forbidden) setLanguage(LANGUAGE);
    return forbidden;
  } catch (error) {
    setLanguage(LANGUAGE)?.catch(() => {});
    throw error;
  }
}

/** The worker with the other language's files, once it has them all. */
/** @param {ServiceWorkerRegistration} registration @returns {Promise<ServiceWorker>} */
const installed = ({ installing, waiting }) => new Promise((done, fail) => {
  const worker = installing ?? waiting;
  if (!worker) throw new Error("no worker came");
  const look = () => {
    if (worker.state === "installed") done(worker);
    if (worker.state === "redundant") fail(new Error("not all files came"));
  };
  worker.addEventListener("statechange", look);
  look();
});
