"""The table of units, and the one place where Python turns a number into text for a person."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

from checks.interval import Range

KEYS = {"dimension", "factor", "offset", "label", "places"}
ENDLESS = 1e9  # in any unit that a person is shown
ANY, NONE = "any", "none"  # an end beyond it
MAY = {"us", "metric"}  # the unit that a reader with such units is shown in its place


@cache
def units() -> dict[str, dict[str, Any]]:
    """All units by id. Raises ValueError naming the entry that has a key too many or too few."""
    table = tomllib.loads(Path(__file__).with_name("units.toml").read_text("utf-8"))
    for name, unit in table.items():
        if set(unit) - MAY != KEYS:
            raise ValueError(f"units.toml, {name}: keys must be {', '.join(sorted(KEYS))}")
    return table


def to_unit(value: float, source: str, target: str) -> float:
    """``value`` of unit ``source`` in unit ``target``; ValueError where the dimensions differ."""
    a, b = units()[source], units()[target]
    if a["dimension"] != b["dimension"]:
        raise ValueError(f"{source} is a {a['dimension']}, {target} a {b['dimension']}")
    if source == target:
        return value
    # as a tree converts a limit, so that an answer on a limit is on it to the last bit
    factor, offset = a["factor"] / b["factor"], (a["offset"] - b["offset"]) / b["factor"]
    return float(value * factor + offset)


def number_text(value: float, places: int) -> str:
    """A number with ``places`` decimals; an end too far off to mean anything, in words."""
    if abs(value) >= ENDLESS:
        return ANY if value > 0 else NONE
    text = f"{value:.{places}f}"
    return text.removeprefix("-") if float(text) == 0 else text


class RangeText(str):
    """A range as it reads in English; ``Words`` say it in another language."""

    low: str
    high: str
    unit: str

    def __new__(cls, low: str, high: str, unit: str) -> RangeText:
        span = low if low == high else f"{low} to {high}"
        made = super().__new__(cls, with_label(span, units()[unit]["label"]))
        made.low, made.high, made.unit = low, high, unit
        return made


def with_label(text: str, label: str) -> str:
    """A number's text with its unit's label, closed up where the label begins with a stroke."""
    return f"{text}{'' if not label or label.startswith('/') else ' '}{label}"


def range_text(value: Range, unit: str) -> RangeText:
    """A range with its unit as a person reads it: one number where both ends read alike."""
    low, high = (number_text(end, units()[unit]["places"]) for end in value)
    return RangeText(low, high, unit)
