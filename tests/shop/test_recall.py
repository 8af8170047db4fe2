"""Which trailers are asked back, and the words that go out."""

from __future__ import annotations

import csv
import re
from datetime import date, timedelta
from io import StringIO
from urllib.parse import unquote

import pytest
from flask import Flask

from tests.shop.test_inbox import HOT, desk, read
from tests.support.floor import DAY, NOW, Floor, add, run_stop, shop_floor
from tests.support.records import uuid7
from webapp.follow_up.recall import months_before
from webapp.follow_up.upkeep import oldest_tire


@pytest.fixture
def floor(app: Flask) -> Floor:
    made = shop_floor(app)
    made.change("customers", made.customer, phone="(555) 010-0123")
    return made


# Common practice in a maker's manual, read: 12 months or 12,000 miles (checks/limits/service.toml).
PACKED = {
    "11 months ago": (335, 0, "", False),
    "a year and a day ago": (367, 0, "", True),
    "a month ago, driven 11,000 miles": (30, 11_000, "", False),
    "a month ago, driven 12,500 miles": (30, 12_500, "", True),
    "7 months ago, where the shop says 6": (215, 0, "6", True),
    "13 months ago, where the shop says 24": (400, 0, "24", False),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", PACKED)
def test_bearings_are_due_by_time_or_distance_the_shops_own_figure_first(
    floor: Floor, case: str
) -> None:
    days, miles, own, due = PACKED[case]
    floor.change("jobs", floor.job, work=["bearings"], finished=NOW - timedelta(days=days))
    for part in range(miles // 500):
        made = NOW - timedelta(days=1 + part)
        assert floor.send(run_stop(500, made=made)).status_code == 200
    desk(floor).post("/shop/recall", data={"months": own, "miles": ""})
    page = listed(floor, "repack")
    assert bool(page) == due, page


def listed(floor: Floor, name: str) -> list[list[str]]:
    answer = desk(floor).get(f"/shop/recall/{name}.csv")
    assert answer.status_code == 200
    return list(csv.reader(StringIO(answer.text.lstrip("\ufeff"))))[1:]


def test_a_trailer_of_which_nobody_has_told_stands_without_a_day(floor: Floor) -> None:
    assert listed(floor, "repack")[0][3] == ""
    assert "Nobody has told when" in read(floor, "/shop/recall")


def test_what_leaves_to_be_stored_is_listed_until_something_is_heard(floor: Floor) -> None:
    floor.change(
        "jobs", floor.job, work=["storage"], finished=NOW - 100 * DAY, opened=NOW - 101 * DAY
    )
    assert [row[0] for row in listed(floor, "stored")] == ["Alder Fork 1"]
    page = read(floor, "/shop/recall")
    assert "sms:5550100123?&body=" in page
    floor.send(run_stop())
    assert listed(floor, "stored") == []


@pytest.mark.slow
def test_tires_are_listed_by_the_oldest_of_the_newest_check(floor: Floor) -> None:
    floor.send(run_stop(made=NOW - DAY, tire_made__1L="0112"))
    floor.send(run_stop(made=NOW, tire_made__1L="0120", tire_made__1R="0220"))
    ((*_, since, _, years, _),) = listed(floor, "tires")
    # Week 1 of a year is its first full week from Sunday to Saturday (49 CFR 574.5).
    assert since == "2020-01-05"
    assert float(years) == pytest.approx((NOW.date() - date(2020, 1, 5)).days / 365.25, abs=0.06)


@pytest.mark.parametrize(
    ("codes", "oldest"),
    [
        (["0120"], date(2020, 1, 5)),
        (["0120", "5319"], date(2020, 1, 5)),
        (["128"], date(1999, 12, 31)),
        (["5420"], None),
        ([None, 7, ""], None),
        ([], None),
    ],
)
def test_the_oldest_date_code(codes: list[object], oldest: date | None) -> None:
    facts = {f"tire_made@{n}L": code for n, code in enumerate(codes)}
    if codes == ["0120", "5319"]:
        oldest = min(date(2020, 1, 5), oldest_tire({"tire_made@1L": "5319"}) or date.max)
    assert oldest_tire(facts) == oldest


MONTHS = {  # packed, today, months, whether so many have gone by
    "the day before": ("2025-01-31", "2026-01-30", 12, False),
    "on the day": ("2025-01-31", "2026-01-31", 12, True),
    "the day after": ("2025-01-31", "2026-02-01", 12, True),
    "a leap day": ("2024-02-29", "2025-02-28", 12, False),
    "after a leap day": ("2024-02-29", "2025-03-01", 12, True),
    "a month without that day": ("2025-01-31", "2025-02-28", 1, False),
    "over the new year": ("2025-12-15", "2026-01-15", 1, True),
}


@pytest.mark.parametrize("case", MONTHS)
def test_months_are_counted_as_a_calendar_does(case: str) -> None:
    packed, today, months, gone = MONTHS[case]
    assert (packed <= months_before(date.fromisoformat(today), months)) == gone


def test_a_trailers_miles_stand_on_the_page_to_print(floor: Floor) -> None:
    floor.change("jobs", floor.job, work=["bearings"], finished=NOW - timedelta(days=400))
    floor.send(run_stop(500, made=NOW - DAY))
    assert "500 mi" in read(floor, "/shop/recall")


@pytest.mark.slow
def test_a_long_list_has_each_trailer_once_and_the_longest_first(
    floor: Floor, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("webapp.shop.recall.PAGE", 2)
    monkeypatch.setattr("webapp.follow_up.recall.ALL", 3)
    whose = {"shop_id": floor.shop, "facts": {}, "customer_id": None}
    by_time = {f"Old {n}": {"packed": f"2020-0{n}-01", "driven_km": 0.0} for n in (1, 2, 3)}
    far = {"packed": (NOW - DAY).date().isoformat()}
    driven = {f"Far {n}": far | {"driven_km": 30_000.0 - n} for n in (1, 2)}
    for name, values in (by_time | driven).items():
        add(floor.app, "trailers", name=name, record_id=uuid7(), **whose, **values)
    wanted = [*by_time, *driven, "Alder Fork 1"]
    assert [row[0] for row in listed(floor, "repack")] == wanted
    seen, address = [], "/shop/recall"
    while address:
        page = read(floor, address)
        repack = page.partition("Tires by age")[0]
        seen += re.findall(r'href="/shop/trailers/\d+"><strong>([^<]*)<', repack)
        found = re.search(r'href="(/shop/recall\?after=[^"]*)"', repack)
        address = found[1] if found else ""
    assert seen == wanted


@pytest.mark.parametrize("after", ["repack", "repack.3.1", "hubs.0.1", "repack.0.x", "1"])
def test_a_page_that_is_none_is_refused(floor: Floor, after: str) -> None:
    assert desk(floor).get(f"/shop/recall?after={after}").status_code == 400


def test_who_is_asked_back_shows_what_is_undecided(floor: Floor) -> None:
    floor.send(run_stop(**HOT))
    assert "Stop now" in read(floor, "/shop/recall")
    assert listed(floor, "repack")[0][-1] == "Stop now: Left wheel: Smoke at this wheel"


@pytest.mark.parametrize(
    "sent", [{"months": "0"}, {"months": "61"}, {"miles": "99"}, {"miles": "x"}]
)
def test_a_figure_out_of_range_is_refused_and_nothing_is_kept(
    floor: Floor, sent: dict[str, str]
) -> None:
    assert desk(floor).post("/shop/recall", data=sent).status_code in (303, 422)
    assert floor.rows("shops")[0]["repack_months"] is None
    assert floor.rows("shops")[0]["repack_miles"] is None


@pytest.mark.slow
def test_a_reply_and_what_is_overdue_have_their_words_ready(floor: Floor) -> None:
    one = run_stop()
    floor.send(one)
    desk(floor).post(f"/shop/checks/{one['id']}", data={"reply": "Come on Monday & bring it."})
    page = read(floor, f"/shop/checks/{one['id']}")
    assert "about your check of Alder Fork 1: Come on Monday & bring it." in page
    assert "body=Pell%20Street%20Garage%2C%20about" in page
    floor.change("due", floor.due, by=NOW - DAY, record_id=None)
    assert "has not come back yet: Feel the hubs" in read(floor)


READERS = {"en": "Do not tow it before you have spoken to us", "es": "No lo remolque antes de"}


@pytest.mark.slow
@pytest.mark.parametrize("language", READERS)
@pytest.mark.parametrize("list_of", ["repack", "tires", "stored", "overdue"])
def test_a_text_to_send_says_that_the_trailer_is_not_cleared_until_it_is_decided(
    floor: Floor, language: str, list_of: str
) -> None:
    floor.change("customers", floor.customer, language=language, name="Bo Lund")
    floor.change("trailers", floor.trailer, name="Bo's & Ada's")
    late = {"finished": NOW - 400 * DAY, "opened": NOW - 401 * DAY}
    stop = run_stop(made=NOW - 450 * DAY, tire_made__1L="0112", **HOT)
    assert floor.send(stop).status_code == 200
    floor.change("jobs", floor.job, work=["bearings", "storage"], **late)
    floor.change("due", floor.due, by=NOW - 30 * DAY, record_id=None)
    assert READERS[language] in text_of(floor, list_of)
    desk(floor).post(f"/shop/checks/{stop['id']}", data={"text": "Towed in.", "decided": "y"})
    assert READERS[language] not in text_of(floor, list_of)


def text_of(floor: Floor, list_of: str) -> str:
    """The one text that a list offers, as its message to send has it."""
    page = read(floor, "/shop" if list_of == "overdue" else "/shop/recall")
    heads = {
        "repack": "Bearings",
        "tires": "Tires by age",
        "stored": "Stored",
        "overdue": "Overdue",
    }
    part = next(one for one in page.split("<h2>") if one.startswith(heads[list_of]))
    (sent,) = re.findall(r"sms:5550100123\?&body=([^\"]*)", part)
    (shown,) = re.findall(r"<textarea[^>]*>([^<]*)", part)
    assert unquote(sent) == shown
    return shown
