"""The walk by place: few taps, and nobody who does not look is told that nothing was found."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.support.phone import Phone, phone

OPEN = ".zone-row:not(:has([aria-pressed=true]))"
TAPS = 28 - 2  # of the whole walk, without the one that begins it and the one that keeps it
SHOWN = "location.hash + document.querySelectorAll('[aria-pressed=true]').length"
# a look takes no time here: what the person would take is added to the page's clock
LONG_LOOK = """
    let calls = 0;
    performance.now = () => 20000 * ++calls;
"""


@pytest.fixture
def one(chromium: Browser, server: str, tmp_path: Path) -> Iterator[Phone]:
    with phone(chromium, tmp_path, server) as it:
        it.install()
        yield it


def begin(one: Phone) -> None:
    """To the hitch of a single axle without brakes."""
    one.tap("By place, on a drawing")
    one.wait_for("location.hash.includes('/axles')")
    one.settle()
    for _ in range(12):
        if one.page.locator(".zone-row").count():
            return
        one.answer()
    raise AssertionError(one.where)


def tap(one: Phone, selector: str) -> None:
    before = one.page.evaluate(SHOWN)
    one.tap_at(selector)
    one.wait_for(f"{SHOWN} !== {before!r}")
    one.settle()


def all_fine(one: Phone) -> int:
    """Everything called fine; the taps that it took."""
    before = one.taps
    while one.where.startswith("#/walk/"):
        tap(one, f"{OPEN} .fine")
    return one.taps - before


def level(one: Phone) -> str:
    one.wait_for("location.hash.startsWith('#/sofar/')")
    one.settle()
    return one.question


def test_who_answers_at_once_everywhere_gets_no_better_than_look_again(one: Phone) -> None:
    begin(one)
    all_fine(one)
    assert "Look again" in level(one)


def test_who_looks_is_through_in_few_taps_and_nothing_is_found(one: Phone) -> None:
    begin(one)
    one.page.evaluate(LONG_LOOK)
    assert all_fine(one) <= TAPS
    assert "Nothing found" in level(one)


def test_who_taps_one_spot_gets_no_further(one: Phone) -> None:
    begin(one)
    spot = one.page.locator(".zone-row .fine").first.bounding_box()
    assert spot
    for _ in range(20):
        one.page.mouse.click(spot["x"] + 20, spot["y"] + 20)
    assert one.where.endswith("/hitch")


def test_no_chain_opens_the_page_of_a_stop_now(one: Phone) -> None:
    begin(one)
    one.tap("Safety chains: Something")
    one.tap("A chain is missing or not hooked on")
    one.wait_for("location.hash.startsWith('#/now/')")


def test_a_reload_keeps_what_was_answered(one: Phone) -> None:
    begin(one)
    tap(one, f"{OPEN} .fine")
    one.page.reload()
    one.page.wait_for_selector(".zone-row [aria-pressed=true]")


def test_the_walk_works_without_signal(one: Phone) -> None:
    one.offline(True)
    begin(one)
    all_fine(one)
    assert "Look again" in level(one)
