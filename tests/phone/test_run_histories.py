"""A run in the app itself: reloaded, killed, its clock moved, in another time zone, 30 days asleep.

What the screen and the store say is held against what they said before, whatever was done.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, example, given, settings
from hypothesis import strategies as st
from playwright.sync_api import Browser, CDPSession

from tests.phone.test_run import covered
from tests.support.effort import rounds
from tests.support.phone import Phone, phone

BEGIN = datetime(2026, 7, 14, 9, tzinfo=UTC)
HOUR, DAY = timedelta(hours=1), timedelta(days=1)
ZONES = ("America/Toronto", "Pacific/Kiritimati", "Europe/Berlin")
KEPT = """async () => {
    const { openStore } = await import("/static/data/store.js");
    const { dueOf } = await import("/static/data/run.js");
    const { store } = await openStore(() => {});
    const run = (await store.get("settings", "run")).value;
    return { minutes: run.minutes, due: dueOf(run).map(({ id }) => id),
        reached: Object.keys(run.reached), done: Object.keys(run.done) };
}"""
FORGET = """async () => {
    const { openStore } = await import("/static/data/store.js");
    await (await openStore(() => {})).store.commit([["settings", null, "run"]]);
}"""
steps = st.one_of(
    st.tuples(st.just("clock"), st.sampled_from([HOUR / 4, HOUR, 3 * HOUR, -2 * HOUR, -DAY])),
    st.tuples(st.sampled_from(["reload", "kill", "asleep", "look", "done"]), st.none()),
    st.tuples(st.just("zone"), st.sampled_from(ZONES)),
    st.tuples(st.just("typed"), st.sampled_from(["5", "21", "60"])),
)


class Road:
    """A phone on a run, and the clock on its wall."""

    def __init__(self, one: Phone) -> None:
        self.one, self.now = one, BEGIN
        self.wire: CDPSession | None = None  # a zone stays as long as who asked for it
        one.context.clock.set_system_time(BEGIN)

    def begin(self) -> None:
        self.one.open("#/run/start")
        self.one.page.locator(".driven").wait_for()

    def do(self, what: str, value: Any) -> None:
        page = self.one.page
        if what in ("clock", "asleep"):
            self.now += value or 30 * DAY
            self.one.context.clock.set_system_time(self.now)
        if what == "zone":
            self.wire = self.wire or self.one.context.new_cdp_session(page)
            self.wire.send("Emulation.setTimezoneOverride", {"timezoneId": value})
        if what == "kill":
            page.close(run_before_unload=False)
            self.wire = None
            self.one.page = self.one.context.new_page()
        if what == "typed":
            self.typed(value)
        if what == "done" and page.get_by_role("button", name="Looked at").count():
            page.get_by_role("button", name="Looked at").first.click()
        self.look()

    def typed(self, miles: str) -> None:
        page, asked = (
            self.one.page,
            self.one.page.locator("summary", has_text="Put the distance right"),
        )
        if asked.count():
            asked.click()
            page.locator("form input").fill(miles)
            page.get_by_role("button", name="Use this").click()

    def look(self) -> None:
        """The screen of the run, as a person opens it, its call heard."""
        for place in ("#/", "#/run"):
            self.one.open(place)
            self.one.settle()
        page = self.one.page
        page.locator(".driven, .shouting").first.wait_for()
        if page.locator(".shouting").count():
            page.get_by_role("button", name="Heard, still driving").click()
            page.locator(".driven").wait_for()

    def kept(self) -> dict[str, Any]:
        found: dict[str, Any] = self.one.page.evaluate(KEPT)
        assert self.one.page.locator(".due.loud").count() == len(found["due"])
        return found


@pytest.fixture(scope="module")
def installed(
    chromium: Browser, server: str, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Phone]:
    with phone(chromium, tmp_path_factory.mktemp("phone"), server) as one:
        one.install()
        one.offline(True)
        one.context.clock.install(time=BEGIN)
        yield one
        assert not one.faults


ALL = [("typed", "21"), ("kill", None), ("clock", -DAY), ("reload", None), ("zone", ZONES[1])]
LATE = [("clock", HOUR), ("asleep", None), ("kill", None), ("clock", -2 * HOUR), ("done", None)]


@pytest.mark.sample
@pytest.mark.slow
@settings(
    max_examples=rounds(8),
    deadline=None,
    suppress_health_check=list(HealthCheck),
    phases=[Phase.explicit, Phase.generate],  # to shrink would take minutes
)
@example(ALL)
@example(LATE)
@given(st.lists(steps, min_size=3, max_size=7))
def test_due_stops_neither_vanish_nor_repeat_in_the_app(installed: Phone, history) -> None:
    installed.open("#/")
    installed.page.evaluate(FORGET)
    installed.page.reload()
    road = Road(installed)
    road.begin()
    road.look()
    before = road.kept()
    for what, value in history:
        road.do(what, value)
        after = road.kept()
        due, done = set(after["due"]), set(after["done"])
        assert after["minutes"] >= before["minutes"], what
        assert set(before["reached"]) <= set(after["reached"]), what
        assert set(before["done"]) <= done, what
        assert not due & done, what
        for stop in before["due"]:
            assert stop in due | done or covered(stop, due | done), what
        before = after
    if road.wire:
        road.wire.detach()


@pytest.mark.long
def test_a_phone_that_wakes_calls_at_once(installed: Phone) -> None:
    installed.open("#/")
    installed.page.evaluate(FORGET)
    installed.page.reload()
    road = Road(installed)
    road.begin()
    installed.open("#/history")
    installed.context.clock.set_system_time(road.now + HOUR / 2)
    installed.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    installed.page.locator(".shouting").wait_for()
