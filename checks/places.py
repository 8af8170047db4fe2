"""What a place on the trailer is called; the twin is in ``static/data/words.js``."""

from __future__ import annotations

from checks.rules import SIGN
from checks.words import Words

SIDES = {"L": "place-left", "R": "place-right", "": "place-axle"}


def place_name(words: Words, place: str, axles: int) -> str:
    """``2L`` in words, on a trailer with that many axles; the trailer itself has no name."""
    return words.say(SIDES[place[1:]], axle=place[0], axles=axles) if place else ""


def sign_of(finding: str, place: str) -> str:
    """The sign that was found, where nobody has told its wheel; or ""."""
    return finding.removeprefix(SIGN) if not place and finding.startswith(SIGN) else ""
