"""Readiness: only what can be bad counts, and no full number stands beside something found.

docs/scoring.md has the rule; common practice, no source.
"""

from __future__ import annotations

import pytest

from checks.judge import judge
from checks.rulebook import load
from tests.support import cases
from tests.support.effort import PART

POINTS = [point for station in load().stations for point in station.points]
TOLD = [(one["sentence"], one["payload"]) for one in cases.scenarios()]
TOLD += [(one["case"], cases.payload(one)) for one in cases.all_cases()]


@pytest.mark.parametrize("point", [p for p in POINTS if p.weight], ids=lambda p: p.id)
def test_a_point_that_counts_can_be_bad(point):
    assert point.findings


@pytest.mark.sample
@pytest.mark.slow
def test_no_full_readiness_stands_beside_something_found():
    seen = set()
    for name, payload in TOLD[::PART]:
        verdict = cases.verdict_or_error(payload)
        if "error" in verdict:
            continue
        seen.add(verdict["level"])
        if verdict["level"] in ("stop", "mend"):
            assert verdict["readiness"] is None, name
        elif verdict["level"] == "look":
            assert verdict["readiness"][1] < 100, name
    assert seen == {"stop", "mend", "look", "nothing", "unchecked"}


def readiness(facts):
    base = cases.read_bases(load())["sound_trailer"]
    return judge(base | {"facts": base["facts"] | facts})["readiness"]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("what", "facts", "high"),
    [
        ("all sound", {}, 100),
        ("water in the hubs, at a point of weight 0", {"dunked": "yes"}, 99),
        ("a valve cap gone, at a point of weight 2", {"valve_cap_off@1L": "yes"}, 99),
        ("a bulge", {"bulge@1L": "yes"}, None),
    ],
    ids=lambda one: one if isinstance(one, str) else "",
)
def test_what_readiness_a_walk_ends_with(what, facts, high):
    found = readiness(facts)
    assert (found and found[1]) == high, what
