"""The demo's season goes in like any phone's records."""

from __future__ import annotations

from webapp.demo import fill


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


def test_the_demos_phone_and_the_server_agree(app):
    for one, answer in fill(app):
        assert one["body"].get("verdict") == answer["verdict"]
