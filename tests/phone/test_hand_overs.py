"""A *Stop now* goes from hand to hand on the phone, and none of them softens, hides or drops it."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Route
from sqlalchemy import delete, update

from tests.phone.test_road import start_run
from tests.phone.test_sending import FULL
from tests.support.desk import Desk, arrive
from tests.support.floor import run_stop
from tests.support.phone import Phone, installed, phone
from tests.support.records import HEADERS, envelope
from tests.support.stop_nows import plant
from webapp.security import digest
from webapp.storage.models import links, records

NAMED, NAME = "t5", "Alder Fork 5"

# A trailer, put away or not, and a Stop now of it: kept, and in a check that is begun.
PLANTED = """async ([trailer, name, retired]) => {
    const { openStore } = await import("/static/data/store.js");
    const { seal } = await import("/static/data/records.js");
    const { store } = await openStore(() => {});
    const finding = { finding: "has_smoke", place: "1R", level: "stop" };
    const verdict = { level: "stop", findings: [finding], places: { "1R": "stop" },
        cannot_tell: [], next: [], points: [] };
    const { hash, data } = await (await fetch("/rulebook.json")).json()
        .then((data) => ({ hash: data.hash, data }));
    const check = await seal("check", { check: "run_stop", date: "2026-07-14",
        facts: { axles: 1, "smoke@1R": "yes" }, typed: {}, trailer, rulebook: hash, verdict });
    const draft = { id: "begun", check: "quick_stop", date: "2026-07-14", typed: {}, skipped: [],
        started: "2026-07-14T10:00:00-04:00", trailer, known: [],
        facts: { axles: 1, "smoke@1R": "yes" } };
    const saved = await seal("trailer",
        { trailer, name, facts: {}, ...(retired && { retired }) });
    await store.commit([["rulebooks", { hash, data }], ["drafts", draft], ["records", check],
        ["records", saved]]);
    return check.id;
}"""


@pytest.mark.parametrize("retired", [False, True], ids=["saved", "put away"])
def test_whose_stop_now_it_is_stands_everywhere_though_the_trailer_was_put_away(
    one: Phone, retired: bool
) -> None:
    kept = one.page.evaluate(PLANTED, [NAMED, NAME, retired])
    for place, where in (
        (f"#/now/{kept}", ".tell"),
        ("#/now/begun", ".tell"),
        (f"#/check/{kept}", "main"),
        ("#/pause/begun", "main"),
    ):
        one.open(place)
        assert NAME in one.page.inner_text(where), place


def test_a_trailer_put_away_from_the_list_keeps_its_open_stop_now_in_sight(one: Phone) -> None:
    one.page.evaluate(PLANTED, [NAMED, NAME, False])
    one.open("#/trailers")
    one.page.locator("li", has_text=NAME).locator(".sign.stop").wait_for()
    one.tap(NAME)
    one.page.locator(".carried.stop").wait_for()
    one.tap("Put away")
    dialog = one.page.locator("dialog", has_text="Stop now. Right wheel: Smoke at this wheel.")
    dialog.get_by_role("button", name="Put away").click()
    one.page.locator("summary", has_text="Put away: 1").click()
    one.page.locator("li", has_text=NAME).locator(".sign.stop").wait_for()
    one.tap(NAME)
    one.page.locator(".carried.stop").wait_for()
    one.open("#/")
    stands = one.page.locator(".due.stop")
    assert [NAME in text for text in stands.all_inner_texts()] == [True, True]
    assert "Smoke at this wheel" in stands.first.inner_text()


# ---- a clock that was set back -------------------------------------------------------------------

CLOCK_AT = """(ms) => { Date.now = () => ms; }"""
DAY = 86_400_000


def test_what_is_said_after_the_clock_was_set_back_counts_as_the_last_word(one: Phone) -> None:
    one.page.evaluate(PLANTED, [NAMED, NAME, False])
    now = one.page.evaluate("Date.now()")
    one.open("#/trailer/t5")
    one.page.reload()
    card = one.page.locator("section.carried.stop")
    card.wait_for()
    one.page.get_by_role("button", name="It was wrong").click()
    one.page.get_by_text("You said: It was wrong").wait_for()
    one.page.evaluate(CLOCK_AT, now - DAY)
    one.page.get_by_role("button", name="Take that back").click()
    one.page.get_by_text("You said: It was wrong").wait_for(state="detached")
    card.wait_for()
    one.tap("Rename")
    one.page.fill("#name", "Green tilt bed")
    one.tap("Go on")
    one.wait_for("document.querySelector('h1')?.textContent === 'Green tilt bed'")


# ---- a full disk ---------------------------------------------------------------------------------


def test_a_stop_now_that_the_disk_refused_stands_on_front_page_and_run_and_in_the_file(
    one: Phone,
) -> None:
    start_run(one)
    one.open("#/")
    one.begin("quick_stop")
    one.page.evaluate(FULL)
    one.tap("Smoke")
    one.page.locator(".stop-now h1").wait_for()
    assert not one.stored("drafts")
    one.open("#/")
    one.page.locator(".due.stop", has_text="Smoke at a wheel").wait_for()
    one.page.locator(".note", has_text="no room left").get_by_text("Settings and files").wait_for()
    one.open("#/run")
    one.page.locator(".carried.stop", has_text="Smoke at a wheel").wait_for()
    assert not one.by_name("Drive on").count()
    one.open("#/settings")
    with one.page.expect_download() as file:
        one.tap("Save everything to a file")
    drafts = json.loads(file.value.path().read_text("utf-8"))["drafts"]
    assert [[key for key in draft["facts"] if key.startswith("smoke@")] for draft in drafts] == [
        ["smoke@1L", "smoke@1R"]
    ]
    one.open("#/")
    one.tap_at(".due.stop")
    one.tap("Go on with the check")
    one.wait_for("location.hash.startsWith('#/stop/')")
    one.settle()
    one.tap("Later")
    one.page.locator(".pause .due.stop").wait_for()
    one.page.locator(".pause .note", has_text="no room left").wait_for()  # not that it is kept
    one.page.evaluate("makeRoom()")
    one.tap("Front page")
    one.tap_at(".due.stop")
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")


def sign_of_a_stop(one: Phone) -> str:
    one.begin("quick_stop")
    one.page.evaluate(FULL)
    return "Smoke"


def fault_on_the_walk(one: Phone) -> str:
    one.begin("walkaround")
    one.answer_until(lambda: one.where.endswith("wheel.1R"))
    one.page.locator(".zone-row", has_text="Nuts and hub").locator(".something").click()
    one.by_name("One or more loose").wait_for()
    one.page.evaluate(FULL)
    return "One or more loose"


def asked_of(one: Phone, check: str, step: str) -> None:
    one.begin(check)
    one.answer()
    (draft,) = one.stored("drafts")
    one.open(f"#/ask/{draft['id']}/{step}")
    one.page.evaluate(FULL)


def answer_to_a_question(one: Phone) -> str:
    asked_of(one, "walkaround", "nuts%401R")
    return "One or more loose"


def line_of_a_checklist(one: Phone) -> str:
    asked_of(one, "quick_stop", "hub_signs.1R")
    return "Smoke"


@pytest.mark.parametrize(
    "told", [sign_of_a_stop, fault_on_the_walk, answer_to_a_question, line_of_a_checklist]
)
def test_a_stop_now_that_the_disk_refuses_is_told_before_the_disk_is(
    one: Phone, told: Callable[[Phone], str]
) -> None:
    one.tap(told(one))
    one.page.locator(".stop-now h1").wait_for()
    one.page.locator(".stop-now [role=status]", has_text="no room left").wait_for()


def test_on_a_full_phone_the_wheel_of_a_stop_now_can_be_told(one: Phone) -> None:
    one.tap(sign_of_a_stop(one))
    one.page.locator(".stop-now h1").wait_for()
    one.tap("Left wheel")
    one.page.locator(".stop-now h1", has_text="Left wheel").wait_for()


# ---- another window ------------------------------------------------------------------------------


@pytest.mark.parametrize(("place", "card"), [("#/", ".due.stop"), ("#/run", ".carried.stop")])
def test_a_stop_now_found_in_another_window_stands_where_it_was_open(
    one: Phone, place: str, card: str
) -> None:
    start_run(one)
    other = one.context.new_page()
    other.goto(f"{one.address}/{place}")
    other.locator(".foot .big, .driven").first.wait_for()
    one.page.bring_to_front()
    one.open("#/")
    one.begin("quick_stop")
    one.tap("Smoke")
    one.page.locator(".stop-now h1").wait_for()
    other.locator(card, has_text="Smoke at a wheel").wait_for()
    other.close()


# ---- a run under a shop's link -------------------------------------------------------------------

LINKED = """async () => {
    const { openStore } = await import("/static/data/store.js");
    const { store } = await openStore(() => {});
    await store.commit([["links", { id: "l1", secret: "s", kind: "job", read: 1, due: [],
      replies: [], shop: { name: "Pell Street Garage" },
      trailer: { id: "t1", name: "Utility", facts: { axles: 1 } } }]]);
}"""


def test_what_is_found_on_a_links_run_by_a_check_of_no_trailer_is_of_the_run_and_its_shop(
    one: Phone,
) -> None:
    one.offline(True)
    one.page.evaluate(LINKED)
    one.page.reload()
    one.open("#/run/from/l1")
    one.page.locator(".driven").wait_for()
    one.open("#/")
    one.begin("quick_stop")
    one.tap("Smoke")
    one.page.locator(".stop-now .tell", has_text="Utility").wait_for()
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    (kept,) = [item for item in one.stored("records") if item["record"]["kind"] == "check"]  # type: ignore[index]
    assert (kept["link"], kept["record"]["body"]["trailer"]) == ("l1", "t1")  # type: ignore[index]
    one.open("#/")
    assert "Utility" in one.page.inner_text(".due.stop")
    one.open("#/run")
    one.page.locator(".carried.stop").wait_for()


@pytest.mark.parametrize("opened", [False, True], ids=["in a new window", "over the front page"])
def test_while_a_link_is_read_for_the_first_time_nothing_else_is_offered(
    chromium: Browser, desk: Desk, tmp_path: Path, opened: bool
) -> None:
    with phone(chromium, tmp_path / "customer", desk.address) as one:
        held: list[Route] = []
        one.page.route("**/api/links/read", lambda route: held.append(route))
        if opened:
            one.open()
        with one.page.expect_request("**/api/links/read"):
            one.page.goto(f"{desk.address}/#/from/{desk.job()}")
        one.page.get_by_role("heading", name="From the shop").wait_for()
        assert not one.page.get_by_text("Start a run").filter(visible=True).count()
        assert not one.page.locator("button.big, a.big").filter(visible=True).count()
        held[0].continue_()
        one.page.locator(".job button.big").wait_for()


# ---- a link that the server knows no more --------------------------------------------------------


def gone(desk: Desk, secret: str) -> None:
    """The link is cleared away at the shop."""
    with desk.app.extensions["store"].writing() as connection:
        connection.execute(update(records).values(link_id=None))
        connection.execute(delete(links).where(links.c.token_hash == digest(secret)))


@pytest.mark.long
def test_what_a_link_told_that_its_server_knows_no_more_is_answered_on_the_phone(
    chromium: Browser, desk: Desk, tmp_path: Path
) -> None:
    secret = desk.job(trailer_name="Dump trailer Hale")
    found = envelope(run_stop(smoke__1L="yes")) | {"link": secret}
    sent = desk.app.test_client().post("/api/records", json=found, headers=HEADERS)
    assert sent.status_code == 200, sent.text
    with phone(chromium, tmp_path / "customer", desk.address) as one:
        arrive(one, secret)
        card = one.page.locator(".carried.stop")
        card.wait_for()
        assert not one.by_name("It was wrong").count()  # the shop decides
        gone(desk, secret)
        one.page.reload()
        one.page.get_by_text("no such link").wait_for()
        one.by_name("It was wrong").wait_for()
        assert not card.get_by_text("before the shop has").count()
        one.open("#/")
        one.page.locator(".due.stop", has_text="Left wheel: Smoke at this wheel").click()
        one.wait_for("location.hash.startsWith('#/job/')")
        one.tap("It was wrong")
        one.page.get_by_text("You said: It was wrong").wait_for()
        assert not card.count()
        one.tap("Take that back")
        card.wait_for()
        one.tap("Towed away")
        one.page.get_by_text("You said: Towed away").wait_for()
        one.open("#/")
        one.page.get_by_text("You said: Towed away").wait_for()
        assert not one.page.locator(".due.stop").count()
        one.wait_stored("outbox", lambda items: not items)  # nothing that a shop would refuse


# ---- a hub too hot to touch, not settled yet ---------------------------------------------------

HOLD = "Do not drive on before"


def test_a_hub_too_hot_to_drive_on_is_told_wherever_its_check_is_put_down(one: Phone) -> None:
    one.open("#/")
    one.begin("quick_stop")
    one.feel("no_touch", "very_hot")
    one.wait_for("location.hash.endsWith('/run')")
    one.settle()
    one.tap("Later")
    one.page.locator(".pause .due.look", has_text=HOLD).wait_for()
    one.tap("Front page")
    one.page.locator(".front .due.look", has_text=HOLD).wait_for()
    one.tap("Throw away")
    one.page.locator("dialog", has_text=HOLD).get_by_role("button", name="No, go back").click()
    one.tap_at(".front .due.look")
    one.wait_for("location.hash.startsWith('#/stop/')")
    (draft,) = one.stored("drafts")
    one.open(f"#/sofar/{draft['id']}")
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    one.open("#/")
    one.page.locator(".front .due.look", has_text=HOLD).wait_for()
    one.tap_at(".front .due.look")
    one.wait_for("location.hash.startsWith('#/check/')")
    one.tap("It was wrong")
    one.page.get_by_text("You said: It was wrong").wait_for()
    one.open("#/")
    one.page.locator("button.big").first.wait_for()
    assert not one.page.locator(".front .due.look", has_text=HOLD).count()


@pytest.mark.parametrize("kept", [False, True], ids=["begun", "kept"])
def test_a_hub_too_hot_to_drive_on_stands_before_a_trip_and_a_run(one: Phone, kept: bool) -> None:
    one.open("#/")
    one.begin("quick_stop")
    one.feel("no_touch", "very_hot")
    one.wait_for("location.hash.endsWith('/run')")
    (draft,) = one.wait_stored("drafts", lambda drafts: "hub_feel@1R" in drafts[0]["facts"])
    if kept:
        one.open(f"#/sofar/{draft['id']}")
        one.tap("Keep and send")
        one.page.wait_for_selector(".kept")
    one.open("#/trip")
    one.page.locator(".road .due.look, .road .carried.look", has_text="Very hot").wait_for()
    one.tap_at("a.answer.quietly[href='#/run/start']")
    one.wait_for("location.hash.startsWith('#/run')")
    one.settle()
    one.page.locator(".road .due.look, .road .carried.look", has_text="Very hot").wait_for()
    one.tap("Start the run")
    one.page.get_by_role("dialog").get_by_text("Drive on all the same?").wait_for()


def test_a_hub_too_hot_to_touch_keeps_hands_off_it_where_it_was_felt_and_at_its_jack(
    one: Phone,
) -> None:
    one.open("#/")
    one.begin("quick_stop")
    one.answer_until(lambda: one.page.locator(".ladder .rung").count() > 0)
    one.tap_at(".ladder:last-child .very_hot")
    act = one.page.locator(".asking p.act")
    act.get_by_text("Keep your hands off.").wait_for()
    (draft,) = one.wait_stored("drafts", lambda drafts: "hub_feel@1R" in drafts[0]["facts"])
    one.tap_at(".ladder:first-child .very_hot")
    one.wait_stored("drafts", lambda drafts: "hub_feel@1L" in drafts[0]["facts"])
    one.open(f"#/ask/{draft['id']}/turns%401R/answers")
    act.get_by_text("Keep your hands off.").wait_for()
    one.open(f"#/ask/{draft['id']}/hub_size/answers")
    one.settle()
    assert not act.count()


def test_what_a_stop_now_forbids_is_never_struck_out_and_the_place_told_outlives_its_page(
    one: Phone,
) -> None:
    one.open("#/")
    one.begin("quick_stop")
    one.tap("Smoke")
    road = one.page.locator(".stop-now .roadside")
    road.get_by_text("Do not drive on with a hub").wait_for()
    for step in range(1, 7):
        one.page.get_by_role("button", name=f"({step} of 6)").click()
        road.locator("li.done").nth(step - 1).wait_for()
    struck = "all => all.map((one) => getComputedStyle(one).textDecorationLine)"
    assert road.locator("li").evaluate_all(struck) == ["none"] * 6
    road.get_by_text("Do not drive on with a hub").wait_for()
    assert "Call for a lift" in road.locator("li").nth(3).inner_text()
    place = one.page.get_by_label("Road, direction, mile marker")
    place.fill("I-80 west, mile 41")
    place.press("Tab")
    one.wait_stored("drafts", lambda drafts: "stoppedAtPlace" in drafts[0])
    one.tap("Go on with the check")
    one.wait_for("location.hash.startsWith('#/stop/')")
    one.settle()
    one.tap_at(".bar .now")
    one.page.locator(".tell", has_text="At: I-80 west, mile 41").wait_for()
    assert one.page.locator(".roadside li.done").count() == 6


@pytest.mark.long
def test_what_became_of_a_stop_now_is_told_by_the_other_window_too(one: Phone) -> None:
    one.open("#/")
    one.begin("quick_stop")
    one.tap("Smoke")
    one.page.wait_for_selector(".stop-now h1")
    one.tap("Right wheel")
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    other = one.context.new_page()
    other.goto(f"{one.address}/#/")
    other.locator(".due.stop").wait_for()
    one.open("#/")
    one.tap_at(".due.stop")
    one.tap("Towed away")
    other.locator(".due.stop").wait_for(state="detached")
    other.get_by_text("Right wheel: Smoke at this wheel. You said: Towed away").wait_for()
    one.tap("Take that back")
    other.locator(".due.stop").wait_for()
    other.close()


def test_steps_done_and_the_place_told_stay_with_a_stop_now_that_is_kept(one: Phone) -> None:
    one.open("#/")
    one.begin("quick_stop")
    one.tap("Smoke")
    ticked = one.page.locator(".roadside li.done")
    for step in (1, 2):
        one.page.get_by_role("button", name=f"({step} of 6)").click()
        ticked.nth(step - 1).wait_for()
    one.page.get_by_label("Road, direction, mile marker").fill("I-80 west, mile 41")
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    one.open("#/")
    one.tap_at(".due.stop")
    one.page.locator(".tell", has_text="At: I-80 west, mile 41").wait_for()
    assert ticked.count() == 2
    one.page.get_by_role("button", name="(3 of 6)").click()
    one.wait_stored("records", lambda items: len(items[-1].get("stepsDone", [])) == 3)
    one.page.reload()
    ticked.nth(2).wait_for()


# What is said first, what to do by the roadside, and what must not be said there.
ROADSIDES = {
    "fire": (
        {"Tire flat, or coming apart": "Right wheel", "Fire": "Left wheel"},
        "Left wheel: Fire at this wheel.",
        [
            "Everybody away",
            "Call the fire service",
            "Warn traffic from a distance",
            "Nobody goes back",
        ],
        [
            *("Get the trailer off the road", "Get well off the road", "Stop well off the road"),
            *("Chock", "mechanic", "spare"),
        ],
    ),
    "smoke": (
        {"Grinding or rumbling on the way": "Right wheel", "Smoke": "Left wheel"},
        "Left wheel: Smoke at this wheel.",
        [
            "Everybody away",
            "Watch it",
            "Let hot metal cool",
            "Call for a lift",
            "Chock",
            "Then look",
        ],
        ["Get the trailer off the road", "Stop well off the road", "Someone able"],
    ),
    "neither": (
        {"Tire flat, or coming apart": "Right wheel"},
        "Right wheel: Tire flat or coming apart.",
        [
            "Get the trailer off the road",
            "Chock",
            "Let hot",
            "Call for a lift",
            "Then look",
            "Someone",
        ],
        ["fire service"],
    ),
}


@pytest.mark.parametrize("found", ROADSIDES)
def test_nobody_is_sent_to_what_burns_or_smokes(one: Phone, found: str) -> None:
    """Common practice, no source: away from it, and nobody back before it is out."""
    signs, headline, steps, never = ROADSIDES[found]
    one.open("#/")
    one.begin("quick_stop")
    for n, (sign, wheel) in enumerate(signs.items()):
        if n:
            one.tap("Go on with the check")
        one.tap(sign)
        one.tap(wheel)
    one.page.get_by_role("heading", level=1, name=headline).wait_for()
    road = one.page.locator(".stop-now .roadside")
    for n in range(1, len(steps) + 1):
        one.page.get_by_role("button", name=f"({n} of {len(steps)})").click()
        road.locator("li.done").nth(n - 1).wait_for()
    said = road.locator("li").all_inner_texts()
    assert [text.startswith(step) for text, step in zip(said, steps, strict=True)] == [True] * len(
        steps
    )
    page = one.page.locator(".stop-now").inner_text()
    assert [sentence for sentence in never if sentence in page] == []
    first = one.page.locator(".cautions li").first.inner_text()
    assert first.startswith("Keep clear and watch for fire") == (found != "neither")


def test_once_it_burns_a_stop_asks_nothing_more_than_what_eyes_see(one: Phone) -> None:
    one.open("#/")
    one.begin("run_stop")
    one.tap("Fire")
    one.tap("Left wheel")
    one.tap("Go on with the check")
    one.tap_at(".foot .main")  # nothing else seen
    one.wait_for("location.hash.startsWith('#/sofar/')")
    one.page.get_by_role("heading", level=1, name="Left wheel: Fire at this wheel.").wait_for()
    assert one.page.locator(".nextask").count() == 0
    assert one.page.locator(".foot button, .foot a").all_inner_texts() == ["Keep and send"]
    assert "Stop well off the road" not in one.page.locator("main").inner_text()


SMOKES = [("has_smoke", "1R")]
CARD = {"axles": 1, "brakes": "electric", "hub_size": "bore_25", "tire_size": "ST205/75R15"}
TELLS = {
    "en-US": [
        "Axles: 1",
        "Brakes: Electric",
        "Tire size: ST205/75R15",
        "Bore of the inner bearing: 1 in straight",
    ],
    "es-US": [
        "Ejes: 1",
        "llantas: ST205/75R15",
        "Frenos: Eléctricos",
        "balero interior: 1 pulg. recto",
    ],
}


@pytest.mark.english  # both languages by their own words
@pytest.mark.parametrize("locale", TELLS)
def test_what_is_read_to_who_comes_to_help_is_facts_and_no_questions(
    chromium: Browser, server: str, locale: str
) -> None:
    with installed(chromium, server, locale) as one:
        check_id = plant(one.page, CARD | {"smoke@1R": "yes"}, SMOKES, kept=True)
        one.open(f"#/now/{check_id}")
        told = one.page.inner_text(".tell")
        assert [line for line in TELLS[locale] if line not in told] == []
        assert "?" not in told


# ---- an answer that takes a *Stop now* back ----------------------------------------------------

CALLED = "That is Stop now. Take it back only if the tap was wrong"


def smoke_on_axle_two(one: Phone) -> None:
    one.tap("It has one more axle")
    smoke_behind(one)
    one.past_stop_now()


def smoke_behind(one: Phone) -> None:
    one.tap_at("button.tire[aria-label='Right wheel, axle 2']")
    one.tap("Smoke")


def too_hot_by_hand(one: Phone) -> None:
    one.feel("no_touch", "slight")
    one.past_stop_now()


def reopened(one: Phone, kind: str, step: str) -> None:
    (draft,) = one.stored("drafts")
    one.open(f"#/{kind}/{draft['id']}/{step}")


def fewer_axles(one: Phone) -> None:
    reopened(one, "ask", "axles/answers")
    one.tap_at("button[value='1']")


def another_word(one: Phone) -> None:
    reopened(one, "stop", "hubs.1")
    one.tap_at(".ladder .rung.cold >> nth=0")


def thermometer(one: Phone) -> None:
    reopened(one, "stop", "hubs.1")
    one.tap("I have a thermometer")


def sign_again(one: Phone) -> None:
    reopened(one, "stop", "signs")
    smoke_behind(one)


@pytest.mark.parametrize(
    ("found", "taken"),
    [
        (smoke_on_axle_two, fewer_axles),
        (smoke_on_axle_two, sign_again),
        (too_hot_by_hand, another_word),
        (too_hot_by_hand, thermometer),
    ],
    ids=["fewer axles", "the sign once more", "another word for a hub", "a thermometer instead"],
)
def test_an_answer_that_takes_a_stop_now_back_is_asked_about(
    one: Phone, found: Callable[[Phone], None], taken: Callable[[Phone], None]
) -> None:
    one.open("#/")
    one.begin("quick_stop")
    found(one)
    before = one.wait_stored("drafts", lambda drafts: len(drafts) == 1)[0]["facts"]
    taken(one)
    dialog = one.page.get_by_role("dialog")
    dialog.get_by_text(CALLED).wait_for()
    dialog.get_by_role("button", name="No, go back").click()
    one.settle()
    assert one.stored("drafts")[0]["facts"] == before
    taken(one)
    dialog.get_by_role("button", name="Take that back").click()
    one.wait_stored("drafts", lambda drafts: drafts[0]["facts"] != before)
    one.open("#/")
    one.page.locator("button.big").first.wait_for()
    assert not one.page.locator(".front .due.stop").count()


@pytest.mark.parametrize("taken", ["Smoke", "Grinding or rumbling on the way"])
def test_a_stop_now_that_stays_at_a_wheel_hides_none_that_goes(one: Phone, taken: str) -> None:
    one.open("#/")
    one.begin("quick_stop")
    for sign in ("Smoke", "Grinding or rumbling on the way"):
        one.tap_at("button.tire[aria-label='Left wheel']")
        one.tap(sign)
        one.tap("Go on with the check")
    one.tap_at("button.tire[aria-label='Left wheel']")
    one.tap(taken)
    dialog = one.page.get_by_role("dialog")
    dialog.get_by_text(CALLED).wait_for()
    dialog.get_by_role("button", name="No, go back").click()
    one.settle()
    (draft,) = one.stored("drafts")
    assert {name: draft["facts"][f"{name}@1L"] for name in ("smoke", "grinding")} == {
        "smoke": "yes",
        "grinding": "yes",
    }


def test_a_wheel_that_is_chosen_shows_its_own_signs_alone(one: Phone) -> None:
    """Filled because of the other wheel, one was tapped to be taken back, and was added here."""
    one.open("#/")
    one.begin("quick_stop")
    one.tap_at("button.tire[aria-label='Left wheel']")
    one.tap("Smoke")
    one.tap("Go on with the check")
    filled = one.page.locator(".sign-rows [aria-pressed=true]")
    for wheel, count in (("Right wheel", 0), ("Left wheel", 1), ("Left wheel", 1)):
        one.page.locator(".sign-rows").wait_for()
        one.tap_at(f"button.tire[aria-label='{wheel}']")
        assert (wheel, filled.count()) == (wheel, count)


def test_who_goes_back_from_the_question_has_taken_nothing_back(one: Phone) -> None:
    one.open("#/")
    one.begin("quick_stop")
    too_hot_by_hand(one)
    before = one.wait_stored("drafts", lambda drafts: len(drafts) == 1)[0]["facts"]
    another_word(one)
    dialog = one.page.get_by_role("dialog")
    dialog.get_by_role("button", name="No, go back").and_(one.page.locator(".main")).wait_for()
    one.page.evaluate("history.back()")
    dialog.wait_for(state="detached")
    one.settle()
    assert one.stored("drafts")[0]["facts"] == before


COUNTED = """async (id) => {
    const { openStore } = await import("/static/data/store.js");
    const { store } = await openStore(() => {});
    await store.change("drafts", id, (now) => ({ ...now, stepsDone: 2 }));
}"""


def test_a_stop_now_begun_under_a_release_that_counted_its_steps_has_its_page(one: Phone) -> None:
    begun = plant(one.page, {"axles": 1, "smoke@1R": "yes"}, [], check="quick_stop")
    one.page.evaluate(COUNTED, begun)
    one.open(f"#/now/{begun}")
    one.page.locator(".stop-now .roadside li").first.wait_for()
    one.page.get_by_role("button", name="(1 of").wait_for()
