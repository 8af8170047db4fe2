"""What the shop takes out: tables as CSV, a calendar, and a check on paper."""

from __future__ import annotations

import csv
import re
from datetime import UTC, date, datetime, timedelta
from html import unescape
from io import BytesIO, StringIO
from typing import Any
from zipfile import ZipFile

import pytest
from icalendar import Calendar
from pypdf import PdfReader

from tests.shop.test_inbox import came, desk
from tests.support.floor import DAY, NOW, Floor, add_due, run_stop, shop_floor
from tests.support.photo_files import headers
from tests.support.pictures import photo
from webapp.shop.print import check as check_print
from webapp.shop.tables import TABLES, guarded


def table(floor: Floor, name: str) -> list[dict[str, str]]:
    answer = desk(floor).get(f"/shop/files/{name}.csv")
    assert answer.status_code == 200
    assert answer.content_type == "text/csv; charset=utf-8"
    return list(csv.DictReader(StringIO(answer.data.decode("utf-8-sig"))))


# ---- tables -------------------------------------------------------------------------------------


@pytest.mark.slow
def test_the_table_of_checks_has_each_check_once_with_its_findings(floor):
    sent = [came(floor, "look"), came(floor, "stop", smoke__1L="yes")]
    rows = table(floor, "checks")
    assert [row["id"] for row in rows] == sent
    assert rows[1]["trailer"] == "Alder Fork 1"
    assert rows[1]["customer"] == "Alder Fork Tool Library"
    assert (rows[1]["level"], rows[1]["phone_level"]) == ("Stop now", "Stop now")
    assert "Stop now: Smoke at this wheel (Left wheel)" in rows[1]["findings"]


# A shop's units, and what then stands in the tables; kept are 24 km, 3 t and 32 km.
IN_UNITS = [
    ("us", {"gross_rating_lb": "6614"}, {"at_mi": "20"}, " 15 mi"),
    ("metric", {"gross_rating_kg": "3000"}, {"at_km": "32"}, " 24 km"),
]


@pytest.mark.slow
@pytest.mark.parametrize(("system", "trailer", "due", "answer"), IN_UNITS)
def test_numbers_are_in_the_shops_units_without_tails(floor, system, trailer, due, answer):
    floor.change("shops", floor.shop, units=system)
    floor.change("trailers", floor.trailer, facts={"axles": 1, "gross_rating": "3000 kg"})
    floor.send(run_stop(miles=None, run_distance=24.140159999999998))
    assert trailer.items() <= table(floor, "trailers")[0].items()
    assert due.items() <= table(floor, "due")[0].items()
    assert answer in table(floor, "checks")[0]["answers"]


@pytest.mark.slow
def test_what_was_typed_in_other_units_is_turned_into_the_shops(floor):
    floor.change("shops", floor.shop, units="metric")
    floor.send(run_stop(miles=20, air="68 degF"))
    answers = table(floor, "checks")[0]["answers"]
    assert " 32 km" in answers
    assert " 20 °C" in answers


def test_tables_name_things_and_count_none(app, floor):
    job = {"work": ["bearings", "storage"], "parts": {"seal": "SL 250"}, "note": "Both sides."}
    floor.change("jobs", floor.job, **job)
    row = table(floor, "jobs")[0]
    assert (row["trailer"], row["customer"]) == ("Alder Fork 1", "Alder Fork Tool Library")
    assert (row["who"], row["work"]) == ("Ines", "Hubs or bearings")
    assert (row["leaves"], row["seal"]) == ("It goes into storage", "SL 250")
    for name in TABLES:
        assert [head for head in (table(floor, name) or [{}])[0] if head.endswith("_id")] == []


def test_times_in_tables_are_those_of_the_shops_clocks(floor):
    floor.change("shops", floor.shop, zone="America/Denver")
    floor.change("jobs", floor.job, opened=datetime(2026, 7, 14, 18, 2, tzinfo=UTC))
    assert table(floor, "jobs")[0]["opened"] == "2026-07-14T12:02:00-06:00"


@pytest.mark.parametrize("name", [name for name in TABLES if name != "checks"])
def test_each_table_has_the_shops_own_rows_and_no_secrets(app, floor, name):
    other = shop_floor(app, "Other Shop")
    stop = came(floor, "stop")
    desk(floor).post(f"/shop/checks/{stop}", data={"text": "x"})
    app.test_client().post("/api/photos", data=photo(), headers=headers(photo(), link=floor.secret))
    rows = table(floor, name)
    assert len(rows) == 1
    assert not {"token_hash", "device_hash", "path", "password_hash"} & set(rows[0])
    assert len(table(other, name)) == (name not in ("notes", "photos"))


@pytest.mark.parametrize("name", ["staff", "shops", "mails", "pairs", "records", "tries", "x"])
def test_other_tables_are_not_taken_out(floor, name):
    assert desk(floor).get(f"/shop/files/{name}.csv").status_code == 404


def test_more_rows_than_one_slice_come_out_whole(floor, monkeypatch):
    monkeypatch.setattr("webapp.shop.tables.SLICE", 2)
    sent = [came(floor, "look") for _ in range(5)]
    assert [row["id"] for row in table(floor, "checks")] == sent


# A cell and what is written; the characters are those of OWASP's page on CSV injection.
CELLS = [
    ("=1+1", "'=1+1"),
    ("+1", "'+1"),
    ("-1", "'-1"),
    ("@SUM(A1)", "'@SUM(A1)"),
    ("\tx", "'\tx"),
    ("\rx", "'\rx"),
    ("＝1", "'＝1"),
    ("1=1", "1=1"),
    ('plain, "quoted"', 'plain, "quoted"'),
    ("", ""),
    (-3.5, -3.5),
    (None, None),
    ({"b": 1, "a": "ü"}, '{"a": "ü", "b": 1}'),
]


@pytest.mark.parametrize(("cell", "written"), CELLS)
def test_a_cell_is_never_a_formula(cell, written):
    assert guarded(cell) == written


def test_a_name_with_comma_quote_and_line_break_comes_back_as_it_was(floor):
    name = 'Fork, "the" long\none ½'
    floor.change("trailers", floor.trailer, name=name)
    assert table(floor, "trailers")[0]["trailer"] == name


# ---- everything ---------------------------------------------------------------------------------


@pytest.mark.slow
def test_everything_is_one_file_of_the_shop_alone_with_its_photos(app, floor):
    other = shop_floor(app, "Other Shop")
    other.change("trailers", other.trailer, name="Not yours")
    body = photo()
    app.test_client().post("/api/photos", data=body, headers=headers(body, link=floor.secret))
    answer = desk(floor).get("/shop/files/everything.zip")
    assert answer.mimetype == "application/zip"
    found = ZipFile(BytesIO(answer.data))
    assert len([name for name in found.namelist() if name.startswith("photos/")]) == 1
    assert b"Alder Fork 1" in found.read("tables/trailers.jsonl")
    assert not any(b"Not yours" in found.read(name) for name in found.namelist())
    assert list(app.extensions["store"].data.glob("tmp*")) == []


# ---- the calendar -------------------------------------------------------------------------------


def make_feed(floor: Floor) -> str:
    page = unescape(desk(floor).post("/shop/files/calendar", follow_redirects=True).text)
    found = re.search(r"http://[^<]+(/calendar/[A-Za-z0-9_-]{43}\.ics)", page)
    assert found
    return found[1]


def test_the_calendar_has_an_all_day_event_for_each_open_due_check_with_a_day(app, floor):
    add_due(app, floor.shop, floor.trailer, floor.job, what="Torque, again; ½", by=NOW + DAY)
    add_due(app, floor.shop, floor.trailer, floor.job, by=None)
    add_due(app, floor.shop, floor.trailer, floor.job, dropped=NOW)
    floor.change("customers", floor.customer, phone="555 0107")
    answer = app.test_client().get(make_feed(floor))
    assert answer.content_type == "text/calendar; charset=utf-8"
    found = Calendar.from_ical(answer.data)
    events = {str(event["summary"]): event for event in found.walk("VEVENT")}
    assert set(events) == {"Alder Fork 1: Feel the hubs", "Alder Fork 1: Torque, again; ½"}
    one = events["Alder Fork 1: Torque, again; ½"]
    day = (NOW + DAY).astimezone().date()
    assert (one.decoded("dtstart"), one.decoded("dtend")) == (day, day + timedelta(days=1))
    assert b"555 0107" not in answer.data


def test_the_file_is_as_rfc_5545_has_it(app, floor):
    """Lines end in CRLF and have at most 75 octets (3.1); PRODID, VERSION, UID, DTSTAMP (3.6)."""
    floor.change("due", floor.due, what="Räder " * 30)
    data = app.test_client().get(make_feed(floor)).data
    lines = data.split(b"\r\n")
    assert lines[0] == b"BEGIN:VCALENDAR"
    assert lines[-1] == b""
    assert all(len(line) <= 75 for line in lines)
    assert b"\n" not in data.replace(b"\r\n", b"")
    found = Calendar.from_ical(data)
    assert found["version"] == "2.0"
    (event,) = found.walk("VEVENT")
    assert {"UID", "DTSTAMP", "DTSTART"} <= set(event)
    assert event.decoded("dtstamp").utcoffset() == timedelta(0)
    assert isinstance(event.decoded("dtstart"), date)
    assert found.errors == event.errors == []


def test_an_event_keeps_its_uid_from_one_fetch_to_the_next(app, floor):
    address, client = make_feed(floor), app.test_client()
    uids = [Calendar.from_ical(client.get(address).data).walk("VEVENT")[0]["uid"] for _ in "ab"]
    assert uids[0] == uids[1]


def test_a_new_address_puts_the_old_one_out_of_use_and_stopping_both(app, floor):
    first, client = make_feed(floor), app.test_client()
    second = make_feed(floor)
    assert [client.get(address).status_code for address in (first, second)] == [404, 200]
    desk(floor).post("/shop/files/calendar/stop")
    assert client.get(second).status_code == 404


@pytest.mark.slow
def test_reading_the_page_again_makes_no_second_address(app, floor):
    secret = make_feed(floor).split("/")[2].removesuffix(".ics")
    assert desk(floor).post("/shop/files/calendar").status_code == 302
    first = desk(floor).get("/shop/files").text
    assert secret not in first
    assert desk(floor).get("/shop/files").text == first
    assert secret not in str(floor.rows("shops"))


@pytest.mark.parametrize("secret", ["x" * 43, "x", "ü" * 43])
def test_an_unknown_address_is_none(app, floor, secret):
    assert app.test_client().get(f"/calendar/{secret}.ics").status_code == 404


def test_one_shops_calendar_has_nothing_of_anothers(app, floor):
    other = shop_floor(app, "Other Shop")
    other.change("trailers", other.trailer, name="Not yours")
    assert b"Not yours" not in app.test_client().get(make_feed(floor)).data


# ---- paper --------------------------------------------------------------------------------------


def printed(floor: Floor, record: str) -> Any:
    answer = desk(floor).get(f"/shop/checks/{record}.pdf")
    assert answer.status_code == 200
    assert answer.mimetype == "application/pdf"
    assert answer.data.startswith(b"%PDF-")
    assert answer.data.rstrip().endswith(b"%%EOF")
    return answer.data


def spoken(monkeypatch: pytest.MonkeyPatch, floor: Floor, record: str) -> str:
    """All text that was put on the sheets."""
    said: list[str] = []
    told = check_print.Document.told
    monkeypatch.setattr(
        check_print.Document, "told", lambda sheet, text: said.append(text) or told(sheet, text)
    )
    printed(floor, record)
    return "\n".join(said)


@pytest.mark.slow
def test_a_print_has_verdict_findings_answers_notes_and_proof(floor, monkeypatch):
    stop = came(floor, "look", smoke__1L="yes")
    sent = {"text": "Towed in.", "reply": "Stay there.", "decided": "y"}
    desk(floor).post(f"/shop/checks/{stop}", data=sent)
    text = spoken(monkeypatch, floor, stop)
    for words in (
        *("Alder Fork 1", "On the phone: Look again", "On the server: Stop now"),
        *("Smoke at this wheel (Left wheel)", "20 mi", "Stay there.", "555 0142"),
        floor.rows("records")[0]["hash"],
    ):
        assert words in text
    assert "Towed in." not in text, "what is for the shop only never goes out"


SIGNS_TYPED = {
    "plain": ("Left hub", "Left hub"),
    "an emoji the font may lack": ("Good \U0001f44d\U0001f3fd", "Good [thumbs up sign]"),
    "two joined": ("\U0001f469\u200d\U0001f527", "[woman][wrench]"),
    "an ideograph": ("\u8eca", "[U+8ECA]"),
    "lines": ("one\ntwo", "one\ntwo"),
    "a tab from a table": ("Nuts\t90 ft-lb", "Nuts 90 ft-lb"),
}


@pytest.mark.parametrize("case", SIGNS_TYPED)
@pytest.mark.parametrize("fonts", ["with", "without"])
def test_a_sign_that_cannot_be_drawn_is_named(monkeypatch, tmp_path, case, fonts):
    if fonts == "without":
        monkeypatch.setattr(check_print, "FONTS", tmp_path)
    typed, printed = SIGNS_TYPED[case]
    sheet = check_print.Document("x")
    sheet.face(10)
    told = sheet.told(typed)
    sheet.close_fonts()
    assert told == printed


LONG = "as long as more than one line of what it stands in, and then some more of it, " * 3
ROWS = {
    "a question that is longer": ("Asked " + LONG, "Told"),
    "an answer that is longer": ("Asked", "Told " + LONG),
    "neither": ("Asked", "Told"),
}


@pytest.mark.parametrize("row", ROWS)
def test_no_answer_is_printed_over_another_or_over_two_sheets(app, row):
    ask, text = ROWS[row]
    with app.test_request_context():
        sheet = check_print.Document("x")
        answers = [{"ask": ask, "where": "", "text": text}] * 60
        check_print.answered(sheet, {"answers": answers})
        paper = bytes(sheet.output())
        sheet.close_fonts()
    for page in PdfReader(BytesIO(paper)).pages:
        told: list[str] = []
        places: list[tuple[float, float]] = []

        def read(text: str, _, at: list[float], *_rest, told=told, places=places) -> None:
            if text.strip():
                told.append(text)
                places.append((round(at[4]), round(at[5])))

        page.extract_text(visitor_text=read)
        assert len(places) == len(set(places)) > 1
        assert " ".join(told).count("Asked") == " ".join(told).count("Told")


@pytest.mark.slow
def test_a_print_carries_the_checks_photos(app, floor):
    check = run_stop()
    floor.send(check)
    plain = printed(floor, check["id"])
    for _ in range(2):
        sent = headers(photo(), record=check["id"], link=floor.secret)
        assert app.test_client().post("/api/photos", data=photo(), headers=sent).status_code == 200
    assert b"/Subtype /Image" not in plain
    assert b"/Subtype /Image" in printed(floor, check["id"])


@pytest.mark.slow
def test_a_missing_photo_is_named_and_the_rest_is_printed(app, floor, monkeypatch):
    check = run_stop()
    floor.send(check)
    sent = headers(photo(), record=check["id"], link=floor.secret)
    app.test_client().post("/api/photos", data=photo(), headers=sent)
    (app.extensions["store"].data / floor.rows("photos")[0]["path"]).unlink()
    assert "the photo is missing" in spoken(monkeypatch, floor, check["id"])


@pytest.mark.parametrize("level", ["stop", "mend", "look", "nothing", "unchecked"])
def test_each_sign_is_drawn_as_its_own_shape_without_colour(level, monkeypatch, tmp_path):
    monkeypatch.setattr(check_print, "FONTS", tmp_path)
    sheet = check_print.Document("x")
    sheet.level_sign(level, 20, 20)
    drawn = bytes(sheet.pages[1].contents)
    corners = {"stop": 7, "mend": 2, "nothing": 3, "unchecked": 3}
    if level == "look":
        assert drawn.count(b" c\n") or drawn.count(b" c ")
    else:
        assert len(re.findall(rb" l\b", drawn)) >= corners[level]
    assert not re.search(rb"(?<!1 1 1 )\b(?:[\d.]+ ){3}(?:rg|RG)\b", drawn)


@pytest.mark.parametrize("fonts", ["with", "without"])
def test_any_letter_can_be_printed_whatever_fonts_there_are(floor, monkeypatch, tmp_path, fonts):
    if fonts == "without":
        monkeypatch.setattr(check_print, "FONTS", tmp_path)
    floor.change("trailers", floor.trailer, name="Łódź − 車 ½ “x” 🚚")
    printed(floor, came(floor, "stop", smoke__1L="yes"))
