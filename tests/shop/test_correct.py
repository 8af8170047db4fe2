"""What was done wrong is put right: undone, merged, reworded, given to another; and it is known."""

from __future__ import annotations

from datetime import timedelta
from html import unescape
from typing import Any

import pytest
from sqlalchemy import select, update

from tests.shop.test_inbox import came, desk
from tests.support.floor import NOW, shop_floor
from tests.support.shops import JOB, SECRET, a_shop, finished_job, followed, read_link
from webapp.storage.models import customers, due, jobs, links, notes, staff, trailers


@pytest.fixture
def shop(app):
    found = a_shop(app)
    finished_job(found)
    return found


def values(app: Any, column: Any) -> list[Any]:
    with app.extensions["store"].reading() as connection:
        return list(connection.execute(select(column).order_by(column.table.c.id)).scalars())


def test_a_due_check_that_was_dropped_is_made_due_again(app, shop):
    shop.press("/shop/due/1/drop", "/shop/trailers/1")
    assert "Dropped lately" in shop.client.get("/shop/trailers/1").text
    assert shop.press("/shop/due/1/undrop", "/shop/trailers/1").status_code == 302
    assert values(app, due.c.dropped)[0] is None
    assert "Dropped lately" not in shop.client.get("/shop/trailers/1").text


def test_a_link_that_was_taken_back_works_again(app, client):
    shop = a_shop(app)
    _, secret = finished_job(shop)
    shop.press("/shop/links/1/revoke", "/shop/jobs/1")
    assert read_link(client, secret).status_code == 410
    assert shop.press("/shop/links/1/unrevoke", "/shop/trailers/1").status_code == 302
    assert read_link(client, secret).status_code == 200


def test_somebody_who_was_removed_is_let_in_again(app, shop):
    fields = {"name": "Rob", "login": "rob", "new": "axle jack chain lamp"}
    assert shop.post("/shop/staff", fields).status_code == 302
    shop.press("/shop/staff/2/remove", "/shop/staff")
    assert values(app, staff.c.login)[1] != "rob"
    assert "Let Rob in again" in shop.client.get("/shop/staff").text
    assert shop.press("/shop/staff/2/unremove", "/shop/staff").status_code == 302
    assert values(app, staff.c.login)[1] == "rob"
    assert values(app, staff.c.gone) == [None, None]


UNDONE = {
    "a due check": ("due", "dropped", "undrop", "/shop/trailers/1"),
    "a link": ("links", "revoked", "unrevoke", "/shop/trailers/1"),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", UNDONE)
@pytest.mark.parametrize(("days", "status"), [(None, 400), (29, 302), (31, 400)])
def test_what_can_be_undone_and_for_how_long(app, shop, case, days, status):
    name, column, verb, page = UNDONE[case]
    table = {"due": due, "links": links}[name]
    done = None if days is None else NOW - timedelta(days=days)
    with app.extensions["store"].writing() as connection:
        connection.execute(update(table).where(table.c.id == 1).values({column: done}))
    assert shop.press(f"/shop/{name}/1/{verb}", page).status_code == status


@pytest.mark.slow
def test_two_rows_of_one_customer_become_one_and_two_again(app, shop):
    shop.post(
        "/shop/jobs/new",
        JOB | {"keep": "1", "trailer_name": "Tilt bed", "customer_name": "A. Lund"},
    )
    assert values(app, jobs.c.customer_id) == [1, 2]
    page = unescape(shop.client.get("/shop/customers/2/merge?q=lund").text)
    assert "Ada Lund" in page
    assert (
        shop.post("/shop/customers/2/merge?q=lund", {"into": "1"}).location == "/shop/customers/1"
    )
    assert values(app, jobs.c.customer_id) == [1, 1]
    assert values(app, trailers.c.customer_id) == [1, 1]
    assert shop.client.get("/shop/customers/2").location == "/shop/customers/1"
    assert "A. Lund" not in shop.client.get("/shop/customers").text
    kept = shop.client.get("/shop/customers/1").text
    assert "Take apart again: A. Lund" in kept
    assert "took another one into it" in kept
    shop.press("/shop/customers/2/part", "/shop/customers/1")
    assert values(app, jobs.c.customer_id) == [1, 2]
    assert values(app, customers.c.merged_into) == [None, None]
    assert "A. Lund" in shop.client.get("/shop/customers").text


@pytest.mark.slow
def test_a_stop_now_of_a_trailer_that_was_there_twice_stands_at_the_one_that_stays(app):
    floor = shop_floor(app)
    stop = came(floor, "stop", smoke__1L="yes")
    client = desk(floor)
    client.post("/shop/trailers/new", data={"name": "Alder Fork One"})
    client.post(f"/shop/trailers/{floor.trailer}/merge", data={"into": "2"})
    page = client.get("/shop/trailers/2").text
    assert "Stop now" in page
    assert stop in page
    assert client.get(f"/shop/trailers/{floor.trailer}").location == "/shop/trailers/2"
    later = came(floor, "stop", smoke__1R="yes")
    assert later in client.get("/shop/trailers/2").text, (
        "its link still sends, to the one that stays"
    )
    client.post(f"/shop/trailers/{floor.trailer}/part")
    assert [row["trailer_key"] for row in floor.rows("records")] == [floor.trailer] * 2


NOT_MERGED = {"itself": "1", "nobody": "", "what is none": "x", "another shop's": "3", "none": "99"}


@pytest.mark.slow
@pytest.mark.parametrize("case", NOT_MERGED)
def test_what_nothing_is_merged_into(app, shop, case):
    other = a_shop(app, "Alder Fork Tool Library", "ines")
    for name in ("one", "two"):
        other.post("/shop/jobs/new", JOB | {"keep": "1", "customer_name": name})
    answer = shop.post("/shop/customers/1/merge", {"into": NOT_MERGED[case]})
    assert answer.status_code in (400, 404)
    assert values(app, customers.c.merged_into) == [None, None, None]


@pytest.mark.slow
def test_a_trailer_gets_another_owner_and_the_change_is_known(app, shop):
    finished = JOB | {"keep": "1", "trailer_name": "Tilt bed", "customer_name": "Bo Quist"}
    shop.post("/shop/jobs/new", finished)
    answer = shop.post("/shop/trailers/1/edit", {"customer": "2", "plate": "ab 12"})
    assert answer.status_code == 302
    assert values(app, trailers.c.customer_id)[0] == 2
    page = shop.client.get("/shop/trailers/1").text
    assert "Bo Quist" in page
    assert "AB 12" in page
    assert "Dana" in page
    assert "changed it" in page
    assert "Green boat trailer" in shop.client.get("/shop/find?q=quist").text


def test_a_reply_is_reworded_and_its_first_words_are_not_lost(app):
    floor = shop_floor(app)
    stop, client = came(floor, "stop"), desk(floor)
    client.post(f"/shop/checks/{stop}", data={"reply": "Tow it hoem."})
    answer = client.post("/shop/checks/notes/1", data={"text": "", "reply": "Tow it home."})
    assert answer.status_code == 302
    assert [row["reply"] for row in floor.rows("notes")] == ["Tow it home."]
    deeds = floor.rows("audit", did="reworded")
    assert [row["before"]["reply"] for row in deeds] == ["Tow it hoem."]
    refused = followed(client, client.post("/shop/checks/notes/1", data={"text": " ", "reply": ""}))
    assert (refused.status_code, "Write what was decided" in refused.text) == (422, True)


FULL = "We come.\r\n" * 222 + "x" * 2  # 2,000 characters as a browser counts them


def test_a_reply_of_many_lines_may_be_as_long_as_the_field_takes(app):
    floor = shop_floor(app)
    stop, client = came(floor, "stop"), desk(floor)
    assert client.post(f"/shop/checks/{stop}", data={"reply": FULL}).status_code == 302
    kept = FULL.replace("\r\n", "\n")
    assert (len(kept), values(app, notes.c.reply)) == (2000, [kept])
    again = client.post("/shop/checks/notes/1", data={"reply": FULL})
    assert (again.status_code, floor.rows("audit", did="reworded")) == (302, [])
    refused = followed(client, client.post("/shop/checks/notes/1", data={"reply": FULL + "x"}))
    assert (refused.status_code, "2000" in refused.text) == (422, True)
    assert kept + "x" in unescape(refused.text).replace("\r\n", "\n")


def test_the_same_reply_sent_twice_is_one(app):
    floor = shop_floor(app)
    stop, client = came(floor, "stop"), desk(floor)
    for reply in ("Stay there.", "Stay there.", "We come.", "Stay there."):
        assert client.post(f"/shop/checks/{stop}", data={"reply": reply}).status_code == 302
    assert values(app, notes.c.reply) == ["Stay there.", "We come.", "Stay there."]


def test_a_finished_job_is_corrected_and_its_link_says_so(app, client):
    shop = a_shop(app)
    page, secret = finished_job(shop)
    before = read_link(client, secret).json
    answer = shop.post(f"{page}/edit", {"note": "New seals only.", "keep": "1"})
    assert answer.location == page
    assert 'role="status">Kept.</p>' in shop.client.get(page).text
    after = read_link(client, secret).json
    assert after["work"].endswith("New seals only.")
    assert [line["id"] for line in after["due"]] == [line["id"] for line in before["due"]]
    assert len(values(app, jobs.c.id)) == 1
    assert not SECRET.search(shop.client.get(page).text) or secret in shop.client.get(page).text


@pytest.mark.slow
def test_a_bench_record_corrected_to_stop_now_waits_in_the_inbox(app, shop):
    answer = shop.post("/shop/jobs/1/edit", {"all:pin_done": "none", "keep": "1"})
    assert answer.status_code == 422
    answer = shop.post("/shop/jobs/1/edit", {"all:pin_done": "none", "keep": "1", "anyway": "1"})
    assert answer.status_code == 302
    assert "Nothing locks the spindle nut" in shop.client.get("/shop").text
    shop.post("/shop/jobs/1/edit", {"all:pin_done": "new", "keep": "1"})
    assert "Nothing locks the spindle nut" in shop.client.get("/shop").text, "until it is decided"


def test_a_shop_without_a_shop_page_is_led_back_to_its_own(shop):
    for path in ("/shop/nowhere", "/shop/jobs/99"):
        answer = shop.client.get(path, headers={"Accept": "text/html"})
        assert answer.status_code == 404
        assert 'href="/shop"' in answer.text


# What a second trailer is like, and whether the page of its job asks if both are one.
TWINS = {
    "its name and owner": ({}, True),
    "another name": ({"trailer_name": "Tilt bed"}, False),
    "another owner": ({"customer_name": "Bo Marsh"}, False),
    "its plate": ({"trailer_name": "Tilt bed", "plate": "tm 4711"}, True),
    "its VIN": ({"trailer_name": "Tilt bed", "vin": "5NHUAS1X2J"}, True),
    "the beginning of its plate": ({"trailer_name": "Tilt bed", "plate": "TM 47"}, False),
}


@pytest.mark.slow
@pytest.mark.parametrize(("other", "asked"), TWINS.values(), ids=TWINS.keys())
def test_a_trailer_that_may_be_there_twice_is_told_on_its_job(app, other, asked):
    shop = a_shop(app)
    page, _ = finished_job(shop, plate="TM 4711", vin="5NHUAS1X2J")
    assert "Are both one?" not in shop.client.get(page).text
    second, _ = finished_job(shop, **other)
    assert ("Are both one?" in shop.client.get(second).text) == asked
