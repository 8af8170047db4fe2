"""Right and not jumpy: sound and faulty hubs drawn from the heat model, judged as stops.

The same seeded simulation as docs/judgement.md, in short. The bounds are what the product promises.
"""

import pytest

from tests.benchmarks.judgement import (
    celsius,
    point_shares,
    shares,
    tire_answers,
    tongue_answers,
)

RUNS = 200
SOUND = [  # title, air in degF, by, most that may be Look again or worse
    ("frost", (14, 32), "thermometer", 0.05),
    ("cool", (32, 50), "thermometer", 0.05),
    ("mild", (50, 90), "thermometer", 0.05),
    ("heat wave", (90, 104), "thermometer", 0.05),
    ("mild, by hand", (50, 90), "hand", 0.10),
]


@pytest.mark.parametrize(("title", "air", "by", "most"), SOUND, ids=[s[0] for s in SOUND])
def test_sound_hubs_are_left_in_peace(title, air, by, most):
    counts = shares(2, (celsius(air[0]), celsius(air[1])), 0.0, by, RUNS)
    jumpy = counts["look"] + counts["mend"] + counts["stop"]
    assert counts["unchecked"] == 0, title
    assert jumpy <= most * RUNS
    assert counts["stop"] <= 0.005 * RUNS


@pytest.mark.parametrize("air", [(14, 32), (32, 50), (50, 70), (70, 90), (90, 104)])
def test_two_newton_metres_of_drag_are_not_missed_by_thermometer(air):
    counts = shares(3, (celsius(air[0]), celsius(air[1])), 2.0, "thermometer", RUNS)
    assert counts["nothing"] <= 0.01 * RUNS


@pytest.mark.parametrize("air", [(14, 32), (50, 70), (90, 104)])
def test_whoever_misses_drag_by_hand_is_told_that_a_hand_cannot_know(air):
    counts = shares(4, (celsius(air[0]), celsius(air[1])), 1.0, "hand", RUNS)
    assert counts["nothing"] == counts["told"]


@pytest.mark.parametrize(("short", "level", "least"), [(0, "nothing", 0.9), (5, "mend", 1.0)])
def test_a_gauge_neither_cries_wolf_nor_sleeps(short, level, least):
    """Half a psi from reading to reading, assumed; the label says 50 psi."""
    counts = point_shares("tires", "tire_pressure", tire_answers, float(short), RUNS)
    assert counts[level] >= least * RUNS


@pytest.mark.parametrize(("share", "level"), [(0.12, "nothing"), (0.03, "mend"), (0.17, "look")])
def test_three_weighings_tell_a_sound_share_from_a_bad_one(share, level):
    """A public scale in steps of 20 lb; the published advice is 10 to 15 percent."""
    counts = point_shares("figures", "tongue", tongue_answers, share, RUNS)
    assert counts[level] >= 0.85 * RUNS
    assert counts["stop"] == 0
