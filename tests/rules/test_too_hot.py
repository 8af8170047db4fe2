"""A hub too hot for the hand is never *Not checked*, nor passed over, whatever else is left open.

A promise of the product, so there is no outside source; that a sound hub can be so hot in a desert
or behind its brakes is docs/judgement.md.
"""

from __future__ import annotations

from itertools import combinations
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checks.facts import wheel_order
from checks.judge import TOO_HOT, asked, join_key, judge, read_case
from checks.rulebook import load
from checks.words import words
from tests.rules.test_judge_properties import AROUND, DAY, answer
from tests.support.effort import effort

BOOK = load()
STOPS = ("quick_stop", "run_stop")
ALARMING = ("very_hot", "no_touch")
SIGNS = ("smoke", "leaning", "grinding", "hot_smell", "thrown_grease")
LEAST = 29.0  # degC, 85 °F: below, no sound hub that worked its brakes is very hot to a hand
FACTS: dict[str, Any] = {
    "axles": 1, "brakes": "electric", "braking": "normal", "air": "70 degF",
    "run_distance": "20 mi", "run_speed": "55 mph", "parked": 3, "hub_method": "hand",
    "hub_spot": "barrel", "hub_feel@1L": "no_touch", "hub_feel@1R": "no_touch",
    "pair_feel@1": "alike",
} | {f"{sign}@1{side}": "no" for sign in SIGNS for side in "LR"}  # fmt: skip
LEFT_OPEN = {
    "air": ["air"],
    "mate": ["hub_feel@1R", "pair_feel@1"],
    "speed": ["run_speed", "run_distance"],
    "place": ["hub_spot"],
    "brakes": ["brakes", "braking"],
    "signs": [key for key in FACTS if key.partition("@")[0] in SIGNS],
}
COMBINATIONS = [
    some for n in range(len(LEFT_OPEN) + 1) for some in combinations(LEFT_OPEN, n)
]  # fmt: skip


@pytest.mark.parametrize("word", ALARMING)
@pytest.mark.parametrize("check", STOPS)
@pytest.mark.parametrize("left", COMBINATIONS, ids="+".join)
def test_a_hub_too_hot_for_the_hand_is_look_again_or_worse_whatever_is_open(left, check, word):
    gone = {key for name in left for key in LEFT_OPEN[name]}
    facts = {key: raw for key, raw in FACTS.items() if key not in gone} | {"hub_feel@1L": word}
    verdict = judge({"check": check, "date": DAY, "facts": facts})
    assert verdict["level"] in ("look", "mend", "stop")
    assert verdict["places"]["1L"] in ("look", "mend", "stop")
    assert [one for one in verdict["findings"] if one["place"] in ("1L", "1", "")]


@pytest.mark.parametrize(
    ("answers", "card"),
    [
        ({"hub_feel@1L": "no_touch"}, True),
        ({"hub_feel@1L": "very_hot"}, True),
        ({"hub_feel@1L": ["very_hot", "no_touch"]}, True),
        ({"hub_feel@1L": "hot"}, False),
        ({"hub_feel@1L": ["hot", "very_hot"]}, False),
        ({"again_feel@1L": "very_hot"}, True),
        ({"hub_method": "thermometer", "hub_reading@1L": [64.9, 64.9]}, False),
        ({"hub_method": "thermometer", "hub_reading@1L": [65, 65]}, True),
        ({"hub_method": "thermometer", "hub_reading@1L": [60, 70]}, False),
        ({}, False),
    ],
)  # fmt: skip
def test_with_all_else_open_what_a_hand_cannot_bear_has_a_card_that_says_so(answers, card):
    facts = {"axles": 1, "hub_method": "hand"} | answers
    verdict = judge({"check": "quick_stop", "date": DAY, "facts": facts})
    cards = [(one["finding"], one["place"]) for one in verdict["findings"]]
    assert cards == ([(TOO_HOT, "1L")] if card else [])
    assert verdict["level"] == ("look" if card else "unchecked")
    # and what settles it is asked next
    assert verdict["next"]


# What asks for a hand on the wheel, or on both of its axle.
TOUCHING = {"hub_feel", "again_feel", "barrel_feel", "turns", "rock"}


def asks(facts: dict[str, Any], check: str) -> set[str]:
    """Keys that a check asks with these answers."""
    _, case = read_case({"check": check, "date": DAY, "facts": facts}, BOOK)
    return {join_key(key) for visit in asked(check, case, BOOK) for key in visit.keys}


@pytest.mark.parametrize(
    ("fact", "not_told"), [("driven_easy", "braking"), ("barrel_feel@1L", "hub_spot")]
)
def test_a_question_asked_while_its_ground_is_not_told_names_that_with_an_if(fact, not_told):
    facts = FACTS | {"hub_feel@1L": "very_hot", "hub_feel@1R": "warm", not_told: None}
    assert fact in asks(facts, "quick_stop")
    for language, if_so in (("en", "If you "), ("es", "Si ")):
        assert words(language).say(f"fact-{fact.partition('@')[0]}").startswith(if_so)


@pytest.mark.parametrize("word", ["warm", "hot", *ALARMING])
def test_what_drew_a_hand_back_still_counts_when_a_thermometer_is_fetched(word):
    facts = FACTS | {"hub_method": "thermometer", "hub_feel@1L": word}
    del facts["hub_feel@1R"]
    here = asks(facts, "quick_stop")
    assert ("hub_feel@1L" in here) == (word in ALARMING)
    assert "hub_feel@1R" not in here


@pytest.mark.parametrize("check", STOPS)
@pytest.mark.parametrize("sides", ["L", "R", "LR"])
@pytest.mark.parametrize("braking", ["none", "normal", "hard"])
def test_what_drew_a_hand_back_is_not_to_be_touched_again_to_compare_it(braking, sides, check):
    """Before it was waited for, that is: after easy miles it is felt once more, near it first."""
    brakes = {"brakes": "none"} if braking == "none" else {"braking": braking}
    warm = FACTS | brakes | {"hub_feel@1L": "warm", "hub_feel@1R": "warm"}
    assert "pair_feel@1" in asks(warm, check)
    hot = asks(warm | {f"hub_feel@1{side}": "no_touch" for side in sides}, check)
    assert not {f"{fact}@1" for fact in ("pair_feel", *TOUCHING)} & hot
    assert not {f"{fact}@1{side}" for fact in ("again_feel", "barrel_feel") for side in sides} & hot


@pytest.mark.parametrize("check", STOPS)
@pytest.mark.parametrize("sign", ["flames", "smoke", "leaning"])
@pytest.mark.parametrize("spot", ["barrel", "drum"])
def test_no_hand_is_sent_to_a_wheel_that_burns_smokes_or_leans(spot, sign, check):
    facts = FACTS | {"hub_spot": spot, "driven_easy": "yes"}
    here = asks(facts | {f"{sign}@1L": "yes"}, check)
    assert not {f"{fact}@1L" for fact in TOUCHING} & here
    assert "pair_feel@1" not in here
    assert {"hub_feel@1L", "hub_feel@1R"} <= asks(facts, check)
    assert "hub_feel@1R" in here


def test_what_holds_up_driving_on_is_a_look_whose_own_words_say_so():
    marked = [one for one in BOOK.findings.values() if one.holds]
    assert [(one.id, one.level) for one in marked] == [("hub_no_touch", "look")]
    for language, words_of in (("en", "without driving"), ("es", "sin manejar")):
        assert words_of in words(language).say("finding-hub_no_touch.do")


@st.composite
def hot_stops(draw: st.DrawFn) -> tuple[dict[str, Any], str]:
    """A stop by hand with one hub too hot for it, any other answers and gaps; and that wheel."""
    wheels = wheel_order(draw(st.integers(1, 3)))
    places = {"trailer": [""], "axle": sorted({w[0] for w in wheels}), "wheel": wheels}
    facts: dict[str, Any] = {"axles": len(wheels) // 2}
    for name in (*AROUND, *SIGNS, "hub_method"):
        fact = BOOK.facts[name]
        for place in places[fact.scope]:
            if draw(st.booleans()):
                facts[f"{name}@{place}".rstrip("@")] = draw(answer(fact))
    wheel = draw(st.sampled_from(wheels))
    return facts | {f"hub_feel@{wheel}": draw(st.sampled_from(ALARMING))}, wheel


@pytest.mark.sample
@effort(200)
@given(hot_stops(), st.sampled_from(STOPS))
def test_no_hub_too_hot_for_the_hand_ends_in_not_checked_or_nothing_found(stop, check):
    """All answered it may: in air so hot that a sound hub is. Then its doubt is told."""
    facts, wheel = stop
    verdict = judge({"check": check, "date": DAY, "facts": facts})
    assert verdict["level"] != "unchecked"
    if verdict["places"][wheel] in ("look", "mend", "stop"):
        return
    heat = [p for p in verdict["points"] if p["point"] == "hub_heat" and p["place"] == wheel]
    assert facts.get("hub_method") != "thermometer" or heat[0]["level"] == "nothing"
    if facts.get("hub_method") != "thermometer":
        assert [p["level"] for p in heat] == ["nothing"]
        assert hottest(facts["air"]) >= LEAST
        assert [one for one in verdict["cannot_tell"] if one["place"] == wheel]


def hottest(air: Any) -> float:
    """The upper end of an answer about the air, degC."""
    return float(air[1]) if isinstance(air, (list, tuple)) else float(air) + 1.0
