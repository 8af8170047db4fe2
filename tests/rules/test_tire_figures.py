"""Tire sums against printed tire tables, general libraries and the published index tables."""

import math

import pytest
from fluids.atmosphere import ATMOSPHERE_1976
from hypothesis import given, settings
from hypothesis import strategies as st

from checks.facts import BadInput, read_answer, size
from checks.formula import Expr
from checks.judge import LEVELS, judge
from checks.rulebook import load
from checks.trade.tire_figures import SYMBOLS, air_at, carried, pressure_for
from tests.support.quantities import evaluate, work_out

SIZE = size("tire_size", scope="axle")


def across(text):
    """Overall diameter in inches that a size means."""
    low, high = read_answer(SIZE, "tire_size@1", text, None)
    return low / 25.4, high / 25.4


# Overall diameters in inches of published trailer tire tables that follow the Tire and Rim
# Association's; the tables print one decimal.
PRINTED = [
    ("4.80/4.00-8", 16.1), ("5.70-8", 18.1), ("16.5x6.5-8", 16.5), ("18.5x8.5-8", 18.3),
    ("165/65-8", 16.5), ("215/60-8", 18.3), ("6.90/6.00-9", 21.1), ("205/50-10", 18.3),
    ("20.5x8.0-10", 20.5), ("205/65-10", 20.5), ("4.80-12", 20.5), ("5.30-12", 21.9),
    ("145/80-12", 21.3), ("ST175/80-13", 24.1), ("ST185/80-13", 24.4), ("ST205/75-14", 26.3),
    ("ST215/75-14", 26.7), ("ST205/75-15", 27.1), ("ST225/75-15", 28.4), ("7.00-15LT", 29.4),
    ("ST235/80-16", 30.9),
]  # fmt: skip


@pytest.mark.parametrize(("text", "printed"), PRINTED)
def test_printed_diameter_lies_in_the_range(text, printed):
    low, high = across(text)
    assert low - 0.05 <= printed <= high + 0.05
    assert high - low < 3.0


@pytest.mark.parametrize(
    "text",
    ["ST205/75R15", "205/75R15", "P205/75R15", "LT205/75R15", "st 205/75 r15", "205/75-15",
     "205/75D15", "205/75B15", "205/75R15LT", "205/75R15 107M", "ST205/75R15 LRD",
     "ST205/75R15 (107/102M)", "  ST205/75R15  "],
)  # fmt: skip
def test_every_way_of_writing_a_metric_size_reads_alike(text):
    """Definition of aspect ratio: 15 in + 2 x 205 mm x 0.75 is 688.5 mm, 27.11 in."""
    low, high = across(text)
    assert (low + high) / 2 == pytest.approx(27.106, abs=0.001)
    assert (high - low) / 2 == pytest.approx(0.3, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "inches"), [("31x10.50R15LT", 31), ("20.5×8.0–10", 20.5), ("20.5 X 8.0 - 10 C", 20.5)]
)
def test_flotation_size_names_its_diameter(text, inches):
    low, high = across(text)
    assert (low + high) / 2 == pytest.approx(inches)


@pytest.mark.parametrize(
    ("without", "whole"),
    [("480-8", "4.80-8"), ("480/400-8", "4.80/4.00-8"), ("570-8", "5.70-8"), ("530-12", "5.30-12"),
     ("700-15LT", "7.00-15LT"), ("ST 480 - 12", "ST 4.80-12")],
)  # fmt: skip
def test_a_size_without_its_dot_reads_as_with_it(without, whole):
    assert across(without) == across(whole)


def test_a_wide_metric_size_keeps_its_width():
    """15 in + 2 x 395 mm x 0.5 is 30.55 in; wider metric sizes do not come without a ratio."""
    assert sum(across("395/50R15")) / 2 == pytest.approx(30.551, abs=0.001)


def test_size_without_aspect_is_about_eighty_percent():
    """155R13: 578 mm in European tables, from memory."""
    low, high = across("155R13")
    assert low * 25.4 < 578 < high * 25.4


@pytest.mark.parametrize(
    ("text", "message"),
    [("F78-15ST", "old letter size"), ("FR78-15", "old letter size"), ("", "not a tire size"),
     ("big", "not a tire size"), ("205", "not a tire size"), ("205/75R", "not a tire size"),
     (27.1, "not a tire size"), ([690, 700], "not a tire size"), (True, "not a tire size"),
     ("ST205/75R15\n", "not a tire size"), ("205/75R15" + " " * 40, "not a tire size"),
     ("445/95R25", "read again"), ("100/10R8", "read again")],
)  # fmt: skip
def test_what_is_no_size_is_refused_with_what_to_do(text, message):
    with pytest.raises(BadInput, match=message):
        across(text)


def test_turns_per_mile_come_out():
    """63360 / (pi x 27.11 x 0.97) is 766.9; catalogues print 20168 / diameter x 1.02 to 1.04."""
    low, high = work_out("tire_revs@1", {"axles": 1, "tire_size@1": "ST205/75R15"})
    assert low < 766.9 < high
    assert low < 20168 / 27.11 * 1.03 < high


# ---- load and pressure ----------------------------------------------------------------------


def test_load_index_table_follows_its_series():
    """ISO 4000-1 builds on Renard's R80 series: 45 x 10^(LI/80) within 1.9 percent, all 81."""
    rows = load().context.limits["tire_figures.load_index"]
    assert [x for x, _ in rows] == list(range(50, 131))
    for index, kilograms in rows:
        assert kilograms == pytest.approx(45 * 10 ** (index / 80), rel=0.019), index


@pytest.mark.parametrize(("index", "kilograms"), [(50, 190), (88, 560), (107, 975), (130, 1900)])
def test_load_index_reads_as_printed(index, kilograms):
    """Published load index tables."""
    facts = {"rating_by": "index", "load_index": index, "tire_family": "st"}
    assert work_out("tire_rated", facts) == (kilograms, kilograms)


@pytest.mark.parametrize(
    ("symbol", "speed"), [("a1", 5), ("a8", 40), ("b", 50), ("j", 100), ("l", 120), ("m", 130),
                          ("n", 140), ("u", 200), ("h", 210), ("v", 240), ("y", 300)],
)  # fmt: skip
def test_speed_symbol_reads_as_printed(symbol, speed):
    """Published speed symbol tables (ISO 4000-1, ETRTO)."""
    assert work_out("tire_speed", {"speed_symbol": symbol}) == (speed, speed)


def test_speed_symbols_grow_in_order():
    speeds = [work_out("tire_speed", {"speed_symbol": s})[0] for s in SYMBOLS]
    assert speeds == sorted(speeds)
    assert len(speeds) == 29


def test_tire_without_a_letter_is_taken_as_65_mph():
    assert work_out("tire_speed", {"speed_symbol": "none"})[0] == pytest.approx(104.6, abs=0.05)


# Printed loads in lb at psi of one size in its load ranges; published trailer tire tables.
LOADS = {
    "ST205/75-15": [(35, 1480), (50, 1820), (65, 2150)],
    "ST225/75-15": [(50, 2150), (65, 2540)],
    "ST175/80-13": [(35, 1100), (50, 1360), (65, 1610)],
    "ST205/75-14": [(35, 1430), (50, 1760), (65, 2100)],
    "4.80-12": [(60, 785), (90, 990)],
    "5.30-12": [(55, 840), (80, 1045), (105, 1250)],
    # left out: 1330 lb at 70 psi (1300 in another print), 4 % under any power that fits the rest
    "20.5x8.0-10": [(35, 910), (50, 1100), (90, 1650)],
}


@pytest.mark.parametrize("name", LOADS)
def test_printed_loads_lie_in_the_range(name):
    """The load at each lower pressure, from the highest one; the power must span them to 2 %."""
    full, rated = LOADS[name][-1]
    for psi, pounds in LOADS[name][:-1]:
        facts = {
            "axles": 1, "tire_family": "st", "rating_by": "load", "tire_rating": f"{rated} lb",
            "tire_max@1": f"{full} psi", "tire_warmth": "cold", "pressure@1L": f"{psi} psi",
        }  # fmt: skip
        low, high = (x / 0.45359237 for x in work_out("tire_carries@1L", facts))
        assert low * 0.98 <= pounds <= high * 1.02, psi


def test_pressure_for_a_load_comes_out():
    """1300 lb on an 1820 lb, 50 psi tire at power 0.6 needs 28.5 psi."""
    terms = [Expr(float(x)) for x in (1300, 1820, 50, 0.6)]
    assert evaluate(pressure_for(*terms))[0] == pytest.approx(28.5, abs=0.05)


@pytest.mark.parametrize(("psi", "share"), [(35, 0.81), (25, 0.66), (50, 1.0), (60, 1.0)])
def test_share_of_the_load_comes_out(psi, share):
    """0.7^0.6 is 81 percent and 0.5^0.6 is 66; more air than marked carries no more."""
    terms = [Expr(float(x)) for x in (1, 50, psi, 0.6)]
    assert evaluate(carried(*terms))[0] == pytest.approx(share, abs=0.005)


def test_passenger_tire_counts_a_tenth_less():
    """49 CFR 571.110 S4.2.2.2: divided by 1.10."""
    facts = {"rating_by": "load", "tire_rating": 550, "tire_family": "passenger"}
    assert work_out("tire_rated", facts)[0] == pytest.approx(500)


@settings(max_examples=40, deadline=None)
@given(st.floats(50, 400), st.floats(0, 300))
def test_more_air_never_carries_less(pressure, more):
    facts = {
        "axles": 1, "tire_family": "st", "rating_by": "load", "tire_rating": 800,
        "tire_max@1": 350, "tire_warmth": "cold",
    }  # fmt: skip
    lean, full = (
        work_out("tire_carries@1L", facts | {"pressure@1L": p}) for p in (pressure, pressure + more)
    )
    assert lean[0] <= full[0]
    assert lean[1] <= full[1]


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@given(st.floats(50, 1500), st.floats(0, 500), st.sampled_from(["st", "lt", "passenger"]))
def test_more_load_is_never_judged_lighter(load_now, more, family):
    def level(kilograms):
        facts = {
            "axles": 1, "tire_family": family, "rating_by": "load", "tire_rating": 800,
            "tire_max@1": 350, "tire_warmth": "cold", "pressure@1L": 300, "pressure@1R": 300,
            "tire_load@1": kilograms,
        }  # fmt: skip
        verdict = judge({"check": "figures", "date": "2026-07-14", "facts": facts})
        at = [p for p in verdict["points"] if (p["point"], p["place"]) == ("tire_carry", "1L")]
        return LEVELS.index(at[0]["level"])

    assert level(load_now + more) <= level(load_now)


@pytest.mark.slow
@settings(max_examples=300, deadline=None)
@given(st.text("STLP0123456789/.x-RDB 'é\n", max_size=16))
def test_any_text_is_a_size_or_is_refused(text):
    told = ""
    try:
        low, high = across(text)
    except BadInput as error:
        told = str(error)
    assert told.startswith("tire_size@1: ") or SIZE.low / 25.4 <= low <= high <= SIZE.high / 25.4


# ---- weather and height ---------------------------------------------------------------------


@pytest.mark.parametrize("height", [-100, 0, 305, 914, 1524, 2438, 3048, 4400])
def test_air_at_a_height_is_the_standard_atmosphere(height):
    """fluids.ATMOSPHERE_1976, which takes geometric height: within 0.05 percent."""
    wanted = ATMOSPHERE_1976(height).P / 1000
    assert evaluate(air_at(Expr(float(height))))[0] == pytest.approx(wanted, rel=5e-4)


def expected(psi, then, now, feet_then=0, feet_now=0):
    facts = {
        "fill_pressure": f"{psi} psi", "fill_air": [then, then], "air": [now, now],
        "fill_height": [feet_then * 0.3048] * 2, "height_now": [feet_now * 0.3048] * 2,
    }  # fmt: skip
    low, high = work_out("pressure_expected", facts)
    assert low == pytest.approx(high, abs=1e-6)
    return low / 6.894757


@pytest.mark.parametrize(
    ("psi", "at_30", "at_110"),
    [(35, 31.2, 38.8), (50, 45.1, 54.9), (60, 54.4, 65.6), (65, 59.0, 71.0), (80, 72.8, 87.2),
     (90, 82.1, 97.9)],
)  # fmt: skip
def test_cold_pressure_follows_the_air_temperature(psi, at_30, at_110):
    """Gay-Lussac's law from 70 degF, worked out with pint."""
    fill = (70 - 32) / 1.8
    assert expected(psi, fill, (30 - 32) / 1.8) == pytest.approx(at_30, abs=0.06)
    assert expected(psi, fill, (110 - 32) / 1.8) == pytest.approx(at_110, abs=0.06)


@pytest.mark.parametrize(
    ("feet", "gain"), [(1000, 0.52), (3000, 1.52), (5000, 2.47), (8000, 3.78), (10000, 4.59)]
)
def test_gauge_rises_with_height(feet, gain):
    """US Standard Atmosphere 1976, worked out with fluids."""
    assert expected(50, 20, 20, 0, feet) - 50 == pytest.approx(gain, abs=0.01)


# ---- matching -------------------------------------------------------------------------------


def test_lean_comes_out():
    """27.11 and 26.11 in across on a 72 in track: 0.5 in higher, atan gives 0.398 degrees."""
    facts = {
        "axles": 1, "track": [72 * 25.4] * 2,
        "round_by": "tape",
        "tire_round@1L": [27.11 * 25.4 * math.pi] * 2,
        "tire_round@1R": [26.11 * 25.4 * math.pi] * 2,
    }  # fmt: skip
    assert work_out("lean_height@1L", facts)[0] == pytest.approx(12.7, rel=1e-9)
    assert work_out("lean_angle@1L", facts)[0] == pytest.approx(0.398, abs=0.0005)
    assert work_out("tire_across@1R", facts)[0] == pytest.approx(26.11 * 25.4)
    assert work_out("tandem_gap", facts)[0] == pytest.approx(25.4 * math.pi)
