"""A *Stop now* while rows are merged, forgotten, moved and decided from pages that are old."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from html import unescape
from typing import Any

import pytest
from flask import Flask

from tests.shop.test_inbox import HOT, came, desk, lend, listed, read
from tests.shop.test_stop_now import (
    MINUTE,
    WAYS,
    at_the_bench,
    at_the_desk,
    by_customer,
    sent,
    shown,
)
from tests.support.floor import NOW, OTHER_PHONE, Floor, add, run_stop, sorted_floor
from tests.support.records import error_of, uuid7
from tests.support.shops import fields_of, followed, read_link, ticked
from webapp import create_app
from webapp.api import records as records_api
from webapp.shop import forget
from webapp.storage import whole


@pytest.fixture
def floor(app: Flask) -> Floor:
    return sorted_floor(app)


def another_trailer(floor: Floor, name: str = "Alder Fork One") -> int:
    """The same trailer, written into the list a second time."""
    return add(
        floor.app, "trailers", shop_id=floor.shop, name=name, facts={"axles": 1}, record_id=uuid7()
    )


def merge(floor: Floor, gone: int, into: int) -> None:
    answer = desk(floor).post(f"/shop/trailers/{gone}/merge", data={"into": str(into)})
    assert answer.status_code == 302, answer.text


def part(floor: Floor, gone: int) -> None:
    assert desk(floor).post(f"/shop/trailers/{gone}/part").status_code == 302


def stands(floor: Floor, trailer: int) -> bool:
    """Whether *Stop now* stands in the list of trailers at this one."""
    line = read(floor, "/shop/trailers").partition(f'href="/shop/trailers/{trailer}"')[2]
    return "Stop now" in line.partition("</li>")[0]


def opened(floor: Floor) -> str | None:
    """What the page of the floor's link says nobody has decided."""
    told = read_link(floor.app.test_client(), floor.secret).json["open"]
    return None if told is None else str(told["level"])


# ---- one trailer of two -------------------------------------------------------------------------

WITH_IT = {"it goes into the one without": True, "the one without goes into it": False}


@pytest.mark.slow
@pytest.mark.parametrize("case", WITH_IT)
def test_merged_and_apart_again_it_stands_where_its_link_is(floor: Floor, case: str) -> None:
    other = another_trailer(floor)
    by_customer(floor)
    gone, kept = (floor.trailer, other) if WITH_IT[case] else (other, floor.trailer)
    merge(floor, gone, kept)
    assert (stands(floor, kept), opened(floor)) == (True, "stop")
    part(floor, gone)
    assert (stands(floor, floor.trailer), stands(floor, other)) == (True, False)
    assert opened(floor) == "stop"


def test_what_came_on_its_link_while_they_were_one_goes_back_with_it(floor: Floor) -> None:
    other = another_trailer(floor)
    merge(floor, floor.trailer, other)
    by_customer(floor)
    assert stands(floor, other)
    part(floor, floor.trailer)
    assert (stands(floor, floor.trailer), stands(floor, other)) == (True, False)
    assert opened(floor) == "stop"


@pytest.mark.slow
def test_of_three_made_one_each_gets_back_its_own_in_any_order(floor: Floor) -> None:
    second, third = another_trailer(floor), another_trailer(floor, "Alder Fork I")
    by_customer(floor)
    merge(floor, floor.trailer, second)
    merge(floor, second, third)
    assert (stands(floor, third), opened(floor)) == (True, "stop")
    part(floor, floor.trailer)
    part(floor, second)
    where = {one: stands(floor, one) for one in (floor.trailer, second, third)}
    assert where == {floor.trailer: True, second: False, third: False}
    assert opened(floor) == "stop"


OLD_PAGES: dict[str, tuple[str, dict[str, str]]] = {
    "a new code for the desk": ("/shop/trailers/{gone}/standing", {}),
    "a new job with a link": (
        "/shop/jobs/new",
        {"trailer": "{gone}", "finish": "1", "fact:axles": "1", "fact:brakes": "none"},
    ),
}


@pytest.mark.parametrize("case", OLD_PAGES)
def test_a_page_from_before_the_merge_hangs_nothing_on_the_one_that_is_gone(
    floor: Floor, case: str
) -> None:
    other = another_trailer(floor)
    merge(floor, floor.trailer, other)
    path, form = OLD_PAGES[case]
    filled = {name: text.format(gone=floor.trailer) for name, text in form.items()}
    answer = desk(floor).post(path.format(gone=floor.trailer), data=filled)
    assert answer.status_code == 302, answer.text
    assert {link["trailer_id"] for link in floor.rows("links")} == {other}


READ = ("standing", "file", "edit", "")


@pytest.mark.parametrize("page", READ)
def test_pages_of_the_one_that_is_gone_show_the_one_that_stays(floor: Floor, page: str) -> None:
    other = another_trailer(floor)
    by_customer(floor)
    merge(floor, floor.trailer, other)
    client = desk(floor)
    address = f"/shop/trailers/{floor.trailer}/{page}".rstrip("/")
    text = unescape(client.get(address, follow_redirects=True).text)
    assert "Alder Fork One" in text
    assert page == "edit" or "Stop now" in text


def test_it_is_not_lent_by_a_list_from_before_the_merge(floor: Floor) -> None:
    other = another_trailer(floor)
    merge(floor, floor.trailer, other)
    by_customer(floor)
    desk(floor).post(f"/shop/fleet/{floor.trailer}/out", data={"name": "Bo"})
    assert floor.rows("outings") == []
    lend(floor, "Bo")
    assert [row["trailer_id"] for row in floor.rows("outings")] == [other]


TYPED_INTO = {
    "trailer": {"name": "Tilt bed"},
    "customer": {"name": "Bo Quist", "phone": "555 0101"},
}


@pytest.mark.parametrize("kind", TYPED_INTO)
def test_what_was_typed_for_the_one_that_is_gone_is_shown_and_paints_nothing_over(
    floor: Floor, kind: str
) -> None:
    client, table = desk(floor), f"{kind}s"
    gone = floor.trailer if kind == "trailer" else floor.customer
    other = add(floor.app, table, shop_id=floor.shop, name="The other", **MORE[kind])
    client.post(f"/shop/{table}/{gone}/merge", data={"into": str(other)})
    before = floor.rows(table)
    address = f"/shop/{table}/{gone}" + ("/edit" if kind == "trailer" else "")
    answer = followed(client, client.post(address, data=TYPED_INTO[kind]))
    assert answer.status_code in (409, 422)
    page = unescape(answer.text)
    assert TYPED_INTO[kind]["name"] in page
    assert "Meanwhile somebody found this to be The other" in page
    assert floor.rows(table) == before


MORE: dict[str, Any] = {
    "trailer": {"facts": {}, "record_id": uuid7()},
    "customer": {"phone": "", "email": ""},
}


def test_a_check_that_is_stored_while_its_trailer_is_merged_goes_to_the_one_that_stays(
    floor: Floor, monkeypatch: pytest.MonkeyPatch
) -> None:
    other, link_read = another_trailer(floor), records_api.shown_to_shop

    def merged_then(*given: Any) -> Any:
        then = link_read(*given)
        merge(floor, floor.trailer, other)
        return then

    monkeypatch.setattr(records_api, "shown_to_shop", merged_then)
    by_customer(floor)
    assert [row["trailer_key"] for row in floor.rows("records")] == [other]
    assert stands(floor, other)


# ---- two at the desk ----------------------------------------------------------------------------


def decide(floor: Floor, record: str, text: str = "Towed in.") -> str:
    form = {"text": text, "decided": "y"}
    page = desk(floor).post(f"/shop/checks/{record}", data=form, follow_redirects=True).text
    return unescape(page)


@pytest.mark.slow
def test_deciding_one_decides_no_other_that_came_meanwhile(floor: Floor) -> None:
    first = by_customer(floor)
    second = by_customer(floor)
    decide(floor, first)
    assert shown(floor)["trailer page"]
    assert second in listed(read(floor))


@pytest.mark.slow
def test_a_new_one_after_the_decision_stands_everywhere_again(floor: Floor) -> None:
    decide(floor, by_customer(floor))
    assert (listed(read(floor)), opened(floor)) == ([], None)
    sent(floor, run_stop(made=datetime.now(UTC) + MINUTE, **HOT))
    found = shown(floor)
    assert (found["inbox"], found["link"], found["trailer page"]) == (True, True, True)


@pytest.mark.parametrize("way", ["on a customer's link", "from the owner's second phone too"])
def test_decided_it_is_nowhere_said_to_be_open(floor: Floor, way: str) -> None:
    decide(floor, WAYS[way](floor))
    line = read(floor, "/shop/trailers").partition(f'href="/shop/trailers/{floor.trailer}"')[2]
    assert ">decided<" in line.partition("</li>")[0]


@pytest.mark.slow
def test_a_form_sent_twice_does_not_close_what_was_opened_again_and_says_so(floor: Floor) -> None:
    record = by_customer(floor)
    decide(floor, record)
    desk(floor).post(f"/shop/checks/{record}/open")
    assert "It is not decided yet" in decide(floor, record)
    assert shown(floor)["inbox"]


SHOWN = ("/shop/trailers/{0.trailer}", "/shop/jobs/{0.job}", "/shop/jobs/{0.job}/sheet")


@pytest.mark.parametrize("at", SHOWN)
def test_a_newer_one_hides_no_older_one_on_pages_of_the_shop(floor: Floor, at: str) -> None:
    both = {by_customer(floor), at_the_bench(floor)}
    page = read(floor, at.format(floor)).partition("<h2>Checks</h2>")[0]
    assert {one for one in both if f"/shop/checks/{one}" in page} == both


def test_a_newer_one_hides_no_older_one_on_a_link(floor: Floor) -> None:
    older = by_customer(floor)
    newer = sent(floor, run_stop(made=datetime.now(UTC) + MINUTE, **HOT))
    told = read_link(floor.app.test_client(), floor.secret).json["open"]
    assert [told["record"], *(one["record"] for one in told["more"])] == [newer, older]
    assert [one["level"] for one in told["more"]] == ["stop"]
    decide(floor, newer)
    told = read_link(floor.app.test_client(), floor.secret).json["open"]
    assert (told["record"], told["more"]) == (older, [])


# ---- links, phones, servers ---------------------------------------------------------------------


def test_out_of_the_tray_once_it_comes_on_a_link_that_works(floor: Floor) -> None:
    one = run_stop(**HOT)
    floor.change("links", floor.link, revoked=datetime.now(UTC))
    sent(floor, one)
    assert not stands(floor, floor.trailer)
    sent(floor.another_link(), one, headers=OTHER_PHONE)
    assert stands(floor, floor.trailer)


DECIDED = {"text": "Not ours.", "decided": "y"}
UNDER_IT: dict[str, tuple[str, bool, str]] = {
    "an open Look again": ("look", False, "Look again"),
    "a decided Stop now": ("stop", True, "Stop now"),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", UNDER_IT)
@pytest.mark.parametrize("since", ["taken back", "given again"])
def test_decided_in_the_tray_it_hides_nothing_of_the_trailer(
    floor: Floor, case: str, since: str
) -> None:
    level, decided, words = UNDER_IT[case]
    client, older = desk(floor), came(floor, level, made=NOW - 60 * MINUTE)
    if decided:
        client.post(f"/shop/checks/{older}", data=DECIDED)
    stray = floor.another_link(revoked=datetime.now(UTC) - MINUTE)
    record = came(stray, "nothing")
    if since == "given again":
        client.post(f"/shop/links/{stray.link}/unrevoke")
    client.post(f"/shop/checks/{record}", data=DECIDED)
    assert words in read(floor, f"/shop/trailers/{floor.trailer}").partition("<h2>Checks</h2>")[0]
    assert (record in listed(read(floor)), record in listed(read(floor, "/shop/decided"))) == (
        False,
        True,
    )


def test_decided_in_the_tray_it_stands_decided_once_it_comes_on_a_link_that_works(
    floor: Floor,
) -> None:
    one = run_stop(**HOT)
    stray = floor.another_link(revoked=datetime.now(UTC))
    record = sent(stray, one)
    desk(floor).post(f"/shop/checks/{record}", data=DECIDED)
    sent(floor, one, headers=OTHER_PHONE)
    assert ">decided<" in read(floor, f"/shop/trailers/{floor.trailer}").partition("<h2>Checks")[0]


def test_a_reply_alone_in_the_tray_says_that_nothing_is_decided(floor: Floor) -> None:
    floor.change("links", floor.link, revoked=datetime.now(UTC))
    address, form = f"/shop/checks/{by_customer(floor)}", {"reply": "Whose is it?"}
    page = desk(floor).post(address, data=form, follow_redirects=True).text
    assert "It is not decided yet" in page


BEFORE_OR_AFTER = {"came after its link was taken back": True, "came before": False}


@pytest.mark.slow
@pytest.mark.parametrize("case", BEFORE_OR_AFTER)
def test_opened_again_it_stands_where_it_stood(floor: Floor, case: str) -> None:
    after = BEFORE_OR_AFTER[case]
    if after:
        floor.change("links", floor.link, revoked=datetime.now(UTC) - MINUTE)
    record = by_customer(floor)
    if not after:
        floor.change("links", floor.link, revoked=datetime.now(UTC) + MINUTE)
    stood = (read(floor).count("Came on a link taken back"), stands(floor, floor.trailer))
    assert stood == (int(after), not after)
    decide(floor, record)
    desk(floor).post(f"/shop/checks/{record}/open")
    assert listed(read(floor)) == [record]
    assert stood == (read(floor).count("Came on a link taken back"), stands(floor, floor.trailer))


@pytest.mark.slow
def test_a_code_printed_anew_shows_it_and_the_old_paper_still_brings_it_in(floor: Floor) -> None:
    standing = floor.another_link(kind="standing", job_id=None, customer_id=None)
    desk(floor).post(f"/shop/trailers/{floor.trailer}/standing")
    sent(standing, run_stop(made=datetime.now(UTC) - MINUTE, **HOT))
    found = shown(floor)
    assert (found["lending desk"], found["code of the desk"], found["desk sheet"]) == (True,) * 3


@pytest.mark.slow
def test_a_trailer_put_away_for_the_season_shows_it(floor: Floor) -> None:
    done = datetime.now(UTC) - timedelta(days=100)
    floor.change("jobs", floor.job, work=["storage"], opened=done, finished=done)
    by_customer(floor)
    assert shown(floor)["trailer page"]
    page = read(floor, "/shop/recall")
    assert "Stop now" in page or "Alder Fork 1" not in page


@pytest.mark.slow
@pytest.mark.parametrize("way", [by_customer, at_the_desk, WAYS["on the bench, and handed over"]])
def test_another_server_takes_it_in_undecided(
    floor: Floor, tmp_path: Any, way: Callable[[Floor], str]
) -> None:
    record, file = way(floor), io.BytesIO()
    whole.write(floor.app.extensions["store"], file)
    other = create_app({"DATA": tmp_path / "other", "SECRET_KEY": "k" * 32})
    whole.take_in(other.extensions["store"], file)
    there = Floor(**(vars(floor) | {"app": other}))
    assert record in listed(read(there))
    assert stands(there, floor.trailer)
    assert opened(there) == "stop"


# ---- sold, taken in, taken out ------------------------------------------------------------------


@pytest.mark.slow
def test_sold_to_another_it_goes_with_the_trailer(floor: Floor) -> None:
    """The one who found it is named, the new owner's page and link tell it."""
    record = by_customer(floor)
    buyer = add(floor.app, "customers", shop_id=floor.shop, name="Bo Quist", phone="", email="")
    form = {"name": "Alder Fork 1", "customer": str(buyer), "fact:axles": "1"}
    address = f"/shop/trailers/{floor.trailer}/edit"
    assert desk(floor).post(address, data=form).status_code == 302
    assert floor.rows("trailers")[0]["customer_id"] == buyer
    found = shown(floor)
    assert [place for place, told in found.items() if not told] == ["customer"]
    assert "Stop now" in read(floor, f"/shop/customers/{buyer}")
    decide(floor, record)
    assert (listed(read(floor)), opened(floor)) == ([], None)


def test_a_file_taken_out_again_leaves_the_trailer_that_got_one(floor: Floor) -> None:
    client = desk(floor)
    table = (io.BytesIO(b"trailer\nTilt bed\nUtility 6x10\n"), "ours.csv")
    preview = client.post("/shop/take-in", data={"kind": "trailers", "file": table}).location
    assert client.post(preview).status_code == 302
    tilt = next(row for row in floor.rows("trailers") if row["name"] == "Tilt bed")
    code = floor.another_link(kind="standing", job_id=None, customer_id=None, trailer_id=tilt["id"])
    record = sent(code, run_stop(**HOT))
    assert client.post(f"{preview}/undo").status_code == 302
    assert {row["name"] for row in floor.rows("trailers")} == {"Alder Fork 1", "Tilt bed"}
    assert stands(floor, tilt["id"])
    assert listed(read(floor)) == [record]


def test_taken_back_while_it_was_sent_it_waits_in_the_tray(
    floor: Floor, monkeypatch: pytest.MonkeyPatch
) -> None:
    link_read = records_api.shown_to_shop

    def taken_back_then(*given: Any) -> Any:
        then = link_read(*given)
        desk(floor).post(f"/shop/links/{floor.link}/revoke")
        return then

    monkeypatch.setattr(records_api, "shown_to_shop", taken_back_then)
    record = by_customer(floor)
    assert "Came on a link taken back" in read(floor)
    assert listed(read(floor)) == [record]


def test_forgotten_while_it_was_sent_it_stays_on_the_phone(
    floor: Floor, monkeypatch: pytest.MonkeyPatch
) -> None:
    link_read = records_api.shown_to_shop

    def forgotten_then(*given: Any) -> Any:
        then = link_read(*given)
        desk(floor).post(f"/shop/customers/{floor.customer}/delete")
        return then

    monkeypatch.setattr(records_api, "shown_to_shop", forgotten_then)
    error = error_of(floor.send(run_stop(**HOT)), 403)
    assert error["code"] == "link_unknown"
    assert "stays on the phone" in error["fix"]


# ---- forgetting ---------------------------------------------------------------------------------


@pytest.mark.parametrize("whose", ["their trailer", "a trailer that was sold since"])
def test_nobody_is_forgotten_with_an_undecided_one_unless_somebody_says_so(
    floor: Floor, whose: str
) -> None:
    record = by_customer(floor)
    if whose != "their trailer":
        floor.change("trailers", floor.trailer, customer_id=None)
    address, client = f"/shop/customers/{floor.customer}/delete", desk(floor)
    answer = followed(client, client.post(address))
    assert answer.status_code == 422
    assert record in listed(answer.text)
    assert len(floor.rows("customers")) == 1
    assert client.post(address, data=ticked(answer.text, "anyway")).status_code == 302
    assert floor.rows("customers") == []


def test_nor_with_one_from_the_bench_on_a_trailer_that_was_merged_into_nobodys(
    floor: Floor,
) -> None:
    other, record = another_trailer(floor), at_the_bench(floor)
    floor.change("jobs", bench_job(floor), customer_id=floor.customer)
    merge(floor, floor.trailer, other)
    address, client = f"/shop/customers/{floor.customer}/delete", desk(floor)
    answer = followed(client, client.post(address))
    assert (answer.status_code, record in listed(answer.text)) == (422, True)
    assert len(floor.rows("records", id=record)) == 1


def bench_job(floor: Floor) -> int:
    """The job that ``at_the_bench`` made."""
    return max(int(row["id"]) for row in floor.rows("jobs"))


@pytest.mark.slow
def test_nor_when_one_comes_in_while_they_are_being_forgotten(
    floor: Floor, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The page was drawn, and read, before it came."""
    delete = forget.delete_customer

    def came_first(*given: Any) -> bool:
        monkeypatch.undo()
        by_customer(floor)
        return delete(*given)

    monkeypatch.setattr(forget, "delete_customer", came_first)
    address, client = f"/shop/customers/{floor.customer}/delete", desk(floor)
    answer = client.post(address)
    assert answer.location == address
    assert len(listed(client.get(address).text)) == 1
    assert len(floor.rows("customers")) == 1


def test_a_tick_is_for_what_stood_on_the_page(floor: Floor) -> None:
    """Another came in after the page was drawn: it is shown, and asked about, too."""
    first = by_customer(floor)
    address, client = f"/shop/customers/{floor.customer}/delete", desk(floor)
    tick = ticked(client.get(address).text, "anyway")
    second = by_customer(floor)
    answer = followed(client, client.post(address, data=tick))
    assert (answer.status_code, sorted(listed(answer.text))) == (422, sorted([first, second]))
    assert client.post(address, data=ticked(answer.text, "anyway")).status_code == 302
    assert floor.rows("customers") == []


def test_nor_with_one_on_the_bench_of_a_job_that_goes_on(floor: Floor) -> None:
    record = on_the_bench_at_work(floor)
    address, client = f"/shop/customers/{floor.customer}/delete", desk(floor)
    answer = followed(client, client.post(address))
    assert (answer.status_code, listed(answer.text)) == (422, [record])


def on_the_bench_at_work(floor: Floor) -> str:
    kept = {"trailer": str(floor.trailer), "keep": "1", "all:pin_done": "none", "fact:axles": "1"}
    answer = desk(floor).post("/shop/jobs/new", data=kept | {"fact:brakes": "none"})
    assert answer.status_code == 302, answer.text
    (job,) = floor.rows("jobs", id=bench_job(floor))
    return str(job["record_id"])


@pytest.mark.slow
def test_a_decided_one_keeps_nobody(floor: Floor) -> None:
    decide(floor, came(floor, "stop"))
    assert desk(floor).post(f"/shop/customers/{floor.customer}/delete").status_code == 302


def test_to_forget_the_row_that_is_gone_asks_about_the_one_that_has_it_all(floor: Floor) -> None:
    other = add(floor.app, "customers", shop_id=floor.shop, name="Alder", phone="", email="")
    client = desk(floor)
    client.post(f"/shop/customers/{floor.customer}/merge", data={"into": str(other)})
    answer = client.post(f"/shop/customers/{floor.customer}/delete", data={"anyway": "1"})
    assert answer.location == f"/shop/customers/{other}/delete"
    assert len(floor.rows("customers")) == 2


# ---- whom to call -------------------------------------------------------------------------------


def test_one_from_the_bench_is_the_jobs_customers_once_its_trailer_is_merged_into_nobodys(
    floor: Floor,
) -> None:
    other = another_trailer(floor)
    at_the_bench(floor)
    floor.change("jobs", bench_job(floor), customer_id=floor.customer)
    merge(floor, floor.trailer, other)
    floor.change("customers", floor.customer, name="Teo Marsh", phone="555 0177")
    page = read(floor)
    assert "Teo Marsh" in page
    assert 'href="tel:5550177"' in page


@pytest.mark.parametrize("way", [by_customer, at_the_desk, at_the_bench])
@pytest.mark.parametrize("at", ["/shop", "/shop/trailers/{0.trailer}", "check"])
def test_whoever_has_a_lent_trailer_is_named_and_called(
    floor: Floor, way: Callable[[Floor], str], at: str
) -> None:
    record = way(floor)
    lend(floor, "Bo Quist", "555 0142")
    page = read(floor, f"/shop/checks/{record}" if at == "check" else at.format(floor))
    assert "Bo Quist" in page
    assert 'href="tel:5550142"' in page
    desk(floor).post(f"/shop/fleet/{floor.trailer}/back")
    page = read(floor, f"/shop/checks/{record}" if at == "check" else at.format(floor))
    assert "Bo Quist" not in page


def calls(page: str, record: str) -> tuple[str, dict[str, str]]:
    """Whom the line of a check names beside its trailer, and what its buttons call."""
    own = page.partition(f"/shop/checks/{record}")[2].partition("</li>")[0]
    named = own.partition("</strong>, ")[2].partition("<br>")[0]
    return named, dict(re.findall(r'href="tel:(\d+)">([^<]*)<', own))


def test_the_line_of_a_check_names_who_sent_it_and_apart_from_them_who_took_the_trailer_since(
    floor: Floor,
) -> None:
    floor.change("customers", floor.customer, phone="555 0177")
    before = by_customer(floor)
    assert calls(read(floor), before) == ("Alder Fork Tool Library", {"5550177": "Call"})
    lend(floor, "Bo Quist", "555 0142")
    since = by_customer(floor)
    page = read(floor)
    both = {"5550177": "Call", "5550142": "Call Bo Quist"}
    assert calls(page, before) == ("Alder Fork Tool Library", both)
    assert calls(page, since) == ("Bo Quist", {"5550142": "Call"})
    assert len(re.findall(r"Out since [^.]*\. Bo Quist<br>", page)) == 1  # of the one before


NUMBERLESS = "ask for Bo"
CALLED_FROM = (
    *("/shop", "/shop/fleet", "/shop/trailers/{0.trailer}", "/shop/customers/{0.customer}"),
    "/shop/checks/{record}",
)


@pytest.mark.slow
@pytest.mark.parametrize("lent", [True, False], ids=["lent", "at its customer's"])
@pytest.mark.parametrize("at", CALLED_FROM)
def test_where_no_number_is_known_nothing_is_offered_to_call(
    floor: Floor, at: str, lent: bool
) -> None:
    floor.change("customers", floor.customer, phone=NUMBERLESS)
    record = by_customer(floor)
    floor.another_link(kind="standing", job_id=None, customer_id=None)
    if lent:
        lend(floor, "Bo Quist", NUMBERLESS)
    page = read(floor, at.format(floor, record=record))
    assert "tel:" not in page
    assert NUMBERLESS in page or (at, lent) == ("/shop/fleet", False)


def test_another_one_of_the_trailer_stands_under_a_heading_of_its_own(floor: Floor) -> None:
    """So that it is found by whoever hears the page from heading to heading."""
    other, record = by_customer(floor), by_customer(floor)
    page = read(floor, f"/shop/checks/{record}")
    box = page.partition("<h2>Also not decided on this trailer</h2>")[2].partition("</section>")[0]
    assert listed(box) == [other]


# ---- on the bench of a job that goes on ---------------------------------------------------------


@pytest.mark.slow
def test_a_trailer_that_waits_on_the_bench_with_one_is_not_lent_without_a_look(
    floor: Floor,
) -> None:
    kept = {"trailer": str(floor.trailer), "keep": "1", "all:pin_done": "none", "fact:axles": "1"}
    at_the_desk(floor)
    (record,) = listed(read(floor))
    decide(floor, record)
    client = desk(floor)
    assert client.post("/shop/jobs/new", data=kept | {"fact:brakes": "none"}).status_code == 302
    lending = read(floor, "/shop/fleet")
    assert ("Stop now" in lending, 'name="anyway"' in lending) == (True, True)
    address = f"/shop/fleet/{floor.trailer}/out"
    page = followed(client, client.post(address, data={"name": "Bo"})).text
    assert "is not decided. Do not lend it" in unescape(page)


# What the form then says, and whether the finding is left without its answer.
EMPTIED: dict[str, tuple[dict[str, str], bool]] = {
    "all of it": ({"all:pin_done": ""}, True),
    "that answer alone": ({"all:pin_done": "", "all:seal_done": "new"}, True),
    "of one wheel": ({"1L:pin_done": "new", "skip:1R": "1"}, True),
    "another answer": ({"all:pin_done": "new"}, False),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", EMPTIED)
def test_emptied_on_the_bench_it_stands_undecided_with_who_emptied_it(
    floor: Floor, case: str
) -> None:
    """An answer that is changed is the bench's last word; one that is gone says nothing."""
    form, emptied = EMPTIED[case]
    record = on_the_bench_at_work(floor)
    on_the_bench_changed(floor, form)
    found = (record in listed(read(floor)), stands(floor, floor.trailer), opened(floor) == "stop")
    assert found == (emptied,) * 3
    page = read(floor, f"/shop/checks/{record}")
    assert bool(re.search("Ines, .*: emptied on the bench", page)) == emptied
    decide(floor, record)
    assert (listed(read(floor)), opened(floor)) == ([], None)


@pytest.mark.slow
@pytest.mark.parametrize("case", EMPTIED)
def test_emptied_on_the_bench_after_it_was_decided_it_stays_decided(
    floor: Floor, case: str
) -> None:
    record = on_the_bench_at_work(floor)
    decide(floor, record)
    on_the_bench_changed(floor, EMPTIED[case][0])
    assert (listed(read(floor)), opened(floor)) == ([], None)


def on_the_bench_changed(floor: Floor, form: dict[str, str]) -> None:
    address, client = f"/shop/jobs/{bench_job(floor)}/edit", desk(floor)
    fields = fields_of(client.get(address).text) | form | {"keep": "1"}
    assert client.post(address, data=fields).status_code == 302
