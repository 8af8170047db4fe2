"""Records on their way to another phone: whole, for a day, for whoever has the secret."""

from __future__ import annotations

import json
import re
from datetime import datetime, timedelta

import pytest

from tests.support.records import HEADERS, envelope, error_of, record
from webapp.clock import now
from webapp.storage.models import pairs


def make(client, bundle):
    return client.post("/api/pairs", json={"bundle": bundle}, headers=HEADERS)


def read(client, secret):
    return client.post("/api/pairs/read", json={"secret": secret}, headers=HEADERS)


def age(app, span):
    with app.extensions["store"].writing() as connection:
        connection.execute(pairs.update().values(expires=now() - span))


def test_a_bundle_is_read_as_it_was_sent_as_often_as_asked(client):
    bundle = {"format": 1, "records": [envelope(record()) for _ in range(3)], "note": "½ ±"}
    secret = make(client, bundle).json["secret"]
    assert re.fullmatch(r"[A-Za-z0-9_-]{43}", secret)
    for _ in range(2):
        answer = read(client, secret)
        assert answer.json == bundle
        assert answer.headers["Cache-Control"] == "no-store"


def test_it_says_that_it_ends_in_a_day(client):
    ends = datetime.fromisoformat(make(client, {}).json["expires"])
    assert timedelta(hours=23, minutes=59) < ends - now() <= timedelta(days=1)


def test_the_store_holds_no_secret_in_the_clear(app, client):
    secret = make(client, {}).json["secret"]
    with app.extensions["store"].reading() as connection:
        row = connection.execute(pairs.select()).one()
    assert secret not in map(str, row)


@pytest.mark.parametrize(
    ("span", "status"),
    [(timedelta(minutes=-1), 200), (timedelta(0), 410), (timedelta(days=9), 410)],
)
def test_a_bundle_is_there_until_it_ends(app, client, span, status):
    secret = make(client, {}).json["secret"]
    age(app, span)
    assert read(client, secret).status_code == status


def test_an_ended_bundle_is_deleted_when_the_next_one_comes(app, client):
    make(client, {"records": [1]})
    age(app, timedelta(days=1))
    make(client, {"records": [2]})
    with app.extensions["store"].reading() as connection:
        assert [json.loads(row.bundle) for row in connection.execute(pairs.select())] == [
            {"records": [2]}
        ]


@pytest.mark.parametrize("secret", ["", "x" * 43, "ü", "0" * 4000])
def test_an_unknown_secret_is_refused_in_words(client, secret):
    assert "new code" in error_of(read(client, secret), 404)["fix"]


BAD = {
    "no bundle": ({}, "bundle"),
    "a list": ({"bundle": []}, "bundle"),
    "nothing": ({"bundle": None}, "bundle"),
    "one field more": ({"bundle": {}, "more": 1}, "more"),
}


@pytest.mark.parametrize(("body", "field"), BAD.values(), ids=BAD.keys())
def test_what_is_no_bundle_is_refused_by_name(client, body, field):
    answer = client.post("/api/pairs", json=body, headers=HEADERS)
    assert error_of(answer, 422)["field"] == field


@pytest.mark.slow
def test_a_bundle_of_nearly_twenty_megabytes_comes_through_and_more_is_refused(client):
    text = "x" * 19_900_000
    secret = make(client, {"text": text}).json["secret"]
    assert read(client, secret).json == {"text": text}
    assert error_of(make(client, {"text": text + "x" * 200_000}), 413)["code"] == "too_large"


@pytest.mark.parametrize(
    "text", ["[" * 9_900_000 + "]" * 9_900_000, "[" + "[]," * 6_000_000 + "[]]"]
)
def test_brackets_without_end_are_refused_before_they_are_parsed(client, text, monkeypatch):
    monkeypatch.setattr("webapp.api.pairing.parsed", lambda _: pytest.fail("parsed"))
    sent = {"data": '{"bundle": {"a": ' + text + "}}", "content_type": "application/json"}
    answer = client.post("/api/pairs", headers=HEADERS, **sent)
    assert error_of(answer, 413)["code"] == "too_bracketed"


def test_what_is_kept_has_a_limit_and_ends_with_the_day(app, client, monkeypatch):
    monkeypatch.setattr("webapp.api.pairing.KEPT_MOST", 100)
    assert make(client, {"text": "x" * 60}).status_code == 200
    assert error_of(make(client, {"text": "x" * 60}), 503)["code"] == "pairs_full"
    age(app, timedelta(days=1))
    assert make(client, {"text": "x" * 60}).status_code == 200


def test_a_bundle_needs_a_device(client):
    assert error_of(client.post("/api/pairs", json={"bundle": {}}), 400)["code"] == "device_missing"
