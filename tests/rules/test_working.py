"""A working can be followed: what decides stands in it, with numbers, dates and the reader's units.

The numbers themselves are held against outside sources where each rule is tested; here it is how
they are told.
"""

from __future__ import annotations

import re
from typing import Any

import pytest

from checks.explain import decided_by, explain
from checks.judge import read_case
from checks.rulebook import load
from checks.units import range_text, to_unit, units
from tests.support import cases
from tests.support.effort import PART

BOOK = load()


def in_us(ends: tuple[float, float], unit: str) -> str:
    target = units()[unit].get("us", unit)
    low, high = (to_unit(end, unit, target) for end in ends)
    return range_text((low, high), target)


def case_of(check: str, facts: dict[str, Any]) -> Any:
    return read_case({"check": check, "date": "2026-07-14", "facts": facts}, BOOK)[1]


# finding@place, answers, what decides it
DECIDED = [
    (
        "tread_gone@1L", {"tread_by": "gauge", "tread@1L": 1},
        ["Tread depth, most worn groove: 1/32 in, less than 2/32 in"],
    ),
    (
        "tire_flat@1L", {"pressure@1L": "20 psi", "tire_max@1": "50 psi"},
        ["Pressure in this tire: 20 psi, no more than counts as flat at or below: 25 psi"],
    ),
    (
        "tire_before_2000@1L", {"tire_made@1L": "398"},
        ["Date code: last digits after DOT: 1970-01-01 to 1999-12-31, less than 2000-01-01"],
    ),
    (
        "torque_over@", {"torque_from": "figure", "torque_maker": "95 lb-ft",
                         "torque_used": "100 lb-ft"},
        ["What torque did you use: 100 lb-ft, more than 95 lb-ft × (1 + 0.04) = 99 lb-ft"],
    ),
    (
        "breakaway_short@", {"brakes": "electric", "breakaway_minutes": 14},
        ["How long did the breakaway hold the brakes: 14 min, less than 15 min"],
    ),
]  # fmt: skip


@pytest.mark.parametrize(("key", "facts", "lines"), DECIDED, ids=[one[0] for one in DECIDED])
def test_the_comparison_that_decides_is_told_with_its_numbers(key, facts, lines):
    name, _, place = key.partition("@")
    found = decided_by(name, place, case_of("figures", {"axles": 1} | facts), BOOK, in_us)
    assert found == lines


def steps(name: str, place: str, facts: dict[str, Any]) -> dict[str, dict[str, Any]]:
    case = case_of("figures", {"axles": 1} | facts)
    return {step["id"]: step for step in explain(name, place, case, BOOK, in_us)}


def test_a_sum_stands_with_its_numbers_in_the_readers_units():
    facts = {"air": "68 degF", "hub_method": "thermometer", "hub_reading@1L": "118 degF"}
    step = steps("hub_rise", "1L", facts)["hub_rise"]
    assert step["sum"].startswith("(118 °F − 66 to 70 °F)")


@pytest.mark.parametrize(
    ("spot", "sum_"),
    [
        ("barrel", "118 °F − 66 to 70 °F"),
        ("cap", "(118 °F − 66 to 70 °F) ÷ 0.46 to 1.00"),
    ],
)
def test_a_factor_of_one_is_left_away(spot, sum_):
    facts = {"air": "68 degF", "hub_method": "thermometer", "hub_reading@1L": "118 degF"}
    assert steps("hub_rise", "1L", facts | {"hub_spot": spot})["hub_rise"]["sum"] == sum_


def test_a_term_of_nothing_is_left_away():
    step = steps("clear_excess", "1L", READ)["healthy_high"]
    assert step["sum"] == in_us(step["value"], "K")


READ = {"air": "68 degF", "run_distance": "20 mi", "run_speed": "55 mph", "parked": 3,
        "hub_method": "thermometer", "hub_spot": "barrel", "brakes": "none", "sun": "no",
        "hub_reading@1L": "118 degF", "hub_reading@1R": "80 degF"}  # fmt: skip


def test_a_gap_between_two_readings_is_told_in_degrees_of_difference():
    lines = decided_by(
        "hub_far_from_mate", "1L", case_of("figures", {"axles": 1} | READ), BOOK, in_us
    )
    assert "15 °F × 1.85 = 27 °F, less than 118 °F − 80 °F = 38 °F" in lines


def test_a_yes_or_no_that_is_kept_as_a_number_decides_without_being_told_as_one():
    lines = decided_by(
        "hub_much_too_warm", "1L", case_of("figures", {"axles": 1} | READ), BOOK, in_us
    )
    assert lines == [
        "above the air, more than any sound wheel: 38 to 46 °F, "
        "less than hub above the air: 48 to 52 °F"
    ]


def test_an_answer_left_open_has_a_code_and_its_words():
    step = steps("over_rating", "", {"gross_weight": 900})["gross_rating"]
    assert (step["answered"], step["text"]) == (False, "not answered")
    assert steps("over_rating", "", {"gross_weight": 900})["gross_weight"]["answered"]


def test_a_date_code_stands_as_a_date():
    step = steps("tire_age", "1L", {"tire_made@1L": "2523"})["tire_age"]
    assert step["sum"].startswith("2026-07-14 − ")
    assert "2023-06-18 to 2023-06-24" in step["sum"]


def test_a_force_is_told_in_pounds_of_force():
    facts = {"stud": "s1_2", "torque_used": "90 lb-ft", "thread_state": "dry"}
    case = case_of("figures", {"axles": 1} | facts)
    step = explain("clamp_force", "", case, BOOK, in_us)[-1]
    assert in_us(step["value"], "N").endswith("lbf")


def every_decision() -> list[tuple[str, str]]:
    told = []
    for case in cases.all_cases()[::PART]:
        payload = cases.payload(case)
        for found in cases.verdict_or_error(payload).get("findings", []):
            _, answers = read_case(payload, BOOK)
            lines = decided_by(found["finding"], found["place"], answers, BOOK, in_us)
            told += [(found["finding"], line) for line in lines]
    return told


@pytest.mark.slow
@pytest.mark.sample
def test_what_decides_names_no_function_table_or_newton():
    names = {limit.rpartition(".")[2] for limit in BOOK.data["limits"] if "_" in limit}
    for finding, line in every_decision():
        words = set(re.findall(r"[A-Za-z_]+", line))
        assert not {w for w in words if "_" in w}, (finding, line)
        assert not words & {"N", "ln", "exp", "nan", "inf", "convert", "pick", "table"}, line
        assert not words & {n for n in names if "_" in n}, line
