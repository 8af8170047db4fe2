"""The lending desk in two browsers: a borrower without signal, and the library that hears of it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser
from sqlalchemy import select

from tests.support.desk import Desk, arrive, hold
from tests.support.floor import run_stop
from tests.support.phone import Phone, phone
from tests.support.records import HEADERS, envelope
from tests.support.shops import PASSWORD, SECRET
from tests.support.whole_suite import as_read
from webapp.follow_up.shelves import SHELVES
from webapp.storage.models import records


def standing(desk: Desk, name: str = "Alder Fork 7", **found: str) -> tuple[str, str]:
    """A trailer's page, and the secret of the code that hangs on it."""
    desk.job(trailer_name=name, **found)
    page = desk.shop.client.get("/shop/trailers").text
    trailer = page.rpartition(name)[0].rpartition("/shop/trailers/")[2].partition('"')[0]
    sheet = f"/shop/trailers/{trailer}/standing"
    desk.shop.press(sheet, sheet)
    return f"/shop/trailers/{trailer}", SECRET.search(desk.shop.client.get(sheet).text)[1]  # type: ignore[index]


@pytest.mark.long
def test_a_borrowers_stop_reaches_the_library_under_the_borrowers_name(
    chromium: Browser,
    desk: Desk,
    tmp_path: Path,
) -> None:
    trailer, secret = standing(desk)
    with phone(chromium, tmp_path / "borrower", desk.address) as one:
        arrive(one, secret)
        assert "Walk round it before you go" in one.page.inner_text(".page")
        one.page.fill("input[type=text]", "Noor Vance")
        one.page.locator("input[type=tel]").focus()
        one.wait_stored("links", lambda kept: kept[0].get("borrower") is not None)
        one.page.fill("input[type=tel]", "555 0199")
        one.page.evaluate("dispatchEvent(new Event('moved'))")  # the shop's answer comes meanwhile
        assert one.page.input_value("input[type=text]") == "Noor Vance"
        assert one.page.input_value("input[type=tel]") == "555 0199"
        assert one.page.evaluate("document.activeElement.type") == "tel"
        one.page.locator("input[type=tel]").blur()
        one.wait_stored("links", lambda kept: kept[0]["borrower"].get("phone") == "555 0199")
        one.tap("Keep this trailer here")
        one.wait_for("location.hash.startsWith('#/trailer/')")
        hold(one)
        one.offline(True)
        one.page.reload()
        one.begin("quick_stop")  # not from the code's page: the trailer is kept on the phone by now
        one.tap("Smoke")
        one.page.wait_for_selector(".stop-now h1")
        one.tap("Keep and send")
        one.page.wait_for_selector(".kept")
        kept: Any = one.stored("records")[-1]
        assert kept["record"]["body"]["by"] == {"name": "Noor Vance", "phone": "555 0199"}
        one.offline(False)
        one.wait_for("document.querySelector('.kept')?.textContent.includes('and sent')")
    inbox = as_read(desk.shop.client.get("/shop").text)
    assert "Noor Vance" in inbox
    assert "tel:555 0199" in inbox or "tel:5550199" in inbox
    assert "Stop now" in as_read(desk.shop.client.get(trailer).text)
    with phone(chromium, tmp_path / "next", desk.address) as other:
        arrive(other, secret)
        text = other.page.inner_text(".carried")
        assert "Stop now" in text
        assert "Do not tow it" in text
        other.tap_at("button[value=walkaround]")
        other.tap_at("button[value=trip]")
        other.page.wait_for_selector(".asking")


@pytest.mark.long
def test_a_borrower_takes_a_trailer_out_and_says_that_it_is_back(
    chromium: Browser,
    desk: Desk,
    tmp_path: Path,
) -> None:
    """Walk and word are kept without signal; the library hears of both under the name."""
    _, secret = standing(desk, "Alder Fork 8")
    with phone(chromium, tmp_path / "borrower", desk.address) as one:
        arrive(one, secret)
        job = one.where
        one.page.fill("input[type=text]", "Noor Vance")
        one.page.locator("input[type=text]").blur()
        one.wait_stored("links", lambda kept: kept[0].get("borrower"))
        hold(one)
        one.open(job)
        assert one.page.get_by_role("button", name=BACK).count() == 0
        one.offline(True)
        one.tap_at("button.big[value=walkaround]")
        one.tap_at("button[value=trip]")
        one.page.wait_for_selector(".asking")
        one.settle()
        one.finish()
        one.page.wait_for_selector(".kept")
        one.offline(False)
        one.wait_stored("outbox", lambda left: not left)
        assert "Out since" in (fleet := as_read(desk.shop.client.get("/shop/fleet").text))
        assert "Noor Vance" in fleet
        one.offline(True)
        one.open(job)
        one.tap(BACK)
        one.page.get_by_text("You said").wait_for()
        assert one.page.get_by_role("button", name=BACK).count() == 0
        one.offline(False)
        one.wait_stored("outbox", lambda left: not left)
    fleet = as_read(desk.shop.client.get("/shop/fleet").text)
    assert "the borrower says so" in fleet
    assert "Noor Vance" not in fleet


BACK = "I have brought it back"


@pytest.mark.long
def test_a_stop_for_the_nuts_asks_for_nothing_else_and_takes_six_taps(
    chromium: Browser,
    desk: Desk,
    tmp_path: Path,
) -> None:
    secret = desk.job(trailer_name="Tandem", **{"fact:axles": "2"})
    with phone(chromium, tmp_path / "customer", desk.address) as one:
        arrive(one, secret)
        one.taps = 0
        one.tap_at("button.big[value=nuts_stop]")
        one.page.wait_for_selector(".asking")
        one.settle()
        asked = []

        def answer() -> None:
            asked.append((one.question, one.page.inner_text(".place")))
            one.choose(".answers .answer")

        one.repeat(answer, lambda: not one.asking)
        assert len(asked) == len(set(asked)) == 4
        assert {question for question, _ in asked} == {"Wheel nuts: all there and tight?"}
        one.tap("Keep and send")
        one.page.wait_for_selector(".kept")
        assert one.taps <= 6
        assert "Nothing else was looked at" in one.page.inner_text(".page")
        one.wait_for("document.querySelector('.kept')?.textContent.includes('and sent')")
    assert [done for _, done in desk.settled(secret)] == [True, False, False, False, False]


@pytest.mark.long
def test_the_front_page_leads_each_kind_of_person_home(
    chromium: Browser,
    desk: Desk,
    tmp_path: Path,
) -> None:
    """Owner, customer with a stop undecided at the shop, borrower, and whoever works there."""
    _, secret = standing(desk, "Alder Fork 6")
    clean = desk.job(trailer_name="Blue tilt bed", **{f"line:{n}:keep": "" for n in range(8)})
    halted = desk.job(trailer_name="Boat trailer", anyway="1", **{"all:pin_done": "none"})
    with phone(chromium, tmp_path / "all", desk.address) as one:
        one.open()
        assert one.page.locator("a[href='/shop'], .due").count() == 0
        for code in (clean, halted, secret):
            arrive(one, code)
        one.page.fill("input[type=text]", "Noor Vance")
        one.page.locator("input[type=text]").blur()
        job = one.where
        one.tap_at("button.big[value=walkaround]")
        one.wait_for("location.hash.startsWith('#/walk')")
        one.open()
        one.page.locator(".due.stop").get_by_text("Boat trailer").wait_for()
        one.tap("You have Alder Fork 6")
        one.settle()
        assert one.where == job
        one.tap(BACK)
        one.page.get_by_text("You said").wait_for()
        one.open()
        one.page.locator(".due.stop").get_by_text("Boat trailer").wait_for()
        assert one.by_name("You have Alder Fork 6").count() == 0
        one.page.get_by_text("Links with nothing due").click()
        one.tap("Blue tilt bed")
        one.page.get_by_text("Nothing is due under this link").wait_for()
        one.open("#/settings")
        one.tap("For a shop: sign in")
        one.page.fill("[name=login]", "dana")
        one.page.fill("[name=password]", PASSWORD)
        one.page.locator("main form button").first.click()
        one.wait_for("'atShop' in localStorage")
        one.open()
        one.tap("Your shop")
        one.page.wait_for_selector("nav >> text=Jobs")


# How a Stop now came in, and what it says. tests/shop/test_stop_now.py has every way there is.
CAME = {
    "Found on the bench": "Nothing locks the spindle nut",
    "Sent on a link": "Left wheel: Smoke at this wheel",
    "Alder Fork 9": "Smoke at this wheel",
}


@pytest.mark.sample
def test_a_stop_now_is_drawn_on_link_and_front_page_until_it_is_decided(
    chromium: Browser,
    desk: Desk,
    tmp_path: Path,
) -> None:
    """By the bench and handed over, by the customer, and on the code of the desk."""
    on_link = desk.job(trailer_name="Sent on a link")
    on_bench = desk.job(trailer_name="Found on the bench", anyway="1", **{"all:pin_done": "none"})
    secrets = dict(zip(CAME, (on_bench, on_link, standing(desk, "Alder Fork 9")[1]), strict=True))
    for secret in list(secrets.values())[1:]:
        body = envelope(run_stop(smoke__1L="yes")) | {"link": secret}
        sent = desk.app.test_client().post("/api/records", json=body, headers=HEADERS)
        assert sent.status_code == 200, sent.text
    with phone(chromium, tmp_path / "owner", desk.address) as one:
        for name, secret in secrets.items():
            arrive(one, secret)
            one.page.get_by_role("heading", name=name, exact=True).wait_for()
            said = one.page.inner_text(".carried")
            assert "Stop now" in said
            assert CAME[name] in said
        assert drawn(one) == dict.fromkeys(CAME, True)
        for name, secret in secrets.items():
            decide(desk, secret)
            arrive(one, secret)
            one.page.get_by_role("heading", name=name, exact=True).wait_for()
            one.page.locator(".carried").wait_for(state="detached")
        assert drawn(one) == dict.fromkeys(CAME, False)


@pytest.mark.long
def test_a_link_shows_every_stop_now_that_nobody_has_decided(
    chromium: Browser, desk: Desk, tmp_path: Path
) -> None:
    secret = desk.job(trailer_name="Twice told")
    for found in ({"smoke__1L": "yes"}, {"smoke__1R": "yes"}):
        body = envelope(run_stop(**found)) | {"link": secret}
        sent = desk.app.test_client().post("/api/records", json=body, headers=HEADERS)
        assert sent.status_code == 200, sent.text
    with phone(chromium, tmp_path / "owner", desk.address) as one:
        arrive(one, secret)
        one.page.locator(".carried").nth(1).wait_for()
        told = " ".join(one.page.locator(".carried").all_inner_texts())
        assert {side for side in ("Left wheel", "Right wheel") if side in told} == {
            "Left wheel",
            "Right wheel",
        }
        one.open()
        (card,) = one.page.locator(".due.stop").all()
        told = card.inner_text()
        assert {side for side in ("Left wheel", "Right wheel") if side in told} == {
            "Left wheel",
            "Right wheel",
        }


@pytest.mark.long
def test_a_new_code_at_the_desk_takes_no_stop_now_from_who_has_the_trailer(
    chromium: Browser, desk: Desk, tmp_path: Path
) -> None:
    trailer, secret = standing(desk, "Alder Fork 11", anyway="1", **{"all:pin_done": "none"})
    with phone(chromium, tmp_path / "borrower", desk.address) as one:
        arrive(one, secret)
        desk.shop.press(f"{trailer}/standing", f"{trailer}/standing")
        arrive(one, secret)
        one.page.locator(".trouble").wait_for()
        one.open()
        card = one.page.locator(".due.stop")
        card.get_by_text("Nothing locks the spindle nut").wait_for()
        assert "its link no longer works" in card.inner_text()
        card.click()
        one.page.locator(".carried.stop").wait_for()
        assert one.page.locator("a[href^='#/run/'], button.big").count() == 0
        decide(desk, secret)
        one.page.reload()
        one.page.locator(".trouble").wait_for()  # drawn anew, with the card until the link is read
        one.page.locator(".carried").wait_for(state="detached")
        one.open()
        one.settle()
        assert one.page.locator(".due.stop").count() == 0


@pytest.mark.long
def test_a_code_read_anew_tells_what_an_ended_one_of_its_trailer_told(
    chromium: Browser, desk: Desk, tmp_path: Path
) -> None:
    trailer, secret = standing(desk, "Alder Fork 12", anyway="1", **{"all:pin_done": "none"})
    with phone(chromium, tmp_path / "borrower", desk.address) as one:
        arrive(one, secret)
        one.page.locator(".carried.stop").wait_for()
        decide(desk, secret)
        sheet = f"{trailer}/standing"
        desk.shop.press(sheet, sheet)
        fresh = SECRET.search(desk.shop.client.get(sheet).text)[1]  # type: ignore[index]
        arrive(one, secret)
        one.page.locator(".trouble").wait_for()
        arrive(one, fresh)
        one.open()
        one.settle()
        assert one.page.locator(".due.stop").count() == 0


def drawn(one: Phone) -> dict[str, bool]:
    """Whose *Stop now* the front page shows, sign and finding."""
    one.open()
    one.page.get_by_text("Links with nothing due").or_(one.page.locator(".due")).first.wait_for()
    signed = one.page.locator(".due.stop").filter(has=one.page.locator(".shape.stop"))
    cards = signed.all_inner_texts()
    return {name: any(name in card and CAME[name] in card for card in cards) for name in CAME}


def decide(desk: Desk, secret: str) -> None:
    where = records.c.trailer_key == desk.link(secret).trailer_id
    with desk.app.extensions["store"].reading() as connection:
        wanted = select(records.c.id).where(where, records.c.shelf == SHELVES["stop"])
        found = list(connection.execute(wanted).scalars())
    for record in found:
        page = f"/shop/checks/{record}"
        assert desk.shop.post(page, {"text": "Towed in.", "decided": "y"}).status_code == 302
    assert found
