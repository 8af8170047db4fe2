"""A verdict page says the worst first and no more than it knows; what follows from one."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from checks.rulebook import load
from tests.support.phone import OPEN_LADDER, Phone
from tests.support.waiting import until

LEFT_HOT = ".ladder:nth-child(1) .no_touch"


def kept(one: Phone, hot: bool = False) -> None:
    """A stop of the phone's trailer from the front page, kept; ``hot`` says of the left hub."""
    one.open()
    one.begin("quick_stop")
    one.answer_until(lambda: one.page.locator(OPEN_LADDER).count() > 0)
    if hot:
        one.tap_at(LEFT_HOT)
        one.page.wait_for_selector(f"{LEFT_HOT}[aria-pressed=true]")
    one.finish()


def save_trailer(one: Phone) -> None:
    """From a kept check to the page of its trailer."""
    one.tap("Save this trailer")
    one.page.fill("#name", "Alder Fork 3")
    one.tap("Go on")
    one.wait_for("location.hash.startsWith('#/trailer/')")
    one.wait_for("document.querySelector('h1')?.textContent === 'Alder Fork 3'")
    one.settle()


@pytest.mark.long
def test_readiness_stands_below_the_counts_beside_earlier_checks_and_never_beside_mend(
    one: Phone,
) -> None:
    kept(one)
    assert not one.page.locator(".gauge").count()  # nothing to compare it with
    save_trailer(one)
    kept(one)
    order = "all => all.map((at) => at.className)"
    assert one.page.locator(".summary, .gauge").evaluate_all(order) == ["summary", "gauge"]
    assert one.page.locator(".gauge svg rect").count() == 2
    kept(one, hot=True)
    assert one.page.locator(".head .sign").get_attribute("class") in ("sign stop", "sign mend")
    assert not one.page.locator(".gauge").count()
    one.page.get_by_text("No readiness number beside").wait_for()


TOO_HOT_TO_TOUCH = {
    "axles": 1,
    "brakes": "none",
    "hub_method": "hand",
    "hub_feel@1L": "no_touch",
    "again_feel@1L": "no_touch",
}


@pytest.mark.long
def test_no_readiness_stands_beside_what_nobody_is_to_drive_on_with_nor_that_of_one_such(
    one: Phone,
) -> None:
    kept(one)
    save_trailer(one)
    trailer = one.page.evaluate("location.hash.split('/')[2]")
    one.page.evaluate(STOPPED, TOO_HOT_TO_TOUCH | {"trailer": trailer})
    one.open("#/sofar/felt")
    one.page.get_by_text("No readiness number beside").wait_for()
    assert one.page.locator(".head .sign").get_attribute("class") == "sign look"
    assert not one.page.locator(".gauge").count()
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    kept(one)
    one.page.locator(".gauge").wait_for()
    assert one.page.locator(".gauge svg rect").count() == 2


@pytest.mark.long
def test_no_sign_bears_a_number(one: Phone) -> None:
    kept(one)
    assert not re.search(r"\d", "".join(one.page.locator(".sign svg").all_text_contents()))
    assert not re.search(r"\d", "".join(one.page.locator(".plan svg").all_text_contents()))


@pytest.mark.long
def test_ids_and_hashes_are_folded_away(one: Phone) -> None:
    kept(one)
    codes = one.page.locator("main code")
    assert codes.count() == 2
    assert not codes.first.is_visible()
    one.page.locator("details:has(code) summary").click()
    codes.first.wait_for()


@pytest.mark.long
def test_a_check_made_again_takes_what_the_trailer_is_and_nothing_that_was_seen(one: Phone) -> None:
    kept(one)
    save_trailer(one)
    kept(one)
    one.tap("Check this trailer again")
    one.page.wait_for_selector(".asking")
    one.settle()
    assert one.stored("drafts") == []  # begun with its first answer
    one.answer()
    (draft,) = one.wait_stored("drafts", lambda drafts: len(drafts) == 1)
    asked = {key.split("@")[0] for key in draft["facts"]}  # type: ignore[attr-defined]
    assert {"axles", "brakes"} <= asked
    assert not asked & {"hub_feel", "pair_feel", "hub_reading", "air", "run_distance", "parked"}


def test_a_wheel_that_smokes_is_not_to_be_touched_afterwards(one: Phone) -> None:
    one.begin("quick_stop")
    one.tap("Right wheel")
    one.tap("Smoke")
    one.wait_for("location.hash.startsWith('#/now/')")
    one.settle()
    one.tap("Go on with the check")
    one.wait_for("location.hash.startsWith('#/stop/')")
    one.settle()
    one.answer_until(lambda: one.page.locator(".ladders").count() > 0)
    left, right = one.page.locator(".ladder").all()
    assert left.locator(".rung").count() > 7
    assert right.locator("button").count() == 0
    assert "Do not touch it" in right.inner_text()
    one.answer_until(lambda: not one.asking)
    (draft,) = one.stored("drafts")
    assert "hub_feel@1L" in draft["facts"]  # type: ignore[operator]
    assert "hub_feel@1R" not in draft["facts"]  # type: ignore[operator]


def test_mates_stand_left_and_right_each_a_ladder_with_the_hottest_at_the_top(one: Phone) -> None:
    one.begin("quick_stop")
    one.answer_until(lambda: one.page.locator(OPEN_LADDER).count() > 0)
    boxes = "all => all.map((at) => at.getBoundingClientRect().toJSON())"
    left, right = one.page.locator(".ladder").evaluate_all(boxes)
    assert left["right"] <= right["left"]
    rungs = one.page.locator(".ladder:first-child .rung:not(.unsure)")
    tops = [box["top"] for box in rungs.evaluate_all(boxes)]
    assert tops == sorted(set(tops))
    assert "no_touch" in str(rungs.first.get_attribute("class"))
    assert "cold" in str(rungs.last.get_attribute("class"))


@pytest.mark.long
def test_a_stop_soon_after_the_last_one_knows_the_air_and_asks_the_rest(one: Phone) -> None:
    kept(one)
    save_trailer(one)
    (record, *_) = one.stored("records")
    one.open()
    one.begin("quick_stop")
    one.answer()
    (draft,) = one.wait_stored("drafts", lambda drafts: len(drafts) == 1)
    assert draft["facts"]["air"] == record["record"]["body"]["facts"]["air"]  # type: ignore[index]
    assert not {"run_distance", "run_speed"} & set(draft["facts"])  # type: ignore[call-overload]


@pytest.mark.long
def test_a_stop_that_is_full_from_its_begin_is_hands_first_too(one: Phone) -> None:
    one.begin("run_stop")
    one.finish()
    one.tap("Check this trailer again")
    one.page.wait_for_selector(".asking")
    one.settle()
    assert one.page.locator(".sign-rows button").count() == 9
    one.answer()
    one.page.wait_for_selector(".ladders")
    assert one.page.locator(OPEN_LADDER).count() == 2
    one.answer_until(lambda: one.page.locator(".ticks").count() > 0)  # question by question
    assert "on_the_way" in one.where
    one.finish()
    (*_, last) = one.stored("records")
    assert "nuts@1R" in last["record"]["body"]["facts"]  # type: ignore[index]


def test_who_may_know_where_this_is_puts_it_on_the_card_to_read_out(one: Phone) -> None:
    one.context.grant_permissions(["geolocation"])
    one.context.set_geolocation({"latitude": 39.7392, "longitude": -104.9903})
    try:
        one.begin("quick_stop")
        one.tap("Right wheel")
        one.tap("Smoke")
        one.page.wait_for_selector(".tell-them")
        one.page.locator(".tell-them .row button").first.click()
        card = one.page.locator(".tell")
        until(lambda: "39.73920, -104.99030" in card.inner_text(), "the place on the card")
        assert "Right wheel: Smoke" in card.inner_text()
    finally:
        one.context.clear_permissions()


def test_none_of_these_waits_until_each_line_was_on_the_screen(one: Phone) -> None:
    one.page.set_viewport_size({"width": 360, "height": 360})
    one.begin("tires")
    one.answer_until(lambda: one.page.locator(".ticks").count() > 0)
    more, none = (
        one.page.locator(f".foot .main{what}:visible")
        for what in (".more-below", ":not(.more-below)")
    )
    more.wait_for()
    assert not none.count()
    one.page.locator(".ticks li").last.scroll_into_view_if_needed()
    one.see_all()
    none.wait_for()
    assert not more.count()


STOPPED = """async ({ trailer = null, ...facts }) => {
    const { openStore } = await import("/static/data/store.js");
    const { store } = await openStore(() => {});
    await store.commit([["drafts", { id: "felt", check: "quick_stop", date: "2026-07-14",
        trailer, known: [], skipped: [], typed: {}, facts }]]);
}"""
FELT = {"axles": 1, "brakes": "none", "hub_method": "hand", "hub_feel@1L": "hot"}


def test_what_the_hand_could_not_touch_is_not_lost_when_a_thermometer_says_nothing(
    one: Phone,
) -> None:
    """Told by hand, then *I have a thermometer* and both readings *not sure*."""
    one.open()
    one.begin("quick_stop")
    one.answer_until(lambda: one.page.locator(OPEN_LADDER).count() > 0)
    one.tap_at(LEFT_HOT)
    one.page.wait_for_selector(f"{LEFT_HOT}[aria-pressed=true]")
    # what its advice names is in sight, on a small screen too
    one.page.set_viewport_size({"width": 360, "height": 640})
    expect(one.by_name("I have a thermometer")).to_be_in_viewport()
    one.tap("I have a thermometer")
    one.page.locator(OPEN_LADDER).first.wait_for(state="detached")
    one.settle()
    assert not one.page.locator(".count").count()  # by axle its numbers ran backwards
    one.finish()  # every number is *not sure*
    assert one.page.locator(".head .sign").get_attribute("class") == "sign look"
    one.page.get_by_text("Keep your hands off.").first.wait_for()


USUAL = "Nothing beyond the usual seen, not settled:"


@pytest.mark.parametrize("word", ["slight", "hot"])
def test_a_doubt_about_what_is_usual_is_told_without_a_level(one: Phone, word: str) -> None:
    """Both hubs as warm as sound ones may be, or warmer: at *Look again* a doubt is a warning."""
    known = {"air": 21, "run_distance": 32, "run_speed": 89, "parked": 3, "pair_feel@1": "alike"}
    known |= {"hub_spot": "barrel", "hub_feel@1L": word, "hub_feel@1R": word}
    signs = ("smoke", "leaning", "grinding", "hot_smell", "thrown_grease")
    seen = {f"{sign}@1{side}": "no" for sign in signs for side in "LR"}
    one.open()
    one.page.evaluate(STOPPED, FELT | known | seen)
    one.open("#/sofar/felt")
    doubt = one.page.locator(".maybe", has_text="Could be much too warm")
    doubt.wait_for(state="attached")
    loud = word == "hot"
    assert doubt.locator("svg").count() == loud
    assert doubt.locator("strong").count() == loud
    told = one.page.get_by_text(USUAL)
    assert told.count() == (not loud)
    assert one.page.locator(".nextask").count() >= 1
    assert bool(one.page.locator(".nextask .could").count()) == loud


# What was felt right, what the comparison says, and how the milder card then begins.
MILDER = {
    "at Mend": (
        "cool",
        "left_clearly",
        "One side is clearly",
        "Once the worse is put right: Check",
    ),
    "at Mend, the other way round": ("cool", "right_clearly", "Hands and comparison", "Feel both"),
    "beside a hub too hot to drive on": (
        "no_touch",
        "alike",
        "A squeak",
        "Once the worse is put right: Listen",
    ),
    "alone": ("hot", "left_clearly", "One side is clearly warmer", "Check play"),
    "alone, the other way round": ("warm", "right_clearly", "Hands and comparison", "Feel both"),
}


@pytest.mark.parametrize("title", MILDER)
def test_a_milder_card_sends_nobody_on_beside_what_keeps_the_trailer(
    one: Phone, title: str
) -> None:
    right, pair, name, begins = MILDER[title]
    squeaks = {"squeak@1L": "yes", "hub_feel@1L": "very_hot"} if right == "no_touch" else {}
    one.page.evaluate(STOPPED, FELT | squeaks | {"hub_feel@1R": right, "pair_feel@1": pair})
    one.open("#/sofar/felt")
    card = one.page.locator(".card.look", has_text=name)
    card.wait_for()
    assert card.locator(".do").inner_text().startswith(begins)
    assert bool(one.page.locator(".card.mend").count()) == title.startswith("at Mend")


ADVISED = """async (level) => {
    const { toDo } = await import("/static/parts/findings.js");
    const data = await (await fetch("/rulebook.json")).json();
    const book = { data, words: { say: (id) => id } };
    return Object.keys(data.findings).filter((finding) => data.findings[finding].level === "look")
        .map((finding) => [finding, toDo(book, { finding, level: "look" },
            { level: level === "held" ? "look" : level,
                findings: [{ finding: level === "held" ? "too_hot" : "" }] })]);
}"""


@pytest.mark.parametrize("level", ["stop", "mend", "held", "look"])
def test_of_all_milder_cards_those_that_send_on_wait_for_the_worse(one: Phone, level: str) -> None:
    rules = load().findings
    told = one.page.evaluate(ADVISED, level)
    assert len(told) > 50
    for finding, advice in told:
        waits = level != "look" and rules[finding].sends_on
        before = "Once the worse is put right: " if waits else ""
        assert advice == f"{before}finding-{finding}.do"


def test_a_pair_apart_on_a_tandem_says_to_feel_the_other_hubs_before_going_on(
    one: Phone,
) -> None:
    tandem = {
        "axles": 2,
        "brakes": "electric",
        "braking": "normal",
        "air": 20,
        "hub_spot": "barrel",
    }
    felt = {"hub_feel@1L": "warm", "hub_feel@1R": "cold"}
    one.page.evaluate(STOPPED, FELT | tandem | felt)
    one.open("#/sofar/felt")
    card = one.page.locator(".card.look", has_text="Warmer than its mate, and")
    card.get_by_text("feel or read every other hub").wait_for()
    assert card.locator(".place").first.inner_text() == "Left wheel, axle 1"
    assert card.locator(".maybe").count()  # what is open, and what would settle it
