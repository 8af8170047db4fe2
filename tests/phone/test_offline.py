"""No signal: first visit, then offline, killed, brought back; the server has everything once."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.support.effort import few
from tests.support.phone import Phone, phone
from tests.support.serve import ONE, serving


@pytest.fixture(scope="module")
def data(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("server")


@pytest.fixture(scope="module")
def address(data: Path) -> Iterator[str]:
    with serving(data, ONE) as here:
        yield here


@pytest.fixture(scope="module")
def installed(
    chromium: Browser, address: str, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Phone]:
    """One phone that has visited once and has been offline ever since."""
    with phone(chromium, tmp_path_factory.mktemp("phone"), address) as one:
        one.install()
        one.offline(True)
        one.page.reload()
        yield one


def times_on_server(data: Path, record: object) -> int:
    count = "SELECT count(*) FROM records WHERE id = ?"
    with sqlite3.connect(data / "twentymile.sqlite3") as base:
        return int(base.execute(count, (record,)).fetchone()[0])


@pytest.mark.parametrize("check", few(["quick_stop", "walkaround", "run_stop", "tires"], 1))
def test_each_kind_of_check_is_finished_without_signal(installed: Phone, check: str) -> None:
    installed.open()
    installed.begin(check)
    installed.finish()
    assert "Saved on this phone. Not yet sent" in installed.page.inner_text(".kept")
    newest = max(installed.stored("records"), key=lambda item: str(item["id"]))
    assert newest["record"]["body"]["check"] == check  # type: ignore[index]
    assert newest["record"]["body"]["verdict"]["findings"] is not None  # type: ignore[index]


def test_all_that_waited_is_sent_once_when_signal_returns(installed: Phone, data: Path) -> None:
    waiting = [item["id"] for item in installed.stored("outbox")]
    assert set(waiting) == {item["id"] for item in installed.stored("records")}
    installed.open()
    assert f"Not yet sent: {len(waiting)}" in installed.page.inner_text(".unsent")
    installed.offline(False)
    installed.wait_for("!document.querySelector('.unsent')")
    installed.page.evaluate("dispatchEvent(new Event('online'))")
    assert installed.stored("outbox") == []
    assert [times_on_server(data, record) for record in waiting] == [1] * len(waiting)


def test_a_check_outlives_a_killed_browser_and_reaches_the_server_once(
    chromium: Browser, address: str, data: Path, tmp_path: Path
) -> None:
    with phone(chromium, tmp_path, address, lasting=True) as one:
        one.install()
        one.offline(True)
        one.page.reload()
        one.begin("quick_stop")
        for _ in range(6):
            one.answer()
        here, (before,) = one.question, one.stored("drafts")
        one.kill()
        one.start()
        one.offline(True)
        one.open()
        one.tap("Go on")
        one.page.wait_for_selector(".asking")
        assert one.question == here
        (after,) = one.stored("drafts")
        assert after == before
        one.finish()
        (kept,) = one.stored("records")
        assert one.stored("drafts") == []
        one.offline(False)
        one.wait_for("document.querySelector('.kept')?.textContent.includes('and sent')")
        one.page.reload()
        one.page.wait_for_selector(".kept")
        assert one.stored("outbox") == []
    assert times_on_server(data, kept["id"]) == 1


@pytest.mark.long
def test_the_second_visit_needs_no_server(chromium: Browser, tmp_path: Path) -> None:
    (tmp_path / "data").mkdir()
    with serving(tmp_path / "data", ONE) as address:
        one = Phone(chromium, tmp_path / "phone", address)
        one.install()
    try:
        one.page.reload()
        one.page.wait_for_selector("button[value=run_stop]")
        one.begin("quick_stop")
        one.finish()
        assert "Not yet sent" in one.page.inner_text(".kept")
        assert len(one.stored("outbox")) == 1
    finally:
        one.close()
