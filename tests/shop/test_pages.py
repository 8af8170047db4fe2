"""The shop's pages in a real browser, as wide as a phone and as a desk."""

from __future__ import annotations

import time
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.support.serve import serving
from tests.support.shops import PASSWORD, SECRET, add_shop
from webapp import create_app

PAGES = (
    *("jobs", "jobs/1", "jobs/1/sheet", "jobs/new", "jobs/new?trailer=1"),
    *("trailers", "trailers/new", "trailers/1", "trailers/1/edit", "trailers/1/standing"),
    *("customers", "customers/1", "account", "staff", "details"),
    *("jobs/1/edit", "find", "find?q=boat", "trailers/1/merge", "customers/1/merge"),
)
SMALL = """[...document.querySelectorAll("a, button, input:not([type=hidden]), select, summary")]
  .filter((e) => e.offsetParent && !e.closest("p"))
  .map((e) => [e, (e.closest("label.choice") ?? e).getBoundingClientRect()])
  .filter(([, box]) => box.width < 47.5 || box.height < 47.5)
  .map(([e]) => e.outerHTML.slice(0, 80))"""


@pytest.fixture(scope="module")
def garage(tmp_path_factory: Any) -> Iterator[str]:
    """A real server with one shop."""
    data = tmp_path_factory.mktemp("shop")
    app = create_app({"DATA": data, "DATABASE_URL": ""})
    add_shop(app, "Pell Street Garage", "dana")
    app.extensions["store"].engine.dispose()
    with serving(data, TWENTYMILE_DATABASE_URL="") as address:
        yield address


def signed_in(browser: Browser, address: str, width: int) -> Page:
    page = browser.new_context(viewport={"width": width, "height": 740}).new_page()
    page.set_default_timeout(20_000)
    page.goto(f"{address}/shop/sign-in")
    page.fill("#login", "dana")
    page.fill("#password", PASSWORD)
    page.click("button.main")
    # the next page must not be asked for while this one still writes the session
    page.wait_for_selector("nav")
    page.wait_for_load_state("networkidle")
    return page


def fill_in(page: Page, name: str) -> None:
    page.fill("#trailer_name", name)
    for choice in ("fact-axles-2", "fact-brakes-electric", "work-bearings", "all-pin_done-new"):
        page.click(f"label:has(#{choice})")


@pytest.mark.parametrize("width", [360, 1100])
def test_from_a_filled_job_to_a_link_is_one_tap(chromium, garage, width):
    """Asked for: five taps at the most, and under a minute."""
    page = signed_in(chromium, garage, width)
    page.goto(f"{garage}/shop/jobs/new")
    fill_in(page, f"Car hauler {width}")
    started = time.monotonic()
    page.click("text=Finish job and make the link")
    page.wait_for_selector(".handover img")
    assert time.monotonic() - started < 60
    assert SECRET.search(page.input_value("#text"))
    # the code is drawn, whatever the content policy says
    page.wait_for_function("document.querySelector('.handover img').naturalWidth > 0")


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


@pytest.mark.parametrize("width", [360, 1100])
def test_pages_fit_their_width_and_the_thumb(chromium, garage, width):
    page = signed_in(chromium, garage, width)
    page.goto(f"{garage}/shop/jobs/new")
    fill_in(page, "Boat trailer" + "r" * 68)
    page.click("summary:has-text('Somebody new')") if page.locator("#customer").count() else None
    page.fill("#customer_name", "Ada Lund")
    page.click("text=Finish job and make the link")
    for path in PAGES:
        page.goto(f"{garage}/shop/{path}")
        over = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert (path, over, page.evaluate(SMALL)) == (path, 0, [])
