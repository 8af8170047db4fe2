"""Every case of the tables in ``tests/cases/`` by name, judged in Python."""

from __future__ import annotations

from typing import Any

import pytest

from checks.rulebook import load
from tests.support import cases

CASES = cases.all_cases()
VERDICT: dict[str, Any] = {
    "level": "look",
    "places": {"": "nothing", "1L": "look"},
    "points": [{"point": "hub", "place": "1L", "level": "look", "open": []}],
    "findings": [{"finding": "warm", "place": "1L", "level": "look"}],
    "cannot_tell": [{"finding": "hot", "place": "1L", "level": "stop"}],
    "next": [{"fact": "air", "place": "", "level": "stop", "settles": 1}],
}


@pytest.mark.parametrize("case", CASES, ids=[c["case"] for c in CASES])
def test_case(case: dict[str, Any]) -> None:
    assert not cases.failures(case, load())


def test_no_two_cases_read_alike() -> None:
    names = [c["case"] for c in CASES]
    assert len(names) == len(set(names))


@pytest.mark.parametrize(
    ("word", "met", "not_met"),
    [
        ("level", "look", "mend"),
        ("level_at", {"1L": "look"}, {"1R": "look"}),
        ("at_least", "look", "mend"),
        ("finding", ["warm"], ["hot"]),
        ("finding", ["warm@1L"], ["warm@1R"]),
        ("finding", ["warm"], []),
        ("no_finding", ["hot"], ["warm"]),
        ("cannot_tell", ["hot"], ["warm"]),
        ("next_first", "air", "speed"),
        ("point", {"hub@1L": "look"}, {"hub@1L": "nothing"}),
    ],
)
def test_an_expectation_tells_right_from_wrong(word: str, met: Any, not_met: Any) -> None:
    assert cases.unmet({word: met}, VERDICT) == []
    assert len(cases.unmet({word: not_met}, VERDICT)) == 1


def test_an_expected_error_must_come_and_must_match() -> None:
    assert cases.unmet({"error": "date"}, {"error": "date: wrong"}) == []
    assert cases.unmet({"error": "date"}, {"error": "check: wrong"})
    assert cases.unmet({"error": "date"}, VERDICT)
    assert cases.unmet({"level": "look"}, {"error": "date: wrong"}) == ["was refused: date: wrong"]


def test_an_unknown_expectation_is_an_error() -> None:
    with pytest.raises(ValueError, match="levle"):
        cases.unmet({"levle": "look"}, VERDICT)
