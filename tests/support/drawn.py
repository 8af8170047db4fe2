"""Each text of the catalogue with values in its places: every case, counts of every form."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import product
from typing import Any

from checks.words import FIRST, words
from checks.words.pieces import PLURALS, values_of

COUNTS = (0, 1, 2, 21, 1_000_000)
Values = dict[str, Any]


def selected(pieces: list[Any]) -> Iterator[tuple[str, set[str]]]:
    """Each choice in a text: the value it goes by, and the names of its cases."""
    for piece in pieces:
        if isinstance(piece, dict) and "select" in piece:
            yield piece["select"], set(piece["cases"])
            for case in piece["cases"].values():
                yield from selected(case)


def counted(cases: set[str]) -> bool:
    """Whether the cases are those of a number."""
    return bool(cases & (PLURALS - {"other"})) or all(
        re.fullmatch(r"\d+|other", case) for case in cases
    )


def ways(name: str, language: str) -> Iterator[Values]:
    """Values with which the words ``name`` are said in every case of the language and the first."""
    choices: dict[str, set[str]] = {}
    for one in dict.fromkeys((language, FIRST)):
        for value, cases in selected(words(one).shape(name)):
            choices.setdefault(value, set()).update(cases)
    plain = sorted(values_of(words(language).shape(name)) - choices.keys())
    marks = {value: f"‹{at}›" for at, value in enumerate(plain)}
    tried: dict[str, list[Any]] = {
        value: sorted({*COUNTS, *(int(case) for case in cases if case.isdigit())})
        if counted(cases)
        else sorted(cases)
        for value, cases in choices.items()
    }
    for picked in product(*tried.values()):
        yield marks | dict(zip(tried, picked, strict=True))
