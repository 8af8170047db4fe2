"""What comes without a shop's link has a limit for each address; what is over waits."""

from __future__ import annotations

from typing import Any

import pytest
from flask import Flask

from tests.support.floor import Floor, run_stop
from tests.support.photo_files import headers
from tests.support.pictures import photo
from tests.support.records import HEADERS, check_body, envelope, error_of, record
from webapp import allowance
from webapp.canonical import canonical

HERE, THERE = "192.0.2.1", "192.0.2.2"
JPEG = photo()


@pytest.fixture
def given(app: Flask) -> allowance.Allowance:
    """That of the application, for as much as one check has."""
    found = app.extensions["allowance"] = allowance.Allowance(length_of(checked()))
    return found


def checked() -> dict[str, Any]:
    return envelope(record(body=check_body()))


def length_of(sent: dict[str, Any]) -> int:
    return len(canonical(sent["record"]))


def send(app: Flask, sent: dict[str, Any], place: str = HERE) -> Any:
    client = app.test_client()
    return client.post(
        "/api/records", json=sent, headers=HEADERS, environ_base={"REMOTE_ADDR": place}
    )


@pytest.mark.parametrize(
    ("most", "status"), [(-1, 429), (0, 200), (1, 200)], ids=["over", "on", "inside"]
)
def test_what_is_over_the_allowance_of_an_address_waits(app, given, most, status):
    given.most += most
    answer = send(app, checked())
    assert answer.status_code == status
    if status == 429:
        assert "stay on the phone" in error_of(answer, 429)["fix"]


def test_no_limit_is_one_that_nobody_meets(app, given):
    given.most = 0
    assert [send(app, checked()).status_code for _ in range(3)] == [200] * 3


SECOND = {
    "from the same address": (HERE, HERE, 429),
    "from another address": (HERE, THERE, 200),
    "from the same IPv6 network": ("2001:db8::1", "2001:db8::2", 429),
    "from another IPv6 network": ("2001:db8::1", "2001:db8:0:1::1", 200),
}


@pytest.mark.parametrize("case", SECOND)
def test_each_address_has_its_own(app, given, case):
    first, second, status = SECOND[case]
    assert send(app, checked(), first).status_code == 200
    assert send(app, checked(), second).status_code == status


def test_after_an_hour_it_is_taken(app, given, monkeypatch):
    send(app, checked())
    late = checked()
    assert send(app, late).status_code == 429
    hour = given.began + allowance.HOUR
    for passed, status in ((-1, 429), (0, 200)):
        monkeypatch.setattr(allowance.time, "monotonic", lambda at=hour + passed: at)
        assert send(app, late).status_code == status


def test_what_is_stored_already_is_answered_as_it_was(app, given):
    sent = checked()
    first = send(app, sent)
    assert send(app, sent).json == first.json


def test_of_several_each_is_answered_for_itself(app, given):
    sent = [checked() for _ in range(2)]
    answers = app.test_client().post(
        "/api/records/several", json={"records": sent}, headers=HEADERS
    )
    assert [one["status"] for one in answers.json["answers"]] == [200, 429]
    assert answers.json["answers"][1]["body"]["error"]["code"] == "too_many"


def test_a_shops_link_has_a_limit_of_its_own(app, given, floor: Floor):
    given.most = 1
    assert floor.send(run_stop()).status_code == 200
    sent = headers(JPEG, link=floor.secret)
    assert app.test_client().post("/api/photos", data=JPEG, headers=sent).status_code == 200


@pytest.mark.parametrize(("most", "status"), [(-1, 429), (0, 200)], ids=["over", "on"])
def test_photos_count_too(app, given, most, status):
    given.most = len(JPEG) + most
    answer = app.test_client().post("/api/photos", data=JPEG, headers=headers(JPEG))
    assert answer.status_code == status
