"""A walk that goes less deep leaves things out: they are told and count open."""

from __future__ import annotations

from typing import Any

import pytest

from checks.judge import asked, judge, read_case
from checks.rulebook import load
from tests.support.cases import filled

TRAILER = {
    "axles": 1, "brakes": "none", "boat": "no", "tilt": "no", "ramps": "no", "enclosed": "no",
}  # fmt: skip
FINE = {"latch": "yes", "nuts": "tight", "inner_seen": "yes", "tongue_feel": "level"}


def walk(depth: Any, **facts: Any) -> dict[str, Any]:
    """A walk of a single axle on which everything its depth asks was looked at and is fine."""
    payload = {
        "check": "walkaround",
        "date": "2026-07-14",
        "facts": TRAILER | {"walk_depth": depth},
    }
    check, case = read_case(payload, load())
    keys = {key for visit in asked(check, case, load()) for key in visit.required}
    fine = {f"{name}@{at}".rstrip("@"): FINE.get(name, "no") for name, at in keys}
    told = {key: raw for key, raw in fine.items() if key not in payload["facts"]}
    usable = {k: v for k, v in told.items() if load().facts[k.partition("@")[0]].kind == "choice"}
    usable = {k: v for k, v in usable.items() if v in load().facts[k.partition("@")[0]].choices}
    return judge(
        filled(payload | {"whole": True, "facts": usable | payload["facts"] | facts}, load())
    )


def left(verdict: dict[str, Any]) -> set[str]:
    return {entry["point"] for entry in verdict["left_out"]}


def test_every_trip_comes_to_nothing_found_and_says_what_it_left_out() -> None:
    verdict = walk("trip")
    assert verdict["level"] == "nothing"
    assert {"tread", "tire_pressure", "tire_age", "lift", "roll", "frame"} <= left(verdict)
    assert not {"latch", "chains"} - {p["point"] for p in verdict["points"]}


def test_what_is_left_out_counts_open_in_readiness() -> None:
    low, high = walk("trip")["readiness"]
    assert low < 75
    assert high == 100


def test_a_deeper_walk_leaves_less_out() -> None:
    trip, month, season = (left(walk(depth)) for depth in ("trip", "month", "season"))
    assert season == set()
    assert season < month < trip


@pytest.mark.parametrize("depth", [None, ["trip", "month"]], ids=["not said", "one of two"])
def test_a_walk_whose_depth_is_not_sure_is_judged_whole(depth: Any) -> None:
    assert left(walk(depth)) == set()


def test_a_deeper_fault_that_was_seen_counts_on_every_trip() -> None:
    assert walk("trip", frame_cracked="yes")["level"] in ("mend", "stop")


def test_a_glance_is_a_reason_to_look_again() -> None:
    assert walk("trip", chain_missing=["no", "yes"])["level"] == "look"


def test_not_sure_leaves_a_trip_question_open() -> None:
    assert walk("trip", chain_missing=None)["level"] == "unchecked"


def test_other_checks_know_no_depth() -> None:
    facts = {"axles": 1, "walk_depth": "trip"}
    verdict = judge({"check": "tires", "date": "2026-07-14", "facts": facts})
    assert verdict["left_out"] == []
