"""How much each check that a shop asks for asks: no more than what it is due for."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from checks.rulebook import export
from tests.support.browser import engine_page
from tests.support.effort import few
from webapp.follow_up.schedule import CHECKS

# The questions and checklists of a due check of a trailer the shop has described, each answered
# with what is good: what a customer sees in turn.
COUNT = """async ([data, check, facts]) => {
    const at = (path) => import(`/static/${path}.js`);
    const [{ load }, a] = await Promise.all(["engine/judge", "data/asking"].map(at));
    const book = { ...load(data, { say: () => "", has: () => false }), data };
    let draft = { check, date: "2026-07-14", facts, skipped: [], known: Object.keys(facts) };
    const asked = [];
    const open = () => a.steps(book, draft).find((step) => !a.isDone(draft, step));
    for (let next; (next = open()) && asked.length < 500;) {
        asked.push(next.point);
        draft = a.answered(draft, Object.fromEntries(next.keys.map((key) =>
            [key, { raw: book.data.facts[a.factOf(key)].kind === "choice"
                ? a.choicesOf(book, draft, key)[0] : null }])));
    }
    return asked;
}"""

# Most steps with one axle and with two, electric brakes, and what they may look at.
HUBS = {"run", "run_brakes", "hub_signs", "hub_heat", "hub_pair"}
ROAD = {"run_more", "on_the_way", "coupling_stop"}
TIRES = {"tire_how", "tire_damage", "tire_wear", "tread", "tire_pressure", "tire_age", "tire_pair"}
SIZES: dict[str, tuple[int, int, set[str]]] = {
    "nuts_stop": (2, 4, {"nuts"}),
    "load_stop": (1, 1, {"load_stop"}),
    "quick_stop": (13, 20, HUBS),
    "run_stop": (
        *(29, 48),
        HUBS | ROAD | {"wheel_hands", "tire_glance", "tire_heat", "nuts", "load_stop"},
    ),
    "tires": (18, 33, TIRES),
}
WHOLE = {"walkaround"}  # due after storage: all round is what it asks


@pytest.fixture(scope="module")
def scripts(chromium: Browser) -> Page:
    return engine_page(chromium)


def asked(scripts: Page, check: str, axles: int) -> list[str]:
    facts: dict[str, Any] = {"axles": axles, "brakes": "electric"}
    found: list[str] = scripts.evaluate(COUNT, [export(), check, facts])
    return found


def test_every_check_that_a_shop_can_ask_for_has_a_size() -> None:
    assert set(CHECKS) == SIZES.keys() | WHOLE


@pytest.mark.parametrize("check", SIZES)
@pytest.mark.parametrize("axles", few([2, 1], 1))
def test_a_due_check_asks_no_more_than_it_is_due_for(scripts: Page, check: str, axles: int) -> None:
    points = asked(scripts, check, axles)
    assert 0 < len(points) <= SIZES[check][axles - 1]
    assert set(points) <= SIZES[check][2]


@pytest.mark.long
def test_a_stop_on_the_way_looks_at_no_more_than_its_name(scripts: Page) -> None:
    """The nuts, the load or the hubs alone stay well below the stop that looks at all three."""
    full = len(asked(scripts, "run_stop", 2))
    for check in ("nuts_stop", "load_stop", "quick_stop"):
        assert len(asked(scripts, check, 2)) < full / 2
