"""Several *Stop now* and *Mend* of one trailer at once: each is told wherever the worst is."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from html import unescape
from types import SimpleNamespace
from typing import Any

import pytest
from flask import Flask
from sqlalchemy import event

from tests.shop.test_inbox import desk, listed, read
from tests.shop.test_stop_now import text_of_a_new_link
from tests.support.floor import DAY, NOW, OTHER_PHONE, Floor, add, add_due, run_stop, sorted_floor
from tests.support.records import HEADERS, error_of, uuid7
from tests.support.shops import read_link
from webapp.commands import mail
from webapp.shop import stands

HOUR = timedelta(hours=1)
LEFT, RIGHT = {"smoke__1L": "yes"}, {"smoke__1R": "yes"}


@pytest.fixture
def floor(app: Flask) -> Floor:
    """With a *Stop now* at either wheel, the left one's older, asked back and overdue."""
    made = sorted_floor(app)
    made.change("jobs", made.job, work=["bearings"], finished=NOW - 400 * DAY)
    made.change("due", made.due, by=NOW - 2 * DAY)
    made.change("customers", made.customer, phone="555 0123")
    made.another_link(kind="standing", job_id=None, customer_id=None)
    return made


def both(floor: Floor) -> list[str]:
    """The two, the newest first."""
    older, newer = run_stop(made=NOW - HOUR, **LEFT), run_stop(**RIGHT)
    for one in (older, newer):
        assert floor.send(one).status_code == 200
    return [newer["id"], older["id"]]


def decide(floor: Floor, record: str) -> None:
    form = {"text": "Towed in.", "decided": "y"}
    assert desk(floor).post(f"/shop/checks/{record}", data=form).status_code == 302


# A line of a list has room for the worst; the rest is counted, and the way leads to the trailer.
LINES = {
    "who is asked back": "/shop/recall",
    "what is overdue": "/shop#overdue",
    "list of trailers": "/shop/trailers",
    "list of jobs": "/shop/jobs",
    "what is found": "/shop/find?q=alder",
    "customer": "/shop/customers/{0.customer}",
    "table of trailers": "/shop/files/trailers.csv",
}


@pytest.mark.parametrize("place", LINES)
def test_a_line_says_how_many_stand_beside_the_worst(floor: Floor, place: str) -> None:
    first, _ = both(floor)
    assert "and 1 more" in line(floor, place)
    decide(floor, first)
    told = line(floor, place)
    assert ("Stop now" in told, "more" in told) == (True, False)


def line(floor: Floor, place: str) -> str:
    """The first line of a list that names the trailer; what is overdue stands below the inbox."""
    address, _, below = LINES[place].partition("#")
    page = read(floor, address.format(floor))
    page = page.partition(f'id="{below}"')[2] if below else page.partition("<main")[2] or page
    return page.partition("<textarea")[0].partition("<h2>Change")[0]


WHOLE = {
    "lending desk": "/shop/fleet",
    "trailer": "/shop/trailers/{0.trailer}",
    "desk sheet": "/shop/trailers/{0.trailer}/standing",
    "a job": "/shop/jobs/{0.job}",
    "sheet to hand over": "/shop/jobs/{0.job}/sheet",
    "form of a new job": "/shop/jobs/new?trailer={0.trailer}",
    "table of those asked back": "/shop/recall/repack.csv",
}
LEFT_ONE, RIGHT_ONE = "Left wheel: Smoke at this wheel", "Right wheel: Smoke at this wheel"


@pytest.mark.slow
@pytest.mark.parametrize("place", WHOLE)
def test_all_stand_with_wheel_and_finding_the_newest_first_until_each_is_decided(
    floor: Floor, place: str
) -> None:
    first, second = both(floor)
    page = shown(floor, place)
    assert 0 < page.index(RIGHT_ONE) < page.index(LEFT_ONE)
    decide(floor, first)
    page = shown(floor, place)
    assert (RIGHT_ONE in page, LEFT_ONE in page) == (False, True)
    decide(floor, second)
    page = shown(floor, place)
    assert (LEFT_ONE in page, "Not decided yet" in page) == (False, False)


def shown(floor: Floor, place: str) -> str:
    """The page down to the list of all checks, which keeps each as it was."""
    return read(floor, WHOLE[place].format(floor)).partition("<h2>Checks</h2>")[0]


def test_the_page_of_a_clean_check_names_what_is_undecided_beside_it(floor: Floor) -> None:
    both(floor)
    clean = run_stop()
    assert floor.send(clean).status_code == 200
    page = read(floor, f"/shop/checks/{clean['id']}")
    assert [one for one in (RIGHT_ONE, LEFT_ONE) if one in page] == [RIGHT_ONE, LEFT_ONE]


@pytest.mark.slow
def test_of_itself_a_checks_page_says_nothing_twice(floor: Floor) -> None:
    first, second = both(floor)
    page = read(floor, f"/shop/checks/{first}").partition('<div class="columns">')[0]
    assert (first in listed(page), second in listed(page)) == (False, True)


UNTOLD = "Smoke at a wheel; which one is not said"
EVERYWHERE = {
    **WHOLE,
    "who is asked back": "/shop/recall",
    "what is overdue": "/shop#overdue",
    "inbox": "/shop",
    "table of checks": "/shop/files/checks.csv",
}


@pytest.mark.parametrize("place", EVERYWHERE)
def test_a_sign_whose_wheel_nobody_told_is_told_of_none(floor: Floor, place: str) -> None:
    assert floor.send(run_stop(smoke="yes")).status_code == 200
    page = read(floor, EVERYWHERE[place].format(floor).partition("#")[0])
    assert UNTOLD in page
    assert re.findall(r"Smoke at this wheel|\w+ wheel: Smoke", page) == []


def test_nor_is_a_wheel_named_on_the_checks_page_in_its_print_a_text_or_the_mail(
    floor: Floor,
) -> None:
    one = run_stop(smoke="yes")
    assert floor.send(one).status_code == 200
    page = read(floor, f"/shop/checks/{one['id']}")
    answers = page.partition("<h2>What was answered</h2>")[2]
    assert UNTOLD in page.partition("<h2")[2]
    assert "Left wheel" not in page
    assert answers.count("Smoke") == 1  # as it was said: once, and of no wheel
    floor.change("customers", floor.customer, language="es")
    texts_there = texts(floor, "/shop/recall")
    assert "Humo en una rueda; no se ha dicho en cuál" in texts_there[0]
    (row,) = floor.rows("mails")
    assert UNTOLD in mailed(floor, dict(row))


# ---- what goes out ------------------------------------------------------------------------------


def texts(floor: Floor, address: str) -> list[str]:
    """What stands ready to be sent."""
    return [
        part.partition(">")[2].partition("</textarea>")[0]
        for part in read(floor, address).split('<textarea class="copy"')[1:]
    ]


READY = {"what is overdue": "/shop", "who is asked back": "/shop/recall"}


@pytest.mark.slow
@pytest.mark.parametrize("place", READY)
def test_a_text_to_whoever_has_it_names_them_all(floor: Floor, place: str) -> None:
    both(floor)
    (text,) = texts(floor, READY[place])
    first, _, rest = text.partition("\n\n")
    assert first.startswith("Pell Street Garage: Do not tow it before you have spoken to us")
    assert first.endswith(f"What was found: {RIGHT_ONE}; {LEFT_ONE}.")
    assert "Alder Fork 1" in rest


WHEELS = ("1L", "1R", "2L", "2R")
# What is found at the wheels, how often the text names each, and how it ends.
SEVERAL = {
    "four at Mend": (
        [("hot_smell", WHEELS)],
        {"Hot or burnt smell at this wheel": 3},
        "; and 1 more.\n\n",
    ),
    "four at Stop now": ([("smoke", WHEELS)], {"Smoke": 4}, "Smoke at this wheel.\n\n"),
    "Mend first, then four at Stop now": (
        [("hot_smell", WHEELS[:2]), ("smoke", WHEELS)],
        {"Smoke": 4, "Hot or burnt smell at this wheel": 0},
        "; and 2 more.\n\n",
    ),
    "one at Stop now, then four at Mend": (
        [("smoke", WHEELS[:1]), ("hot_smell", WHEELS)],
        {"Smoke": 1, "Hot or burnt smell at this wheel": 2},
        "; and 2 more.\n\n",
    ),
}


@pytest.mark.parametrize("found", SEVERAL)
def test_a_text_names_three_and_counts_the_rest_but_no_stop_now(floor: Floor, found: str) -> None:
    signs, named, end = SEVERAL[found]
    floor.change("trailers", floor.trailer, facts={"axles": 2})
    for sign, wheels in signs:
        for wheel in wheels:
            one = run_stop(axles=2, **{f"{sign}__{wheel}": "yes"})
            assert floor.send(one).status_code == 200
    (text,) = texts(floor, "/shop/recall")
    assert {what: text.count(what) for what in named} == named
    assert end in text


def test_a_text_with_a_link_names_them_all(floor: Floor) -> None:
    both(floor)
    assert f"What was found: {RIGHT_ONE}; {LEFT_ONE}." in text_of_a_new_link(floor)


def test_a_text_is_in_the_language_of_its_reader(floor: Floor) -> None:
    floor.change("customers", floor.customer, language="es")
    both(floor)
    (text,) = texts(floor, "/shop/recall")
    assert "What was found" not in text
    assert "Lo que se encontró: Rueda derecha: " in text


def test_a_reply_to_a_clean_check_does_not_wave_the_others_through(floor: Floor) -> None:
    both(floor)
    clean = run_stop()
    assert floor.send(clean).status_code == 200
    address = f"/shop/checks/{clean['id']}"
    desk(floor).post(address, data={"reply": "All good, go on."})
    (text,) = texts(floor, address)
    warning, _, reply = text.partition("\n\n")
    assert f"{RIGHT_ONE}; {LEFT_ONE}" in warning
    assert reply.endswith("All good, go on.")


def mailed(floor: Floor, row: dict[str, Any]) -> str:
    config = {"MAIL_FROM": "", "ADDRESS": "https://pell.example"}
    with floor.app.app_context(), floor.app.extensions["store"].reading() as connection:
        message = mail.written(connection, SimpleNamespace(**row), config)
    assert message is not None
    return unescape(message.get_content())


def test_the_mail_of_a_newer_one_names_the_older_one_too(floor: Floor) -> None:
    both(floor)
    _, second = (mailed(floor, dict(row)) for row in floor.rows("mails"))
    told = [part in second for part in ("(Right wheel)", "Nor is this decided", "(Left wheel)")]
    assert told == [True, True, True]


@pytest.mark.slow
def test_the_mail_that_gathers_mends_names_the_stop_now_that_stands_beside(floor: Floor) -> None:
    _, stop = both(floor)
    mend = run_stop()
    mend["body"]["verdict"] = {"level": "mend", "findings": []}
    assert floor.send(mend).status_code == 200
    row = {"id": 1, "kind": "mend", "shop_id": floor.shop, "record_id": mend["id"], "made": NOW}
    text = mailed(floor, row)
    assert text.count("Stop now: Smoke at this wheel") == 2
    decide(floor, stop)
    assert mailed(floor, row).count("Stop now: Smoke at this wheel") == 1


def test_the_mail_of_what_is_overdue_names_what_is_undecided(floor: Floor) -> None:
    both(floor)
    row = {"id": 1, "kind": "overdue", "shop_id": floor.shop, "record_id": "", "made": NOW}
    text = mailed(floor, row)
    assert text.count("Stop now: Smoke at this wheel") == 2


@pytest.mark.slow
def test_where_two_checks_of_a_trailer_are_overdue_the_mail_names_what_is_undecided_once(
    floor: Floor,
) -> None:
    both(floor)
    add_due(floor.app, floor.shop, floor.trailer, floor.job, by=NOW - DAY, what="Wheel nuts")
    row = {"id": 1, "kind": "overdue", "shop_id": floor.shop, "record_id": "", "made": NOW}
    text = mailed(floor, row)
    assert ("Feel the hubs" in text, "Wheel nuts" in text) == (True, True)
    assert text.count("Stop now: Smoke at this wheel") == 2


# ---- links that have ended ----------------------------------------------------------------------

ENDS: dict[str, tuple[str, str]] = {
    "renewed": ("replaced", "link_replaced"),
    "taken back": ("revoked", "link_revoked"),
    "over": ("expires", "link_expired"),
}


@pytest.mark.parametrize("end", ENDS)
def test_a_link_that_has_ended_tells_what_was_found_before_until_it_is_decided(
    floor: Floor, end: str
) -> None:
    column, code = ENDS[end]
    first, second = both(floor)
    floor.change("links", floor.link, **{column: later(0)})
    told = []
    for record in (None, first, second):
        if record:
            decide(floor, record)
        answer = read_link(floor.app.test_client(), floor.secret)
        assert error_of(answer, 410, ("open", "replies"))["code"] == code
        told.append(named(answer.json["open"]))
    assert told == [[first, second], [second], []]


def later(seconds: float) -> Any:
    return datetime.now(UTC) + timedelta(seconds=seconds)


def named(told: Any) -> list[str]:
    return [told["record"], *(one["record"] for one in told["more"])] if told else []


@pytest.mark.parametrize("end", ENDS)
def test_a_link_that_has_ended_tells_nothing_that_came_later_on_another(
    floor: Floor, end: str
) -> None:
    """Its trailer may have another owner by then."""
    floor.change("links", floor.link, **{ENDS[end][0]: later(-60)})
    assert floor.another_link().send(run_stop(**LEFT)).status_code == 200
    assert read_link(floor.app.test_client(), floor.secret).json["open"] is None


OVER_BEFORE = {
    "over, then renewed": ("expires", "replaced"),
    "over, then taken back": ("expires", "revoked"),
    "renewed, then taken back": ("replaced", "revoked"),
}


@pytest.mark.parametrize("ends", OVER_BEFORE.values(), ids=OVER_BEFORE.keys())
def test_nor_what_came_after_its_first_end_and_before_another(
    floor: Floor, ends: tuple[str, str]
) -> None:
    first, second = ends
    floor.change("links", floor.link, **{first: later(-60)})
    assert floor.another_link().send(run_stop(**LEFT)).status_code == 200
    floor.change("links", floor.link, **{second: later(0)})
    assert read_link(floor.app.test_client(), floor.secret).json["open"] is None


def test_what_came_late_on_a_renewed_link_is_told_there(floor: Floor) -> None:
    floor.change("links", floor.link, replaced=later(-60))
    one = run_stop(**LEFT)
    assert floor.send(one).status_code == 200
    assert named(read_link(floor.app.test_client(), floor.secret).json["open"]) == [one["id"]]


ANSWERED = {"renewed": [True, True], "taken back": [True, False], "over": [True, True]}


@pytest.mark.parametrize("end", ENDS)
def test_replies_reach_a_phone_by_a_link_that_has_ended(floor: Floor, end: str) -> None:
    """One that was taken back tells whoever else holds it nothing new."""
    one = run_stop(**LEFT)
    assert floor.send(one).status_code == 200
    floor.change("links", floor.link, **{ENDS[end][0]: later(-60)})
    desk(floor).post(f"/shop/checks/{one['id']}", data={"reply": "Wait there. We come."})
    client, told = floor.app.test_client(), []
    for headers in ({}, OTHER_PHONE):
        body = {"secret": floor.secret}
        answer = client.post("/api/links/read", json=body, headers=HEADERS | headers)
        told.append([reply["record"] for reply in answer.json["replies"]] == [one["id"]])
    assert told == ANSWERED[end]


@pytest.mark.slow
def test_a_reply_reworded_after_its_link_was_taken_back_is_for_its_sender_alone(
    floor: Floor,
) -> None:
    one, client = run_stop(**LEFT), desk(floor)
    assert floor.send(one).status_code == 200
    address = f"/shop/checks/{one['id']}"
    client.post(address, data={"reply": "Wait there."})
    client.post(address, data={"text": "Ours.", "reply": "We come."})
    floor.change("links", floor.link, revoked=datetime.now(UTC))
    first, second = (note["id"] for note in floor.rows("notes"))
    client.post(f"/shop/checks/notes/{first}", data={"reply": "Ines comes, 555 0101."})
    client.post(f"/shop/checks/notes/{second}", data={"text": "Not ours.", "reply": "We come."})
    told = []
    for headers in ({}, OTHER_PHONE):
        body, phone = {"secret": floor.secret}, floor.app.test_client()
        answer = phone.post("/api/links/read", json=body, headers=HEADERS | headers)
        told.append([reply["text"] for reply in answer.json["replies"]])
    assert told == [["Ines comes, 555 0101.", "We come."], ["We come."]]


# ---- a bench record at work ---------------------------------------------------------------------


@pytest.mark.slow
def test_what_stands_on_the_bench_at_work_is_not_painted_over_by_a_clean_check(
    floor: Floor,
) -> None:
    kept = {"trailer": str(floor.trailer), "keep": "1", "all:pin_done": "none", "fact:axles": "1"}
    client = desk(floor)
    assert client.post("/shop/jobs/new", data=kept | {"fact:brakes": "none"}).status_code == 302
    assert floor.send(run_stop(made=later(60))).status_code == 200
    for place in ("lending desk", "trailer", "desk sheet"):
        assert "Stop now" in shown(floor, place), place
    told = read_link(client, floor.secret).json["open"]
    assert told["level"] == "stop"
    decide(floor, told["record"])
    assert read_link(client, floor.secret).json["open"] is None
    assert client.post(f"/shop/checks/{told['record']}/open").status_code == 302
    assert read_link(client, floor.secret).json["open"]["record"] == told["record"]


def test_what_stands_on_the_bench_at_work_is_listed_and_in_the_table(floor: Floor) -> None:
    add(floor.app, "trailers", shop_id=floor.shop, name="Tilt bed", facts={}, record_id=uuid7())
    kept = {"trailer": str(floor.trailer), "keep": "1", "all:pin_done": "none", "fact:axles": "1"}
    client = desk(floor)
    assert client.post("/shop/jobs/new", data=kept | {"fact:brakes": "none"}).status_code == 302
    (job,) = floor.rows("jobs", finished=None)
    told = [[True, False, True], [False, False, False]]
    for expected in told:
        page = read(floor, "/shop/trailers?show=stop")
        row = next(
            line
            for line in read(floor, "/shop/files/trailers.csv").splitlines()
            if "Alder Fork 1" in line
        )
        assert ["Alder Fork 1" in page, "Tilt bed" in page, "Stop now" in row] == expected
        decide(floor, job["record_id"])


@pytest.mark.sqlite
def test_of_one_trailer_only_its_own_checks_are_looked_through(floor: Floor) -> None:
    """Asked by shop as well, SQLite took the shop's index: a second with a million checks."""
    asked: list[tuple[str, Any]] = []
    engine = floor.app.extensions["store"].engine

    def heard(_: Any, __: Any, statement: str, values: Any, *___: Any) -> None:
        asked.append((statement, values))

    event.listen(engine, "before_cursor_execute", heard)
    with floor.app.test_request_context(), engine.connect() as connection:
        stands.signs(connection, floor.shop, [floor.trailer])
        event.remove(engine, "before_cursor_execute", heard)
        plans = [
            row[3]
            for statement, values in asked
            if statement.startswith("SELECT")
            for row in connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {statement}", values)
        ]
    looked_through = [plan for plan in plans if plan.startswith(("SEARCH records", "SCAN records"))]
    assert len(looked_through) >= 3
    assert [
        plan for plan in looked_through if "trailer_key=" not in plan and "rowid" not in plan
    ] == []
