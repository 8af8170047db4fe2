"""A *Stop now* through every way it can arrive: it stands everywhere until somebody decides it."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from email.utils import parsedate_to_datetime
from html import unescape
from types import SimpleNamespace
from typing import Any
from urllib.parse import unquote

import pytest
from flask import Flask

from tests.shop.test_inbox import HOT, came, desk, listed, read
from tests.support.floor import DAY, NOW, OTHER_PHONE, Floor, add, run_stop, sorted_floor
from tests.support.records import HEADERS
from tests.support.shops import JOB, fields_of, followed, read_link, ticked
from webapp.api import records as records_api
from webapp.commands import mail
from webapp.shop.print import check as check_print

MINUTE = timedelta(minutes=1)


@pytest.fixture
def floor(app: Flask) -> Floor:
    return sorted_floor(app)


def sent(link: Floor, one: dict[str, Any], **more: Any) -> str:
    answer = link.send(one, **more)
    assert answer.status_code == 200, answer.text
    return str(one["id"])


def by_customer(floor: Floor) -> str:
    return sent(floor, run_stop(**HOT))


def for_what_is_due(floor: Floor) -> str:
    return sent(floor, run_stop(**HOT), due=floor.due)


def at_the_desk(floor: Floor) -> str:
    standing = floor.another_link(kind="standing", job_id=None, customer_id=None)
    return sent(standing, run_stop(**HOT))


def from_a_second_phone(floor: Floor) -> str:
    one = run_stop(**HOT)
    sent(floor, one)
    return sent(floor, one, headers=OTHER_PHONE)


def doubled(floor: Floor) -> str:
    one = run_stop(**HOT)
    sent(floor, one)
    return sent(floor, one)


def out_of_order(floor: Floor) -> str:
    """The clean check was made later and arrives first."""
    sent(floor, run_stop(made=NOW))
    return sent(floor, run_stop(made=NOW - 60 * MINUTE, **HOT))


def late(floor: Floor) -> str:
    ended = floor.another_link(expires=NOW - DAY, opened=NOW - 9 * DAY)
    return sent(ended, run_stop(made=NOW - 2 * DAY, **HOT))


def after_renewal(floor: Floor) -> str:
    floor.change("links", floor.link, replaced=NOW - MINUTE)
    return sent(floor, run_stop(made=NOW - DAY, **HOT))


def at_the_bench(floor: Floor) -> str:
    """Found on the bench, and handed over all the same."""
    answer = desk(floor).post(
        "/shop/jobs/new", data=JOB | BENCH_STOP | {"trailer": floor.trailer, "customer_name": ""}
    )
    assert answer.status_code == 302, answer.text
    (job,) = [row for row in floor.rows("jobs") if row["id"] != floor.job]
    return str(job["record_id"])


def after_a_reply(floor: Floor) -> str:
    """Somebody has answered the customer; nobody has decided."""
    record = by_customer(floor)
    desk(floor).post(f"/shop/checks/{record}", data={"reply": "Do not move it. We come."})
    return record


def opened_again(floor: Floor) -> str:
    """One of two at the desk decided it, the other took that back."""
    record = by_customer(floor)
    desk(floor).post(f"/shop/checks/{record}", data={"text": "Fine.", "decided": "y"})
    desk(floor).post(f"/shop/checks/{record}/open")
    return record


def while_another_job_is_finished(floor: Floor) -> str:
    """It comes in while somebody else at the shop finishes a job without a finding."""
    record = by_customer(floor)
    clean = {"trailer": floor.trailer, "finish": "1", "fact:axles": "1", "fact:brakes": "none"}
    assert desk(floor).post("/shop/jobs/new", data=clean).status_code == 302
    return record


def said_by_the_phone_alone(floor: Floor) -> str:
    """Its rules were other ones, and the server's own find nothing."""
    return came(floor, "stop")


def first_without_its_link(floor: Floor) -> str:
    one = run_stop(**HOT)
    assert floor.send(one, link=None).status_code == 200
    return sent(floor, one)


def renewed_while_it_was_sent(floor: Floor) -> str:
    """Its link was read, then somebody made a new one, then it was stored."""
    link_read = records_api.shown_to_shop

    def renewed_then(*given: Any) -> Any:
        then = link_read(*given)
        floor.change("links", floor.link, replaced=datetime.now(UTC))
        return then

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(records_api, "shown_to_shop", renewed_then)
        return by_customer(floor)


YEARS = 10 * 365 * DAY


def by_a_clock(ahead: timedelta, told: bool) -> Callable[[Floor], str]:
    """From a phone whose clock is off; older ones do not say what it shows."""

    def way(floor: Floor) -> str:
        shows = datetime.now(UTC) + ahead
        clock = {"X-Twentymile-Clock": shows.isoformat()} if told else {}
        return sent(floor, run_stop(made=shows, **HOT), headers=HEADERS | clock)

    return way


def on_the_bench_found_later(floor: Floor) -> str:
    """The job was finished without a finding, and corrected since."""
    clean = {"trailer": str(floor.trailer), "finish": "1"} | ONE_AXLE
    assert desk(floor).post("/shop/jobs/new", data=clean).status_code == 302
    return corrected(floor, BENCH_STOP)


def on_the_bench_and_corrected_since(floor: Floor) -> str:
    """Somebody wrote another bench record in its place; nobody has decided it."""
    record = at_the_bench(floor)
    assert corrected(floor, {"all:pin_done": "new"}) != record
    return record


def corrected(floor: Floor, form: dict[str, str]) -> str:
    """The record of the last job as it stands after its correction."""
    last = max(floor.rows("jobs"), key=lambda row: row["id"])
    address, client = f"/shop/jobs/{last['id']}/edit", desk(floor)
    answer = client.post(address, data=fields_of(client.get(address).text) | form)
    assert answer.status_code == 302, answer.text
    (job,) = floor.rows("jobs", id=last["id"])
    return str(job["record_id"])


def decided_by_two_and_opened_by_one(floor: Floor) -> str:
    """Both had the page before them when the first decided."""
    record = by_customer(floor)
    for text in ("Fine.", "Looked at it, fine."):
        desk(floor).post(f"/shop/checks/{record}", data={"text": text, "decided": "y"})
    desk(floor).post(f"/shop/checks/{record}/open")
    return record


def answered_after_it_was_opened_again(floor: Floor) -> str:
    """Who only answers, from a page that still said decided, decides nothing."""
    record = opened_again(floor)
    desk(floor).post(f"/shop/checks/{record}", data={"reply": "All good."})
    return record


def on_a_link_given_again(floor: Floor) -> str:
    client, link = desk(floor), f"/shop/links/{floor.link}/revoke"
    assert client.post(link).status_code == 302
    assert client.post(f"/shop/links/{floor.link}/unrevoke").status_code == 302
    return by_customer(floor)


def with_its_due_check_dropped_since(floor: Floor) -> str:
    record = for_what_is_due(floor)
    desk(floor).post(f"/shop/due/{floor.due}/drop")
    return record


def after_its_customer_was_merged(floor: Floor) -> str:
    other = add(floor.app, "customers", shop_id=floor.shop, name="A. Fork", phone="", email="")
    record = by_customer(floor)
    desk(floor).post(f"/shop/customers/{other}/merge", data={"into": str(floor.customer)})
    return record


def before_it_was_known_that_they_had_it_back(floor: Floor) -> str:
    """Lent by the desk, found on the road, and brought back."""
    desk(floor).post(f"/shop/fleet/{floor.trailer}/out", data={"name": "Bo Quist"})
    record = at_the_desk(floor)
    desk(floor).post(f"/shop/fleet/{floor.trailer}/back")
    return record


def after_its_due_check_was_dropped(floor: Floor) -> str:
    floor.change("due", floor.due, dropped=NOW - MINUTE)
    return for_what_is_due(floor)


ONE_AXLE = {"fact:axles": "1", "fact:brakes": "none"}
BENCH_STOP = {"finish": "1", "anyway": "1", "all:pin_done": "none"}

WAYS: dict[str, Callable[[Floor], str]] = {
    "on a customer's link": by_customer,
    "for a due check": for_what_is_due,
    "on the desk's code": at_the_desk,
    "from the owner's second phone too": from_a_second_phone,
    "sent twice": doubled,
    "late, on a link that has ended": late,
    "on a link that was renewed meanwhile": after_renewal,
    "on the bench, and handed over": at_the_bench,
    "answered, not decided": after_a_reply,
    "sent without its link first": first_without_its_link,
}
RARE: dict[str, Callable[[Floor], str]] = {
    "after a check that was made later": out_of_order,
    "decided by one at the desk, opened again by another": opened_again,
    "while another at the desk finishes a clean job": while_another_job_is_finished,
    "said by the phone, not by the server": said_by_the_phone_alone,
    "for a due check that the desk had dropped": after_its_due_check_was_dropped,
    "for a due check that the desk dropped since": with_its_due_check_dropped_since,
    "on a link that was renewed while it was sent": renewed_while_it_was_sent,
    "on a link taken back and given again": on_a_link_given_again,
    "from a phone ten years behind, that says so": by_a_clock(-YEARS, told=True),
    "from a phone ten years behind": by_a_clock(-YEARS, told=False),
    "from a phone ten years ahead, that says so": by_a_clock(YEARS, told=True),
    "from a phone ten years ahead": by_a_clock(YEARS, told=False),
    "on the bench of a job that is corrected": on_the_bench_found_later,
    "on the bench, and the job was corrected since": on_the_bench_and_corrected_since,
    "decided by two at once, opened again by one": decided_by_two_and_opened_by_one,
    "opened again, then only answered": answered_after_it_was_opened_again,
    "of a customer who was in the list twice": after_its_customer_was_merged,
    "while it was lent, back since": before_it_was_known_that_they_had_it_back,
}


ROWS = [pytest.param(way, id=name) for name, way in WAYS.items()]
ROWS += [pytest.param(way, id=name, marks=pytest.mark.long) for name, way in RARE.items()]


def shown(floor: Floor, words: str = "Stop now", level: str = "stop") -> dict[str, bool]:
    """Where the trailer says so, by place."""
    fresh = floor.another_link()
    pages = {
        "inbox": "/shop",
        "trailer page": f"/shop/trailers/{floor.trailer}",
        "list of trailers": "/shop/trailers",
        "desk sheet": f"/shop/trailers/{floor.trailer}/standing",
        "list of jobs": "/shop/jobs",
        "a job": f"/shop/jobs/{floor.job}",
        "sheet to hand over": f"/shop/jobs/{floor.job}/sheet",
        "form of a new job": f"/shop/jobs/new?trailer={floor.trailer}",
        "customer": f"/shop/customers/{floor.customer}",
        "what is found": "/shop/find?q=alder",
        "lending desk": "/shop/fleet",
        "who is asked back": "/shop/recall",
        "table of those asked back": "/shop/recall/repack.csv",
        "table of trailers": "/shop/files/trailers.csv",
    }
    code = floor.another_link(kind="standing", job_id=None, customer_id=None)
    found = {place: words in head(read(floor, at)) for place, at in pages.items()}
    for place, secret in (("link", fresh.secret), ("code of the desk", code.secret)):
        told = read_link(floor.app.test_client(), secret).json["open"]
        found[place] = told is not None and told["level"] == level
    return found | {"text": "is not cleared to be towed" in text_of_a_new_link(floor)}


def text_of_a_new_link(floor: Floor) -> str:
    """The words that go to the customer with a link made now."""
    client = desk(floor)
    client.post(f"/shop/jobs/{floor.job}/link")
    page = unescape(client.get(f"/shop/jobs/{floor.job}").text)
    return page.partition("<textarea")[2].partition(">")[2].partition("</textarea>")[0]


def head(page: str) -> str:
    """The page down to the list of all checks, which keeps each as it was."""
    return unescape(page).partition("<h2>Checks</h2>")[0]


def test_a_text_with_a_link_is_sent_as_it_is_shown(floor: Floor) -> None:
    floor.change("trailers", floor.trailer, name="Bo's & Ada's")
    text = text_of_a_new_link(floor)
    (sent,) = re.findall(
        r"sms:\d*\?&amp;body=([^\"]*)", desk(floor).get(f"/shop/jobs/{floor.job}").text
    )
    assert "Bo's & Ada's" in text
    assert unquote(sent) == text


ASKED_BACK = ("who is asked back", "table of those asked back")
PLACES = (
    *("inbox", "trailer page", "list of trailers", "desk sheet", "what is found", "lending desk"),
    *("list of jobs", "a job", "sheet to hand over", "form of a new job", "customer"),
    *(*ASKED_BACK, "table of trailers", "link", "code of the desk", "text"),
)


PACKED_THERE = (at_the_bench, on_the_bench_and_corrected_since)
AT_THE_BENCH = (*PACKED_THERE, on_the_bench_found_later)


@pytest.mark.slow
@pytest.mark.parametrize("way", ROWS)
def test_a_stop_now_stands_everywhere_until_it_is_decided(floor: Floor, way: Any) -> None:
    record = way(floor)
    # Its bearings were packed on that bench: it is asked back by nobody.
    silent = ASKED_BACK if way in PACKED_THERE else ()
    everywhere = dict.fromkeys(PLACES, True) | dict.fromkeys(silent, False)
    assert shown(floor) == everywhere
    # A newer one without a finding repaints nothing.
    sent(floor, run_stop(made=datetime.now(UTC) + MINUTE))
    assert shown(floor) == everywhere
    # What the shop found itself it need not be told.
    assert len(floor.rows("mails")) == (0 if way in AT_THE_BENCH else 1)
    desk(floor).post(f"/shop/checks/{record}", data={"text": "Towed in.", "decided": "y"})
    assert shown(floor) == dict.fromkeys(PLACES, False)


NAMED = (
    *("/shop", "/shop/fleet", "/shop/trailers/{0.trailer}", "/shop/trailers/{0.trailer}/standing"),
    *("/shop/jobs/{0.job}", "/shop/jobs/{0.job}/sheet"),
)


@pytest.mark.parametrize("address", NAMED)
def test_which_wheel_and_what_stand_beside_the_sign(floor: Floor, address: str) -> None:
    by_customer(floor)
    floor.another_link(kind="standing", job_id=None, customer_id=None)
    assert "Left wheel: Smoke at this wheel" in head(read(floor, address.format(floor)))


def test_the_sheet_under_one_does_not_send_the_customer_off(floor: Floor) -> None:
    address = f"/shop/jobs/{floor.job}/sheet"
    desk(floor).post(f"/shop/jobs/{floor.job}/link")
    assert "before you drive off" in read(floor, address)
    by_customer(floor)
    assert "before you drive off" not in read(floor, address)


ENDS = {
    "/shop/jobs/{0.job}": "A new link ends",
    "/shop/trailers/{0.trailer}/standing": "A new code",
}


@pytest.mark.parametrize("address", ENDS)
def test_before_a_new_one_is_made_it_is_said_that_the_old_one_ends(
    floor: Floor, address: str
) -> None:
    floor.another_link(kind="standing", job_id=None, customer_id=None)
    assert ENDS[address] in read(floor, address.format(floor))


def test_a_stop_now_stays_in_the_lists_as_decided_until_the_next_check(floor: Floor) -> None:
    record = by_customer(floor)
    client = desk(floor)
    for text, tick, told in (("Come by.", "", True), ("Fetch it today.", "y", False)):
        form = {"text": text, "decided": tick} if tick else {"text": text}
        page = client.post(f"/shop/checks/{record}", data=form, follow_redirects=True).text
        assert ("It is not decided yet" in page) == told
    listing = "/shop/trailers"
    assert "Stop now" in read(floor, listing)
    assert ">decided<" in read(floor, listing)
    sent(floor, run_stop(made=datetime.now(UTC) + MINUTE))
    assert "Stop now" not in head(read(floor, listing))


@pytest.mark.parametrize("tick", ["none", "before another came in", "of all there are"])
def test_an_undecided_trailer_goes_out_only_when_somebody_says_so(floor: Floor, tick: str) -> None:
    """A tick is for what stood on the page; who was typed stays in the form."""
    at_the_desk(floor)
    client, address = desk(floor), f"/shop/fleet/{floor.trailer}/out"
    looked = {} if tick == "none" else ticked(read(floor, "/shop/fleet"), "anyway")
    if tick == "before another came in":
        at_the_desk(floor)
    who = {"name": "Bo Quist", "phone": "555 0142"}
    answer = followed(client, client.post(address, data=who | looked))
    goes = tick == "of all there are"
    assert (answer.status_code, len(floor.rows("outings"))) == ((302, 1) if goes else (422, 0))
    if not goes:
        assert "is not decided. Do not lend it" in answer.text
        form = {name: fields_of(answer.text)[name] for name in who}
        assert form == who
        assert client.post(address, data=form | ticked(answer.text, "anyway")).status_code == 302
        assert "Out since" in read(floor, "/shop/fleet")


@pytest.mark.slow
def test_a_stop_that_was_made_long_ago_stays_before_a_newer_check(floor: Floor) -> None:
    sent(floor, run_stop(made=datetime.now(UTC) - 365 * DAY, **HOT))
    sent(floor, run_stop(made=datetime.now(UTC)))
    assert shown(floor) == dict.fromkeys(PLACES, True)


def test_the_mail_says_what_was_found_where_and_when(floor: Floor) -> None:
    record = by_customer(floor)
    (waiting,) = floor.rows("mails")
    config = {"MAIL_FROM": "", "ADDRESS": "https://pell.example"}
    with floor.app.app_context(), floor.app.extensions["store"].reading() as connection:
        message = mail.written(connection, SimpleNamespace(**waiting), config)
    assert message is not None
    text = message.get_content()
    assert "Smoke at this wheel (Left wheel)" in text
    assert record in text
    assert "Alder Fork Tool Library" not in text
    age = datetime.now(UTC) - parsedate_to_datetime(message["Date"])
    assert timedelta(0) <= age < MINUTE


@pytest.mark.slow
def test_what_comes_on_a_link_taken_back_waits_in_a_tray_and_paints_no_trailer(
    floor: Floor,
) -> None:
    floor.change("links", floor.link, revoked=NOW - MINUTE)
    record = sent(floor, run_stop(made=NOW - DAY, **HOT), due=floor.due)
    page = read(floor)
    assert "Came on a link taken back" in page
    assert listed(page) == [record]
    assert floor.rows("due")[0]["record_id"] is None
    assert shown(floor) == dict.fromkeys(PLACES, False) | {"inbox": True}
    assert len(floor.rows("mails")) == 1
    desk(floor).post(f"/shop/checks/{record}", data={"text": "Not ours.", "decided": "y"})
    assert listed(read(floor)) == []


@pytest.mark.slow
@pytest.mark.parametrize("way", ROWS)
def test_the_check_itself_says_stop_now_on_page_and_paper_before_and_after_it_is_decided(
    floor: Floor, way: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was found is not undone by what was done about it."""
    drawn: list[str] = []
    told = check_print.Document.told
    monkeypatch.setattr(
        check_print.Document, "told", lambda sheet, text: drawn.append(text) or told(sheet, text)
    )
    record = way(floor)
    for _ in ("undecided", "decided"):
        drawn.clear()
        assert desk(floor).get(f"/shop/checks/{record}.pdf").status_code == 200
        assert [one for one in drawn if one.endswith("Stop now")]
        assert "Stop now" in read(floor, f"/shop/checks/{record}")
        desk(floor).post(f"/shop/checks/{record}", data={"text": "Towed in.", "decided": "y"})


@pytest.mark.long
def test_a_stop_now_after_a_job_counts_as_come_back_decided_or_not(floor: Floor) -> None:
    floor.change("jobs", floor.job, finished=NOW - DAY, work=["bearings"])
    record = by_customer(floor)
    assert "1 check found Stop now" in unescape(read(floor, "/shop/comebacks"))
    desk(floor).post(f"/shop/checks/{record}", data={"text": "Towed in.", "decided": "y"})
    assert "1 check found Stop now" in unescape(read(floor, "/shop/comebacks"))
