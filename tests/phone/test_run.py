"""A run's due stops neither vanish nor repeat, whatever clock, phone and person do.

The real module runs in a real browser; what it gives is held against a few counts written here.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from playwright.sync_api import Browser, Page

from checks.rulebook import load
from tests.support.browser import STATIC, engine_page

MILE, MINUTE, HOUR, DAY = 1.609344, 60_000, 3_600_000, 86_400_000
START = 1_784_000_000_000
# Each step is [what, argument]; the run hears of a moved clock when it is looked at next.
PLAY = """async ([start, options, steps]) => {
    const r = { ...await import("/static/data/run.js"),
        ...await import("/static/data/run_kept.js") };
    let now = start;
    let run = r.begin({ id: "run", speed: 80, now, ...options });
    const told = () => ({
        km: run.km, minutes: run.minutes, rests: run.rests, silent: run.silent ?? null,
        ended: run.ended, due: r.dueOf(run).map((s) => s.id), reached: Object.keys(run.reached),
        done: Object.keys(run.done), loud: r.loudOf(run).map((s) => s.id),
        past: r.dueOf(run).map((s) => r.pastBy(run, s)), ticked: r.tickedOf(run).map((s) => s.id),
        known: r.knownAt(run, now), kept: r.recordOf(run, (at) => at.toISOString()),
        again: (run.again ?? []).flatMap((s) => s.places),
        ahead: r.aheadOf(run).map((s) => [s.id, s.left, s.what]),
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
        if (what === "untyped") run = r.untyped(run, now);
        if (what === "undone") run = r.unfinish(run, value, now);
        if (what === "tick") run = r.finish(run, value, now);
        if (what === "end") run = r.end(run, now);
        if (what === "position") run = r.countBy(run, "position", now);
        if (what === "hear") run = r.hear(run, now);
        if (what === "plan") run = r.replan(run, { speed: value }, now);
        if (what === "check") run = r.finishBy(run, { check: "check", kind: value }, now);
        if (what === "found") run = r.finishBy(run, value, now);
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


@pytest.fixture(scope="module")
def elsewhere(chromium: Browser) -> Iterator[Page]:
    """The same module where the clocks show 14 hours more than in Greenwich."""
    context = chromium.new_context(timezone_id="Pacific/Kiritimati")
    yield engine_page(context)  # type: ignore[arg-type]  # it only opens a page
    context.close()


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


# What is taken back: [title, steps, due, km, ticked by hand].
TAKEN_BACK = [
    ("a distance typed too far", [["typed", 400], ["untyped", 0]], [], 0, []),
    ("heard, then taken back: it calls anew", [["typed", 40], ["hear", 0], ["untyped", 0]],
     [], 0, []),
    ("what was driven since stays", [["typed", 400], ["wait", 15 * MINUTE], ["untyped", 0]],
     [], 20, []),
    ("a stop reached on the way since stays due",
     [["typed", 400], ["wait", 30 * MINUTE], ["untyped", 0]], ["out:20"], 40, []),
    ("one due before it stays due", [["typed", 40], ["typed", 90], ["untyped", 0]],
     ["out:20"], 40, []),
    ("a stop done meanwhile stays done", [["typed", 40], ["tick", "out:20"], ["untyped", 0]],
     [], 0, ["out:20"]),
    ("only once", [["typed", 40], ["typed", 90], ["untyped", 0], ["untyped", 0]],
     ["out:20"], 40, []),
    ("nothing was typed", [["wait", 30 * MINUTE], ["untyped", 0]], ["out:20"], 40, []),
    ("not after turning back", [["typed", 40], ["back", 0], ["untyped", 0]], ["out:20"], 40, []),
    ("a stop ticked off by mistake", [["typed", 40], ["tick", "out:20"], ["undone", "out:20"]],
     ["out:20"], 40, []),
    ("one that a check has done is not taken back",
     [["typed", 40], ["check", "quick_stop"], ["undone", "out:20"]], [], 40, []),
    ("one that was never done", [["typed", 40], ["undone", "out:50"]], ["out:20"], 40, []),
    ("by the clock the last one, and what it covered", [
        ["wait", 3 * HOUR], ["wait", 3 * HOUR + 1], ["tick", "out:20"], ["tick", "out:50"],
        ["tick", "out:100"], ["tick", "out:h2"], ["undone", "out:h2"]],
     ["out:h2"], 480, ["out:20", "out:50", "out:100"]),
    ("nothing after the end", [["typed", 40], ["tick", "out:20"], ["end", 0],
                               ["undone", "out:20"], ["untyped", 0]], [], 40, ["out:20"]),
]  # fmt: skip


@pytest.mark.parametrize(
    ("title", "steps", "due", "km", "ticked"), TAKEN_BACK, ids=[t[0] for t in TAKEN_BACK]
)
def test_what_one_tap_did_is_taken_back(page: Page, title, steps, due, km, ticked) -> None:
    after = play(page, steps)[-1]
    assert (after["due"], sorted(after["ticked"])) == (due, sorted(ticked)), title
    assert after["km"] == pytest.approx(km, abs=0.1), title
    assert not set(after["loud"]) - set(due)


PAST = [
    ("by distance", [["typed", 20 * MILE + 5]], [{"km": pytest.approx(5)}]),
    ("just reached", [["typed", 20 * MILE]], [{"km": 0}]),
    ("put right below it", [["typed", 40], ["typed", 10]], [{"km": 0}]),
    ("by the clock", [["typed", 0], ["wait", 190 * MINUTE], ["tick", "out:20"], ["tick", "out:50"],
                      ["tick", "out:100"]], [{"minutes": pytest.approx(10)}]),
]  # fmt: skip


@pytest.mark.parametrize(("title", "steps", "past"), PAST, ids=[p[0] for p in PAST])
def test_an_overdue_stop_knows_by_how_far(page: Page, title, steps, past) -> None:
    assert play(page, steps)[-1]["past"] == past, title


def test_a_long_silence_is_asked_about_and_not_driven(page: Page) -> None:
    before, after = play(page, [["wait", MINUTE], ["wait", 30 * DAY]])[1:]
    assert after["rests"]
    assert after["silent"] == START + MINUTE
    assert after["minutes"] == before["minutes"]


NUTS = {"id": 7, "km": 16.1, "check": "run_stop", "what": "Nuts again"}
FAR = {"id": 8, "km": 120.0, "check": "run_stop", "what": "Look at the ramp"}
CHECKED = [
    ("a full stop does all that is due", "run_stop", ["wheels_off"], 33, []),
    ("hubs only leaves the nuts", "quick_stop", ["wheels_off"], 33, ["out:10"]),
    ("a tire check leaves both", "tires", ["wheels_off"], 33, ["out:10", "out:20"]),
    ("figures do nothing", "figures", ["wheels_off"], 33, ["out:10", "out:20"]),
    ("before anything is due nothing is done", "run_stop", [], 5, []),
]


@pytest.mark.parametrize(("title", "kind", "work", "km", "left"), CHECKED)
def test_a_kept_check_does_the_due_stops_it_looks_at(
    page: Page, title, kind, work, km, left
) -> None:
    after = play(page, [["typed", km], ["check", kind]], work=work)[-1]
    assert after["due"] == left, title


# A stop whose hubs were felt long before it is kept, by when: out:20 is reached after an hour.
FELT = [
    ("before it was reached", 59 * MINUTE, ["out:20"]),
    ("when it was reached", HOUR, []),
    ("after it was reached", 61 * MINUTE, []),
]


@pytest.mark.parametrize(("title", "felt", "left"), FELT, ids=[one[0] for one in FELT])
def test_a_stop_kept_late_does_what_was_due_when_its_hubs_were_felt(
    page: Page, title, felt, left
) -> None:
    kept = {"check": "one", "kind": "quick_stop", "felt": START + felt}
    steps = [["rest", 0], ["wait", HOUR], ["typed", 33], ["wait", HOUR], ["found", kept]]
    assert play(page, steps)[-1]["due"] == left, title


def found(kind: str, *places: str, check: str = "one", axles: int = 1) -> dict[str, Any]:
    levels = {"": "look", "1R": "nothing", "2L": "unchecked"} | dict.fromkeys(places, "look")
    verdict = {"level": "look" if places else "nothing", "places": levels}
    return {"check": check, "kind": kind, "verdict": verdict, "facts": {"axles": axles}}


# Hubs are due at 20 miles, then at 100: 10 miles after a check at 25 is 35 miles.
NEARER = [
    ("nothing found", [["found", found("quick_stop")]], None, []),
    ("a wheel at Look again", [["found", found("quick_stop", "1L")]], ["hubs"], ["1L"]),
    ("two findings at one wheel", [["found", found("quick_stop", "1L", "1L")]], ["hubs"], ["1L"]),
    ("a full stop", [["found", found("run_stop", "2R")]], ["hubs", "tires"], ["2R"]),
    ("nuts", [["found", found("nuts_stop", "1R")]], ["nuts"], ["1R"]),
    ("of no wheel", [["found", found("run_stop", "")]], None, []),
    ("followed by a look that finds nothing",
     [["found", found("quick_stop", "1L")], ["found", found("quick_stop", check="two")]], None, []),
    ("followed by a check of something else",
     [["found", found("quick_stop", "1L")], ["found", found("tires", check="two")]], ["hubs"],
     ["1L"]),
    ("found once more, elsewhere",
     [["found", found("quick_stop", "1L")], ["found", found("run_stop", "1R", check="two")]],
     ["hubs", "tires"], ["1R"]),
    ("the run had ended", [["end", 0], ["found", found("quick_stop", "1L")]], None, []),
]  # fmt: skip


@pytest.mark.parametrize(("title", "steps", "what", "places"), NEARER, ids=[n[0] for n in NEARER])
def test_a_wheel_at_look_again_is_looked_at_sooner(page: Page, title, steps, what, places) -> None:
    after = play(page, [["typed", 25 * MILE], *steps])[-1]
    again = [stop for stop in after["ahead"] if stop[0].startswith("again:")]
    assert [stop[2] for stop in again] == ([what] if what else [])
    assert [stop[1] for stop in again] == pytest.approx([10 * MILE] if what else [])
    assert after["again"] == places


AGAIN = [["typed", 25 * MILE], ["found", found("quick_stop", "1L")], ["typed", 36 * MILE]]
LOOKED = [
    ("not yet", [], ["again:1"]),
    ("reloaded, a clock set back", [["clock", -5 * HOUR], ["reload", 0]], ["again:1"]),
    ("turned round", [["back", 0]], ["again:1"]),
    ("said to be looked at", [["tick", "again:1"]], []),
    ("and that taken back", [["tick", "again:1"], ["undone", "again:1"]], ["again:1"]),
    ("looked at, nothing found", [["found", found("quick_stop", check="two")]], []),
    ("looked at, found again", [["found", found("quick_stop", "1L", check="two")]], []),
    ("looked at elsewhere", [["found", found("tires", check="two")]], ["again:1"]),
]


@pytest.mark.parametrize(("title", "steps", "due"), LOOKED, ids=[one[0] for one in LOOKED])
def test_the_sooner_look_is_due_until_it_is_done(page: Page, title, steps, due) -> None:
    after = play(page, [*AGAIN, *steps])[-1]
    assert after["due"] == due
    kept = {stop["id"]: stop for stop in after["kept"]["stops"]}
    assert kept["again:1"]["what"] == ["hubs"]
    assert (kept["again:1"]["places"], kept["again:1"]["axles"]) == (["1L"], 1)
    assert "places" not in kept["out:20"]
    assert (kept["again:1"]["done"] is None) == bool(due)


def test_what_the_shop_asks_for_is_made_at_the_stop_beside_it_or_one_of_its_own(page: Page) -> None:
    plan = play(page, [], work=["wheels_off"], dues=[NUTS, FAR])[0]["ahead"]
    assert [stop for stop, *_ in plan if "due" in stop] == ["out:due8"]
    left = {stop: left for stop, left, _ in plan}
    assert left["out:due8"] == 120.0


def test_turning_round_early_settles_nothing_that_was_asked_for(page: Page) -> None:
    steps = [["typed", 10], ["back", None], ["typed", 125]]
    due = play(page, steps, work=["wheels_off"], dues=[FAR])[-1]["due"]
    assert {"out:10", "out:25", "out:50", "out:due8"} <= set(due)
    assert "out:20" not in due


def test_a_boat_goes_into_the_water_at_the_far_end(page: Page) -> None:
    ahead = play(page, [["typed", 10], ["back", None]], work=["dunked"])[-1]["ahead"]
    assert "back:50" in [stop for stop, _, what in ahead if "hubs" in what]


def test_what_comes_while_the_call_is_answered_is_heard_with_it(page: Page) -> None:
    """Until the tap only 20 miles were due; in the second of the tap the clock's stop comes too."""
    steps = [["typed", 33], ["wait", 3 * HOUR - 1000], ["clock", 2000], ["hear", None]]
    before, after = play(page, steps)[-3], play(page, steps)[-1]
    assert "out:h1" not in before["loud"]
    assert ("out:h1" in after["due"], after["loud"]) == (True, [])


def test_a_call_is_loud_until_it_is_heard_and_the_next_one_is_loud_again(page: Page) -> None:
    steps = [["typed", 33], ["hear", None], ["reload", None], ["typed", 81]]
    shown = play(page, steps, work=["wheels_off"])
    assert [one["loud"] for one in shown[1:4]] == [["out:10", "out:20"], [], []]
    assert shown[4]["loud"] == ["out:25", "out:50"]
    assert set(shown[4]["due"]) == {"out:10", "out:20", "out:25", "out:50"}


KNOWN = [
    ("by time: the usual speed", [["wait", 30 * MINUTE]], 40, 80),
    ("a short rest keeps hubs warm",
     [["wait", 30 * MINUTE], ["rest", 0], ["wait", 10 * MINUTE], ["on", 0]], 40, 80),
    ("after a long rest they begin cold",
     [["wait", 30 * MINUTE], ["rest", 0], ["wait", HOUR], ["on", 0], ["wait", 15 * MINUTE]],
     20, 80),
]  # fmt: skip


@pytest.mark.parametrize(("title", "steps", "km", "speed"), KNOWN)
def test_the_check_opens_with_what_the_run_knows(page: Page, title, steps, km, speed) -> None:
    known = play(page, steps)[-1]["known"]
    assert (known["run_distance"], known["run_speed"]) == (km, speed), title


def test_a_stop_made_at_rest_counts_from_when_it_stood(page: Page) -> None:
    known = play(page, [["wait", 30 * MINUTE], ["rest", 0], ["wait", 4 * MINUTE]])[-1]["known"]
    assert known["stood"] == START + 30 * MINUTE


def test_what_is_kept_of_a_run_holds_no_place(page: Page) -> None:
    fix = {"latitude": 45.4215, "longitude": -75.6972, "accuracy": 10}
    kept = play(page, [["fix", fix], ["end", 0]])[-1]["kept"]
    assert kept["by"] == "position"
    assert "45.4" not in json.dumps(kept)
    assert "75.6" not in json.dumps(kept)


# ---- what was done since the last run ------------------------------------------------------------

PRESETS = """async ([checks, runs, facts, now, service]) => {
    const { presetsOf, serviceOf } = await import("/static/data/presets.js");
    const links = service.map(([work, finished, id]) =>
        ({ trailer: { id }, service: { work, finished } }));
    const found = presetsOf({ checks, runs }, facts, Date.parse(now), serviceOf({ links }, "ours"));
    return Object.fromEntries(Object.entries(found).map(([work, { by }]) => [work, by]));
}"""
NOW = "2026-07-14T09:00:00Z"


def kept(check: str, made: str, **facts: Any) -> dict[str, Any]:
    return {"check": check, "made": f"{made}T10:00:00Z", "facts": facts}


def ran(began: str, *stops: dict[str, Any], work: tuple[str, ...] = ()) -> dict[str, Any]:
    when = f"{began}T08:00:00Z"
    return {"began": when, "ended": when, "stops": list(stops), "work": list(work)}


NUTS_LEFT = {"id": "out:25", "what": ["nuts"], "done": None}
NUTS_DONE = {"id": "out:25", "what": ["nuts"], "done": "2026-07-02T09:00:00Z"}
BENCH = kept("bench", "2026-07-01")
BACK = {"bearings": "bench", "wheels_off": "bench"}
PRESET = [
    ("nothing is known", [], [], {}, {}),
    ("bearings done at the bench", [BENCH], [], {}, BACK),
    ("and driven on since", [BENCH], [ran("2026-07-02")], {}, {}),
    ("driven on, the nuts not looked at", [BENCH],
     [ran("2026-07-02", NUTS_LEFT, work=("wheels_off",))], {}, {"wheels_off": "left"}),
    ("driven on, the nuts looked at", [BENCH],
     [ran("2026-07-02", NUTS_DONE, work=("wheels_off",))], {}, {}),
    ("bench after the last run", [BENCH], [ran("2026-06-20")], {}, BACK),
    ("hubs under water", [kept("walkaround", "2026-07-03", dunked="yes")], [], {},
     {"dunked": "answer"}),
    ("hubs not under water", [kept("walkaround", "2026-07-03", dunked="no")], [], {}, {}),
    ("a boat trailer", [], [], {"boat": "yes"}, {"dunked": "boat"}),
    ("last used 89 days ago", [kept("run_stop", "2026-04-16")], [], {}, {}),
    ("last used 91 days ago", [kept("run_stop", "2026-04-14")], [], {}, {"stored": "calendar"}),
    ("last used 91 days ago, nuts looked at on the road since",
     [kept("nuts_stop", "2026-07-01"), kept("run_stop", "2026-04-14")], [], {}, {}),
    ("last used 91 days ago, the load looked at on the road since",
     [kept("load_stop", "2026-07-01"), kept("run_stop", "2026-04-14")], [], {}, {}),
    ("last used 91 days ago, only walked round since",
     [kept("walkaround", "2026-07-01"), kept("run_stop", "2026-04-14")], [], {},
     {"stored": "calendar"}),
    ("said to have stood", [kept("walkaround", "2026-07-03", stood_months=3)], [], {},
     {"stored": "answer"}),
    ("stood two months", [kept("walkaround", "2026-07-03", stood_months=2)], [], {}, {}),
    ("another date code", [kept("tires", "2026-07-03", **{"tire_made@1L": "1026"}),
                           kept("tires", "2025-07-03", **{"tire_made@1L": "1019"})], [], {},
     {"tires": "tires"}),
    ("the same date code", [kept("tires", "2026-07-03", **{"tire_made@1L": "1019"}),
                            kept("tires", "2025-07-03", **{"tire_made@1L": "1019"})], [], {}, {}),
    ("a first date code", [kept("tires", "2026-07-03", **{"tire_made@1L": "1019"})], [], {}, {}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("title", "checks", "runs", "facts", "found"), PRESET, ids=[p[0] for p in PRESET]
)
def test_what_counts_as_done_since_the_last_run(
    page: Page, title, checks, runs, facts, found
) -> None:
    assert page.evaluate(PRESETS, [checks, runs, facts, NOW, []]) == found, title


HUBS = (["bearings", "lamps"], "2026-07-01T10:00:00Z", "ours")
SERVICE = [
    ("a shop worked on the bearings", [HUBS], [], {"bearings": "shop", "wheels_off": "shop"}),
    ("and the trailer ran since", [HUBS], [ran("2026-07-02")], {}),
    ("it fitted tires", [(["tires"], "2026-07-01T10:00:00Z", "ours")], [],
     {"tires": "shop", "wheels_off": "shop"}),
    ("it worked on another trailer", [(*HUBS[:2], "other")], [], {}),
    ("it worked on lamps only", [(["lamps"], "2026-07-01T10:00:00Z", "ours")], [], {}),
    ("of two links the later work counts", [(["wheels"], "2026-06-01T10:00:00Z", "ours"), HUBS], [],
     {"bearings": "shop", "wheels_off": "shop"}),
    ("a link of an earlier release", [(["wheels", "winch"], "2026-06-01T10:00:00Z", "ours")], [],
     {"wheels_off": "shop"}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("title", "service", "runs", "found"), SERVICE, ids=[s[0] for s in SERVICE]
)
def test_what_a_shop_did_counts_for_the_next_run(page: Page, title, service, runs, found) -> None:
    assert page.evaluate(PRESETS, [[], runs, {}, NOW, service]) == found, title


PACKED = [
    ("nothing is known", [], {}, [], None),
    ("a bench record", [BENCH], {}, [], ("2026-07-01", "2026-07-01")),
    ("a year and a month", [], {"service_year": 2025, "service_month": 6}, [],
     ("2025-06-01", "2025-06-30")),
    ("a year alone", [], {"service_year": 2025}, [], ("2025-01-01", "2025-12-31")),
    ("December", [], {"service_year": 2025, "service_month": 12}, [], ("2025-12-01", "2025-12-31")),
    ("said not to be known", [], {"service_year": None}, [], None),
    ("answered on a walk", [kept("walkaround", "2026-07-03", service_year=2024)], {}, [],
     ("2024-01-01", "2024-12-31")),
    ("a shop's work on the hubs", [], {"service_year": 2024}, [HUBS], ("2026-07-01", "2026-07-01")),
    ("a shop's work on lamps", [], {}, [(["lamps"], "2026-07-01T10:00:00Z", "ours")], None),
]  # fmt: skip


@pytest.mark.parametrize(
    ("title", "checks", "facts", "service", "days"), PACKED, ids=[p[0] for p in PACKED]
)
def test_when_the_bearings_were_last_packed(
    page: Page, title, checks, facts, service, days
) -> None:
    call = """async ([checks, facts, service]) => {
        const { packedOf, serviceOf } = await import("/static/data/presets.js");
        const links = service.map(([work, finished, id]) =>
            ({ trailer: { id }, service: { work, finished } }));
        return packedOf({ checks }, facts, serviceOf({ links }, "ours"))
            ?.map((at) => new Date(at).toISOString().slice(0, 10)) ?? null;
    }"""
    found = page.evaluate(call, [checks, facts, service])
    assert (tuple(found) if found else None) == days, title


LAST_AIR = [
    ("answered an hour ago", 20, "2026-07-14T08:00:00Z", 20),
    ("answered four hours ago", 20, "2026-07-14T05:00:00Z", None),
    ("by a clock that was set back since", 20, "2026-07-14T10:00:00Z", None),
    ("not sure", None, "2026-07-14T08:00:00Z", None),
]


@pytest.mark.parametrize(("title", "said", "made", "air"), LAST_AIR, ids=[a[0] for a in LAST_AIR])
def test_the_check_opens_with_the_air_as_last_answered(page: Page, title, said, made, air) -> None:
    call = """async ([checks, now]) => (await import("/static/data/presets.js"))
        .airOf({ checks }, Date.parse(now)).facts?.air ?? null"""
    last = {"check": "run_stop", "made": made, "facts": {"air": said}}
    assert page.evaluate(call, [[last], NOW]) == air, title


# Gas law in Rankine and psi: (65 + 14.696) * (T + 459.67) / 529.67 - 14.696, set at 70 degF.
AIR = [("30 degF", -1.11, 58.98), ("70 degF", 21.11, 65.0), ("95 degF", 35.0, 68.76)]
PSI = 6.894757


@pytest.mark.parametrize(("title", "to", "psi"), AIR)
def test_the_weather_moves_the_pressure(page: Page, title, to, psi) -> None:
    call = "async ([g, a, b]) => (await import('/static/engine/pressure.js')).pressureAt(g, a, b)"
    assert page.evaluate(call, [65 * PSI, 21.11, to]) == pytest.approx(psi * PSI, abs=0.1), title


CALENDAR = """async (events) => {
    const { calendarText } = await import("/static/parts/calendar.js");
    return calendarText(events.map((one) => ({ ...one, start: new Date(one.start) })));
}"""


def test_the_calendar_has_an_alarm_for_every_stop(page: Page) -> None:
    events = [
        {"start": START + n * HOUR, "title": f"Stop {n}", "text": "Look, and feel", "id": f"r-{n}"}
        for n in range(3)
    ]
    text = page.evaluate(CALENDAR, events)
    assert text.count("BEGIN:VEVENT") == text.count("BEGIN:VALARM") == 3
    assert text.count("BEGIN:VCALENDAR") == 1
    assert len(set(re.findall(r"UID:(\S+)", text))) == 3
    assert "DTSTART:20260714T" in text
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))


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


TYPED = {"20": 20, " 12.5 ": 12.5, "12,5": 12.5, "1,234": 1234, "6,000.5": 6000.5, "−5": -5}
TYPED |= {"0,125": 0.125, "-1,250": -1250, "12.": 12, ".5": 0.5}
TYPED |= dict.fromkeys(("", "-", "abc", "1.5.5", "12 mi", "1,2,3", "1.234,5", "1e5", "0x10"))


@pytest.mark.parametrize(("text", "number"), TYPED.items())
def test_a_number_is_read_as_people_type_it(page: Page, text, number) -> None:
    read = "async (text) => (await import('/static/data/typed.js')).numberOf(text)"
    found = page.evaluate(read, text)
    assert found == number if number is not None else math.isnan(found)


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
    st.tuples(st.just("hear"), st.none()),
    st.tuples(st.just("plan"), st.sampled_from([40, 120])),
    st.tuples(st.just("check"), st.sampled_from(["run_stop", "quick_stop", "tires", "figures"])),
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


@pytest.mark.long
@settings(
    max_examples=250, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    st.lists(steps, max_size=25).map(lambda many: [list(one) for one in many]),
    st.lists(st.sampled_from(["bearings", "wheels_off", "stored"]), unique=True),
)
def test_due_stops_neither_vanish_nor_repeat(page: Page, elsewhere: Page, steps, work) -> None:
    shown = play(page, steps, work=work)
    assert play(elsewhere, steps, work=work) == shown
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
        # Every due and every done stop stands in what is kept, once.
        told = [stop["id"] for stop in after["kept"]["stops"]]
        assert due | done <= set(told)
        assert len(told) == len(set(told))


def test_a_change_of_time_zone_changes_nothing(chromium: Browser) -> None:
    told = []
    for zone in ("America/Toronto", "Pacific/Kiritimati"):
        context = chromium.new_context(timezone_id=zone)
        page = engine_page(context)  # type: ignore[arg-type]  # it only opens a page
        told.append(play(page, [["wait", 25 * MINUTE], ["reload", None], ["wait", 3 * HOUR]]))
        context.close()
    assert told[0] == told[1]


@pytest.mark.parametrize(
    ("what", "limits"),
    [
        ("hubs", ["hub_stop"]),
        ("nuts", ["nuts_first", "nuts_second", "nuts_third"]),
        ("load", ["load_first"]),
    ],
)
def test_a_run_asks_after_the_miles_that_a_shop_asks_after(what: str, limits: list[str]) -> None:
    text = (STATIC / "data" / "run_plan.js").read_text("utf-8")
    line = re.search(rf"^  {what}: (.*),$", text, re.MULTILINE)
    assert line, f"run_plan.js has no miles for {what}"
    lists = [json.loads(found) for found in re.findall(r"\[[\d, ]+\]", line[1])]
    asked = [load().data["limits"][f"follow_up.{name}"] for name in limits]
    assert {entry["unit"] for entry in asked} == {"mi"}
    for miles in lists:
        assert miles[: len(limits)] == [entry["value"] for entry in asked]
    assert lists
