"""What a phone cannot read, or cannot keep, takes nothing else with it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.support.effort import few, some
from tests.support.phone import Phone, phone
from tests.support.records import check_body, envelope, record
from tests.support.serve import ONE, serving

WHOLE = {"level": "stop", "places": {"": "stop"}, "findings": []}


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    with serving(tmp_path_factory.mktemp("server"), ONE) as address:
        yield address


def check(**changes: Any) -> dict[str, Any]:
    return record(body=check_body(verdict=WHOLE) | changes)


def trailer(**changes: Any) -> dict[str, Any]:
    return record(kind="trailer", body={"trailer": "t", "name": "Boat", "facts": {}} | changes)


# Each has the right hash, as a newer release or a hand-made file may have.
WRONG = {
    "a check without verdict": check(verdict=None),
    "a check whose verdict is a text": check(verdict="stop"),
    "a check without places": check(verdict={"level": "stop", "findings": []}),
    "a check of a level of its own": check(verdict=WHOLE | {"level": "purple"}),
    "a check with findings that are none": check(verdict=WHOLE | {"findings": [None]}),
    "a check without facts": check(facts=None),
    "a check whose trailer is a number": check(trailer=7),
    "a check made at no time": record(made="soon", body=check_body(verdict=WHOLE)),
    "a trailer without name": trailer(name=None),
    "a trailer whose name is a list": trailer(name=[1]),
    "a trailer without facts": trailer(facts=None),
    "a decision about a list": record(kind="work", body={"about": [1]}),
}
SOUND = {"a check": check(), "a trailer": trailer(), "a kind to come": record(kind="x", body={})}


def fetch(one: Phone, records: list[dict[str, Any]], drafts: list[Any], folder: Path) -> None:
    lists = {"rulebooks": [], "words": [], "links": [], "photos": []}
    names = {"format": "twentymile-export", "version": 1, "made": "2026-07-14T10:00:00+00:00"}
    file = folder / "file.json"
    sent = [envelope(item) for item in records]
    file.write_text(json.dumps(names | lists | {"records": sent, "drafts": drafts}))
    one.open("#/settings")
    one.page.set_input_files("#file", str(file))
    one.page.get_by_text("Added").wait_for()


@pytest.mark.long
def test_what_cannot_be_read_is_shown_as_such_and_the_rest_works(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    drafts = [
        {"id": "a", "check": "walkaround", "facts": {}},
        {"id": "b", "check": "of a newer release", "facts": {}},
    ]
    with phone(chromium, tmp_path / "phone", server) as one:
        one.open()
        fetch(one, [*WRONG.values(), *SOUND.values()], drafts, tmp_path)
        one.open("#/history")
        one.settle()
        count = f"{len(WRONG)} records here cannot be shown"
        assert count in one.page.inner_text("#screen")
        assert one.page.locator(".entryrow").count() == 1
        one.page.locator("summary").first.click()
        assert one.page.locator("details code").count() == len(WRONG)
        one.open(f"#/check/{WRONG['a check without verdict']['id']}")
        assert "cannot show it" in one.page.inner_text("#screen")
        one.open("#/")
        assert count in one.page.inner_text("#screen")
        assert "unfinished check here cannot be shown" in one.page.inner_text("#screen")
        for start in ("run_stop", "walkaround", "tires"):
            assert one.page.locator(f"button[value={start}]").is_visible(), start
        one.begin("quick_stop")
        one.finish()
        assert len(one.stored("records")) == len(WRONG) + len(SOUND) + 1


# How IndexedDB of some browsers fails.
FAILING = {
    "is refused": "indexedDB.open = () => { throw new DOMException('no', 'SecurityError'); };",
    "fails": """indexedDB.open = () => { const r = {}; setTimeout(() => {
        r.error = new DOMException('broken', 'UnknownError'); r.onerror(); }); return r; };""",
    "never answers": "indexedDB.open = () => ({});",
    "is not there": "Object.defineProperty(globalThis, 'indexedDB', { value: undefined });",
}


@pytest.mark.long
@pytest.mark.parametrize("case", some(FAILING, 1))
def test_where_nothing_can_be_kept_the_app_starts_and_says_so(
    chromium: Browser, server: str, tmp_path: Path, case: str
) -> None:
    with phone(chromium, tmp_path, server) as one:
        one.context.add_init_script(FAILING[case])
        one.page.goto(server)
        one.page.wait_for_selector("button[value=run_stop]")
        notice = one.page.locator(".note", has_text="nothing lasts once the app is closed")
        notice.get_by_role("link", name="Settings and files").wait_for()
        one.page.get_by_text("Ready to work without signal").wait_for()
        one.offline(True)
        one.begin("quick_stop")
        one.finish()
        text = one.page.inner_text(".kept")
        assert "Held only until this app is closed" in text
        assert "Saved" not in text


@pytest.mark.parametrize("place", few(["#/check/%s", "#/stop/%s/hubs", "#/trailer/%s"], 1))
def test_where_nothing_can_be_read_no_check_is_called_missing(
    chromium: Browser, server: str, tmp_path: Path, place: str
) -> None:
    with phone(chromium, tmp_path, server) as one:
        one.context.add_init_script(FAILING["is refused"])
        one.page.goto(f"{server}/{place % SOUND['a check']['id']}")
        one.page.locator(".note", has_text="What was kept earlier is not shown").wait_for()
        assert one.where == "#/"


@pytest.mark.long
def test_on_a_full_phone_the_app_starts_and_says_so(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    full = """IDBObjectStore.prototype.put = () => {
        throw new DOMException('full', 'QuotaExceededError'); };"""
    with phone(chromium, tmp_path, server) as one:
        one.context.add_init_script(full)
        one.page.goto(server)
        one.page.wait_for_selector("button[value=run_stop]")
        one.page.locator(".note", has_text="no room left").wait_for()
