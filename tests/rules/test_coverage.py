"""The yearly federal inspection list against the walk: ``checks/coverage.toml``.

Source of the list: 49 CFR part 396, Appendix A, whose items stand in 15 groups.
"""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from checks.rulebook import load

ROOT = Path(__file__).parents[2]


def load_generator() -> ModuleType:
    spec = importlib.util.spec_from_file_location("generate", ROOT / "docs" / "generate.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


GENERATOR = load_generator()
ITEMS: list[dict[str, Any]] = GENERATOR.read_coverage()
ASKED = {p.id: p for s in load().stations for p in s.points if p.facts}


@pytest.mark.parametrize("item", ITEMS, ids=[str(i["number"]) for i in ITEMS])
def test_an_item_has_points_or_a_reason(item: dict[str, Any]) -> None:
    assert ("points" in item) != ("why_not" in item)
    assert item.get("points") or item["why_not"].strip()
    assert item["light"] in ("yes", "sometimes", "no")
    assert item["source"].startswith("49 CFR part 396 App. A")


@pytest.mark.parametrize(
    ("number", "point"), [(i["number"], p) for i in ITEMS for p in i.get("points", [])]
)
def test_a_point_named_is_asked_and_can_find_something(number: int, point: str) -> None:
    assert point in ASKED, f"item {number}"
    assert ASKED[point].findings, f"item {number}"


def test_what_a_light_trailer_always_has_is_always_asked() -> None:
    assert [i["number"] for i in ITEMS if i["light"] == "yes" and "why_not" in i] == []


def test_no_item_or_group_of_the_list_is_left_out() -> None:
    assert [i["number"] for i in ITEMS] == list(range(1, 55))
    groups = {int(word) for i in ITEMS for word in i["group"].split() if word.isdigit()}
    assert groups == set(range(1, 16))


def test_the_page_is_up_to_date() -> None:
    page = (ROOT / "docs" / "coverage.md").read_text("utf-8")
    assert page == GENERATOR.coverage(), "run python docs/generate.py coverage > docs/coverage.md"


def test_an_unknown_page_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert GENERATOR.main(["nothing"]) == 2
    assert "coverage" in capsys.readouterr().err
