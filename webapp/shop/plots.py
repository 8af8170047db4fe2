"""Rows of readings as plots: dots, bars, marks and a band in a frame, for a page or for paper.

No colour says anything, so a plot reads the same on a printer that has only black.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from checks.history import DAY
from checks.interval import Range
from webapp.wording import month_text

# Of a plot, in its own units; the text in it is as large as the page's.
WIDE, HIGH, LEFT, ABOVE, BELOW = 320, 136, 44, 16, 20
FLOOR = HIGH - BELOW
LINES = 5  # at most so many, and the next rounder step otherwise


@dataclass(frozen=True)
class Reading:
    """``at`` in ms since 1970; what the reading leaves open; ``rough``: a word, not a measure."""

    at: float
    low: float
    high: float
    rough: bool = False


@dataclass(frozen=True)
class Sign:
    """An upright line on a day, with the letter over it."""

    at: float
    kind: str
    letter: str


@dataclass(frozen=True)
class Row:
    """What one plot shows; ``told`` says it in words, ``look`` that it is a finding."""

    name: str
    told: str
    readings: Sequence[Reading]
    signs: Sequence[Sign] = ()
    look: bool = False


@dataclass(frozen=True)
class Plot:
    """A row in plot units: ``dots`` are x, top, middle, bottom, ``bars`` x, top, height."""

    row: Row
    unit: str
    dots: list[tuple[float, float, float, float]]
    bars: list[tuple[float, float, float]]
    marks: list[tuple[float, Sign]]
    lines: list[tuple[float, str]]
    band: tuple[float, float] | None
    first: str
    last: str
    wide: int = field(default=WIDE, init=False)
    high: int = field(default=HIGH, init=False)
    left: int = field(default=LEFT, init=False)
    above: int = field(default=ABOVE, init=False)
    floor: int = field(default=FLOOR, init=False)


def plots(rows: Sequence[Row], unit: str, band: Range | None = None) -> list[Plot]:
    """The rows in one frame, so that they can be held against each other."""
    rows = [row for row in rows if row.readings]
    if not rows:
        return []
    frame = Frame([one for row in rows for one in row.readings], band)
    return [frame.drawn(row, unit) for row in rows]


class Frame:
    """Days and values that all readings fit into."""

    def __init__(self, readings: Sequence[Reading], band: Range | None) -> None:
        self.band = band
        times = [one.at for one in readings]
        self.first, self.last = min(times), max(times)
        shown = band or (readings[0].low, readings[0].high)
        low = min(shown[0], *(one.low for one in readings))
        high = max(shown[1], *(one.high for one in readings))
        self.step = step_for(high - low)
        self.low = self.step * math.floor(low / self.step + 1e-9)
        self.high = max(self.low + self.step, self.step * math.ceil(high / self.step - 1e-9))

    def x(self, at: float) -> float:
        inside = min(max(at, self.first), self.last)
        share = 0.5 if self.last == self.first else (inside - self.first) / (self.last - self.first)
        return round(LEFT + 8 + share * (WIDE - LEFT - 16), 1)

    def y(self, value: float) -> float:
        return round(FLOOR - (value - self.low) / (self.high - self.low) * (FLOOR - ABOVE), 1)

    def lines(self) -> list[tuple[float, str]]:
        count = round((self.high - self.low) / self.step)
        places = max(0, -math.floor(math.log10(self.step)))
        values = [self.low + self.step * n for n in range(count + 1)]
        return [(self.y(value), f"{value + 0.0:.{places}f}") for value in values]

    def drawn(self, row: Row, unit: str) -> Plot:
        inside = [one for one in row.signs if day(self.first) <= day(one.at) <= day(self.last)]
        return Plot(
            row,
            unit,
            dots=[self.dot(one) for one in row.readings if not one.rough],
            bars=[self.bar(one) for one in row.readings if one.rough],
            marks=[(self.x(one.at), one) for one in once_a_day(inside)],
            lines=self.lines(),
            band=self.band and (self.y(self.band[1]), self.y(self.band[0])),
            first=month(self.first),
            last=month(self.last),
        )

    def dot(self, one: Reading) -> tuple[float, float, float, float]:
        middle = (one.low + one.high) / 2
        return self.x(one.at), self.y(one.high), self.y(middle), self.y(one.low)

    def bar(self, one: Reading) -> tuple[float, float, float]:
        top = self.y(one.high)
        return self.x(one.at), top, max(2.0, round(self.y(one.low) - top, 1))


def step_for(span: float) -> float:
    """The least of 1, 2, 5 times a power of ten that takes at most ``LINES`` steps."""
    least = max(span, 1e-6) / LINES
    power = 10.0 ** math.floor(math.log10(least))
    return next(power * n for n in (1, 2, 5, 10) if power * n >= least * (1 - 1e-9))


def once_a_day(signs: Iterable[Sign]) -> list[Sign]:
    """A job and the bench record made for it are one thing."""
    return list({(day(one.at), one.kind): one for one in signs}.values())


def day(at: float) -> int:
    return math.floor(at / DAY + 1e-6)  # readings by day come a rounding off their moment


def month(at: float) -> str:
    return month_text(datetime.fromtimestamp(at / 1000).astimezone())
