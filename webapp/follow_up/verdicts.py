"""A verdict from outside, as far as it is one: whatever is not as expected is left out.

Everything that hands a verdict on reads it here, so that one odd finding hides none of the others.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any, TypedDict

from checks.facts import wheel_order
from checks.judge import TOO_HOT
from webapp.engine import engine
from webapp.follow_up.shelves import HELD, SHELVES, shelf_of

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


def by_both(row: Mapping[Any, Any]) -> list[Finding]:
    """What the server and the phone found, of a row of ``records`` that is a check."""
    both = (json.loads(row["verdict"]), json.loads(row["record"])["body"]["verdict"])
    return [one for verdict in both for one in as_seen(verdict)["findings"]]


def holds(one: Found) -> bool:
    """Whether a finding says not to drive on before something is settled, at whatever level."""
    entry = engine().rulebook.get("findings", {}).get(one["finding"], {})
    return one["finding"] == TOO_HOT or bool(entry.get("holds"))


def shelf_for(row: Mapping[Any, Any], phone: str | None) -> int:
    """Where a check stands that nobody has decided; ``phone`` is the level that the phone said."""
    shelf = shelf_of(phone, row["level"])
    return HELD if shelf == SHELVES["look"] and any(map(holds, by_both(row))) else shelf


def is_held(row: Mapping[Any, Any]) -> bool:
    """Whether a check, decided or not, says not to drive on before something is settled."""
    return shelf_for(row, row["phone_level"]) == HELD


def is_level(text: Any) -> bool:
    return isinstance(text, str) and text in SHELVES


def is_place(text: Any) -> bool:
    return isinstance(text, str) and text in wheel_places()


@cache
def wheel_places() -> frozenset[str]:
    axles = [str(number) for number in range(1, 10)]
    return frozenset(["", *axles, *wheel_order(9)])
