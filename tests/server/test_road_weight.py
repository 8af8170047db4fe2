"""What the road needs is fetched after the first visit, and weighs what the page says at most."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from webapp.app_files.asset import Asset
from webapp.app_files.fetched import later
from webapp.app_files.shell import Shell
from webapp.engine import Engine

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "performance.md").read_text("utf-8")
SCRIPTS = [
    f"/static/{name}.js"
    for name in (
        *("data/past", "data/presets", "data/run", "data/run_kept", "data/run_plan"),
        *("engine/lamps", "engine/pressure", "engine/trend"),
        *("parts/calendar", "parts/chart", "parts/plug"),
        *("screens/calling", "screens/lamps", "screens/road", "screens/run", "screens/run_begin"),
        *("screens/run_clock", "screens/run_drive", "screens/run_over", "screens/run_verdict"),
        "screens/runs",
        *("screens/trip", "screens/years"),
    )
]
PARTS = {
    "scripts of run, trip, lamp test and years": SCRIPTS,
    "fault table of the lamp test": ["/lamp-table.json"],
}


@pytest.fixture(scope="module")
def listed() -> dict[str, Asset]:
    return Shell(ROOT / "static", Engine()).listed("en")


@pytest.mark.slow
@pytest.mark.parametrize("part", PARTS)
def test_a_part_of_the_road_weighs_no_more_than_its_budget(listed, part):
    found = re.search(rf"^\| {re.escape(part)} \| ([\d.]+) \| (\d+) \|$", PAGE, re.MULTILINE)
    together = b"".join(listed[name].body for name in PARTS[part])  # as the worker fetches them
    kb = len(Asset(together, ".txt").br) / 1000
    assert kb <= int(found[2])
    assert float(found[1]) == pytest.approx(kb, abs=0.8), "the page is out of date"


@pytest.mark.parametrize("name", sorted({name for names in PARTS.values() for name in names}))
def test_it_is_fetched_after_the_first_visit(listed, name):
    assert name in later("en")
    assert name in listed
