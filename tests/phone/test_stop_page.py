"""The page of a *Stop now*: it stays when its check is kept, and what it does is told."""

from __future__ import annotations

import pytest

from tests.support.phone import Phone
from tests.support.stop_nows import plant

SMOKE = ({"axles": 1, "smoke@1R": "yes"}, [("has_smoke", "1R")])
PLACE = "Hwy 20 east, mile 14"
REFUSED = """() => {
  navigator.geolocation.getCurrentPosition = (_, not) => not({ code: 1 });
  delete Navigator.prototype.share;
  navigator.clipboard.writeText = async () => { throw new DOMException("", "NotAllowedError"); };
}"""
COPIED = """() => {
  delete Navigator.prototype.share;
  navigator.clipboard.writeText = async (text) => { window.copied = text; };
}"""


def test_where_copying_is_refused_the_verdict_is_there_to_copy_by_hand(one: Phone) -> None:
    kept = plant(one.page, *SMOKE, check="quick_stop", kept=True)
    one.open(f"#/check/{kept}")
    one.page.evaluate(REFUSED)
    one.tap("As text")
    told = one.page.locator("dialog")
    told.get_by_text("Not copied. Press and hold the text to copy it.").wait_for()
    assert told.locator("pre").inner_text().startswith("Stop now")
    assert "Smoke at this wheel" in told.locator("pre").inner_text()


def begun(one: Phone) -> str:
    check_id = plant(one.page, SMOKE[0], [], check="quick_stop")
    one.open(f"#/now/{check_id}")
    one.page.locator(".tell-them").wait_for()
    return check_id


def kept_id(one: Phone) -> str:
    (item,) = one.stored("records")
    return str(item["id"])


def test_kept_in_another_window_it_goes_on_as_that_of_the_kept_check(one: Phone) -> None:
    check_id = begun(one)
    other = one.context.new_page()
    other.goto(f"{one.address}/#/now/{check_id}")
    other.get_by_role("button", name="Keep and send").click()
    other.locator(".kept").wait_for()
    one.wait_for(f"location.hash === '#/now/{kept_id(one)}'")
    one.page.locator(".stop-now h1", has_text="Right wheel: Smoke").wait_for()
    other.close()


@pytest.mark.parametrize("at", ["sofar/ID", "stop/ID", "stop/ID/run", "walk/ID", "answers/ID"])
def test_an_address_of_a_check_that_was_kept_leads_to_it(one: Phone, at: str) -> None:
    check_id = begun(one)
    one.tap("Keep and send")
    one.page.locator(".kept").wait_for()
    one.page.goto(f"{one.address}/#/{at.replace('ID', check_id)}")
    one.wait_for(f"location.hash === '#/check/{kept_id(one)}'")
    one.page.locator(".kept").wait_for()


def test_a_position_stands_behind_what_was_typed(one: Phone) -> None:
    one.context.grant_permissions(["geolocation"])
    one.context.set_geolocation({"latitude": 44.1, "longitude": -121.3})
    begun(one)
    place = one.page.get_by_label("Road, direction, mile marker")
    place.fill(PLACE)
    for _ in range(2):  # the second takes the place of the first
        one.tap("Add my position")
        one.page.locator(".tell", has_text=f"{PLACE}, 44.10000, -121.30000").wait_for()
    assert place.input_value() == f"{PLACE}, 44.10000, -121.30000"


def test_a_position_or_a_copy_that_is_refused_is_told(one: Phone) -> None:
    begun(one)
    one.page.evaluate(REFUSED)
    one.page.get_by_label("Road, direction, mile marker").fill(PLACE)
    one.tap("Add my position")
    one.page.get_by_text("did not tell where it is").wait_for()
    assert PLACE in one.page.inner_text(".tell")
    one.tap("Share or copy")
    one.page.get_by_text("Not copied").wait_for()


def test_what_was_copied_is_told(one: Phone) -> None:
    begun(one)
    one.page.evaluate(COPIED)
    one.tap("Share or copy")
    one.page.get_by_text("Copied.").wait_for()
    assert "Right wheel: Smoke" in one.page.evaluate("window.copied")


def test_a_number_to_call_is_kept_in_the_settings_and_called_from_the_page(one: Phone) -> None:
    check_id = begun(one)
    one.tap("Settings")
    number = one.page.get_by_label("Number to call for help")
    number.fill("help")
    number.blur()
    one.page.locator(".trouble", has_text="No digit").wait_for()
    number.fill("555 0142")
    number.blur()
    one.page.locator(".trouble").wait_for(state="detached")
    one.wait_stored("settings", lambda all: any(s["value"] == "555 0142" for s in all))
    one.open(f"#/now/{check_id}")
    one.page.locator(".tell-them a[href='tel:5550142']").wait_for()
