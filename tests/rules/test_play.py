"""Bearing end play against thread tables and the worked rock of a tire."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checks.formula import Expr
from checks.trade.play import THREADS, lever
from tests.support.quantities import evaluate, work_out

# thread: in thousandths of an inch a quarter turn, a slot of six and half of it; degrees that move
# 1, 5 and 10 thousandths. ASME B1.1 pitches, worked out separately.
TURNS = [
    ("t3_4", 15.6, 10.4, 5.2, 5.8, 28.8, 57.6),
    ("t7_8", 17.9, 11.9, 6.0, 5.0, 25.2, 50.4),
    ("t1", 17.9, 11.9, 6.0, 5.0, 25.2, 50.4),
    ("t1_1_4", 20.8, 13.9, 6.9, 4.3, 21.6, 43.2),
    ("t1_1_2", 20.8, 13.9, 6.9, 4.3, 21.6, 43.2),
    ("m20", 14.8, 9.8, 4.9, 6.1, 30.5, 61.0),
]


def by_turn(thread, degrees):
    facts = {"spindle_thread": thread, "turned_back": [degrees, degrees]}
    return work_out("turned_play", facts)[0]


@pytest.mark.parametrize(("thread", "quarter", "slot", "half", "one", "five", "ten"), TURNS)
def test_the_nut_moves_as_its_thread_says(thread, quarter, slot, half, one, five, ten):
    for degrees, play in [(90, quarter), (60, slot), (30, half)]:
        assert by_turn(thread, degrees) == pytest.approx(play, abs=0.06)
    for degrees, play in [(one, 1), (five, 5), (ten, 10)]:
        assert by_turn(thread, degrees) == pytest.approx(play, rel=0.015)
    for holes, step in [("one", slot), ("two", half)]:
        facts = {"spindle_thread": thread, "cross_holes": holes}
        assert work_out("pin_step", facts)[0] == pytest.approx(step, abs=0.06)


def test_a_slot_is_sixty_degrees():
    facts = {"play_how": "turned", "spindle_thread": "t1", "turned_back": "1 slot"}
    low, high = work_out("end_play", facts)  # read to 5 degrees either way
    assert (low, high) == pytest.approx((by_turn("t1", 55), by_turn("t1", 65)))


def test_worked_rock_at_the_tire_comes_out():
    """10 thousandths, K 1.4, radius 13.5 in, spread 2.5 in: 30 of rock, 40 with the slide."""
    more = evaluate(lever(Expr(13.5), Expr(1.4), Expr(2.5)))[0]
    assert 10 * more == pytest.approx(30, abs=0.1)
    assert 10 * (more + 1) == pytest.approx(40, abs=0.1)
    assert math.degrees(math.atan(0.389 / 1.4)) == pytest.approx(15.5, abs=0.05)
    facts = {"play_how": "dial", "play_dial": [10, 10], "hub_size": "bore_35"}
    low, high = work_out("edge_play", facts)
    assert low < 30 < 40 < high


def test_a_quarter_inch_of_rock_is_far_too_much():
    """1/4 in at the edge of a 27 in tire is some 60 to 80 thousandths, worked with the middle."""
    facts = {"play_how": "rocked", "rock_edge": "0.25 in", "hub_size": "bore_35"}
    low, high = work_out("end_play", facts)
    assert low < 60 < 80 < high
    assert low > 10


def test_rock_and_play_are_each_other_backwards():
    facts = {"play_how": "rocked", "rock_edge": 1, "hub_size": "bore_27"}
    low, high = work_out("end_play", facts)
    edge = work_out("edge_play", facts)[0]
    assert edge == pytest.approx(1000 / 25.4)
    least, most = work_out("rock_lever", facts)
    assert (low * most, high * least) == pytest.approx((edge, edge))


def test_a_dial_reads_in_thousandths_or_millimetres():
    facts = {"play_how": "dial", "play_dial": "0.127 mm"}
    assert work_out("end_play", facts)[0] == pytest.approx(5.0)


@pytest.mark.slow
@given(st.floats(0, 700), st.floats(0, 700), st.sampled_from(THREADS))
def test_a_nut_turned_back_farther_never_plays_less(one, other, thread):
    less, more = sorted((one, other))
    assert by_turn(thread, less) <= by_turn(thread, more)
