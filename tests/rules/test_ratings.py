"""Links, chains and brake laws against published tables."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checks.judge import LEVELS, judge
from checks.trade.ratings import GRADES, LINKS
from tests.support.quantities import work_out

LB = 0.45359237
SIZES = ("3_16", "1_4", "5_16", "3_8", "7_16", "1_2")
LOADED = {"axles": 1, "brakes": "none", "weighed": "yes", "tongue_by": "scale", "tongue_scale": 100}

# Working loads in lb, 49 CFR 393.108 chain table; 3/16 in from welded chain makers.
WORKING = [
    ("3_16", "30", 800), ("1_4", "30", 1300), ("1_4", "43", 2600), ("1_4", "70", 3150),
    ("1_4", "80", 3500), ("1_4", "100", 4300), ("5_16", "30", 1900), ("5_16", "43", 3900),
    ("5_16", "70", 4700), ("5_16", "80", 4500), ("5_16", "100", 5700), ("3_8", "30", 2650),
    ("3_8", "43", 5400), ("3_8", "70", 6600), ("3_8", "80", 7100), ("3_8", "100", 8800),
    ("7_16", "30", 3700), ("7_16", "43", 7200), ("7_16", "70", 8750), ("1_2", "30", 4500),
    ("1_2", "43", 9200), ("1_2", "70", 11300), ("1_2", "80", 12000), ("1_2", "100", 15000),
]  # fmt: skip


@pytest.mark.parametrize(("size", "grade", "pounds"), WORKING)
def test_chain_breaks_at_its_factor_times_the_working_load(size, grade, pounds):
    """Factor 3 for grade 43, 4 for the others: welded chain makers."""
    low, high = work_out("chain_break", {"chain_size": size, "chain_grade": f"g{grade}"})
    assert low == high == pytest.approx(pounds * (3 if grade == "43" else 4) * LB)


@pytest.mark.parametrize(("size", "mm"), [("3_16", 5.5), ("1_4", 7.0), ("3_8", 10.0)])
def test_grade_30_breaks_as_its_definition_says(size, mm):
    """Definition of chain grade: two wires of the link at ten times the grade in N/mm2."""
    newtons = 2 * math.pi / 4 * mm**2 * 300
    low, _ = work_out("chain_break", {"chain_size": size, "chain_grade": "g30"})
    assert low * 9.80665 == pytest.approx(newtons, rel=0.003)


def test_thicker_chain_is_never_weaker():
    for grade in GRADES:
        facts = {"chain_grade": f"g{grade}"}
        loads = [work_out("chain_break", facts | {"chain_size": size})[0] for size in SIZES]
        assert loads == sorted(loads), grade


@pytest.mark.parametrize(
    ("pounds", "least"),
    [(1500, 2000), (2000, 2000), (2001, 3500), (3500, 3500), (3501, 5000), (5000, 5000),
     (5001, 5001), (9000, 9000)],
)  # fmt: skip
def test_chain_class_minimum_is_read_by_weight(pounds, least):
    """SAE J684 as quoted in a safety chain guide."""
    low, high = work_out("chain_least", LOADED | {"gross_weight": f"{pounds} lb"})
    assert low == high == pytest.approx(least * LB)


@pytest.mark.parametrize(
    ("pounds", "inches"), [(1999, 1.875), (2000, 1.875), (2001, 2.0), (6000, 2.0)]
)
def test_least_ball_is_read_by_weight(pounds, inches):
    """COMAR 11.13.08.10: class 1 to 2,000 lb 1-7/8 in, class 2 and 3 2 in."""
    low, high = work_out("ball_least", LOADED | {"gross_weight": f"{pounds} lb"})
    assert low == high == pytest.approx(inches * 25.4)


@pytest.mark.parametrize(
    ("pounds", "most"),
    [(1000, 200), (2000, 300), (2001, 300.15), (3500, 525), (4000, 600), (6000, 900)],
)
def test_tongue_limit_is_read_by_class(pounds, most):
    """SAE J684 guidance in a newsletter: 200 lb, 300 lb, or 15 percent where that is more."""
    low, high = work_out("tongue_most", LOADED | {"gross_weight": f"{pounds} lb"})
    assert low == high == pytest.approx(most * LB)


@pytest.mark.parametrize(
    ("rating", "ratio"), [("3000 lb", 1.75), ("12000 lb", 1.75), ("12001 lb", 1.25)]
)
def test_surge_ratio_is_read_by_the_trailer_rating(rating, ratio):
    """49 CFR 393.48(d)(1)."""
    facts = {"brakes": "surge", "gross_rating": rating, "tow_gvwr": "4000 lb"}
    assert work_out("surge_most", facts)[0] == pytest.approx(4000 * ratio * LB)


# ---- the weakest link -----------------------------------------------------------------------

ALL = LOADED | {
    "tow_rating": 2000, "hitch_rating": 1600, "ball_rating": 1590, "coupler_rating": 2300,
    "gross_rating": 1588, "axle_rating": 1600, "tire_family": "st", "rating_by": "load",
    "tire_rating": 820, "chain_size": "1_4", "chain_grade": "g30", "chains_fitted": 2,
}  # fmt: skip


def test_weakest_link_is_the_least_of_all():
    assert work_out("weakest_link", ALL) == (1588, 1588)


@pytest.mark.parametrize(
    ("name", "value", "weakest"),
    [("tow_rating", 900, 900), ("hitch_rating", 901, 901), ("ball_rating", 902, 902),
     ("coupler_rating", 903, 903), ("gross_rating", 904, 904), ("axle_rating", 905, 905),
     ("tire_rating", 450, 900), ("chain_size", "3_16", 3200 * LB)],
)  # fmt: skip
def test_each_link_can_be_the_weakest(name, value, weakest):
    facts = ALL | {name: value}
    if name == "chain_size":
        keep = ("chain_size", "chain_grade", "chains_fitted")
        facts = {k: v for k, v in facts.items() if k in keep}
    low, high = work_out("weakest_link", facts)
    assert low == high == pytest.approx(weakest)


@pytest.mark.parametrize("name", ["tow_rating", "hitch_rating", "ball_rating", "coupler_rating"])
def test_one_known_link_is_enough(name):
    assert work_out("weakest_link", {name: 1000}) == (1000, 1000)


def test_no_known_link_is_any_load():
    low, high = work_out("weakest_link", {})
    assert low == 0
    assert high > 20000


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@given(st.floats(300, 4000), st.floats(0, 1000), st.sampled_from(sorted(LINKS)))
def test_heavier_is_never_judged_lighter(weight, more, link):
    levels = []
    for gross in (weight, weight + more):
        verdict = judge(
            {"check": "figures", "date": "2026-07-14", "facts": ALL | {"gross_weight": gross}}
        )
        found = {f["finding"]: f["level"] for f in verdict["findings"]}
        levels.append(LEVELS.index(found.get(f"rating_{link}_over", "nothing")))
    assert levels[1] <= levels[0]
