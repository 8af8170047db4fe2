"""A day of a repair shop in a browser: each page leads to the next, and each slip is mended."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.shop.test_pages import signed_in, small
from tests.support.effort import some
from tests.support.floor import run_stop
from tests.support.records import HEADERS, envelope
from tests.support.serve import ONE, serving
from tests.support.shops import SECRET, add_shop
from webapp import create_app

PEOPLE = """customer,phone,email
Ada Lund,(555) 010-0100,ada@lund.example
A. Lund,,
Bo Quist,555 010 0101,
"""
TRAILERS = """trailer,customer,plate,axles,brakes
Green boat trailer,Bo Quist,AB-123,1,none
Boat trailer Lund,Ada Lund,,1,none
"""


@pytest.fixture
def garage(tmp_path: Path) -> Iterator[str]:
    data = tmp_path / "shop"
    app = create_app({"DATA": data, "DATABASE_URL": ""})
    add_shop(app, "Pell Street Garage", "dana")
    app.extensions["store"].engine.dispose()
    with serving(data, ONE, TWENTYMILE_DATABASE_URL="") as address:
        yield address


@pytest.mark.sample
@pytest.mark.parametrize(("width", "height"), some([(360, 740), (1024, 768)], 1))
def test_a_day_at_the_shop(chromium: Browser, garage: str, width: int, height: int) -> None:
    page = signed_in(chromium, garage, width)
    page.set_viewport_size({"width": width, "height": height})
    for kind, table in (("customers", PEOPLE), ("trailers", TRAILERS)):
        takes_in(page, garage, kind, table)
    secret = finishes_a_job(page, garage)
    found_on_the_bench(page, garage)
    one = run_stop(smoke__1L="yes")
    body = envelope(one) | {"link": secret}
    sent = page.request.post(f"{garage}/api/records", data=body, headers=HEADERS)
    assert sent.status == 200, sent.text()
    decides(page, garage)
    corrects(page, garage)
    makes_one_of_two(page, garage)
    finds(page, garage)
    looks_back(page, garage)


def looks(page: Page, name: str) -> None:
    page.wait_for_load_state()
    over = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    assert (name, over, small(page)) == (name, 0, [])


def takes_in(page: Page, garage: str, kind: str, table: str) -> None:
    page.goto(f"{garage}/shop/customers")
    page.goto(f"{garage}/shop/take-in")
    page.click(f"label:has([value={kind}])")
    file: Any = {"name": f"{kind}.csv", "mimeType": "text/csv", "buffer": table.encode()}
    page.set_input_files("#file", file)
    page.click("form button.main")
    page.wait_for_selector(f"h1:has-text('{kind}.csv')")
    looks(page, f"take-in-{kind}")
    page.click("form button.main")
    page.wait_for_selector("text=Undo")
    looks(page, f"taken-in-{kind}")


def finishes_a_job(page: Page, garage: str) -> str:
    """Five taps from the front page; the secret of the link."""
    page.goto(f"{garage}/shop")
    taps = ("nav >> text=Trailers", "text=Green boat trailer", "a.main:has-text('New job')")
    for tap in taps:
        page.click(tap)
    page.click("label:has(#work-bearings)")
    looks(page, "job-form")
    page.click("text=Finish job and make the link")
    page.wait_for_selector(".handover img")
    looks(page, "job")
    found = SECRET.search(page.input_value("#text"))
    assert found is not None
    return found[1]


def found_on_the_bench(page: Page, garage: str) -> None:
    page.goto(f"{garage}/shop/trailers")
    page.click("text=Boat trailer Lund")
    page.click("a.main:has-text('New job')")
    page.click("label:has(#work-bearings)")
    page.click("label:has(#all-pin_done-none)")
    page.click("text=Finish job and make the link")
    page.wait_for_selector("text=The bench record says Stop now")
    looks(page, "bench-stop")
    page.click("label:has([name=anyway])")
    page.click("text=Finish job and make the link")
    page.wait_for_selector(".handover img")
    assert "not cleared to be towed" in page.input_value("#text")
    looks(page, "job-stop")
    page.goto(f"{garage}/shop/jobs/2/sheet")
    page.emulate_media(media="print")
    looks(page, "sheet-stop-paper")
    page.emulate_media(media="screen")


def decides(page: Page, garage: str) -> None:
    page.goto(f"{garage}/shop")
    looks(page, "inbox")
    page.click(".stops a.row-link:has-text('Green boat trailer')")
    looks(page, "check")
    page.fill("#reply", "Do not move it. We come with the truck.")
    page.click("form.narrow button.main")
    page.wait_for_selector("text=It is not decided yet")
    page.fill("#text", "Towed in, left hub opened.")
    page.click("label:has(#decided)")
    page.click("form.narrow button.main")
    page.wait_for_selector("text=Put it back in the inbox")
    looks(page, "check-decided")


def corrects(page: Page, garage: str) -> None:
    """A finished job and whose the trailer is; a link taken back works again."""
    page.goto(f"{garage}/shop/jobs/1")
    page.click("text=Correct this job")
    page.fill("#note", "Left hub opened, new pair, new seal.")
    looks(page, "correct-job")
    page.click("text=Store the correction")
    page.wait_for_selector("text=Left hub opened, new pair")
    looks(page, "job-corrected")
    page.goto(f"{garage}/shop/trailers/1/edit")
    page.select_option("#customer", label="Ada Lund")
    looks(page, "trailer-form")
    page.click("form button.main")
    page.wait_for_selector("a:has-text('Ada Lund')")
    looks(page, "trailer")
    page.goto(f"{garage}/shop/jobs/1")
    page.click("text=Take the link back")
    page.wait_for_selector(".note")
    page.goto(f"{garage}/shop/trailers/1")
    page.click("text=Give it again")
    page.wait_for_selector("text=Undone.")


def makes_one_of_two(page: Page, garage: str) -> None:
    """Customers and trailers; an undecided one stands at whichever of the two there is."""
    page.goto(f"{garage}/shop/customers")
    page.click("a.row-link:has-text('A. Lund')")
    page.click("text=It is in the list twice")
    page.fill("main [name=q]", "lund")
    page.click(".find button")
    looks(page, "merge-customer")
    page.click("li:has-text('Ada Lund') button")
    page.click("text=Take apart again: A. Lund")
    page.wait_for_selector("text=Undone.")
    page.goto(f"{garage}/shop/trailers/2/merge?q=green")
    page.click("li:has-text('Green boat trailer') button")
    page.wait_for_selector(".sign.stop")
    looks(page, "trailer-merged")
    page.click("text=Take apart again: Boat trailer Lund")
    page.wait_for_selector("h1:has-text('Boat trailer Lund')")
    assert page.locator(".sign.stop").count()
    page.goto(f"{garage}/shop/trailers/1")
    assert not page.locator(".trouble .sign.stop").count()


def finds(page: Page, garage: str) -> None:
    for text in ("0100", "AB-123", "lund"):
        page.goto(f"{garage}/shop")
        page.fill("[name=q]", text)
        page.keyboard.press("Enter")
        page.wait_for_selector("a:has-text('Green boat trailer')")
    looks(page, "find")


def looks_back(page: Page, garage: str) -> None:
    for path in (
        "recall",
        "comebacks",
        "files",
        "fleet",
        "account",
        "details",
        "customers/1/delete",
        "trailers",
        "jobs",
    ):
        page.goto(f"{garage}/shop/{path}")
        looks(page, path.replace("/", "-"))
