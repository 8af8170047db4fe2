"""A second phone: a link for a day, a look at what would come in, and each record kept once."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.support.effort import few
from tests.support.phone import Phone, installed
from tests.support.photo_files import camera_file, scene


@pytest.fixture(scope="module")
def first(
    chromium: Browser, server: str, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Phone]:
    """A phone with one kept check that has a photo, and one unfinished check."""
    with installed(chromium, server) as one:
        one.begin("quick_stop")
        one.finish()
        one.tap("Add a photo")
        photo = {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": camera_file(scene(640, 480))}
        one.page.set_input_files("#camera", photo)  # type: ignore[arg-type]
        one.page.locator(".photo-dialog figure").wait_for()
        one.open()
        one.begin("quick_stop")
        one.answer()
        yield one


@pytest.fixture(scope="module")
def link(first: Phone) -> str:
    first.open("#/settings")
    first.tap("Bring it to another phone")
    first.page.locator(".address").wait_for()
    return first.page.input_value(".address")


@pytest.fixture
def second(chromium: Browser, server: str, tmp_path: Path) -> Iterator[Phone]:
    with installed(chromium, server) as one:
        yield one


def kept(one: Phone) -> dict[str, list[object]]:
    return {k: [i["id"] for i in one.stored(k)] for k in ("records", "drafts", "photos")}


@pytest.mark.long
def test_the_code_for_the_camera_is_drawn(first: Phone, link: str) -> None:
    first.page.locator(".qr").wait_for()
    first.wait_for("document.querySelector('.qr').naturalWidth > 100")
    assert "Give it to nobody else" in first.page.inner_text("main")


@pytest.mark.long
def test_the_other_phone_shows_what_would_come_in_and_takes_it_on_a_button(
    first: Phone, second: Phone, link: str
) -> None:
    second.page.goto(link)
    second.page.get_by_text("This would be added").wait_for()
    assert link.rpartition("/")[2] not in second.page.url
    assert kept(second) == {"records": [], "drafts": [], "photos": []}
    second.page.reload()
    second.page.get_by_text("This would be added").wait_for()
    second.tap("Bring it in")
    second.page.get_by_text("Added. Records: 1. Unfinished checks: 1. Photos: 1.").wait_for()
    assert kept(second) == kept(first)


@pytest.mark.long
def test_the_same_link_twice_adds_nothing(second: Phone, link: str) -> None:
    for said in ("This would be added", "There is nothing new in it"):
        second.page.goto(link)
        second.page.get_by_text(said).wait_for()
        if second.page.get_by_role("button", name="Bring it in").count():
            second.tap("Bring it in")
            second.page.get_by_text("Added. Records: 1.").wait_for()
        second.open()
        second.settle()
    assert len(second.stored("records")) == 1


@pytest.mark.parametrize("secret", few(["C" * 43, "C", "%22"], 1))
def test_a_link_that_is_none_says_what_to_do(second: Phone, secret: str) -> None:
    second.page.goto(f"{second.address}/#/pair/{secret}")
    second.page.locator(".trouble").wait_for()
    assert "Make a new code on the phone that has the records" in second.page.inner_text("main")
    assert kept(second) == {"records": [], "drafts": [], "photos": []}


@pytest.mark.long
def test_without_signal_it_says_so_and_can_be_tried_again(second: Phone, link: str) -> None:
    second.offline(True)
    second.page.goto(link)
    second.page.locator(".trouble").wait_for()
    assert "Nothing was changed" in second.page.inner_text(".trouble")
    second.offline(False)
    second.tap("Try again")
    second.page.get_by_text("This would be added").wait_for()
