"""Whether a screen can be read and worked at a size: measured on the page as it is laid out."""

from __future__ import annotations

import json
from pathlib import Path

from playwright.sync_api import Page

from tests.support.waiting import drawn

# (width, height) in CSS pixels. 320 by 256 is a window of 1280 by 1024 at 400 % (WCAG 2.2, 1.4.10).
SIZES = {
    "320 wide": (320, 640),
    "a small phone": (360, 640),
    "a phone on its side": (740, 360),
    "a small phone on its side": (640, 360),
    "400 % zoom": (320, 256),
    "a small phone at 400 %": (90, 160),
}
WORDS_FIT = 13  # em from which on a line holds every word of ordinary length
ORDINARY = 14  # letters in such a word, at most
BIG_TEXT = 32  # a browser's own size of letters, in px: 200 % of the usual 16

# What cannot be reached or read: wider than the window, cut, or covered where it was brought to.
FAULTS = """([WORDS_FIT, ORDINARY]) => {
  const found = [], wide = document.documentElement.clientWidth;
  const named = (one) => {
    const text = one.textContent || one.getAttribute("aria-label") || "";
    const kind = [one.tagName.toLowerCase(), ...one.classList].join(".");
    return `${kind} "${text.trim().slice(0, 40)}"`;
  };
  if (document.documentElement.scrollWidth > wide) {
    found.push(`scrolls sideways: ${document.documentElement.scrollWidth} of ${wide}`);
  }
  // A word that goes on in the next line is not read at a glance.
  const em = parseFloat(getComputedStyle(document.documentElement).fontSize);
  const fit = wide >= WORDS_FIT * em;
  const brokenIn = (one) => {
    const range = document.createRange();
    const walker = document.createTreeWalker(one, NodeFilter.SHOW_TEXT);
    for (let at = walker.nextNode(); at; at = walker.nextNode()) {
      for (const { 0: word, index } of at.data.matchAll(/\\p{L}+/gu)) {
        if (word.length > ORDINARY) continue;
        range.setStart(at, index);
        range.setEnd(at, index + word.length);
        const tops = [...range.getClientRects()].map((box) => Math.round(box.top));
        if (new Set(tops).size > 1) return word;
      }
    }
    return "";
  };
  const drawn = (one) => one.checkVisibility({ visibilityProperty: true, opacityProperty: true });
  const unseen = (one) => one.closest(".unseen, [aria-hidden=true], dialog:not([open])");
  const root = [...document.querySelectorAll("dialog[open]")].at(-1) ?? document.body;
  for (const one of root.querySelectorAll("*")) {
    if (one.closest("svg") !== null && one.tagName !== "svg") continue;
    if (!drawn(one) || unseen(one)) continue;
    const box = one.getBoundingClientRect(), style = getComputedStyle(one);
    if (!box.width || style.position === "fixed") continue;
    const scrolls = one.parentElement.closest(".sideways");
    if (!scrolls && one.closest("svg, .band") === null && (box.left < -1 || box.right > wide + 1)) {
      found.push(`outside: ${named(one)} ${Math.round(box.left)} to ${Math.round(box.right)}`);
    }
    const cut = style.overflowX !== "visible" && !one.matches("input, select, .sideways")
      && (one.scrollWidth > one.clientWidth + 1 || one.scrollHeight > one.clientHeight + 1);
    if (cut && !["scroll", "auto"].includes(style.overflowY)) found.push(`cut: ${named(one)}`);
    if (one.matches("button, a, select, .answer, .stamp") && one.scrollWidth > one.clientWidth + 1
      && style.display !== "inline") found.push(`words over the edge: ${named(one)}`);
    if (fit && one.matches("button, a, h1, h2, h3, summary, label, .answer")) {
      const broken = brokenIn(one);
      if (broken) found.push(`broken word: ${broken} in ${named(one)}`);
    }
  }
  const controls = "a[href], button, input, select, textarea, summary";
  document.activeElement?.blur(); // what has the focus already would not be brought into view
  for (const one of root.querySelectorAll(controls)) {
    if (!drawn(one) || unseen(one) || one.disabled || one.type === "hidden") continue;
    one.focus({ focusVisible: true });
    const box = one.getClientRects()[0] ?? one.getBoundingClientRect();
    const [top, end] = [Math.max(box.top, 0), Math.min(box.bottom, innerHeight)];
    const at = (f) => [box.left + box.width / 2, top + (end - top) * f];
    const hit = (point) => {
      const there = document.elementFromPoint(...point);
      const over = () => there.contains(one) && there.matches("label, a, button");
      return there && (one.contains(there) || over());
    };
    const fits = box.height < innerHeight;
    if (!(fits ? [.15, .5, .85] : [.5]).every((f) => hit(at(f)))) {
      const there = document.elementFromPoint(...at(.5));
      found.push(`covered: ${named(one)} by ${there ? named(there) : "the window's edge"}`);
    }
  }
  document.activeElement?.blur();
  scrollTo(0, 0);
  return [...new Set(found)];
}"""


def unfit(page: Page, sizes: dict[str, tuple[int, int]]) -> dict[str, list[str]]:
    """By size, what does not fit on the screen that is open; its own size is given back after."""
    usual = page.viewport_size
    found = {}
    for name, (width, height) in sizes.items():
        page.set_viewport_size({"width": width, "height": height})
        drawn(page)
        if faults := page.evaluate(FAULTS, [WORDS_FIT, ORDINARY]):
            found[name] = faults
    if usual:
        page.set_viewport_size(usual)
    return found


def with_big_text(profile: Path) -> Path:
    """A profile whose owner has set the browser's letters to twice their size."""
    folder = profile / "Default"
    folder.mkdir(parents=True)
    wanted = {"webkit": {"webprefs": {"default_font_size": BIG_TEXT}}}
    (folder / "Preferences").write_text(json.dumps(wanted))
    return profile
