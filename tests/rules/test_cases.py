"""Every case of the tables in ``tests/cases/`` by name, judged in Python."""

from __future__ import annotations

import json
from typing import Any

import pytest

from checks.judge import judge
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
        ("first", "warm@1L", "warm@1R"),
        ("no_finding", ["hot"], ["warm"]),
        ("cannot_tell", ["hot"], ["warm"]),
        ("no_cannot_tell", ["warm"], ["hot"]),
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


@pytest.mark.slow
@pytest.mark.parametrize("name", ["sound_tires", "stop", "sound_trailer", "sound_bench"])
def test_a_choice_that_a_whole_base_does_not_name_is_answered_so_that_nothing_is_found(
    name: str,
) -> None:
    book = load()
    base = json.loads((cases.FOLDER / "base.json").read_text("utf-8"))[name]
    sound = judge(cases.filled(base, book))
    assert sound["level"] == "nothing"
    for key in base["facts"]:
        if book.facts[key.partition("@")[0]].kind == "choice":
            fewer = base | {"facts": {k: v for k, v in base["facts"].items() if k != key}}
            verdict = judge(cases.filled(fewer, book))
            assert (key, verdict["level"], verdict["findings"]) == (key, "nothing", [])


def test_a_base_leaves_alone_what_it_does_not_answer_and_what_it_keeps_open() -> None:
    base = {
        "check": "tires",
        "date": "2026-07-14",
        "facts": {"axles": 1, "brakes": "none", "cord_shows@1L": "no"},
    }
    assert cases.filled(base, load()) == base
    whole = cases.filled(base | {"whole": True, "facts": {"axles": 1, "bulge@1L": None}}, load())
    assert whole["facts"]["bulge@1L"] is None
    assert whole["facts"]["bulge@1R"] == "no"
