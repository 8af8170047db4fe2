"""The demo's season goes in like any phone's records."""

from __future__ import annotations

import pytest

from tests.support.shops import TOKEN, dump
from webapp.commands.demo import fill
from webapp.commands.demo_shops import open_shops

pytestmark = pytest.mark.slow


def test_the_demo_is_stored_once_however_often_it_is_filled_in(app):
    first, second = fill(app), fill(app)
    assert first == second
    with app.extensions["store"].reading() as connection:
        count = connection.exec_driver_sql("SELECT count(*) FROM records").scalar_one()
    assert count == len(first)


def test_the_demo_shows_a_stop_and_verdicts_that_are_none(app):
    levels = {answer["verdict"]["level"] for _, answer in fill(app) if answer["verdict"]}
    assert "stop" in levels
    assert len(levels) > 1


@pytest.mark.slow
def test_the_demos_phone_and_the_server_agree(app):
    for one, answer in fill(app):
        assert one["body"].get("verdict") == answer["verdict"]


def test_the_demos_shops_have_work_that_came_back(app, client):
    printed = open_shops(app)
    login, password = printed[0].rsplit(" as ", 1)[1].split(" with ")
    token = TOKEN.search(client.get("/shop/sign-in").text)[1]
    sent = {"csrf_token": token, "login": login, "password": password}
    assert client.post("/shop/sign-in", data=sent).status_code == 302
    inbox = client.get("/shop").text
    assert "Green boat trailer" in inbox
    assert "Stop now" in inbox
    assert "Small utility" in client.get("/shop/jobs").text
    assert len(printed) == 3


@pytest.mark.slow
def test_the_demos_shops_are_opened_once(app):
    open_shops(app)
    before = dump(app)
    assert open_shops(app)[0].startswith("Pell Street Garage is here already")
    assert dump(app) == before
