"""Customers and trailers from a spreadsheet: looked at first, taken in, undone for a while."""

from __future__ import annotations

import csv
from io import BytesIO, StringIO
from typing import Any

import pytest
from flask import Flask

from tests.support.shops import TOKEN, Shop, a_shop, dump, finished_job
from webapp.shop import spreadsheet, taking_in
from webapp.storage.models import customers, intakes, trailers

TABLE = """trailer,plate,vin,customer,phone,email
Green boat trailer,ab-12,1HG,Ada Lund,555 0100,ada@example.org
Tilt bed,,,Ada Lund,555 0100,
Utility 6x10,CD-34,,,,
"""


def send(shop: Shop, text: str | bytes, kind: str = "trailers", name: str = "ours.csv") -> Any:
    token = TOKEN.search(shop.client.get("/shop/take-in").text)
    assert token
    body = text.encode() if isinstance(text, str) else text
    sent = {"csrf_token": token[1], "kind": kind, "file": (BytesIO(body), name)}
    return shop.answered(shop.client.post("/shop/take-in", data=sent))


def looked_at(shop: Shop, text: str | bytes, kind: str = "trailers") -> tuple[str, str]:
    """The address of the preview and what it says."""
    answer = send(shop, text, kind)
    assert answer.status_code == 302, answer.text
    return answer.location, shop.client.get(answer.location).text


def take(shop: Shop, address: str, **more: str) -> Any:
    return shop.post(address, {name.replace("_", "-"): value for name, value in more.items()})


def rows(app: Flask, table: Any) -> list[Any]:
    with app.extensions["store"].reading() as connection:
        return list(connection.execute(table.select().order_by(table.c.id)).all())


def test_a_table_is_looked_at_taken_in_found_and_undone(app, shop):
    before = dump(app)
    address, page = looked_at(shop, TABLE)
    assert "To be taken in: 3. Here already: 0. To be put right: 0." in page
    assert "Green boat trailer of Ada Lund, new" in page
    assert dump(app) | {"intakes": 0} == before | {"intakes": 0}, "nothing is stored before"
    assert take(shop, address).status_code == 302
    assert [row.name for row in rows(app, customers)] == ["Ada Lund"], "one person, two rows"
    assert [(row.name, row.plate) for row in rows(app, trailers)] == [
        ("Green boat trailer", "AB-12"),
        ("Tilt bed", ""),
        ("Utility 6x10", "CD-34"),
    ]
    assert "Tilt bed" in shop.client.get("/shop/find?q=lund").text
    page = shop.client.get(address).text
    assert "3 trailers, 1 customer" in page
    assert "Dana" in page
    shop.press(f"{address}/undo", address)
    assert rows(app, customers) == rows(app, trailers) == []
    assert "Tilt bed" not in shop.client.get("/shop/find?q=lund").text
    assert rows(app, intakes)[0].text == "", "no names are kept of a file that is in"


def test_taking_in_twice_stores_once(app, shop):
    address, _ = looked_at(shop, TABLE)
    token = TOKEN.search(shop.client.get(address).text)[1]
    for _ in "ab":
        assert shop.client.post(address, data={"csrf_token": token}).status_code == 302
    assert len(rows(app, trailers)) == 3


def test_what_has_got_something_of_its_own_stays_when_it_is_undone(app, shop):
    address, _ = looked_at(shop, TABLE)
    take(shop, address)
    first = rows(app, trailers)[0]
    fields = {"trailer": str(first.id), "customer": "", "fact:axles": "1", "finish": "1"}
    page = f"/shop/jobs/new?trailer={first.id}"
    assert shop.post("/shop/jobs/new", fields, page).status_code == 302
    shop.press(f"{address}/undo", address)
    assert [row.name for row in rows(app, trailers)] == ["Green boat trailer"]
    assert [row.name for row in rows(app, customers)] == ["Ada Lund"], "it is still hers"


def test_what_is_here_already_stays_out_unless_it_is_ticked(app, shop):
    take(shop, looked_at(shop, TABLE)[0])
    address, page = looked_at(shop, TABLE)
    assert "To be taken in: 0. Here already: 3." in page
    take(shop, address, all_the_same="3")
    assert [row.name for row in rows(app, trailers)].count("Tilt bed") == 2
    assert len(rows(app, customers)) == 1, "her trailer is hers, she is not doubled"


@pytest.mark.slow
def test_a_thrown_away_file_leaves_nothing(app, shop):
    before = dump(app)
    address, _ = looked_at(shop, TABLE)
    shop.press(f"{address}/drop", address)
    assert dump(app) == before


# A second row beside "Green boat trailer,AB-12,1HG,Ada Lund,555 0100,", and what is said of it.
SECONDS = [
    ("Other,,1hg,,,", "The same as row 2"),
    ("Other,ab12,,,,", "The same as row 2"),
    ("Gréen BOAT trailer,,,ada lund,,", "The same as row 2"),
    ("Green boat trailer,,,Bo Ek,,", "Green boat trailer of Bo Ek, new"),
    ("Other,,,Ada Lund,555-0100,", "Other of Ada Lund, who is here already"),
    ("Other,,,Ada Lund,555 0199,", "Another Ada Lund with another phone"),
]


@pytest.mark.parametrize(("second", "said"), SECONDS, ids=[one for one, _ in SECONDS])
def test_doubles_within_the_file_are_seen(shop, second, said):
    head = "trailer,plate,vin,customer,phone,email\nGreen boat trailer,AB-12,1HG,Ada Lund,555 0100,"
    assert said in looked_at(shop, f"{head}\n{second}\n")[1]


# A row of trailer, plate, vin, customer, phone, email, and what is said of it.
WRONG = {
    ",AB-12,,,,": "Row 2, trailer:</strong> Write a name.",
    f"{'x' * 81},,,,,": "Row 2, trailer:</strong> <q>",
    f"Boat,{'x' * 17},,,,": "Use 16 characters at most.",
    f"Boat,,{'x' * 21},,,": "Use 20 characters at most.",
    f"Boat,,,{'x' * 81},,": "Use 80 characters at most.",
    f"Boat,,,Ada,{'5' * 41},": "Use 40 characters at most.",
    "Boat,,,Ada,,nobody": "Row 2, email:</strong> <q>nobody</q> Write it like name@example.org",
    "Boat,,,,555 0100,": "Row 2, customer:</strong> There is a phone or email",
}


@pytest.mark.slow
@pytest.mark.parametrize("row", WRONG)
def test_a_row_that_is_wrong_is_told_by_row_and_column_and_stays_out(app, shop, row):
    head = "trailer,plate,vin,customer,phone,email"
    address, page = looked_at(shop, f"{head}\n{row}\nRight,,,,,\n")
    assert WRONG[row] in page
    assert "To be taken in: 1. Here already: 0. To be put right: 1." in page
    take(shop, address)
    assert [one.name for one in rows(app, trailers)] == ["Right"]


def test_two_customers_of_one_name_need_a_phone(app, shop):
    people = "customer,phone\nAda Lund,555 0100\nAda Lund,555 0199\n"
    take(shop, looked_at(shop, people, "customers")[0])
    assert len(rows(app, customers)) == 2
    assert "Two customers are called Ada Lund" in looked_at(shop, "trailer,owner\nBoat,Ada Lund")[1]
    address, _ = looked_at(shop, "trailer,owner,tel\nBoat,Ada Lund,(555) 0199\n")
    take(shop, address)
    assert rows(app, trailers)[0].customer_id == rows(app, customers)[1].id


# How a file may be written; each has "Åsa Öberg" with a trailer called "Räv, liten".
TEXT = 'trailer{0}customer\n"Räv, liten"{0}Åsa Öberg\n'
WRITTEN = {
    "UTF-8": TEXT.format(",").encode(),
    "UTF-8 with its mark": TEXT.format(",").encode("utf-8-sig"),
    "UTF-16 as a spreadsheet's text": TEXT.format("\t").encode("utf-16"),
    "Windows-1252": TEXT.format(";").encode("cp1252"),
    "Latin-1": TEXT.format(";").encode("latin-1"),
    "tabs": TEXT.format("\t").encode(),
    "semicolons": TEXT.format(";").encode(),
    "ends of lines of two characters": TEXT.format(",").replace("\n", "\r\n").encode(),
    "ends of lines of an old machine": TEXT.format(",").replace("\n", "\r").encode(),
    "heads in other words": TEXT.format(",").replace("customer", "Owner").encode(),
    "empty lines": TEXT.format(",").replace("\n", "\n\n").encode(),
    "a column without a name": TEXT.format(",").replace("customer", "customer,").encode(),
}


@pytest.mark.parametrize("way", WRITTEN)
def test_a_table_is_read_however_it_was_written(app, shop, way):
    take(shop, looked_at(shop, WRITTEN[way])[0])
    assert [row.name for row in rows(app, customers)] == ["Åsa Öberg"]
    assert [row.name for row in rows(app, trailers)] == ["Räv, liten"]


# A file of which no rows can be read, and what is said.
UNREADABLE = {
    "nothing": (b"", "The file is empty"),
    "spaces": (b" \n ", "The file is empty"),
    "a workbook": (b"PK\x03\x04" + bytes(40), "This is no CSV"),
    "a picture": (b"\xff\xd8\xff\xe0\0\0\0", "This is no CSV"),
    "no head": (b"Boat,AB-12\n", "names no column trailer"),
    "a head twice": (b"trailer,name\nBoat,Boat\n", "Two columns are called trailer"),
    "no rows": (b"trailer\n\n", "There is no row"),
    "too many rows": (b"trailer\n" + b"Boat\n" * 5001, "5001 rows are in it"),
    "a cell without end": (b'trailer\n"' + b"x" * 200_000, "cannot be told apart"),
}


@pytest.mark.parametrize("what", UNREADABLE)
def test_a_file_that_is_none_is_refused_in_words(app, shop, what):
    body, said = UNREADABLE[what]
    before = dump(app)
    answer = send(shop, body)
    assert answer.status_code == 422
    assert said in answer.text
    assert dump(app) | {"refused": 0} == before | {"refused": 0}


@pytest.mark.slow
def test_the_most_rows_are_taken(shop):
    body = "trailer\n" + "".join(f"Boat {n}\n" for n in range(spreadsheet.MOST_ROWS))
    assert "To be taken in: 5,000." in looked_at(shop, body)[1]


@pytest.mark.slow
def test_no_file_and_no_kind_are_told(shop):
    assert "Pick a file." in shop.post("/shop/take-in").text
    assert "Say what is in it." in shop.post("/shop/take-in", {"kind": "jobs"}).text


@pytest.mark.slow
def test_what_goes_out_comes_in_again_as_it_was(app, shop):
    """The shop's own table of trailers, apostrophes in front of formulas and all."""
    finished_job(shop)
    facts = "gross_rating_lb,brakes,axles\n=Boat,'+1,3500,electric,2\n"
    take(shop, looked_at(shop, f"trailer,plate,{facts}")[0])
    out = shop.client.get("/shop/files/trailers.csv").data
    other = a_shop(app, "Alder Fork Tool Library", "ines")
    take(other, looked_at(other, out)[0])
    own, theirs = (
        [(t.name, t.plate, t.facts) for t in rows(app, trailers) if t.shop_id == one.id]
        for one in (shop, other)
    )
    assert own == theirs
    assert own[1] == ("=Boat", "+1", {"gross_rating": "3500 lb", "brakes": "electric", "axles": 2})


# A cell of a question about the trailer, and what is said of it.
ANSWERS = {
    ("brakes", "steam"): "Write one of these:",
    ("axles", "nine"): "Write one of these:",
    ("gross_rating_lb", "much"): "Write a number from",
    ("gross_rating_kg", "900000"): "Write a number from",
}


@pytest.mark.parametrize("case", ANSWERS, ids=str)
def test_an_answer_that_is_none_is_told_by_its_column(shop, case):
    page = looked_at(shop, f"trailer,{case[0]}\nBoat,{case[1]}\n")[1]
    assert f"Row 2, {case[0]}" in page
    assert ANSWERS[case] in page


@pytest.mark.parametrize("kind", taking_in.KINDS)
def test_the_empty_table_is_understood(shop, kind):
    answer = shop.client.get(f"/shop/take-in/{kind}.csv")
    head = next(csv.reader(StringIO(answer.data.decode("utf-8-sig"))))
    assert head[0] == taking_in.NEEDED[kind]
    body = answer.data + ("Boat" + "," * (len(head) - 1)).encode()
    assert "To be taken in: 1." in looked_at(shop, body, kind)[1]


@pytest.mark.slow
def test_a_forgotten_customers_name_waits_in_no_file(app, shop):
    take(shop, looked_at(shop, TABLE)[0])
    looked_at(shop, TABLE)
    customer = rows(app, customers)[0].id
    shop.post(f"/shop/customers/{customer}/delete")
    assert "Ada Lund" not in repr(dump(app))


@pytest.mark.slow
def test_after_a_while_it_can_no_longer_be_undone(app, shop):
    address, _ = looked_at(shop, TABLE)
    take(shop, address)
    with app.extensions["store"].writing() as connection:
        old = intakes.c.taken.type.process_result_value("2026-01-01T00:00:00.000+00:00", None)
        connection.execute(intakes.update().values(taken=old))
    assert shop.press(f"{address}/undo", "/shop/take-in").status_code == 400
    assert len(rows(app, trailers)) == 3


@pytest.mark.long
def test_what_a_table_tells_of_the_bearings_counts_at_once(shop):
    address, _ = looked_at(shop, "trailer,service_year,service_month\nTilt bed,2020,3\n")
    take(shop, address)
    asked_back = shop.client.get("/shop/recall/repack.csv").text
    (line,) = [one for one in asked_back.splitlines() if "Tilt bed" in one]
    assert "2020" in line
