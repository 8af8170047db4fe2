"""Tongue, axle and reserve sums against worked examples and statics done another way."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checks.judge import judge
from tests.support.quantities import work_out

LB, IN = 0.45359237, 25.4
DAY = "2026-07-14"

# An 800 lb trailer with 80 lb on the ball, 10 ft from ball to axle, 1200 lb of cargo whose middle
# is 12 in ahead of the axle. The moment balance in the tests below gives every value.
TRAILER: dict[str, Any] = {
    "axles": 1, "boat": "no", "tilt": "no", "weighed": "no", "tongue_by": "cargo",
    "empty_weight": "800 lb", "tongue_empty": "80 lb", "ball_to_axle": "120 in",
    "deck_front": "60 in", "deck_rear": "60 in",
    "cargo_count": 1, "cargo_1": "1200 lb", "cargo_1_ahead": "12 in",
}  # fmt: skip
SCALE_DAY: dict[str, Any] = {
    "axles": 1, "weighed": "no", "tongue_by": "weighings", "scale_step": 0.1,
    "weighing_alone": "4620 lb", "weighing_hitched": "4840 lb", "weighing_all": "6580 lb",
}  # fmt: skip


def in_unit(name: str, facts: dict[str, Any], unit: float = 1.0) -> tuple[float, float]:
    low, high = work_out(name, facts)
    return (low / unit, high / unit)


def verdict(facts: dict[str, Any]) -> dict[str, Any]:
    return judge({"check": "figures", "date": DAY, "facts": facts})


def found(facts: dict[str, Any]) -> set[str]:
    return {entry["finding"] for entry in verdict(facts)["findings"]}


@pytest.mark.parametrize(
    ("name", "changes", "unit", "value"),
    [
        ("tongue_load", {}, LB, 200.0),
        ("axle_load", {}, LB, 1800.0),
        ("tongue_share", {}, 1.0, 10.0),
        ("tongue_share", {"cargo_1_ahead": "6 in"}, 1.0, 7.0),
        ("cargo_best", {}, IN, 17.0),
        ("cargo_middle", {}, IN, 12.0),
        ("tongue_per_inch", {}, LB, 10.0),
        ("loaded_weight", {}, LB, 2000.0),
        ("tongue_load", {"cargo_count": 0}, LB, 80.0),
        ("axle_load", {"cargo_count": 0}, LB, 720.0),
    ],
)
def test_worked_moment_balance_comes_out(name, changes, unit, value):
    """By hand: T = 80 + 1200 * 12 / 120 lb; 10 lb more for each inch; 250 lb at 17 in is 12.5 %."""
    assert in_unit(name, TRAILER | changes, unit) == pytest.approx((value, value), rel=1e-9)


def test_cargo_set_where_it_sits_best_gives_the_middle_of_the_advice():
    facts = TRAILER | {"cargo_1_ahead": work_out("cargo_best", TRAILER)[0]}
    assert in_unit("tongue_share", facts) == pytest.approx((12.5, 12.5))
    assert in_unit("tongue_share", TRAILER | {"cargo_1_ahead": "16 in"}) == pytest.approx((12, 12))


def by_solver(items: list[tuple[float, float]], empty: float, ball: float, span: float) -> Any:
    """Forces on ball and axle from the two balances of a beam, solved as a linear system (numpy).

    The empty trailer is one more item, placed where its own tongue weight puts it.
    """
    loads = [*items, (empty, ball * span / empty)]
    sums = [sum(w for w, _ in loads), sum(w * x for w, x in loads)]
    return np.linalg.solve([[1.0, 1.0], [span, 0.0]], sums)


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.floats(1, 900), st.floats(-1500, 1500)), min_size=1, max_size=6),
    st.floats(200, 1500), st.floats(5, 150), st.floats(2000, 6000),
)  # fmt: skip
def test_tongue_and_axle_agree_with_a_solved_beam(items, empty, ball, span):
    facts = TRAILER | {
        "empty_weight": empty, "tongue_empty": ball, "ball_to_axle": span,
        "cargo_count": len(items),
    }  # fmt: skip
    for number, (weight, ahead) in enumerate(items, 1):
        facts |= {f"cargo_{number}": weight, f"cargo_{number}_ahead": ahead}
    tongue, axle = by_solver(items, empty, ball, span)
    assert work_out("tongue_load", facts)[0] == pytest.approx(tongue, rel=1e-9, abs=1e-6)
    assert work_out("axle_load", facts)[0] == pytest.approx(axle, rel=1e-9, abs=1e-6)


def test_items_beyond_the_count_do_not_blur_the_sum():
    facts = TRAILER | {"cargo_count": 2, "cargo_2": "100 lb", "cargo_2_ahead": "-24 in"}
    assert in_unit("tongue_load", facts, LB) == pytest.approx((180.0, 180.0))
    assert in_unit("cargo_weight", facts, LB) == pytest.approx((1300.0, 1300.0))


def test_a_rough_weight_widens_axle_and_tongue_once():
    facts = TRAILER | {"cargo_1": [1000 * LB, 1200 * LB]}
    assert in_unit("tongue_load", facts, LB) == pytest.approx((180.0, 200.0))
    assert in_unit("axle_load", facts, LB) == pytest.approx((1620.0, 1800.0))


@pytest.mark.parametrize(
    ("block", "scale", "reading", "value"),
    [("1 ft", "2 ft", "85 lb", 255.0), ("1 ft", "3 ft", "85 lb", 340.0), ("1 ft", "1 ft", 85, 375)],
)
def test_lever_multiplies_as_a_boat_trailer_manual_has_it(block, scale, reading, value):
    """Owner's manual: 1 ft and 2 ft is times three, 1 ft and 3 ft times four; else lever rule."""
    facts = {
        "tongue_by": "lever", "lever_pivot": block, "lever_scale": scale, "lever_reading": reading,
    }  # fmt: skip
    expected = value if isinstance(reading, str) else 2 * 85 / LB
    assert in_unit("tongue_load", facts, LB)[0] == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    ("name", "value"),
    [("tongue_load", 220.0), ("axle_load", 1740.0), ("loaded_weight", 1960.0)],
)
@pytest.mark.parametrize("step", [10, 20])
def test_three_weighings_give_a_middle_and_a_doubt(name, value, step):
    """Arithmetic on 4620, 4840 and 6580 lb; two readings of one step each are two steps apart."""
    low, high = in_unit(name, SCALE_DAY | {"scale_step": f"{step} lb"}, LB)
    assert (low, high) == pytest.approx((value - 2 * step, value + 2 * step))


def test_share_from_three_weighings():
    """220 of 1960 lb is 11.2 %."""
    low, high = work_out("tongue_share", SCALE_DAY)
    assert low <= 11.2245 <= high
    assert (low, high) == pytest.approx((11.2245, 11.2245), rel=0.01)


def test_bathroom_scale_reading_is_the_tongue_load():
    facts = {"tongue_by": "scale", "tongue_scale": "180 lb", "weighed": "yes"}
    assert in_unit("tongue_load", facts, LB) == pytest.approx((180, 180))
    facts |= {"gross_weight": "1500 lb"}
    assert in_unit("tongue_share", facts) == pytest.approx((12, 12))
    assert in_unit("axle_load", facts, LB) == pytest.approx((1320, 1320))


AXLE_1740 = {
    "axles": 1, "tongue_by": "scale", "tongue_scale": "220 lb", "weighed": "yes",
    "gross_weight": "1960 lb", "axle_rating": "2000 lb",
}  # fmt: skip


@pytest.mark.parametrize(
    ("name", "unit", "value"), [("axle_reserve", 1.0, 13.0), ("wheel_load", LB, 904.8)]
)
def test_worked_reserve_comes_out(name, unit, value):
    """1740 lb on a 2000 lb axle leaves 13.0 %; at 52 to 48 the heavier wheel has 904.8 lb."""
    assert in_unit(name, AXLE_1740, unit) == pytest.approx((value, value), rel=1e-6)


@pytest.mark.parametrize(
    ("axles", "equalized", "wanted"),
    [(1, None, (1740, 1740)), (2, "yes", (870, 870)), (3, "yes", (580, 580)), (2, "no", (0, 1740))],
)
def test_axles_share_alike_only_where_equalized(axles, equalized, wanted):
    facts = AXLE_1740 | {"axles": axles, "equalized": equalized}
    assert in_unit("load_per_axle", facts, LB) == pytest.approx(wanted)


def test_tilt_bed_balances_about_its_pivot():
    """By hand: (200*10 + 1200*12) / 1400 = 11.714 in ahead of the axle, 8.286 behind the pivot."""
    facts = TRAILER | {
        "tilt": "yes", "bed_weight": "200 lb", "bed_middle_ahead": "10 in", "pivot_ahead": "20 in",
    }  # fmt: skip
    assert in_unit("bed_balance", facts, IN) == pytest.approx((-8.285714, -8.285714), rel=1e-6)
    assert "bed_tips" in found(facts)
    assert "bed_tips" not in found(facts | {"pivot_ahead": "11 in"})


def test_both_advices_are_shown_for_a_2000_lb_trailer():
    """10 to 15 and 5 to 10 % of 2000 lb; Europe 4 to 7 % but no more than 50 to 80 kg."""
    assert in_unit("tongue_advised", TRAILER, LB) == pytest.approx((200, 300))
    assert in_unit("tongue_other", TRAILER, LB) == pytest.approx((100, 200))
    assert in_unit("tongue_europe", TRAILER) == pytest.approx((80 * LB, 140 * LB))
    assert in_unit("tongue_advised", TRAILER | {"boat": "yes"}, LB) == pytest.approx((100, 140))
    heavy = TRAILER | {"empty_weight": "5000 lb"}
    assert in_unit("tongue_europe", heavy) == pytest.approx((50, 80))


SHARES = ("tongue_share_low", "tongue_share_light", "tongue_share_heavy")


@pytest.mark.parametrize(
    ("percent", "boat", "wanted"),
    [
        (4.9, "no", {"tongue_share_low"}), (5, "no", {"tongue_share_light"}),
        (9.9, "no", {"tongue_share_light"}), (10, "no", set()), (15, "no", set()),
        (15.1, "no", {"tongue_share_heavy"}), (4.9, "yes", {"tongue_share_low"}),
        (5, "yes", set()), (9.9, "yes", set()), (15.1, "yes", {"tongue_share_heavy"}),
    ],
)  # fmt: skip
def test_share_is_judged_inside_on_and_outside_the_advice(percent, boat, wanted):
    facts = {
        "tongue_by": "scale", "tongue_scale": percent * 10, "weighed": "yes", "gross_weight": 1000,
        "boat": boat,
    }  # fmt: skip
    assert found(facts) & set(SHARES) == wanted


def test_nothing_is_judged_on_cargo_beyond_the_deck():
    facts = TRAILER | {"cargo_1_ahead": "-61 in", "axle_rating": "900 lb"}
    placed = {"tongue_share_low", "tongue_share_light", "tongue_over", "axle_over", "axle_near"}
    assert found(facts) & {*placed, "cargo_past_deck"} == {"cargo_past_deck"}
    assert found(facts | {"cargo_1_ahead": "-60 in"}) >= {"tongue_share_low", "axle_over"}


@settings(max_examples=40, deadline=None)
@given(st.floats(-1500, 1500), st.floats(0, 500), st.floats(50, 900))
def test_cargo_further_back_never_loads_the_tongue_more(ahead, back, weight):
    facts = TRAILER | {"cargo_1": weight}
    loads = [
        work_out("tongue_load", facts | {"cargo_1_ahead": x})[0] for x in (ahead, ahead - back)
    ]
    assert loads[1] <= loads[0]


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@given(st.floats(50, 3000), st.floats(0, 500), st.floats(200, 3000))
def test_a_heavier_trailer_never_leaves_more_to_its_rating(weight, more, rating):
    levels = ["nothing", "stop"]
    facts = {"tongue_by": "scale", "weighed": "yes", "gross_rating": rating}
    ranks = [
        levels.index("stop" if "payload_over" in found(facts | {"gross_weight": w}) else "nothing")
        for w in (weight, weight + more)
    ]
    assert ranks == sorted(ranks)


TIRES = {"tire_family": "st", "rating_by": "load", "tire_rating": "1360 lb"}


@pytest.mark.parametrize(
    ("changes", "value"),
    [({}, 1 - 904.8 / 1360), ({"tire_family": "passenger"}, 1 - 904.8 * 1.1 / 1360)],
)
def test_worked_tire_reserve_comes_out(changes, value):
    """904.8 lb on a tire for 1360 lb; a car tire counts for its load over 1.1, 49 CFR 571.110."""
    low, high = work_out("tire_reserve", AXLE_1740 | TIRES | changes)
    assert (low, high) == pytest.approx((100 * value, 100 * value), rel=1e-6)


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@given(st.floats(20, 160), st.floats(20, 145), st.floats(0, 15))
def test_closer_to_the_speed_of_sway_is_never_milder(sway, planned, more):
    ranks = [
        "sway_close" in found({"sways": "yes", "sway_speed": sway, "planned_speed": p})
        for p in (planned, planned + more)
    ]
    assert ranks == sorted(ranks)
