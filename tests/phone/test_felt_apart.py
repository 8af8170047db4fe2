"""A stop taken up again compares no hub with one that was felt long before."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.support.effort import few
from tests.support.phone import OPEN_LADDER, Phone, installed

BEGUN = """async ({ minutes, ...draft }) => {
    const at = (ago) => Date.now() - ago * 60000;
    const when = (facts, ago) => ({ seenAt: at(ago[""] ?? ago), feltAt: Object.fromEntries(
        Object.keys(facts).filter((key) => /hub_(feel|reading)@|pair_/.test(key))
        .map((key) => [key, at(ago[key] ?? ago)])) });
    const { openStore } = await import("/static/data/store.js");
    const { store } = await openStore(() => {});
    await store.commit([["drafts", { id: "left", check: "quick_stop", date: "2026-07-14",
        started: "2026-07-14T14:00:00+00:00", known: [], skipped: [], typed: {},
        ...when(draft.facts, minutes), ...draft }]]);
}"""
NOTHING = {
    f"{sign}@1{side}": "no"
    for sign in (
        *("flames", "smoke", "hot_smell", "leaning", "grinding", "tire_flat"),
        *("thrown_grease", "cap_wet", "squeak"),
    )
    for side in "LR"
}
RUN = {"air": 21, "run_distance": 32, "run_speed": 89, "parked": [0, 3], "braking": "hardly"}
HAND = NOTHING | {"axles": 1, "brakes": "none", "hub_method": "hand", "hub_spot": "barrel"}
READ = HAND | {"hub_method": "thermometer"}
BOTH = {"hub_feel@1L": "cool", "hub_feel@1R": "cool"}
# Eight minutes go by.
LATER_ON = "() => { const { now } = Date; Date.now = () => now() + 8 * 60000; }"
ASKED = "Its hubs have cooled or warmed since."
# What was told, how many minutes ago, and whether that is asked about when it is taken up again.
TAKEN_UP = {
    "one hub felt a day ago": (HAND | {"hub_feel@1L": "cool"}, 24 * 60, True),
    "one hub felt just over a while ago": (HAND | {"hub_feel@1L": "cool"}, 16, True),
    "one hub read": (READ | {"hub_reading@1L": 40}, 20, True),
    "both felt and not compared": (HAND | BOTH, 20, True),
    "felt by hand and then a thermometer came": (READ | {"hub_feel@1L": "no_touch"}, 20, True),
    "the first of two long ago": (
        HAND | BOTH | {"axles": 2},
        {"": 18, "hub_feel@1L": 17, "hub_feel@1R": 5},
        True,
    ),
    "no hub felt, signs told before a drive": (HAND | RUN, 10 * 60, True),
    "no hub felt, signs told just now": (HAND | RUN, 10, False),
    "one hub felt lately": (HAND | {"hub_feel@1L": "cool"}, 10, False),
    "all felt and compared": (HAND | BOTH | {"pair_feel@1": "alike"}, 20, False),
}


def put_aside(
    one: Phone, facts: dict[str, Any], minutes: int | dict[str, int], **draft: Any
) -> None:
    one.page.evaluate(BEGUN, {"facts": facts, "minutes": minutes, **draft})
    one.open("#/")
    one.page.reload()
    one.settle()


def go_on(one: Phone) -> None:
    one.tap("Go on: Run stop")
    one.page.wait_for_selector(".asking")
    one.settle()


@pytest.mark.parametrize("case", few(TAKEN_UP, 2))
def test_hubs_felt_long_ago_are_asked_about_where_others_are_left(one: Phone, case: str) -> None:
    facts, minutes, asked = TAKEN_UP[case]
    put_aside(one, facts, minutes)
    one.tap("Go on: Run stop")
    one.page.wait_for_selector(".page:not(.front)")
    one.settle()
    assert (ASKED in one.question) is asked


def test_a_stop_is_begun_anew_but_for_what_was_found(one: Phone) -> None:
    put_aside(one, HAND | RUN | {"hub_feel@1L": "cool", "hot_smell@1R": "yes"}, 24 * 60)
    go_on(one)
    one.tap("Begin this stop anew")
    one.page.wait_for_selector(".sign-rows")
    one.settle()
    (draft,) = one.stored("drafts")
    assert draft["facts"] == {"axles": 1, "brakes": "none", "hot_smell@1R": "yes"}
    assert draft["date"] != "2026-07-14"


def test_a_hub_of_another_axle_that_is_not_old_stays_where_the_rest_is_begun_anew(
    one: Phone,
) -> None:
    """So do signs and miles of the stop; the minutes parked are those of the hub that comes."""
    fresh = {"hub_feel@2L": "cool", "hub_feel@2R": "warm"}
    old = {"hub_feel@1L": "cool", "parked": [0, 2]}
    seen = {key.replace("@1", "@2"): raw for key, raw in NOTHING.items()}
    facts = HAND | seen | {"axles": 2, "air": 21} | old | fresh
    put_aside(one, facts, {"": 18, "hub_feel@1L": 17, "hub_feel@2L": 4, "hub_feel@2R": 3})
    go_on(one)
    one.tap("Begin this stop anew")
    one.page.locator(OPEN_LADDER).first.wait_for()
    (draft,) = one.stored("drafts")
    assert draft["facts"] == {key: raw for key, raw in facts.items() if key not in old}
    one.settle()
    assert one.where == "#/stop/left/hubs.1"


# Where a hub that was told long ago is told anew, with its mate told long ago too.
ANEW = {
    "by hand": (HAND | BOTH | {"pair_feel@1": "alike"}, "#/stop/left/hubs.1"),
    "by thermometer": (
        READ | {"hub_reading@1L": 40, "hub_reading@1R": 41},
        "#/ask/left/hub_reading%401L/answers",
    ),
}


@pytest.mark.parametrize("case", few(ANEW, 1))
def test_a_hub_felt_anew_is_not_compared_with_its_mate_felt_long_before(
    one: Phone, case: str
) -> None:
    facts, where = ANEW[case]
    put_aside(one, facts, 20)
    one.open(where)
    one.page.get_by_text(ASKED).wait_for()
    assert one.stored("drafts")[0]["facts"] == facts


def test_three_axles_are_felt_while_the_first_is_not_old(one: Phone) -> None:
    """The first hub dates them all, also while the stop is under way."""
    one.begin("quick_stop")
    one.tap("It has one more axle")
    one.page.locator(".sign-rows").wait_for()
    one.settle()
    for at in ("hubs.1", "hubs.2"):
        one.answer_until(lambda at=at: one.where.endswith(at))  # type: ignore[misc]
        if at == "hubs.1":
            one.tap_at(f"{OPEN_LADDER} .cool")
            one.wait_stored("drafts", lambda all: "hub_feel@1L" in str(all))
        one.page.evaluate(LATER_ON)
    one.tap_at(f"{OPEN_LADDER} .cool")
    one.page.get_by_text(ASKED).wait_for()
    assert "hub_feel@2L" not in str(one.stored("drafts"))


def test_no_stop_now_is_begun_anew_without_a_word(one: Phone) -> None:
    """A grinding stays by itself; one for what a thermometer read is taken back only if meant."""
    found = {"hub_reading@1L": 190, "grinding@1R": "yes"}
    put_aside(one, READ | RUN | {"axles": 2} | found, 20)
    one.open("#/stop/left")
    one.tap("Begin this stop anew")
    dialog = one.page.get_by_role("dialog")
    dialog.get_by_text("Hub").first.wait_for()
    dialog.get_by_role("button", name="No").click()
    (draft,) = one.stored("drafts")
    assert draft["facts"]["hub_reading@1L"] == 190  # type: ignore[index]


def test_no_mend_is_begun_anew_without_a_word(one: Phone) -> None:
    """Its advice stands on the screen; a sign that is to be mended stays by itself."""
    facts = HAND | {"hub_feel@1L": "hot", "hub_feel@1R": "cool", "thrown_grease@1R": "yes"}
    put_aside(one, facts, 20)
    one.open("#/stop/left")
    one.page.locator(".page .act", has_text="before towing").wait_for()
    one.tap("Begin this stop anew")
    dialog = one.page.get_by_role("dialog", name="Hub much warmer than its mate")
    dialog.get_by_text("Mend before towing").wait_for()
    assert not dialog.get_by_text("grease").count()
    dialog.locator(".main", has_text="No, go back").click()
    assert one.stored("drafts")[0]["facts"] == facts
    one.tap("Begin this stop anew")
    dialog.get_by_text("Take that back").click()
    one.page.wait_for_selector(".sign-rows")
    assert "hub_feel@1L" not in one.stored("drafts")[0]["facts"]  # type: ignore[operator]


def test_a_hub_too_hot_and_not_settled_is_said_and_kept_never_begun_anew(one: Phone) -> None:
    """Begun anew nothing of it stood anywhere, and nobody was held from driving on."""
    put_aside(one, HAND | {"hub_feel@1L": "no_touch"}, 20)
    one.open("#/stop/left")
    one.page.locator(".page .act", has_text="Do not drive on before it is settled").wait_for()
    assert not one.by_name("Begin this stop anew").count()
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    one.page.get_by_text("Very hot, and not settled yet").first.wait_for()
    (kept,) = one.stored("records")
    record: Any = kept["record"]
    assert record["body"]["facts"]["hub_feel@1L"] == "no_touch"


def test_a_stop_left_as_told_is_kept_with_the_time_of_its_hubs(one: Phone) -> None:
    put_aside(one, HAND | RUN | {"hub_feel@1L": "cool"}, 24 * 60)
    go_on(one)
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    (kept,) = one.stored("records")
    record: Any = kept["record"]
    felt = one.page.evaluate("Date.now()") / 1000 - 24 * 3600
    assert abs(datetime.fromisoformat(record["made"]).timestamp() - felt) < 3600
    assert record["body"]["facts"]["hub_feel@1L"] == "cool"
    assert "hub_feel@1R" not in record["body"]["facts"]


# Where the phone slept with the next hub on its screen, by what is told there.
SLEPT = {
    "by hand": (HAND | {"hub_feel@1L": "cool"}, "#/stop/left/hubs.1", f"{OPEN_LADDER} .cool"),
    "by thermometer": (
        READ | {"hub_reading@1L": 40},
        "#/ask/left/hub_reading%401R/stop",
        ".unsure",
    ),
}


@pytest.mark.parametrize("case", few(SLEPT, 1))
def test_a_hub_is_not_told_on_a_screen_that_stood_since(one: Phone, case: str) -> None:
    facts, where, answer = SLEPT[case]
    put_aside(one, facts, 1)
    one.open(where)
    one.page.locator(answer).first.wait_for()
    one.page.evaluate("() => { const now = Date.now() + 86400000; Date.now = () => now; }")
    one.tap_at(answer)
    one.page.get_by_text(ASKED).wait_for()
    (draft,) = one.stored("drafts")
    assert draft["facts"] == facts


def test_a_stop_nows_card_says_which_check_it_is_of(one: Phone) -> None:
    put_aside(one, HAND | {"smoke@1R": "yes"}, 1)
    one.page.locator(".due.stop", has_text="Smoke").get_by_text("Run stop, hubs only").wait_for()


TOPS = "[...document.querySelectorAll('.bar > *')].map((one) => one.getBoundingClientRect().top)"


@pytest.mark.parametrize("locale", few(("en-US", "es-MX"), 1))
def test_the_head_stays_one_row_with_the_longest_sign(
    chromium: Browser, server: str, locale: str
) -> None:
    with installed(chromium, server, locale) as one:
        put_aside(one, HAND | {"hub_feel@1L": "warm", "thrown_grease@1R": "yes"}, 1)
        one.open("#/stop/left/hubs.1")
        one.page.locator(".bar .sign.mend").wait_for()
        assert len(set(one.page.evaluate(TOPS))) == 1
