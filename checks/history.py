"""What kept checks add to the rows of ``checks.trend``; its twin is ``static/data/past.js``."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any, NamedTuple

from checks.facts import BadInput, read_answer, read_date
from checks.formula import Case, mate_of
from checks.interval import Range
from checks.judge import read_case
from checks.rulebook import load
from checks.trend import Gap, Point, at_value, gap, refills, since, slopes
from checks.units import to_unit

STOPS = ("run_stop", "quick_stop")
DAY = 86_400_000.0  # ms
MONTH = 30.44  # days
# Half the step people read a gauge to: 1 psi in kPa, 1/32 in (assumed).
PRESSURE_STEP, TREAD_STEP = 3.45, 0.5


class Kept(NamedTuple):
    """One kept check: when it was made (ms since 1970), and its ``check``, ``date``, ``facts``."""

    at: float
    body: Mapping[str, Any]

    @property
    def facts(self) -> Mapping[str, Any]:
        found: Mapping[str, Any] = self.body["facts"]
        return found


class Mark(NamedTuple):
    """Something that happened: ``bench`` (work on the hubs) or ``tires`` (another date code)."""

    at: float
    kind: str


class Loss(NamedTuple):
    """Cold pressure of a tire, kPa by day; ``loss``: from least to most, kPa a month, or None."""

    points: list[Point]
    loss: Range | None


class Wear(NamedTuple):
    """Tread of a tire, 32nds by day; ``wear``: 32nds per 1,000 miles known to be driven, or None.

    ``reached``: days since 1970 from when to when it comes down to the bars, or None.
    """

    points: list[Point]
    wear: Range | None
    reached: Range | None


def case_of(body: Mapping[str, Any]) -> Case | None:
    """The answers of a check; None where today's rules no longer take them."""
    try:
        return read_case({key: body[key] for key in ("check", "date", "facts")}, load())[1]
    except BadInput:
        return None


def hub_gaps(body: Mapping[str, Any]) -> dict[str, Gap]:
    """By wheel (``1L``) how much more drag its hub had than its mate at a stop, N m.

    ``body``: a check's ``check``, ``date`` and ``facts``. A wheel of which nothing can be said is
    left out; all are where today's rules no longer take the answers.
    """
    book, case = load(), case_of(body)
    if case is None:
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


def hub_rows(checks: Iterable[Kept]) -> dict[str, list[tuple[float, Gap]]]:
    """By wheel the gap at every stop that says something, ``checks`` in order of time."""
    found: dict[str, list[tuple[float, Gap]]] = {}
    for one in checks:
        for wheel, row in (hub_gaps(one.body) if one.body["check"] in STOPS else {}).items():
            found.setdefault(wheel, []).append((one.at, row))
    return found


def marks_of(checks: Sequence[Kept], wheel: str) -> list[Mark]:
    """Days on which bench work was kept, and on which the wheel had another date code."""
    bench = [Mark(one.at, "bench") for one in checks if one.body["check"] == "bench"]
    coded = [one for one in checks if isinstance(one.facts.get(f"tire_made@{wheel}"), str)]
    codes = [one.facts[f"tire_made@{wheel}"] for one in coded]
    fresh = [one for n, one in enumerate(coded) if n and codes[n] != codes[n - 1]]
    return [*bench, *(Mark(one.at, "tires") for one in fresh)]


def pressure_of(checks: Iterable[Kept], wheel: str) -> Loss:
    """The row of a tire's cold pressure; a refill begins it again."""
    points: list[Point] = []
    for one in checks:
        if one.facts.get(f"pressure@{wheel}") is None:
            continue
        case = case_of(one.body)
        if case is not None and wheel in case.wheels:
            value = load().worth("pressure_cold", case, wheel)
            points.append((one.at / DAY, *widened(value, PRESSURE_STEP)))
    slope = slopes(since(points, refills(points)))
    if slope is None or slope[0] >= 0:
        return Loss(points, None)
    return Loss(points, (max(0.0, -slope[1] * MONTH), -slope[0] * MONTH))


def tread_of(
    checks: Sequence[Kept], miles: Callable[[float], float], wheel: str, bars: float
) -> Wear:
    """The row of a tire's tread; another date code begins it again.

    ``miles``: as from ``miles_of``; ``bars``: the height of the wear bars, 32nds.
    """
    key = f"tread@{wheel}"
    points: list[Point] = []
    for one in checks:
        value = None if one.facts.get(key) is None else answer_of(one.body, key)
        if value is not None:
            points.append((one.at / DAY, *widened(value, TREAD_STEP)))
    fresh = [mark.at / DAY for mark in marks_of(checks, wheel) if mark.kind == "tires"]
    row = since(points, [*refills(points), *fresh])
    far = [(miles(day * DAY) / 1000, low, high) for day, low, high in row]
    slope = slopes(far) if len(far) > 1 and far[-1][0] - far[0][0] > 0.1 else None
    wear = (max(0.0, -slope[1]), -slope[0]) if slope is not None and slope[0] < 0 else None
    return Wear(points, wear, at_value(row, bars) if len(row) > 1 else None)


def answer_of(body: Mapping[str, Any], key: str) -> Range | None:
    """The range a number answered leaves open; None where today's rules no longer take it."""
    try:
        fact = load().facts[key.partition("@")[0]]
        value = read_answer(fact, key, body["facts"][key], read_date(body["date"]))
    except BadInput:
        return None
    return value if isinstance(value, tuple) else None


def widened(value: Range, by: float) -> Range:
    """A reading is no finer than the step it is read to."""
    low, high = value
    middle = (low + high) / 2
    return (middle - by, middle + by) if high - low < 2 * by else value


def miles_of(checks: Iterable[Kept], runs: Iterable[Mapping[str, Any]]) -> Callable[[float], float]:
    """Miles known to be driven up to a moment in ms since 1970.

    For each day the farthest of what checks say since setting off and what runs (``ended``, ``km``)
    counted. What nobody wrote down is missing, so wear per mile is the most it can be.
    """
    days: dict[int, float] = {}

    def add(at: float, km: Any) -> None:
        day = math.floor(at / DAY)
        if type(km) in (int, float) and km > 0:
            days[day] = max(days.get(day, 0.0), km)

    for one in checks:
        add(one.at, one.facts.get("run_distance"))
    for run in runs:
        add(datetime.fromisoformat(run["ended"]).timestamp() * 1000, run["km"])

    def until(at: float) -> float:
        return to_unit(sum(km for day, km in days.items() if day <= at / DAY), "km", "mi")

    return until
