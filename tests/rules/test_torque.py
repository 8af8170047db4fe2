"""Wheel nut sums against a worked example, stress-area tables and published torque ranges."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checks.formula import Expr
from checks.trade.torque import STUDS, clamp, stress_area
from tests.support.quantities import evaluate, work_out

NEWTONS = 4.4482216152605  # in one pound-force
SQUARE_INCH = 645.16
LB_FT = 1.3558179483314004
HALF = {"stud": "s1_2", "torque_from": "none", "torque_used": "90 lb_ft", "thread_state": "dry"}


@pytest.mark.parametrize(("factor", "pounds"), [(0.2, 10800), (0.15, 14400), (0.25, 8640)])
def test_clamp_force_of_the_worked_example_comes_out(factor, pounds):
    """90 lb-ft on a 1/2 in stud; Shigley's T = K D F."""
    force = evaluate(clamp(Expr(90 * LB_FT), Expr(factor), Expr(12.7)))[0]
    assert force / NEWTONS == pytest.approx(pounds, rel=1e-6)


@pytest.mark.parametrize(
    ("state", "low", "high", "share"),
    [
        ("dry", 10800, 10800, 56),
        ("plated", 10800, 14400, 75),
        ("oiled", 12000, 14400, 75),
        ("antiseize", 16615, 18000, None),
        ("rusty", 7200, 8640, None),
    ],
)
def test_threads_change_the_clamp(state, low, high, share):
    """The same example: at most 56 % of Grade 8 proof dry, 75 % oiled; the rest T/(K D) by hand."""
    facts = HALF | {"thread_state": state}
    force = work_out("clamp_force", facts)
    assert force[0] / NEWTONS == pytest.approx(low, rel=1e-3)
    assert force[1] / NEWTONS == pytest.approx(high, rel=1e-3)
    assert work_out("clamp_spread", facts) == pytest.approx((0.75 * force[0], 1.25 * force[1]))
    if share:
        assert work_out("stud_share", facts)[1] == pytest.approx(share, abs=0.4)


@pytest.mark.parametrize(
    ("stud", "square_mm"),
    [
        ("s7_16", 0.1187 * SQUARE_INCH), ("s1_2", 0.1599 * SQUARE_INCH),
        ("s9_16", 0.203 * SQUARE_INCH), ("s5_8", 0.256 * SQUARE_INCH),
        ("m10", 58.0), ("m12", 88.1), ("m14", 125.0),
    ],
)  # fmt: skip
def test_stress_area_is_that_of_the_tables(stud, square_mm):
    """ASME B1.1 and ISO 898-1 tables, from memory."""
    assert work_out("stud_area", {"stud": stud})[0] == pytest.approx(square_mm, rel=0.004)


def test_stress_of_the_worked_example_comes_out():
    """67.5 ksi over 0.16 in2."""
    area = evaluate(stress_area(Expr(12.7), Expr(1.27), Expr(0.9743)))[0] / SQUARE_INCH
    assert area == pytest.approx(0.16, abs=0.0005)
    assert 10800 / area / 1000 == pytest.approx(67.5, abs=0.1)


@pytest.mark.parametrize(
    ("stud", "low", "high"),
    [
        ("s7_16", 70, 80), ("s1_2", 75, 120), ("s9_16", 120, 150), ("s5_8", 140, 210),
        ("m10", 45, 55), ("m12", 75, 95), ("m14", 85, 120),
    ],
)  # fmt: skip
def test_published_range_is_shown(stud, low, high):
    """Ranges of trailer wheel and owner pages, lb-ft."""
    facts = {"stud": stud, "torque_from": "none"}
    for least, most in [("torque_least", "torque_most"), ("torque_low_end", "torque_high_end")]:
        assert work_out(least, facts)[0] == pytest.approx(low * LB_FT)
        assert work_out(most, facts)[0] == pytest.approx(high * LB_FT)


def test_the_maker_comes_before_the_published_range():
    one = HALF | {"torque_from": "figure", "torque_maker": "100 lb_ft"}
    two = HALF | {"torque_from": "range", "torque_maker": "85 lb_ft", "torque_top": "95 lb_ft"}
    for facts, low, high in [(one, 100, 100), (two, 85, 95)]:
        assert work_out("torque_low_end", facts)[0] == pytest.approx(low * LB_FT)
        assert work_out("torque_high_end", facts)[0] == pytest.approx(high * LB_FT)


@pytest.mark.parametrize(
    ("done", "due"),
    [("0 mi", 10), ("9 mi", 10), ("10 mi", 25), ("24 mi", 25), ("25 mi", 50), ("60 mi", 50)],
)
def test_next_torquing_follows_the_published_steps(done, due):
    """10, 25 and 50 miles, axle service manuals as quoted in trade pages."""
    assert work_out("torque_next", {"torqued_at": done})[0] == pytest.approx(
        due * 1.609344, rel=0.001
    )


@pytest.mark.slow
@given(st.floats(10, 900), st.floats(10, 900), st.sampled_from(STUDS))
def test_more_torque_never_clamps_less(one, other, stud):
    less, more = sorted((one, other))
    forces = [
        work_out("clamp_force", HALF | {"stud": stud, "torque_used": t}) for t in (less, more)
    ]
    assert forces[0][0] <= forces[1][0]
    assert forces[0][1] <= forces[1][1]
