"""Screens read aloud and answers by big touch: off until asked for, and kept."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from checks.words import region
from tests.support.phone import Phone, phone

# A voice that notes what it is told to say.
VOICE = """
window.said = [];
Object.defineProperty(window, "speechSynthesis", { configurable: true, value: {
    speak: ({ text, lang }) => window.said.push([lang, text]), cancel() {},
} });
"""
MUTE = "delete window.speechSynthesis; delete Window.prototype.speechSynthesis;"
HEIGHT = 740


@pytest.fixture
def one(chromium: Browser, server: str, tmp_path: Path) -> Iterator[Phone]:
    with phone(chromium, tmp_path / "phone", server) as here:
        here.context.add_init_script(VOICE)
        here.install()
        yield here


def switch(one: Phone, name: str) -> None:
    one.open("#/settings")
    one.tap_at(f"button[value={name}]")
    one.wait_for(f"document.querySelector('[value={name}]').ariaPressed === 'true'")


def said(one: Phone) -> list[list[str]]:
    found: list[list[str]] = one.page.evaluate("window.said")
    return found


def at_a_question(one: Phone) -> None:
    one.open("#/")
    one.begin("tires")
    one.settle()


@pytest.mark.long
def test_nothing_is_read_until_it_is_asked_for(one: Phone) -> None:
    at_a_question(one)
    assert said(one) == []


@pytest.mark.long
def test_a_question_is_read_with_its_answers_and_again_when_tapped(one: Phone) -> None:
    switch(one, "aloud")
    at_a_question(one)
    one.wait_for(
        "window.said.some(([, text]) => text.includes(document.querySelector('h1').innerText))"
    )
    lang, text = said(one)[-1]
    assert lang == region(one.page.evaluate("navigator.language").partition("-")[0])
    for answer in one.page.locator(".foot .answers button").all_inner_texts():
        assert answer in text
    before = len(said(one))
    one.tap_at("main h1")
    one.wait_for(f"window.said.length > {before}")
    assert said(one)[-1][1] == text


@pytest.mark.long
def test_a_stop_now_is_read_with_what_to_do(one: Phone) -> None:
    switch(one, "aloud")
    one.open("#/")
    one.begin("run_stop")
    one.settle()
    one.tap("Smoke")
    one.wait_for("window.said.some(([, text]) => /smoke/i.test(text))")


@pytest.mark.long
def test_both_are_still_on_after_the_app_was_closed(one: Phone) -> None:
    switch(one, "aloud")
    switch(one, "bigTouch")
    one.page.reload()
    one.wait_for("document.documentElement.classList.contains('bigtouch')")
    one.wait_for("window.said.length > 0")


@pytest.mark.long
def test_big_answers_cover_the_lower_half_and_stay_in_sight(one: Phone) -> None:
    at_a_question(one)
    small = [box["height"] for box in answer_boxes(one)]
    switch(one, "bigTouch")
    at_a_question(one)
    boxes = answer_boxes(one)
    assert min(box["height"] for box in boxes) >= 88 > min(small)
    assert boxes[-1]["y"] + boxes[-1]["height"] - boxes[0]["y"] >= HEIGHT / 2
    assert one.page.evaluate("document.documentElement.scrollWidth") <= 360


def answer_boxes(one: Phone) -> list[dict[str, float]]:
    found: list[dict[str, float]] = one.page.eval_on_selector_all(
        ".foot .answers button", "all => all.map((b) => b.getBoundingClientRect().toJSON())"
    )
    return found


@pytest.mark.long
def test_where_no_voice_is_it_is_not_offered(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    with phone(chromium, tmp_path / "phone", server) as mute:
        mute.context.add_init_script(MUTE)
        mute.install()
        mute.open("#/settings")
        mute.page.get_by_text("This browser cannot read aloud").wait_for()
        assert mute.page.locator("button[value=aloud]").count() == 0
        assert mute.page.locator("button[value=bigTouch]").count() == 1
