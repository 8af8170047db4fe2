"""The screen of a run: what was found stays in sight, no tap is lost, none is final unasked."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.phone.test_road import end_run, put_right, start_run
from tests.support.effort import few
from tests.support.phone import SCREEN, Phone, phone
from tests.support.waiting import drawn

BEGIN = datetime(2026, 7, 14, 9, tzinfo=UTC)


@pytest.fixture(scope="module")
def here(
    chromium: Browser, server: str, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Phone]:
    with phone(chromium, tmp_path_factory.mktemp("phone"), server) as one:
        one.install()
        one.offline(True)
        yield one


@pytest.fixture
def one(here: Phone) -> Phone:
    """The phone without a run and without records."""
    here.open("#/")
    here.page.evaluate("""async () => {
        const { openStore } = await import("/static/data/store.js");
        const { store } = await openStore(() => {});
        const all = await Promise.all([store.all("records"), store.all("drafts")]);
        await store.commit([["settings", null, "run"], ["settings", null, "trailer"],
            ...all[0].map(({ id }) => ["records", null, id]),
            ...all[1].map(({ id }) => ["drafts", null, id])]);
    }""")
    here.page.reload()
    here.page.wait_for_selector(".page:not(.first)")
    return here


def button(one: Phone | Page, name: str) -> Any:
    page = one.page if isinstance(one, Phone) else one
    return page.get_by_role("button", name=name, exact=True)


def in_dialog(one: Phone | Page, name: str) -> Any:
    page = one.page if isinstance(one, Phone) else one
    return page.locator("dialog").get_by_role("button", name=name)


def sure(one: Phone | Page, name: str) -> None:
    """Tap, and say yes where it asks."""
    button(one, name).click()
    in_dialog(one, name).click()


def stand_at_due_stop(one: Phone, miles: str = "21") -> None:
    start_run(one)
    put_right(one, miles)
    button(one, "Standing still: what is due").click()
    one.page.locator(".due.loud").first.wait_for()


def smoke(one: Phone) -> None:
    """At the due stop smoke is seen; the check is kept."""
    button(one, "Check now").first.click()
    one.page.wait_for_selector(".asking")
    one.settle()
    one.tap("Smoke")
    one.wait_for("location.hash.startsWith('#/now/')")
    one.settle()


def keep_from_its_page(one: Phone) -> None:
    """The *Stop now* that the run shows, kept from its own page, and back at the run."""
    one.page.get_by_role("link", name="What to do now").click()
    one.wait_for("location.hash.startsWith('#/now/')")
    one.settle()
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    one.open("#/run")


def test_a_stop_now_stays_with_the_run_until_somebody_says_how_it_ended(one: Phone) -> None:
    stand_at_due_stop(one)
    smoke(one)
    one.open("#/run")  # not kept yet: it counts all the same
    carried = one.page.locator(".carried.stop")
    carried.wait_for()
    assert not button(one, "Drive on").count()
    keep_from_its_page(one)
    carried.wait_for()
    text = carried.inner_text()
    assert "Smoke" in text
    assert "Do not drive on." in text
    assert one.page.locator(".halt").count()
    assert not button(one, "Drive on").count()
    one.page.reload()
    carried.wait_for()
    sure(one, "End the run")
    one.page.get_by_role("heading", name="Run ended").wait_for()
    assert carried.count() == 1
    assert not button(one, "New run").count()
    button(one, "Mended").click()
    button(one, "I did").click()
    button(one, "New run").wait_for()
    assert not carried.count()


@pytest.mark.long
def test_a_stop_now_of_a_trailer_without_a_name_is_not_lost_to_the_next_run(one: Phone) -> None:
    stand_at_due_stop(one)
    smoke(one)
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    one.open("#/run")
    sure(one, "End the run")
    one.page.get_by_role("heading", name="Run ended").wait_for()
    one.open("#/run/start")
    one.page.locator(".carried.stop").wait_for()
    assert not one.page.locator(".driven").count()
    assert not button(one, "Start the run").count()


@pytest.mark.parametrize(
    ("said", "main"),
    few([("Mended", "Drive on"), ("It was wrong", "Drive on"), ("Towed away", "End the run")], 1),
)
def test_what_became_of_a_stop_now_says_how_the_run_goes_on(one: Phone, said, main) -> None:
    stand_at_due_stop(one)
    smoke(one)
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    one.open("#/run")
    button(one, said).click()
    if said == "Mended":
        button(one, "I did").click()
    one.page.locator(".road .main", has_text=main).wait_for()
    assert not one.page.locator(".carried").count()
    one.page.get_by_text(f"You said: {said}").wait_for()
    button(one, "Take that back").click()
    one.page.locator(".carried.stop").wait_for()
    assert not button(one, "Drive on").count()


PLANTED = """async ([trailer, level]) => {
    const { openStore } = await import("/static/data/store.js");
    const { seal } = await import("/static/data/records.js");
    const { store } = await openStore(() => {});
    const finding = level === "stop" ? "smoke" : "loose_play";
    const verdict = { level, findings: [{ finding, place: "1R", level }], places: { "1R": level },
        cannot_tell: [], next: [] };
    const sealed = await seal("check", { check: "walkaround", date: "2026-07-14", facts: {},
        typed: {}, trailer, rulebook: "0", verdict });
    const run = (await store.get("settings", "run"))?.value;
    await store.commit([["records", sealed],
        ...(run ? [["settings", { key: "run", value: { ...run, checks: [sealed.id] } }]] : [])]);
}"""


def test_a_mend_stays_too_and_driving_on_asks_first(one: Phone) -> None:
    stand_at_due_stop(one)
    one.page.evaluate(PLANTED, [None, "mend"])
    one.open("#/")
    one.open("#/run")
    one.page.locator(".carried.mend").wait_for()
    button(one, "Drive on").click()
    in_dialog(one, "No, go back").click()
    assert one.page.get_by_text("Nothing is counted until you drive on").count()
    sure(one, "Drive on")
    button(one, "Standing still").wait_for()
    assert one.page.locator(".carried.mend").count() == 1
    one.page.get_by_role("link", name="Read this check").click()
    one.wait_for("location.hash.startsWith('#/check/')")


@pytest.mark.long
def test_a_look_again_stays_in_softer_dress_and_brings_the_next_nearer(one: Phone) -> None:
    """Ten miles, common practice: as soon as after work, where the plan has fifty or more."""
    stand_at_due_stop(one, "25")
    button(one, "Check now").click()
    one.wait_for("location.hash.startsWith('#/stop/')")
    draft = one.page.evaluate("location.hash.split('/')[2]")
    one.open("#/run")
    button(one, "Check now").click()
    one.wait_for(f"location.hash.startsWith('#/stop/{draft}')")
    one.open("#/run")
    one.page.evaluate(KEPT, "look")
    one.open("#/")
    one.open("#/run")
    carried = one.page.locator(".carried.look")
    carried.get_by_role("heading", name="Left wheel: Hub warmer than it should be").wait_for()
    one.page.get_by_text(re.compile(r"^Next: hubs: Left wheel in (10|9\.\d) mi")).wait_for()
    assert not one.page.locator(".due.loud").count()
    button(one, "Drive on").click()
    button(one, "Standing still").wait_for()  # nothing is asked
    assert carried.count() == 1
    put_right(one, "36")
    one.page.locator(".shout", has_text="hubs: Left wheel").wait_for()
    button(one, "Standing still: what is due").click()
    one.page.locator(".due.loud", has_text="Look at: hubs: Left wheel").wait_for()
    one.page.evaluate(KEPT, "nothing")
    one.open("#/")
    one.open("#/run")
    button(one, "Drive on").wait_for()
    assert not one.page.locator(".due.loud").count()
    assert not carried.count()


KEPT = """async (level) => {
    const { openStore } = await import("/static/data/store.js");
    const { seal } = await import("/static/data/records.js");
    const { finishBy } = await import("/static/data/run.js");
    const { store } = await openStore(() => {});
    const findings = level === "look" ? [{ finding: "hub_too_warm", place: "1L", level }] : [];
    const verdict = { level, findings, places: { "1L": level }, cannot_tell: [], next: [] };
    const sealed = await seal("check", { check: "quick_stop", date: "2026-07-14", facts: {},
        typed: {}, trailer: null, rulebook: "0", verdict });
    const run = (await store.get("settings", "run")).value;
    await store.commit([["records", sealed], ["settings", { key: "run", value: finishBy(run,
        { check: sealed.id, kind: "quick_stop", verdict, facts: {} }, Date.now()) }]]);
}"""


def test_a_check_of_another_trailer_is_not_carried(one: Phone) -> None:
    stand_at_due_stop(one)
    one.page.evaluate(PLANTED.replace("checks: [sealed.id]", "checks: []"), ["other", "stop"])
    one.open("#/")
    one.open("#/run")
    button(one, "Drive on").wait_for()
    assert not one.page.locator(".carried").count()


# ---- no tap is lost ------------------------------------------------------------------------------


@pytest.fixture
def clocked(one: Phone) -> Phone:
    """A phone whose clock the test moves."""
    one.context.clock.install(time=BEGIN)
    return one


def tick(one: Phone) -> None:
    """The phone looks at the clock, as it does every 20 seconds."""
    one.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    one.stored("settings")  # after all that the look asked of the store
    drawn(one.page)


@pytest.mark.long
def test_a_look_at_the_clock_leaves_a_call_that_stands_as_it_is(clocked: Phone) -> None:
    start_run(clocked)
    put_right(clocked, "21")
    heard = button(clocked, "Heard, still driving")
    held = heard.element_handle()
    for _ in range(3):
        tick(clocked)
    assert held.evaluate("(one) => one.isConnected")
    heard.click()
    clocked.page.locator(".driven").wait_for()


@pytest.mark.long
def test_figures_go_on_in_place_and_what_is_open_stays_open(clocked: Phone) -> None:
    start_run(clocked)
    page = clocked.page
    page.get_by_text("Still to come").click()
    rest = button(clocked, "Standing still").element_handle()
    before = page.locator(".driven").inner_text()
    page.mouse.wheel(0, 200)
    clocked.context.clock.set_system_time(BEGIN + timedelta(minutes=12))
    tick(clocked)
    assert page.locator(".driven").inner_text() != before
    assert page.locator("details[open] li").count() > 1
    assert rest.evaluate("(one) => one.isConnected")


def test_no_screen_comes_under_a_finger_that_is_down(clocked: Phone) -> None:
    start_run(clocked)
    page = clocked.page
    button(clocked, "Standing still").hover()
    page.mouse.down()
    clocked.context.clock.set_system_time(BEGIN + timedelta(minutes=40))
    tick(clocked)
    assert not page.locator(".shouting").count()
    page.mouse.up()  # the tap is heard, and then the call comes
    page.locator(".shouting").wait_for()
    run = next(s for s in clocked.stored("settings") if s["key"] == "run")["value"]
    assert run["rests"]  # type: ignore[index]


def test_what_was_typed_of_what_was_mended_outlives_a_stop_that_comes_due(clocked: Phone) -> None:
    start_run(clocked)
    clocked.page.evaluate(PLANTED, [None, "mend"])
    clocked.open("#/")
    clocked.open("#/run")
    button(clocked, "Mended").click()
    done = clocked.page.get_by_label("What was mended or renewed")
    done.fill("Seal")
    clocked.context.clock.set_system_time(BEGIN + timedelta(minutes=40))
    tick(clocked)
    button(clocked, "Standing still: what is due").click()
    done.wait_for()
    assert done.input_value() == "Seal"
    button(clocked, "Not mended yet: go back").click()
    button(clocked, "Mended").click()
    assert done.input_value() == ""
    done.fill("Bearing")
    button(clocked, "I did").click()
    clocked.page.get_by_text("You said: Mended").wait_for()
    said: Any = clocked.stored("records")[-1]["record"]["body"]  # type: ignore[index]
    assert said["done"] == "Bearing"


# ---- what one tap did can be taken back ----------------------------------------------------------


def test_a_stop_ticked_off_by_mistake_is_due_again(one: Phone) -> None:
    stand_at_due_stop(one)
    button(one, "Looked at").click()
    one.page.get_by_text("Said to be looked at: hubs.").wait_for()
    assert not one.page.locator(".due.loud").count()
    one.page.get_by_role("button", name="Take it back: Said to be looked at").click()
    one.page.locator(".due.loud", has_text="hubs").wait_for()


def test_a_distance_typed_too_far_uses_up_no_stop(one: Phone) -> None:
    stand_at_due_stop(one, "210")
    assert one.page.locator(".due.loud").count() == 3
    one.page.get_by_role("button", name=re.compile("Take it back: Distance put from")).click()
    one.page.get_by_text(re.compile(r"^Next: hubs in 20 mi")).wait_for()
    assert not one.page.locator(".due.loud").count()


def test_ending_a_run_asks_first_and_names_what_is_due(one: Phone) -> None:
    stand_at_due_stop(one)
    button(one, "End the run").click()
    one.page.get_by_text("Still due: hubs").wait_for()
    in_dialog(one, "No, go back").click()
    one.page.locator(".due.loud").wait_for()
    assert not [r for r in one.stored("records") if r["record"]["kind"] == "run"]  # type: ignore[index]
    end_run(one)


# A screen that leads to a run, and what the link says without one and while one is under way.
LEADING = [("#/", "Start a run"), ("#/trip", "Start the run")]


@pytest.mark.parametrize(("place", "begin"), few(LEADING, 1), ids=[one[0] for one in LEADING])
def test_a_link_to_a_run_under_way_does_not_offer_to_start_one(one: Phone, place, begin) -> None:
    def links(name: str) -> Any:
        return one.page.locator("nav, .foot").get_by_role("link", name=name, exact=True)

    one.open(place)
    links(begin).first.wait_for()
    start_run(one)
    one.open(place)
    links("A run is under way").first.click()
    button(one, "End the run").wait_for()
    one.open(place)
    links("A run is under way").first.wait_for()
    assert not links(begin).count()
    one.open("#/run")
    end_run(one)


def test_each_thing_nobody_has_answered_is_named_the_worst_first(one: Phone) -> None:
    stand_at_due_stop(one)
    for level in ("mend", "stop", "stop"):
        one.page.evaluate(PLANTED, [None, level])
    one.open("#/")
    one.open("#/run")
    one.page.locator(".carried.stop").wait_for()
    rest = one.page.locator("a.due .sign .word")
    assert rest.all_inner_texts() == ["Stop now", "Mend before towing"]


def test_before_the_trip_what_stands_at_stop_now_comes_first(one: Phone) -> None:
    one.open("#/trip")
    one.page.locator(".road.trip").wait_for()
    assert not one.page.locator(".carried").count()
    assert "main" in (one.by_name("Start the run").last.get_attribute("class") or "")
    stand_at_due_stop(one)
    smoke(one)
    one.open("#/trip")
    card = one.page.locator(".trip.halt .carried.stop")
    card.get_by_role("heading", name="Smoke at a wheel; which one is not said").wait_for()
    assert "main" not in (one.by_name("A run is under way").last.get_attribute("class") or "")


def test_before_the_trip_what_the_shop_has_not_decided_comes_first(one: Phone) -> None:
    one.page.evaluate(HELD_BY_SHOP, SMOKE)
    one.open("#/")
    one.page.reload()
    one.open("#/trip")
    card = one.page.locator(".trip.halt .carried.stop")
    card.get_by_role("heading", name="Smoke at this wheel").wait_for()
    assert "Do not tow this trailer" in card.inner_text()
    assert "main" not in (one.by_name("Start the run").last.get_attribute("class") or "")
    one.page.evaluate(HELD_BY_SHOP, None)


def test_what_the_shop_has_and_nobody_is_to_drive_on_with_stands_on_front_page_and_link(
    one: Phone,
) -> None:
    one.page.evaluate(HELD_BY_SHOP, TOO_HOT)
    one.open("#/")
    one.page.reload()
    one.page.locator("a.due.look").get_by_text("Very hot, and not settled yet").wait_for()
    one.page.locator("a.due.look").click()
    card = one.page.locator(".carried.look")
    card.get_by_text("Do not drive on before it is settled how hot it is").wait_for()
    assert card.count() == 1
    one.page.evaluate(HELD_BY_SHOP, None)


SMOKE = {"finding": "has_smoke", "place": "1L", "level": "stop"}
TOO_HOT = {"finding": "too_hot", "place": "1L", "level": "look"}
HELD_BY_SHOP = """async (found) => {
    const { openStore } = await import("/static/data/store.js");
    const { store } = await openStore(() => {});
    const link = { id: "l1", secret: "s", kind: "job", read: 1, due: [], facts: {},
      shop: { name: "Pell Street Garage" }, trailer: { id: "t1", name: "Utility", facts: {} },
      open: found && { record: "r1", level: found.level, made: "2026-07-14T10:00:00-04:00",
        findings: [found] } };
    await store.commit(found
      ? [["settings", { key: "trailer", value: "t1" }], ["links", link]]
      : [["settings", null, "trailer"], ["links", null, "l1"]]);
}"""


# ---- what may be of this trailer -----------------------------------------------------------------

PLANT_SAVED = """async ([chosen, trailer, retired]) => {
    const { openStore } = await import("/static/data/store.js");
    const { seal } = await import("/static/data/records.js");
    const { store } = await openStore(() => {});
    const saved = async (id, name, retired) => ["records", await seal("trailer",
        { trailer: id, name, facts: {}, ...(retired && { retired }) })];
    const found = { finding: "has_smoke", place: "1R", level: "stop" };
    const verdict = { level: "stop", findings: [found], places: {}, cannot_tell: [], next: [] };
    const check = await seal("check", { check: "walkaround", date: "2026-07-14", facts: {},
        typed: {}, trailer, rulebook: "0", verdict });
    await store.commit([await saved("t5", "Alder Fork 5", retired),
        await saved("t6", "Alder Fork 6"), ["records", check],
        chosen ? ["settings", { key: "trailer", value: chosen }] : ["settings", null, "trailer"]]);
}"""
WHOSE = "a.due.stop:has-text('Smoke at this wheel')"
# What is chosen on the front page, whose the Stop now is, whether that was put away, and how it
# stands before the run: surely of it, maybe, or not of it.
BEFORE = {
    "none chosen, its trailer put away": (None, "t5", True, "maybe"),
    "none chosen, its trailer still saved": (None, "t5", False, "maybe"),
    "none chosen, of no trailer": (None, None, False, "sure"),
    "one chosen, of no trailer": ("t6", None, False, "maybe"),
    "one chosen, of it": ("t5", "t5", False, "sure"),
    "one chosen, of another": ("t6", "t5", False, "other"),
    "one chosen, of another put away": ("t6", "t5", True, "other"),
}


@pytest.mark.parametrize("case", few(BEFORE, 2))
def test_before_a_run_stands_every_stop_now_that_may_be_of_its_trailer(
    one: Phone, case: str
) -> None:
    chosen, of, away, stands = BEFORE[case]
    one.page.evaluate(PLANT_SAVED, [chosen, of, away])
    one.page.reload()
    one.page.locator("#which").wait_for()
    one.open("#/trip")
    one.page.locator(".road.trip").wait_for()
    assert one.page.locator(WHOSE).count() == (stands == "maybe")
    assert one.page.locator(".carried.stop").count() == (stands == "sure")
    one.open("#/run/start")
    one.page.locator(".road .driven, .road .whose").first.wait_for()
    assert one.page.locator(".driven").count() == (stands == "other")
    assert one.page.locator(WHOSE).count() == (stands == "maybe")
    assert one.page.locator(".carried.stop").count() == (stands == "sure")
    assert bool(one.page.locator(".road.halt").count()) == (stands != "other")


@pytest.mark.long
def test_a_run_of_another_trailer_begins_once_that_is_said(one: Phone) -> None:
    one.page.evaluate(PLANT_SAVED, [None, "t5", True])
    one.page.reload()
    one.open("#/run/start")
    card = one.page.locator(WHOSE)
    card.wait_for()
    assert "Alder Fork 5" in card.inner_text()
    assert "main" not in (button(one, "Start the run").get_attribute("class") or "")
    button(one, "Start the run").click()
    in_dialog(one, "No, go back").click()
    assert card.count() == 1
    sure(one, "Start the run")
    button(one, "Standing still").wait_for()
    assert not card.count()  # as said: it is of another


@pytest.mark.long
def test_a_run_names_its_trailer(one: Phone) -> None:
    one.page.evaluate(PLANT_SAVED, ["t6", "t5", False])
    one.page.reload()
    start_run(one)
    assert one.page.locator(".whose").inner_text() == "Alder Fork 6"
    end_run(one)
    assert one.page.locator(".whose").inner_text() == "Alder Fork 6"


def test_a_run_names_every_stop_now_of_its_trailer(one: Phone) -> None:
    """Two of the phone's own, two that the shop has not decided; one of these is the phone's."""
    start_run(one)
    for _ in range(2):
        one.page.evaluate(PLANTED, [None, "stop"])
    one.page.evaluate(SHOP_HAS_MORE)
    one.open("#/")
    one.page.reload()
    one.open("#/run")
    one.page.locator(".carried.stop").wait_for()
    assert one.page.locator(".carried").count() == 1
    said = one.page.locator("a.due.stop strong").all_inner_texts()
    assert said == ["Right wheel: smoke", "Left wheel: Wheel nut loose or missing"]
    one.page.locator("a.due.stop").last.click()
    one.wait_for("location.hash === '#/job/l1'")
    one.page.evaluate(HELD_BY_SHOP, None)


SHOP_HAS_MORE = """async () => {
    const { openStore } = await import("/static/data/store.js");
    const { store } = await openStore(() => {});
    const [mine] = (await store.all("records")).filter(({ record }) => record.kind === "check");
    const told = (record, finding, place, level = "stop") => ({ record, level,
        made: "2026-07-14T10:00:00-04:00", findings: [{ finding, place, level }] });
    const run = (await store.get("settings", "run")).value;
    await store.commit([["settings", { key: "run", value: { ...run, link: "l1" } }],
      ["links", { id: "l1", secret: "s", kind: "job", read: 1, due: [], facts: {},
        shop: { name: "Pell Street Garage" }, trailer: { id: "t1", name: "Utility", facts: {} },
        open: { ...told(mine.id, "has_smoke", "1R"), more: [told("r2", "nuts_loose", "1L"),
            told("r3", "tread_low", "1L", "mend")] } }]]);
}"""


@pytest.mark.long
def test_a_stop_now_found_where_another_trailer_is_chosen_stays_with_the_run(one: Phone) -> None:
    """At the stop the check is begun on the front page, of no trailer: it was made on this run."""
    one.page.evaluate(PLANT_SAVED, ["t6", "t5", False])
    one.page.reload()
    start_run(one)
    button(one, "Standing still").click()
    one.open("#/")
    one.page.locator("#which").select_option("")
    one.begin("quick_stop")
    one.tap("Smoke")
    one.wait_for("location.hash.startsWith('#/now/')")
    one.open("#/run")
    carried = one.page.locator(".carried.stop")
    carried.wait_for()
    keep_from_its_page(one)
    carried.wait_for()
    assert not button(one, "Drive on").count()
    button(one, "It was wrong").click()
    button(one, "Drive on").wait_for()
    one.page.get_by_text("You said: It was wrong").wait_for()


@pytest.mark.long
def test_what_is_answered_before_a_run_leads_back_to_its_beginning(one: Phone) -> None:
    """The run before it has ended, and is kept; it is not shown in place of the one to begin."""
    start_run(one)
    end_run(one)
    one.page.evaluate(PLANT_SAVED, ["t5", "t5", False])
    one.page.reload()
    one.open("#/run/start")
    one.page.locator(".carried.stop").wait_for()
    button(one, "It was wrong").click()
    one.page.get_by_text("You said: It was wrong").wait_for()
    assert one.page.locator(".whose").inner_text() == "Alder Fork 5"
    assert "main" in (button(one, "Start the run").get_attribute("class") or "")
    button(one, "Take that back").click()
    one.page.locator(".carried.stop").wait_for()
    assert not button(one, "Start the run").count()
    button(one, "It was wrong").click()
    button(one, "Start the run").click()
    button(one, "Standing still").wait_for()
    one.wait_for("location.hash === '#/run'")


NONE_CHOSEN = """async () => {
    const { openStore } = await import("/static/data/store.js");
    const { store } = await openStore(() => {});
    await store.commit([["settings", null, "trailer"]]);
}"""


@pytest.fixture
def linked(one: Phone) -> Iterator[Phone]:
    """A link whose shop has not decided a *Stop now*, and one of the phone's own; none chosen."""
    one.page.evaluate(HELD_BY_SHOP, SMOKE)
    one.page.evaluate(PLANTED, ["t1", "stop"])
    one.page.evaluate(NONE_CHOSEN)
    one.page.reload()
    yield one
    one.open("#/")
    one.page.evaluate(HELD_BY_SHOP, None)
    one.page.reload()


@pytest.mark.long
def test_what_is_answered_before_a_run_from_a_link_keeps_its_trailer(linked: Phone) -> None:
    page = linked.page
    linked.open("#/run/from/l1")
    page.locator(".carried.stop").get_by_text("Right wheel: smoke").wait_for()
    assert not button(linked, "Start the run").count()
    button(linked, "It was wrong").click()
    page.locator(".carried.stop").get_by_text("Left wheel: Smoke at this wheel").wait_for()
    assert page.locator(".whose").inner_text() == "Utility"
    assert not page.locator("section.carried", has_text="Right wheel").count()
    sure(linked, "Start the run")
    button(linked, "Standing still").wait_for()
    run = next(one for one in linked.stored("settings") if one["key"] == "run")["value"]
    assert (run["trailer"], run["link"]) == ("t1", "l1")  # type: ignore[index]


@pytest.mark.long
def test_what_the_shop_says_meanwhile_takes_no_half_given_answer_away(linked: Phone) -> None:
    page = linked.page
    linked.open("#/job/l1")
    button(linked, "Mended").click()
    page.get_by_label("What was mended or renewed").fill("Seal")
    page.evaluate("dispatchEvent(new Event('moved'))")
    assert page.get_by_label("What was mended or renewed").input_value() == "Seal"
    button(linked, "I did").click()
    page.get_by_text("You said: Mended").wait_for()


def test_an_overdue_stop_says_by_how_far_and_names_each_thing_once(one: Phone) -> None:
    start_run(one)
    put_right(one, "105")
    shout = one.page.locator(".shout")
    shout.wait_for()
    assert sorted(shout.inner_text().lower().split(", ")) == ["hubs", "load"]
    assert "85 mi past it" in one.page.locator(".overdue").inner_text()
    button(one, "Standing still: what is due").click()
    one.page.locator(".due.loud").first.wait_for()
    past = one.page.locator(".due.loud .overdue").all_inner_texts()
    assert past == ["85 mi past it", "55 mi past it", "5.0 mi past it"]


# ---- one run in two windows ----------------------------------------------------------------------


def second_window(one: Phone) -> Page:
    other = one.context.new_page()
    other.goto(f"{one.address}/#/run")
    other.locator(".driven, .shouting").first.wait_for()
    one.page.bring_to_front()
    return other


@pytest.mark.long
def test_two_windows_of_one_run_show_the_same(one: Phone) -> None:
    start_run(one)
    other = second_window(one)
    put_right(one, "21")
    other.locator(".shouting").wait_for()
    button(one, "Standing still: what is due").click()
    other.locator(".due.loud").wait_for()
    button(one, "Looked at").click()
    other.get_by_text("Said to be looked at").wait_for()
    end_run(one)
    other.get_by_role("heading", name="Run ended").wait_for()
    button(one, "New run").click()
    button(other, "Start the run").wait_for()
    other.close()


@pytest.mark.long
def test_a_run_ended_in_two_windows_is_kept_once(one: Phone) -> None:
    start_run(one)
    other = one.context.new_page()
    other.add_init_script("delete globalThis.BroadcastChannel")  # it never hears of the first
    other.goto(f"{one.address}/#/run")
    button(other, "End the run").wait_for()
    end_run(one)
    other.bring_to_front()
    sure(other, "End the run")
    other.get_by_role("heading", name="Run ended").wait_for()
    runs = [r for r in one.stored("records") if r["record"]["kind"] == "run"]  # type: ignore[index]
    assert len(runs) == 1
    other.close()


# ---- the ladder of a stop ------------------------------------------------------------------------

DRAFT = """async (facts) => {
    const { openStore } = await import("/static/data/store.js");
    const { store } = await openStore(() => {});
    await store.commit([["drafts", { id: "ladder", check: "quick_stop", date: "2026-07-14",
        started: "2026-07-14T10:00:00-04:00", trailer: null, typed: {}, skipped: [], known: [],
        facts }]]);
}"""
SAYS = "Alone each may be usual."
# What the hands found left and right, and against one another; whether the ladder says more.
FELT = [
    ("cold", "slight", "right_clearly", True),
    ("slight", "slight", "alike", False),
    ("cold", "very_hot", "right_clearly", False),
]


@pytest.mark.parametrize(("left", "right", "pair", "more"), few(FELT, 1))
def test_the_ladder_says_why_a_usual_hub_is_too_warm_beside_its_mate(
    one: Phone, left, right, pair, more
) -> None:
    hubs = {"hub_feel@1L": left, "hub_feel@1R": right, "pair_feel@1": pair}
    road = {
        "run_distance": 40,
        "run_speed": 88,
        "parked": 3,
        "air": 21,
        "brakes": "none",
        "axles": 1,
    }
    one.page.evaluate(DRAFT, {"hub_method": "hand", **hubs, **road})
    one.open("#/sofar/ladder")
    caption = one.page.locator(".touched figcaption")
    caption.wait_for()
    assert (SAYS in caption.inner_text()) == more
    # beside a hub that is very hot no hand compares: what was told of it no longer counts
    assert ("Right clearly warmer." in caption.inner_text()) == more


def test_a_hub_that_a_thermometer_has_not_read_has_no_bar_beside_the_ladder(one: Phone) -> None:
    """A hand could not touch it: a bar from cold up would say that nobody knows."""
    told = {"hub_method": "thermometer", "hub_feel@1L": "no_touch", "hub_reading@1R": 30}
    one.page.evaluate(DRAFT, {"axles": 1, **told})
    one.open("#/sofar/ladder")
    bars = one.page.locator(".touched .d-plate")
    bars.first.wait_for(state="attached")
    assert bars.count() == 1


# Where both hubs of one axle could not be touched, what the head says to do: what else was told.
UNTOUCHABLE = [
    ({}, "Do not drive on before it is settled how hot it is"),
    (
        {"run_distance": 32, "run_speed": 105, "parked": 3, "air": 38, "brakes": "none"},
        "Wait ten minutes without driving, then feel again",
    ),
]


@pytest.mark.parametrize(("told", "said"), UNTOUCHABLE, ids=["open", "told"])
def test_the_head_of_a_stop_is_never_milder_than_a_card_below(one: Phone, told, said) -> None:
    hubs = {"hub_feel@1L": "no_touch", "hub_feel@1R": "no_touch", "pair_feel@1": "alike"}
    one.page.evaluate(DRAFT, {"hub_method": "hand", "axles": 1, **hubs, **told})
    one.open("#/sofar/ladder")
    acts = one.page.locator("p.act")
    acts.first.wait_for()
    head = acts.all_inner_texts()
    assert said in head[0]
    assert not [act for act in head if "look closer" in act]


FIRST = """async () => {
    const { firstToDo } = await import("/static/data/stops.js");
    const findings = { warm: { cautions: ["fire"] }, held: { holds: true } };
    const list = [{ finding: "warm" }, { finding: "held" }];
    return [list, list.slice(0, 1)].map((some) =>
        firstToDo({ data: { findings } }, { level: "look", findings: some })?.finding ?? null);
}"""


def test_the_head_of_a_look_again_goes_by_the_rules_own_mark_and_no_caution(one: Phone) -> None:
    assert one.page.evaluate(FIRST) == ["held", None]


BROKEN = """() => [...document.querySelectorAll(".picks .pick")].flatMap((pick) => {
    const text = document.createTreeWalker(pick, NodeFilter.SHOW_TEXT).nextNode();
    return [...text.data.matchAll(/\\S+/g)].filter(({ 0: word, index }) => {
      const range = document.createRange();
      range.setStart(text, index);
      range.setEnd(text, index + word.length);
      return range.getClientRects().length > 1 || pick.scrollWidth > pick.clientWidth;
    }).map(([word]) => word);
})"""


COMPARED = [
    *("Left clearly warmer", "Right clearly warmer"),
    *("Left a little warmer", "Right a little warmer", "Alike"),
]


@pytest.mark.long
def test_each_compare_button_says_warmer_on_its_own_side_and_no_word_is_broken(one: Phone) -> None:
    one.page.set_viewport_size({"width": 320, "height": 640})
    one.begin("quick_stop")
    one.repeat(one.answer, lambda: one.page.locator("[data-key^=pair_feel]").count() > 0)
    row = one.page.locator("[data-key^=pair_feel]")
    picks = row.locator(".pick:not(.unsure)")
    assert picks.all_inner_texts() == COMPARED
    boxes = [one_of.bounding_box() or {"x": 0} for one_of in picks.all()]
    left, right = ({round(box["x"]) for box in boxes[at:4:2]} for at in (0, 1))
    assert len(left) == len(right) == 1
    assert max(left) < min(right)
    assert not one.page.evaluate(BROKEN)
    one.page.set_viewport_size(SCREEN)  # type: ignore[arg-type]


# ---- a figure typed exactly, and a bore left empty -----------------------------------------------

# A screen of the stop, what leads from it to a question of its own, and what answers that.
OUT_AND_BACK = {
    "a distance to be typed": ("run", "[data-key=run_distance] .row-head a", "31"),
    "another place to touch": ("hubs.1", ".ways a[href*=hub_spot]", None),
}


@pytest.mark.parametrize(
    ("step", "way", "typed"), few(OUT_AND_BACK.values(), 1), ids=list(OUT_AND_BACK)
)
def test_an_answer_given_apart_leads_back_to_its_screen_of_the_stop(
    one: Phone, step, way, typed
) -> None:
    one.page.evaluate(DRAFT, {"axles": 1, "brakes": "none", "hub_method": "hand"})
    one.open(f"#/stop/ladder/{step}")
    one.page.locator(way).click()
    one.wait_for("location.hash.startsWith('#/ask/')")
    one.settle()
    if typed:
        one.page.fill(".display", typed)
        one.tap("Next")
    else:
        one.tap_at(".answers .answer")
    one.wait_for(f"location.hash === '#/stop/ladder/{step}'")
    one.settle()
    if typed:
        assert typed in one.page.locator("[data-key=run_distance] .told").inner_text()


BORE = "[data-key=hub_size]"


def at_stop(one: Phone) -> None:
    stop = one.page.get_by_role("button", name="Check now")
    stop.first.click()
    one.page.wait_for_selector(".asking")
    one.settle()


def run_page(one: Phone) -> None:
    one.open(f"#/stop/{one.where.split('/')[2]}/run")
    one.page.locator(BORE).wait_for()


OPEN_ROWS = """(bore) => [...document.querySelectorAll(".row-of")]
    .filter((row) => !row.matches(bore) && !row.querySelector("[aria-pressed=true], .told"))
    .map((row) => row.dataset.key)"""


def past_the_bore(one: Phone) -> None:
    """All of the page but the bore, then on; the check is kept."""
    one.answer_until(lambda: one.where.endswith("/run"))

    def answer() -> None:
        key = one.page.evaluate(OPEN_ROWS, BORE)[0]
        row = one.page.locator(f"[data-key='{key}']")
        row.locator(".pick").first.click()
        row.locator("[aria-pressed=true]").wait_for()

    one.repeat(answer, lambda: not one.page.evaluate(OPEN_ROWS, BORE))
    one.tap("Next")
    one.wait_for("!location.hash.endsWith('/run')")
    one.settle()
    one.finish()


@pytest.mark.long
def test_a_bore_left_empty_is_asked_once_on_a_run_and_can_still_be_given(one: Phone) -> None:
    stand_at_due_stop(one, "20")
    at_stop(one)
    past_the_bore(one)
    one.open("#/run")
    button(one, "Drive on").click()
    put_right(one, "101")
    button(one, "Standing still: what is due").click()
    at_stop(one)
    asked: list[str] = []
    one.answer_until(lambda: asked.append(one.where) or not one.asking)  # type: ignore[func-returns-value]
    assert not [place for place in asked if "hub_size" in place]
    draft = one.where.split("/")[2]
    one.open(f"#/stop/{draft}/run")
    one.page.locator(f"{BORE} .unsure[aria-pressed=true]").wait_for()
    one.page.locator(BORE).get_by_role("button", name="1-1/16 in straight").click()
    one.wait_stored("drafts", lambda all_: "bore_27" in str(all_))


@pytest.mark.long
def test_a_bore_left_empty_on_a_stop_of_a_trailer_is_not_asked_at_its_next(one: Phone) -> None:
    one.page.evaluate(PLANT_SAVED, ["t6", "t5", False])
    one.page.reload()
    one.begin("quick_stop")
    past_the_bore(one)
    one.open("#/")
    one.begin("quick_stop")
    one.answer_until(lambda: one.where.endswith("/run"))
    one.page.locator(f"{BORE} .unsure[aria-pressed=true]").wait_for()
