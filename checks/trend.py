"""What a row of readings says that no single one does: a climb, a straight loss, a day to come.

Pure sums over points; ``static/engine/trend.js`` is the twin. A point is ``(at, low, high)``: a
day (or a stop's number, or miles) and the range its reading leaves open, in one unit throughout.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

Point = tuple[float, float, float]

# Two sound hubs differ for good by this share of a sound hub's drag (one sigma).
MATES = 0.15
# One comparison wanders by KELVIN (two readings of a thermometer that is good to 0.7 K each, and
# what turns differ in) and by FLAT (N m: load and seals). From simulated sound histories with seeds
# other than that of docs/trends.md; no hub was measured.
KELVIN, FLAT = 1.2, 0.03
# Climbs looked for, N m more at every stop: a little under the least to be found, and twice that.
STEPS = (0.2, 0.4)
# How much likelier (as a logarithm) the readings must be with a climb than without: set for one
# false alarm in 100 sound histories. And what a single reading can weigh at most.
ALARM, MOST = 3.8, math.log(1000)
# A climb may have begun with one of so many last readings; these before it say what is usual.
RECENT, BEFORE = 3, 4
# Lasting differences between mates that are tried: so many steps of GRID N m either way.
GRID, EITHER = 0.02, 30
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
    """How much more drag a hub has than its mate: range, noise, how far mates differ; N m."""

    low: float
    high: float
    noise: float
    mates: float

    @property
    def middle(self) -> float:
        return (self.low + self.high) / 2

    @property
    def spread(self) -> float:
        """One sigma of the middle."""
        return math.hypot(self.noise, (self.high - self.low) / math.sqrt(12))

    @property
    def rough(self) -> bool:
        """Whether it was a word: it leaves more open than two thermometers would."""
        return self.high - self.low > 2 * self.noise

    @property
    def shown(self) -> tuple[float, float]:
        """From where to where a plot has it: all that a word leaves open, else one sigma."""
        if self.rough:
            return self.low, self.high
        return self.middle - self.spread, self.middle + self.spread

    def seen_from_mate(self) -> Gap:
        return Gap(-self.high, -self.low, self.noise, self.mates)


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
    """How much more drag a hub has than its mate, noise as one sigma.

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
    noise = math.hypot(FLAT, KELVIN / per_unit)
    return Gap(low / per_unit, high / per_unit, noise, MATES * sound)


def climb(rows: Sequence[Gap]) -> Climb | None:
    """The first steady climb in a row of gaps, or None.

    A ratio of likelihoods: after every reading the readings so far are held against a level, and
    against a level with one of ``STEPS`` more at every stop since one of the last ``RECENT``. How
    likely a reading is comes from its whole range: a word that the level just reaches speaks for
    no climb.
    """
    unlikely = [_unlikely(row) for row in rows]
    held, mates = [0.0] * (2 * EITHER + 1), 0.0  # by level: of all readings but the last RECENT
    for count, row in enumerate(rows, 1):
        mates += row.mates
        if count > RECENT:
            held = [old + new for old, new in zip(held, unlikely[count - 1 - RECENT], strict=False)]
        last = unlikely[max(0, count - RECENT) : count]
        prior = [(GRID * n * count / mates) ** 2 / 2 for n in range(-EITHER, EITHER + 1)]
        base = [sum(both) for both in zip(held, prior, strict=True)]
        longest = min(RECENT, count - BEFORE)
        if longest < 1:
            continue
        level = _least(base, last, 0, 0)
        ratio, long = max(
            (level - _least(base, last, n, step), n)
            for n in range(1, longest + 1)
            for step in STEPS
        )
        if ratio > ALARM:
            slope, spread = _ramp(rows[:count], count - long)
            return Climb(count - 1, slope - 2 * spread, slope + 2 * spread)
    return None


def _unlikely(row: Gap) -> list[float]:
    """Minus the logarithm of how likely the reading is, by true gap in steps of ``GRID``."""
    root = row.noise * math.sqrt(2)
    half = max((row.high - row.low) / 2, row.noise / 10)  # a reading to the point has some width
    best = math.erf(half / root)

    def cost(true: float) -> float:
        away = true - row.middle
        share = (math.erf((away + half) / root) - math.erf((away - half) / root)) / 2 / best
        return MOST if share <= math.exp(-MOST) else -math.log(share)

    steps = EITHER + round(RECENT * STEPS[-1] / GRID)
    return [cost(GRID * n) for n in range(-EITHER, steps + 1)]


def _least(
    base: Sequence[float], last: Sequence[Sequence[float]], climbing: int, step: float
) -> float:
    """The least cost over all levels when so many of the last readings climb by ``step`` each."""
    ups = [max(0, n - len(last) + climbing) for n in range(1, len(last) + 1)]
    shifts = [round(up * step / GRID) for up in ups]
    return min(
        cost + sum(row[level + shift] for row, shift in zip(last, shifts, strict=True))
        for level, cost in enumerate(base)
    )


def _ramp(rows: Sequence[Gap], start: int) -> tuple[float, float]:
    """Climb per reading from number ``start`` on, and its spread; the level before is about 0."""
    mates = sum(row.mates for row in rows) / len(rows)
    level, cross, steep = 1 / mates**2, 0.0, 0.0
    level_sum, steep_sum = 0.0, 0.0
    for number, row in enumerate(rows):
        weight, up = 1 / row.spread**2, max(0, number - start + 1)
        level += weight
        cross += weight * up
        steep += weight * up * up
        level_sum += weight * row.middle
        steep_sum += weight * up * row.middle
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
