"""The server judges with the real engine and the real rulebook."""

from __future__ import annotations

import json
from hashlib import sha256
from typing import Any

import pytest
import rfc8785

from checks.judge import judge
from checks.rulebook import export
from tests.support.records import HEADERS, check_body, envelope, error_of, record

RUN_STOP = {
    "axles": 1,
    "brakes": "none",
    "air": 20,
    "hub_feel@1L": "hot",
    "hub_feel@1R": "cold",
}


def send(client: Any, **changes: Any) -> Any:
    sent = envelope(record(body=check_body(**changes)))
    return client.post("/api/records", json=sent, headers=HEADERS)


def test_the_servers_verdict_is_the_engines(client):
    response = send(client, date="2026-07-14", facts=RUN_STOP)
    assert response.status_code == 200
    assert response.json["verdict"] == judge(
        {"check": "run_stop", "date": "2026-07-14", "facts": RUN_STOP}
    )


def test_the_phones_verdict_does_not_become_the_servers(app, client):
    response = send(client, facts=RUN_STOP | {"smoke@1L": "yes"}, verdict={"level": "nothing"})
    assert response.json["verdict"]["level"] == "stop"
    with app.extensions["store"].reading() as connection:
        row = connection.exec_driver_sql("SELECT level, record, verdict FROM records").one()
    assert row.level == "stop"
    assert json.loads(row.record)["body"]["verdict"] == {"level": "nothing"}
    assert json.loads(row.verdict) == response.json["verdict"]


# The answer that is changed; words that the message has to hold.
BAD_FACTS: dict[str, tuple[dict[str, Any], tuple[str, ...]]] = {
    "air colder than any": ({"air": -46}, ("air", "-45", "55")),
    "air hotter than any": ({"air": 56}, ("air", "-45", "55")),
    "air in words": ({"air": "mild"}, ("air",)),
    "a range that runs backwards": ({"air": [20, 10]}, ("air", "backwards")),
    "an unknown fact": ({"mood": 1}, ("mood",)),
    "an unknown choice": ({"hub_feel@1L": "purple"}, ("hub_feel@1L", "cold")),
    "a wheel of another axle": ({"hub_feel@3L": "cold"}, ("hub_feel@3L", "axle")),
    "no place": ({"hub_feel": "cold"}, ("hub_feel", "hub_feel@1L")),
    "a yes that is a list of lists": ({"smoke@1L": [["yes"]]}, ("smoke@1L",)),
    "a number in an object": ({"air": {"value": 20}}, ("air",)),
    "a truth for a number": ({"air": True}, ("air",)),
}


@pytest.mark.parametrize("case", BAD_FACTS)
def test_an_answer_that_cannot_be_judged_is_refused_by_its_name(client, case):
    changes, words = BAD_FACTS[case]
    error = error_of(send(client, facts=RUN_STOP | changes), 422)
    assert error["code"] == "bad_fact"
    assert error["field"] == f"record.body.facts.{next(iter(changes))}"
    assert [word for word in words if word not in error["message"]] == []


@pytest.mark.parametrize("air", [-45, 55, None, [10, 20], "68 degF"])
def test_an_answer_on_the_limit_or_unsure_is_taken(client, air):
    assert send(client, facts=RUN_STOP | {"air": air}).status_code == 200


@pytest.mark.slow
def test_the_rulebook_goes_out_as_the_engine_exports_it(client):
    response = client.get("/rulebook.json")
    book = response.json
    assert book == export()
    assert response.data == rfc8785.dumps(book)
    named = book.pop("hash")
    assert sha256(rfc8785.dumps(book)).hexdigest() == named
