"""A run's due stops neither vanish nor repeat, whatever clock, phone and person do.

The real module runs in a real browser; what it gives is held against a few sums written here.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from playwright.sync_api import Browser, Page

from tests.support.browser import engine_page

MILE, MINUTE, HOUR, DAY = 1.609344, 60_000, 3_600_000, 86_400_000
START = 1_784_000_000_000
# Each step is [what, argument]; the run hears of a moved clock when it is looked at next.
PLAY = """async ([start, options, steps]) => {
    const r = await import("/static/data/run.js");
    let now = start;
    let run = r.begin({ id: "run", speed: 80, now, ...options });
    const told = () => ({
        km: run.km, minutes: run.minutes, rests: run.rests, silent: run.silent ?? null,
        ended: run.ended, due: r.dueOf(run).map((s) => s.id), reached: Object.keys(run.reached),
        done: Object.keys(run.done), ahead: r.aheadOf(run).map((s) => [s.id, s.left, s.what]),
    });
    const shown = [told()];
    for (const [what, value] of steps) {
        if (what === "clock") now += value;
        if (what === "wait") { now += value; run = r.advance(run, now); }
        if (what === "look") run = r.advance(run, now);
        if (what === "reload") run = r.advance(JSON.parse(JSON.stringify(run)), now);
        if (what === "fix") run = r.advance(run, now, value);
        if (what === "rest") run = r.rest(run, now);
        if (what === "on") run = r.goOn(run, now);
        if (what === "typed") run = r.typed(run, value, now);
        if (what === "back") run = r.turnBack(run, now);
        if (what === "end") run = r.end(run, now);
        if (what === "position") run = r.countBy(run, "position", now);
        if (what === "done") {
            const due = r.dueOf(run);
            if (due.length) run = r.finish(run, due[value % due.length].id, now, "check");
        }
        shown.push(told());
    }
    return shown;
}"""


@pytest.fixture(scope="module")
def page(chromium: Browser) -> Iterator[Page]:
    page = engine_page(chromium)
    yield page
    page.context.close()


def play(page: Page, steps: list[list[Any]], **options: Any) -> list[dict[str, Any]]:
    return page.evaluate(PLAY, [START, options, steps])


PLANS = [
    ("nothing done", [], ["out:20", "out:50", "out:100", "out:h1"]),
    ("wheels off", ["wheels_off"], ["out:10", "out:20", "out:25", "out:50", "out:100", "out:h1"]),
    ("new tires", ["tires"], ["out:10", "out:20", "out:25", "out:50", "out:100", "out:h1"]),
    ("after storage", ["stored"], ["out:20", "out:50", "out:100", "out:h1"]),
    ("dunked", ["dunked"], ["out:20", "out:50", "out:100", "out:h1"]),
]


@pytest.mark.parametrize(("title", "work", "ids"), PLANS, ids=[p[0] for p in PLANS])
def test_the_plan_follows_the_work_done(page: Page, title, work, ids) -> None:
    ahead = play(page, [], work=work)[0]["ahead"]
    assert sorted(stop for stop, *_ in ahead) == sorted(ids), title
    what = {stop: looked for stop, _, looked in ahead}
    assert ("hubs" in what["out:50"]) == (work in (["wheels_off"], ["stored"], ["dunked"]))
    assert "load" in what["out:50"]


# At 80 km/h 20 miles take 24.1 minutes.
CASES = [
    ("just before", [["wait", 24 * MINUTE]], []),
    ("just after", [["wait", 25 * MINUTE]], ["out:20"]),
    ("the phone slept and was killed", [["clock", 25 * MINUTE], ["reload", 0]], ["out:20"]),
    ("done", [["wait", 25 * MINUTE], ["done", 0]], []),
    ("done, then hours back", [["wait", 25 * MINUTE], ["done", 0], ["wait", -5 * HOUR]], []),
    ("due, then the clock set back", [["wait", 25 * MINUTE], ["wait", -2 * DAY]], ["out:20"]),
    ("set back, then driven on", [["wait", 20 * MINUTE], ["wait", -DAY], ["wait", 6 * MINUTE]],
     ["out:20"]),
    ("asleep for 30 days", [["wait", 25 * MINUTE], ["wait", 30 * DAY]], ["out:20"]),
    ("asleep for 30 days before it", [["wait", 20 * MINUTE], ["wait", 30 * DAY]], []),
    ("then driven on", [["wait", 20 * MINUTE], ["wait", 30 * DAY], ["on", 0], ["wait", 5 * MINUTE]],
     ["out:20"]),
    ("at rest nothing counts", [["rest", 0], ["wait", 2 * HOUR]], []),
    ("typed", [["typed", 32.2]], ["out:20"]),
    ("typed too far, then put right", [["typed", 40], ["typed", 10]], ["out:20"]),
    ("three hours, then six: one stop", [["typed", 0], ["wait", 3 * HOUR], ["done", 0], ["done", 0],
     ["done", 0], ["done", 0], ["wait", 3 * HOUR + 1], ["wait", 3 * HOUR]], ["out:h3"]),
    ("the way back has its own", [["typed", 10], ["back", 0], ["typed", 43]], ["back:20"]),
    ("turning twice is turning once", [["typed", 10], ["back", 0], ["back", 0], ["typed", 43]],
     ["back:20"]),
    ("after the end nothing comes", [["end", 0], ["wait", 5 * HOUR]], []),
]  # fmt: skip


@pytest.mark.parametrize(("title", "steps", "due"), CASES, ids=[c[0] for c in CASES])
def test_what_is_due(page: Page, title, steps, due) -> None:
    assert play(page, steps)[-1]["due"] == due, title


def test_a_long_silence_is_asked_about_and_not_driven(page: Page) -> None:
    before, after = play(page, [["wait", MINUTE], ["wait", 30 * DAY]])[1:]
    assert after["rests"]
    assert after["silent"] == START + MINUTE
    assert after["minutes"] == before["minutes"]


FIXES = [
    ("ten kilometres by position", 0.1, 20, 10 * MINUTE, 11.12),
    ("a coarse fix", 0.1, 500, 10 * MINUTE, 0.0),
    ("faster than any trailer", 1.0, 20, MINUTE, 0.0),
    ("wandering where it stands", 0.0001, 20, MINUTE, 0.0),
]


@pytest.mark.parametrize(("title", "degrees", "accuracy", "took", "km"), FIXES)
def test_distance_by_position(page: Page, title, degrees, accuracy, took, km) -> None:
    """A degree of latitude is 111.19 km on the mean sphere."""
    first = {"latitude": 45.0, "longitude": -75.0, "accuracy": 10}
    then = {"latitude": 45.0 + degrees, "longitude": -75.0, "accuracy": accuracy}
    shown = play(page, [["fix", first], ["clock", took], ["fix", then]])
    assert shown[-1]["km"] == pytest.approx(km, abs=0.01), title


def test_a_distance_that_cannot_be_is_refused(page: Page) -> None:
    for wrong in (-1, 1e6, None):
        with pytest.raises(Exception, match="from 0 to 10000 km"):
            play(page, [["typed", wrong if wrong is not None else "x"]])


times = st.one_of(
    st.integers(0, 40).map(lambda n: n * MINUTE),
    st.sampled_from([HOUR, 3 * HOUR, 5 * HOUR, -HOUR, -DAY, 30 * DAY, -30 * DAY, 365 * DAY]),
)
places = st.fixed_dictionaries(
    {
        "latitude": st.floats(44, 46),
        "longitude": st.floats(-76, -74),
        "accuracy": st.sampled_from([5, 30, 400]),
    }
)
steps = st.one_of(
    st.tuples(st.sampled_from(["clock", "wait"]), times),
    st.tuples(st.just("reload"), st.none()),
    st.tuples(st.just("fix"), places),
    st.tuples(st.sampled_from(["rest", "on", "look", "position", "back"]), st.none()),
    st.tuples(st.just("typed"), st.floats(0, 400)),
    st.tuples(st.just("done"), st.integers(0, 5)),
)


def hour_stop(name: str) -> tuple[str, int] | None:
    leg, _, at = name.partition(":h")
    return (leg, int(at)) if at else None


def covered(stop: str, names: set[str]) -> bool:
    """By the clock, a later stop of the leg stands for the earlier ones."""
    mine = hour_stop(stop)
    others = [other for name in names if (other := hour_stop(name))]
    return bool(mine and any(leg == mine[0] and n > mine[1] for leg, n in others))


@settings(
    max_examples=250, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    st.lists(steps, max_size=25).map(lambda many: [list(one) for one in many]),
    st.lists(st.sampled_from(["bearings", "wheels_off", "stored"]), unique=True),
)
def test_due_stops_neither_vanish_nor_repeat(page: Page, steps, work) -> None:
    shown = play(page, steps, work=work)
    for before, after in pairwise(shown):
        assert after["minutes"] >= before["minutes"]
        # What was due is due, done, or stands behind a later stop of the clock.
        due, done = set(after["due"]), set(after["done"])
        for stop in before["due"]:
            assert stop in due | done or covered(stop, due | done)
        # What was done is done, and never due again.
        assert set(before["done"]) <= done
        assert not due & done
        assert set(before["reached"]) <= set(after["reached"])
        assert len(after["due"]) == len(due)


def test_a_change_of_time_zone_changes_nothing(chromium: Browser) -> None:
    told = []
    for zone in ("America/Toronto", "Pacific/Kiritimati"):
        context = chromium.new_context(timezone_id=zone)
        page = engine_page(context)  # type: ignore[arg-type]  # it only opens a page
        told.append(play(page, [["wait", 25 * MINUTE], ["reload", None], ["wait", 3 * HOUR]]))
        context.close()
    assert told[0] == told[1]
