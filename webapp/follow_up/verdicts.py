"""A verdict from outside, as far as it is one: whatever is not as expected is left out.

Everything that hands a verdict on reads it here, so that one odd finding hides none of the others.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any, TypedDict

from checks.facts import wheel_order
from webapp.follow_up.shelves import SHELVES

Json = dict[str, Any]


class Seen(TypedDict):
    """What of a verdict is as expected."""

    level: str | None
    findings: list[Finding]
    cannot_tell: list[Finding]


def as_seen(verdict: Json) -> Seen:
    """Level, findings and open questions of a verdict, without what is not a finding."""
    level = verdict.get("level")
    return {
        "level": level if is_level(level) else None,
        "findings": list(findings_of(verdict.get("findings"))),
        "cannot_tell": list(findings_of(verdict.get("cannot_tell"))),
    }


class Found(TypedDict):
    """What was found, and where."""

    finding: str
    place: str


class Finding(Found):
    """The same with how bad it is."""

    level: str


def findings_of(given: Any) -> Iterator[Finding]:
    for one in given if isinstance(given, list) else []:
        found = one if isinstance(one, dict) else {}
        name, place, level = (found.get(key) for key in ("finding", "place", "level"))
        if isinstance(name, str) and is_level(level) and is_place(place):
            yield {"finding": name, "place": str(place), "level": str(level)}


def is_level(text: Any) -> bool:
    return isinstance(text, str) and text in SHELVES


def is_place(text: Any) -> bool:
    return isinstance(text, str) and text in wheel_places()


@cache
def wheel_places() -> frozenset[str]:
    axles = [str(number) for number in range(1, 10)]
    return frozenset(["", *axles, *wheel_order(9)])
