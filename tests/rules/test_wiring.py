"""Wiring sums against wire tables, a worked voltage drop, lamp rerating and a solved circuit."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from checks.formula import Expr
from checks.trade.wiring import diameter, resistance
from tests.support.quantities import evaluate, work_out

FEET = 0.3048

# gauge: diameter mm, area mm2, ohm per 1000 ft at 20 degC (ASTM B258, B3), and at 75 degC solid
# (NEC chapter 9 table 8; 18 and 16 from memory). 20 AWG is from memory.
WIRES = [
    (20, 0.812, 0.518, 10.15, None),
    (18, 1.024, 0.823, 6.385, 7.77),
    (16, 1.291, 1.309, 4.015, 4.89),
    (14, 1.628, 2.081, 2.525, 3.07),
    (12, 2.053, 3.309, 1.588, 1.93),
    (10, 2.588, 5.261, 0.999, 1.21),
]
BULBS = {"lamps_are": "bulbs", "bulbs_bright": 0, "bulbs_tail": 2, "bulbs_small": 5}
RUN = BULBS | {
    "plug_volts": 13.5,
    "wire_gauge": "awg_16",
    "wire_length": "25 ft",
    "return_by": "wire",
    "return_gauge": "awg_16",
    "return_length": "5 ft",
}
GROUND = {"plug_volts": 12.8, "ground_by": "ohms", "ground_bulbs": 2}


@pytest.mark.parametrize(("gauge", "across", "area", "cold", "warm"), WIRES)
def test_wire_is_that_of_the_tables(gauge, across, area, cold, warm):
    assert evaluate(diameter(Expr(float(gauge))))[0] == pytest.approx(across, rel=0.001)
    facts = {"wire_gauge": f"awg_{gauge}"}
    assert work_out("wire_area", facts)[0] == pytest.approx(area, rel=0.001)
    assert at_degrees(area, 20.0) == pytest.approx(cold, rel=0.002)
    if warm:
        assert at_degrees(area, 75.0) == pytest.approx(warm, rel=0.005)


def at_degrees(area, celsius, feet=1000.0):
    return evaluate(resistance(Expr(feet * FEET), Expr(area), Expr(celsius)))[0]


def test_resistivity_is_the_one_of_circular_mils():
    """10.371 ohm for a circular mil a foot long; a circular mil is pi/4 of a squared mil."""
    circular_mil = math.pi / 4 * 0.0254**2
    assert at_degrees(circular_mil, 20.0, 1.0) == pytest.approx(10.371, rel=0.0002)


def test_worked_voltage_drop_comes_out():
    """16 AWG, 25 ft out, 5 ft back: 2.53 A, 0.254 V, 0.305 V, 2.26 %, light 0.925 at 20 degC."""
    low, high = work_out("lamp_current", RUN)
    amps = (low + high) / 2
    assert amps == pytest.approx(2.53, abs=0.005)
    area = work_out("wire_area", RUN)[0]
    out, back = (amps * at_degrees(area, 20.0, feet) for feet in (25.0, 5.0))
    assert out == pytest.approx(0.254, abs=0.001)
    assert out + back == pytest.approx(0.305, abs=0.001)
    share = (out + back) / 13.5
    assert 100 * share == pytest.approx(2.26, abs=0.01)
    # what the phone shows is a range for bulb, copper and warmth, and the worked value is within
    for name, value in [
        ("drop_out", out), ("drop_back", back), ("drop_share", 100 * share), ("light_left", 92.5),
    ]:  # fmt: skip
        low, high = work_out(name, RUN)
        assert low < value < high, name
        assert high < 1.46 * low, name  # 1.1 / 0.9 for bulbs, 1 / 0.9 for copper, 1.07 for warmth


@pytest.mark.parametrize(
    ("ratio", "light", "current"),
    [
        (0.97, 0.902, 0.983),
        (0.95, 0.84, 0.972),
        (0.9, 0.699, 0.944),
        (0.85, 0.575, 0.914),
        (0.8, 0.468, 0.885),
    ],
)
def test_lamps_rerate_as_the_handbook_says(ratio, light, current):
    """Standard Handbook for Electrical Engineers, 11th ed., p. 22-8."""
    facts = {"plug_volts": 12.8, "ground_by": "volts", "ground_volts": 12.8 * (1 - ratio)}
    assert work_out("ground_light", facts)[0] == pytest.approx(100 * light, abs=0.06)
    amps = evaluate(Expr(ratio) ** Expr(["limit", "wiring.current_power"]))[0]
    assert amps == pytest.approx(current, abs=0.001)


@pytest.mark.parametrize(
    ("ohms", "volts", "light"),
    [
        (0.05, 12.59, 95),
        (0.1, 12.39, 89),
        (0.25, 11.8, 76),
        (0.5, 10.88, 58),
        (1, 9.28, 34),
        (2, 6.85, 12),
    ],
)
def test_bad_ground_settles_where_the_solved_circuit_does(ohms, volts, light):
    """Two 2.1 A filaments on 12.8 V, solved separately with scipy 1.17."""
    facts = GROUND | {"ground_ohms": ohms}
    assert work_out("lamp_volts", facts)[0] == pytest.approx(volts, abs=0.012)
    assert work_out("ground_light", facts)[0] == pytest.approx(light, abs=0.6)


@pytest.mark.parametrize("supply", [9.0, 12.8, 16.0])
@pytest.mark.parametrize("ohms", [0.0, 0.03, 0.4, 1.5, 5.0, 20.0])
@pytest.mark.parametrize("bulbs", [1, 4, 12])
def test_six_steps_are_enough(supply, ohms, bulbs):
    """scipy's brentq on V = v + R n Id (v/Vd)^0.55, over all answers that can be given."""
    facts = {
        "plug_volts": supply, "ground_by": "ohms", "ground_ohms": ohms, "ground_bulbs": bulbs,
    }  # fmt: skip
    solved = brentq(
        lambda v: v + ohms * bulbs * 2.1 * (v / 12.8) ** 0.55 - supply, 0, supply + 1e-9
    )
    assert work_out("lamp_volts", facts)[0] == pytest.approx(solved, abs=0.06)


def test_a_range_of_ohms_gives_the_range_between_its_ends():
    """The steps do not widen the range although each input stands in every one of them."""
    ends = [work_out("lamp_volts", GROUND | {"ground_ohms": r})[0] for r in (0.5, 0.1)]
    wide = work_out("lamp_volts", GROUND | {"ground_ohms": [0.1, 0.5]})
    assert wide == pytest.approx(tuple(ends), rel=1e-12)


@pytest.mark.slow
@given(st.floats(0, 20), st.floats(0, 20))
def test_more_ohms_never_give_more_volts(one, other):
    less, more = sorted((one, other))
    volts = [work_out("lamp_volts", GROUND | {"ground_ohms": r})[0] for r in (less, more)]
    assert volts[1] <= volts[0]


@pytest.mark.slow
@given(st.floats(0.3, 30), st.floats(0.3, 30), st.integers(0, 12), st.sampled_from(WIRES))
def test_a_longer_wire_never_loses_less(one, other, bulbs, wire):
    facts = RUN | {"bulbs_bright": bulbs, "wire_gauge": f"awg_{wire[0]}"}
    short, long = sorted((one, other))
    near, far = (work_out("drop_share", facts | {"wire_length": m}) for m in (short, long))
    assert near[0] <= far[0]
    assert near[1] <= far[1]


@pytest.mark.parametrize("bulbs", [0, 2, 4, 8])
@pytest.mark.parametrize("feet", [10, 25, 40])
def test_the_gauge_named_is_the_thinnest_that_keeps_to_three_percent(bulbs, feet):
    facts = RUN | {
        "bulbs_bright": bulbs, "wire_length": f"{feet} ft", "return_length": f"{feet} ft",
    }  # fmt: skip
    needed = work_out("gauge_needed", facts)[0]
    for gauge in (20, 18, 16, 14, 12, 10):
        both = {"wire_gauge": f"awg_{gauge}", "return_gauge": f"awg_{gauge}"}
        drop = work_out("drop_share", facts | both)[1]
        assert (drop <= 3) == (gauge <= needed), gauge


def test_led_lamps_draw_what_their_range_says():
    facts = {"lamps_are": "leds", "leds_large": 2, "leds_small": 10}
    assert work_out("lamp_current", facts) == pytest.approx((0.5, 2.0))
    both = work_out("lamp_current", facts | BULBS | {"lamps_are": "both"})
    assert both == pytest.approx((0.5 + 0.9 * 2.53, 2.0 + 1.1 * 2.53))


def test_a_drop_beyond_the_supply_leaves_no_light():
    facts = RUN | {
        "bulbs_bright": 12, "bulbs_tail": 12, "bulbs_small": 30, "wire_gauge": "awg_20",
        "wire_length": 30, "return_gauge": "awg_20", "return_length": 30,
    }  # fmt: skip
    assert work_out("drop_share", facts)[0] > 100
    assert work_out("light_left", facts) == (0, 0)
