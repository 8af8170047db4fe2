"""Records that come on a shop's link: shown to that shop once, however they are sent."""

from __future__ import annotations

import itertools
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from sqlalchemy import update

from tests.support.floor import DAY, NOW, OTHER_PHONE, Floor, add_due, run_stop, shop_floor
from tests.support.records import HEADERS, check_body, envelope, error_of, record, uuid7
from tests.support.shops import a_shop, finished_job
from webapp.follow_up import filing
from webapp.storage.models import records

HOT = {"smoke__1L": "yes"}


def shown(floor: Floor) -> list[str]:
    return [row["id"] for row in floor.rows("records", shop_id=floor.shop)]


# ---- where it goes ----------------------------------------------------------------------------


@pytest.mark.slow
def test_a_check_on_a_link_goes_to_its_shop_and_trailer_and_settles_the_due_check(floor):
    one = run_stop()
    answer = floor.send(one, due=floor.due)
    assert answer.status_code == 200, answer.text
    (row,) = floor.rows("records")
    assert row["shop_id"] == floor.shop
    assert row["trailer_key"] == floor.trailer
    assert row["link_id"] == floor.link
    assert row["due_id"] == floor.due
    assert floor.rows("due")[0]["record_id"] == one["id"]


def test_without_a_link_a_check_goes_to_no_shop(floor):
    assert floor.send(link=None).status_code == 200
    assert shown(floor) == []


def test_figures_settle_no_due_check(floor):
    figures = record(body=check_body(check="figures"))
    assert floor.send(figures, due=floor.due).status_code == 200
    assert floor.rows("due")[0]["record_id"] is None


def test_a_check_sent_first_without_and_then_with_the_link_reaches_the_shop(floor):
    one = run_stop()
    floor.send(one, link=None)
    floor.send(one, due=floor.due)
    assert shown(floor) == [one["id"]]
    assert floor.rows("due")[0]["record_id"] == one["id"]


def test_a_check_sent_first_without_and_then_with_its_due_check_settles_it(floor):
    one = run_stop()
    floor.send(one)
    floor.send(one, due=floor.due)
    assert floor.rows("due")[0]["record_id"] == one["id"]


@pytest.mark.parametrize("number", [0, 999_999])
def test_an_unknown_due_check_loses_no_record_and_settles_nothing(floor, number):
    assert floor.send(due=number).status_code == 200
    assert floor.rows("due")[0]["record_id"] is None
    assert len(shown(floor)) == 1


def test_the_due_check_of_another_trailer_is_not_settled(app, floor):
    other = shop_floor(app, "Other Shop")
    floor.send(due=other.due)
    assert other.rows("due", id=other.due)[0]["record_id"] is None


@pytest.mark.parametrize("number", ["1", 1.5, [1], True])
def test_a_due_check_that_is_no_number_is_refused_by_name(floor, number):
    error = error_of(floor.send(due=number), 422)
    assert error["field"] == "due"


# ---- sent twice, late, out of order, from two phones --------------------------------------------


@pytest.mark.slow
def test_a_check_sent_twice_is_shown_once(floor):
    one = run_stop()
    answers = [floor.send(one, due=floor.due).json for _ in range(3)]
    assert answers[0] == answers[1] == answers[2]
    assert shown(floor) == [one["id"]]
    assert len(floor.rows("records")) == 1


def test_the_same_check_from_two_phones_is_shown_once_and_answered_to_both(floor):
    one = run_stop()
    first = floor.send(one, due=floor.due)
    second = floor.send(one, due=floor.due, headers=OTHER_PHONE)
    assert first.json == second.json
    assert shown(floor) == [one["id"]]


def test_other_content_under_a_shown_id_is_refused(floor):
    one = run_stop()
    floor.send(one)
    error = error_of(floor.send(one | {"body": check_body()}, headers=OTHER_PHONE), 422)
    assert error["code"] == "id_reused"


@pytest.mark.parametrize("order", list(itertools.permutations(range(3))))
def test_checks_that_arrive_in_any_order_are_each_shown_once_and_the_due_check_is_done(
    floor, order
):
    sent = [run_stop(20 + n, NOW - (3 - n) * timedelta(hours=1)) for n in range(3)]
    for n in order:
        assert floor.send(sent[n], due=floor.due if n == 0 else None).status_code == 200
    assert sorted(shown(floor)) == sorted(one["id"] for one in sent)
    assert floor.rows("due")[0]["record_id"] == sent[0]["id"]


def test_a_check_that_comes_sixty_days_late_is_shown_with_its_own_date(floor):
    late = floor.another_link(expires=NOW - 30 * DAY, opened=NOW - 60 * DAY)
    made = NOW - 60 * DAY
    one = run_stop(20, made)
    assert late.send(one, due=floor.due).status_code == 200
    (row,) = floor.rows("records", shop_id=floor.shop)
    assert row["made_ms"] == int(made.timestamp() * 1000)
    assert floor.rows("due")[0]["record_id"] == one["id"]


SECOND = timedelta(seconds=1)
MINUTE = timedelta(minutes=1)
# The link's end and opening, and the code it is refused with, or None.
LINKS = {
    "open and never opened": ({"expires": NOW + DAY}, None),
    "ended and opened before": ({"expires": NOW - DAY, "opened": NOW - 2 * DAY}, None),
    "ended and never opened": ({"expires": NOW - DAY}, "link_expired"),
    "ended 90 days ago, less a little": (
        {"expires": NOW - 90 * DAY + 30 * MINUTE, "opened": NOW - 100 * DAY},
        None,
    ),
    "ended 90 days ago": ({"expires": NOW - 90 * DAY, "opened": NOW - 100 * DAY}, "link_expired"),
    "replaced by a newer one": ({"replaced": NOW - SECOND, "opened": NOW - DAY}, None),
    "replaced 90 days ago": ({"replaced": NOW - 90 * DAY, "opened": NOW - DAY}, "link_expired"),
    "taken back": ({"revoked": NOW - SECOND, "opened": NOW - DAY}, None),
    "taken back 90 days ago": ({"revoked": NOW - 90 * DAY, "opened": NOW - DAY}, "link_revoked"),
    "taken back and ended": ({"revoked": NOW, "expires": NOW - DAY, "opened": NOW - 2 * DAY}, None),
}


@pytest.mark.parametrize(("link", "code"), LINKS.values(), ids=LINKS.keys())
def test_whether_a_link_still_takes_a_check(floor, link, code):
    answer = floor.another_link(**link).send(run_stop())
    if code is None:
        assert answer.status_code == 200, answer.text
        assert len(shown(floor)) == 1
    else:
        error = error_of(answer, 403)
        assert error["code"] == code
        assert "stays on the phone" in error["fix"]
        assert floor.rows("records") == []


@pytest.mark.parametrize("secret", ["", "short", "x" * 43, "ü" * 43, "a" * 44])
def test_an_unknown_or_malformed_link_is_refused_and_nothing_is_stored(floor, secret):
    assert error_of(floor.send(link=secret), 403)["code"] == "link_unknown"
    assert floor.rows("records") == []


@pytest.mark.slow
def test_a_stored_check_is_answered_again_after_its_link_was_taken_back(floor):
    one = run_stop()
    first = floor.send(one, due=floor.due)
    floor.change("links", floor.link, revoked=NOW)
    assert floor.send(one, due=floor.due).json == first.json


def test_a_check_that_went_to_one_shop_does_not_go_to_another(app, floor):
    other, one = shop_floor(app, "Other Shop"), run_stop()
    floor.send(one)
    error = error_of(other.send(one), 409)
    assert error["code"] == "sent_elsewhere"
    assert shown(other) == []


# ---- the shelf and the distance -----------------------------------------------------------------

# The phone's level, more facts, the shelf it is put on.
SHELVES = [
    ("stop", {}, 0),
    ("mend", {}, 1),
    ("look", {}, 2),
    ("unchecked", {}, 4),
    ("nothing", {}, 3),
    ("nothing", HOT, 0),
    ("no level of ours", {}, 4),
    (None, HOT, 0),
    (7, HOT, 0),
]


@pytest.mark.parametrize(("phone", "facts", "shelf"), SHELVES)
def test_the_worse_of_the_phones_and_the_servers_level_decides_the_shelf(
    floor, phone, facts, shelf
):
    one = run_stop(None, **facts)
    one["body"]["verdict"] = {"level": phone}
    assert floor.send(one).status_code == 200
    assert floor.rows("records")[0]["shelf"] == shelf


@pytest.mark.slow
@pytest.mark.parametrize(("facts", "queued"), [({}, 0), (HOT, 1)], ids=["not checked", "stop now"])
def test_only_a_stop_now_queues_one_mail_however_often_it_is_sent(floor, facts, queued):
    one = run_stop(**facts)
    for headers in (HEADERS, HEADERS, OTHER_PHONE):
        floor.send(one, headers=headers)
    assert len(floor.rows("mails", record_id=one["id"])) == queued


MILE = 1.609344
# What checks said on which day after the job: (days, miles); the due check's miles; missed or not.
DRIVEN = {
    "less than its miles": ([(0.1, 19.9)], 20, False),
    "its miles": ([(0.1, 20)], 20, True),
    "more": ([(0.1, 30)], 20, True),
    "the same road twice on one day": ([(0.1, 15), (0.2, 15)], 20, False),
    "two days added up": ([(-1.5, 15), (0.1, 15)], 20, True),
    "before the job": ([(-3, 90)], 20, False),
    "no distance": ([(0.1, None)], 20, False),
}


@pytest.mark.parametrize(("checks", "miles", "missed"), DRIVEN.values(), ids=DRIVEN.keys())
def test_a_due_check_is_missed_once_checks_say_it_was_driven_past(
    app, floor, checks, miles, missed
):
    noon = NOW.replace(hour=12, minute=0) - 1 * DAY
    floor.change("jobs", floor.job, finished=noon - 2 * DAY)
    floor.change("due", floor.due, at_km=miles * MILE)
    for days, far in checks:
        assert floor.send(run_stop(far, noon + days * DAY)).status_code == 200
    (row,) = floor.rows("due")
    assert (row["missed_km"] is not None) == missed


def test_a_due_check_that_was_done_is_never_missed(floor):
    floor.send(run_stop(20), due=floor.due)
    floor.send(run_stop(90))
    assert floor.rows("due")[0]["missed_km"] is None


def test_a_second_due_check_stays_open_when_the_first_is_done(app, floor):
    second = add_due(app, floor.shop, floor.trailer, floor.job, at_km=80.0)
    floor.send(run_stop(20), due=floor.due)
    assert floor.rows("due", id=second)[0]["record_id"] is None


def test_a_trailers_record_on_a_link_stands_in_no_inbox(floor):
    body = {"trailer": uuid7(), "name": "Alder Fork 1", "facts": {}, "typed": {}}
    assert floor.send(record(kind="trailer", body=body)).status_code == 200
    assert floor.rows("records")[0]["shelf"] is None


@pytest.mark.slow
def test_a_failure_while_showing_the_check_stores_nothing(floor, monkeypatch):
    monkeypatch.setattr("webapp.follow_up.filing.settle", lambda *_: 1 / 0)
    assert floor.send(due=floor.due).status_code == 500
    assert floor.rows("records") == []


def test_a_check_of_a_phone_whose_clock_is_off_says_so_in_the_shop(app):
    shop = a_shop(app)
    _, secret = finished_job(shop)
    one = record(made="1970-01-01T00:10:00+00:00", body=check_body(date="1970-01-01"))
    headers = HEADERS | {"X-Twentymile-Clock": "1970-01-01T00:12:00+00:00"}
    client = app.test_client()
    sent = client.post("/api/records", json=envelope(one) | {"link": secret}, headers=headers)
    assert sent.status_code == 200, sent.text
    page = shop.client.get(f"/shop/checks/{one['id']}").text
    assert "clock was wrong" in page
    assert "1970-01-01 00:10" in page
    assert str(datetime.now(UTC).year) in page


def test_one_link_cannot_flood_a_shop_and_what_waits_is_taken_later(floor, monkeypatch):
    monkeypatch.setattr(filing, "LINK_MOST", 3)
    sent = [run_stop(smoke__1L="yes") for _ in range(5)]
    answers = [floor.send(one) for one in sent]
    assert [answer.status_code for answer in answers] == [200] * 3 + [429] * 2
    assert error_of(answers[-1], 429)["code"] == "too_many"
    assert len(floor.rows("records")) == 3
    assert len(floor.rows("mails")) == 3
    assert floor.send(sent[0]).status_code == 200, "what is there already is answered as it was"
    assert floor.another_link().send(sent[4]).status_code == 200, "another link has its own limit"
    for row in floor.rows("records"):
        hour_ago = row["received_ms"] - filing.HOUR_MS - 1
        with floor.app.extensions["store"].writing() as connection:
            mine = update(records).where(records.c.seq == row["seq"])
            connection.execute(mine.values(received_ms=hour_ago))
    assert floor.send(sent[3]).status_code == 200


# ---- whether what came back answers what was due ------------------------------------------------

BOTH = ("1L", "1R")
NUTS = {f"nuts__{wheel}": "tight" for wheel in BOTH}
HUBS = {f"hub_feel__{wheel}": "cool" for wheel in BOTH}
LOAD = {"load_shifted": "no", "strap_loosened": "no"}
ALL = NUTS | HUBS | LOAD
TIRES = {"tire_look__1L": "fine", "tire_look__1R": "fine"}
NO_LOAD: dict[str, Any] = {"load_shifted": None}
ANSWERED: dict[str, tuple[str, dict[str, Any], bool]] = {
    "nuts: one other answer": ("nuts_stop", {"vibration": "no"}, False),
    "nuts: of one wheel": ("nuts_stop", {"nuts__1L": "tight"}, False),
    "nuts: not sure of one": ("nuts_stop", NUTS | {"nuts__1R": None}, False),
    "nuts: of each wheel": ("nuts_stop", NUTS, True),
    "nuts: the hubs only": ("nuts_stop", HUBS, False),
    "hubs: of each wheel": ("quick_stop", HUBS, True),
    "hubs: one hub, the other smokes": (
        "quick_stop",
        {"hub_feel__1L": "cool", "smoke__1R": "yes"},
        True,
    ),
    "hubs: one hub, no smoke at the other": (
        "quick_stop",
        {"hub_feel__1L": "cool", "smoke__1R": "no"},
        False,
    ),
    "load: the straps": ("load_stop", LOAD, True),
    "load: the nuts": ("load_stop", NUTS | NO_LOAD, False),
    "a full stop: all three": ("run_stop", ALL, True),
    "a full stop: without the load": ("run_stop", NUTS | HUBS | NO_LOAD, False),
    "a full stop: one answer of all": ("run_stop", {"vibration": "no"}, False),
    "tires: each wheel": ("tires", TIRES, True),
    "tires: one wheel": ("tires", {"tire_look__1L": "fine"}, False),
    "all round: next to nothing": ("walkaround", {"vibration": "no"}, False),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", ANSWERED)
def test_a_due_check_is_done_only_when_what_it_asks_is_answered(floor, case):
    check, facts, done = ANSWERED[case]
    floor.change("due", floor.due, check=check, what="In the shop's own words")
    one = run_stop(20, **facts)
    assert floor.send(one, due=floor.due).status_code == 200
    assert floor.rows("due")[0]["record_id"] == (one["id"] if done else None)
    assert floor.rows("records")[0]["due_id"] == floor.due


def test_a_check_that_answers_after_one_that_did_not_is_the_one_that_counts(floor):
    floor.change("due", floor.due, check="nuts_stop")
    floor.send(run_stop(20, vibration="no"), due=floor.due)
    full = run_stop(20, **NUTS)
    floor.send(full, due=floor.due)
    assert floor.rows("due")[0]["record_id"] == full["id"]
