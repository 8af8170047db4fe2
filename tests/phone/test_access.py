"""Every screen of the app, in both schemes, for people who read, hear and tap otherwise."""

from __future__ import annotations

import pytest

from tests.phone.test_fits import TOURS, Tour
from tests.support.access import barriers
from tests.support.effort import PART
from tests.support.phone import SCREEN, Phone

PLACES = (
    *("#/", "#/walk", "#/run", "#/run/start", "#/run/plan", "#/trip", "#/lamps", "#/trailers"),
    *("#/trailer/new", "#/history", "#/settings", "#/pair", "#/figures", "#/nothing/of/this"),
)

# What tells a kind of screen from others.
KIND = """document.querySelector(".page").className
  + [".ticks", ".pad", ".row-of", ".ladder"].filter((part) => document.querySelector(part))"""


class Sweep:
    """The screens looked at, and what stood in the way on each."""

    def __init__(self, phone: Phone) -> None:
        self.phone = phone
        self.found: dict[str, list[str]] = {}
        phone.page.emulate_media(reduced_motion="reduce")

    def look(self, name: str) -> None:
        page = self.phone.page
        # as tall as its content: nothing lies under the foot that a scroll would free
        tall = page.evaluate("document.documentElement.scrollHeight")
        page.set_viewport_size({"width": SCREEN["width"], "height": tall})
        if found := barriers(page):
            self.found[name] = found
        page.set_viewport_size(SCREEN)  # type: ignore[arg-type]

    def open(self, place: str) -> None:
        self.phone.open(place)
        self.phone.settle()
        self.look(place)

    def walk_through(self, name: str, limit: int) -> None:
        """A check from its first screen on: each kind of screen once."""
        seen: set[str] = set()
        for _ in range(limit):
            if not self.phone.asking:
                break
            kind = str(self.phone.page.evaluate(KIND))
            if kind not in seen:
                self.look(f"{name}: {self.phone.question}")
            seen.add(kind)
            self.phone.answer()
        self.look(f"{name}: end")


@pytest.mark.sample
def test_nothing_stands_in_the_way_on_any_screen(one: Phone) -> None:
    sweep = Sweep(one)
    for place in PLACES[::PART]:
        sweep.open(place)
    assert sweep.found == {}


@pytest.mark.long
def test_nothing_stands_in_the_way_of_a_stop(one: Phone) -> None:
    sweep = Sweep(one)
    one.begin("quick_stop")
    sweep.walk_through("stop", 30)
    one.finish()
    sweep.look("kept")
    sweep.open("#/")
    sweep.open("#/history")
    assert sweep.found == {}


@pytest.mark.long
def test_nothing_stands_in_the_way_of_stop_now(one: Phone) -> None:
    sweep = Sweep(one)
    one.begin("quick_stop")
    one.tap_at(".sign-rows button")
    one.wait_for("location.hash.startsWith('#/now/')")
    one.settle()
    sweep.look("smoke")
    one.tap("Right wheel")
    one.wait_for("document.querySelector('h1').textContent.includes('Right wheel')")
    one.settle()
    sweep.look("stop now")
    sweep.open("#/")
    assert sweep.found == {}


@pytest.mark.sweep
def test_nothing_stands_in_the_way_of_a_check_of_tires(one: Phone) -> None:
    sweep = Sweep(one)
    one.begin("tires")
    sweep.walk_through("tires", 25)
    one.open(f"#/answers/{one.where.split('/')[2]}")
    one.settle()
    sweep.look("answers")
    assert sweep.found == {}


@pytest.mark.sweep
def test_nothing_stands_in_the_way_of_a_walk_by_place(one: Phone) -> None:
    sweep = Sweep(one)
    one.begin("walkaround")
    one.answer_until(lambda: one.page.locator(".zone-row").count() > 0)
    sweep.look("hitch")
    one.tap_at(".zone-row button.something")
    one.page.wait_for_selector(".faults")
    sweep.look("something")
    assert sweep.found == {}


@pytest.mark.sweep
def test_nothing_stands_in_the_way_of_figures(one: Phone) -> None:
    sweep = Sweep(one)
    one.open("#/figures")
    one.page.wait_for_selector(".topic")
    for at in (0, 3, one.page.locator(".topic").count() - 1):
        one.page.locator(".topic").nth(at).click()
        one.page.wait_for_selector("main a, .foot a")
        one.settle()
        sweep.look(one.question)
        one.page.locator(".foot .main").click()
        one.settle()
        sweep.look(f"a question: {one.question}")
        one.open("#/figures")
        one.page.wait_for_selector(".topic")
    assert sweep.found == {}


@pytest.mark.sweep
@pytest.mark.parametrize("tour", TOURS, ids=lambda one: one.__name__)
def test_nothing_stands_in_the_way_on_any_tour(one: Phone, tour: Tour) -> None:
    sweep = Sweep(one)
    tour(one, lambda _, name: sweep.look(name))
    assert sweep.found == {}
