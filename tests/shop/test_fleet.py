"""The lending desk: who has which trailer, out and back, and the codes that hang there."""

from __future__ import annotations

import re
from html import unescape
from typing import Any

import pytest
from flask import Flask

from tests.shop.test_inbox import HOT, desk, read
from tests.support.floor import NOW, Floor, add, run_stop, shop_floor
from tests.support.records import check_body, record, uuid7

NOOR = {"name": "Noor Vance", "phone": "(555) 010-0199"}


@pytest.fixture
def floor(app: Flask) -> Floor:
    """The desk's code hangs on the trailer."""
    return shop_floor(app).another_link(kind="standing", job_id=None, customer_id=None)


def walk(by: Any = NOOR, level: str = "nothing", check: str = "walkaround") -> Any:
    body = check_body(check=check, facts={"axles": 1}, date=NOW.date().isoformat())
    body["verdict"] = {"level": level, "findings": []}
    return record(made=NOW.isoformat(), body=body | ({"by": by} if by else {}))


GOES_OUT = {
    "a borrower's walk": (walk(), True),
    "a borrower's walk that stops": (walk(level="stop"), False),
    "a borrower's walk that asks for mending": (walk(level="mend"), False),
    "a walk by nobody named": (walk(by=None), False),
    "a stop on the road": (walk(check="run_stop"), False),
}


@pytest.mark.parametrize("case", GOES_OUT)
def test_a_trailer_goes_out_by_a_borrowers_walk(floor: Floor, case: str) -> None:
    sent, goes = GOES_OUT[case]
    assert floor.send(sent).status_code == 200
    page = read(floor, "/shop/fleet")
    assert ("Out since" in page) == goes
    assert ("tel:5550100199" in page) == goes


def test_out_and_back_are_two_events_and_the_name_goes_with_the_second(floor: Floor) -> None:
    floor.send(walk())
    floor.send(walk())  # walked again before setting off
    client = desk(floor)
    client.post(f"/shop/fleet/{floor.trailer}/back")
    client.post(f"/shop/fleet/{floor.trailer}/back")  # pressed twice
    rows = [(row["what"], row["name"], row["phone"]) for row in floor.rows("outings")]
    assert rows == [("out", "", ""), ("back", "", "")]
    client.post(f"/shop/fleet/{floor.trailer}/out", data=NOOR)
    assert "Noor Vance" in read(floor, "/shop/fleet")
    assert [row["what"] for row in floor.rows("outings")] == ["out", "back", "out"]


def test_the_next_borrower_goes_out_although_nobody_pressed_back(floor: Floor) -> None:
    floor.send(walk())
    floor.send(walk(by={"name": "Teo Marsh", "phone": ""}))
    assert "Teo Marsh" in read(floor, "/shop/fleet")
    assert [row["what"] for row in floor.rows("outings")] == ["out", "out"]


def test_the_desk_sees_the_undecided_verdict_not_the_newest(floor: Floor) -> None:
    floor.send(run_stop(**HOT))
    floor.send(walk())
    page = read(floor, "/shop/fleet")
    assert "Stop now" in page
    assert "Nothing found" not in page


@pytest.mark.parametrize("address", ["/shop/fleet", "/shop/fleet/codes"])
def test_every_lent_trailer_is_on_one_page_by_name(
    floor: Floor, address: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("webapp.shop.fleet.PAGE", 2)
    own = {"shop_id": floor.shop, "facts": {}, "customer_id": None}
    for name in ("zeppelin", "Aldo", "boat two"):
        add(floor.app, "trailers", name=name, record_id=uuid7(), **own)
    desk(floor).post("/shop/fleet/codes")
    names = ("Alder Fork 1", "Aldo", "boat two", "zeppelin")
    seen, next_one = [], address
    while next_one:
        page = read(floor, next_one)
        seen.append([name for name in names if f">{name}<" in page])
        found = re.search(r'href="([^"]*after=[0-9]+[^"]*)"', page)
        next_one = unescape(found[1]) if found else ""
    assert seen == [["Alder Fork 1", "Aldo"], ["boat two", "zeppelin"]]


def test_codes_are_made_for_the_shops_own_trailers_and_those_that_hang_stay(floor: Floor) -> None:
    own = {"shop_id": floor.shop, "facts": {}, "customer_id": None}
    add(floor.app, "trailers", name="Alder Fork 2", record_id=uuid7(), **own)
    add(floor.app, "trailers", name="Alder Fork 3", record_id=uuid7(), **own)
    hanging = floor.rows("links", kind="standing")
    assert "2 trailers of your own" in read(floor, "/shop/fleet")
    answer = desk(floor).post("/shop/fleet/codes")
    assert answer.location == "/shop/fleet/codes"
    assert floor.rows("links", kind="standing")[:1] == hanging
    assert len(floor.rows("links", kind="standing")) == 3
    for size in ("label", "page"):
        page = read(floor, f"/shop/fleet/codes?size={size}")
        assert page.count("/qr.svg") == 2, "the one put in by hand has no seed"
        assert "cannot be shown again" in page
    assert desk(floor).get("/shop/fleet/codes?size=huge").status_code == 400


ADDRESSES = {
    "https": ("https://pell.example", False),
    "plain http": ("http://pell.example", True),
    "this computer": ("https://localhost", True),
    "none set": ("", True),
}


@pytest.mark.parametrize("case", ADDRESSES)
def test_who_prints_codes_is_told_that_phones_may_not_reach_them(floor: Floor, case: str) -> None:
    address, doubtful = ADDRESSES[case]
    floor.app.config["ADDRESS"] = address
    assert ("Other phones may not reach it" in read(floor, "/shop/fleet/codes")) == doubtful
