"""Nobody is asked to go near what burns or smokes, or to touch a very hot hub once more.

Common practice, no source.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from checks.judge import asked, join_key, judge, read_case
from checks.rulebook import load
from checks.words import words
from tests.rules.test_too_hot import FACTS

BOOK = load()
DAY = "2026-07-14"
NEAR = (
    "tire_look",
    "side_heat",
    "inner_heat",
    "side_pressure",
    "nuts",
    "rock",
    "hub_feel",
    "turns",
)


def keys(facts: dict[str, object]) -> set[str]:
    check, case = read_case({"check": "run_stop", "date": DAY, "facts": facts}, BOOK)
    return {join_key(key) for visit in asked(check, case, BOOK) for key in visit.keys}


def test_at_a_wheel_that_smokes_nothing_is_asked_that_takes_a_hand_or_a_face():
    facts = {key: raw for key, raw in FACTS.items() if key != "hub_feel@1L"}
    warm = {"side_heat@1R": "warmer", "hub_feel@1R": "hot"}
    here = keys(facts | warm | {"smoke@1L": "yes", "smoke@1R": "no"})
    assert {f"{fact}@1R" for fact in NEAR} <= here
    assert {f"{fact}@1L" for fact in NEAR} & here == set()
    assert "pair_feel@1" not in here


@pytest.mark.parametrize("name", ["has_flames", "has_smoke"])
def test_nobody_is_told_to_take_off_the_road_what_burns_or_smokes(name):
    assert "traffic" not in BOOK.findings[name].cautions


@pytest.mark.parametrize("at", ["@1L", ""], ids=["told", "not told"])
def test_once_it_burns_nothing_more_is_asked_and_nothing_open_counts_as_looked_at(at):
    facts = {"axles": 1, "brakes": "none", f"flames{at}": "yes", "latch_moved": "yes"}
    if at:
        facts |= {"flames@1R": "no", "air": "70 degF"}
    assert keys(facts) == set(facts) - {"flames"} | {"flames@1L", "flames@1R"}
    verdict = judge({"check": "run_stop", "date": DAY, "facts": facts})
    found = [(one["finding"], one["place"]) for one in verdict["findings"]]
    assert found == [("has_flames", at[1:]), ("latch_moved", "")]
    assert (verdict["cannot_tell"], verdict["next"], verdict["left_out"]) == ([], [], [])
    assert {one["level"] for one in verdict["points"] if one["point"] == "load_stop"} == {
        "unchecked"
    }


def test_a_hub_too_hot_to_touch_is_not_forgotten_beside_a_fire():
    facts = {"axles": 1, "hub_feel@1R": "no_touch", "flames@1L": "yes"}
    verdict = judge({"check": "run_stop", "date": DAY, "facts": facts})
    assert verdict["places"]["1R"] == "look"


def test_what_was_found_before_it_smoked_still_counts():
    facts = FACTS | {"smoke@1L": "yes", "nuts@1L": "loose"}
    verdict = judge({"check": "run_stop", "date": DAY, "facts": facts})
    found = [(one["finding"], one["place"]) for one in verdict["findings"]]
    assert found.index(("has_smoke", "1L")) < found.index(("nuts_loose", "1L"))


@pytest.mark.parametrize(
    ("left", "right", "compared"),
    [
        ("hot", "slight", True),
        ("very_hot", "slight", False),
        ("slight", "very_hot", False),
        ("very_hot", "very_hot", False),
        ("no_touch", "hot", False),
    ],
)
def test_a_very_hot_hub_is_not_touched_again_to_compare_it(left, right, compared):
    facts = FACTS | {"hub_feel@1L": left, "hub_feel@1R": right}
    assert ("pair_feel@1" in keys(facts)) == compared


@pytest.mark.parametrize(
    "name",
    [
        "hub_too_hot.do", "hub_too_hot.doubt", "hub_far_too_warm.do", "hub_far_too_warm.doubt",
        "hub_much_too_warm.do", "hub_much_too_warm.doubt", "hub_too_warm.doubt", "too_hot.why",
        "hub_no_touch.why", "has_hot_smell.do", "has_thrown_grease.why", "wheel_seal_leak.do",
        "wheel_seal_leak.why",
    ],
)  # fmt: skip
def test_where_a_trailer_may_have_no_brakes_none_is_blamed_without_an_if(name):
    none_without_an_if(f"finding-{name}")


@pytest.mark.parametrize("step", [one for one in words("en").ids() if "-roadside-" in one])
def test_no_step_at_the_roadside_names_a_brake_without_an_if(step):
    none_without_an_if(step)


# What could let a trailer roll, and what keeps it from that.
ROLLS = re.compile(r"\b(jack(ed|s)?|stand|unhitch(es)?|loosens?|slacken|back off)\b", re.IGNORECASE)
HELD = re.compile(r"\bchock(ed)?\b|cannot roll", re.IGNORECASE)
STOPS = {one.id for one in BOOK.findings.values() if one.level == "stop"}
PAGE = Path(__file__).parents[2] / "static" / "screens" / "stop_now.js"
LISTS = re.findall(r'\["((?:fire|step)-\d"[^\]]+)"\]', PAGE.read_text("utf-8"))


@pytest.mark.parametrize("name", sorted(STOPS - {"legs_down"}))  # of a room, whose jacks go up
def test_a_stop_now_that_jacks_or_unhitches_chocks_first(name):
    """Common practice, no source: what to do about each stands above the steps."""
    held_first(words("en").say(f"finding-{name}.do"))


@pytest.mark.parametrize("steps", LISTS)
def test_by_the_roadside_a_trailer_is_chocked_before_anything_lets_it_roll(steps):
    """Of two signs the worse one has the list, so each list is to hold by itself."""
    assert len(LISTS) == 3
    held_first(" ".join(words("en").say(f"app-roadside-{one}") for one in steps.split('", "')))


def held_first(said: str) -> None:
    sentences = said.split(". ")
    rolls = [n for n, sentence in enumerate(sentences) if ROLLS.search(sentence)]
    held = [n for n, sentence in enumerate(sentences) if HELD.search(sentence)]
    assert all(held and held[0] <= n for n in rolls), said


def none_without_an_if(sentences: str) -> None:
    for sentence in words("en").say(sentences).split(". "):
        assert "brake" not in sentence or "where it has brakes" in sentence.lower()
