"""A day of a repair shop in a browser: each page leads to the next, and each slip is mended."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import pytest
from playwright.sync_api import Browser, Page
from pypdf import PdfReader

from tests.shop.test_pages import signed_in, small
from tests.support.effort import some
from tests.support.floor import run_stop
from tests.support.records import HEADERS, envelope
from tests.support.serve import ONE, serving
from tests.support.shops import SECRET, add_shop
from tests.support.whole_suite import as_read
from webapp import create_app

PEOPLE = """customer,phone,email
Ada Lund,(555) 010-0100,ada@lund.example
A. Lund,,
Bo Quist,555 010 0101,
"""
TRAILERS = """trailer,customer,plate,axles,brakes,service_year
Green boat trailer,Bo Quist,AB-123,1,none,
Boat trailer Lund,Ada Lund,,1,none,
Long hauler,Bo Quist,,1,none,2019
Alder Fork tilt bed,,,1,none,
"""
WRONG_LIST = "trailer\nWrong list one\nWrong list two\n"


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
    takes_out_again(page, garage)
    secret = finishes_a_job(page, garage)
    found_on_the_bench(page, garage)
    one = run_stop(smoke__1L="yes")
    body = envelope(one) | {"link": secret}
    sent = page.request.post(f"{garage}/api/records", data=body, headers=HEADERS)
    assert sent.status == 200, sent.text()
    prints_what_was_found(page, garage)
    decides(page, garage)
    corrects(page, garage)
    makes_one_of_two(page, garage)
    finds(page, garage)
    asks_back(page, garage)
    prints_labels(page, garage)
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


def takes_out_again(page: Page, garage: str) -> None:
    """The wrong file: looked at, taken in, and nothing of it is left."""
    takes_in(page, garage, "trailers", WRONG_LIST)
    page.click("text=Undo")
    page.wait_for_selector("text=Undone.")
    page.goto(f"{garage}/shop/trailers?sort=name")
    assert [page.locator(f"text={name}").count() for name in ("Wrong list", "Long hauler")] == [
        0,
        1,
    ]


def finishes_a_job(page: Page, garage: str) -> str:
    """Five taps from the front page; the secret of the link."""
    page.goto(f"{garage}/shop")
    taps = ("nav >> text=Trailers", "text=Green boat trailer", "a.main:has-text('New job')")
    for tap in taps:
        page.click(tap)
    page.click("label:has(#work-bearings)")
    page.click("summary:has-text('Work order')")
    page.fill("#work_order", "WO-2611")
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


def prints_what_was_found(page: Page, garage: str) -> None:
    """On each paper of a trailer with a *Stop now* stand sign, wheel and finding."""
    page.goto(f"{garage}/shop")
    page.click(".stops a.row-link:has-text('Green boat trailer')")
    looks(page, "check-stop")
    kept = page.get_by_role("link", name="PDF to keep or send").get_attribute("href")
    papers = {"the check": page.request.get(f"{garage}{kept}").body()}
    for name, path in (("desk sheet", "trailers/1/standing"), ("sheet", "jobs/1/sheet")):
        page.goto(f"{garage}/shop/{path}")
        looks(page, name)
        papers[name] = page.pdf()
    for name, paper in papers.items():
        told = text_of(paper)
        found = [part in told for part in ("Stop now", "Smoke at this wheel", "Left wheel")]
        assert (name, found) == (name, [True, True, True]), told


def text_of(paper: bytes) -> str:
    """What a reader of the file finds in it, as words with a blank between."""
    pages = PdfReader(BytesIO(paper)).pages
    return as_read(" ".join(" ".join(page.extract_text() for page in pages).split()))


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
    page.goto(f"{garage}/shop")
    page.fill("[name=q]", "wo-2611")
    page.keyboard.press("Enter")
    page.click("a:has-text('WO-2611')")
    page.wait_for_selector("text=Left hub opened, new pair")


def asks_back(page: Page, garage: str) -> None:
    """Whose bearings are due, and whose trailer was left to be stored, each with its text."""
    page.goto(f"{garage}/shop/trailers")
    page.click("text=Long hauler")
    page.click("a.main:has-text('New job')")
    page.click("label:has(#work-storage)")
    page.click("text=Finish job and make the link")
    page.wait_for_selector(".handover img")
    page.goto(f"{garage}/shop/recall")
    looks(page, "recall")
    texts = [area.input_value() for area in page.locator("textarea.copy").all()]
    packed, stored = (next(one for one in texts if part in one) for part in ("bearings", "stored"))
    for text in (packed, stored):
        assert ("Pell Street Garage" in text, "Long hauler" in text) == (True, True)
    page.click("summary:has-text('Text to the customer')")
    sms = page.locator("a[href^='sms:5550100101']").first.get_attribute("href") or ""
    assert as_read(unquote(sms.partition("body=")[2])) in texts
    looks(page, "recall-text")


def prints_labels(page: Page, garage: str) -> None:
    """A code for the shop's own trailer, as a label and as a page."""
    page.goto(f"{garage}/shop/fleet")
    page.click("button:has-text('code')")
    page.wait_for_selector(".codes.label img")
    page.locator(".codes img").first.evaluate("image => image.decode()")
    looks(page, "labels")
    for size in ("label", "page"):
        page.goto(f"{garage}/shop/fleet/codes?size={size}")
        told = text_of(page.pdf(prefer_css_page_size=True))
        names = ("Alder Fork tilt bed", "Pell Street Garage", "555 0199")
        assert (size, [one in told for one in names]) == (size, [True, True, True]), told


def looks_back(page: Page, garage: str) -> None:
    for path in (
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
