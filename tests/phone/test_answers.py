"""Asking: few taps, nothing lost on the way back, wrong answers turned away where they stand."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.support.phone import Phone, installed
from tests.support.waiting import until


@pytest.fixture(scope="module")
def one(
    chromium: Browser, server: str, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Phone]:
    with installed(chromium, server) as here:
        yield here


def at_question(one: Phone, check: str, words: str) -> None:
    """Begin a check and answer up to the question that has these words."""
    if one.asking and words in one.question:
        return
    one.open()
    one.begin(check)
    one.answer_until(lambda: words in one.question)


def trouble(one: Phone) -> str:
    one.page.wait_for_selector(".trouble")
    # It takes the focus, so that a screen reader says it at once.
    one.wait_for("document.activeElement.className === 'trouble'")
    return one.page.inner_text(".trouble")


def test_a_quick_stop_on_one_axle_takes_at_most_twelve_taps_to_keep(one: Phone) -> None:
    one.open()
    one.taps = 0
    one.begin("quick_stop")
    one.answer_until(lambda: not one.asking)
    one.page.wait_for_selector(".verdict .head")
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    assert one.taps <= 12


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("6o", "is not a number"),
        ("", "Type a number"),
        ("1.2.3", "is not a number"),
        ("60-80", "is not a number. Use digits only, such as 12."),
        ("900", "cannot be right here"),
        ("-5", "cannot be right here"),
    ],
)
def test_a_wrong_pressure_is_turned_away_where_it_stands(one: Phone, typed: str, says: str) -> None:
    at_question(one, "tires", "Pressure in this tire")
    before = one.stored("drafts")
    one.page.fill(".display", typed)
    one.tap("Next")
    message = trouble(one)
    assert says in message
    assert "kPa" not in message  # said in the unit it was typed in
    assert one.page.input_value(".display") == typed
    assert one.stored("drafts") == before


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("0199", "yet to come"),
        ("5423", "weeks run from 01 to 53"),
        ("123", "Only three digits"),
        ("12345", "four digits, not 5"),
        ("2b23", "date code"),
    ],
)
def test_a_wrong_date_code_is_turned_away_where_it_stands(
    one: Phone, typed: str, says: str
) -> None:
    at_question(one, "tires", "Date code")
    one.page.fill(".display", typed)
    one.tap("Next")
    assert says in trouble(one)


def test_three_digits_are_taken_when_the_person_says_so(one: Phone) -> None:
    at_question(one, "tires", "Date code")
    here = one.where
    one.page.fill(".display", "")
    one.tap("Only three digits")
    one.keys("123")
    one.tap("Next")
    one.wait_for(f"location.hash !== '{here}'")
    assert one.stored("drafts")[-1]["facts"]["tire_made@1R"] == "123"  # type: ignore[index]


def test_going_back_loses_nothing(one: Phone) -> None:
    one.open()
    one.begin("quick_stop")
    one.answer_until(lambda: one.where.endswith("/run"))
    answers = one.stored("drafts")[-1]["facts"]
    one.page.go_back()
    one.settle()
    assert one.page.locator(".ladder [aria-pressed=true]").count() == 2
    one.tap("Back")
    one.settle()
    assert one.page.locator("[data-key=axles] [aria-pressed=true]").count() == 1
    assert one.stored("drafts")[-1]["facts"] == answers


def test_a_hub_that_cannot_be_touched_is_not_compared_by_hand_and_the_stop_goes_on(
    one: Phone,
) -> None:
    one.open()
    one.begin("quick_stop")
    one.feel("no_touch", "very_hot")
    one.wait_for("location.hash.endsWith('/run')")
    facts = one.stored("drafts")[-1]["facts"]
    felt = {key: raw for key, raw in facts.items() if "feel" in key}  # type: ignore[attr-defined]
    assert felt == {"hub_feel@1L": "no_touch", "hub_feel@1R": "very_hot"}


@pytest.mark.long
def test_the_same_question_of_two_axles_says_which_one(one: Phone) -> None:
    one.open()
    one.begin("quick_stop")
    one.answer_until(lambda: one.where.endswith("/run"))
    stop = f"#/stop/{one.stored('drafts')[-1]['id']}"
    for key, answer in (("axles", "2"), ("brakes", "Electric")):
        one.open(f"{stop}/trailer")
        one.page.wait_for_selector(f"[data-key={key}]")
        one.page.locator(f"[data-key={key}] button", has_text=answer).first.click()
        one.wait_for("!location.hash.endsWith('/trailer')")
    one.open(f"{stop}/run")
    one.page.wait_for_selector("[data-key='axle_braked@2']")
    for axle in ("1", "2"):
        row = one.page.locator(f"[data-key='axle_braked@{axle}']")
        asked = f"Does this axle have brakes? Axle {axle}, left and right"
        assert row.locator("h2").inner_text() == asked
        assert row.locator("[role=group]").get_attribute("aria-label") == asked


@pytest.mark.long
def test_answers_on_an_axle_come_back_with_the_axle(one: Phone) -> None:
    one.open()
    one.begin("tires")
    one.choose("button[value='2']")
    one.answer_until(lambda: "axle 2" in one.page.inner_text(".place"))
    one.answer()
    draft = one.where.split("/")[2]
    change_axles(one, draft, "1")
    assert "axle 2" not in one.page.inner_text("main").lower()
    change_axles(one, draft, "2")
    kept = next(d for d in one.stored("drafts") if d["id"] == draft)["facts"]
    assert any(key.endswith("@2R") for key in kept)  # type: ignore[attr-defined]
    assert "axle 2" in one.page.inner_text("main").lower()


def change_axles(one: Phone, draft: str, count: str) -> None:
    one.open(f"#/ask/{draft}/axles/answers")
    one.settle()
    one.choose(f"button[value='{count}']")
    assert one.where.startswith("#/answers/")


def test_an_unanswered_question_is_marked_and_never_counts_as_good(one: Phone) -> None:
    one.open()
    one.begin("quick_stop")
    one.answer()
    draft = one.where.split("/")[2]
    one.open(f"#/answers/{draft}")
    one.settle()
    assert one.page.locator(".review-row.open").count() > 5
    one.tap("See the verdict")
    one.settle()
    assert "Not checked" in one.page.inner_text(".head")
    assert "What to check next" in one.page.inner_text("main")
    one.tap_at(".nextask")
    one.settle()
    assert one.asking


def test_smoke_opens_the_page_of_a_stop_now_at_once(one: Phone) -> None:
    one.open()
    one.taps = 0
    one.begin("quick_stop")
    one.tap("Smoke")
    one.page.wait_for_selector(".stop-now h1")
    assert one.taps <= 3
    assert "Smoke" in one.question
    one.tap("Right wheel")
    one.wait_for("document.querySelector('h1').textContent.startsWith('Right wheel')")
    text = one.page.inner_text("main")
    assert "Mind yourself first" in text
    assert "Readiness" not in text
    assert "safe" not in text.lower()
    facts = one.stored("drafts")[-1]["facts"]
    assert (facts["smoke@1L"], facts["smoke@1R"]) == ("no", "yes")  # type: ignore[index]


def test_a_sign_tapped_again_once_its_wheel_is_told_is_taken_back(one: Phone) -> None:
    """It became one at a wheel that is not said. One at *Stop now* is asked about first."""
    one.open()
    one.begin("quick_stop")
    for sign in ("Squeak", "Smoke"):
        one.tap(sign)
        one.page.locator(".wheel-grid").get_by_role("button", name="Right wheel").click()
        one.wait_for("!document.querySelector('.wheel-grid')")
    one.page.go_back()
    pressed = one.page.locator(".sign-rows [aria-pressed=true]")
    pressed.filter(has_text="Smoke").wait_for()
    one.tap("Squeak")
    until(lambda: pressed.count() == 1, "the squeak taken back")
    one.tap("Smoke")
    dialog = one.page.get_by_role("dialog", name="Smoke at this wheel")
    dialog.get_by_role("button", name="No").click()
    pressed.filter(has_text="Smoke").wait_for()
    draft = one.stored("drafts")[-1]
    facts: Any = draft["facts"]
    assert [facts[f"{sign}@1R"] for sign in ("squeak", "smoke")] == ["no", "yes"]
    assert "yes" not in (facts["squeak@1L"], facts["smoke@1L"])


def test_a_stop_now_is_named_by_heading_and_title_and_nothing_older_is_said(one: Phone) -> None:
    one.open()
    one.begin("quick_stop")
    one.page.evaluate("document.querySelector('#spoken').textContent = 'Said before'")
    one.tap("Smoke")
    one.page.get_by_role("heading", name="Stop now. Smoke", level=1).wait_for()
    assert one.page.title().startswith("Stop now. Smoke")
    one.wait_for("document.querySelector('#spoken').textContent === ''")


def test_a_stop_now_put_down_stays_on_the_front_page_until_it_is_answered(one: Phone) -> None:
    one.open()
    one.begin("quick_stop")
    one.tap("Smoke")
    one.page.wait_for_selector(".stop-now h1")
    draft = one.where.rpartition("/")[2]
    one.open()
    one.tap_at(f".due.stop[href$='{draft}']")
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    one.settle()
    kept = one.where.rpartition("/")[2]
    one.open()
    one.tap_at(f".due.stop[href$='{kept}']")
    one.tap("Towed away")
    one.wait_for("location.hash === '#/'")
    one.settle()
    assert one.page.locator(f".due[href$='{kept}']").count() == 0
    one.open(f"#/check/{kept}")
    one.page.get_by_text("You said: Towed away").wait_for()
    one.page.get_by_role("button", name="Take that back").wait_for()
    one.open(f"#/now/{kept}")  # by the phone's Back, or from an old list
    one.page.get_by_text("You said: Towed away").wait_for()
    assert not one.page.get_by_role("button", name="Towed away").count()
    answers = [item["record"]["body"] for item in one.stored("records")]  # type: ignore[index]
    assert {"about": kept, "trailer": None, "answer": "towed"} in answers


@pytest.mark.long
@pytest.mark.parametrize(("system", "unit"), [("metric", "kPa"), ("us", "psi")])
def test_units_follow_the_setting(one: Phone, system: str, unit: str) -> None:
    one.open("#/settings")
    one.tap_at(f"button[value={system}]")
    one.wait_for(f"document.querySelector('[value={system}]').ariaPressed === 'true'")
    one.open()
    at_question(one, "tires", "Pressure in this tire")
    assert unit in one.page.inner_text(".unit")
