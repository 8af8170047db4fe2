"""Told scenarios: what a master mechanic would accept as the mildest and the most severe verdict.

Each is a sentence with a check, a date, answers, the levels ``least`` and ``most``, and the reason;
``base`` names an entry of ``tests/cases/base.json`` that it changes. Common practice, no source.
"""

from __future__ import annotations

from typing import Any

import pytest

from checks.judge import LEVELS, judge
from tests.support import cases

TOLD = cases.scenarios()
# mildest first; unchecked is no pass, and no finding either
ORDER = ("nothing", "unchecked", "look", "mend", "stop")


@pytest.mark.parametrize("told", TOLD, ids=[told["sentence"] for told in TOLD])
def test_a_scenario_ends_where_a_mechanic_would(told: dict[str, Any]) -> None:
    verdict = judge(told["payload"])
    found = [entry["finding"] for entry in verdict["findings"]]
    least, most, level = (
        ORDER.index(one) for one in (told["least"], told["most"], verdict["level"])
    )
    assert least <= level <= most, f"{verdict['level']}: {found}. {told['reason']}"


def test_scenarios_are_told_once_and_whole() -> None:
    sentences = [told["sentence"] for told in TOLD]
    assert len(sentences) == len(set(sentences))
    assert set(ORDER) == set(LEVELS)
    for told in TOLD:
        assert {"sentence", "facts", "least", "most", "reason"} <= set(told), told
        assert ORDER.index(told["least"]) <= ORDER.index(told["most"]), told["sentence"]
        assert "base" in told or {"check", "date"} <= set(told), told["sentence"]
