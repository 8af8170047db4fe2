"""A climb, a straight loss, a day to come: against sums by hand and against scipy's programming."""

from __future__ import annotations

import math
import re
from pathlib import Path
from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog
from scipy.special import ndtr

from checks.trend import (
    ALARM,
    EITHER,
    FLAT,
    GRID,
    KELVIN,
    MATES,
    MOST,
    STEPS,
    Gap,
    at_value,
    climb,
    gap,
    refills,
    since,
    slopes,
)
from tests.benchmarks.trends import HEAD, beside, false_alarm, noticed
from tests.support.effort import PART, rounds

# 32nds of an inch of tread over thousands of miles, half a 32nd either way.
TREAD = [(0.0, 8.5, 9.5), (4.0, 6.5, 7.5), (8.0, 4.5, 5.5)]


def test_the_slope_of_a_straight_loss_is_the_range_of_all_lines() -> None:
    assert slopes(TREAD) == pytest.approx((-5 / 8, -3 / 8))


def test_the_day_the_tread_reaches_its_bars_is_a_range() -> None:
    # Steepest line to 2: from 9.5 at 0 to 4.5 at 8; flattest: from 8.5 at 0 to 5.5 at 8.
    assert at_value(TREAD, 2.0) == pytest.approx((12.0, 8 + 3.5 / (3 / 8)))


@pytest.mark.parametrize(
    ("title", "points", "slope"),
    [
        ("one time is no row", [(1.0, 5.0, 6.0)], None),
        ("no point", [], None),
        ("two readings of one time", [(1.0, 5.0, 6.0), (1.0, 5.5, 6.5)], None),
        ("no line passes through", [(0.0, 1, 2), (1.0, 5, 6), (2.0, 1, 2)], None),
        ("a line touches each range at its end", [(0.0, 1, 2), (1.0, 2, 3), (2.0, 1, 2)], (0, 0)),
        ("exact points", [(0.0, 9, 9), (2.0, 8, 8)], (-0.5, -0.5)),
    ],
)
def test_slopes(title, points, slope) -> None:
    assert slopes(points) == (slope if slope is None else pytest.approx(slope)), title


@pytest.mark.parametrize(
    ("title", "points", "reached"),
    [
        ("a row that may stand still may never arrive", [(0, 8, 9), (4, 8, 9)], (28.0, math.inf)),
        ("a row that rises never does", [(0, 5, 5.5), (4, 7, 8)], None),
        ("on the value already", [(0.0, 4, 4), (2.0, 2, 2)], (2.0, 2.0)),
    ],
)
def test_days_to_come(title, points, reached) -> None:
    assert at_value(points, 2.0) == (reached if reached is None else pytest.approx(reached)), title


@st.composite
def losses(draw: st.DrawFn) -> list[tuple[float, float, float]]:
    """Ranges round a falling line, so that one line at least passes through all."""
    start, slope = draw(st.floats(5, 12)), draw(st.floats(-1, -0.05))
    points = []
    for at in draw(st.lists(st.integers(0, 20), min_size=2, max_size=6, unique=True)):
        below, above = draw(st.floats(0.05, 1)), draw(st.floats(0.05, 1))
        middle = start + slope * at
        points.append((float(at), middle - below, middle + above))
    return points


@pytest.mark.slow
@settings(max_examples=100, deadline=None)
@given(losses())
def test_linear_programming_finds_the_same_slopes_and_days(points) -> None:
    upper = [[at, 1] for at, _, _ in points] + [[-at, -1] for at, _, _ in points]
    limits = [high for *_, high in points] + [-low for _, low, _ in points]

    def best(weights: list[float]) -> float:
        found = linprog(weights, upper, limits, bounds=[(None, None)] * 2)
        assert found.success
        return float(found.fun)

    least, most = best([1, 0]), -best([-1, 0])
    assert slopes(points) == pytest.approx((least, most), abs=1e-7)
    reached = at_value(points, 2.0)
    if least >= -1e-6 or min(low for _, low, _ in points) <= 2.0:
        return  # never, or perhaps there already
    assert reached is not None
    # On the first day some line has come down to the value, a little before none has. On the last
    # even the highest line has.
    first, last = reached
    assert best([first, 1]) == pytest.approx(2.0, abs=1e-5)
    if math.isfinite(last) and last < 1e4:
        assert -best([-last, -1]) == pytest.approx(2.0, abs=1e-4)


def test_a_mark_begins_the_row_again_and_a_refill_is_one() -> None:
    row = [(0.0, 49.0, 50.0), (30.0, 46.0, 47.0), (60.0, 49.5, 50.5), (90.0, 47.0, 48.0)]
    assert refills(row) == [60.0]
    assert since(row, refills(row)) == row[2:]
    assert since(row, []) == row


# ---- climbs -----------------------------------------------------------------------------------


def by_scipy(rows: list[Gap]) -> tuple[float, int]:
    """How much likelier the last climb is than a level, and how many readings it took."""
    low, high, noise, mates = np.array(rows).T
    half = np.maximum((high - low) / 2, noise / 10)

    def cost(level: float, ups: np.ndarray) -> float:
        away = (level + ups - (low + high) / 2) / noise
        share = ndtr(away + half / noise) - ndtr(away - half / noise)
        best = ndtr(half / noise) - ndtr(-half / noise)
        costs = np.minimum(-np.log(np.maximum(share / best, 1e-300)), MOST)
        return float(costs.sum()) + (level / mates.mean()) ** 2 / 2

    def least(long: int, step: float = 0.0) -> float:
        ups = step * np.maximum(0, np.arange(len(rows)) - (len(rows) - long) + 1)
        return min(cost(GRID * n, ups) for n in range(-EITHER, EITHER + 1))

    return max((least(0) - least(long, step), long) for long in (1, 2, 3) for step in STEPS)


def by_fit(rows: list[Gap], long: int) -> tuple[float, float]:
    """Slope of a climb over the last readings, and its spread: generalized least squares."""
    design = np.array([[1.0, max(0, i - (len(rows) - long) + 1)] for i in range(len(rows))])
    weight = np.diag([1 / row.spread**2 for row in rows])
    level = np.mean([row.mates for row in rows])
    cov = np.linalg.inv(design.T @ weight @ design + np.diag([1 / level**2, 0.0]))
    slope = (cov @ design.T @ weight @ np.array([row.middle for row in rows]))[1]
    return slope, math.sqrt(cov[1, 1])


@pytest.mark.sample
def test_a_climb_is_what_normal_probabilities_and_generalized_least_squares_say() -> None:
    rng, seen = Random(3), 0
    for _ in range(rounds(40)):
        rows = []
        for number in range(rng.randint(9, 14)):
            middle = rng.gauss(0, 0.08) + max(0, number - 7) * rng.choice([0.0, 0.3])
            half = rng.choice([0.0, rng.uniform(0.05, 0.25)])
            rows.append(Gap(middle - half, middle + half, rng.uniform(0.05, 0.1), 0.2))
        first = next(
            (n for n in range(7, len(rows) + 1) if by_scipy(rows[:n])[0] > ALARM), len(rows) + 1
        )
        found = climb(rows)
        if found is None or found.shown < 6:  # shorter climbs are tried there
            assert found or first > len(rows)
            continue
        seen += 1
        assert found.shown == first - 1
        slope, spread = by_fit(rows[:first], by_scipy(rows[:first])[1])
        assert (found.low, found.high) == pytest.approx((slope - 2 * spread, slope + 2 * spread))
    assert seen > 10 / PART


@pytest.mark.parametrize(
    ("title", "rows", "shown"),
    [
        ("nothing yet", [], None),
        ("four readings are too few", [(0.0, 0.0)] * 3 + [(0.6, 0.0)], None),
        ("level", [(0.1, 0.0)] * 20, None),
        ("a steady difference between mates", [(0.25, 0.0)] * 20, None),
        ("a climb", [(0.0, 0.0)] * 6 + [(0.2, 0.0), (0.45, 0.0), (0.7, 0.0)], 7),
        ("a fall is none", [(0.0, 0.0)] * 6 + [(-0.3, 0.0), (-0.6, 0.0)], None),
        ("one rough answer that may say nothing", [(0.0, 0.2)] * 6 + [(0.3, 0.25)], None),
        ("rough readings say less", [(0.0, 0.6)] * 6 + [(0.3, 0.6), (0.6, 0.6)], None),
        ("twice as steep is a climb, too", [(0.0, 0.0)] * 6 + [(0.5, 0.0), (1.0, 0.0)], 6),
        ("one reading far off is none", [(0.0, 0.0)] * 8 + [(2.0, 0.0), (0.0, 0.0)], None),
    ],
)
def test_climbs(title, rows, shown) -> None:
    found = climb([Gap(middle - half, middle + half, 0.08, 0.2) for middle, half in rows])
    assert (found.shown if found else None) == shown, title


@pytest.mark.parametrize(
    ("title", "own", "mate", "felt", "wanted"),
    [
        ("by thermometer", (40.0, 40.0), (36.0, 36.0), None, (0.2, 0.2)),
        ("by hand, the pair says more", (34, 38), (34, 38), "alike", (-3.5 / 20, 3.5 / 20)),
        ("the pair's word counts where they disagree", (25, 34), (38, 43), "slightly",
         (2.5 / 20, 9 / 20)),
        ("nothing known", (-45, 25), (-45, 25), None, None),
    ],
)  # fmt: skip
def test_gaps(title, own, mate, felt, wanted) -> None:
    found = gap(own, mate, 20.0, 1.25, felt)
    noise = math.hypot(FLAT, KELVIN / 20)
    assert found == (wanted and pytest.approx((*wanted, noise, MATES * 1.25))), title


def test_a_gap_has_a_middle_a_spread_and_another_side() -> None:
    one = Gap(-0.1, 0.5, 0.08, 0.2)
    assert (one.middle, one.spread) == pytest.approx((0.2, math.hypot(0.08, 0.6 / math.sqrt(12))))
    assert one.seen_from_mate() == (-0.5, 0.1, 0.08, 0.2)
    assert (one.rough, one.shown) == (True, (-0.1, 0.5))
    read = Gap(0.2, 0.2, 0.08, 0.2)
    assert (read.rough, read.shown) == (False, pytest.approx((0.12, 0.28)))


JUDGEMENT = Path(__file__).parents[2] / "docs" / "judgement.md"


def test_the_page_of_judgement_has_what_is_promised_of_climbs() -> None:
    """At most one sound history in 100 with an alarm; four climbs in five two stops early."""
    section = JUDGEMENT.read_text("utf-8").partition(HEAD)[2]
    false = re.search(r"false alarm \| ([\d.]+) %", section)
    early = re.search(r"hand or thermometer: .* before Mend \| (\d+)%", section)
    assert float(false[1]) <= 1.0
    assert int(early[1]) >= 80


def test_a_section_is_put_in_place_of_the_one_before() -> None:
    page = f"# Page\n\n## One\n\na\n\n{HEAD}\n\nold\n\n## Two\n\nb\n"
    assert beside(page, f"\n{HEAD}\n\nnew\n") == page.replace("old", "new")
    assert beside("# Page\n", f"\n{HEAD}\n\nnew\n") == f"# Page\n\n{HEAD}\n\nnew\n"


# ---- the simulation of docs/trends.md, in short ---------------------------------------------


@pytest.mark.sample
@pytest.mark.slow
def test_sound_hubs_raise_no_alarm_over_the_seasons() -> None:
    rng, seasons = Random(5), rounds(100)
    assert sum(false_alarm(rng) for _ in range(seasons)) <= 0.03 * seasons


@pytest.mark.slow
def test_a_growing_drag_is_seen_well_before_it_must_be_mended() -> None:
    rng = Random(6)
    found = [noticed(rng) for _ in range(40)]
    assert sum(mend - seen >= 2 for seen, _, mend in found) >= 0.7 * len(found)  # 40 runs of 80 %
