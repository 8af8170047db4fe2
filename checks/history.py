"""What one kept check adds to the rows of ``checks.trend``; its twin is ``static/data/past.js``."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from checks.facts import BadInput
from checks.formula import mate_of
from checks.judge import read_case
from checks.rulebook import load
from checks.trend import Gap, gap

STOPS = ("run_stop", "quick_stop")


def hub_gaps(body: Mapping[str, Any]) -> dict[str, Gap]:
    """By wheel (``1L``) how much more drag its hub had than its mate at a stop, N m.

    ``body``: a check's ``check``, ``date`` and ``facts``. A wheel of which nothing can be said is
    left out; all are where today's rules no longer take the answers.
    """
    book = load()
    try:
        _, case = read_case({key: body[key] for key in ("check", "date", "facts")}, book)
    except BadInput:
        return {}

    def middle(name: str, place: str = "") -> float:
        return sum(book.worth(name, case, place)) / 2

    per_unit = middle("drag_rise") * middle("share_reached") * middle("share_left")
    if per_unit <= 0:
        return {}
    warm = {wheel: book.worth("hub_surface", case, wheel) for wheel in case.wheels}
    found = {}
    for wheel in case.wheels:
        sound = middle("sound_usual", wheel) / per_unit
        felt = felt_of(body["facts"], wheel)
        found[wheel] = gap(warm[wheel], warm[mate_of(wheel)], per_unit, sound, felt)
    return {wheel: one for wheel, one in found.items() if one}


def felt_of(facts: Mapping[str, Any], wheel: str) -> str | None:
    """The two hubs of an axle compared by hand, seen from this wheel: a key of ``trend.FELT``."""
    felt = facts.get(f"pair_feel@{wheel[0]}")
    if not isinstance(felt, str) or felt == "alike":
        return felt if felt == "alike" else None
    side, much = felt.split("_")
    return much if (side == "left") == wheel.endswith("L") else f"mate_{much}"
