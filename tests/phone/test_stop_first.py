"""A *Stop now* stands first, on front page and link, and nothing beside it leads onward."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.phone.test_desk import decide, standing
from tests.support.desk import JOB_SHOWN, Desk, arrive
from tests.support.phone import Phone, phone
from tests.support.whole_suite import as_read

WAYS_ON = "button.big, a[href^='#/run/'], .due.loud"  # large, black, or a run


# In one look: the screen may be drawn anew between two.
TOP = """(selector) => {
  const box = document.querySelector(selector)?.getBoundingClientRect();
  return box?.height ? { y: box.y } : null;
}"""


def top(one: Phone, selector: str) -> float:
    box: Any = one.page.wait_for_function(TOP, arg=selector).json_value()
    return float(box["y"])


def at_job(one: Phone) -> None:
    (link, *_) = one.stored("links")
    one.open(f"#/job/{link['id']}")
    one.wait_for(JOB_SHOWN)
    one.settle()


def smoke_under_the_link(one: Phone) -> None:
    """A check of the nuts is begun and left; at the stop for the hubs there is smoke."""
    one.tap_at("button.big[value=nuts_stop]")
    one.page.wait_for_selector(".asking")
    at_job(one)
    one.page.locator(".dueitem", has_text="Every hub").first.get_by_text("Start this").click()
    one.page.wait_for_selector(".asking")
    one.settle()
    one.tap("Smoke")
    one.page.wait_for_selector(".stop-now h1")


UNTOLD = "Smoke at a wheel; which one is not said"


@pytest.mark.long
def test_a_stop_now_kept_before_its_wheel_is_told_names_none(
    chromium: Browser, desk: Desk, tmp_path: Path
) -> None:
    """Two signs of which nobody said the wheel: kept, sent and shown everywhere as of none."""
    secret = desk.job(trailer_name="Dump trailer Hale", **{"fact:axles": "2"})
    with phone(chromium, tmp_path / "customer", desk.address) as one:
        arrive(one, secret)
        smoke_under_the_link(one)
        one.tap("Go on with the check")
        one.wait_for("location.hash.startsWith('#/stop/')")
        one.settle()
        one.tap("Grinding")
        one.page.wait_for_selector(".stop-now h1")
        shown = one.page.inner_text(".stop-now")
        assert "Grinding or rumbling on the way at a wheel;" in shown
        assert "Left wheel, axle 1:" not in shown
        one.tap("Keep and send")
        one.wait_for("document.querySelector('.kept')?.textContent.includes('and sent')")
        assert one.question == f"{UNTOLD}."
        cards = one.page.locator(".card.stop h3").all_inner_texts()
        assert cards == [
            UNTOLD,
            "Grinding or rumbling on the way at a wheel; which one is not said",
        ]
        assert one.page.locator(".card.stop .place").count() == 0
        one.page.locator(".card.stop summary").first.click()
        one.page.locator(".card.stop details p").first.wait_for()
        (kept,) = (item for item in one.stored("records") if item["record"]["kind"] == "check")
        facts = kept["record"]["body"]["facts"]
        assert {key: raw for key, raw in facts.items() if key.startswith(("smoke", "grind"))} == {
            "smoke": "yes",
            "grinding": "yes",
        }
        at_job(one)
        one.page.locator(".carried.stop").get_by_text(UNTOLD).first.wait_for()
        one.open()
        one.page.locator(".due.stop").get_by_text(UNTOLD).wait_for()
        assert "wheel, axle" not in one.page.inner_text("main")


@pytest.mark.long
def test_a_customers_own_stop_now_is_first_until_it_has_ended(
    chromium: Browser, desk: Desk, tmp_path: Path
) -> None:
    secret = desk.job(trailer_name="Dump trailer Hale", **{"fact:axles": "2"})
    with phone(chromium, tmp_path / "customer", desk.address) as one:
        arrive(one, secret)
        smoke_under_the_link(one)
        # Before the wheel is told it is said once, of none.
        assert one.question == "Smoke at a wheel; which one is not said."
        assert one.page.inner_text(".tell").count("Smoke") == 1
        assert one.page.locator(".plan .shape.stop").count() == 1
        one.tap("Left wheel, axle 1")
        one.wait_for("document.querySelector('h1').textContent.startsWith('Left wheel, axle 1')")
        one.tap("Keep and send")
        one.wait_for("document.querySelector('.kept')?.textContent.includes('and sent')")

        at_job(one)
        one.page.locator(".carried.stop").get_by_text("Left wheel, axle 1: Smoke").wait_for()
        assert top(one, ".carried.stop") < 200
        assert one.page.locator(WAYS_ON).count() == 0
        assert not one.page.locator(".dueitem").first.is_visible()
        assert one.page.locator(".foot a.main[href='tel:5550199']").count() == 1

        one.open()
        card = one.page.locator(".due.stop")
        card.get_by_text("Left wheel, axle 1: Smoke").wait_for()
        assert "Dump trailer Hale" in card.inner_text()
        assert top(one, ".due.stop") < 120
        one.page.get_by_text("Due after").first.wait_for()
        assert one.page.locator(".due.loud").count() == 0
        assert not one.page.get_by_text("Go on: Nuts only").is_visible()

        one.tap_at(".due.stop")
        one.tap("Mended")
        one.page.get_by_text("decides this for itself").wait_for()
        one.page.get_by_label("What was mended or renewed").fill("Bearing and seal")
        one.tap("A mechanic did")
        one.page.get_by_text("You said: Mended").wait_for()
        said: Any = one.stored("records")[-1]["record"]["body"]  # type: ignore[index]
        assert (said["answer"], said["by"], said["done"]) == (
            "mended",
            "mechanic",
            "Bearing and seal",
        )
        one.sending_over()
        assert "Stop now" in as_read(desk.shop.client.get("/shop").text)  # the shop decides
        at_job(one)
        one.page.locator(".carried.stop").get_by_text("Do not tow it").wait_for()
        one.page.get_by_text("You said: Mended").wait_for()
        one.open()
        one.page.locator(".due.stop[href^='#/job/']").wait_for()
        one.page.get_by_text("There it stays undecided").wait_for()
        decide(desk, secret)
        at_job(one)
        one.page.locator(".carried").wait_for(state="detached")
        assert not one.page.get_by_text("There it stays undecided").count()
        one.open()
        one.page.get_by_text("You said: Mended").wait_for()
        assert not one.page.get_by_text("There it stays undecided").count()
        one.tap("Take that back")
        one.page.locator(".due.stop[href^='#/now/']").wait_for()


@pytest.mark.long
def test_what_the_shop_has_not_decided_keeps_a_borrower_from_a_run(
    chromium: Browser, desk: Desk, tmp_path: Path
) -> None:
    halted = {"anyway": "1", "all:pin_done": "none"}
    _, secret = standing(desk, "Alder Fork 9", **halted)
    with phone(chromium, tmp_path / "borrower", desk.address) as one:
        arrive(one, secret)
        one.page.locator(".carried.stop").wait_for()
        assert one.page.locator(WAYS_ON).count() == 0
        assert top(one, ".carried") < top(one, "button[value=walkaround]")
        (link, *_) = one.stored("links")
        one.open(f"#/run/from/{link['id']}")
        one.page.get_by_role("button", name="Start the run").wait_for()
        one.page.locator(".carried.stop").get_by_text(
            "Do not tow it before the shop has"
        ).wait_for()
        assert one.page.locator(".foot .main").count() == 0
        one.tap("Start the run")
        one.page.locator("dialog").get_by_role("button", name="No, go back").click()
        assert one.page.locator(".carried.stop").count() == 1
