"""Finding by name, phone, plate and work order; lists by the page, sorted and narrowed."""

from __future__ import annotations

import re
from html import unescape
from typing import Any

import pytest

from tests.shop.test_inbox import came, desk
from tests.support.effort import few
from tests.support.floor import DAY, NOW, add, shop_floor
from tests.support.records import uuid7
from tests.support.shops import JOB, a_shop
from webapp.shop import lists, phones
from webapp.storage import finds


@pytest.fixture
def shop(app):
    found = a_shop(app)
    more = {"keep": "1", "plate": "ab-12 cd", "vin": "1zx9", "work_order": "WO 2041"}
    assert found.post("/shop/jobs/new", JOB | more).status_code == 302
    assert found.client.get("/shop/jobs/1").status_code == 200
    return found


FOUND = {
    "the name": ("green boat", True),
    "the beginnings of words": ("gre boa", True),
    "in another order and case": ("TRAILER Green", True),
    "the owner": ("lund", True),
    "owner and trailer": ("ada boat", True),
    "the plate": ("AB12", True),
    "the plate as written": ("ab-12", True),
    "the VIN": ("1ZX9", True),
    "the whole phone": ("555 0100", True),
    "the end of the phone": ("0100", True),
    "the work order": ("wo 2041", True),
    "a word that is not there": ("green hauler", False),
    "the middle of a word": ("reen", False),
    "nothing": ("", False),
    "signs only": ("%_*", False),
    "a long text": ("x" * 500, False),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", few(FOUND, 5))
def test_what_is_found_by_what(shop, case):
    text, there = FOUND[case]
    answer = shop.client.get("/shop/find", query_string={"q": text})
    assert answer.status_code == 200
    page = unescape(answer.text)
    assert ("Green boat trailer" in page) == there


# What is typed, and whether the job on hubs of the green boat trailer is among what is found.
BY_WORK = {
    "its word": ("bearing", True),
    "several of them": ("bearings", True),
    "the beginning of it": ("bear", True),
    "another word for it": ("hubs", True),
    "Spanish": ("balero", True),
    "the word of another country": ("rodamientos", True),
    "as many write it": ("masa", True),
    "without its accent": ("reten", True),
    "in capitals": ("MAZAS", True),
    "with whose it is": ("balero green", True),
    "with somebody else's": ("balero hauler", False),
    "other work": ("llanta", False),
    "two kinds of work, of which one was done": ("balero llanta", False),
    "two letters": ("ba", False),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", few(BY_WORK, 5))
def test_jobs_are_found_by_what_was_worked_on_in_any_words_for_it(shop, case):
    text, there = BY_WORK[case]
    page = unescape(shop.client.get("/shop/find", query_string={"q": text}).text)
    assert ("/shop/jobs/1" in page) == there, case


def test_another_shops_work_is_not_found(app, shop):
    other = a_shop(app, "Alder Fork Tool Library", "ines")
    assert "/shop/jobs/" not in other.client.get("/shop/find?q=balero").text.replace(
        "/shop/jobs/new", ""
    )


def test_another_shop_finds_none_of_it(app, shop):
    other = a_shop(app, "Alder Fork Tool Library", "ines")
    assert "Green boat" not in other.client.get("/shop/find?q=green").text
    assert other.client.get("/shop/find/customers?q=lund").json == {"found": []}
    assert shop.client.get("/shop/find/customers?q=lund").json["found"][0]["name"] == "Ada Lund"


@pytest.mark.slow
def test_what_was_stored_before_there_was_a_search_is_found(app, shop):
    with app.extensions["store"].writing() as connection:
        connection.execute(finds.finds.delete())
    assert "Green boat" not in shop.client.get("/shop/find?q=green").text
    finds.fill(app.extensions["store"])
    assert "Green boat" in shop.client.get("/shop/find?q=green").text


def listed(client: Any, address: str) -> list[str]:
    """The names on all pages of a list, in order."""
    names: list[str] = []
    while address:
        page = unescape(client.get(address).text)
        names += re.findall(r'class="row-link" href="/shop/[a-z]+/\d+"><span>\s*([^<]*?)\s*<', page)
        found = re.search(r'<a class="answer" href="([^"]*after=[^"]*)"', page)
        address = found[1] if found else ""
    return names


def test_every_list_has_each_row_once_on_some_page(app, monkeypatch):
    monkeypatch.setattr(lists, "PAGE", 3)
    floor, names = shop_floor(app), []
    for number in range(10):
        name = f"{'bB'[number % 2]}oat {number // 3}"
        names.append(name)
        whose = {"shop_id": floor.shop, "name": name}
        add(
            app, "trailers", **whose, facts={}, record_id=uuid7(), touched=NOW - (number // 4) * DAY
        )
        add(app, "customers", **whose, phone="", email="")
    client = desk(floor)
    recent = listed(client, "/shop/trailers")
    assert sorted(recent) == sorted([*names, "Alder Fork 1"])
    by_name = listed(client, "/shop/trailers?sort=name")
    assert by_name == sorted(by_name, key=str.casefold), "lower-case names do not come last"
    assert sorted(by_name) == sorted(recent)
    people = listed(client, "/shop/customers")
    assert sorted(people) == sorted([*names, "Alder Fork Tool Library"])


SHOWN = {"stop": True, "mend": False, "look": False, "overdue": True, "all": True}


@pytest.mark.slow
@pytest.mark.parametrize("show", SHOWN)
def test_a_list_is_narrowed_by_verdict_and_by_what_is_overdue(app, show):
    floor = shop_floor(app)
    came(floor, "stop", smoke__1L="yes")
    floor.change("due", floor.due, by=NOW - DAY)
    page = desk(floor).get(f"/shop/trailers?show={show}").text
    assert ("Alder Fork 1" in page) == SHOWN[show]


@pytest.mark.parametrize("query", ["show=safe", "sort=x", "after=x", "after=-1", "after=9" * 9])
def test_a_list_that_is_none_is_refused(app, query):
    answer = desk(shop_floor(app)).get(f"/shop/trailers?{query}")
    assert answer.status_code == 400


DIALLED = {
    "(555) 010-0142": "5550100142",
    "+1 555 010 0142": "+15550100142",
    "555.0142 ext. 3": "5550142",
    "555 0142 x12": "5550142",
    "ask Ada": "",
    "12": "",
    "": "",
    None: "",
    "555 0142?body=hi": "5550142",
}


@pytest.mark.parametrize("written", DIALLED)
def test_a_number_is_dialled_as_its_digits(written):
    """RFC 3966: a number in digits, a plus in front where it is global."""
    assert phones.dial(written) == DIALLED[written]
