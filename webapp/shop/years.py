"""Each hub, tire and tread over the years, in the shop's units; the phone's is ``years.js``."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any

from checks.facts import wheel_order
from checks.history import (
    DAY,
    PRESSURE_STEP,
    TREAD_STEP,
    Kept,
    Loss,
    Mark,
    Wear,
    hub_rows,
    marks_of,
    miles_of,
    pressure_of,
    tread_of,
)
from checks.interval import Range
from checks.trend import BEFORE, Gap, Point, climb
from checks.units import to_unit
from webapp.clock import now
from webapp.shop import measures
from webapp.shop.plots import Plot, Reading, Row, Sign, plots
from webapp.wording import day_text, number_text, place_text, say, unit_text

BAND = (-0.35, 0.35)  # N m: what two sound mates differ by at most stops (docs/trends.md)
BARS = 2.0  # 32nds: how high wear bars are (49 CFR 571.119 S6.4)
FAR = 20 * 365  # days: a date farther off says nothing
PRESSURE, TREAD = "kPa", "in32"  # what points are kept in


@dataclass(frozen=True)
class Years:
    """One group of plots: what it shows, and one plot a wheel."""

    title: str
    plots: list[Plot]


def years(
    checks: Sequence[Kept], runs: Sequence[Mapping[str, Any]], works: Sequence[float], axles: int
) -> list[Years]:
    """Everything that has two readings, ``checks`` in order of time.

    ``works``: when the shop worked on hubs, ms since 1970.
    """
    told = Told(checks, miles_of(checks, runs), works, axles)
    found = [
        Years(say("shop-history-drags"), plots(told.hubs(), say("road-years-unit-drag"), BAND)),
        Years(say("road-years-pressure"), plots(told.pressures(), label(PRESSURE))),
        Years(say("road-years-tread"), plots(told.treads(), label(TREAD))),
    ]
    return [one for one in found if one.plots]


def unit_of(base: str) -> str:
    """The unit of a plot; nobody reads 32nds of an inch beside millimetres."""
    metric = measures.system() == measures.METRIC
    return "mm" if base == TREAD and metric else measures.unit_of(base)


def label(base: str) -> str:
    return unit_text(unit_of(base))


class Told:
    """The rows of one trailer, each with the words that go with it."""

    def __init__(
        self,
        checks: Sequence[Kept],
        miles: Callable[[float], float],
        works: Sequence[float],
        axles: int,
    ) -> None:
        self.checks, self.miles, self.works, self.axles = checks, miles, works, axles
        self.wheels = sorted(wheel_order(axles))

    def signs(self, wheel: str, kind: str) -> list[Sign]:
        marks = marks_of(self.checks, wheel) + [Mark(at, "bench") for at in self.works]
        return [
            Sign(mark.at, kind, say(f"road-years-mark-{kind}"))
            for mark in marks
            if mark.kind == kind
        ]

    def row(self, wheel: str, told: str, readings: list[Reading], kind: str) -> list[Row]:
        if len(readings) < 2:
            return []
        return [Row(place_text(wheel, self.axles), told, readings, self.signs(wheel, kind))]

    def hubs(self) -> list[Row]:
        found = hub_rows(self.checks)
        return [
            self.hub(wheel, found[wheel]) for wheel in self.wheels if len(found.get(wheel, [])) > 1
        ]

    def hub(self, wheel: str, rows: list[tuple[float, Gap]]) -> Row:
        signs = self.signs(wheel, "bench")
        since = max((one.at for one in signs), default=0.0)
        fresh = [row for at, row in rows if at > since]
        seen = climb(fresh)
        few = len(fresh) <= BEFORE
        told = say("road-years-few", count=len(fresh)) if few else say("shop-history-level")
        if seen is not None:
            low, high = max(0.0, seen.low), seen.high
            told = say("shop-history-climb", low=number_text(low, 1), high=number_text(high, 1))
        readings = [Reading(at, *row.shown, rough=row.rough) for at, row in rows]
        return Row(place_text(wheel, self.axles), told, readings, signs, look=seen is not None)

    def pressures(self) -> list[Row]:
        found = []
        for wheel in self.wheels:
            one = pressure_of(self.checks, wheel)
            readings = drawn(one.points, PRESSURE, PRESSURE_STEP)
            found += self.row(wheel, loss_text(one), readings, "tires")
        return found

    def treads(self) -> list[Row]:
        found = []
        for wheel in self.wheels:
            one = tread_of(self.checks, self.miles, wheel, BARS)
            readings = drawn(one.points, TREAD, TREAD_STEP)
            found += self.row(wheel, wear_text(one), readings, "tires")
        return found


def drawn(points: Sequence[Point], base: str, step: float) -> list[Reading]:
    """Readings in the shop's unit; one wider than what a gauge is read to is rough."""
    target = unit_of(base)
    return [
        Reading(
            day * DAY,
            to_unit(low, base, target),
            to_unit(high, base, target),
            rough=high - low > 2 * step + 1e-6,
        )
        for day, low, high in points
    ]


def span(ends: Range, digits: int) -> str:
    low, high = (f"{end:.{digits}f}" for end in ends)
    return low if low == high else say("app-from-to", **{"from": low, "to": high})


def scaled(ends: Range, base: str) -> Range:
    target = unit_of(base)
    low, high = (to_unit(end, base, target) for end in ends)
    return low, high


def loss_text(one: Loss) -> str:
    if one.loss is None:
        return say("road-years-no-loss")
    digits = 1 if measures.system() == measures.US else 0
    return say(
        "road-years-loss", loss=span(scaled(one.loss, PRESSURE), digits), unit=label(PRESSURE)
    )


def wear_text(one: Wear) -> str:
    bars = bars_text(one.reached, now().date())
    if one.wear is None:
        return bars
    us = measures.system() == measures.US
    per = 1.0 if us else to_unit(1.0, "km", "mi")  # by 1,000 miles or 1,000 km
    low, high = scaled(one.wear, TREAD)
    words = say(
        "road-years-wear-mi" if us else "road-years-wear-km",
        wear=span((low * per, high * per), 1),
        unit=label(TREAD),
    )
    return f"{words} {bars}"


def bars_text(reached: Range | None, today: date) -> str:
    """From which to which day the tread comes down to the bars."""
    if reached is None:
        return say("road-years-bars-unknown")
    limit = (today - date(1970, 1, 1)).days + FAR
    first, last = reached
    if first > limit:
        return say("road-years-bars-far")
    if last > limit:
        return say("road-years-bars-from", **{"from": day_of(first)})
    return say("road-years-bars", **{"from": day_of(first), "to": day_of(last)})


def day_of(days: float) -> str:
    return day_text(datetime.fromtimestamp(days * DAY / 1000, UTC))
