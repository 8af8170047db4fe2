"""The address that takes records: what it stores, what it refuses and with which words."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
import rfc8785
from flask import Flask
from flask.testing import FlaskClient

from checks.facts import BadInput
from tests.support.records import DEVICE, HEADERS, check_body, envelope, error_of, record, uuid7
from webapp.api.records import LIMIT
from webapp.api.schemas import BODIES, KINDS

RULEBOOK = {"hash": "0" * 64, "format": 1}
TODAY = datetime.now(UTC)


def stand_in(payload: dict[str, Any]) -> dict[str, Any]:
    """Judges one made-up fact, so that these tests hold whatever the rules say."""
    tread = payload["facts"].get("tread@1L", 5)
    if not 0 <= tread <= 30:
        raise BadInput("number_outside", "tread@1L", given=tread, span="0 to 30 mm")
    return {"level": "stop" if tread < 2 else "nothing", "check": payload["check"]}


@pytest.fixture
def app(tmp_path: Path, new_app: Any) -> Flask:
    return new_app(tmp_path / "data", RULEBOOK=RULEBOOK, JUDGE=stand_in)  # type: ignore[no-any-return]


def send(client: FlaskClient, body: Any, **headers: str) -> Any:
    return client.post("/api/records", json=body, headers=HEADERS | headers)


def rows(app: Flask) -> list[Any]:
    with app.extensions["store"].reading() as connection:
        return connection.exec_driver_sql("SELECT * FROM records ORDER BY seq").mappings().all()


# ---- what is stored ---------------------------------------------------------------------------


def test_a_check_is_answered_with_its_id_its_hash_and_the_servers_verdict(client):
    sent = envelope(record(body=check_body(facts={"tread@1L": 1})))
    response = send(client, sent)
    assert response.status_code == 200
    assert response.json == {
        "id": sent["record"]["id"],
        "hash": sent["hash"],
        "verdict": {"level": "stop", "check": "run_stop"},
    }
    assert response.headers["Cache-Control"] == "no-store"


def test_the_stored_record_still_has_the_hash_that_was_sent(app, client):
    sent = envelope(record(body=check_body(typed={"note": "Böse Überraschung ½ ±"})))
    send(client, sent)
    (row,) = rows(app)
    assert sha256(row["record"].encode()).hexdigest() == sent["hash"]
    assert json.loads(row["record"]) == sent["record"]
    assert json.loads(row["verdict"])["level"] == row["level"] == "nothing"


def test_the_store_holds_no_device_id_in_the_clear(app, client):
    send(client, envelope(record()))
    (row,) = rows(app)
    assert row["device"] == sha256(DEVICE.encode()).hexdigest()
    assert DEVICE not in "".join(map(str, row.values()))


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind not in BODIES])
def test_other_kinds_are_stored_without_a_verdict(app, client, kind):
    response = send(client, envelope(record(kind=kind, body={"name": "Alder Fork 3"})))
    assert response.status_code == 200
    assert response.json["verdict"] is None
    assert rows(app)[0]["kind"] == kind


TRAILER = "01a20ffc-9810-78dc-aa9d-2ee114d62568"


@pytest.mark.parametrize(
    ("given", "kept"), [(TRAILER, TRAILER), (None, None), (3, None), ({}, None), ("x" * 99, None)]
)
def test_a_record_is_filed_under_its_trailer_when_it_names_one(app, client, given, kept):
    send(client, envelope(record(kind="photo", body={"trailer": given})))
    assert rows(app)[0]["trailer"] == kept


def test_the_same_record_twice_is_stored_once_and_answered_alike(app, client):
    sent = envelope(record())
    first, second = send(client, sent), send(client, sent)
    assert (first.status_code, first.data) == (second.status_code, second.data)
    assert len(rows(app)) == 1


def test_a_stored_record_keeps_its_answer_when_the_rules_change(app, client):
    sent = envelope(record())
    first = send(client, sent)
    app.extensions["engine"]._judge = lambda payload: {"level": "stop"}
    assert send(client, sent).json == first.json


def test_an_id_with_other_content_is_refused_and_the_first_content_stays(app, client):
    first = record()
    send(client, envelope(first))
    changed = first | {"body": check_body(facts={"tread@1L": 9})}
    error = error_of(send(client, envelope(changed)), 422)
    assert error["code"] == "id_reused"
    assert error["field"] == "record.id"
    assert first["id"] in error["message"]
    assert [json.loads(row["record"]) for row in rows(app)] == [first]


def test_two_devices_may_use_one_id_without_seeing_each_others_record(app, client):
    first, other = record(), "f" * 32
    send(client, envelope(first))
    second = first | {"body": check_body(facts={"tread@1L": 1})}
    response = send(client, envelope(second), **{"X-Twentymile-Device": other})
    assert response.json["verdict"]["level"] == "stop"
    assert len(rows(app)) == 2


def test_numbers_that_json_can_write_in_two_ways_have_one_hash(client):
    sent = envelope(record(body=check_body(facts={"tread@1L": 5})))
    text = json.dumps(sent).replace('"tread@1L": 5', '"tread@1L": 5.0e0')
    response = client.post(
        "/api/records", data=text, headers=HEADERS, content_type="application/json"
    )
    assert response.status_code == 200


# ---- what is refused --------------------------------------------------------------------------

DAY = timedelta(days=1)
KEY = sha256(DEVICE.encode()).hexdigest()
# What is changed in a good record: the field that is named, words of the message.
BAD_RECORDS: dict[str, tuple[dict[str, Any], str, str]] = {
    "an id that is no UUID": ({"id": "seven"}, "record.id", "has to be a UUID"),
    "an id of version 4": (
        {"id": "9c5b94b1-35ad-49bb-b118-8e8fc24abf80"},
        "record.id",
        "version 7",
    ),
    "an id in capitals": ({"id": uuid7().upper()}, "record.id", "lower case"),
    "an id that is a number": ({"id": 7}, "record.id", "wrong type"),
    "an unknown kind": ({"kind": "boat"}, "record.kind", "one of: trailer, check"),
    "version 0": ({"version": 0}, "record.version", "one of: 1"),
    "version 2": ({"version": 2}, "record.version", "one of: 1"),
    "a version in words": ({"version": "one"}, "record.version", "wrong type"),
    "a time without its offset": (
        {"made": "2026-07-14T10:02:11"},
        "record.made",
        "with its offset",
    ),
    "a time that is none": ({"made": "noon"}, "record.made", "with its offset"),
    "a time in year 1": ({"made": "0001-01-01T00:00:00+00:00"}, "record.made", "1970 to 9998"),
    "a time after all years": ({"made": "9999-12-31T23:59:59-14:00"}, "record.made", "1970 to"),
    "an unknown field": ({"colour": "red"}, "record.colour", "not a known field"),
    "a body that is a list": ({"body": []}, "record.body", "wrong type"),
}
BAD_CHECKS: dict[str, tuple[dict[str, Any], str, str]] = {
    "an unknown check": ({"check": "dance"}, "record.body.check", "one of: walkaround"),
    "a date that does not exist": ({"date": "2026-02-30"}, "record.body.date", "a date such as"),
    "a date in a short form": ({"date": "20260714"}, "record.body.date", "a date such as"),
    "a date that is null": ({"date": None}, "record.body.date", "is empty"),
    "a date in year 1": ({"date": "0001-01-01"}, "record.body.date", "1970 to 9998"),
    "facts in a list": ({"facts": []}, "record.body.facts", "wrong type"),
    "a trailer that is no id": ({"trailer": "mine"}, "record.body.trailer", "UUID"),
    "a short rulebook hash": ({"rulebook": "abc"}, "record.body.rulebook", "SHA-256"),
    "a verdict in words": ({"verdict": "fine"}, "record.body.verdict", "wrong type"),
    "an unknown field": ({"mood": "good"}, "record.body.mood", "not a known field"),
    "a number below its fact's range": (
        {"facts": {"tread@1L": -0.1}},
        "record.body.facts.tread@1L",
        "within 0 to 30 mm",
    ),
    "a number above its fact's range": (
        {"facts": {"tread@1L": 30.1}},
        "record.body.facts.tread@1L",
        "within 0 to 30 mm",
    ),
}


BAD_TRAILERS: dict[str, tuple[dict[str, Any], str, str]] = {
    "an id that is none": ({"trailer": "mine"}, "record.body.trailer", "UUID"),
    "no id": ({"trailer": None}, "record.body.trailer", "is empty"),
    "a name that is a number": ({"name": 3}, "record.body.name", "wrong type"),
    "facts in a list": ({"facts": []}, "record.body.facts", "wrong type"),
    "typed answers in words": ({"typed": "all"}, "record.body.typed", "wrong type"),
    "retired in words": ({"retired": "yes"}, "record.body.retired", "wrong type"),
    "an unknown field": ({"colour": "red"}, "record.body.colour", "not a known field"),
}


@pytest.mark.parametrize("changes", [{}, {"name": ""}, {"facts": {"axles": 2}}, {"retired": True}])
def test_a_trailer_is_filed_under_its_own_id(app, client, changes):
    response = send(client, envelope(record(kind="trailer", body=trailer_body(**changes))))
    assert (response.status_code, response.json["verdict"]) == (200, None)
    assert rows(app)[0]["trailer"] == TRAILER


@pytest.mark.parametrize("case", BAD_TRAILERS)
def test_a_bad_trailer_is_refused_by_the_name_of_its_field(app, client, case):
    changes, field, words = BAD_TRAILERS[case]
    refused(app, client, record(kind="trailer", body=trailer_body(**changes)), field, words)


def trailer_body(**changes: Any) -> dict[str, Any]:
    return {"trailer": TRAILER, "name": "Alder Fork 3", "facts": {}, "typed": {}} | changes


@pytest.mark.parametrize("case", BAD_RECORDS)
def test_a_bad_record_is_refused_by_the_name_of_its_field(app, client, case):
    changes, field, words = BAD_RECORDS[case]
    refused(app, client, record(**changes), field, words)


@pytest.mark.slow
@pytest.mark.parametrize("case", BAD_CHECKS)
def test_a_bad_check_is_refused_by_the_name_of_its_field(app, client, case):
    changes, field, words = BAD_CHECKS[case]
    refused(app, client, record(body=check_body(**changes)), field, words)


@pytest.mark.parametrize("name", record())
def test_a_record_without_one_of_its_fields_is_refused(app, client, name):
    short = {key: value for key, value in record().items() if key != name}
    refused(app, client, short, f"record.{name}", "is missing")


@pytest.mark.parametrize("name", check_body())
def test_a_check_without_one_of_its_fields_is_refused(app, client, name):
    short = {key: value for key, value in check_body().items() if key != name}
    refused(app, client, record(body=short), f"record.body.{name}", "is missing")


def refused(app: Flask, client: FlaskClient, bad: Any, field: str, words: str) -> None:
    error = error_of(send(client, envelope(bad)), 422)
    assert error["field"] == field
    assert words in error["message"]
    assert rows(app) == []


# How far the phone's clock is ahead, and what the record then is flagged with.
CLOCKS = {
    "right": (timedelta(), None),
    "a little fast": (timedelta(minutes=4), None),
    "a little slow": (timedelta(minutes=-4), None),
    "six minutes fast": (timedelta(minutes=6), 360),
    "six minutes slow": (timedelta(minutes=-6), -360),
    "years fast": (timedelta(days=2000), 172_800_000),
    "years slow": (timedelta(days=-2000), -172_800_000),
}


@pytest.mark.parametrize("waited", [timedelta(), timedelta(days=40)], ids=["fresh", "waited"])
@pytest.mark.parametrize("case", CLOCKS)
def test_a_record_is_taken_whatever_the_phones_clock_and_a_wrong_one_is_flagged(
    app, client, case, waited
):
    ahead, flag = CLOCKS[case]
    phone, begun = datetime.now(UTC) + ahead, datetime.now(UTC)
    made = phone - waited
    one = record(made=made.isoformat(), body=check_body(date=str(made.date())))
    headers = HEADERS | {"X-Twentymile-Clock": phone.isoformat()}
    answer = client.post("/api/records", json=envelope(one), headers=headers)
    assert answer.status_code == 200, answer.text
    row = app.extensions["store"].find(KEY, one["id"])
    assert row["clock_s"] == (flag and pytest.approx(flag, abs=5))
    off = row["made_ms"] / 1000 - (begun - waited).timestamp()
    assert abs(off) <= (5 if flag else 245)
    assert row["made_ms"] <= row["received_ms"]
    assert answer.json.get("clock") == row["clock_s"]
    assert json.loads(row["record"])["made"] == one["made"]  # what was sent is never changed
    again = client.post("/api/records", json=envelope(one), headers=HEADERS)
    assert again.json == answer.json


@pytest.mark.slow
@pytest.mark.parametrize(
    ("minutes", "flag"),
    [(-60 * 24 * 60, None), (4, None), (6, 360), (60 * 24 * 365 * 20, 630_720_000)],
)
@pytest.mark.parametrize("header", [None, "", "noon", "2026-07-14T10:02:11"])
def test_without_the_phones_clock_only_a_time_to_come_is_flagged(
    app, client, minutes, flag, header
):
    made = datetime.now(UTC) + timedelta(minutes=minutes)
    one = record(made=made.isoformat())
    headers = HEADERS | ({} if header is None else {"X-Twentymile-Clock": header})
    assert client.post("/api/records", json=envelope(one), headers=headers).status_code == 200
    row = app.extensions["store"].find(KEY, one["id"])
    assert row["clock_s"] == (flag and pytest.approx(flag, abs=5))
    assert row["made_ms"] <= row["received_ms"]


def test_a_fact_made_with_another_rulebook_points_to_the_update(client):
    body = check_body(facts={"tread@1L": 99}, rulebook="1" * 64)
    assert "update the app" in error_of(send(client, envelope(record(body=body))), 422)["fix"]


# ---- the envelope and its bytes ---------------------------------------------------------------

GOOD = envelope(record())
BAD_ENVELOPES: dict[str, tuple[Any, int, str, str]] = {
    "a list": ([], 422, "bad_field", ""),
    "nothing in it": ({}, 422, "bad_field", "record"),
    "no hash": ({"record": GOOD["record"]}, 422, "bad_field", "hash"),
    "a hash in capitals": (GOOD | {"hash": "A" * 64}, 422, "bad_field", "hash"),
    "another record's hash": (GOOD | {"hash": "a" * 64}, 422, "hash_mismatch", "hash"),
    "an unknown field": (GOOD | {"extra": 1}, 422, "bad_field", "extra"),
    "a record in words": (GOOD | {"record": "good"}, 422, "bad_field", "record"),
    "a number past 2^53": (
        GOOD | {"record": GOOD["record"] | {"version": 2**53 + 1}},
        422,
        "not_canonical",
        "record",
    ),
}


@pytest.mark.parametrize("case", BAD_ENVELOPES)
def test_a_bad_envelope_is_refused(app, client, case):
    body, status, code, field = BAD_ENVELOPES[case]
    error = error_of(send(client, body), status)
    assert (error["code"], error["field"]) == (code, field)
    assert rows(app) == []


BAD_TEXTS = {
    "cut JSON": b'{"record": {',
    "bytes that are no UTF-8": b'"\xff"',
    "nothing but a space": b" ",
    "a field named twice": b'{"hash": "a", "hash": "b"}',
    "a number that JSON does not have": b'{"record": NaN}',
    "lists nested too deep": b"[" * 100_000,
}


@pytest.mark.parametrize("case", BAD_TEXTS)
def test_a_body_that_is_not_json_is_refused(client, case):
    response = client.post(
        "/api/records", data=BAD_TEXTS[case], headers=HEADERS, content_type="application/json"
    )
    assert error_of(response, 400)["code"] == "not_json"


def test_text_with_half_a_character_is_refused(client):
    text = json.dumps(GOOD).replace('"run_stop"', '"\\ud800"')
    response = client.post(
        "/api/records", data=text, headers=HEADERS, content_type="application/json"
    )
    assert error_of(response, 422)["code"] == "not_canonical"


def padded(size: int) -> bytes:
    """An envelope of exactly ``size`` bytes."""
    one = record(kind="photo", body={"pad": ""})
    room = size - len(json.dumps(envelope(one)))
    return json.dumps(envelope(one | {"body": {"pad": "x" * room}})).encode()


@pytest.mark.parametrize(("size", "status"), [(LIMIT - 1, 200), (LIMIT, 200), (LIMIT + 1, 413)])
def test_a_record_may_have_256_kilobytes(app, client, size, status):
    body = padded(size)
    assert len(body) == size
    response = client.post(
        "/api/records", data=body, headers=HEADERS, content_type="application/json"
    )
    assert response.status_code == status
    assert len(rows(app)) == (status == 200)
    if status == 413:
        assert str(LIMIT) in error_of(response, 413)["message"]


@pytest.mark.parametrize("device", [None, "", "abc", "g" * 32, "A" * 32, "0" * 33])
def test_a_request_without_a_proper_device_id_is_refused(app, client, device):
    headers = {} if device is None else {"X-Twentymile-Device": device}
    error = error_of(client.post("/api/records", json=GOOD, headers=headers), 400)
    assert error["field"] == "X-Twentymile-Device"
    assert rows(app) == []


@pytest.mark.parametrize("kind", ["text/plain", "application/x-www-form-urlencoded", ""])
def test_another_content_type_than_json_is_refused(client, kind):
    response = client.post(
        "/api/records", data=json.dumps(GOOD), headers=HEADERS, content_type=kind
    )
    assert error_of(response, 415)["field"] == "Content-Type"


# ---- faults -----------------------------------------------------------------------------------


def test_a_fault_in_the_engine_stores_nothing_and_says_to_send_again(app, client, caplog):
    def broken(payload: dict[str, Any]) -> dict[str, Any]:
        raise ZeroDivisionError

    app.extensions["engine"]._judge = broken
    sent = envelope(record())
    error = error_of(send(client, sent), 500)
    assert error["code"] == "server_fault"
    assert "again" in error["fix"]
    assert rows(app) == []
    assert "ZeroDivisionError" in caplog.text
    app.extensions["engine"]._judge = stand_in
    assert send(client, sent).status_code == 200


@pytest.mark.parametrize(
    ("method", "path", "status"),
    [
        ("GET", "/api/records", 405),
        ("HEAD", "/api/records", 405),
        ("PUT", "/api/records", 405),
        ("DELETE", "/api/records", 405),
        ("GET", "/api/nothing", 404),
        ("POST", "/api/nothing", 404),
    ],
)
def test_other_methods_and_addresses_change_nothing(app, client, method, path, status):
    send(client, GOOD)
    before = rows(app)
    response = client.open(path, method=method, json=GOOD, headers=HEADERS)
    assert response.status_code == status
    if method != "HEAD":
        error_of(response, status)
    assert rows(app) == before


def test_the_canonical_form_is_the_one_of_rfc_8785():
    # RFC 8785, sections 3.2.2 and 3.2.3: the sample and its canonical form (from memory).
    sample = {
        "numbers": [333333333.33333329, 1e30, 4.50, 2e-3, 0.000000000000000000000000001],
        "string": "\u20ac$\u000f\u000aA'\u0042\u0022\u005c\\\"/",
        "literals": [None, True, False],
    }
    assert rfc8785.dumps(sample).decode() == (
        '{"literals":[null,true,false],'
        '"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],'
        '"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'
    )
