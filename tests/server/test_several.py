"""Several records in one request, and several requests in one commit: each stands for itself."""

from __future__ import annotations

import json
from concurrent.futures import ThreadPoolExecutor
from hashlib import sha256
from typing import Any

import pytest
import rfc8785
from flask import Flask
from flask.testing import FlaskClient
from hypothesis import example, given
from hypothesis import strategies as st
from sqlalchemy import Connection, event

from tests.support.effort import effort
from tests.support.records import HEADERS, check_body, envelope, error_of, record
from tests.support.waiting import until
from webapp.api.schemas import SEVERAL
from webapp.canonical import canonical
from webapp.storage.store import Filing

ROW = {
    "kind": "photo", "version": 1, "trailer": None, "level": None, "made_ms": 1, "received_ms": 1,
    "record": "{}", "verdict": None, "device": "d", "hash": "h", "clock_s": None,
}  # fmt: skip


def send(client: FlaskClient, envelopes: Any) -> Any:
    return client.post("/api/records/several", json={"records": envelopes}, headers=HEADERS)


def alone(client: FlaskClient, one: dict[str, Any]) -> dict[str, Any]:
    """What the same record is answered when it comes by itself."""
    response = client.post("/api/records", json=one, headers=HEADERS)
    return {"status": response.status_code, "body": response.json}


def stored(app: Flask) -> list[str]:
    with app.extensions["store"].reading() as connection:
        return list(connection.exec_driver_sql("SELECT id FROM records ORDER BY seq").scalars())


# ---- several records in one request ---------------------------------------------------------


def envelopes() -> dict[str, dict[str, Any]]:
    good = envelope(record())
    return {
        "good": good,
        "of another kind": envelope(record(kind="trailer", body=TRAILER)),
        "wrong hash": envelope(record()) | {"hash": "0" * 64},
        "no hash": {"record": record()},
        "no record": {"hash": "0" * 64},
        "a fact that is none": envelope(record(body=check_body(facts={"of_next_year": 1}))),
        "of a newer version": envelope(record(version=99)),
        "an unknown link": envelope(record()) | {"link": "x" * 43},
        "an id that is none": envelope(record(id=3)),
        "a field too many": good | {"colour": "blue"},
    }


TRAILER = {
    "trailer": "01a20ffc-9810-78dc-aa9d-2ee114d62568",
    "name": "Alder Fork 3",
    "facts": {},
    "typed": {},
}


def test_each_is_answered_as_if_it_had_come_alone(client):
    sent = list(envelopes().values())
    together = send(client, sent)
    assert together.status_code == 200, together.text
    assert together.json["answers"] == [alone(client, one) for one in sent]


@pytest.mark.slow
@pytest.mark.parametrize("case", [case for case in envelopes() if "good" not in case])
def test_a_bad_one_takes_nothing_from_those_beside_it(app, client, case):
    before, after = envelope(record()), envelope(record())
    answers = send(client, [before, envelopes()[case], after]).json["answers"]
    assert [answers[0]["status"], answers[2]["status"]] == [200, 200]
    ids = [answers[0]["body"]["id"], answers[2]["body"]["id"]]
    assert [one for one in stored(app) if one in ids] == ids


def test_a_fault_of_the_server_is_one_records_fault(app, client):
    app.extensions["engine"]._judge = faulty
    sent = [envelope(record(body=check_body(facts={"axles": n}))) for n in (1, 2, 3)]
    answers = send(client, sent).json["answers"]
    assert [one["status"] for one in answers] == [200, 500, 200]
    assert answers[1]["body"]["error"]["code"] == "server_fault"
    assert stored(app) == [sent[0]["record"]["id"], sent[2]["record"]["id"]]


def faulty(payload: dict[str, Any]) -> dict[str, Any]:
    if payload["facts"]["axles"] == 2:
        raise ZeroDivisionError
    return {"level": "nothing"}


def test_the_same_record_twice_in_one_request_is_stored_once(app, client):
    sent = envelope(record())
    first, second = send(client, [sent, sent]).json["answers"]
    assert first == second
    assert stored(app) == [sent["record"]["id"]]


def test_one_id_with_two_contents_keeps_the_first(app, client):
    first = record()
    other = first | {"kind": "photo", "body": {}}
    answers = send(client, [envelope(first), envelope(other)]).json["answers"]
    assert [one["status"] for one in answers] == [200, 422]
    assert answers[1]["body"]["error"]["code"] == "id_reused"
    assert stored(app) == [first["id"]]


@pytest.mark.parametrize(
    ("body", "status", "code"),
    [
        ({"records": [envelope(record()) for _ in range(SEVERAL)]}, 200, ""),
        ({"records": [envelope(record()) for _ in range(SEVERAL + 1)]}, 422, "bad_field"),
        ({"records": []}, 422, "bad_field"),
        ({}, 422, "bad_field"),
        ({"records": {}}, 422, "bad_field"),
        ({"records": [3]}, 422, "bad_field"),
        ([], 422, "bad_field"),
    ],
    ids=["as many as fit", "one too many", "none", "missing", "wrong type", "a number", "a list"],
)
def test_what_is_no_list_of_records_is_refused_whole(app, client, body, status, code):
    response = client.post("/api/records/several", json=body, headers=HEADERS)
    if status == 200:
        assert [one["status"] for one in response.json["answers"]] == [200] * SEVERAL
        return
    assert error_of(response, status)["code"] == code
    assert stored(app) == []


# ---- several requests in one commit ---------------------------------------------------------


@pytest.mark.sqlite
def test_those_who_wait_are_stored_in_one_commit(store):
    commits: list[object] = []
    event.listen(store.engine, "commit", commits.append)
    with ThreadPoolExecutor(8) as pool:
        with store._lead:  # somebody is storing: the others wait
            waiting = [pool.submit(store.add, ROW | {"id": str(n)}) for n in range(8)]
            until(lambda: len(store._waiting) == 8, "eight who wait")
        found = [one.result(20)["id"] for one in waiting]
    assert found == [str(n) for n in range(8)]
    assert len(commits) == 1


def test_what_comes_together_is_stored_in_one_commit(store):
    commits: list[object] = []
    event.listen(store.engine, "commit", commits.append)
    filings = [Filing(ROW | {"id": str(n)}) for n in range(5)]
    store.add_all(filings)
    assert len(commits) == 1
    assert all(filing.stored is not None for filing in filings)


def refuse(connection: Connection, row: dict[str, Any]) -> None:
    raise LookupError(row["id"])


def test_one_that_fails_takes_nobody_elses_row_with_it(store):
    filings = [Filing(ROW | {"id": str(n)}, refuse if n == 1 else None) for n in range(3)]
    store.add_all(filings)
    assert [filing.stored is not None for filing in filings] == [True, False, True]
    assert isinstance(filings[1].error, LookupError)
    assert store.find("d", "0")
    assert store.find("d", "1") is None
    with pytest.raises(LookupError):
        store.add(ROW | {"id": "1"}, refuse)


def test_what_fails_at_the_commit_is_told_to_all_of_it(store):
    def full(_: Connection) -> None:
        raise OSError("no room")

    event.listen(store.engine, "commit", full)
    filings = [Filing(ROW | {"id": str(n)}) for n in range(2)]
    store.add_all(filings)
    event.remove(store.engine, "commit", full)
    assert all(isinstance(filing.error, OSError) for filing in filings)
    assert store.find("d", "0") is None
    assert store.add(ROW | {"id": "0"})["hash"] == "h"


@pytest.mark.sqlite
def test_a_thread_that_is_ended_leaves_nobody_waiting(store, monkeypatch):
    def ended(*_: Any) -> None:
        raise SystemExit

    other = Filing(ROW | {"id": "other"})
    store._waiting.append(other)
    monkeypatch.setattr("webapp.storage.store.put", ended)
    with pytest.raises(SystemExit):
        store.add(ROW | {"id": "mine"})
    assert other.done


@pytest.mark.long
def test_many_at_once_are_each_there_once(app, store):
    """The same eight records from eight phones' windows at once, and eight of each alone."""
    shared = [envelope(record()) for _ in range(8)]

    def window(number: int) -> None:
        with app.test_client() as client:
            own = [envelope(record()) for _ in range(8)]
            for one in (*shared, *own):
                assert alone(client, one)["status"] == 200
            assert {one["status"] for one in send(client, [*own, *shared]).json["answers"]} == {200}

    with ThreadPoolExecutor(8) as pool:
        for done in [pool.submit(window, number) for number in range(8)]:
            done.result(60)
    ids = stored(app)
    assert len(ids) == len(set(ids)) == 8 + 8 * 8


# ---- the text that is hashed ----------------------------------------------------------------

# Where Python's writer and RFC 8785 part: texts (3.2.2.2), numbers (3.2.2.3), order (3.2.3).
VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(2**53) + 1, 2**53 - 1)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.sampled_from([0.0, -0.0, 1.0, 1e21, 1e16, 1e-7, 1e-4, 123456789012345680.0, 0.1, 1.50])
    | st.text(max_size=8)
    | st.sampled_from(["1.0", ":1.0,", "\x7f", "\x00", "\u2028", "é", "\U0001f4a7", '"\\/']),
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=6), inner, max_size=4)
    ),
    max_leaves=12,
)


@pytest.mark.slow
@effort(400)
@given(st.dictionaries(st.text(max_size=6), VALUES, max_size=5))
@example({"a": 1.0})
@example({"a": [1.0]})
@example({"a": 1e16})
@example({"a": 1e-5})
@example({"a": [1.5, 100.0]})
@example({"a": -0.0})
@example({"a": 12345678901234.5})
@example({"a": 1234567890123456.5})
@example({"\ue000": 1, "\U0001f4a7": 2})
@example({"\x7f": "\x1f"})
def test_the_text_is_that_of_the_reference_library(value):
    assert canonical(value) == rfc8785.dumps(value)


@pytest.mark.parametrize(
    "value",
    [{"a": 2**53}, {"a": [-(2**60)]}, {"a": float("nan")}, {"a": float("inf")}, {"a": "\ud800"}],
    ids=["too large", "too small", "not a number", "endless", "half a sign"],
)
def test_what_has_no_such_text_is_refused_as_by_the_library(value):
    for write in (canonical, rfc8785.dumps):
        with pytest.raises((rfc8785.CanonicalizationError, UnicodeError)):
            write(value)


def test_what_is_stored_is_the_text_that_was_hashed(app, client):
    sent = envelope(record(body=check_body(facts={"axles": 1}, typed={"a": 1e21, "b": 2.0})))
    send(client, [sent])
    with app.extensions["store"].reading() as connection:
        (text,) = connection.exec_driver_sql("SELECT record FROM records").scalars()
    assert sha256(text.encode()).hexdigest() == sent["hash"]
    assert json.loads(text) == sent["record"]
