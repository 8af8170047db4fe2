"""A pair that lies apart ends as *Look again* at least: on a tandem where a single axle says so,
and, told clearly apart, whatever else is left open.

A promise of the product, so there is no outside source. Why it is not *Mend* at once while other
hubs are open is in docs/decisions.md.
"""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest

from checks.judge import MATES_APART, judge
from tests.rules.test_judge_properties import DAY
from tests.rules.test_too_hot import FACTS, SIGNS

WARMTHS: dict[str, tuple[Any, ...]] = {
    "hub_feel": ("cold", "cool", "slight", "warm", "hot", "very_hot"),
    "hub_reading": (20, 30, 40, 50, 60),
}
BRAKES: list[dict[str, Any]] = [
    {},
    *({"braking": braking} for braking in ("hardly", "normal", "hard")),
    {"brakes": None, "braking": None},
]
# What was told of the second axle: by hand, and by thermometer.
OTHERS: dict[str, tuple[Any, Any]] = {
    "open": (None, None),
    "half told": ("warm", 40),
    "too coarse to tell which of the two": (["cool", "slight", "warm"], [25, 45]),
}
SIDES = {"open": "", "half told": "L"}
APART = {"hub_far_from_mate", "hub_warmer_than_mate"}


def judged(facts: dict[str, Any], axles: int) -> dict[str, Any]:
    return judge({"check": "quick_stop", "date": DAY, "facts": facts | {"axles": axles}})


@pytest.mark.parametrize("other", OTHERS)
@pytest.mark.parametrize("spot", ["barrel", "drum", None])
@pytest.mark.parametrize("fact", WARMTHS)
def test_a_pair_apart_is_look_again_on_a_tandem_too(fact, spot, other):
    """Whatever was told of the brakes, and however little of the other axle."""
    method = "hand" if fact == "hub_feel" else "thermometer"
    base = FACTS | {"hub_method": method, "hub_spot": spot, "braking": None, "pair_feel@1": None}
    base |= {"hub_feel@1L": None, "hub_feel@1R": None}
    for side in SIDES.get(other, "LR"):
        base |= {f"{sign}@2{side}": "no" for sign in SIGNS}
        base[f"{fact}@2{side}"] = OTHERS[other][method == "thermometer"]
    milder, apart = [], 0
    for brakes, left, right in product(BRAKES, WARMTHS[fact], WARMTHS[fact]):
        facts = base | brakes | {f"{fact}@1L": left, f"{fact}@1R": right}
        alone = judged({key: raw for key, raw in facts.items() if "@2" not in key}, 1)
        if not APART & {one["finding"] for one in alone["findings"]}:
            continue
        apart += 1
        if judged(facts, 2)["level"] not in ("stop", "mend", "look"):
            milder.append((brakes, left, right))
    assert apart
    assert not milder


# A comparison by hand while what could explain it is open: the place of the card.
TOLD = [
    ("two words, told so", "hot", "slight", "left_clearly", "1L"),
    ("two cooler words, told so", "warm", "cool", "left_clearly", "1L"),
    ("the other way round", "slight", "hot", "right_clearly", "1R"),
    ("one word, told so", "hot", "warm", "left_clearly", "1"),
    ("one word for both, told so", "warm", "warm", "left_clearly", "1"),
    ("no word yet, told so", None, None, "left_clearly", "1"),
    ("two words, and told alike", "hot", "slight", "alike", ""),
    ("two words, slightly told", "hot", "slight", "left_slightly", ""),
    ("two words alone: after hard braking sound ones are so", "hot", "slight", None, ""),
]
EXPLAINS: dict[str, dict[str, Any]] = {
    "nothing": {"brakes": None, "braking": None},
    "that it has brakes": {},
    "braking": {"braking": "normal"},
    "hard braking": {"braking": "hard"},
    "hard braking, at the barrel": {"braking": "hard", "hub_spot": "barrel"},
    "hard braking, at the drum": {"braking": "hard", "hub_spot": "drum"},
}


@pytest.mark.parametrize("axles", [1, 2])
@pytest.mark.parametrize("explained", EXPLAINS)
@pytest.mark.parametrize(("left", "right", "told", "place"), [one[1:] for one in TOLD])
def test_a_side_told_clearly_warmer_is_never_not_checked(
    left, right, told, place, explained, axles
):
    """After hard braking, or on a drum, sound ones are apart too: the words have to say more."""
    gone = dict.fromkeys(("air", "run_distance", "run_speed", "parked", "hub_spot", "braking"))
    signs = {f"{sign}@{axles}{side}": "no" for sign in SIGNS for side in "LR"}
    warmth = {"hub_feel@1L": left, "hub_feel@1R": right, "pair_feel@1": told}
    hard = EXPLAINS[explained].get("braking") == "hard"
    # on a tandem the axle may be one without a brake
    if axles == 1 and (explained.endswith("drum") or (hard and place == "1")):
        place = ""
    verdict = judged(FACTS | signs | gone | EXPLAINS[explained] | warmth, axles)
    cards = [(one["finding"], one["place"]) for one in verdict["findings"]]
    assert cards == ([(MATES_APART, place)] if place else [])
    assert verdict["level"] == ("look" if place else "unchecked")
    # and what settles it is asked next
    assert verdict["next"]
