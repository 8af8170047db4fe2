"""Texts of a screen in another language: what a test names in English, and what was left in it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from html import unescape
from typing import Any

from playwright.sync_api import Page

from checks.units import units
from checks.words import FIRST, words
from tests.support.made_up import CLOSE, OPEN

# Everything a person sees or hears: text and what stands for it, in the order of the page.
SEEN = """() => {
  const found = [], root = [...document.querySelectorAll("dialog[open]")].at(-1) ?? document.body;
  const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT | NodeFilter.SHOW_ELEMENT);
  for (let at = walker.nextNode(); at; at = walker.nextNode()) {
    const inside = at instanceof Text ? at.parentElement : at;
    if (inside.closest("template, noscript, script, style") || !inside.checkVisibility()) continue;
    // Drawings write the first words of an answer alone: its mark ends there.
    const short = inside.closest("svg") && at instanceof Text
      ? at.data.split("⟦").length - at.data.split("⟧").length : 0;
    if (at instanceof Text) found.push(at.data + "⟧".repeat(Math.max(0, short)));
    else for (const name of ["aria-label", "placeholder", "alt", "title"])
      if (at.getAttribute(name)) found.push(at.getAttribute(name));
  }
  return found;
}"""


def texts_of(page: Page) -> list[str]:
    return [text.strip() for text in page.evaluate(SEEN) if text.strip()]


def cases(pieces: list[Any]) -> Iterator[str]:
    """Each way a text may read, values left out."""
    heads = [""]
    for piece in pieces:
        if isinstance(piece, str):
            heads = [head + piece for head in heads]
        elif "select" in piece:
            inner = [text for case in piece["cases"].values() for text in cases(case)]
            heads = [head + text for head in heads for text in inner]
        else:
            heads = [head + "\0" for head in heads]
    yield from heads


@cache
def twins(language: str) -> dict[str, list[str]]:
    """By each English text what the language says in its place."""
    found: dict[str, list[str]] = {}
    other = words(language)
    for name in words(FIRST).ids():
        ours, theirs = list(cases(words(FIRST).shape(name))), list(cases(other.shape(name)))
        for at, text in enumerate(ours):
            found.setdefault(text, []).append(theirs[min(at, len(theirs) - 1)])
    return found


def said(language: str, text: str) -> list[str]:
    """What stands on a screen of the language where the English one has ``text``."""
    if language == FIRST:
        return [text]
    both = twins(language)
    known = both.get(text) or [one for own in both if own.startswith(text) for one in both[own]]
    known = [one.partition("\0")[0].strip(OPEN + CLOSE) for one in known]
    assert known, f"no words {text!r} in {FIRST}"
    return list(dict.fromkeys(known))


# Small words of English that Spanish has no word like.
FUNCTION_WORDS = re.compile(
    r"\b(the|of|and|or|with|without|from|for|by|to|is|are|it|its|this|that|not|your|you|at|on"
    r"|which|where|when|after|before|than|has|have|was|were|be|been|each|there|these|those)\b"
)
ENDED = re.compile(r"\d to (-?\d|any)|none to ")  # what the rules' own ranges say in English
LONG = 2  # words that a text must have before it can be told for English


@cache
def english(language: str) -> set[str]:
    """Parts of English sentences, values left out, that the language says otherwise."""
    own = {part for texts in twins(language).values() for text in texts for part in parts(text)}
    return {part for text in twins(language) for part in parts(text)} - own


@cache
def labels(language: str) -> str:
    """A number with an English label of its unit that the language has another word for."""
    own = words(language)
    both = {units()[one]["label"]: own.unit(one) for one in units()}
    told = sorted(re.escape(label) for label, word in both.items() if label != word)
    return rf"\d ({'|'.join(told)})\b"


def parts(text: str) -> list[str]:
    return [part.strip(" .,:;()") for part in text.split("\0")]


def left_in_english(page: Page, language: str) -> list[str]:
    """Texts of the screen that hold a part of an English sentence."""
    return english_of(texts_of(page), language)


def texts_in(html: str) -> list[str]:
    """The same of a page as it was sent: its text, and what stands for it."""
    body = re.sub(r"<(script|style|template)\b.*?</\1>", " ", html, flags=re.S)
    shown = re.findall(r'(?:alt|aria-label|placeholder|title)="([^"]*)"', body)
    return [unescape(one).strip() for one in [*re.split(r"<[^>]*>", body), *shown] if one.strip()]


def english_of(texts: list[str], language: str) -> list[str]:
    """Those of the texts that hold a part of an English sentence."""
    wanted = {part for part in english(language) if len(part.split()) >= LONG and len(part) > 7}
    whole = english(language)
    found = []
    for text in texts:
        bare = text.strip(" .,:;()")
        plain = bare in whole and re.search(r"[a-z]{3}", bare)
        if (
            plain
            or ENDED.search(text)
            or re.search(labels(language), text)
            or any(
                one in text and re.search(rf"(?<!\w){re.escape(one)}(?!\w)", text) for one in wanted
            )
        ):
            found.append(text)
    return found


HASH = re.compile(r"\b[0-9a-f]{12,}\b")  # numbers of phone and rules


def outside_the_catalogue(page: Page, but: set[str]) -> list[str]:
    """Words on a screen of the made-up language that no marks enclose, other than ``but``."""
    text, depth, left = HASH.sub(" ", "\n".join(texts_of(page))), 0, ""
    for letter in text:
        depth += (letter == OPEN) - (letter == CLOSE)
        left += letter if depth == 0 else " "
    assert depth == 0, f"a mark is not closed: {text}"
    for one in but:
        left = left.replace(one, " ")
    return sorted(set(re.findall(r"[^\W\d_]{3,}", left)))
