"""The shop's pages in a real browser, as wide as a phone and as a desk."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page

from checks.words import finished, words
from tests.support.effort import some
from tests.support.serve import ONE, serving
from tests.support.shops import PASSWORD, SECRET, add_shop
from webapp import create_app, sizes

PAGES = (
    *("jobs", "jobs/1", "jobs/1/sheet", "jobs/new", "jobs/new?trailer=1"),
    *("trailers", "trailers/new", "trailers/1", "trailers/1/edit", "trailers/1/standing"),
    *("customers", "customers/1", "account", "staff", "details", "fleet", "fleet/codes"),
    *("take-in", "files", "recall", "trailers/1/file", "decided"),
    *("comebacks", "jobs/1/edit", "find", "find?q=boat", "trailers/1/merge", "customers/1/merge"),
)
SMALL = """[...document.querySelectorAll("a, button, input:not([type=hidden]), select, summary")]
  .filter((e) => e.offsetParent && !e.closest("p"))
  .map((e) => [e, (e.closest("label.choice") ?? e).getBoundingClientRect()])
  .filter(([, box]) => box.width < 47.5 || box.height < 47.5)
  .map(([e]) => e.outerHTML.slice(0, 80))"""
# What a field asks for while it is empty, where it is longer than the field.
CUT = """[...document.querySelectorAll("input[placeholder]")].filter((e) => {
  const style = getComputedStyle(e), pen = document.createElement("canvas").getContext("2d");
  pen.font = style.font;
  const room = e.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
  return e.offsetParent && pen.measureText(e.placeholder).width > room;
}).map((e) => e.placeholder)"""


def small(page: Page) -> list[str]:
    """What is too small to be tapped, once the page is there with its styles."""
    page.wait_for_load_state()
    return page.evaluate(SMALL)


@pytest.fixture(scope="module")
def garage(tmp_path_factory: Any) -> Iterator[str]:
    """A real server with one shop."""
    data = tmp_path_factory.mktemp("shop")
    app = create_app({"DATA": data, "DATABASE_URL": ""})
    add_shop(app, "Pell Street Garage", "dana")
    app.extensions["store"].engine.dispose()
    with serving(data, ONE, TWENTYMILE_DATABASE_URL="") as address:
        yield address


def signed_in(browser: Browser, address: str, width: int) -> Page:
    page = browser.new_context(viewport={"width": width, "height": 740}).new_page()
    page.goto(f"{address}/shop/sign-in")
    sign_in(page)
    return page


def sign_in(page: Page) -> None:
    page.fill("#login", "dana")
    page.fill("#password", PASSWORD)
    page.click("button.main")
    # the next page must not be asked for while this one still writes the session
    page.wait_for_selector("nav")
    page.wait_for_load_state("networkidle")


def fill_in(page: Page, name: str) -> None:
    page.fill("#trailer_name", name)
    for choice in ("fact-axles-2", "fact-brakes-electric", "work-bearings", "all-pin_done-new"):
        page.click(f"label:has(#{choice})")


@pytest.mark.parametrize("width", some([360, 1100], 1))
def test_from_a_filled_job_to_a_link_is_one_tap(chromium, garage, width):
    """Asked for: five taps at the most."""
    page = signed_in(chromium, garage, width)
    page.goto(f"{garage}/shop/jobs/new")
    fill_in(page, f"Car hauler {width}")
    page.click("text=Finish job and make the link")
    page.wait_for_selector(".handover img")
    assert SECRET.search(page.input_value("#text"))
    # the code is drawn, whatever the content policy says
    image = page.locator(".handover img")
    image.evaluate("image => image.decode()")  # rejects where it cannot be drawn


def test_only_what_fits_the_answers_is_asked(chromium, garage):
    page = signed_in(chromium, garage, 360)
    page.goto(f"{garage}/shop/jobs/new")
    hubs, second = page.locator(".line.after-bearings"), page.locator(".axle-2").first
    assert not page.locator(".bench").is_visible()
    assert not hubs.first.is_visible()
    fill_in(page, "Tilt bed")
    assert page.locator(".bench").is_visible()
    assert hubs.first.is_visible()
    assert second.is_visible()
    assert not page.locator(".axle-3").first.is_visible()
    page.click("label:has(#fact-axles-1)")
    assert not second.is_visible()
    assert page.locator("#all-brake_found-thin").is_visible()
    page.click("label:has(#fact-brakes-none)")
    assert not page.locator("#all-brake_found-thin").is_visible()


SHOWN = [(320, "en"), (360, "en"), (1024, "en"), *((320, one) for one in finished()[1:])]


@pytest.mark.long
@pytest.mark.english  # each language there is comes up by itself
@pytest.mark.parametrize(("width", "language"), some(SHOWN, 1))
def test_pages_fit_their_width_and_the_thumb(chromium, garage, width, language):
    page, say = signed_in(chromium, garage, width), words(language).say
    choose_language(page, garage, language)
    page.goto(f"{garage}/shop/jobs/new")
    fill_in(page, "Boat trailer" + "r" * 68)
    if page.locator("#customer").count():
        page.click(f"summary:has-text('{say('form-somebody')}')")
    page.fill("#customer_name", "Ada Lund")
    page.click(f"text={say('form-finish')}")
    for path in PAGES:
        page.goto(f"{garage}/shop/{path}")
        over = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert (path, over, small(page), page.evaluate(CUT)) == (path, 0, [], [])
    choose_language(page, garage, "en")


def choose_language(page: Page, garage: str, language: str) -> None:
    page.goto(f"{garage}/shop/details")
    page.select_option("#language", language)
    page.click("form button.main")
    page.wait_for_selector(f"html[lang|={language}]")


@pytest.mark.long
def test_a_known_trailer_is_five_taps_from_its_link(chromium, garage):
    """Known trailer, finished job to the link on the customer's phone: five taps or fewer."""
    page = signed_in(chromium, garage, 360)
    page.goto(f"{garage}/shop/jobs/new")
    fill_in(page, "Known hauler")
    page.click("text=Finish job and make the link")
    page.wait_for_selector(".handover img")
    page.goto(f"{garage}/shop")
    taps = [
        "nav >> text=Trailers",
        "text=Known hauler",
        "a.main:has-text('New job')",
        "label:has(#work-lamps)",
        "text=Finish job and make the link",
    ]
    for tap in taps:
        page.click(tap)
    page.wait_for_selector(".handover img")
    assert len(taps) <= 5
    assert SECRET.search(page.input_value("#text"))


@pytest.mark.long
def test_a_form_is_kept_on_the_device_until_it_is_stored(chromium, garage):
    """Typed, then the page is left, the session ends, another person was here: each in turn."""
    page = signed_in(chromium, garage, 360)
    page.goto(f"{garage}/shop/jobs/new")
    fill_in(page, "Kept hauler")
    page.fill("#note", "Both drums turned.")
    page.goto(f"{garage}/shop/account")
    page.click("text=Sign out here")
    page.wait_for_selector("#login")
    page.fill("#login", "dana")
    page.fill("#password", PASSWORD)
    page.click("button.main")
    page.wait_for_selector("nav")
    page.goto(f"{garage}/shop/jobs/new")
    assert page.input_value("#note") == ""
    page.click("text=Take it in again")
    assert page.input_value("#note") == "Both drums turned."
    assert page.input_value("#trailer_name") == "Kept hauler"
    assert page.is_checked("#work-bearings")
    page.context.set_offline(True)
    page.click("text=Finish job and make the link")
    assert page.is_visible("[data-offline]")
    page.context.set_offline(False)
    page.click("text=Finish job and make the link")
    page.wait_for_selector(".handover img")
    page.wait_for_load_state()  # the scripts of a page run once it is read to its end
    kept = "Object.keys(localStorage).filter((name) => name.startsWith('shop-form/')).length"
    assert page.evaluate(kept) == 0
    page.goto(f"{garage}/shop/jobs/new")
    assert not page.is_visible(".typedhere")


@pytest.mark.long
def test_a_reply_typed_while_the_session_ended_is_there_after_signing_in(chromium, garage):
    page = signed_in(chromium, garage, 360)
    page.goto(f"{garage}/shop/jobs/new")
    fill_in(page, "Replied hauler")
    page.click("text=Keep it open")
    page.click("text=The whole record")
    address = page.url
    page.fill("#reply", "Do not move it. We come.")
    page.click("label:has(#decided)")
    page.context.clear_cookies()
    page.click("form[data-keep] button.main")
    page.wait_for_selector("text=Nobody is signed in")
    page.click("a[href='/shop']")
    sign_in(page)
    assert page.url == address
    assert page.input_value("#reply") == ""
    page.click("text=Take it in again")
    assert page.input_value("#reply") == "Do not move it. We come."
    assert page.is_checked("#decided")
    page.click("form[data-keep] button.main")
    page.wait_for_selector(".said")
    page.goto(address)
    assert page.locator(".said").count() == 1
    assert not page.is_visible(".typedhere")


@pytest.mark.long
def test_so_are_a_reply_that_is_reworded_and_who_takes_a_trailer_along(chromium, garage):
    page = signed_in(chromium, garage, 360)
    page.goto(f"{garage}/shop/jobs/new")
    fill_in(page, "Lent hauler")
    page.click("text=Keep it open")
    page.click("text=The whole record")
    page.fill("#reply", "Stay there.")
    page.click("form[data-keep] button.main")
    page.click(".said a:has-text('Change')")
    page.fill("#reply", "Stay there. We come at three.")
    address = page.url
    signed_out_and_in(page, garage)
    page.goto(address)
    assert page.input_value("#reply") == "Stay there."
    page.click("text=Take it in again")
    assert page.input_value("#reply") == "Stay there. We come at three."
    page.click("form[data-keep] button.main")
    page.wait_for_selector(".said >> text=We come at three.")

    page.goto(f"{garage}/shop/trailers")
    page.click("text=Lent hauler")
    page.click("text=Page for the lending desk")
    page.click("text=Make the code")
    page.goto(f"{garage}/shop/fleet")
    row = page.locator("li:has-text('Lent hauler')")
    row.locator("summary").click()
    row.locator("input[name=name]").fill("Bo Quist")
    row.locator("input[name=phone]").fill("555 0177")
    signed_out_and_in(page, garage)
    page.goto(f"{garage}/shop/fleet")
    row.locator("text=Take it in again").click()
    assert row.locator("input[name=name]").input_value() == "Bo Quist"
    assert row.locator("input[name=phone]").input_value() == "555 0177"
    row.locator("button", has_text="It goes out").click()
    page.wait_for_selector("li:has-text('Lent hauler') >> text=Bo Quist")
    page.goto(f"{garage}/shop/fleet")
    assert page.locator(".typedhere:not([hidden])").count() == 0


def signed_out_and_in(page: Page, garage: str) -> None:
    page.goto(f"{garage}/shop/account")
    page.click("text=Sign out here")
    page.wait_for_selector("#login")
    sign_in(page)


TYPED_OF = [("trailers/1/edit", "plate"), ("customers/1", "phone")]


@pytest.mark.long
@pytest.mark.parametrize(("kind", "field"), TYPED_OF)
def test_so_is_what_was_typed_of_a_trailer_or_a_customer(chromium, garage, kind, field):
    page = signed_in(chromium, garage, 360)
    page.goto(f"{garage}/shop/jobs/new")
    fill_in(page, f"Typed {field}")
    if page.locator("#customer").count():
        page.click("summary:has-text('Somebody new')")
    page.fill("#customer_name", f"Typed {field}")
    page.click("text=Keep it open")
    page.wait_for_selector("[data-stored]")
    address = f"{garage}/shop/{kind}"
    page.goto(address)
    page.fill(f"#{field}", "555 0177")
    page.context.clear_cookies()
    page.click("form[data-keep] button.main")
    page.wait_for_selector("text=Nobody is signed in")
    page.goto(f"{garage}/shop/sign-in")
    sign_in(page)
    page.goto(address)
    page.click("text=Take it in again")
    assert page.input_value(f"#{field}") == "555 0177"
    page.click("form[data-keep] button.main")
    page.wait_for_selector("body[data-stored]")
    page.goto(address)
    assert page.input_value(f"#{field}") == "555 0177"
    assert not page.is_visible(".typedhere")


def test_back_to_a_refused_form_sends_nothing_twice_and_keeps_what_was_typed(chromium, garage):
    page = signed_in(chromium, garage, 360)
    page.goto(f"{garage}/shop/jobs/new")
    page.fill("#note", "Both drums turned.")
    page.click("text=Keep it open")
    page.wait_for_selector(".trouble")
    assert "refused=" in page.url
    page.goto(f"{garage}/shop/trailers")
    answer = page.go_back()
    assert answer is None or answer.request.method == "GET"
    assert page.is_visible(".trouble")
    assert page.input_value("#note") == "Both drums turned."
    page.reload()
    assert page.input_value("#note") == "Both drums turned."


@pytest.mark.long
def test_photos_are_made_small_on_the_device_and_go_as_soon_as_they_are_chosen(
    chromium, garage, tmp_path
):
    page = signed_in(chromium, garage, 360)
    page.goto(f"{garage}/shop/jobs/new")
    fill_in(page, "Photographed")
    page.click("button[name=finish]")
    page.wait_for_selector(".handover img")
    large = tmp_path / "large.png"
    Image.effect_noise((2400, 1800), 80).convert("RGB").save(large)
    assert large.stat().st_size > sizes.PHOTO
    page.context.set_offline(True)
    page.set_input_files("#photos-in", [str(large)])
    page.wait_for_selector("text=No signal: nothing is sent yet")
    page.context.set_offline(False)
    page.click("form[data-photos] button")
    page.wait_for_selector("#photos .photos img")
    kept = page.locator("#photos .photos img")
    (wide,) = [int(one.get_attribute("width")) for one in kept.all()]
    assert 0 < wide <= 1600
    assert small(page) == []
    page.goto(f"{garage}/shop/trailers")
    page.click("text=Photographed")
    page.wait_for_selector(".photos img")
    assert small(page) == []
