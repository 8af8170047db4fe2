"""What a row of readings says that no single one does: a climb, a straight loss, a day to come.

Pure sums over points; ``static/engine/trend.js`` is the twin. A point is ``(at, low, high)``: a
day (or a stop's number, or miles) and the range its reading leaves open, in one unit throughout.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

Point = tuple[float, float, float]

# Two sound hubs differ for good by this share of a sound hub's drag; a sound difference
# wanders from stop to stop by FLAT (N m) and the share WANDER of it, beside what the reading leaves
# open: a stiff cold hub wanders more than a warm light one. From simulated sound histories with
# seeds other than that of docs/trends.md; no hub was measured.
MATES, FLAT, WANDER = 0.15, 0.02, 0.08
# Spreads by which a climb must stand out; set for one false alarm in 100 sound histories.
ALARM = 2.5
# A climb may have begun with one of so many last readings; these before it say what is usual.
RECENT, BEFORE = 3, 4
# K by which the first of a pair is warmer, by the word for it: 3 is just felt, 8 is clear
# (assumed).
FELT = {
    "alike": (-3.5, 3.5),
    "slightly": (2.5, 9.0),
    "clearly": (7.5, 17.0),
    "mate_slightly": (-9.0, -2.5),
    "mate_clearly": (-17.0, -7.5),
}
# K: a comparison that leaves more open than this says nothing.
OPEN = 30.0


class Gap(NamedTuple):
    """How much more drag a hub has than its mate, N m: middle, spread, and how far mates differ."""

    middle: float
    spread: float
    mates: float


class Climb(NamedTuple):
    """A steady climb: number of the reading that showed it, and N m more with every stop."""

    shown: int
    low: float
    high: float


def gap(
    own: tuple[float, float],
    mate: tuple[float, float],
    per_unit: float,
    sound: float,
    felt: str | None = None,
) -> Gap | None:
    """How much more drag a hub has than its mate, spreads as one sigma.

    ``own`` and ``mate``: ranges of both surfaces, K or degC alike; ``per_unit``: how many kelvin
    one N m warms the hub at this stop; ``sound``: N m of a sound hub there; ``felt``: the two
    compared by hand, a key of ``FELT``. What both share (air, speed, miles, the hand that felt
    them) drops out. None when nothing is known.
    """
    low, high = own[0] - mate[1], own[1] - mate[0]
    if felt is not None:
        low, high = max(low, FELT[felt][0]), min(high, FELT[felt][1])
        if low > high:  # the words for each hub and for the pair disagree: the pair's count
            low, high = FELT[felt]
    if high - low > OPEN:
        return None
    spread = math.hypot(FLAT + WANDER * sound, (high - low) / math.sqrt(12) / per_unit)
    return Gap((low + high) / 2 / per_unit, spread, MATES * sound)


def climb(rows: Sequence[tuple[float, float, float]]) -> Climb | None:
    """The first steady climb in a row of gaps, or None.

    After every reading a level with a straight climb at its end is fitted by weighted least
    squares, once for each recent reading it may have begun with; a climb that stands out by
    ``ALARM`` of its own spread is one.
    """
    for count in range(BEFORE + 1, len(rows) + 1):
        fits = [_ramp(rows[:count], start) for start in range(max(BEFORE, count - RECENT), count)]
        slope, spread = max(fits, key=lambda fit: fit[0] / fit[1])
        if slope > ALARM * spread:
            return Climb(count - 1, slope - 2 * spread, slope + 2 * spread)
    return None


def _ramp(rows: Sequence[tuple[float, float, float]], start: int) -> tuple[float, float]:
    """Climb per reading from number ``start`` on, and its spread; the level before is about 0."""
    mates = sum(row[2] for row in rows) / len(rows)
    level, cross, steep = 1 / mates**2, 0.0, 0.0
    level_sum, steep_sum = 0.0, 0.0
    for number, (middle, spread, _) in enumerate(rows):
        weight, up = 1 / (spread * spread), max(0, number - start + 1)
        level += weight
        cross += weight * up
        steep += weight * up * up
        level_sum += weight * middle
        steep_sum += weight * up * middle
    solved = level * steep - cross * cross
    return (level * steep_sum - cross * level_sum) / solved, math.sqrt(level / solved)


def slopes(points: Sequence[Point]) -> tuple[float, float] | None:
    """The slopes of all straight lines through every range, per unit of ``at``.

    None when fewer than two times are known or no straight line passes through all.
    """
    least, most = -math.inf, math.inf
    for earlier, low, high in points:
        for later, next_low, next_high in points:
            if later > earlier:
                least = max(least, (next_low - high) / (later - earlier))
                most = min(most, (next_high - low) / (later - earlier))
    if math.isinf(least) or least > most:
        return None
    return least, most


def at_value(points: Sequence[Point], value: float) -> tuple[float, float] | None:
    """From when to when a falling row may reach ``value``; ``inf`` where it may never.

    Over all straight lines through every range. None when there is no such line, or none falls.
    """
    slope = slopes(points)
    if slope is None or slope[0] >= 0:
        return None
    ends = [_reach(points, m, value) for m in _candidates(points, slope) if m < 0]
    never = slope[1] >= 0
    return min(low for low, _ in ends), math.inf if never else max(high for _, high in ends)


def _candidates(points: Sequence[Point], slope: tuple[float, float]) -> list[float]:
    """Slopes at which the lowest or highest line leans on other ranges than before."""
    found = set(slope)
    for earlier, low, high in points:
        for later, next_low, next_high in points:
            if later > earlier:
                found.add((next_low - low) / (later - earlier))
                found.add((next_high - high) / (later - earlier))
    return [m for m in sorted(found) if slope[0] <= m <= slope[1]]


def _reach(points: Sequence[Point], slope: float, value: float) -> tuple[float, float]:
    """When the lowest and the highest line of a slope reach the value."""
    lowest = max(low - slope * at for at, low, _ in points)
    highest = min(high - slope * at for at, _, high in points)
    return (value - min(lowest, highest)) / slope, (value - highest) / slope


def since(points: Sequence[Point], marks: Sequence[float]) -> list[Point]:
    """The points after the last mark (a refill, a new tire, bearing work), in order of time."""
    start = max(marks, default=-math.inf)
    return sorted(point for point in points if point[0] >= start)


def refills(points: Sequence[Point]) -> list[float]:
    """Times at which a row that can only fall stands surely higher than before."""
    rows = sorted(points)
    found, lowest = [], math.inf
    for at, low, high in rows:
        if low > lowest:
            found.append(at)
            lowest = high
        lowest = min(lowest, high)
    return found
