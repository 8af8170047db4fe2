"""Photos on the phone: small, upright, without what the camera wrote, and not lost on the way."""

from __future__ import annotations

import base64
import hashlib
import json
import sqlite3
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Browser, Page

from tests.support.phone import HELD, Phone, installed, phone
from tests.support.photo_files import CORNERS, STORED_AS, camera_file, corners_of, scene
from tests.support.serve import ONE, serving
from tests.support.waiting import until

EDGE, BYTES = 1600, 250_000
SHRINK = """async (file) => {
  const { shrink } = await import("/static/data/photos.js");
  const bytes = Uint8Array.from(atob(file), (letter) => letter.charCodeAt(0));
  const small = await shrink(new Blob([bytes]));
  const letters = Array.from(new Uint8Array(small.data), (byte) => String.fromCharCode(byte));
  return btoa(letters.join(""));
}"""
HEIC = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + bytes(400)


def shrunk(scripts: Page, file: bytes) -> bytes:
    return base64.b64decode(scripts.evaluate(SHRINK, base64.b64encode(file).decode()))


def opened(file: bytes) -> Image.Image:
    image = Image.open(BytesIO(file))
    image.load()
    assert image.format == "JPEG"
    return image


@pytest.mark.parametrize("orientation", STORED_AS)
def test_a_photo_comes_out_upright_and_bare(scripts: Page, orientation: int) -> None:
    file = camera_file(scene(1000, 750), orientation)
    assert len(Image.open(BytesIO(file)).getexif()) >= 3
    small = shrunk(scripts, file)
    image = opened(small)
    assert image.size == (1000, 750)
    assert corners_of(image) == {name: name for name in CORNERS}
    assert len(image.getexif()) == 0
    assert b"Exif" not in small
    assert b"Alder Fork camera" not in small


def grain(width: int, height: int) -> bytes:
    """What packs worst: every pixel by chance."""
    pixels = np.random.default_rng(3).integers(0, 256, (height, width, 3), dtype=np.uint8)
    out = BytesIO()
    Image.fromarray(pixels).save(out, "JPEG", quality=80)
    return out.getvalue()


def see_through() -> bytes:
    out = BytesIO()
    Image.new("RGBA", (300, 200), (0, 0, 0, 0)).save(out, "PNG")
    return out.getvalue()


@pytest.mark.parametrize(
    ("what", "file", "size"),
    [
        ("under the edge it keeps its size", camera_file(scene(1599, 400)), (1599, 400)),
        ("on the edge too", camera_file(scene(1600, 400)), (1600, 400)),
        ("over it it shrinks", camera_file(scene(3200, 800)), (1600, 400)),
        ("a tall one by its height", camera_file(scene(600, 2400)), (400, 1600)),
        ("one pixel stays one pixel", camera_file(Image.new("RGB", (1, 1))), (1, 1)),
        ("a line keeps its one row", camera_file(Image.new("RGB", (4000, 1))), (1600, 1)),
        ("a PNG becomes a JPEG", see_through(), (300, 200)),
        ("what packs badly shrinks further", grain(2400, 1800), None),
    ],
)
def test_a_photo_is_as_large_as_it_may_be(
    scripts: Page, what: str, file: bytes, size: tuple[int, int] | None
) -> None:
    small = shrunk(scripts, file)
    assert len(small) <= BYTES, what
    image = opened(small)
    assert max(image.size) <= EDGE
    assert size is None or image.size == size, what


def test_what_was_see_through_becomes_white(scripts: Page) -> None:
    assert opened(shrunk(scripts, see_through())).getpixel((9, 9)) == (255, 255, 255)


@pytest.mark.parametrize("file", [HEIC, b"", b"<html>", camera_file(scene(400, 300))[:300]])
def test_what_cannot_be_read_is_refused_in_words(scripts: Page, file: bytes) -> None:
    with pytest.raises(Exception, match=r"cannot read that picture.*Nothing is lost"):
        shrunk(scripts, file)


# ---- in the app -------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def data(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("server")


@pytest.fixture(scope="module")
def address(data: Path) -> Iterator[str]:
    with serving(data, ONE) as here:
        yield here


@pytest.fixture
def one(chromium: Browser, address: str, tmp_path: Path) -> Iterator[Phone]:
    with installed(chromium, address) as here:
        yield here


@pytest.fixture
def lasting(chromium: Browser, address: str, tmp_path: Path) -> Iterator[Phone]:
    """One that can be killed and started again."""
    with phone(chromium, tmp_path / "phone", address, lasting=True) as here:
        here.install()
        yield here


def photographed(one: Phone, file: bytes | None = None, where: str = "#camera") -> None:
    """Take a photo at the question that is shown."""
    one.tap_at(".camera")
    one.page.locator(".photo-dialog").wait_for()
    photograph(one, file, where)


def photograph(one: Phone, file: bytes | None = None, where: str = "#camera") -> None:
    """Another photo, the dialog being open."""
    buffer = camera_file(scene(900, 600), 6) if file is None else file
    payload = {"name": "IMG_1.jpg", "mimeType": "image/jpeg", "buffer": buffer}
    one.page.set_input_files(f".photo-dialog {where}", payload)  # type: ignore[arg-type]


def shown(one: Phone) -> int:
    return one.page.locator(".thumbs img").count()


def close_photos(one: Phone) -> None:
    one.tap("Done")
    one.page.locator(".photo-dialog").wait_for(state="detached")


def on_server(data: Path) -> list[tuple[Any, ...]]:
    wanted = "SELECT id, record_id, point, place, received_sha256 FROM photos"
    with sqlite3.connect(data / "twentymile.sqlite3") as base:
        return list(base.execute(wanted))


@pytest.mark.long
def test_the_camera_opens_at_the_back_and_the_gallery_is_offered(one: Phone) -> None:
    one.begin("tires")
    one.tap_at(".camera")
    camera, gallery = one.page.locator("#camera"), one.page.locator("#gallery")
    assert camera.get_attribute("capture") == "environment"
    assert gallery.get_attribute("capture") is None
    assert {box.get_attribute("accept") for box in (camera, gallery)} == {"image/*"}


def to_question(one: Phone, kind: str) -> None:
    one.begin("tires")
    one.answer_until(lambda: one.page.locator(kind).count() > 0)


@pytest.mark.long
def test_ticks_that_are_begun_outlive_the_reload_a_camera_can_cause(lasting: Phone) -> None:
    one = lasting
    to_question(one, ".ticks")
    one.page.locator(".tick").nth(4).click()
    one.page.locator(".ticks .maybe").nth(0).click()
    one.tap_at(".camera")
    one.page.locator(".photo-dialog").wait_for()
    here = one.where
    one.kill()
    one.start()
    one.open()
    one.tap("Go on")
    one.settle()
    assert one.where == here
    ticks = [t.get_attribute("aria-pressed") for t in one.page.locator(".tick").all()]
    maybe = [t.get_attribute("aria-pressed") for t in one.page.locator(".ticks .maybe").all()]
    assert [i for i, state in enumerate(ticks) if state == "true"] == [4]
    assert [i for i, state in enumerate(maybe) if state == "true"] == [0]


@pytest.mark.long
def test_a_number_that_is_begun_outlives_the_reload_with_its_unit(one: Phone) -> None:
    to_question(one, ".pad")
    one.tap_at(".swap")
    unit = one.page.inner_text(".swap")
    one.keys("18")
    one.tap_at(".camera")
    one.page.locator(".photo-dialog").wait_for()
    one.page.reload()
    one.page.locator(".pad").wait_for()
    assert one.page.input_value(".display") == "18"
    assert one.page.inner_text(".swap") == unit
    assert "18" not in str(one.stored("drafts")[0]["facts"])  # begun is not answered


def test_a_photo_goes_after_its_check_and_is_acknowledged_by_its_hash(
    one: Phone, data: Path
) -> None:
    to_question(one, ".ticks")
    photographed(one)
    one.page.locator(".photo-dialog figure").wait_for()
    close_photos(one)
    one.offline(True)
    draft = one.stored("drafts")[0]["id"]
    one.open(f"#/sofar/{draft}")
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    sent: list[str] = []
    one.page.on("request", lambda request: sent.append(request.url.partition("/api/")[2]))
    (photo,), (record,) = one.stored("photos"), one.stored("records")
    assert {item["id"] for item in one.stored("outbox")} == {photo["id"], record["id"]}
    one.offline(False)
    one.wait_for("document.querySelector('.kept')?.textContent.includes('and sent')")
    one.wait_stored("outbox", lambda items: not items)
    # A start also asks about links and what the server holds; when that falls is chance.
    assert [path for path in sent if path in ("records", "photos")] == ["records", "photos"]
    (row,) = (r for r in on_server(data) if r[0] == photo["id"])
    point, _, place = str(photo["point"]).partition("@")
    assert row == (photo["id"], record["id"], point, place, photo["hash"])
    assert "sent" in one.stored("photos")[0]


@pytest.mark.long
@pytest.mark.parametrize(
    ("answer", "left"),
    [
        ({"status": 200, "json": {"id": "other", "hash": "other"}}, 1),
        ({"status": 500, "json": {}}, 1),
        ({"status": 422, "json": {"error": {"message": "The photo is cut."}}}, 1),
    ],
)
def test_a_photo_without_proof_stays(one: Phone, answer: dict[str, Any], left: int) -> None:
    one.context.route("**/api/photos", lambda route: route.fulfill(**answer))
    to_question(one, ".ticks")
    photographed(one)
    one.page.locator(".photo-dialog figure").wait_for()
    close_photos(one)
    with one.page.expect_response("**/api/photos"):
        one.finish()
    one.sending_over()
    (photo,) = one.stored("photos")
    assert [item["id"] for item in one.stored("outbox")] == [photo["id"]]
    assert len(one.stored("pictures")) == left


@pytest.mark.long
def test_photos_are_shown_with_the_answers_and_the_verdict_and_can_be_taken_off(
    one: Phone,
) -> None:
    to_question(one, ".ticks")
    for where in ("#camera", "#gallery"):
        photographed(one, where=where)
        one.page.locator(".photo-dialog [role=status]").wait_for()
        close_photos(one)
    until(lambda: one.page.inner_text(".camera").strip() == "2", "both counted")
    draft = one.stored("drafts")[0]["id"]
    for screen in ("answers", "sofar"):
        one.open(f"#/{screen}/{draft}")
        one.settle()
        assert shown(one) == 2
    one.open(f"#/answers/{draft}")
    one.settle()
    one.tap_at(".thumbs button")
    one.tap("Take it off")
    one.page.locator("dialog:last-of-type button.main").click()
    one.wait_for("document.querySelectorAll('.thumbs img').length === 1")
    assert len(one.stored("photos")) == len(one.stored("pictures")) == 1
    one.tap("Throw this check away")
    one.tap("Throw away")
    one.wait_for("document.body.dataset.shown === '#/'")
    assert one.stored("photos") == one.stored("pictures") == []


@pytest.mark.long
def test_a_photo_nobody_can_read_leaves_everything_as_it_was(one: Phone) -> None:
    to_question(one, ".ticks")
    one.page.locator(".tick").nth(4).click()
    photographed(one, HEIC, "#gallery")
    one.page.locator(".photo-dialog .trouble").wait_for()
    assert "Nothing is lost" in one.page.inner_text(".photo-dialog .trouble")
    close_photos(one)
    assert one.page.locator(".tick[aria-pressed=true]").count() == 1
    assert one.stored("photos") == []


def answered(one: Phone) -> str:
    """Answer a whole check of the tires; the address of its last question.

    One check is kept before, so that the rules and words that go with it take no more room.
    """
    one.begin("quick_stop")
    one.finish()
    one.open()
    one.begin("tires")
    last = [one.where]

    def answer() -> None:
        last.append(one.where)
        one.answer()

    one.repeat(answer, lambda: not one.asking)
    one.open()
    one.wait_for(f"({HELD})()")  # what a second start fetches takes room, too
    return last[-1]


def started_with(one: Phone, room: int) -> None:
    """Start anew on a disk with so many bytes left.

    The browser asks for the quota only now and then, so it is set before it first asks.
    """
    one.close()
    one.start()
    session = one.context.new_cdp_session(one.page)
    usage = session.send("Storage.getUsageAndQuota", {"origin": one.address})["usage"]
    quota = {"origin": one.address, "quotaSize": max(1, usage + room)}
    session.send("Storage.overrideQuotaForOrigin", quota)


ROOM = 1_000_000  # a few photos, and far more than the store's own housekeeping comes and goes by


@pytest.mark.long
def test_on_a_full_disk_the_answers_are_kept_and_the_photo_is_refused_in_words(
    lasting: Phone,
) -> None:
    one = lasting
    last = answered(one)
    started_with(one, ROOM)
    one.open(last)
    photographed(one, camera_file(scene(2000, 1500)))
    refused, photos = (
        one.page.locator(".photo-dialog .trouble"),
        one.page.locator(".photo-dialog figure"),
    )

    def another() -> None:
        before = photos.count()
        photograph(one, camera_file(scene(2000, 1500)))
        until(lambda: photos.count() > before or refused.count() > 0, "an answer")

    one.repeat(another, lambda: refused.count() > 0, limit=20)
    assert "no room left" in refused.inner_text()
    taken = photos.count()
    assert 0 < taken < 20
    one.close()
    one.start()  # the disk has room again
    one.open(last)
    one.finish()
    assert "Saved on this phone" in one.page.inner_text(".kept")
    assert len(one.stored("photos")) == taken
    assert len(one.stored("records")) == 2


@pytest.mark.sweep
def test_a_record_without_room_is_refused_in_words_and_stays_a_draft(lasting: Phone) -> None:
    one = lasting
    answered(one)
    started_with(one, -10 * ROOM)
    one.open()
    one.tap("Go on")
    one.settle()
    one.tap("See the verdict")
    one.tap("Keep and send")
    one.page.get_by_text("no room left").first.wait_for()
    assert len(one.stored("records")) == 1
    assert len(one.stored("drafts")) == 1


@pytest.mark.long
def test_a_file_brings_photos_to_another_phone_byte_for_byte(
    one: Phone, chromium: Browser, address: str, tmp_path: Path
) -> None:
    to_question(one, ".ticks")
    photographed(one)
    one.page.locator(".photo-dialog figure").wait_for()
    close_photos(one)
    one.finish()
    one.open("#/settings")
    with one.page.expect_download() as download:
        one.tap("Save everything to a file")
    text = Path(download.value.path()).read_text("utf-8")
    (photo,) = json.loads(text)["photos"]
    data = base64.b64decode(photo["data"])
    assert hashlib.sha256(data).hexdigest() == photo["hash"]
    assert opened(data).size == (photo["width"], photo["height"])
    with installed(chromium, address) as other:
        other.open("#/settings")
        assert "Photos: 1" in fetched(other, text)
        assert "Records: 0" in fetched(other, text)
        assert len(other.stored("photos")) == 1
        (record,) = other.stored("records")
        other.open(f"#/check/{record['id']}")
        other.page.locator(".thumbs img").wait_for()
    changed = text.replace(photo["data"][:40], "A" * 40)
    one.open("#/settings")
    assert "part of the file is missing or not whole" in fetched(one, changed)


def fetched(one: Phone, text: str) -> str:
    payload = {"name": "f.json", "mimeType": "application/json", "buffer": text.encode()}
    one.page.locator("section .trouble, section [role=status]").evaluate_all(
        "all => all.forEach((one) => one.remove())"
    )
    one.page.set_input_files("#file", payload)  # type: ignore[arg-type]
    said = one.page.locator("section .trouble, section [role=status]")
    said.wait_for()
    return said.inner_text()
