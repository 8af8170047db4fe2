"""Records on their way to another phone: whole, for a day, for whoever has the secret."""

from __future__ import annotations

import json
import re
import tracemalloc
from datetime import datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.support.effort import effort
from tests.support.records import HEADERS, envelope, error_of, record
from webapp.api.requests import no_constant
from webapp.api.scanning import end_of
from webapp.clock import now
from webapp.follow_up.rate_limit import Patience
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
    monkeypatch.setattr("webapp.api.pairing.bundle_of", lambda _: pytest.fail("looked into"))
    sent = {"data": '{"bundle": {"a": ' + text + "}}", "content_type": "application/json"}
    answer = client.post("/api/pairs", headers=HEADERS, **sent)
    assert error_of(answer, 413)["code"] == "too_bracketed"


def test_what_is_kept_has_a_limit_and_ends_with_the_day(app, client, monkeypatch):
    monkeypatch.setattr("webapp.api.pairing.KEPT_MOST", 100)
    assert make(client, {"text": "x" * 60}).status_code == 200
    assert error_of(make(client, {"text": "x" * 60}), 503)["code"] == "pairs_full"
    age(app, timedelta(days=1))
    assert make(client, {"text": "x" * 60}).status_code == 200


# Built, twenty megabytes of such names took 440, and nobody else was answered meanwhile.
COSTLY = {
    "names": b",".join(b'"%x":0' % n for n in range(20_000)),
    "texts": b'"a":[' + b",".join(b'"%x"' % n for n in range(30_000)) + b"]",
}


@pytest.mark.slow
@pytest.mark.parametrize("inside", COSTLY)
def test_a_bundle_takes_memory_like_its_bytes_whatever_is_in_it(client, inside):
    bundle = b"{" + COSTLY[inside] + b"}"
    sent = {"data": b'{"bundle": ' + bundle + b"}", "content_type": "application/json"}
    tracemalloc.start()
    try:
        answer = client.post("/api/pairs", headers=HEADERS, **sent)
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert answer.status_code == 200
    assert peak < 6 * len(bundle), peak / len(bundle)
    assert read(client, answer.json["secret"]).data == bundle


VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
)
SPOILT = st.tuples(
    st.integers(0, 60), st.integers(0, 2), st.sampled_from('[]{},:"\\01.e-+tn \t\0é')
)


@pytest.mark.sample
@settings(effort(400))
@given(value=VALUES, ascii=st.booleans(), spoilt=st.lists(SPOILT, max_size=2))
def test_what_is_json_here_is_what_the_standard_library_takes_as_such(value, ascii, spoilt):
    text = json.dumps({"": value}, ensure_ascii=ascii)
    for at, gone, put in spoilt:
        text = text[:at] + put + text[at + gone :]
    body = text.encode(errors="replace")
    assert ends_well(body) == parses(body)


def ends_well(body):
    begins = len(body) - len(body.lstrip(b" \t\n\r"))
    try:
        return not body[end_of(body, begins) :].strip(b" \t\n\r")
    except ValueError:
        return False


def parses(body):
    try:
        json.loads(body, parse_constant=no_constant)
    except ValueError:
        return False
    return True


ENDS = {
    "in a text": ('{"a": "b', 400),
    "in a list": ('{"a": [1, ', 400),
    "a comma too many": ('{"a": 1,}', 400),
    "no number": ('{"a": 01}', 400),
    "no JSON number": ('{"a": NaN}', 400),
    "too deep": ('{"a": ' + "[" * 501 + "]" * 501 + "}", 400),
    "more behind it": ("{} {}", 400),
    "twice": ('{}, "bundle": {}', 400),
    "deep": ('{"a": ' + "[" * 499 + "]" * 499 + "}", 200),
}


@pytest.mark.parametrize("case", ENDS)
def test_a_bundle_that_is_not_whole_is_refused(client, case):
    bundle, status = ENDS[case]
    sent = {"data": '{"bundle": ' + bundle + "}", "content_type": "application/json"}
    answer = client.post("/api/pairs", headers=HEADERS, **sent)
    assert answer.status_code == status
    assert status == 200 or error_of(answer, 400)["code"] == "not_json"


def test_one_place_cannot_take_all_the_room_and_another_is_not_held_up(client, monkeypatch):
    two = Patience("pair", 2, timedelta(minutes=1), timedelta(hours=1))
    monkeypatch.setattr("webapp.follow_up.rate_limit.PAIR", two)
    assert [make(client, {}).status_code for _ in range(3)] == [200, 200, 429]
    assert "by hand" in error_of(make(client, {}), 429)["fix"]
    client.environ_base["REMOTE_ADDR"] = "198.51.100.7"
    assert make(client, {}).status_code == 200


def test_a_bundle_needs_a_device(client):
    assert error_of(client.post("/api/pairs", json={"bundle": {}}), 400)["code"] == "device_missing"
