"""Photos on the wire: kept once, on disk before the answer, and shown to nobody else's eyes."""

from __future__ import annotations

import socket
from hashlib import sha256
from io import BytesIO
from typing import Any

import pytest
from flask import Flask
from PIL import Image

from tests.support.floor import DAY, NOW, OTHER_PHONE, Floor, let_in, run_stop, shop_floor
from tests.support.photo_files import headers
from tests.support.pictures import CORNERS, bomb, corner_colours, photo, telltale, turned
from tests.support.records import HEADERS, error_of
from webapp.commands.verify import photos_astray
from webapp.storage.models import photos

JPEG = photo()


def send(app: Flask, body: bytes = JPEG, sent: dict[str, str] | None = None) -> Any:
    return app.test_client().post("/api/photos", data=body, headers=sent or headers(body))


def sign_in(floor: Floor) -> Any:
    client = floor.app.test_client()
    let_in(client, floor.app, floor.staff)
    return client


# ---- what is kept -------------------------------------------------------------------------------


def test_a_photo_is_answered_with_the_id_hash_and_length_of_what_was_sent(app):
    sent = headers(JPEG)
    answer = send(app, JPEG, sent)
    assert answer.status_code == 200, answer.text
    assert answer.json == {
        "id": sent["X-Twentymile-Photo"],
        "hash": sha256(JPEG).hexdigest(),
        "length": len(JPEG),
    }
    assert answer.headers["Cache-Control"] == "no-store"


def test_the_row_tells_of_the_kept_file_and_only_its_owner_may_read_it(app, floor):
    sent = headers(telltale(), link=floor.secret)
    send(app, telltale(), sent)
    (row,) = floor.rows("photos")
    file = app.extensions["store"].data / row["path"]
    kept = file.read_bytes()
    assert row["sha256"] == sha256(kept).hexdigest() != row["received_sha256"]
    assert (row["length"], row["width"], row["height"]) == (len(kept), 160, 80)
    assert (row["point"], row["place"]) == ("hub_heat", "1L")
    assert (row["shop_id"], row["link_id"]) == (floor.shop, floor.link)
    assert b"Telltale" not in kept
    assert file.stat().st_mode & 0o077 == 0
    assert file.parent.stat().st_mode & 0o077 == 0


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_kept_photo_stands_upright_and_says_nothing_of_its_orientation(app, floor, orientation):
    body = turned(orientation)
    send(app, body)
    kept = (app.extensions["store"].data / floor.rows("photos")[0]["path"]).read_bytes()
    assert corner_colours(kept) == CORNERS
    assert not Image.open(BytesIO(kept)).getexif()


def test_a_photo_sent_twice_is_kept_once_and_answered_alike(app, floor):
    sent = headers(JPEG)
    first, second = send(app, JPEG, sent), send(app, JPEG, sent)
    assert (first.status_code, first.json) == (second.status_code, second.json)
    assert len(floor.rows("photos")) == 1
    assert len(list(app.extensions["store"].data.glob("photos/*/*"))) == 1


@pytest.mark.slow
@pytest.mark.parametrize("first", ["the phone whose check is shown", "the other"])
@pytest.mark.parametrize("link", [True, False], ids=["on the link", "alone"])
def test_a_photo_of_a_check_on_two_phones_is_kept_once_and_shown(app, floor, first, link):
    check = run_stop()
    floor.send(check)
    floor.send(check, headers=OTHER_PHONE)
    known = headers(JPEG, record=check["id"], link=floor.secret if link else None)
    both = [known, known | OTHER_PHONE]
    answers = [send(app, JPEG, one) for one in (both if first != "the other" else both[::-1])]
    assert [one.status_code for one in answers] == [200, 200]
    assert answers[0].json == answers[1].json
    (row,) = floor.rows("photos")
    (shown,) = floor.rows("records", shop_id=floor.shop)
    assert (row["shop_id"], row["device_hash"]) == (floor.shop, shown["device"])


def test_no_phone_takes_a_photo_to_another_shop(app, floor):
    check, other = run_stop(), shop_floor(app, "Other Shop")
    floor.send(check)
    known = headers(JPEG, record=check["id"], link=floor.secret)
    send(app, JPEG, known)
    before = floor.rows("photos")
    other.send(check, headers=OTHER_PHONE)
    assert send(app, JPEG, known | {"X-Twentymile-Link": other.secret} | OTHER_PHONE).json
    assert floor.rows("photos") == before


@pytest.mark.parametrize("device", [HEADERS, OTHER_PHONE], ids=["same phone", "other phone"])
def test_an_id_with_other_content_or_from_another_phone_is_refused(app, floor, device):
    first, other = headers(JPEG), photo("PNG")
    send(app, JPEG, first)
    again = headers(other, photo=first["X-Twentymile-Photo"]) | device
    assert error_of(send(app, other, again), 422)["code"] == "id_reused"
    assert floor.rows("photos")[0]["received_sha256"] == sha256(JPEG).hexdigest()


def test_when_the_file_cannot_be_written_nothing_is_kept_and_it_can_be_sent_again(
    app, floor, monkeypatch
):
    sent = headers(JPEG)
    with monkeypatch.context() as broken:
        broken.setattr("os.fsync", lambda _: (_ for _ in ()).throw(OSError("disk full")))
        assert send(app, JPEG, sent).status_code == 500
    assert floor.rows("photos") == []
    assert send(app, JPEG, sent).status_code == 200


# ---- what is refused ----------------------------------------------------------------------------

CUT = JPEG[: len(JPEG) // 2]
BIG = JPEG + b"\0" * 2_000_000
BODIES = {
    "cut, with the hash of the half": (CUT, 422, "not_whole"),
    "a GIF called JPEG": (photo("GIF"), 422, "not_a_photo"),
    "a page called JPEG": (b"<html><script>1</script>", 422, "not_a_photo"),
    "a page behind the photo": (JPEG + b"<script>1</script>", 422, "tail"),
    "a bomb": (bomb(30_000, 30_000), 422, "too_many_pixels"),
    "two megabytes and more": (BIG, 413, "too_large"),
}


@pytest.mark.parametrize(("body", "status", "code"), BODIES.values(), ids=BODIES.keys())
def test_what_is_no_whole_photo_is_refused_and_leaves_nothing(app, floor, body, status, code):
    assert error_of(send(app, body), status)["code"] == code
    assert floor.rows("photos") == []
    assert not list(app.extensions["store"].data.glob("photos/*/*"))


def test_a_photo_with_the_hash_of_another_is_refused(app):
    assert error_of(send(app, JPEG, headers(photo("PNG"))), 422)["code"] == "hash_mismatch"


BAD_HEADERS = {
    "no device": ({"device": None}, "X-Twentymile-Device"),
    "no id": ({"photo": None}, "X-Twentymile-Photo"),
    "an id of version 4": (
        {"photo": "9c5b94b1-35ad-49bb-b118-8e8fc24abf80"},
        "X-Twentymile-Photo",
    ),
    "an id that climbs": ({"photo": "../../secret_key"}, "X-Twentymile-Photo"),
    "no record": ({"record": None}, "X-Twentymile-Record"),
    "no hash": ({"sha256": None}, "X-Twentymile-Sha256"),
    "a hash in capitals": ({"sha256": "A" * 64}, "X-Twentymile-Sha256"),
    "no point": ({"point": None}, "X-Twentymile-Point"),
    "a place there is not": ({"point": "hub_heat@left"}, "X-Twentymile-Point"),
    "a point with markup": ({"point": "<b>"}, "X-Twentymile-Point"),
}


@pytest.mark.slow
@pytest.mark.parametrize(("changes", "field"), BAD_HEADERS.values(), ids=BAD_HEADERS.keys())
def test_a_wrong_header_is_named(app, floor, changes, field):
    error = error_of(send(app, JPEG, headers(JPEG, **changes)), 400)
    assert error["field"] == field
    assert floor.rows("photos") == []


@pytest.mark.parametrize("point", ["hub_heat@1L", "hub_pair@2", "load_stop", "load_stop@"])
def test_a_point_may_be_at_a_wheel_an_axle_or_the_trailer(app, point):
    assert send(app, JPEG, headers(JPEG, point=point)).status_code == 200


@pytest.mark.parametrize(
    ("link", "status"),
    [
        ({}, 200),
        ({"expires": NOW - DAY, "opened": NOW - 2 * DAY}, 200),
        ({"expires": NOW - DAY}, 403),
        ({"revoked": NOW}, 200),
        ({"revoked": NOW - 91 * DAY}, 403),
    ],
)
def test_a_link_takes_photos_as_long_as_it_takes_checks(app, floor, link, status):
    secret = floor.another_link(**link).secret
    assert send(app, JPEG, headers(JPEG, link=secret)).status_code == status
    assert len(floor.rows("photos")) == (status == 200)


# ---- who sees it --------------------------------------------------------------------------------


def test_only_signed_in_staff_of_the_shop_see_a_photo(app, floor):
    sent = headers(JPEG, link=floor.secret)
    send(app, JPEG, sent)
    address = f"/photos/{sent['X-Twentymile-Photo']}"
    seen = sign_in(floor).get(address)
    assert seen.status_code == 200
    assert seen.mimetype == "image/jpeg"
    assert seen.headers["X-Content-Type-Options"] == "nosniff"
    assert seen.headers["Cache-Control"] == "no-store"
    assert sha256(seen.data).hexdigest() == floor.rows("photos")[0]["sha256"]
    assert app.test_client().get(address).status_code == 404
    assert sign_in(shop_floor(app, "Other Shop")).get(address).status_code == 404


def read(floor: Floor, photo_id: str, device: dict[str, str] = HEADERS) -> Any:
    body = {"secret": floor.secret, "id": photo_id}
    return floor.app.test_client().post("/api/photos/read", json=body, headers=device)


# Whose link is used to read, and what comes.
READERS = {
    "the same link": (lambda app, f: f, 200),
    "another link of the same customer": (lambda app, f: f.another_link(), 200),
    "a link of the trailer's next customer": (
        lambda app, f: f.another_link(customer_id=shop_floor(app, "Next").customer),
        404,
    ),
    "a link of another shop": (lambda app, f: shop_floor(app, "Other"), 404),
    "a link taken back": (lambda app, f: f.another_link(revoked=NOW), 410),
    "a link that has ended": (lambda app, f: f.another_link(expires=NOW), 410),
}


@pytest.mark.parametrize(("reader", "status"), READERS.values(), ids=READERS.keys())
def test_a_photo_is_read_through_links_for_the_same_customers_trailer(app, floor, reader, status):
    sent = headers(JPEG, link=floor.secret)
    send(app, JPEG, sent)
    answer = read(reader(app, floor), sent["X-Twentymile-Photo"])
    assert answer.status_code == status
    assert (answer.mimetype == "image/jpeg") == (status == 200)


@pytest.mark.parametrize(("device", "status"), [(HEADERS, 200), (OTHER_PHONE, 404)])
def test_on_a_standing_link_each_phone_reads_its_own_photos_only(app, floor, device, status):
    shared = floor.another_link(kind="standing", customer_id=None, job_id=None)
    sent = headers(JPEG, link=shared.secret)
    send(app, JPEG, sent)
    assert read(shared, sent["X-Twentymile-Photo"], device).status_code == status


@pytest.mark.slow
@pytest.mark.parametrize("order", ["photo first", "check first"])
def test_a_photo_sent_without_the_link_follows_its_check_to_the_shop(app, floor, order):
    check = run_stop()
    sent = headers(JPEG, record=check["id"])
    steps = [lambda: send(app, JPEG, sent), lambda: floor.send(check)]
    for step in steps if order == "photo first" else reversed(steps):
        assert step().status_code == 200
    (row,) = floor.rows("photos")
    assert (row["shop_id"], row["link_id"]) == (floor.shop, floor.link)


def test_a_photo_of_another_phone_does_not_follow_a_check(app, floor):
    check = run_stop()
    send(app, JPEG, headers(JPEG, record=check["id"]) | OTHER_PHONE)
    floor.send(check)
    assert floor.rows("photos")[0]["shop_id"] is None


# ---- proof --------------------------------------------------------------------------------------


def astray(app: Flask, floor: Floor) -> tuple[int, int, int]:
    store = app.extensions["store"]
    with store.reading() as connection:
        count, found, left = photos_astray(store.photos, connection.execute(photos.select()))
    return count, len(found), len(left)


# What is done to the one file that is kept, and then: photos, photos astray, files too many.
FAULTS = {
    "nothing": (lambda file: None, (1, 0, 0)),
    "deleted": (lambda file: file.unlink(), (1, 1, 0)),
    "one byte more": (lambda file: file.write_bytes(file.read_bytes() + b"x"), (1, 1, 0)),
    "a file beside it": (lambda file: file.with_name("x.jpg").write_bytes(b"x"), (1, 0, 1)),
}


@pytest.mark.parametrize(("fault", "found"), FAULTS.values(), ids=FAULTS.keys())
def test_the_proof_names_files_that_are_missing_changed_or_too_many(app, floor, fault, found):
    send(app)
    fault(app.extensions["store"].data / floor.rows("photos")[0]["path"])
    assert astray(app, floor) == found


# ---- the real server ----------------------------------------------------------------------------


@pytest.mark.slow
def test_a_photo_that_is_cut_on_its_way_is_refused_by_the_real_server(server):
    """Half of the bytes arrive and the sender hangs up; no worker raises anything by itself."""
    host, _, port = server.removeprefix("http://").partition(":")
    named = headers(JPEG) | {"Host": host, "Content-Length": str(len(JPEG)), "Connection": "close"}
    head = "".join(f"{name}: {value}\r\n" for name, value in named.items())
    with socket.create_connection((host, int(port)), timeout=20) as connection:
        connection.sendall(f"POST /api/photos HTTP/1.1\r\n{head}\r\n".encode() + JPEG[:300])
        connection.shutdown(socket.SHUT_WR)
        answer = b"".join(iter(lambda: connection.recv(65536), b"")).decode()
    assert answer.startswith("HTTP/1.1 400 ")
    assert f"Only 300 of the photo's {len(JPEG)} bytes arrived" in answer
