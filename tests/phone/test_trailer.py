"""Saved trailers: asked less, kept per wheel, each edit a new version."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.support.phone import Phone, installed


@pytest.fixture(scope="module")
def one(
    chromium: Browser, server: str, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Phone]:
    """A phone that saved a trailer out of its first check."""
    with installed(chromium, server) as here:
        here.begin("quick_stop")
        here.answer_until(lambda: "How warm" in here.question)
        here.tap_at(".ladder:nth-child(2) .no_touch")
        here.wait_for("document.querySelectorAll('.ladder [aria-pressed=true]').length > 0")
        here.finish()
        here.tap("Save this trailer")
        here.page.fill("#name", "Alder Fork 3")
        here.tap("Go on")
        here.wait_for("location.hash.startsWith('#/trailer/')")
        here.page.get_by_text("History, wheel by wheel").wait_for()
        yield here


def versions(one: Phone) -> list[dict[str, Any]]:
    records: list[Any] = [item["record"] for item in one.stored("records")]
    return [record["body"] for record in records if record["kind"] == "trailer"]


@pytest.mark.long
def test_a_trailer_saved_from_a_check_owns_that_check(one: Phone) -> None:
    (body,) = versions(one)
    assert body["name"] == "Alder Fork 3"
    assert body["facts"] == {"axles": 1, "brakes": "none"}
    one.page.locator("summary", has_text="Right wheel").click()
    assert "than a sound one gets" in one.page.inner_text("main")


def test_a_trailer_that_was_stopped_stands_on_the_front_page(one: Phone) -> None:
    one.open()
    one.settle()
    assert "Stop now" in one.page.inner_text(".due")


def test_what_the_trailer_says_is_not_asked_again(one: Phone) -> None:
    one.open()
    one.begin("quick_stop")
    one.answer()
    assert "How warm" in one.question
    draft = one.where.split("/")[2]
    one.open(f"#/answers/{draft}")
    one.settle()
    assert "Known about the trailer: 2" in one.page.inner_text("main")


def test_changed_numbers_are_a_new_version(one: Phone) -> None:
    trailer = versions(one)[0]["trailer"]
    one.open(f"#/trailer/{trailer}")
    one.settle()
    one.tap("Change its numbers")
    one.wait_for("location.hash.startsWith('#/a')")
    draft = one.where.split("/")[2]
    one.open(f"#/ask/{draft}/brakes/answers")
    one.settle()
    one.choose("button[value=electric]")
    one.tap("Save trailer")
    one.wait_for("location.hash.startsWith('#/trailer/')")
    one.settle()
    assert [body["facts"]["brakes"] for body in versions(one)] == ["none", "electric"]
    assert {body["trailer"] for body in versions(one)} == {trailer}


def at_trailer(one: Phone) -> None:
    one.open(f"#/trailer/{versions(one)[0]['trailer']}")
    one.settle()


def named(one: Phone, name: str) -> None:
    one.page.fill("#name", name)
    one.tap("Go on")
    one.wait_for(f"document.querySelector('h1')?.textContent === {name!r}")


def test_a_trailer_is_renamed_and_keeps_its_numbers_and_history(one: Phone) -> None:
    before = versions(one)[-1]["facts"]
    at_trailer(one)
    one.tap("Rename")
    named(one, "Green tilt bed")
    assert versions(one)[-1]["facts"] == before
    assert "History, wheel by wheel" in one.page.inner_text("main")
    one.tap("Rename")
    named(one, "Alder Fork 3")


def test_a_copy_has_the_numbers_and_none_of_the_history(one: Phone) -> None:
    at_trailer(one)
    one.tap("Copy")
    named(one, "Alder Fork 4")
    first, copy = versions(one)[-2:]
    assert copy["facts"] == first["facts"]
    assert copy["trailer"] != first["trailer"]
    assert "Not checked yet" in one.page.inner_text("main")


def test_the_history_of_a_wheel_shows_what_was_felt(one: Phone) -> None:
    at_trailer(one)
    one.page.locator("summary", has_text="Right wheel").click()
    assert "Cannot touch it" in one.page.inner_text("main")


@pytest.mark.long
def test_what_seldom_changes_is_confirmed_in_one_tap(one: Phone) -> None:
    still = one.page.locator(".still")
    for turn in ("told", "confirmed"):
        one.open()
        one.begin("tires")
        one.repeat(lambda: told(one), lambda: not one.asking or still.count() > 0)
        if turn == "told":
            one.tap("See the verdict")
            one.tap("Keep and send")
            one.page.wait_for_selector(".kept")
            one.settle()
    assert "2523" in one.page.inner_text("main")
    one.tap("Yes, all as before")
    one.wait_for("document.querySelector('.still') === null")
    facts: Any = one.stored("drafts")[-1]["facts"]
    assert (facts["tire_made@1L"], facts["tire_made@1R"]) == ("2523", "2523")
    assert "pressure@1R" not in facts  # a reading is taken anew


def told(one: Phone) -> None:
    """A date code where one is asked; else the plainest answer."""
    if "Date code" not in one.question:
        one.answer()
        return
    before = one.where
    one.page.fill(".display", "2523")
    one.tap("Next")
    one.wait_for(f"location.hash !== {before!r}")
    one.settle()


def test_a_trailer_put_away_keeps_its_history_and_can_be_brought_back(one: Phone) -> None:
    at_trailer(one)
    one.page.locator(".carried.stop").wait_for()  # nobody has said how it ended
    one.tap("Put away")
    one.page.locator("dialog", has_text="Stop now").wait_for()
    one.page.locator("dialog").get_by_role("button", name="Put away").click()
    one.page.locator("summary", has_text="Put away: 1").click()
    one.open()
    assert "Alder Fork 3" in one.page.inner_text(".due.stop")
    one.open("#/history")
    one.settle()
    assert "Alder Fork 3" in one.page.inner_text("main")
    at_trailer(one)
    one.tap("Bring it back")
    one.page.get_by_text("History, wheel by wheel").wait_for()


def test_the_list_of_trailers_shows_what_is_open(one: Phone) -> None:
    one.open("#/trailers")
    one.page.locator("li", has_text="Alder Fork 3").locator(".sign.stop").wait_for()


@pytest.mark.long
@pytest.mark.parametrize("size", [(320, 568), (740, 360)])
def test_nothing_runs_off_a_small_screen_or_a_lying_one(one: Phone, size: tuple[int, int]) -> None:
    one.page.set_viewport_size({"width": size[0], "height": size[1]})
    one.open()
    one.begin("tires")
    for _ in range(14):
        assert one.page.evaluate("document.documentElement.scrollWidth") <= size[0], one.question
        if one.page.locator(".still").count():  # where an earlier test told of the tires
            one.tap("Yes, all as before")
            one.wait_for("document.querySelector('.still') === null")
            continue
        one.answer()
    for hash in ("#/", "#/settings", "#/history", f"#/sofar/{one.where.split('/')[2]}"):
        one.open(hash)
        one.settle()
        assert one.page.evaluate("document.documentElement.scrollWidth") <= size[0], hash
    one.page.set_viewport_size({"width": 360, "height": 740})
