"""Of a pair that lies apart a tandem never says less than *Look again* where a single axle says so.

A promise of the product, so there is no outside source. Why it is not *Mend* at once while other
hubs are open is in docs/decisions.md.
"""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest

from checks.judge import judge
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
