"""Every screen at every size: nothing cut, hidden, covered or to be scrolled sideways."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.phone.test_years import HISTORY, KEEP, TRAILER
from tests.support.effort import some
from tests.support.fits import BIG_TEXT, SIZES, unfit, with_big_text
from tests.support.phone import Phone, installed, phone
from tests.support.tongue import said
from tests.support.tours import MORE, Look, save_trailer

PLACES = (
    *("#/", "#/walk", "#/run", "#/run/start", "#/run/plan", "#/trip", "#/lamps", "#/lamps/found"),
    *("#/trailers", "#/trailer/new", "#/history", "#/settings", "#/pair", "#/figures"),
    "#/nothing/of/this",
)
KIND = """document.querySelector(".page").className + document.querySelector("h1").textContent"""
Tour = Callable[[Phone, Look], None]
Faults = dict[str, dict[str, list[str]]]


def through(one: Phone, look: Look, name: str, limit: int = 90) -> None:
    """From the first screen of a check to its verdict: each screen once."""
    seen: set[str] = set()
    for _ in range(limit):
        if not one.asking:
            break
        kind = str(one.page.evaluate(KIND))
        if kind not in seen:
            look(one, f"{name}: {one.question}")
        seen.add(kind)
        one.answer()
    assert not one.asking, one.question
    look(one, f"{name}: {one.where.split('/')[1]}")


def places(one: Phone, look: Look) -> None:
    save_trailer(one)
    look(one, "a trailer")
    for place in PLACES:
        one.open(place)
        one.settle()
        look(one, place)


def stop(one: Phone, look: Look) -> None:
    save_trailer(one)
    one.open()
    one.begin("quick_stop")
    through(one, look, "stop")
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    one.settle()
    look(one, "kept")
    for place in ("#/", "#/history"):
        one.open(place)
        one.settle()
        look(one, f"{place} after a check")


def stop_now(one: Phone, look: Look) -> None:
    one.begin("quick_stop")
    look(one, "signs")
    one.tap_at(".sign-rows button")
    one.wait_for("location.hash.startsWith('#/now/')")
    one.settle()
    look(one, "which wheel")
    right = json.dumps(said(one.language, "Right wheel")[0])
    one.tap("Right wheel")
    one.wait_for(f"document.querySelector('h1').textContent.includes({right})")
    one.settle()
    look(one, "stop now")
    one.open()
    one.settle()
    look(one, "front with a stop now")


def walk(one: Phone, look: Look) -> None:
    one.depth = "season"
    one.begin("walkaround")
    one.answer_until(lambda: one.where.endswith("/hitch"))
    one.tap_at(".zone-row button.something")
    one.page.wait_for_selector(".faults")
    look(one, "something")
    one.tap("Nothing else here")
    one.page.wait_for_selector(".walking:not(:has(.faults))")
    one.tap("Later")
    one.wait_for("location.hash.startsWith('#/pause/')")
    one.settle()
    look(one, "pause")
    one.page.go_back()
    one.page.wait_for_selector(".zone-row")
    one.settle()
    through(one, look, "walk", 150)


def tires(one: Phone, look: Look) -> None:
    one.begin("tires")
    draft = ""
    for _ in range(14):
        look(one, f"tires: {one.question}")
        draft = one.where.split("/")[2]
        one.answer()
    one.open(f"#/answers/{draft}")
    one.settle()
    look(one, "answers")
    one.open(f"#/sofar/{draft}")
    one.settle()
    look(one, "so far")


def figures(one: Phone, look: Look) -> None:
    one.open("#/figures")
    one.page.wait_for_selector(".topic")
    for at in (0, 3):
        one.page.locator(".topic").nth(at).click()
        one.page.wait_for_selector("main a, .foot a")
        one.settle()
        look(one, one.question)
        one.open("#/figures")
        one.page.wait_for_selector(".topic")


def road(one: Phone, look: Look) -> None:
    """The years of a hub, a run and its call, and the lamp test."""
    one.page.evaluate(KEEP, HISTORY)
    one.open(f"#/years/{TRAILER}")
    one.page.wait_for_selector("svg.years")
    look(one, "years")
    one.open()
    one.page.reload()
    one.tap("Start a run")
    one.by_name("End the run").wait_for()
    look(one, "a run")
    one.tap("End the run")
    one.page.wait_for_selector("dialog[open]")
    look(one, "the end of a run asks first")
    one.page.locator("dialog[open] button").last.click()
    one.by_name("End the run").wait_for(state="hidden")
    look(one, "a run that has ended")
    one.open()
    one.tap("Start a run")
    one.page.locator("details:has(form) summary").click()
    one.page.locator("details form input").fill("40")  # past twenty miles, in km too
    one.tap("Use this")
    one.page.wait_for_selector(".shouting")
    look(one, "a run's call")
    for place in ("#/", "#/trip"):
        one.open(place)
        one.settle()
        look(one, f"{place} on a run")
    lamps(one, look)


def lamps(one: Phone, look: Look) -> None:
    one.open("#/lamps")
    one.tap("Own outputs")
    one.tap("Begin")
    one.page.wait_for_selector(".lamp")
    look(one, "lamps")
    dark = one.page.locator("section.lamp").first.locator("button").nth(2)
    dark.click()
    one.page.wait_for_selector("section.lamp [aria-pressed=true]")
    one.open("#/lamps/found")
    one.page.wait_for_selector(".cause")
    look(one, "causes")


def from_elsewhere(one: Phone, look: Look) -> None:
    """What is only come to from another screen, a shop's link or another phone."""
    one.begin("quick_stop")
    one.finish()
    one.open(f"#/trailer/from/{one.where.split('/')[2]}")
    one.page.wait_for_selector("#name")
    look(one, "a trailer from a check")
    one.open("#/run/from/none")
    one.by_name("End the run").wait_for()
    look(one, "a run from a link")
    one.open("#/settings")
    one.settle()
    one.tap("Bring it to another phone")
    one.page.locator(".address").wait_for()
    look(one, "to another phone")
    for secret in (one.page.input_value(".address").rpartition("/")[2], "A" * 43):
        one.open(f"#/pair/{secret}")
        one.wait_for("location.hash === '#/pair/'")
        one.settle()
        look(one, f"from another phone, {secret[:1] == 'A'}")
    one.page.wait_for_selector(".trouble")


TOURS = (stop, places, walk, stop_now, tires, figures, road, from_elsewhere, *MORE)


def unfit_on(one: Phone, tour: Tour, sizes: dict[str, tuple[int, int]]) -> Faults:
    found: Faults = {}

    def look(one: Phone, name: str) -> None:
        if faults := unfit(one.page, sizes):
            found[name] = faults

    one.page.emulate_media(reduced_motion="reduce")
    tour(one, look)
    return found


@pytest.mark.long
@pytest.mark.parametrize("tour", some(TOURS, 2), ids=lambda one: one.__name__)
def test_every_screen_fits(chromium: Browser, server: str, tour: Tour) -> None:
    with installed(chromium, server) as one:
        assert unfit_on(one, tour, SIZES) == {}


@pytest.mark.long
@pytest.mark.parametrize("tour", some(TOURS, 2), ids=lambda one: one.__name__)
def test_every_screen_fits_with_letters_twice_as_large(
    chromium: Browser, server: str, tmp_path: Path, tour: Tour
) -> None:
    sizes = {name: SIZES[name] for name in ("a small phone",)}
    with phone(chromium, with_big_text(tmp_path), server, lasting=True) as one:
        one.install()
        letters = "parseFloat(getComputedStyle(document.documentElement).fontSize)"
        assert one.page.evaluate(letters) >= BIG_TEXT
        assert unfit_on(one, tour, sizes) == {}


@pytest.mark.english  # measured with its words
@pytest.mark.parametrize("axles", [1, 2])
def test_all_signs_of_a_stop_stand_on_a_small_phone_at_once(one: Phone, axles: int) -> None:
    one.page.set_viewport_size({"width": 360, "height": 640})
    one.open()
    one.begin("quick_stop")
    for _ in range(axles - 1):
        one.tap("It has one more axle")
        one.page.wait_for_selector(".tires .tire:nth-of-type(4)")
    one.settle()
    ends = "all => all.map((one) => one.getBoundingClientRect().bottom)"
    bottoms = one.page.locator(".sign-rows button").evaluate_all(ends)
    assert len(bottoms) == 9
    assert max(bottoms) <= 640


def test_a_caution_beside_the_road_has_the_whole_width_of_a_small_phone(one: Phone) -> None:
    one.page.set_viewport_size({"width": 360, "height": 640})
    one.open()
    one.begin("quick_stop")
    one.tap("Smoke")
    one.page.wait_for_selector(".stop-now .cautions")
    width = one.page.locator(".cautions").evaluate("one => one.getBoundingClientRect().width")
    assert width == 360 - 2 * 16


APART = """() => {
  const boxes = [...document.querySelectorAll("main > .answer, main > .row")]
    .map((one) => one.getBoundingClientRect());
  return boxes.slice(1).map((one, at) => one.top - boxes[at].bottom);
}"""


@pytest.mark.long
def test_what_can_be_done_with_a_trailer_stands_apart(one: Phone) -> None:
    save_trailer(one)
    assert min(one.page.evaluate(APART)) >= 8


@pytest.mark.long
def test_a_long_name_is_read_whole_in_the_history_and_where_a_trailer_is_chosen(one: Phone) -> None:
    save_trailer(one)
    one.open()
    one.begin("quick_stop")
    one.finish()
    one.page.set_viewport_size({"width": 360, "height": 640})
    one.open()
    one.settle()
    width = "one => one.getBoundingClientRect().width"
    assert one.page.locator("#which").evaluate(width) == 360 - 2 * 16
    one.open("#/history")
    one.settle()
    assert one.page.locator(".entryrow > :last-child").evaluate(width) > 290


EMPTY = """() => [...document.querySelectorAll("main h2, main summary")]
  .filter((head) => head.checkVisibility()
    && ![...head.parentElement.children].some((one) => one !== head && one.checkVisibility()
    && one.getBoundingClientRect().height)).map((head) => head.textContent)"""


@pytest.mark.long
def test_a_printed_verdict_has_no_heading_over_nothing_and_no_button(one: Phone) -> None:
    one.open()
    one.begin("quick_stop")
    one.finish()
    one.page.set_viewport_size({"width": 720, "height": 1000})
    one.page.emulate_media(media="print")
    assert one.page.evaluate(EMPTY) == []
    assert not one.page.locator("button:visible, a.answer:visible").count()
    assert one.page.locator("h1").is_visible()
    assert one.page.evaluate("document.documentElement.scrollWidth") <= 720
