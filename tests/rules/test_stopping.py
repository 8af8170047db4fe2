"""Stopping and the pull on chains against worked examples, pint and the federal table."""

import math

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checks.formula import Expr
from checks.trade.stopping import braking, push, snatch
from tests.support.quantities import evaluate, work_out

UREG = pint.get_application_registry()
LB, FT, G = 0.45359237, 0.3048, 9.80665
TOWED = {
    "axles": 1, "brakes": "none", "weighed": "yes", "tongue_by": "scale", "tongue_scale": 50,
    "gross_weight": "1500 lb", "tow_weight": "4500 lb", "planned_speed": "60 mph",
    "road_wet": "dry",
}  # fmt: skip


def value(expr, *terms):
    return evaluate(expr(*(Expr(float(t)) for t in terms)))[0]


@pytest.mark.parametrize(("mph", "share"), [(60, 0.7), (20, 0.4), (45, 0.525), (75, 0.3)])
def test_braking_distance_is_the_one_pint_works_out(mph, share):
    speed = UREG.Quantity(mph, "mile/hour")
    wanted = (speed**2 / (2 * share * UREG.Quantity(1, "standard_gravity"))).to("m").magnitude
    assert value(braking, mph * 0.44704, share * G) == pytest.approx(wanted, rel=1e-9)


@pytest.mark.parametrize(
    ("name", "feet", "end"),
    [("reaction_way", 132.0, 0), ("stop_alone", 303.9, 0), ("stop_added", 57.3, 0),
     ("stop_with", 303.9 + 57.3, 0), ("reaction_way", 220.0, 1)],
)  # fmt: skip
def test_stop_from_60_mph_comes_out(name, feet, end):
    """Worked with pint: 60 mph, 0.7 g, 1.5 s; 1500 lb unbraked behind 4500 lb adds a third."""
    assert work_out(name, TOWED)[end] / FT == pytest.approx(feet, abs=0.06)


def test_push_on_the_ball_comes_out():
    """1500 lb at 0.525 g is 788 lbf."""
    assert work_out("ball_push", TOWED)[0] / LB == pytest.approx(787.5, abs=0.1)
    assert value(push, 0.7, 1500, 4500) == pytest.approx(787.5)


def test_braked_trailer_stops_itself():
    facts = TOWED | {"brakes": "electric"}
    assert work_out("stop_added", facts) == (0, 0)
    assert work_out("ball_push", facts) == (0, 0)


def test_forty_feet_from_20_mph_is_the_federal_slowing_and_a_short_lag():
    """49 CFR 393.52(d): 14 ft/s2 and 40 ft, which leaves 0.316 s for the brakes to bite."""
    feet = value(braking, 20 * 0.44704, 14 * FT) / FT
    assert feet == pytest.approx(30.73, abs=0.01)
    assert feet + 0.316 * 29.333 == pytest.approx(40, abs=0.01)


@pytest.mark.parametrize(
    ("degrees", "factor"), [(0, 0.5), (15, 0.518), (30, 0.577), (45, 0.707), (60, 1.0)]
)
def test_chain_share_comes_out(degrees, factor):
    """Statics: 1 / (2 cos angle)."""
    low, high = work_out("chain_share", {"chain_angle": [degrees, degrees]})
    assert low == high == pytest.approx(factor, abs=0.0005)


@pytest.mark.parametrize("degrees", [2.5, 17, 33, 52.5, 58])
def test_chain_share_between_the_points_errs_high_by_little(degrees):
    exact = 0.5 / math.cos(math.radians(degrees))
    low, _ = work_out("chain_share", {"chain_angle": [degrees, degrees]})
    assert exact <= low <= exact * 1.006


def test_chain_pull_comes_out():
    """3500 lb at 0.4 g is 1400 lbf, 808.3 on each chain at 30 degrees."""
    facts = TOWED | {"gross_weight": "3500 lb", "chain_angle": [30, 30]}
    assert work_out("chain_pull", facts)[0] / LB == pytest.approx(808.3, abs=0.1)


def test_snatch_comes_out():
    """2000 lb taken up from 3 ft/s within 0.1 ft: 2797 lbf."""
    assert value(snatch, 2000, 3 * FT, 0.1 * FT) == pytest.approx(2797, abs=1)


def test_snatch_of_slack_is_its_fall():
    """Work and energy: what 0.4 g does over the slack is taken up over the stretch."""
    low, high = work_out("chain_snatch", TOWED | {"chain_slack": [100, 100]})
    assert low == pytest.approx(1500 * LB * 0.4 * 100 / 30)
    assert high == pytest.approx(1500 * LB * 0.4 * 100 / 10)


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@given(st.floats(200, 4000), st.floats(0, 2000), st.floats(20, 130), st.floats(0, 30))
def test_heavier_or_faster_never_stops_shorter(weight, more, speed, faster):
    def way(gross, kmh):
        return work_out("stop_with", TOWED | {"gross_weight": gross, "planned_speed": kmh})

    light = way(weight, speed)
    assert way(weight + more, speed)[0] >= light[0]
    assert way(weight, speed + faster)[1] >= light[1]
