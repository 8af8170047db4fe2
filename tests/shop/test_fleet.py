"""The lending desk: who has which trailer, out and back, and the codes that hang there."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
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


def walk(
    by: Any = NOOR, level: str = "nothing", check: str = "walkaround", made: datetime = NOW
) -> Any:
    body = check_body(check=check, facts={"axles": 1}, date=NOW.date().isoformat())
    body["verdict"] = {"level": level, "findings": []}
    return record(made=made.isoformat(), body=body | ({"by": by} if by else {}))


def brought_back(by: Any = NOOR, made: datetime = NOW) -> Any:
    body = {"what": "back", "trailer": None} | ({"by": by} if by else {})
    return record(kind="outing", made=made.isoformat(), body=body)


HOUR = timedelta(hours=1)
TEO = {"name": "Teo Marsh", "phone": ""}
AGO = NOW - 5 * HOUR
# What arrives, in this order, and who has the trailer then.
COMES_AND_GOES = {
    "out": ([walk(made=AGO)], "Noor Vance"),
    "out and back": ([walk(made=AGO), brought_back(made=AGO + HOUR)], None),
    "out and back, back arriving first": ([brought_back(made=AGO + HOUR), walk(made=AGO)], None),
    "back told twice": (
        [walk(made=AGO), *(brought_back(made=AGO + n * HOUR) for n in (1, 2))],
        None,
    ),
    "back without ever going out": ([brought_back()], None),
    "back by somebody else than has it": (
        [walk(made=AGO), walk(TEO, made=AGO + HOUR), brought_back(made=AGO + 2 * HOUR)],
        "Teo Marsh",
    ),
    "back of the first after the second went out": (
        [walk(made=AGO), walk(TEO, made=AGO + 2 * HOUR), brought_back(made=AGO + HOUR)],
        "Teo Marsh",
    ),
    "the walk of the first after the second went out": (
        [walk(TEO, made=AGO + HOUR), walk(made=AGO)],
        "Teo Marsh",
    ),
    "out again after coming back": (
        [walk(made=AGO), brought_back(made=AGO + HOUR), walk(made=AGO + 2 * HOUR)],
        "Noor Vance",
    ),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", COMES_AND_GOES)
def test_who_has_the_trailer_after_what_phones_sent(floor: Floor, case: str) -> None:
    sent, holder = COMES_AND_GOES[case]
    for one in sent:
        answer = floor.send(one)
        assert answer.status_code == 200, answer.text
    page = read(floor, "/shop/fleet")
    assert ("Out since" in page) == (holder is not None)
    assert [name for name in ("Noor Vance", "Teo Marsh") if name in page] == [holder] * bool(holder)


def test_the_desk_sees_that_the_borrower_said_it_is_back(floor: Floor) -> None:
    floor.send(walk(made=AGO))
    floor.send(brought_back())
    assert "the borrower says so" in read(floor, "/shop/fleet")
    desk(floor).post(f"/shop/fleet/{floor.trailer}/out", data=NOOR)
    desk(floor).post(f"/shop/fleet/{floor.trailer}/back")
    assert "the borrower says so" not in read(floor, "/shop/fleet")


def test_a_job_s_link_and_one_taken_back_bring_no_trailer_back(floor: Floor) -> None:
    floor.send(walk(made=AGO))
    assert floor.another_link().send(brought_back()).status_code == 200
    floor.change("links", floor.link, revoked=NOW)
    assert floor.send(brought_back()).status_code == 200
    assert "Out since" in read(floor, "/shop/fleet")


WRONG = {
    "another event": {"what": "gone"},
    "no event": {"what": None},
    "a name that is none": {"by": {"name": "", "phone": ""}},
    "a trailer that is none": {"trailer": "seven"},
    "more than is asked": {"note": "scratched"},
}


@pytest.mark.parametrize("case", WRONG)
def test_what_is_no_outing_is_refused(floor: Floor, case: str) -> None:
    one = brought_back()
    one["body"] |= WRONG[case]
    assert floor.send(one).status_code == 422


@pytest.mark.slow
def test_outings_go_with_the_trailer_into_the_one_it_is(floor: Floor) -> None:
    """Two rows for one trailer: the desk knows who has it, merged and parted again."""
    own = {"shop_id": floor.shop, "facts": {}, "customer_id": None}
    kept = add(floor.app, "trailers", name="Alder Fork one", record_id=uuid7(), **own)
    floor.send(walk(made=AGO))
    client = desk(floor)
    client.post(f"/shop/trailers/{floor.trailer}/merge", data={"into": kept})
    assert [row["trailer_id"] for row in floor.rows("outings")] == [kept]
    assert "Noor Vance" in read(floor, "/shop/fleet")
    client.post(f"/shop/trailers/{floor.trailer}/part")
    assert [row["trailer_id"] for row in floor.rows("outings")] == [floor.trailer]
    assert "Noor Vance" in read(floor, "/shop/fleet")


GOES_OUT = {
    "a borrower's walk": (walk(), True),
    "a borrower's walk that stops": (walk(level="stop"), False),
    "a borrower's walk that asks for mending": (walk(level="mend"), False),
    "a walk by nobody named": (walk(by=None), False),
    "a stop on the road": (walk(check="run_stop"), False),
}


@pytest.mark.slow
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


@pytest.mark.slow
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


# ---- two at the desk ----------------------------------------------------------------------------

BO, INES = {"name": "Bo Quist", "phone": "555 0101"}, {"name": "Ines Roca", "phone": "555 0102"}


def seen(floor: Floor) -> dict[str, str]:
    """What the list, as it is now, sends with its form or its button: which event it shows."""
    page = read(floor, "/shop/fleet")
    found = re.search(r'name="last" value="(\d+)"|/back\?last=(\d+)', page)
    assert found
    return {"last": found[1] or found[2]}


def holder(floor: Floor) -> str | None:
    last = floor.rows("outings")[-1]
    return last["name"] if last["what"] == "out" else None


def lent_to(floor: Floor, who: dict[str, str], page: dict[str, str]) -> Any:
    address = f"/shop/fleet/{floor.trailer}/out"
    return desk(floor).post(address, data=who | page, follow_redirects=True)


def is_back(floor: Floor, page: dict[str, str]) -> Any:
    address = f"/shop/fleet/{floor.trailer}/back"
    return desk(floor).post(address, query_string=page, follow_redirects=True)


def test_who_has_it_is_not_painted_over_by_an_older_list(floor: Floor) -> None:
    page = seen(floor)
    lent_to(floor, BO, page)
    told = lent_to(floor, INES, page)
    assert "went out to somebody else" in told.text
    assert "Bo Quist" in told.text
    assert holder(floor) == "Bo Quist"
    is_back(floor, seen(floor))
    lent_to(floor, INES, seen(floor))
    assert holder(floor) == "Ines Roca"


def test_the_same_form_twice_is_no_other_borrower(floor: Floor) -> None:
    page = seen(floor)
    for _ in range(2):
        assert "somebody else" not in lent_to(floor, BO, page).text
    assert [row["name"] for row in floor.rows("outings")] == ["Bo Quist"]


def test_back_of_an_older_list_does_not_empty_who_has_it_since(floor: Floor) -> None:
    lent_to(floor, BO, seen(floor))
    page = seen(floor)
    is_back(floor, page)
    lent_to(floor, INES, seen(floor))
    assert "went out to somebody else" in is_back(floor, page).text
    assert (holder(floor), floor.rows("outings")[-1]["phone"]) == ("Ines Roca", "555 0102")
    is_back(floor, seen(floor))
    assert "somebody else" not in is_back(floor, page).text
    assert holder(floor) is None
