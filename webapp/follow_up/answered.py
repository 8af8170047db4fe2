"""Whether a check that came back answers what it was due for."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import ColumnElement, exists

from checks.facts import wheel_order
from webapp.storage.models import due, records

# What has to be answered, by the check that is due, whatever the shop calls it.
NUTS, HUBS, LOAD, TIRES, ALL_ROUND = "nuts", "hubs", "load", "tires", "walk"
ASKED = {
    "nuts_stop": {NUTS},
    "quick_stop": {HUBS},
    "load_stop": {LOAD},
    "run_stop": {NUTS, HUBS, LOAD},
    "tires": {TIRES},
    "walkaround": {ALL_ROUND},
}
MOST_AXLES = 3
# A hub that smokes, burns or leans is not felt any more: that is its answer, of whichever
# wheel nobody has told.
PLAIN_SIGNS = ("smoke", "flames", "leaning")


def answers(line: Mapping[str, Any], facts: Mapping[str, Any], level: str) -> bool:
    """Whether a check with these ``facts``, judged as ``level``, does the due ``line``.

    The line is a row of ``due``. *Not sure* is no answer.
    """
    places = wheel_order(axles_of(facts))
    holds = {
        NUTS: all(given(facts, "nuts", place) for place in places),
        HUBS: all(hub_answered(facts, place) for place in places),
        LOAD: any(facts.get(name) is not None for name in ("load_shifted", "strap_loosened")),
        TIRES: all(some_at(facts, place) for place in places),
        ALL_ROUND: level != "unchecked",
    }
    return all(holds[one] for one in ASKED[line["check"]])


def came_back() -> ColumnElement[bool]:
    """Whether a check came back for the due line, to be read with a row of ``due``.

    True on a line that is not done: what came back leaves open what the line asks.
    """
    return exists().where(records.c.due_id == due.c.id).correlate(due).label("came_back")


def axles_of(facts: Mapping[str, Any]) -> int:
    axles = facts.get("axles")
    return axles if isinstance(axles, int) and 1 <= axles <= MOST_AXLES else 1


def given(facts: Mapping[str, Any], name: str, place: str) -> bool:
    return facts.get(f"{name}@{place}") is not None


def some_at(facts: Mapping[str, Any], place: str) -> bool:
    return any(raw is not None and key.endswith(f"@{place}") for key, raw in facts.items())


def hub_answered(facts: Mapping[str, Any], place: str) -> bool:
    felt = given(facts, "hub_feel", place) or given(facts, "hub_reading", place)
    seen = (facts.get(key) for name in PLAIN_SIGNS for key in (f"{name}@{place}", name))
    return felt or "yes" in seen
