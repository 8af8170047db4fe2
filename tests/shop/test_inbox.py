"""The inbox and the page of a check: worst first, what is overdue, and what the shop decides."""

from __future__ import annotations

import json
import re
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from html import unescape
from threading import Barrier
from typing import Any

import pytest
from flask import Flask
from sqlalchemy import select

from tests.support.effort import few
from tests.support.floor import DAY, NOW, OTHER_PHONE, Floor, add_due, let_in, run_stop, shop_floor
from tests.support.records import HEADERS, uuid7
from tests.support.shops import followed, read_link, ticked
from webapp.commands import mail
from webapp.follow_up import news
from webapp.follow_up.shelves import SHELVES
from webapp.shop.inbox import PAGE
from webapp.storage.models import mails

HOT = {"smoke__1L": "yes"}


def desk(floor: Floor) -> Any:
    """A browser in which somebody of the shop is signed in."""
    client = floor.app.test_client()
    floor.app.config["WTF_CSRF_ENABLED"] = False
    let_in(client, floor.app, floor.staff)
    return client


def read(floor: Floor, address: str = "/shop") -> str:
    answer = desk(floor).get(address)
    assert answer.status_code == 200, answer.text
    return unescape(answer.text)


def listed(page: str) -> list[str]:
    return re.findall(r"/shop/checks/([0-9a-f-]{36})", page)


def lend(floor: Floor, name: str, phone: str = "") -> None:
    """Lent by somebody who has looked at what was found: the refusal names it."""
    client, address = desk(floor), f"/shop/fleet/{floor.trailer}/out"
    form = {"name": name, "phone": phone}
    answer = followed(client, client.post(address, data=form))
    assert client.post(address, data=form | ticked(answer.text, "anyway")).status_code == 302


def came(floor: Floor, level: str, **more: Any) -> str:
    """Send a check that the phone judged so; its id."""
    one = run_stop(**more)
    one["body"]["verdict"] = {"level": level, "findings": []}
    assert floor.send(one).status_code == 200
    return str(one["id"])


# ---- order and shelves --------------------------------------------------------------------------


@pytest.mark.parametrize("order", [list(SHELVES), list(reversed(SHELVES))])
def test_checks_stand_worst_first_however_they_arrive(floor, order):
    sent = {level: came(floor, level) for level in order}
    # The server finds these nearly empty checks "not checked", so the phone's level decides.
    assert listed(read(floor)) == [sent[level] for level in SHELVES]


def test_of_one_level_the_last_to_arrive_stands_first(floor):
    first, second = came(floor, "look"), came(floor, "look")
    assert listed(read(floor)) == [second, first]


@pytest.mark.slow
def test_a_stop_now_leaves_the_top_only_when_somebody_writes_what_was_decided(floor):
    stop = came(floor, "nothing", **HOT)
    client = desk(floor)
    assert "Decide now" in read(floor)
    refused = client.post(f"/shop/checks/{stop}", data={"decided": "y"})
    assert refused.status_code == 303
    shown = client.get(refused.location)
    assert shown.status_code == 422
    assert "Write what was decided" in shown.text
    client.post(f"/shop/checks/{stop}", data={"text": "Called, no answer."})
    assert listed(read(floor)) == [stop]
    client.post(f"/shop/checks/{stop}", data={"text": "Towed in.", "decided": "y"})
    assert listed(read(floor)) == []
    assert listed(read(floor, "/shop/decided")) == [stop]


@pytest.mark.slow
def test_a_decided_check_can_be_put_back_on_its_shelf(floor):
    stop = came(floor, "nothing", **HOT)
    client = desk(floor)
    client.post(f"/shop/checks/{stop}", data={"text": "Towed in.", "decided": "y"})
    client.post(f"/shop/checks/{stop}/open")
    assert "Decide now" in read(floor)


@pytest.mark.slow
def test_every_stop_now_is_on_the_first_page_and_the_rest_comes_page_by_page(floor):
    stops = [came(floor, "stop") for _ in range(PAGE + 2)]
    # More in an hour than one link may bring.
    rest = [came(floor.another_link(), level) for level in ("mend", "unchecked") * PAGE]
    page, seen = read(floor), []
    assert listed(page)[: len(stops)] == list(reversed(stops))
    seen += listed(page)[len(stops) :]
    while found := re.search(r'href="(/shop\?after=[^"]+)"', page):
        page = read(floor, found[1])
        seen += listed(page)
    assert seen == list(reversed(rest[0::2])) + list(reversed(rest[1::2]))


@pytest.mark.parametrize(
    "after", ["", "9.1", "8.1", "1", "1.", "1.x", "-1.1", "1.1'--", "1." + "9" * 19]
)
def test_a_page_that_is_none_is_refused_in_words(floor, after):
    answer = desk(floor).get("/shop", query_string={"after": after})
    assert answer.status_code == 400
    assert "Start from the inbox" in answer.text


def test_a_check_sent_by_two_phones_stands_there_once(floor):
    one = run_stop()
    floor.send(one)
    floor.send(one, headers=OTHER_PHONE)
    assert listed(read(floor)) == [one["id"]]


def test_an_empty_inbox_says_what_will_come(floor):
    assert "Finish a job" in read(floor)


# ---- overdue, and opened but not done -----------------------------------------------------------

# The due check, whether its link was opened, and the heading it stands under.
DUE = {
    "by yesterday": ({"by": NOW - DAY}, True, "Overdue"),
    "by yesterday, link not opened": ({"by": NOW - DAY}, False, "Overdue"),
    "driven past": ({"by": None, "at_km": 30.0, "missed_km": 40.0}, False, "Overdue"),
    "by tomorrow and opened": ({"by": NOW + DAY}, True, "Opened, not done yet"),
    "without a day and opened": ({"by": None}, True, "Opened, not done yet"),
    "by tomorrow, not opened": ({"by": NOW + DAY}, False, None),
    "dropped": ({"by": NOW - DAY, "dropped": NOW}, True, None),
    "done": ({"by": NOW - DAY, "record_id": uuid7()}, True, None),
}


@pytest.mark.parametrize(("values", "opened", "heading"), DUE.values(), ids=DUE.keys())
def test_where_a_due_check_stands(floor, values, opened, heading):
    floor.change("due", floor.due, what="Feel the hubs", **values)
    floor.change("links", floor.link, opened=NOW - DAY if opened else None)
    page = read(floor)
    assert ("Feel the hubs" in page) == (heading is not None)
    if heading:
        before = page[: page.index("Feel the hubs")]
        assert re.findall(r"<h2>(.*?)</h2>", before)[-1] == heading
        assert ("Link not opened" in page) == (not opened)


def test_a_due_check_of_a_job_that_is_still_open_is_not_overdue(floor):
    floor.change("due", floor.due, by=NOW - DAY)
    floor.change("jobs", floor.job, finished=None)
    assert "Feel the hubs" not in read(floor)


def test_driving_past_a_due_check_makes_it_overdue_with_its_miles(floor):
    floor.change("due", floor.due, at_km=32.0)
    floor.send(run_stop(60, NOW - timedelta(hours=1)))
    assert "Driven 60 mi by now" in read(floor)


# ---- one check ----------------------------------------------------------------------------------


def verdict_of(app: Flask, one: Any) -> Any:
    body = one["body"]
    asked = {key: body[key] for key in ("check", "date", "facts")}
    return app.extensions["engine"].judge(asked)


def test_a_check_shows_findings_answers_working_and_proof(app, floor):
    answers = {"air": "65 degF", "hub_method": "hand", "hub_spot": "barrel"}
    one = run_stop(21, **answers, hub_feel__1L="hot", hub_feel__1R="cool", hot_smell__1L="yes")
    one["body"]["verdict"] = verdict_of(app, one)
    one["body"]["rulebook"] = one["body"]["verdict"]["rulebook"]
    floor.send(one)
    page = read(floor, f"/shop/checks/{one['id']}")
    for words in (
        "Hot or burnt smell at this wheel (left wheel)",
        "65 °F",
        "21 mi",
        "Hot, can keep my hand on",
    ):
        assert words in page
    assert "hub against its mate across the axle" in page
    assert one["body"]["rulebook"] in page
    assert floor.rows("records")[0]["hash"] in page
    assert "The phone said" not in page


# As a phone sends what was typed or picked, and what the shop reads.
TYPED = {
    "a range picked on the phone": ("60\u201380 degF", "60 to 80 °F"),
    "a range with a hyphen": ("60-80 degF", "60 to 80 °F"),
    "under the first edge": ("under 20 degF", "under 20 °F"),
    "from below zero": ("-10 to 0 degC", "-10 to 0 °C"),
    "a number": ("64 degF", "64 °F"),
    "a unit nobody has": ("60-80 degX", "60-80 degX"),
    "no unit": ("warm", "warm"),
}


@pytest.mark.parametrize("case", TYPED)
def test_a_unit_is_never_shown_by_its_name_in_the_rules(floor, case):
    typed, shown = TYPED[case]
    one = run_stop(air=["60 degF", "80 degF"])
    one["body"]["typed"] = {"air": typed}
    assert (sent := floor.send(one)).status_code == 200, sent.text
    page = read(floor, f"/shop/checks/{one['id']}")
    assert f"<dd>{shown}</dd>" in page


@pytest.mark.slow
@pytest.mark.parametrize(
    ("path", "home"), [("/shop/nothing", "/shop"), ("/shop/checks/7", "/shop"), ("/nothing", "/")]
)
def test_an_address_with_nothing_leads_home(floor, path, home):
    answer = desk(floor).get(path, headers={"Accept": "text/html"})
    assert answer.status_code == 404
    assert re.findall(r'class="answer" href="([^"]*)"', answer.text) == [home]


def test_both_verdicts_are_shown_where_phone_and_server_differ(floor):
    stop = came(floor, "look", **HOT)
    page = read(floor, f"/shop/checks/{stop}")
    phone, server = page.index("The phone said"), page.index("The server says")
    assert "Look again" in page[phone:server]
    assert "Stop now" in page[server:]
    assert "Smoke at this wheel" in page[page.index("What the server finds") :]


VERDICTS = [
    {},
    {"level": ["stop"], "findings": {}},
    {"level": "look", "findings": [1, None, {}, {"finding": 3, "place": "", "level": "stop"}]},
    {"level": "look", "findings": [{"finding": "x", "place": "../..", "level": "stop"}]},
    {"level": "look", "findings": [{"finding": "no_such_rule", "place": "1L", "level": "mend"}]},
    {"level": "look", "readiness": ["<b>", 2], "coverage": {"answered": "<i>", "asked": None}},
    {"level": "look", "cannot_tell": "<script>alert(1)</script>"},
]


@pytest.mark.slow
@pytest.mark.parametrize("verdict", few(VERDICTS, 2))
def test_a_verdict_that_is_not_as_expected_breaks_no_page(floor, verdict):
    one = run_stop()
    one["body"]["verdict"] = verdict
    floor.send(one)
    for address in ("/shop", f"/shop/checks/{one['id']}"):
        text = desk(floor).get(address).text
        assert one["id"] in text
        assert "<script>" not in text
        assert "<i>" not in text
    assert desk(floor).get(f"/shop/checks/{one['id']}.pdf").status_code == 200


@pytest.mark.slow
@pytest.mark.parametrize(
    "verdict",
    [
        *VERDICTS,
        {"level": "stop", "findings": [{"finding": ["x"], "place": "1L", "level": "stop"}]},
        {"level": "stop", "findings": [{"finding": "x", "place": None, "level": "stop"}]},
        {"level": "stop", "findings": "all"},
    ],
)
def test_a_verdict_that_is_not_as_expected_hides_no_stop_now(floor, verdict):
    """From the customer's link, or from the alert, whatever else the phone sent."""
    one = run_stop(smoke__1L="yes")
    one["body"]["verdict"] = verdict
    assert floor.send(one).status_code == 200
    answer = floor.app.test_client().post(
        "/api/links/read", json={"secret": floor.secret}, headers=OTHER_PHONE
    )
    seen = {"finding": "has_smoke", "place": "1L"}
    assert seen in answer.json["open"]["findings"]
    with floor.app.app_context(), floor.app.extensions["store"].reading() as connection:
        waiting = connection.execute(select(mails)).first()
        told = mail.written(connection, waiting, floor.app.config)
    assert "Smoke at this wheel (Left wheel)" in told.get_content()


@pytest.mark.slow
def test_what_people_write_is_shown_as_text(floor):
    nasty = "<script>alert(1)</script>"
    floor.change("trailers", floor.trailer, name=nasty)
    stop = came(floor, "stop")
    desk(floor).post(f"/shop/checks/{stop}", data={"text": nasty, "reply": nasty})
    for address in ("/shop", f"/shop/checks/{stop}", f"/shop/trailers/{floor.trailer}/file"):
        assert "<script>" not in desk(floor).get(address).text


def test_the_customer_reads_the_reply_at_the_next_opening_and_never_the_note(floor):
    stop = came(floor, "stop")
    sent = {
        "text": "He never greases it.",
        "reply": "Do not drive on. We fetch it.",
        "decided": "y",
    }
    desk(floor).post(f"/shop/checks/{stop}", data=sent)
    answer = floor.app.test_client().post(
        "/api/links/read",
        json={"secret": floor.secret},
        headers={"X-Twentymile-Device": "0" * 32},
    )
    (reply,) = answer.json["replies"]
    assert reply["record"] == stop
    assert reply["text"] == "Do not drive on. We fetch it."
    assert reply["decided"] is True
    assert "greases" not in answer.text


NOTES = {
    "nothing": ({}, 422),
    "spaces": ({"text": "  ", "reply": "\n"}, 422),
    "a note": ({"text": "x"}, 302),
    "a reply": ({"reply": "x"}, 302),
    "2000 characters": ({"text": "x" * 2000}, 302),
    "2001 characters": ({"text": "x" * 2001}, 422),
}


@pytest.mark.slow
@pytest.mark.parametrize(("data", "status"), NOTES.values(), ids=NOTES.keys())
def test_which_notes_are_taken(floor, data, status):
    stop = came(floor, "stop")
    client = desk(floor)
    answer = client.post(f"/shop/checks/{stop}", data=data)
    if status == 422:  # the refusal stands at an address of its own
        assert answer.status_code == 303
        answer = client.get(answer.location)
    assert answer.status_code == status
    assert len(floor.rows("notes")) == (status == 302)


@pytest.mark.slow
def test_the_same_reply_sent_by_two_windows_at_once_is_kept_once(floor):
    stop = came(floor, "stop")
    windows, ready = [desk(floor) for _ in range(4)], Barrier(4)

    def send(window: Any) -> int:
        ready.wait()
        said = {"reply": "Do not move it. We come.", "decided": "y"}
        return int(window.post(f"/shop/checks/{stop}", data=said).status_code)

    with ThreadPoolExecutor(4) as pool:
        assert list(pool.map(send, windows)) == [302] * 4
    assert len(floor.rows("notes")) == 1
    assert [one["did"] for one in floor.rows("audit")] == ["decided"]


def test_the_form_needs_its_token(floor):
    stop, client = came(floor, "stop"), desk(floor)
    floor.app.config["WTF_CSRF_ENABLED"] = True
    answer = client.post(f"/shop/checks/{stop}", data={"text": "x", "decided": "y"})
    assert answer.status_code == 400
    assert floor.rows("notes") == []


def addresses(floor: Floor, record: str) -> list[tuple[str, str]]:
    return [
        ("get", f"/shop/checks/{record}"),
        ("post", f"/shop/checks/{record}"),
        ("post", f"/shop/checks/{record}/open"),
        ("get", f"/shop/checks/{record}.pdf"),
        ("get", f"/shop/trailers/{floor.trailer}/file"),
        ("get", f"/shop/customers/{floor.customer}/delete"),
        ("post", f"/shop/customers/{floor.customer}/delete"),
    ]


@pytest.mark.parametrize("number", range(7))
def test_another_shop_finds_nothing_at_the_addresses_of_this_one(app, floor, number):
    record = came(floor, "stop")
    method, address = addresses(floor, record)[number]
    other = desk(shop_floor(app, "Other Shop"))
    assert getattr(other, method)(address, data={"text": "x"}).status_code == 404
    assert floor.rows("notes") == []
    assert len(floor.rows("customers", id=floor.customer)) == 1


def test_another_shop_sees_none_of_it_in_its_inbox(app, floor):
    came(floor, "stop")
    other = read(shop_floor(app, "Other Shop"))
    assert listed(other) == []
    assert "Alder Fork 1" not in other.split("Came back")[1]


@pytest.mark.slow
@pytest.mark.parametrize("method", ["get", "head"])
def test_reading_pages_changes_nothing(app, floor, method):
    record, client = came(floor, "stop"), desk(floor)
    before = dump(app)
    pages = [a for m, a in addresses(floor, record) if m == "get"]
    for address in ["/shop", "/shop/decided", "/shop/files", "/shop/files/checks.csv", *pages]:
        assert getattr(client, method)(address).status_code == 200, address
    assert dump(app) == before


def dump(app: Flask) -> str:
    from webapp.storage.models import metadata

    with app.extensions["store"].reading() as connection:
        tables = {
            name: [list(map(str, row)) for row in connection.execute(table.select())]
            for name, table in metadata.tables.items()
        }
    return json.dumps(tables, sort_keys=True)


# ---- the trailer's file -------------------------------------------------------------------------


def test_the_file_shows_every_check_newest_first_and_a_plot_for_each_wheel_felt(floor):
    felt = {"air": "65 degF", "hub_method": "hand", "hub_spot": "barrel"}
    sent = [
        run_stop(20, NOW - n * 200 * DAY, **felt, hub_feel__1L="hot", hub_feel__1R="cool")
        for n in range(4)
    ]
    for one in sent:
        floor.send(one)
    page = read(floor, f"/shop/trailers/{floor.trailer}/file")
    assert list(dict.fromkeys(listed(page))) == [one["id"] for one in sent]
    assert page.count('<svg class="plot"') == 4  # of each side its warmth, and its drag
    assert page.count('class="bar rough"') == 16
    assert "4 readings, the last" in page


def test_a_file_without_readings_has_no_plot(floor):
    floor.send(run_stop(20))
    assert '<svg class="plot"' not in read(floor, f"/shop/trailers/{floor.trailer}/file")


def test_what_is_overdue_beyond_the_page_is_told_and_in_reach(floor, monkeypatch):
    monkeypatch.setattr("webapp.shop.inbox.SHOWN", 3)
    for _ in range(4):
        add_due(floor.app, floor.shop, floor.trailer, floor.job, by=NOW - DAY)
    page = read(floor)
    assert page.count("Feel the hubs<") == 3
    assert "<strong>3+</strong>" in page
    assert "/shop/trailers?show=overdue" in page


def test_the_tray_holds_all_that_came_and_the_worst_first(floor, monkeypatch):
    monkeypatch.setattr("webapp.shop.inbox.SHOWN", 2)
    floor.change("links", floor.link, revoked=NOW)
    sent = [run_stop(**HOT)] + [run_stop() for _ in range(4)]
    for one in sent:
        assert floor.send(one).status_code == 200
    found = listed(read(floor))
    assert found[0] == sent[0]["id"]
    assert set(found) == {one["id"] for one in sent}


# A day is kept as its noon in UTC, and is over at its end where the shop is: the shop's zone, the
# moment, and whether what was due by Dec 10 is late by then.
DAYS = {
    "in Denver at noon of the day": ("America/Denver", "2026-12-10T19:00Z", False),
    "in Denver an hour before its end": ("America/Denver", "2026-12-11T06:00Z", False),
    "in Denver after its end": ("America/Denver", "2026-12-11T07:00Z", True),
    "in Auckland an hour before its end": ("Pacific/Auckland", "2026-12-10T10:00Z", False),
    "in Auckland after its end": ("Pacific/Auckland", "2026-12-10T11:00Z", True),
    "in Honolulu before its end": ("Pacific/Honolulu", "2026-12-11T09:59Z", False),
}


@pytest.mark.parametrize(("zone", "moment", "late"), DAYS.values(), ids=DAYS.keys())
def test_what_is_due_by_a_day_is_overdue_once_the_day_is_over(
    floor, monkeypatch, zone, moment, late
):
    floor.change("due", floor.due, by=datetime(2026, 12, 10, 12, tzinfo=UTC), at_km=None)
    floor.change("shops", floor.shop, zone=zone)
    floor.change("links", floor.link, opened=NOW)
    monkeypatch.setattr("webapp.clock.now", lambda: datetime.fromisoformat(moment))
    page = read(floor)
    assert "by Dec 10, 2026" in page
    assert ("<h2>Overdue</h2>" in page) == late
    listed_late = read(floor, "/shop/trailers?show=overdue")
    assert ("Alder Fork 1" in listed_late) == late
    with floor.app.extensions["store"].reading() as connection:
        assert len(news.overdue(connection, floor.shop)) == late


# ---- a phone whose clock is off -----------------------------------------------------------------

OFF = {"3 h ahead": timedelta(hours=3), "3 h behind": timedelta(hours=-3)}
MADE = datetime(2026, 3, 4, 17, 30, tzinfo=UTC)


@pytest.mark.parametrize("off", OFF)
def test_a_check_of_a_phone_whose_clock_is_off_has_one_hour_everywhere(floor, monkeypatch, off):
    floor.change("shops", floor.shop, zone="America/Denver")
    one, clock = run_stop(made=MADE + OFF[off], **HOT), MADE + OFF[off] + timedelta(minutes=1)
    monkeypatch.setattr("webapp.api.records.now", lambda: MADE + timedelta(minutes=1))
    headers = HEADERS | {"X-Twentymile-Clock": clock.isoformat()}
    assert floor.send(one, headers=headers).status_code == 200
    monkeypatch.undo()
    pages = ("/shop", f"/shop/checks/{one['id']}", f"/shop/jobs/{floor.job}")
    for address in (*pages, f"/shop/trailers/{floor.trailer}/file"):
        assert "10:30" in read(floor, address), address
    assert "2026-03-04T10:30:00-07:00" in read(floor, "/shop/files/checks.csv")
    told = read_link(floor.app.test_client(), floor.secret).json["open"]
    assert datetime.fromisoformat(told["made"]) == MADE


OF_ONE_CHECK = {
    "one wheel": ({"smoke__1L": "yes"}, ""),
    "two wheels": ({"smoke__1L": "yes", "smoke__1R": "yes"}, ", and 1 more"),
}


@pytest.mark.parametrize("case", OF_ONE_CHECK)
def test_a_line_names_the_worst_finding_and_counts_those_as_bad(floor: Floor, case: str) -> None:
    facts, more = OF_ONE_CHECK[case]
    assert floor.send(run_stop(**facts)).status_code == 200
    line = read(floor).partition('<section class="stops">')[2].partition("</section>")[0]
    assert re.findall(r"wheel: Smoke at this wheel([^<]*)", line) == [more]
