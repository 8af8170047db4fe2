"""Photos from the bench: put in at a job, cleaned, shown, removed for a while, and forgotten."""

from __future__ import annotations

import re
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from io import BytesIO
from typing import Any

import pytest
from PIL import Image
from sqlalchemy import select, update
from werkzeug.datastructures import FileStorage, MultiDict
from werkzeug.test import encode_multipart

from tests.support.pictures import photo, quarters
from tests.support.shops import TOKEN, Shop, finished_job, sign_in
from webapp import sizes
from webapp.clock import now
from webapp.shop import bench_photos, undoing
from webapp.storage.models import photos

HIDDEN = b"44.1 North, somebody's camera"


def job_of(shop: Shop, **changes: str) -> str:
    return finished_job(shop, **changes)[0]


def put_in(shop: Shop, job: str, *files: tuple[bytes, str], client: Any = None) -> Any:
    client = client or shop.client
    token = TOKEN.search(client.get(job).text)[1]
    chosen = [FileStorage(BytesIO(body), name) for body, name in files]
    edge, body = encode_multipart(
        MultiDict([("csrf_token", token), *(("photos", f) for f in chosen)])
    )
    kind = f"multipart/form-data; boundary={edge}"
    return client.post(f"{job}/photos", data=body, content_type=kind)


def kept(app) -> list[Any]:
    with app.extensions["store"].reading() as connection:
        return list(connection.execute(select(photos).order_by(photos.c.id)).all())


def on_disk(app) -> int:
    return len(list(app.extensions["store"].data.glob("photos/*/*.jpg")))


def a_photo(shade: int = 0) -> bytes:
    return photo(image=Image.new("RGB", (40, 30), (shade, 90, 40)))


@pytest.mark.slow
def test_photos_of_a_job_stand_on_its_page_its_trailers_and_its_record(app, shop):
    job = job_of(shop)
    answer = put_in(shop, job, (a_photo(1), "race.jpg"), (photo("PNG"), "seal.png"))
    assert (answer.status_code, answer.location) == (302, f"{job}#photos")
    ids = [row.id for row in kept(app)]
    assert len(ids) == 2
    record = re.search(r'href="(/shop/checks/[0-9a-f-]{36})"', shop.client.get(job).text)[1]
    for page in (job, "/shop/trailers/1", record):
        text = shop.client.get(page).text
        assert [f'src="/photos/{one}"' in text for one in ids] == [True, True], page
    assert shop.client.get(f"{record}.pdf").data.count(b"/Subtype /Image") >= 2
    for one in ids:
        assert shop.client.get(f"/photos/{one}").mimetype == "image/jpeg"


@pytest.mark.slow
def test_what_a_camera_writes_beside_the_picture_is_not_kept(app, shop):
    exif = Image.Exif()
    exif[0x010E] = HIDDEN.decode()
    sent = photo(image=quarters(), exif=exif.tobytes())
    assert HIDDEN in sent
    put_in(shop, job_of(shop), (sent, "a.jpg"))
    (row,) = kept(app)
    body = shop.client.get(f"/photos/{row.id}").data
    assert HIDDEN not in body
    assert not Image.open(BytesIO(body)).getexif()


# What is chosen, what is said of it, and how many of the good ones are kept.
REFUSED = [
    ("nothing", [], "No photo is chosen", 0),
    ("no picture", [(b"%PDF-1.4 not a photo", "bill.pdf")], "bill.pdf is not kept", 0),
    ("an empty file", [(b"", "a.jpg"), (a_photo(), "b.jpg")], "The photo has no bytes", 1),
    ("cut off", [(photo()[:-200], "a.jpg"), (a_photo(), "b.jpg")], "The other photos are kept", 1),
    ("too large", [(photo() + b"0" * sizes.PHOTO, "a.jpg")], "more than 2 MB", 0),
    (
        "one too many",
        [(a_photo(20 * n), f"{n}.jpg") for n in range(11)],
        "The last 1 are not kept",
        10,
    ),
]


@pytest.mark.slow
@pytest.mark.parametrize(("files", "said", "count"), [x[1:] for x in REFUSED], ids=lambda x: "")
def test_what_is_no_photo_is_named_and_the_others_are_kept(app, shop, files, said, count):
    answer = put_in(shop, job_of(shop), *files)
    assert answer.status_code == 303
    page = shop.client.get(answer.location)
    assert page.status_code == 422
    assert said in page.text
    assert (len(kept(app)), on_disk(app)) == (count, count)


def test_a_job_has_no_more_photos_than_its_page_can_show(app, shop, monkeypatch):
    monkeypatch.setattr(bench_photos, "MOST", 2)
    answer = put_in(shop, job_of(shop), *((a_photo(50 * n), f"{n}.jpg") for n in range(3)))
    assert "2.jpg is not kept" in shop.client.get(answer.location).text
    assert len(kept(app)) == 2


# The largest body that each address is read to.
LARGEST = [
    ("/shop/jobs/7/photos", sizes.BENCH),
    ("/shop/jobs/7/photos/", sizes.FORM),
    ("/shop/jobs/x/photos", sizes.FORM),
    ("/shop/jobs/7/photos/../photos", sizes.FORM),
    ("/shop/jobs/7", sizes.FORM),
    ("/x/shop/jobs/7/photos", sizes.FORM),
]


@pytest.mark.parametrize(("path", "most"), LARGEST)
def test_only_photos_of_a_job_may_be_as_large_as_ten(path, most):
    assert sizes.most(path) == most


@pytest.mark.slow
def test_the_same_photo_is_kept_once_also_from_two_at_a_time(app, shop):
    job = job_of(shop)
    put_in(shop, job, (a_photo(), "a.jpg"))
    assert "here already" in shop.client.get(put_in(shop, job, (a_photo(), "b.jpg")).location).text
    people = [sign_in(app, "dana") for _ in range(4)]
    with ThreadPoolExecutor(4) as pool:
        done = [pool.submit(put_in, shop, job, (a_photo(9), "c.jpg"), client=one) for one in people]
    assert {one.result().status_code for one in done} == {302}
    assert (len(kept(app)), on_disk(app)) == (2, 2)


@pytest.mark.slow
def test_a_photo_that_was_removed_comes_back_for_30_days(app, shop):
    job = job_of(shop)
    put_in(shop, job, (a_photo(), "a.jpg"))
    (row,) = kept(app)
    shop.press(f"/shop/photos/{row.id}/remove", job)
    assert f'src="/photos/{row.id}"' not in shop.client.get(job).text
    assert shop.client.get(f"/photos/{row.id}").status_code == 404
    shop.press(f"/shop/photos/{row.id}/unremove", job)
    text = shop.client.get(job).text
    assert f'src="/photos/{row.id}"' in text
    for said in ("put in a photo", "removed a photo", "brought a photo back"):
        assert said in text
    shop.press(f"/shop/photos/{row.id}/remove", job)
    long_ago(app, undoing.FOR + timedelta(minutes=1))
    assert shop.press(f"/shop/photos/{row.id}/unremove", job).status_code == 400
    put_in(shop, job, (a_photo(5), "b.jpg"))
    assert row.id not in [one.id for one in kept(app)]
    assert on_disk(app) == 1


def long_ago(app, when: timedelta) -> None:
    with app.extensions["store"].writing() as connection:
        connection.execute(update(photos).values(removed=now() - when))


@pytest.mark.slow
def test_a_removed_photo_put_in_again_is_there_again(app, shop):
    job = job_of(shop)
    put_in(shop, job, (a_photo(), "a.jpg"))
    (row,) = kept(app)
    shop.press(f"/shop/photos/{row.id}/remove", job)
    put_in(shop, job, (a_photo(), "a.jpg"))
    assert f'src="/photos/{row.id}"' in shop.client.get(job).text


@pytest.mark.slow
def test_a_customer_who_is_forgotten_takes_the_photos_of_their_jobs_along(app, shop):
    theirs = job_of(shop)
    other = job_of(shop, trailer_name="Tilt bed", customer_name="Bo Marsh")
    put_in(shop, theirs, (a_photo(1), "a.jpg"), (a_photo(2), "b.jpg"))
    put_in(shop, other, (a_photo(3), "c.jpg"))
    first = kept(app)[0]
    shop.press(f"/shop/photos/{first.id}/remove", theirs)
    gone = shop.press("/shop/customers/1/delete", "/shop/customers/1/delete")
    assert gone.status_code == 302
    assert [row.job_id for row in kept(app)] == [2]
    assert on_disk(app) == 1
