"""Ways through the app that a plain check does not take: what is ended, put away or thrown away."""

from __future__ import annotations

from collections.abc import Callable

from tests.support.phone import Phone
from tests.support.photo_files import camera_file, scene

Look = Callable[[Phone, str], None]
DIALOG = "dialog[open]"

# What an earlier check of the trailer was told of its tires, which seldom changes.
EARLIER = """async (trailer) => {
    const { openStore } = await import("/static/data/store.js");
    const { seal } = await import("/static/data/records.js");
    const { store } = await openStore(() => {});
    const verdict = { level: "nothing", findings: [], places: {}, cannot_tell: [], next: [] };
    const facts = { "tire_made@1L": "2523", "tire_made@1R": "2523" };
    const body = { check: "tires", date: "2026-07-14", facts, typed: {}, trailer, verdict };
    await store.commit([["records", await seal("check", { ...body, rulebook: "0" })]]);
}"""


# Nothing more can be stored, until there is room.
FULL = """() => {
  const real = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (kinds, mode, options) {
    if (mode === "readwrite") throw new DOMException("no room", "QuotaExceededError");
    return real.call(this, kinds, mode, options);
  };
  window.makeRoom = () => { IDBDatabase.prototype.transaction = real; };
}"""


def save_trailer(one: Phone) -> None:
    """A tandem with electric brakes and a long name, so that every place has something to show."""
    one.open("#/trailer/new")
    one.page.fill("#name", "Alder Fork car hauler with the winch 3")
    one.tap("Go on")
    one.page.wait_for_selector(".asking")
    one.settle()
    one.choose("button[value='2']")
    one.choose("button[value=electric]")
    one.answer_until(lambda: not one.asking)
    one.tap("Save trailer")
    one.wait_for("location.hash.startsWith('#/trailer/')")
    one.settle()


def stopped(one: Phone) -> str:
    """A stop whose first sign was seen at the right wheel: the number of its draft."""
    one.begin("quick_stop")
    one.tap_at(".sign-rows button")
    one.wait_for("location.hash.startsWith('#/now/')")
    one.settle()
    one.tap("Right wheel")
    one.page.wait_for_selector(".stop-now:not(:has(.wheel-grid))")
    one.settle()
    return one.where.split("/")[2]


def ending(one: Phone, look: Look) -> None:
    """What became of a Stop now, by whom it was mended, and that answer taken back."""
    stopped(one)
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    one.settle()
    look(one, "a Stop now that is kept")
    one.open()
    one.tap_at(".due.stop")
    one.wait_for("location.hash.startsWith('#/now/')")
    one.settle()
    look(one, "how did it end")
    one.tap("Mended")
    one.page.wait_for_selector("div.tell-them")
    look(one, "who mended it")
    one.tap_at("div.tell-them ~ .picks button")
    one.by_name("Take that back").wait_for()
    one.settle()
    look(one, "an answer that can be taken back")
    one.tap("Take that back")
    one.page.wait_for_selector(".due.stop")
    look(one, "an answer taken back")


def throwing_away(one: Phone, look: Look) -> None:
    """A check is thrown away from its pause; a Stop now can only be kept."""
    draft = stopped(one)
    one.open(f"#/pause/{draft}")
    one.page.wait_for_selector(".due.stop")
    look(one, "a pause with a Stop now")
    one.tap("Throw away")
    one.page.wait_for_selector(DIALOG)
    look(one, "a Stop now is not thrown away")
    one.tap_at(f"{DIALOG} button")
    one.open()
    one.begin("tires")
    one.answer()
    one.open(f"#/pause/{one.where.split('/')[2]}")
    one.settle()
    one.tap("Throw away")
    one.page.wait_for_selector(DIALOG)
    look(one, "a check is thrown away")
    one.page.locator(f"{DIALOG} button").last.click()
    one.wait_for("location.hash === '#/'")
    one.settle()


def put_away(one: Phone, look: Look) -> None:
    """A trailer's other names, and one that is put away."""
    save_trailer(one)
    trailer = one.where
    for way in ("Rename", "Copy"):
        one.tap(way)
        one.page.wait_for_selector("#name")
        look(one, way)
        one.open()
        one.open(trailer)
    one.tap("Put away")
    one.page.wait_for_selector(DIALOG)
    look(one, "a trailer is put away")
    one.page.locator(f"{DIALOG} button").last.click()
    one.wait_for("location.hash === '#/trailers'")
    one.settle()
    one.tap_at("details summary")
    look(one, "trailers with one put away")
    one.open(trailer)
    look(one, "a trailer that is put away")


def as_before(one: Phone, look: Look) -> None:
    """Whether the tires are still those of an earlier check."""
    save_trailer(one)
    trailer = one.where
    one.page.evaluate(EARLIER, trailer.split("/")[2])
    one.open()
    one.open(trailer)
    look(one, "a trailer with an earlier check")
    one.open()
    one.begin("tires")
    one.answer_until(lambda: one.page.locator(".still").count() > 0)
    look(one, "still these tires")


def photos(one: Phone, look: Look) -> None:
    """A picture that cannot be read, one that is kept, and that one taken away."""
    one.begin("tires")
    one.tap_at(".camera")
    one.page.wait_for_selector(DIALOG)
    look(one, "the camera")
    for name, file, then in (
        ("no picture", b"<html>", ".trouble"),
        ("a picture", camera_file(scene(900, 600)), ".thumbs img"),
    ):
        payload = {"name": "IMG_1.jpg", "mimeType": "image/jpeg", "buffer": file}
        one.page.set_input_files(f"{DIALOG} #camera", payload)  # type: ignore[arg-type]
        one.page.wait_for_selector(f"{DIALOG} {then}")
        look(one, name)
    one.tap_at(f"{DIALOG} .thumbs button")
    one.page.locator(DIALOG).nth(1).wait_for()
    one.page.locator(f"{DIALOG} .row button").first.click()
    one.page.locator(DIALOG).nth(2).wait_for()
    look(one, "a picture is taken away")


def refused_numbers(one: Phone, look: Look) -> None:
    """Nothing typed, what is no number, and one that cannot be."""
    one.begin("tires")
    one.answer_until(lambda: one.page.locator(".pad").count() > 0)
    for typed in ("", "1-", "99999999"):
        one.page.fill(".display", typed)
        one.tap("Next")
        one.page.wait_for_selector(".trouble")
        look(one, f"{typed or 'nothing'} is refused")


def full(one: Phone, look: Look) -> None:
    """The phone has no room for an answer."""
    one.begin("quick_stop")
    one.answer()
    one.answer()
    one.page.evaluate(FULL)
    one.tap("Surge")
    one.by_name("Go on without saving").wait_for()
    look(one, "a full phone")
    one.tap("Go on without saving")
    one.page.wait_for_selector(".ladder")
    one.settle()
    look(one, "an answer that is kept nowhere yet")
    one.page.evaluate("makeRoom()")


def compared(one: Phone, look: Look) -> None:
    """Two walks of one trailer, the second beside the first."""
    save_trailer(one)
    for name in ("the first walk", "the walk beside it"):
        one.open()
        one.begin("walkaround")
        one.finish()
        look(one, name)


MORE = (ending, throwing_away, put_away, as_before, photos, refused_numbers, full, compared)
