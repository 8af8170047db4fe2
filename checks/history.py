"""What one kept check adds to the rows of ``checks.trend``; its twin is ``static/data/past.js``."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from checks.explain import explain
from checks.facts import BadInput
from checks.judge import read_case
from checks.rulebook import load
from checks.trend import Gap, gap

STOPS = ("run_stop", "quick_stop")


def hub_gap(body: Mapping[str, Any], wheel: str) -> Gap | None:
    """How much more drag a wheel's hub had than its mate at a stop, N m.

    ``body``: a check's ``check``, ``date`` and ``facts``; ``wheel``: as ``1L``. None where nothing
    can be said, also for answers that today's rules no longer take.
    """
    book, mate = load(), wheel[0] + ("R" if wheel[1] == "L" else "L")
    try:
        _, case = read_case({key: body[key] for key in ("check", "date", "facts")}, book)
    except BadInput:
        return None
    if wheel not in case.wheels:
        return None

    def value(name: str, place: str = "") -> tuple[float, float]:
        low, high = explain(name, place, case, book)[-1]["value"]
        return low, high

    def middle(name: str, place: str = "") -> float:
        return sum(value(name, place)) / 2

    per_unit = middle("drag_rise") * middle("share_reached") * middle("share_left")
    if per_unit <= 0:
        return None
    own, other = value("hub_surface", wheel), value("hub_surface", mate)
    sound = middle("sound_usual", wheel) / per_unit
    return gap(own, other, per_unit, sound, felt_of(body["facts"], wheel))


def felt_of(facts: Mapping[str, Any], wheel: str) -> str | None:
    """The two hubs of an axle compared by hand, seen from this wheel: a key of ``trend.FELT``."""
    felt = facts.get(f"pair_feel@{wheel[0]}")
    if not isinstance(felt, str) or felt == "alike":
        return felt if felt == "alike" else None
    side, much = felt.split("_")
    return much if (side == "left") == wheel.endswith("L") else f"mate_{much}"
