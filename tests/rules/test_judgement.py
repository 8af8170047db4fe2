"""Right and not jumpy: sound and faulty hubs drawn from the heat model, judged as stops.

The same seeded simulation as docs/judgement.md, in short. The bounds are what the product promises.
"""

import pytest

from tests.benchmarks.judgement import (
    Setting,
    celsius,
    point_shares,
    shares,
    tire_answers,
    tongue_answers,
)

RUNS = 200


def air(low: float, high: float) -> tuple[float, float]:
    """A span of degF in degC."""
    return celsius(low), celsius(high)


SOUND = [  # title, setting, most that may be Look again or worse
    ("frost", Setting(air(14, 32)), 0.05),
    ("cool", Setting(air(32, 50)), 0.05),
    ("mild", Setting(air(50, 90)), 0.02),
    ("heat wave", Setting(air(90, 104)), 0.05),
    ("desert", Setting(air(104, 125)), 0.05),
    ("normal braking", Setting(air(50, 90), braking="normal"), 0.05),
    ("hard braking", Setting(air(50, 90), braking="hard"), 0.05),
    ("desert, hard braking", Setting(air(104, 125), braking="hard"), 0.05),
    ("wheel centre", Setting(air(50, 90), spot="wheel"), 0.05),
    ("cap", Setting(air(50, 90), spot="cap"), 0.05),
    ("drum", Setting(air(50, 90), spot="drum", braking="normal"), 0.05),
    ("parked long", Setting(air(50, 90), parked=(10, 25)), 0.05),
    ("frost, by hand", Setting(air(14, 32), by="hand"), 0.10),
    ("mild, by hand", Setting(air(50, 90), by="hand"), 0.10),
    ("normal braking, by hand", Setting(air(50, 90), by="hand", braking="normal"), 0.10),
    ("hard braking, by hand", Setting(air(50, 90), by="hand", braking="hard"), 0.10),
    ("heat wave, by hand", Setting(air(90, 104), by="hand"), 0.20),
    ("desert, by hand", Setting(air(104, 125), by="hand"), 0.20),
    ("desert, braked, by hand", Setting(air(104, 125), by="hand", braking="normal"), 0.20),
]


@pytest.mark.parametrize(("title", "setting", "most"), SOUND, ids=[s[0] for s in SOUND])
def test_sound_hubs_are_left_in_peace(title, setting, most):
    counts = shares(2, setting, RUNS)
    jumpy = counts["look"] + counts["mend"] + counts["stop"]
    assert counts["unchecked"] == 0, title
    assert jumpy <= most * RUNS
    assert counts["stop"] <= 0.005 * RUNS
    assert counts["bare"] == 0


AIRS = [(14, 32), (32, 50), (50, 70), (70, 90), (90, 104), (104, 125)]


@pytest.mark.parametrize("span", AIRS)
def test_two_newton_metres_of_drag_are_not_missed_by_thermometer(span):
    counts = shares(3, Setting(air(*span), (2.0, 0.0)), RUNS)
    assert counts["nothing"] <= 0.01 * RUNS


@pytest.mark.parametrize("span", AIRS)
def test_a_hot_pair_is_not_missed_by_thermometer(span):
    """Both hubs at fault: there is no cool mate to give one away."""
    counts = shares(3, Setting(air(*span), (2.0, 2.0)), RUNS)
    assert counts["nothing"] <= 0.05 * RUNS


@pytest.mark.parametrize("extra", [(1.0, 0.0), (2.0, 2.0)])
@pytest.mark.parametrize("span", AIRS)
def test_whoever_misses_drag_by_hand_is_told_that_a_hand_cannot_know(span, extra):
    counts = shares(4, Setting(air(*span), extra, "hand"), RUNS)
    assert counts["nothing"] == counts["told"]


HIDDEN = [  # brakes and drums hide what a bearing does
    Setting(air(14, 32), (2.0, 2.0), "hand", "hard"),
    Setting(air(50, 90), (2.0, 2.0), "hand", "hard"),
    Setting(air(50, 90), (2.0, 2.0), "hand", "normal", "drum"),
    Setting(air(50, 90), (2.0, 2.0), "thermometer", "hard"),
    Setting(air(50, 90), (2.0, 2.0), "thermometer", "normal", "drum"),
]


@pytest.mark.parametrize("setting", HIDDEN, ids=str)
def test_what_brakes_may_hide_is_told(setting):
    counts = shares(5, setting, RUNS)
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
