"""Saved trailers: asked less, kept per wheel, each edit a new version."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.support.phone import Phone, phone


@pytest.fixture(scope="module")
def one(
    chromium: Browser, server: str, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Phone]:
    """A phone that saved a trailer out of its first check."""
    with phone(chromium, tmp_path_factory.mktemp("phone"), server) as here:
        here.install()
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


def test_a_trailer_off_the_list_keeps_its_history(one: Phone) -> None:
    one.open(f"#/trailer/{versions(one)[0]['trailer']}")
    one.settle()
    one.tap("Take off the list")
    one.page.locator("dialog").get_by_role("button", name="Take off").click()
    one.page.get_by_text("No trailer is saved yet").wait_for()
    one.open("#/history")
    one.settle()
    assert "Alder Fork 3" in one.page.inner_text("main")


@pytest.mark.parametrize("size", [(320, 568), (740, 360)])
def test_nothing_runs_off_a_small_screen_or_a_lying_one(one: Phone, size: tuple[int, int]) -> None:
    one.page.set_viewport_size({"width": size[0], "height": size[1]})
    one.open()
    one.begin("tires")
    for _ in range(14):
        assert one.page.evaluate("document.documentElement.scrollWidth") <= size[0], one.question
        one.answer()
    for hash in ("#/", "#/settings", "#/history", f"#/sofar/{one.where.split('/')[2]}"):
        one.open(hash)
        one.settle()
        assert one.page.evaluate("document.documentElement.scrollWidth") <= size[0], hash
    one.page.set_viewport_size({"width": 360, "height": 740})
