"""What is logged can be read by programs, says what touched security, and names nobody."""

from __future__ import annotations

import io
import json
import logging
import socket
import sys
from collections.abc import Callable, Iterator
from contextlib import closing
from typing import Any

import pytest
from sqlalchemy import text
from sqlalchemy.exc import IntegrityError

from tests.support.records import HEADERS
from tests.support.serve import ONE, serving
from tests.support.shops import PASSWORD, Shop, a_shop, read_link
from tests.support.waiting import PATIENCE
from webapp import create_app, logs

SECRET = "A" * 43
ADDRESS = {"REMOTE_ADDR": "203.0.113.77"}


@pytest.fixture
def written(monkeypatch: pytest.MonkeyPatch) -> Iterator[io.StringIO]:
    """What the server writes to standard error from now on."""
    out, before = io.StringIO(), logging.getLogger().handlers
    monkeypatch.setattr(sys, "stderr", out)
    logs.write_to_standard_error()
    yield out
    logging.getLogger().handlers = before


def lines(written: io.StringIO) -> list[dict[str, Any]]:
    return [json.loads(line) for line in written.getvalue().splitlines()]


def wrong_password(shop: Shop) -> None:
    shop.post("/shop/sign-out", page="/shop/account")
    shop.post("/shop/sign-in", {"login": shop.login, "password": "what might it be"})


def shut_out(shop: Shop) -> None:
    wrong_password(shop)
    for _ in range(6):
        shop.post("/shop/sign-in", {"login": shop.login, "password": "what might it be"})


def forged(shop: Shop) -> None:
    shop.client.post("/shop/details", data={"name": "Forged"})


def stranger(shop: Shop) -> None:
    wrong_password(shop)
    page = shop.client.get("/shop/sign-in").text
    token = page.partition('name="csrf_token" type="hidden" value="')[2].partition('"')[0]
    shop.client.post("/shop/details", data={"csrf_token": token, "name": "Strange"})


def new_password(shop: Shop) -> None:
    new = "torque wrench in the drawer"
    shop.post("/shop/account", {"old": PASSWORD, "new": new, "again": new})


def colleague(shop: Shop) -> None:
    added = {"login": "ines", "name": "Ines", "new": "torque wrench in the drawer"}
    shop.post("/shop/staff", added)
    shop.press("/shop/staff/2/remove", "/shop/staff")


def guessed_links(shop: Shop) -> None:
    for _ in range(62):
        read_link(shop.client, SECRET)


DEEDS: dict[str, tuple[Callable[[Shop], None], set[str]]] = {
    "a wrong password": (wrong_password, {"signed_out", "sign_in_refused"}),
    "one wrong password too many": (shut_out, {"signed_out", "sign_in_refused", "shut_out"}),
    "a form of another page": (forged, {"form_token_refused"}),
    "a form without a session": (stranger, {"signed_out", "sign_in_refused", "unsigned_refused"}),
    "a new password": (new_password, {"password_changed"}),
    "a colleague comes and goes": (colleague, {"staff_added", "staff_removed"}),
    "links are guessed": (guessed_links, {"link_unknown", "link_shut_out"}),
    "everywhere": (
        lambda shop: shop.press("/shop/account/everywhere", "/shop/account") and None,
        {"signed_out_everywhere"},
    ),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", DEEDS)
def test_the_security_log_says_what_happened_and_names_nobody(app, written, case):
    shop = a_shop(app)
    shop.client.environ_base.update(ADDRESS)
    do, events = DEEDS[case]
    do(shop)
    found = [line for line in lines(written) if line["log"] == "twentymile.security"]
    assert {line["event"] for line in found} - {"signed_in"} == events
    assert all({"time", "level", "page", "place"} <= set(line) for line in found)
    for word in (shop.login, "Dana", "Ines", PASSWORD, SECRET, ADDRESS["REMOTE_ADDR"]):
        assert word not in written.getvalue()


def test_the_same_place_is_known_again_and_another_is_not(app):
    with app.test_request_context():
        assert logs.masked("192.0.2.1") == logs.masked("192.0.2.1")
        assert logs.masked("192.0.2.1") != logs.masked("192.0.2.2")


def test_a_fault_says_where_without_what_people_wrote(app, written, monkeypatch):
    monkeypatch.setattr(app.extensions["store"], "reading", fails)
    app.config["PROPAGATE_EXCEPTIONS"] = False
    assert app.test_client().get(f"/calendar/{SECRET}.ics").status_code == 500
    (line,) = (one for one in lines(written) if one["level"] == "error")
    assert "fails" in line["fault"]
    assert SECRET not in written.getvalue()
    assert "/calendar/" in line["event"]


def fails() -> None:
    raise RuntimeError("no database")


def test_an_sql_fault_hides_what_people_wrote(app):
    twice = text("INSERT INTO rulebooks (hash, rules) VALUES (:h, :r)")
    with app.extensions["store"].writing() as connection:
        connection.execute(twice, {"h": "h", "r": "Ada Lund"})
        with pytest.raises(IntegrityError) as error:
            connection.execute(twice, {"h": "h", "r": "Ada Lund"})
    assert "Ada Lund" not in str(error.value)


@pytest.mark.slow
@pytest.mark.parametrize(("wanted", "count"), [(True, 1), (False, 0)])
def test_each_answer_is_noted_where_that_is_wanted(tmp_path, written, wanted, count):
    app = create_app({"DATA": tmp_path, "REQUEST_LOG": wanted})
    app.test_client().post("/api/links/read", json={"secret": SECRET}, headers=HEADERS)
    found = [line for line in lines(written) if line["log"] == "twentymile.answers"]
    assert len(found) == count
    for line in found:
        assert (line["method"], line["page"], line["status"]) == ("POST", "/api/links/read", 404)
        assert line["ms"] >= 0
    assert SECRET not in written.getvalue()


UNREADABLE = (
    f"GET /calendar/{SECRET}.ics\r\n\r\n",
    f"GET / HTTP/1.1\r\nContent-Length: {SECRET}\r\n\r\n",
)


@pytest.mark.slow
def test_a_request_that_cannot_be_read_is_noted_without_what_stood_in_it(tmp_path):
    """gunicorn would write the address it came from, and its first line."""
    with serving(tmp_path, ONE) as address:
        for sent in UNREADABLE:
            port = int(address.rsplit(":", 1)[1])
            with closing(socket.create_connection(("127.0.0.1", port), timeout=PATIENCE)) as one:
                one.sendall(sent.encode())
                assert one.recv(12) == b"HTTP/1.1 400"
        written = (tmp_path / "server.log").read_text()
    assert written.count("Invalid request") == len(UNREADABLE)
    assert SECRET not in written
    assert "127.0.0.1" not in written
