"""Distances and readings in the shop's own units, as its pages and tables show them."""

from __future__ import annotations

from typing import Any

from flask import has_request_context

from checks.interval import Range
from checks.units import ENDLESS, to_unit, units
from checks.words import words
from webapp.shop import session
from webapp.wording import language, say

US, METRIC = "us", "metric"
SYSTEMS = (US, METRIC)


def system() -> str:
    """``us`` or ``metric``; outside a request, as in the demo, ``us``."""
    found = session.current() if has_request_context() else None
    return METRIC if found is not None and found["units"] == METRIC else US


def unit_of(base: str, by: str = "") -> str:
    """The unit that the shop, or the system ``by``, reads what is kept in ``base`` in."""
    return str(units()[base].get("us", base)) if (by or system()) == US else base


def fact_unit(fact: dict[str, Any]) -> str:
    """The unit that the shop is asked a number of the rulebook in."""
    return str(fact["show"][system()])


def text(ends: Range, base: str, by: str = "") -> str:
    """A range as people read it: ``20 mi``, ``60 to 80 °F``."""
    target = unit_of(base, by)
    low, high = (to_unit(end, base, target) for end in ends)
    return words(language()).range_text((low, high), target)


def distance(km: float, by: str = "") -> str:
    """A distance without decimals, with its unit."""
    return text((km, km), "km", by)


def distance_word() -> str:
    """``miles`` or ``kilometers``."""
    return say(f"form-distance-{system()}")


def distance_unit() -> str:
    """``mi`` or ``km``."""
    return unit_of("km")


def plain(value: float, base: str, target: str = "") -> float | int:
    """A number for a table: in the shop's unit, to the decimals that this unit is shown with."""
    target = target or unit_of(base)
    if abs(value) >= ENDLESS:
        return value
    places = int(units()[target]["places"])
    rounded = round(to_unit(value, base, target), places)
    return rounded if places else int(rounded)
