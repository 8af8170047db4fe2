"""A phone asks what the server still has, and sends again what an older backup does not have."""

from __future__ import annotations

import pytest

from tests.support.photo_files import camera_file, headers, scene
from tests.support.records import HEADERS, envelope, error_of, record, uuid7
from webapp.storage.forgetting import forget
from webapp.storage.models import photos, records

OTHER = {"X-Twentymile-Device": "f" * 32}
JPEG = camera_file(scene(64, 48))


@pytest.fixture
def sent(app, client):
    """A check and a photo that this phone has sent: their ids."""
    check = record()
    assert client.post("/api/records", json=envelope(check), headers=HEADERS).status_code == 200
    about = headers(JPEG, record=check["id"])
    assert client.post("/api/photos", data=JPEG, headers=about).status_code == 200
    return {"records": [check["id"]], "photos": [about["X-Twentymile-Photo"]]}


def ask(client, ids, device=HEADERS):
    return client.post("/api/held", json=ids, headers=device)


def test_what_the_server_has_is_not_asked_for(client, sent):
    assert ask(client, sent).json == {"records": [], "photos": []}


@pytest.mark.slow
def test_what_an_older_backup_does_not_have_is_asked_for(app, client, sent):
    with app.extensions["store"].writing() as connection:
        connection.execute(photos.delete())
        connection.execute(records.delete())
    assert ask(client, sent).json == sent


def test_what_was_deleted_for_good_is_not_asked_for(app, client, sent):
    with app.extensions["store"].writing() as connection:
        row = connection.execute(records.select()).one()
        forget(connection, [(row.device, sent["records"][0]), (row.device, sent["photos"][0])])
        connection.execute(photos.delete())
        connection.execute(records.delete())
    assert ask(client, sent).json == {"records": [], "photos": []}


def test_deleting_twice_is_no_fault(app):
    for _ in range(2):
        with app.extensions["store"].writing() as connection:
            forget(connection, [("d", "one"), ("d", "one")])


def test_another_phone_with_the_check_sends_it_but_not_its_photo_again(client, sent):
    """A check is kept for each phone that sends it; a photo, whoever sends it, once."""
    assert ask(client, sent, OTHER).json == {"records": sent["records"], "photos": []}


BAD = {
    "no list": ({"records": "all", "photos": []}, "records"),
    "no id": ({"records": ["me"], "photos": []}, "records.0"),
    "a part is missing": ({"records": []}, "photos"),
    "a part too many": ({"records": [], "photos": [], "drafts": []}, "drafts"),
    "too many ids": ({"records": [uuid7() for _ in range(501)], "photos": []}, "records"),
}


@pytest.mark.parametrize("case", BAD)
def test_a_question_that_is_none_is_refused_by_name(client, case):
    body, field = BAD[case]
    assert error_of(ask(client, body), 422)["field"] == field


def test_a_question_needs_a_device(client):
    assert ask(client, {"records": [], "photos": []}, {}).status_code == 400
