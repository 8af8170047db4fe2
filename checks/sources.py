"""Who says so: what is cited as it is printed, and what we say of it in the reader's language.

A source in a rule's file is text of parts with ``"; "`` between them. A part that the catalogue
has (``source-1`` and so on) is ours; any other is a title, a law or a name. In the catalogue's
words ``[...]`` holds what is cited within them.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from typing import NamedTuple

from checks.rules import PRACTICE
from checks.words import FIRST, words

HEAD = "source-"
KEYED = re.compile(r"\{(\d+)\}")


class Piece(NamedTuple):
    text: str
    cited: bool  # stands as printed, in English


@cache
def ours() -> dict[str, str]:
    """The number of each part that is in words of ours, by its text in lower case."""
    said = words(FIRST)
    numbers = (name.removeprefix(HEAD) for name in said.ids() if name.startswith(HEAD))
    return {said.say(HEAD + number).lower(): number for number in numbers}


def keyed(source: str) -> str:
    """The source with ``{NUMBER}`` for each part of ours, as the phone's rules hold it.

    Where nothing was read it stays: its standing says so.
    """
    if source.lower() == PRACTICE.lower():
        return source
    parts = source.split("; ")
    return "; ".join(f"{{{ours()[p.lower()]}}}" if p.lower() in ours() else p for p in parts)


def pieces(source: str, say: Callable[[str], str]) -> list[Piece]:
    """A source as it stands in a rule's file, or keyed, in the words that ``say`` gives."""
    found: list[Piece] = []
    for part in keyed(source).split("; "):
        number = KEYED.fullmatch(part)
        text = say(HEAD + number[1]) if number else f"[{part}]"
        split = [Piece(one, at % 2 == 1) for at, one in enumerate(re.split(r"[][]", text)) if one]
        found += ([Piece("; ", False)] if found and split else []) + split
    return found


def told(source: str, say: Callable[[str], str]) -> str:
    """The same as plain text."""
    return "".join(piece.text for piece in pieces(source, say))
