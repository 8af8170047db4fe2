"""Deleting a customer leaves no row and no file of theirs, and nothing of others is touched."""

from __future__ import annotations

import json
from typing import Any

import pytest
from flask import Flask

from tests.shop.test_inbox import came, desk, dump, lend
from tests.support.floor import DAY, NOW, OTHER_PHONE, Floor, add, add_due, run_stop, shop_floor
from tests.support.photo_files import headers
from tests.support.pictures import photo
from tests.support.records import check_body, record, uuid7
from tests.support.shops import ticked
from webapp.storage.models import metadata


def busy(app: Flask, floor: Floor) -> list[str]:
    """Checks from two phones, photos, notes and a reply; words that only they contain."""
    floor.change("customers", floor.customer, name="Theirs", phone="555 0199")
    floor.change("trailers", floor.trailer, name="Their trailer")
    stop = run_stop(smoke__1L="yes")
    floor.send(stop, due=floor.due)
    floor.send(stop, headers=OTHER_PHONE)
    alone = record(body=check_body(trailer=floor.trailer_id))
    floor.send(alone, link=None)
    for link in (floor.secret, None):
        sent = headers(photo(), record=stop["id"], link=link)
        assert app.test_client().post("/api/photos", data=photo(), headers=sent).status_code == 200
    early = headers(photo(), link=floor.secret)
    app.test_client().post("/api/photos", data=photo(), headers=early)
    note = {"text": "Their note", "reply": "Their reply"}
    desk(floor).post(f"/shop/checks/{stop['id']}", data=note)
    desk(floor).post(f"/shop/trailers/{floor.trailer}/edit", data={"name": "Their trailer"})
    desk(floor).post(
        f"/shop/customers/{floor.customer}", data={"name": "Theirs", "phone": "5550199"}
    )
    refused = desk(floor).post(f"/shop/customers/{floor.customer}", data={"name": ""})
    assert refused.status_code == 303
    lend(floor, "Their borrower")
    file = {"made": NOW, "kind": "customers", "name": "x.csv", "text": "customer\nTheirs\n"}
    add(app, "intakes", shop_id=floor.shop, staff_id=floor.staff, **file)
    return [
        "Theirs",
        "555 0199",
        "Their trailer",
        "Their note",
        "Their reply",
        "Their borrower",
        stop["id"],
        alone["id"],
    ]


def forget(floor: Floor) -> Any:
    address, client = f"/shop/customers/{floor.customer}/delete", desk(floor)
    return client.post(address, data=ticked(client.get(address).text, "anyway"))


def files(app: Flask) -> list[str]:
    data = app.extensions["store"].data
    return [str(path) for path in data.glob("photos/**/*") if path.is_file()]


def counts(app: Flask) -> dict[str, int]:
    return {name: len(rows) for name, rows in json.loads(dump(app)).items()}


@pytest.mark.slow
def test_no_row_and_no_file_is_left(app, floor):
    words = busy(app, floor)
    assert len(files(app)) == 3
    assert forget(floor).status_code == 302
    left = dump(app)
    assert [word for word in words if word in left] == []
    assert files(app) == []
    kept = {name for name, count in counts(app).items() if count}
    assert kept == {"forgotten", "rulebooks", "sessions", "shops", "staff", "words"}


def test_nothing_is_deleted_by_reading_the_question(app, floor):
    busy(app, floor)
    client, before = desk(floor), dump(app)
    page = client.get(f"/shop/customers/{floor.customer}/delete")
    assert "cannot be undone" in page.text
    assert dump(app) == before


@pytest.mark.slow
def test_the_deletion_needs_its_token(app, floor):
    client = desk(floor)
    app.config["WTF_CSRF_ENABLED"] = True
    assert client.post(f"/shop/customers/{floor.customer}/delete").status_code == 400
    assert len(floor.rows("customers")) == 1


@pytest.mark.slow
def test_another_shop_keeps_all_of_theirs(app, floor):
    other = shop_floor(app, "Other Shop")
    busy(app, other)
    tables = [name for name, table in metadata.tables.items() if "shop_id" in table.c]
    before = {name: other.rows(name, shop_id=other.shop) for name in tables}
    kept = files(app)
    assert all(before[name] for name in tables)
    busy(app, floor)
    forget(floor)
    assert {name: other.rows(name, shop_id=other.shop) for name in tables} == before
    assert files(app) == kept


def test_a_trailer_that_was_sold_stays_and_loses_what_came_from_them(app, floor):
    next_one = add(app, "customers", shop_id=floor.shop, name="Next", phone="", email="")
    theirs = came(floor, "stop")
    floor.change("trailers", floor.trailer, customer_id=next_one)
    mine = floor.another_link(customer_id=next_one, job_id=None)
    check = run_stop()
    mine.send(check)
    forget(floor)
    assert len(floor.rows("trailers")) == 1
    assert theirs not in dump(app)
    assert [row["id"] for row in floor.rows("records")] == [check["id"]]


def test_a_due_check_of_another_job_stays_settled(app, floor):
    next_one = add(app, "customers", shop_id=floor.shop, name="Next", phone="", email="")
    job = add(
        app,
        "jobs",
        shop_id=floor.shop,
        trailer_id=floor.trailer,
        customer_id=next_one,
        staff_id=floor.staff,
        opened=NOW - DAY,
        finished=NOW,
        work=[],
        note="",
        form=uuid7(),
    )
    due = add_due(app, floor.shop, floor.trailer, job)
    floor.change("trailers", floor.trailer, customer_id=next_one)
    floor.send(run_stop(), due=due)
    forget(floor)
    assert len(floor.rows("due", id=due)) == 1
    assert floor.rows("due", id=due)[0]["record_id"] is not None


@pytest.mark.slow
def test_when_a_file_is_gone_already_the_rest_still_goes(app, floor):
    busy(app, floor)
    for row in floor.rows("photos")[:1]:
        (app.extensions["store"].data / row["path"]).unlink()
    assert forget(floor).status_code == 302
    assert files(app) == []


@pytest.mark.slow
def test_when_the_deletion_fails_nothing_of_it_happens(app, floor, monkeypatch):
    busy(app, floor)
    client = desk(floor)
    before, kept = dump(app), files(app)
    monkeypatch.setattr("webapp.shop.forget.delete_records", lambda *_: 1 / 0)
    address = f"/shop/customers/{floor.customer}/delete"
    form = ticked(client.get(address).text, "anyway")
    assert client.post(address, data=form).status_code == 500
    assert (dump(app), files(app)) == (before, kept)
