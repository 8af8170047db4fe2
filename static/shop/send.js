// A text ready to send: the device's own share sheet and the clipboard, where the browser has them.

for (const box of document.querySelectorAll("[data-send]")) {
  const text = box.querySelector("textarea"), said = box.querySelector("[role=status]");
  for (const button of box.querySelectorAll("button[data-way]")) {
    const shares = button.dataset.way === "share";
    button.hidden = shares ? !navigator.share : !navigator.clipboard;
    button.addEventListener("click", () => (shares ? share(text) : copy(text, said, button.dataset.done)));
  }
}

async function copy(text, said, done) {
  try {
    await navigator.clipboard.writeText(text.value);
    said.textContent = done;
  } catch {
    text.select(); // the browser refuses: the person copies what is marked
  }
}

async function share(text) {
  try {
    await navigator.share({ text: text.value });
  } catch {
    text.select(); // closed again, or refused
  }
}
