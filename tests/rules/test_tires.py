"""Tire and wheel numbers held against sources outside the project."""

from __future__ import annotations

import calendar
from datetime import date, timedelta
from typing import Any

import pint
import pytest

from checks.explain import explain
from checks.facts import BadInput, read_answer, week_start
from checks.formula import Case, compile_tree
from checks.judge import judge, read_case
from checks.rulebook import load

UREG: Any = pint.get_application_registry()
BOOK = load()
LIMITS = BOOK.data["limits"]


def measure(limit: str, unit: str) -> float:
    """A limit's value in ``unit``, converted by pint and not by our own unit table."""
    ours = {"in32": UREG.inch / 32, "in": UREG.inch, "psi": UREG.psi, "kPa": UREG.kPa}
    entry = LIMITS[limit]
    return float((entry["value"] * ours[entry["unit"]]).to(unit).magnitude)


@pytest.mark.parametrize(
    ("limit", "unit", "printed", "source"),
    [
        ("tires.tread_min", "mm", 1.6, "49 CFR 571.119 S6.4: wear bars of 1/16 in, 1.6 mm"),
        ("tires.tread_min", "inch", 2 / 32, "49 CFR 393.75(c): 2/32 in"),
        ("tires.warm_correction", "kPa", 34.5, "49 CFR 393.75(i)(2), Table 1: 5 psi, 34.5 kPa"),
        ("tires.atmosphere", "hPa", 1013.25, "Standard atmosphere, ISO 2533, from memory"),
        (
            "wheels.lining_min",
            "mm",
            1.6,
            "49 CFR part 396 App. A 1.a(6)(c): 1/16 in; 393.47(d)(2): 1.6 mm",
        ),
    ],
)
def test_a_limit_is_the_figure_its_source_prints(
    limit: str, unit: str, printed: float, source: str
) -> None:
    assert measure(limit, unit) == pytest.approx(printed, abs=0.05), source


def test_what_a_gauge_cannot_tell_is_between_one_and_two_psi() -> None:
    """One psi read to the nearest psi, or 50 psi printed as 350 kPa; pint gives the kPa."""
    psi = (1 * UREG.psi).to("kPa").magnitude
    off = max(350 - 50 * psi, psi)
    assert off < measure("tires.label_rounding", "kPa") < 2 * psi


# ---- date codes: 49 CFR 574.5(b)(3), weeks laid out by Python's calendar -----------------------


def calendar_weeks(year: int) -> list[date]:
    """Sundays of the date-code weeks of a year, from Python's own calendar: the first week that
    lies wholly in the year, and each one after it that starts in the year."""
    sundays = {
        week[0]
        for month in range(1, 13)
        for week in calendar.Calendar(calendar.SUNDAY).monthdatescalendar(year, month)
        if week[0].year == year
    }
    return sorted(sundays)


@pytest.mark.parametrize("year", range(2000, 2027))
def test_date_code_weeks_follow_the_calendar(year: int) -> None:
    sundays = calendar_weeks(year)
    assert [week_start(n, year) for n in range(1, len(sundays) + 1)] == sundays
    assert len(sundays) in (52, 53)


def test_a_date_code_covers_its_seven_days() -> None:
    low, high = read_answer(BOOK.facts["tire_made"], "tire_made", "2523", date(2026, 7, 14))
    start = date(2000, 1, 1) + timedelta(days=low)
    assert (start, high - low) == (calendar_weeks(2023)[24], 6)


def age_findings(code: str, day: date) -> set[str]:
    verdict = judge(
        {"check": "tires", "date": day.isoformat(), "facts": {"axles": 1, "tire_made@1L": code}}
    )
    ages = ("tire_old", "tire_too_old", "tire_before_2000")
    return {f["finding"] for f in verdict["findings"] if f["finding"] in ages}


@pytest.mark.parametrize("year", [2010, 2012, 2015, 2016])
@pytest.mark.parametrize("week", [1, 9, 26, 52])
@pytest.mark.parametrize(("years", "finding"), [(6, "tire_old"), (10, "tire_too_old")])
def test_age_is_reached_on_the_birthday_of_the_week(
    year: int, week: int, years: int, finding: str
) -> None:
    """Against calendar birthdays; two days each side for the mean length of a year."""
    first = calendar_weeks(year)[week - 1]
    before, after = first - timedelta(days=2), first + timedelta(days=6 + 2)
    young = before.replace(year=before.year + years)
    old = after.replace(year=after.year + years)
    code = f"{week:02}{year % 100:02}"
    assert finding not in age_findings(code, young)
    assert finding in age_findings(code, old)


def test_a_tire_made_today_is_taken_and_one_from_next_week_is_not() -> None:
    sunday = calendar_weeks(2026)[27]
    code = "2826"
    assert age_findings(code, sunday) == set()
    with pytest.raises(BadInput, match="yet to come"):
        age_findings(code, sunday - timedelta(days=1))


# ---- warm pressures: gas law with absolute temperatures by pint -------------------------------


def cold_range(reading_psi: float, warmth: str) -> tuple[float, float]:
    """What the rulebook makes of a reading, in psi by pint."""
    facts = {"axles": 1, "pressure@1L": f"{reading_psi:.9f} psi", "tire_warmth": warmth}
    _, case = read_case({"check": "tires", "date": "2026-07-14", "facts": facts}, BOOK)
    assert isinstance(case, Case)
    low, high = compile_tree(["quantity", "pressure_cold"], BOOK.context)(case, "1L")
    return tuple((end * UREG.kPa).to("psi").magnitude for end in (low, high))  # type: ignore[return-value]


def warmed(cold_psi: float, cold_degc: float, rise: float) -> float:
    """Gauge pressure after the air in a tire of fixed volume has warmed (ideal gas law)."""
    absolute = cold_psi * UREG.psi + 1 * UREG.atm
    before = UREG.Quantity(cold_degc, "degC").to("K")
    after = before + rise * UREG.kelvin
    return float((absolute * after / before - 1 * UREG.atm).to("psi").magnitude)


@pytest.mark.parametrize("cold", [20, 35, 50, 65, 80, 95])
@pytest.mark.parametrize("air", [-20, 0, 20, 39])
@pytest.mark.parametrize(
    ("warmth", "rise"), [("hour", 22), ("hour", 34), ("some", 0), ("some", 15), ("some", 34)]
)
def test_the_cold_pressure_lies_in_the_range_the_gas_law_gives(
    cold: float, air: float, warmth: str, rise: float
) -> None:
    low, high = cold_range(warmed(cold, air, rise), warmth)
    assert low - 1e-6 <= cold <= high + 1e-6


@pytest.mark.parametrize("reading", [40, 55, 70, 100])
@pytest.mark.parametrize("warmth", ["some", "hour"])
def test_the_flat_correction_of_the_rule_lies_in_the_range(reading: float, warmth: str) -> None:
    """49 CFR 393.75(i)(2): 5 psi off after an hour at 41 to 55 mph."""
    low, high = cold_range(reading, warmth)
    assert low - 1e-6 <= reading - 5 <= high + 1e-6


@pytest.mark.parametrize("reading", [20, 50, 80])
def test_a_cold_reading_stands_as_it_is(reading: float) -> None:
    assert cold_range(reading, "cold") == pytest.approx((reading, reading))


def test_an_hour_on_the_road_adds_ten_to_fifteen_percent() -> None:
    """The share is from memory; pint turns it into degrees at 50 psi and 20 °C."""
    gains = [warmed(50, 20, rise) / 50 - 1 for rise in LIMITS["tires.warmed_hour"]["value"]]
    assert gains == pytest.approx([0.10, 0.15], abs=0.005)


# ---- two ways to check the same thing ---------------------------------------------------------


@pytest.mark.parametrize(("bars", "depth"), [("below", 1), ("level", 2), ("near", 3), ("clear", 6)])
def test_wear_bars_and_gauge_give_the_same_finding(bars: str, depth: int) -> None:
    """A wear bar is as high as the legal minimum: 49 CFR 571.119 S6.4."""
    by_bars = {"axles": 1, "tread_by": "bars", "wear_bars@1L": bars}
    by_gauge = {"axles": 1, "tread_by": "gauge", "tread@1L": depth}
    found = [
        judge({"check": "tires", "date": "2026-07-14", "facts": facts})["findings"]
        for facts in (by_bars, by_gauge)
    ]
    assert found[0] == found[1]


@pytest.mark.parametrize(
    ("code", "days"), [("2523", "2023-06-18 to 2023-06-24"), ("0100", "2000-01-02 to 2000-01-08")]
)
def test_a_date_code_is_explained_as_days(code, days):
    """49 CFR 574.5(b)(3): week 25 of 2023 began on Sunday, June 18, by the calendar."""
    facts = {"tire_made@1L": code}
    _, case = read_case({"check": "tires", "date": "2026-07-14", "facts": facts}, load())
    step = next(s for s in explain("tire_age", "1L", case, load()) if s["id"] == "tire_made")
    assert step["text"] == days
