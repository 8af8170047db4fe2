// For cold hands and tired eyes: screens read aloud, answers as big as half the phone. Both are off until asked for.

/** Whether this browser can speak at all. */
export const canSpeak = () => "speechSynthesis" in window;

// What is read of a screen, as it stands; then the answers to choose from.
const READ = "main .place, main h1, main .help, main .act, main .told, main .caution, main .trouble";
const CHOICES = ".foot .answers button, .ticks label, .rung";
let heard = false;

/** Take the settings up, on whatever screen stands now. `app` is the app. */
/** @param {App} app */
export function comfort({ settings }) {
  document.documentElement.classList.toggle("bigtouch", Boolean(settings.bigTouch));
  if (!canSpeak()) return;
  speechSynthesis.cancel();
  if (settings.aloud) readScreen();
  if (!heard) hear(settings);
}

/** Tapped again, a heading is read again; what is announced is read too. */
/** @param {Settings} settings */
function hear(settings) {
  heard = true;
  document.addEventListener("click", ({ target }) => {
    if (settings.aloud && target instanceof Element && target.closest("main h1")) readScreen();
  });
  const region = /** @type {HTMLElement} */ (document.getElementById("spoken"));
  new MutationObserver(() => settings.aloud && speak(region.textContent ?? ""))
    .observe(region, { childList: true, subtree: true, characterData: true });
}

function readScreen() {
  const screen = /** @type {HTMLElement} */ (document.getElementById("screen"));
  /** @param {string} wanted */
  const texts = (wanted) => {
    /** @type {NodeListOf<HTMLElement>} */
    const found = screen.querySelectorAll(wanted);
    return [...found].map((one) => one.innerText.trim()).filter(Boolean);
  };
  const parts = [...texts(READ), [...new Set(texts(CHOICES))].join(", ")].filter(Boolean);
  speechSynthesis.cancel();
  speak(parts.map((part) => (/[.?!:…]$/.test(part) ? part : `${part}.`)).join(" "));
}

/** @param {string} text */
function speak(text) {
  if (text) speechSynthesis.speak(Object.assign(new SpeechSynthesisUtterance(text), {
    lang: document.documentElement.lang || "en",
  }));
}
