"""What a milder card says to do beside *Mend* or *Stop now* waits for that only where it sends on.

A promise of the product, so there is no outside source.
"""

from __future__ import annotations

import re

import pytest

from checks.rulebook import load
from checks.words import words

LOOKS = {name: one for name, one in load().findings.items() if one.level == "look"}
# To drive, at a walk or for some miles, or to feel at a stop to come.
ON = re.compile(
    r"(?<!do not )\bdrive\b|at a walk|little braking|stop (again|and feel)"
    r"|(first|next|every) stop\b|\bmiles\b",
    re.IGNORECASE,
)
# What is done where one stands, though it names the way.
NOW = {
    "brakes_all_cold": "Test the trailer brakes before going on",
    "hub_no_touch": "Keep your hands off. Wait ten minutes without driving",
    "mates_apart": "Before you go on, feel or read every other hub",
    "rock_felt": "Look at the wheel nuts now",
    "too_hot": "Keep your hands off. Do not drive on",
    "way_knock": "before going on",
    "way_vibration": "before going on",
}


@pytest.mark.parametrize("name", LOOKS)
def test_a_card_is_marked_as_sending_on_where_its_advice_does(name):
    advice = words().say(f"finding-{name}.do")
    assert LOOKS[name].sends_on == bool(ON.search(advice)), advice
    assert NOW.get(name, "") in advice


def test_nothing_but_look_again_is_marked():
    """What is worse says itself what comes before driving on."""
    marked = {name for name, one in load().findings.items() if one.sends_on}
    assert marked <= set(LOOKS)
    assert not marked & set(NOW)
