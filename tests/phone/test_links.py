"""A shop's link on the customer's phone: two browsers, one of them without signal for the check."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page
from sqlalchemy import update

from tests.support.browser import engine_page
from tests.support.desk import JOB_SHOWN, Desk, arrive, hold
from tests.support.effort import few, some
from tests.support.floor import run_stop
from tests.support.phone import Phone, phone
from tests.support.photo_files import camera_file, scene
from tests.support.records import HEADERS, envelope
from tests.support.serve import ONE, serving
from tests.support.shops import PASSWORD, Shop, add_shop, finished_job, sign_in
from tests.support.whole_suite import as_read
from webapp import create_app
from webapp.storage.models import shops

AWAY = {"expires": datetime.now(UTC) - timedelta(days=1)}


@pytest.fixture
def customer(chromium: Browser, desk: Desk, tmp_path: Path) -> Iterator[Phone]:
    with phone(chromium, tmp_path / "customer", desk.address) as one:
        yield one


def open_job(one: Phone) -> str:
    (link, *_) = one.stored("links")
    one.open(f"#/job/{link['id']}")
    one.wait_for(JOB_SHOWN)
    return one.page.inner_text(".page")


def test_from_a_finished_job_to_the_shops_inbox_with_the_customer_out_of_signal(
    chromium: Browser, desk: Desk, customer: Phone, tmp_path: Path
) -> None:
    with phone(chromium, tmp_path / "shop", desk.address) as shop:
        secret = finish_a_job(shop, desk.address)
        shop.taps = 1  # the one on "Finish job": all before it is work the shop does anyway
        arrive(customer, secret)
        customer.tap("Start")
        customer.page.wait_for_selector(".asking")
        assert shop.taps + customer.taps < 5
        assert "How many axles" not in customer.question  # the shop has said so
        hold(customer)
        customer.offline(True)
        customer.page.reload()
        customer.tap("Go on")
        customer.finish()
        (kept,) = customer.stored("records")
        assert "Not yet sent" in customer.page.inner_text(".kept")
        assert desk.arrived(kept["id"]) == 0
        customer.offline(False)
        customer.wait_for("document.querySelector('.kept')?.textContent.includes('and sent')")
        assert desk.arrived(kept["id"]) == 1
        assert desk.settled(secret)[0][1]
        shop.page.goto(f"{desk.address}/shop")
        assert "Blue tilt bed" in shop.page.inner_text("main")


@pytest.mark.long
def test_a_run_from_the_link_makes_its_stops_and_ends_at_the_shop(
    desk: Desk, customer: Phone
) -> None:
    """One way for a customer: link, run, two stops out of signal, the end, the trailer's page."""
    secret = desk.job()
    arrive(customer, secret)
    customer.tap("Start a run")
    customer.page.get_by_text(re.compile(r"^Next: ")).wait_for()
    hold(customer)
    customer.offline(True)
    customer.open("#/run")
    stop_at(customer, "21")
    customer.page.get_by_role("button", name="Standing still").click()
    customer.page.get_by_role("button", name="Check now").first.click()
    customer.page.wait_for_selector(".asking")
    customer.finish()
    customer.open("#/run")
    customer.page.get_by_role("button", name="Drive on").click()
    stop_at(customer, "51")
    customer.page.get_by_role("button", name="Heard").click()
    customer.page.get_by_role("button", name="End the run").click()
    customer.page.locator("dialog").get_by_role("button", name="End the run").click()
    customer.page.get_by_text("sent to the shop as soon as there is signal").wait_for()
    made = {one["record"]["kind"]: one["id"] for one in customer.stored("records")}
    assert set(made) == {"check", "run"}
    assert desk.arrived(made["run"]) == 0
    customer.offline(False)
    customer.sending_over()
    assert desk.arrived(made["run"]) == desk.arrived(made["check"]) == 1
    page = as_read(desk.shop.client.get(f"/shop/trailers/{desk.link(secret).trailer_id}").text)
    assert re.search(r"51 mi, looked at \d of \d", page)
    assert "Still due: " in page


def stop_at(one: Phone, miles: str) -> None:
    """Drive so far, by hand: the call for the stop fills the screen."""
    one.page.get_by_text("Put the distance right").click()
    one.page.locator("form input").fill(miles)
    one.page.get_by_role("button", name="Use this").click()
    one.page.get_by_role("heading", name="Stop at the next safe place").wait_for()


def finish_a_job(shop: Phone, address: str) -> str:
    """In the shop's browser, from signing in to the page with the link; its secret."""
    page = shop.page
    sign_in_at(shop, address)
    page.goto(f"{address}/shop/jobs/new")
    page.fill("[name=trailer_name]", "Blue tilt bed")
    page.locator('[name="fact:axles"][value="1"]').check(force=True)
    page.locator('[name="fact:brakes"][value="none"]').check(force=True)
    page.locator('[name="work:bearings"]').check(force=True)
    page.locator("button[name=finish]").click()
    text = page.input_value("textarea")
    found = re.search(r"#/from/([\w-]{43})", text)
    assert found, text
    return found[1]


def sign_in_at(shop: Phone, address: str) -> None:
    shop.page.goto(f"{address}/shop/sign-in")
    shop.page.fill("[name=login]", "dana")
    shop.page.fill("[name=password]", PASSWORD)
    shop.page.locator("main form button").first.click()


@pytest.mark.long
def test_the_link_says_who_what_was_done_and_what_is_due(desk: Desk, customer: Phone) -> None:
    secret = desk.job()
    arrive(customer, secret)
    text = customer.page.inner_text(".page")
    for part in ("Green boat trailer", "Pell Street Garage", "New bearings and seals, both sides."):
        assert part in text
    assert customer.page.locator("a[href='tel:5550199']").count() == 1
    asked = [what for what, _ in desk.settled(secret)]
    assert len(asked) > 1
    assert all(what in text for what in asked)
    assert "after 20 mi" in text


@pytest.mark.long
def test_the_secret_is_in_no_address_and_no_page_after_reading(desk: Desk, customer: Phone) -> None:
    secret = desk.job()
    arrive(customer, secret)
    assert secret not in customer.page.url
    assert secret not in customer.page.content()
    customer.open()
    customer.settle()
    customer.page.go_back()
    customer.wait_for(JOB_SHOWN)
    assert secret not in customer.page.url
    assert [link["secret"] for link in customer.stored("links")] == [secret]


@pytest.mark.long
def test_reading_a_link_opens_nothing_and_starting_does(desk: Desk, customer: Phone) -> None:
    secret = desk.job()
    arrive(customer, secret)
    customer.page.reload()
    customer.wait_for(JOB_SHOWN)
    assert desk.link(secret).opened is None
    customer.tap("Start")
    customer.page.wait_for_selector(".asking")
    customer.wait_for("document.querySelector('.asking') !== null")
    open_job(customer)
    customer.wait_stored("links", lambda links: bool(links[0].get("told")))
    assert desk.link(secret).opened is not None


@pytest.mark.long
def test_each_check_under_one_link_is_done_in_turn_over_days(desk: Desk, customer: Phone) -> None:
    secret = desk.job()
    arrive(customer, secret)
    hold(customer)
    for turn in (1, 2):
        open_job(customer)
        customer.tap("Start")
        customer.page.wait_for_selector(".asking")
        customer.finish()
        customer.wait_for("document.querySelector('.kept')?.textContent.includes('and sent')")
        assert [done for _, done in desk.settled(secret)][:2] == [True, turn == 2]
    assert customer.page.locator(".dueitem.done").count() == 0
    customer.tap("What else is due")
    customer.wait_for(JOB_SHOWN)
    assert customer.page.locator(".dueitem.done").count() == 2


@pytest.mark.long
def test_a_reload_with_the_server_down_shows_the_link_and_starts_its_check(
    chromium: Browser, tmp_path: Path
) -> None:
    data = tmp_path / "data"
    data.mkdir()
    with serving(data, ONE) as address:
        app = create_app({"DATA": data})
        shop = Shop(add_shop(app, "Pell Street Garage", "dana"), "dana", sign_in(app, "dana"))
        secret = finished_job(shop)[1]
        one = Phone(chromium, tmp_path / "phone", address)
        arrive(one, secret)
        hold(one)
    try:
        assert "Green boat trailer" in open_job(one)
        one.page.get_by_text("Checks work without signal").wait_for()
        one.tap("Start")
        one.page.wait_for_selector(".asking")
        one.finish()
        (kept,) = one.stored("records")
        assert kept["link"] == one.stored("links")[0]["id"]
        assert "Not yet sent" in one.page.inner_text(".kept")
        assert "Green boat trailer" in open_job(one)
        assert one.page.locator(".dueitem.done").count() == 1
    finally:
        one.close()


def revoked(desk: Desk, secret: str) -> None:
    desk.change_link(secret, revoked=datetime.now(UTC))


def ended(desk: Desk, secret: str) -> None:
    desk.change_link(secret, **AWAY)


@pytest.mark.long
@pytest.mark.parametrize(("kill", "says"), [(revoked, "taken"), (ended, "ended")])
def test_a_link_that_dies_says_so_and_loses_nothing(
    desk: Desk, customer: Phone, kill: Callable[[Desk, str], None], says: str
) -> None:
    """What was begun under it still reaches the shop."""
    secret = desk.job()
    arrive(customer, secret)
    hold(customer)
    open_job(customer)
    customer.tap("Start")
    customer.page.wait_for_selector(".asking")
    customer.wait_stored("links", lambda links: bool(links[0].get("told")))
    customer.offline(True)
    customer.finish()
    kill(desk, secret)
    customer.offline(False)
    customer.wait_for("document.querySelector('.kept')?.textContent.includes('and sent')")
    (kept,) = customer.stored("records")
    assert desk.arrived(kept["id"]) == 1
    open_job(customer)
    customer.page.locator(".trouble").wait_for()
    text = customer.page.inner_text(".trouble")
    assert says in text
    assert "Ask the shop for a new one" in text
    assert "still here" in text
    assert len(customer.stored("records")) == 1


FOREIGN = {
    "a proxy's page": (404, "text/html", "<html>404 Not Found</html>"),
    "a gateway's JSON": (410, "application/json", '{"error": {"code": "gone"}}'),
    "a sign-in page": (200, "text/html", "<html>sign in to this network</html>"),
}


@pytest.mark.long
@pytest.mark.parametrize("case", some(FOREIGN, 2))
def test_an_answer_from_somebody_else_takes_no_due_card_away(
    desk: Desk, customer: Phone, case: str
) -> None:
    status, kind, body = FOREIGN[case]
    arrive(customer, desk.job())
    answer = {"status": status, "content_type": kind, "body": body}
    customer.page.route("**/api/links/read", lambda route: route.fulfill(**answer))
    with customer.page.expect_response("**/api/links/read"):
        customer.page.reload()
    customer.page.locator(".hint[role=status]").wait_for()  # why the reading brought nothing
    assert not customer.stored("links")[0].get("dead")


@pytest.mark.long
def test_a_link_that_came_back_to_life_shows_its_due_cards_again(
    desk: Desk, customer: Phone
) -> None:
    secret = desk.job()
    arrive(customer, secret)
    revoked(desk, secret)
    customer.page.reload()
    customer.page.locator(".trouble").wait_for()
    customer.open()
    assert "no longer works" in customer.page.inner_text(".due"), "the front page says so too"
    desk.change_link(secret, revoked=None)
    put = """(days) => new Promise((done) => {
      const open = indexedDB.open("twentymile");
      open.onsuccess = () => {
        const links = open.result.transaction("links", "readwrite").objectStore("links");
        links.getAll().onsuccess = ({ target }) => {
          const [link] = target.result;
          links.put({ ...link, died: Date.now() - days * 86400000 }).onsuccess = done;
        };
      };
    })"""
    customer.page.evaluate(put, 2)
    customer.page.goto(f"{customer.address}/#/")
    with customer.page.expect_response("**/api/links/read"):
        customer.page.reload()
    customer.wait_stored("links", lambda links: not links[0]["dead"])


@pytest.mark.long
def test_a_link_taken_back_still_tells_of_a_stop_now_until_it_is_decided(
    desk: Desk, customer: Phone
) -> None:
    """Found on another phone, before the end; the desk decides after it."""
    secret = desk.job()
    arrive(customer, secret)
    one = run_stop(smoke__1L="yes")
    body = envelope(one) | {"link": secret}
    sent = desk.app.test_client().post("/api/records", json=body, headers=HEADERS)
    assert sent.status_code == 200, sent.text
    revoked(desk, secret)
    customer.page.reload()
    customer.wait_stored("links", lambda items: bool(items[0].get("dead")))
    assert customer.stored("links")[0]["open"]["record"] == one["id"]
    desk.shop.post(f"/shop/checks/{one['id']}", {"text": "Towed in.", "decided": "y"})
    customer.page.reload()
    customer.wait_stored("links", lambda items: items[0]["open"] is None)
    assert customer.stored("links")[0]["dead"]


@pytest.mark.parametrize(
    ("secret", "says"),
    [
        ("B" * 43, "no such link"),  # well made, but nobody's
        ("B" * 42, "cut off"),
        ("B" * 44, "cut off"),
        ("", "cut off"),
        ("%22%3E%3Cimg%20src=x%3E", "cut off"),
    ],
)
def test_a_link_that_is_none_says_what_to_do(customer: Phone, secret: str, says: str) -> None:
    customer.page.goto(f"{customer.address}/#/from/{secret}")
    customer.page.get_by_text(says).first.wait_for()
    assert "sk the shop for a new one" in customer.page.inner_text("main")


@pytest.mark.long
def test_the_trailer_is_kept_on_the_phone_when_asked(desk: Desk, customer: Phone) -> None:
    arrive(customer, desk.job())
    customer.tap("Keep this trailer here")
    customer.wait_for("document.body.dataset.shown?.startsWith('#/trailer/')")
    assert "Green boat trailer" in customer.page.inner_text("h1")
    (kept,) = customer.stored("records")
    body: Any = kept["record"]
    assert body["kind"] == "trailer"
    assert body["body"]["facts"]["axles"] == 1
    assert "This trailer is on this phone" in open_job(customer)


def smoke(one: Phone) -> Any:
    """A stop begun on the front page and kept at *Stop now*: its record on the phone."""
    one.open("#/")
    one.begin("quick_stop")
    one.tap("Smoke")
    one.page.wait_for_selector(".stop-now h1")
    assert "No number to call" not in one.page.inner_text(".page")
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    one.wait_stored("outbox", lambda items: not items)
    return one.stored("records")[-1]


@pytest.mark.long
@pytest.mark.parametrize("works", few([True, False], 1))
def test_a_stop_of_a_kept_trailer_begun_on_the_front_page_goes_to_the_shop_while_its_link_works(
    desk: Desk, customer: Phone, works: bool
) -> None:
    secret = desk.job()
    with desk.app.extensions["store"].writing() as connection:
        connection.execute(update(shops).values(phone="555 0142"))
    arrive(customer, secret)
    customer.tap("Keep this trailer here")
    customer.wait_for("document.body.dataset.shown?.startsWith('#/trailer/')")
    if not works:
        revoked(desk, secret)
        open_job(customer)
        customer.wait_stored("links", lambda items: bool(items[0].get("dead")))
    kept = smoke(customer)
    assert desk.arrived(kept["id"]) == works
    says = customer.page.inner_text(".kept")
    assert ("and sent" in says) == works
    assert ("gets nothing from here: its link no longer works" in says) != works
    assert customer.page.locator('a[href="tel:5550142"]').count(), "who can help, either way"
    assert not any(done for _, done in desk.settled(secret)), "none that is due"


@pytest.mark.long
def test_a_photo_reaches_the_shop_and_its_reply_the_customers_front_page(
    chromium: Browser, desk: Desk, customer: Phone, tmp_path: Path
) -> None:
    arrive(customer, desk.job())
    hold(customer)
    open_job(customer)
    customer.tap("Start")
    customer.page.wait_for_selector(".asking")
    customer.tap_at(".camera")
    photo = {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": camera_file(scene(640, 480))}
    customer.page.set_input_files("#camera", photo)  # type: ignore[arg-type]
    customer.page.locator(".photo-dialog figure").wait_for()
    customer.tap("Done")
    customer.finish()
    customer.wait_stored("outbox", lambda items: not items)
    (record,), (taken,) = customer.stored("records"), customer.stored("photos")
    with phone(chromium, tmp_path / "shop", desk.address) as shop:
        sign_in_at(shop, desk.address)
        assert shop.page.request.get(f"{desk.address}/photos/{taken['id']}").ok
        shop.page.goto(f"{desk.address}/shop/checks/{record['id']}")
        shop.page.fill("[name=reply]", "Come by on Friday.")
        shop.page.get_by_role("button", name="Keep", exact=True).click()
        shop.page.get_by_text("The customer sees the reply").wait_for()
    assert not customer.page.request.get(f"{desk.address}/photos/{taken['id']}").ok
    customer.open()
    customer.page.reload()
    card = customer.page.get_by_text("Pell Street Garage has answered")
    card.wait_for()
    assert "Come by on Friday." in customer.page.inner_text("main")
    card.click()
    customer.wait_for(JOB_SHOWN)
    assert "Come by on Friday." in customer.page.inner_text(".reply")
    assert customer.page.locator(f".reply a[href='#/check/{record['id']}']").count() == 1
    customer.open()
    customer.settle()
    assert customer.page.get_by_text("has answered").count() == 0


# ---- what is due, and reminders, without a browser's screen ----------------------------------


def day(offset: int) -> str:
    return (datetime.now(UTC).date() + timedelta(days=offset)).isoformat()


@pytest.mark.parametrize(
    ("why", "given", "order"),
    [
        ("fewer miles come first", [(1, 80, None), (2, 32, None)], [2, 1]),
        ("the longest late comes first", [(1, None, -1), (2, None, -3)], [2, 1]),
        ("a late day is louder than miles", [(1, 32, None), (2, None, -2)], [2, 1]),
        ("miles are louder than a day to come", [(1, None, 1), (2, 32, None)], [2, 1]),
        ("an earlier day comes first", [(1, None, 30), (2, None, 2)], [2, 1]),
        ("what has neither comes last", [(1, None, None), (2, None, 2)], [2, 1]),
        ("a day is not late before it is over", [(1, None, 0), (2, 32, None)], [2, 1]),
    ],
)
def test_what_is_due_stands_loudest_first(
    scripts: Page, why: str, given: list[tuple[int, float | None, int | None]], order: list[int]
) -> None:
    listed = [
        {"id": n, "at_km": km, "by": None if by is None else day(by), "done": False}
        for n, km, by in given
    ]
    found = scripts.evaluate(
        "async (due) => (await import('/static/data/due.js')).dueOf({ due }).map((d) => d.id)",
        listed,
    )
    assert found == order, why


@pytest.mark.parametrize("zone", ["America/Denver", "Pacific/Auckland"])
def test_what_is_due_by_a_day_is_late_once_the_day_is_over_on_the_phone(
    chromium: Browser, zone: str
) -> None:
    page = engine_page(chromium, timezone_id=zone)
    found = page.evaluate(
        """async () => {
        const { isLate } = await import("/static/data/due.js");
        const now = Date.now;
        const at = (moment) => { Date.now = () => new Date(moment).getTime(); };
        const told = ["2026-12-10T00:00", "2026-12-10T23:00", "2026-12-11T00:01"].map((moment) => {
          at(moment);
          return ["2026-12-10T12:00:00+00:00", "2026-12-10"].map((by) => isLate({ by }));
        });
        Date.now = now;
        return told;
      }"""
    )
    page.close()
    assert found == [[False, False], [False, False], [True, True]]


def test_a_check_kept_on_the_phone_counts_as_done_before_the_shop_knows(scripts: Page) -> None:
    found = scripts.evaluate(
        "async (link) => (await import('/static/data/due.js')).dueOf(link)"
        ".map((d) => [d.id, d.done])",
        {"due": [{"id": 1, "at_km": 32}, {"id": 2, "at_km": 80}], "done": {"1": "a record"}},
    )
    assert found == [[2, False], [1, True]]


TELLING = """async (links) => (await import("/static/screens/link_reading.js"))
    .telling({ links }).map(({ id }) => id)"""
OPEN = {"record": "r1", "level": "stop"}
NINE, TEN = "2026-07-14T09:00:00-04:00", "2026-07-14T10:00:00-04:00"


# Beside a link that ended and told at ten of what its shop has not decided: what else is there.
@pytest.mark.parametrize(
    ("why", "ended", "other", "tells"),
    [
        ("nothing else", {}, {"trailer": {"id": "t2"}, "read": TEN}, True),
        ("one of its trailer, not read since", {}, {"read": NINE}, True),
        ("one of its trailer, read since", {}, {"read": TEN}, False),
        ("one of its trailer, never read", {}, {}, True),
        ("one of its trailer, ended too", {}, {"read": TEN, "dead": "Ended."}, True),
        ("the trailer is back", {"pressed": NINE, "back": TEN}, {}, False),
        ("the trailer was taken out again", {"pressed": TEN, "back": NINE}, {}, True),
        ("the shop has decided", {"open": None}, {}, False),
    ],
)
def test_an_ended_link_tells_a_stop_now_until_something_newer_is_known(
    scripts: Page, why: str, ended: dict[str, Any], other: dict[str, Any], tells: bool
) -> None:
    old = {"id": "old", "trailer": {"id": "t1"}, "read": TEN, "dead": "Ended.", "open": OPEN}
    links = [old | ended, {"id": "new", "trailer": {"id": "t1"}} | other]
    assert scripts.evaluate(TELLING, links) == (["old"] if tells else []), why


# RFC 5545: lines of 75 octets at most that end in CRLF (3.1), TEXT escaped (3.3.11), times in UTC
# (3.3.5), a display alarm with its three properties (3.6.6).
@pytest.mark.parametrize(
    "title",
    [
        "First stop: hubs",
        "Nuts, again; and \\ more",
        "two\nlines",
        "Über 20 Meilen – " * 9,
        "🛞" * 40,
    ],
)
def test_a_reminder_is_a_calendar_file_with_an_alarm(scripts: Page, title: str) -> None:
    text = scripts.evaluate(
        """async (title) => (await import("/static/parts/calendar.js")).calendarText({
          start: new Date("2026-11-27T09:00:00+01:00"), now: new Date("2026-11-25T00:00:00Z"),
          title, text: "after 20 mi", id: "a-1" })""",
        title,
    )
    assert text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "")
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))
    lines = text.replace("\r\n ", "").split("\r\n")
    values = dict(line.split(":", 1) for line in lines if ":" in line)
    escaped = title.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
    assert values["SUMMARY"] == escaped.replace("\n", "\\n")
    assert values["DTSTART"] == "20261127T080000Z"
    alarm = lines[lines.index("BEGIN:VALARM") : lines.index("END:VALARM")]
    assert {line.split(":")[0] for line in alarm} >= {"ACTION", "TRIGGER", "DESCRIPTION"}


@pytest.mark.long
def test_what_a_person_opened_and_typed_outlives_a_page_that_is_drawn_again(
    desk: Desk, customer: Phone
) -> None:
    arrive(customer, desk.job())
    customer.page.get_by_text("Remind me").first.click()
    when = customer.page.locator("details[open] input")
    when.fill("2027-05-01T08:00")
    before = when.element_handle()
    customer.page.evaluate("dispatchEvent(new Event('moved'))")
    assert not before.is_visible()  # it was drawn again
    assert when.input_value() == "2027-05-01T08:00"
    assert when.evaluate("box => box === document.activeElement")


@pytest.mark.long
def test_remind_me_downloads_the_file(desk: Desk, customer: Phone) -> None:
    arrive(customer, desk.job())
    customer.page.get_by_text("Remind me").first.click()
    with customer.page.expect_download() as download:
        customer.tap("Put it in the calendar")
    assert download.value.suggested_filename == "trailer-check.ics"
    text = Path(download.value.path()).read_text("utf-8")
    assert "Green boat trailer" in text.replace("\n ", "")
    (link,) = customer.stored("links")
    assert json.dumps(link["secret"])[1:-1] not in text


@pytest.mark.long
def test_a_bench_record_is_begun_from_the_trailers_page(desk: Desk, customer: Phone) -> None:
    arrive(customer, desk.job())
    customer.tap("Keep this trailer here")
    customer.tap("Bench record")
    customer.page.wait_for_selector(".asking")
    customer.settle()
    customer.answer()
    (draft,) = customer.stored("drafts")
    assert draft["check"] == "bench"
    assert draft["trailer"] == customer.stored("records")[0]["record"]["body"]["trailer"]  # type: ignore[index]
