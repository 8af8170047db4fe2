// A text ready to send: the device's own share sheet and the clipboard, where the browser has them.

try {
  localStorage.setItem("atShop", ""); // the front page of the app leads here from now on
} catch {
  // This browser keeps nothing: the way leads through the settings.
}

for (const box of document.querySelectorAll("[data-send]")) {
  const text = box.querySelector("textarea"), said = box.querySelector("[role=status]");
  if (text && said) offer(box.querySelectorAll("button[data-way]"), text, said);
}

/** @param {NodeListOf<HTMLButtonElement>} buttons @param {HTMLTextAreaElement} text @param {Element} said */
function offer(buttons, text, said) {
  for (const button of buttons) {
    const { way, done = "" } = button.dataset, shares = way === "share";
    button.hidden = shares ? !navigator.share : !navigator.clipboard;
    button.addEventListener("click", () => (shares ? share(text) : copy(text, said, done)));
  }
}

/** @param {HTMLTextAreaElement} text @param {Element} said @param {string} done */
async function copy(text, said, done) {
  try {
    await navigator.clipboard.writeText(text.value);
    said.textContent = done;
  } catch {
    text.select(); // the browser refuses: the person copies what is marked
  }
}

/** @param {HTMLTextAreaElement} text */
async function share(text) {
  try {
    await navigator.share({ text: text.value });
  } catch {
    text.select(); // closed again, or refused
  }
}
