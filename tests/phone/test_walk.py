"""The walk by place: few taps, and nobody who does not look is told that nothing was found."""

from __future__ import annotations

from itertools import product
from pathlib import Path
from typing import Any

import pytest

from checks.rulebook import load
from checks.words import words
from tests.phone.test_verdict import save_trailer
from tests.support.effort import few, some
from tests.support.phone import LONG_LOOK, NO_TIME, OPEN_ZONE, Phone


def begin(one: Phone, depth: str = "trip") -> None:
    """To the hitch of a single axle without brakes; looks take no time from here on."""
    one.depth = depth
    one.begin("walkaround")
    one.answer_until(lambda: one.where.endswith("/hitch"))
    one.page.evaluate(NO_TIME)


def on_walk(one: Phone) -> bool:
    return one.where.startswith("#/walk/")


def level(one: Phone) -> str:
    one.answer_until(lambda: not one.asking)
    one.wait_for("location.hash.startsWith('#/sofar/')")
    one.settle()
    return one.page.inner_text(".verdict .head .word")


@pytest.mark.long
@pytest.mark.parametrize("depth", some(["trip", "month", "season"], 1))
def test_who_answers_at_once_everywhere_gets_no_better_than_look_again(
    one: Phone, depth: str
) -> None:
    begin(one, depth)
    assert level(one) in ("Look again", "Not checked")


@pytest.mark.long
def test_the_jack_is_looked_at_after_the_lift_test(one: Phone) -> None:
    """It is wanted for the test, so that it would be let down once more."""
    begin(one, "season")
    at = "one => one.getBoundingClientRect().top + scrollY"
    latch = one.page.locator("[data-zone=latch]")
    lift = one.page.get_by_role("heading", name=words("en").say("fact-lift_test"))
    assert lift.evaluate(at) < latch.evaluate(at)
    latch.locator(".something").click()
    latch.get_by_role("button", name=words("en").say("fact-jack_down")).wait_for()


def test_the_jack_comes_after_the_lift_test_in_the_order_of_the_walk() -> None:
    points = [point.id for station in load().stations for point in station.points]
    assert points.index("lift") < points.index("coupler")
    assert "jack_down" in next(
        point.facts
        for station in load().stations
        for point in station.points
        if point.id == "coupler"
    )


@pytest.mark.long
def test_who_looks_is_through_and_nothing_is_found(one: Phone) -> None:
    begin(one)
    one.page.evaluate(LONG_LOOK)
    assert level(one) == "Nothing found"


@pytest.mark.long
@pytest.mark.parametrize(
    ("depth", "x"), some(product(["trip", "month", "season"], [60, 180, 300]), 2)
)
def test_who_taps_one_spot_on_every_screen_never_reaches_nothing_found(
    one: Phone, depth: str, x: int
) -> None:
    begin(one, depth)
    one.page.evaluate(LONG_LOOK)
    for y in (330, 480, 690):
        for _ in range(25):
            one.page.mouse.click(x, y)
        assert one.page.locator(".verdict .shape.nothing").count() == 0, (x, y)


def test_no_chain_opens_the_page_of_a_stop_now(one: Phone) -> None:
    begin(one)
    one.tap("Safety chains: Something")
    one.tap("A chain is missing or not hooked on")
    one.wait_for("location.hash.startsWith('#/now/')")
    assert "chain" in one.page.inner_text(".stop-now h1").lower()


def test_one_chain_counted_opens_the_page_of_a_stop_now(one: Phone) -> None:
    begin(one)
    one.tap_at(".proof .pick:text-is('One')")
    one.wait_for("location.hash.startsWith('#/now/')")
    assert "chain" in one.page.inner_text(".stop-now h1").lower()


@pytest.mark.long
def test_who_walks_in_a_driveway_is_nowhere_told_to_leave_the_road(one: Phone) -> None:
    begin(one)
    one.tap_at("[data-zone=ball] .something")
    one.tap(words("en").say("fact-ball_loose"))
    one.page.wait_for_selector(".stop-now h1")
    told = [one.page.inner_text(".page")]
    keep(one)
    told.append(one.page.inner_text(".page"))
    one.open("#/trip")
    one.page.wait_for_selector(".carried.stop")
    told.append(one.page.inner_text(".page"))
    assert ["Do not tow this trailer until" in text for text in told] == [True] * 3
    assert ["off the road" in text for text in told] == [False] * 3
    one.open()
    one.begin("quick_stop")
    one.tap("Smoke")
    one.page.wait_for_selector(".stop-now h1")
    assert "off the road" in one.page.inner_text(".page")


@pytest.mark.long
def test_something_without_a_fault_leaves_the_zone_open(one: Phone) -> None:
    begin(one)
    one.tap("Safety chains: Something")
    chains = one.page.locator("[data-zone=chains]")
    chains.locator(".something[aria-pressed=true]").wait_for()
    one.tap("Nothing else here")
    one.tap("Nothing else here")
    chains.locator(".trouble", has_text="Nothing is ticked").wait_for()
    assert chains.locator(".trouble").count() == 1
    assert not [
        draft for draft in one.stored("drafts") if "hitch.chains" in draft.get("looked", {})
    ]  # type: ignore[union-attr]
    one.tap("Safety chains: Fine")
    chains.locator(".fine[aria-pressed=true]").wait_for()
    assert not chains.locator(".trouble").count()


def test_a_reload_keeps_what_was_answered(one: Phone) -> None:
    begin(one)
    one.answer()
    one.page.reload()
    one.page.wait_for_selector(".zone-row [aria-pressed=true]")


def test_the_walk_works_without_signal(one: Phone) -> None:
    one.offline(True)
    begin(one)
    assert level(one) == "Look again"


def keep(one: Phone) -> None:
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    one.settle()


@pytest.mark.long
def test_a_glance_is_counted_and_told_on_the_verdict(one: Phone) -> None:
    begin(one)
    level(one)
    text = one.page.inner_text("main")
    assert "Glanced at, not looked at" in text
    assert " glanced at" in text
    assert "Not looked at this time" in text
    assert "Tread" in text  # left out by the depth
    assert "Right wheel; " in text
    assert "Right wheel; Right wheel" not in text  # a card names each place once


@pytest.mark.long
def test_the_phones_back_leads_to_the_front_page_after_keeping(one: Phone) -> None:
    begin(one)
    level(one)
    keep(one)
    one.page.go_back()
    one.page.wait_for_selector(".front")
    assert one.where in ("", "#/")


def test_a_walk_that_was_only_begun_leaves_nothing_behind(one: Phone) -> None:
    one.tap_at("button[value=walkaround]")
    one.tap_at("button[value=trip]")
    one.page.wait_for_selector(".asking")
    assert one.stored("drafts") == []
    one.tap("Later")
    one.page.wait_for_selector(".front")


@pytest.mark.long
def test_a_count_that_is_not_that_of_the_last_walk_wants_another_look(one: Phone) -> None:
    begin(one)
    one.page.evaluate(LONG_LOOK)
    level(one)
    keep(one)
    save_trailer(one)
    one.open()
    begin(one)
    one.page.evaluate(LONG_LOOK)
    one.answer_until(lambda: one.where.endswith("/rear"))
    one.answer_until(lambda: not one.page.locator(OPEN_ZONE).count())
    assert "Last time" not in one.page.inner_text("main")  # not before the answer
    one.tap_at(".proof .pick:text-is('3')")
    one.page.get_by_text("Last time: 6").wait_for()
    assert one.page.locator(".zone-row.glance").count() == 4


@pytest.mark.long
def test_what_a_walk_left_out_stands_station_by_station(one: Phone) -> None:
    begin(one)
    level(one)
    lists = one.page.locator(".left-out").all()
    assert len(lists) == 2  # what was left out whole, and in part
    for left in lists:
        stations = [line.partition(": ")[0] for line in left.locator("li").all_inner_texts()]
        assert len(stations) > 3
        assert len(set(stations)) == len(stations)
    one.page.set_viewport_size({"width": 360, "height": 640})
    assert not one.page.evaluate("document.documentElement.scrollWidth > innerWidth")


@pytest.mark.long
def test_a_place_is_where_it_was_left_once_a_question_is_answered(one: Phone) -> None:
    one.depth = "season"
    one.open()
    one.begin("walkaround")
    one.answer_until(lambda: "/wheel." in one.where)
    last = one.page.locator(".asked .todo").last
    last.scroll_into_view_if_needed()
    left = one.page.evaluate("scrollY")
    assert left > 100
    last.click()
    one.wait_for("location.hash.startsWith('#/ask/')")
    one.settle()
    assert one.page.evaluate("scrollY") == 0
    one.tap_at(".unsure, .answers .answer")
    one.wait_for("location.hash.includes('/wheel.')")
    one.settle()
    one.wait_for(f"Math.abs(scrollY - {left}) < 60")


@pytest.mark.long
def test_a_verdict_is_passed_on_as_text_and_as_a_picture_without_signal(one: Phone) -> None:
    one.context.grant_permissions(["clipboard-read", "clipboard-write"])
    begin(one)
    level(one)
    one.offline(True)
    keep(one)
    one.page.evaluate("navigator.share = undefined")
    one.tap("As text")
    one.page.get_by_text("Copied").wait_for()
    copied = one.page.evaluate("navigator.clipboard.readText()")
    assert copied.startswith("Look again")
    assert "glanced at" in copied
    one.tap("I see")
    with one.page.expect_download() as got:
        one.tap("As a picture")
    assert got.value.suggested_filename.endswith(".png")
    assert Path(got.value.path()).read_bytes().startswith(b"\x89PNG")


@pytest.mark.parametrize("zone", few(["ball", "latch", "chains", "plug"], 1))
def test_a_zone_tapped_on_the_drawing_opens_its_list(one: Phone, zone: str) -> None:
    begin(one)
    ids = one.page.eval_on_selector_all(".zone-row", "all => all.map(one => one.dataset.zone)")
    box = one.page.locator(".drawing .d-plate").nth(ids.index(zone)).bounding_box()
    assert box
    beside = box["x"] + box["width"] + 6  # a finger is not exact
    one.page.mouse.click(beside, box["y"] + box["height"] / 2)
    one.page.wait_for_selector(f"[data-zone={zone}] .faults")
    one.page.wait_for_selector(f"[data-zone={zone}] .tick:focus")


def to_damage(one: Phone) -> None:
    """To the list of damage at the first tire of the check of the tires."""
    one.begin("tires")
    one.answer_until(lambda: one.page.locator(".tick:text-is('Cord showing')").count() > 0)


def test_a_tick_that_means_stop_now_opens_its_page_at_once(one: Phone) -> None:
    to_damage(one)
    one.tap("Cord showing")
    one.wait_for("location.hash.startsWith('#/now/')")


def ticked(draft: dict[str, Any]) -> list[str]:
    """Of two kinds of damage those that a kept draft has."""
    names = (key.split("@")[0] for key in draft["facts"])
    return [name for name in names if name in ("stuck_object", "deep_cracks")]


def test_a_tick_is_kept_when_it_is_tapped_and_one_taken_back_is_not(one: Phone) -> None:
    to_damage(one)
    one.tap_at(".tick:text-is('Nail or glass in it')")
    one.tap_at(".tick:text-is('Cracks a fingernail fits in')")
    one.tap_at(".tick:text-is('Nail or glass in it')")
    one.wait_stored("drafts", lambda drafts: [*map(ticked, drafts)] == [["deep_cracks"]])
    one.page.reload()
    one.page.wait_for_selector(".tick[aria-pressed=true]")
    pressed = one.page.locator(".tick[aria-pressed=true]").all_inner_texts()
    assert pressed == ["Cracks a fingernail fits in"]


def test_a_stop_now_ticked_on_the_walk_stands_in_its_zone_and_is_not_taken_back_by_fine(
    one: Phone,
) -> None:
    begin(one)
    latch = one.page.locator("[data-zone=latch]")
    latch.locator(".something").click()
    latch.locator(".tick").first.click()
    one.page.locator(".stop-now h1").wait_for()
    one.tap("Go on with the check")
    latch.locator(".faults .tick[aria-pressed=true]").wait_for()
    latch.locator(".fine").click()
    dialog = one.page.locator("dialog", has_text="That is Stop now")
    dialog.get_by_role("button", name="No, go back").click()
    assert latch.locator(".tick[aria-pressed=true]").count() == 1
    assert one.stored("drafts")[0]["facts"]["latch"] == "no"  # type: ignore[index]
    latch.get_by_role("button", name="Nothing else here").click()
    latch.locator(".something[aria-pressed=true]").wait_for()
    latch.locator(".fine").click()
    dialog.get_by_role("button", name="Take that back").click()
    latch.locator(".fine[aria-pressed=true]").wait_for()
    one.wait_stored("drafts", lambda drafts: drafts[0]["facts"]["latch"] != "no")  # type: ignore[index]


def test_back_from_a_stop_now_goes_to_where_it_was_found_and_not_further_on(one: Phone) -> None:
    begin(one)
    found = one.where
    one.page.locator("[data-zone=latch] .something").click()
    one.page.locator("[data-zone=latch] .tick").first.click()
    one.page.locator(".stop-now h1").wait_for()
    one.page.locator(".bar .back").click()
    one.wait_for(f"location.hash === '{found}'")
    one.settle()
    one.open("#/")
    one.tap_at(".due.stop")
    one.page.locator(".stop-now h1").wait_for()
    one.page.locator(".bar .back").click()
    one.wait_for("location.hash === '#/'")
