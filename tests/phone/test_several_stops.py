"""A check with several *Stop nows*: each is named everywhere, and it is over once each is."""

from __future__ import annotations

import re

from playwright.sync_api import Locator, expect

from tests.support.phone import Phone
from tests.support.stop_nows import plant

TIRE, FIRE = "Right wheel: Tire flat or coming apart", "Left wheel: Fire at this wheel"
BOTH = (
    {"axles": 1, "tire_flat@1R": "yes", "flames@1L": "yes"},
    [("has_tire_flat", "1R"), ("has_flames", "1L")],
)


def answered(one: Phone) -> list[str]:
    works = (item["record"] for item in one.stored("records"))
    return [work["body"]["answer"] for work in works if work["kind"] == "work"]  # type: ignore[index]


def button(one: Phone, name: str) -> Locator:
    return one.page.get_by_role("button", name=name, exact=True)


def tick(one: Phone, what: str) -> Locator:
    return one.page.locator(".tick", has_text=what)


def both_kept(one: Phone) -> str:
    check_id = plant(one.page, *BOTH, check="quick_stop", kept=True)
    one.page.reload()
    one.page.locator(".due.stop").wait_for()
    return check_id


def test_each_is_named_on_the_front_page_and_at_a_run(one: Phone) -> None:
    both_kept(one)
    card = one.page.locator(".due.stop")
    for what in (TIRE, FIRE):
        card.get_by_text(what).wait_for()
    one.open("#/run/start")
    carried = one.page.locator(".carried.stop")
    for what in (TIRE, FIRE):
        carried.get_by_text(what).wait_for()


def test_mended_is_taken_only_once_each_is_ticked(one: Phone) -> None:
    check_id = both_kept(one)
    one.open(f"#/now/{check_id}")
    button(one, "Mended").click()
    expect(one.page.locator(".tick")).to_have_text([TIRE, FIRE])
    tick(one, TIRE).click()
    button(one, "I did").click()
    one.page.locator(".trouble", has_text=f"Still open: {FIRE}.").wait_for()
    assert answered(one) == []
    one.open()
    one.page.locator(".due.stop").get_by_text(FIRE).wait_for()
    # What was ticked stays, and what is left is said.
    one.open(f"#/now/{check_id}")
    one.page.reload()
    one.page.get_by_text(f"Still open: {FIRE}.").wait_for()
    button(one, "Mended").click()
    expect(tick(one, TIRE)).to_have_attribute("aria-pressed", "true")
    tick(one, FIRE).click()
    button(one, "I did").click()
    said = one.page.locator(".note", has_text="You said: Mended").inner_text()
    assert all(what in said for what in (TIRE, FIRE))
    assert answered(one) == ["mended"]


def test_that_it_was_wrong_is_taken_only_once_each_is_ticked(one: Phone) -> None:
    check_id = both_kept(one)
    one.open(f"#/now/{check_id}")
    button(one, "It was wrong").click()
    tick(one, FIRE).click()
    button(one, "It was wrong").click()
    one.page.locator(
        ".trouble", has_text=re.compile("Still open: Right wheel: Tire flat")
    ).wait_for()
    assert answered(one) == []
    tick(one, TIRE).click()
    button(one, "It was wrong").click()
    one.page.locator(".note", has_text="You said: It was wrong").wait_for()


def test_a_tow_ends_them_all_after_naming_each(one: Phone) -> None:
    """One tow is one act; it is not taken by the tap that asks for it."""
    check_id = both_kept(one)
    one.open(f"#/now/{check_id}")
    button(one, "Towed away").click()
    one.page.get_by_text(f"The tow ends all of these on this phone: {TIRE}; {FIRE}.").wait_for()
    assert answered(one) == []
    button(one, "Towed away").click()
    one.page.locator(".note", has_text="You said: Towed away").wait_for()
    assert answered(one) == ["towed"]


def test_one_alone_is_over_by_one_answer(one: Phone) -> None:
    facts, [fire, _] = BOTH[0], BOTH[1][::-1]
    check_id = plant(one.page, facts, [fire], check="quick_stop", kept=True)
    one.open(f"#/now/{check_id}")
    button(one, "It was wrong").click()
    one.page.locator(".note", has_text="You said: It was wrong").wait_for()
