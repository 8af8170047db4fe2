"""Lamp test and run on a phone without signal, by their labels."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser

from checks.circuit.rank import table
from tests.support.effort import few
from tests.support.phone import Phone, phone


@pytest.fixture(scope="module")
def one(
    chromium: Browser, server: str, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Phone]:
    """A phone that was on the network once, and is not any more."""
    with phone(chromium, tmp_path_factory.mktemp("phone"), server, lasting=True) as here:
        here.install()
        here.offline(True)
        yield here
        assert not here.faults


def answer(one: Phone, lamp: str, text: str) -> None:
    section = one.page.locator("section.lamp").filter(has_text=lamp)
    section.get_by_role("button", name=text, exact=True).click()
    section.locator(f"button[aria-pressed=true]:text-is('{text}')").wait_for()


def begin_lamps(one: Phone, supply: str) -> None:
    one.open("#/lamps")
    one.page.get_by_role("button", name=supply).click()
    one.page.locator("button[aria-pressed=true]", has_text=supply).wait_for()
    one.page.get_by_role("button", name="Begin").click()
    one.page.get_by_role("heading", name="Switch on the tail lights").wait_for()


COMMANDS = (
    "Left turn, tail lights off", "Right turn, tail lights off", "Brake, tail lights off",
    "Tail lights and left turn", "Tail lights and right turn", "Tail lights and brake",
    "What it may be",
)  # fmt: skip


@pytest.mark.long
def test_a_lamp_test_names_the_lost_ground_and_where_to_measure(one: Phone) -> None:
    begin_lamps(one, "Own outputs")
    dark = {0: ("Left lamp", "Right lamp", "Left side marker", "Right side marker", "Plate lamp")}
    dark |= {1: ("Left lamp",), 2: ("Right lamp",), 3: ("Left lamp", "Right lamp")}
    dark |= dict.fromkeys((4, 5, 6), dark[0])
    for number, heading in enumerate(COMMANDS):
        for lamp in dark[number]:
            answer(one, lamp, "Dark")
        rest = one.page.get_by_role("button", name=re.compile("The rest is right|All as drawn"))
        (rest if rest.count() else one.page.get_by_role("button", name="Next")).click()
        one.page.get_by_role("heading", name=heading, exact=True).wait_for()
    first = one.page.locator("section.card").first
    assert "Ground lost: the white wire" in first.inner_text()
    assert "jumper" in first.inner_text()
    assert first.locator("figure").count() == 2
    assert first.locator(".contact.marked text").first.text_content() == "W"


def test_lamps_the_trailer_does_not_have_are_not_asked_and_not_suspected(one: Phone) -> None:
    one.open("#/lamps")
    first = one.page.locator("h2").first.inner_text()
    assert first == "How does the vehicle feed the trailer's lamps?"
    for lamp in ("Left side marker", "Right side marker", "Plate lamp"):
        one.page.get_by_role("button", name=lamp).click()
        one.page.locator("button[aria-pressed=false]", has_text=lamp).wait_for()
    one.page.get_by_role("button", name="Someone helps").click()
    begin_lamps(one, "Spliced")
    one.page.get_by_text("Your helper switches").wait_for()
    assert one.page.locator("section.lamp").count() == 2
    assert one.page.locator("rect.lampbox").count() == 2
    for lamp in ("Left lamp", "Right lamp"):
        answer(one, lamp, "Dark")
    one.open("#/lamps/found")
    first_card = one.page.locator("section.card").first
    first_card.wait_for()
    assert "marker" not in first_card.inner_text()
    one.open("#/lamps")
    for lamp in ("Left side marker", "Right side marker", "Plate lamp"):
        one.page.get_by_role("button", name=lamp).click()
        one.page.locator("button[aria-pressed=true]", has_text=lamp).wait_for()


def test_what_was_read_is_there_after_a_reload(one: Phone) -> None:
    begin_lamps(one, "Spliced")
    answer(one, "Left lamp", "Dim")
    one.page.reload()
    one.page.locator("button[aria-pressed=true]", has_text="Dim").wait_for()


def test_two_faces_of_a_plug_are_mirror_images(one: Phone) -> None:
    """Function at 7 o'clock in the socket is at 5 o'clock at the plug's end: geometry."""
    places = one.page.evaluate("""async () => {
        const { plugFaces } = await import("/static/parts/plug.js");
        return [...plugFaces("blade7", ["white"]).querySelectorAll("figure")].map((face) =>
            [...face.querySelectorAll(".contact circle")].map((c) => [c.cx.baseVal.value, c.cy.baseVal.value]));
    }""")  # noqa: E501
    socket, plug = places
    assert len(socket) == 7
    for (x, y), (mirrored, same) in zip(socket, plug, strict=True):
        assert mirrored == pytest.approx(150 - x, abs=0.11)
        assert same == y
    white = socket[0]
    assert white[0] < 75 < white[1] + 20  # 7 o'clock: left of the middle, low


def start_run(one: Phone, *work: str) -> None:
    """One tap on the front page; what was worked on is put right after it."""
    one.open("#/")
    one.page.get_by_role("link", name="Start a run").click()
    one.page.get_by_text(re.compile(r"^Next: ")).wait_for()
    if work:
        one.page.get_by_role("link", name="Change what is counted in").click()
    for text in work:
        one.page.get_by_role("button", name=text).click()
        one.page.locator("button[aria-pressed=true]", has_text=text).wait_for()
    if work:
        one.page.get_by_role("button", name="To the run").click()
        one.page.get_by_text(re.compile(r"^Next: ")).wait_for()


def end_run(one: Phone) -> None:
    end = one.page.get_by_role("button", name="End the run")
    end.first.click()
    one.page.locator("dialog").wait_for()
    end.last.click()  # it asks first
    one.page.get_by_role("heading", name="Run ended").wait_for()


def put_right(one: Phone, miles: str) -> None:
    one.page.get_by_text("Put the distance right").click()
    one.page.locator("form input").fill(miles)
    one.page.get_by_role("button", name="Use this").click()


def test_a_stop_begun_on_the_front_page_knows_what_the_run_knows(one: Phone) -> None:
    start_run(one)
    put_right(one, "15")
    one.page.get_by_text(re.compile(r"^15(\.\d)? mi in")).wait_for()
    one.open("#/")
    one.tap("You've stopped")
    one.tap("Nothing of these")
    one.wait_stored("drafts", lambda drafts: len(drafts) == 1)
    (draft,) = one.stored("drafts")
    assert draft["run"]
    assert 24.1 <= draft["facts"]["run_distance"] <= 26
    assert draft["facts"]["run_speed"] == 89
    one.finish()
    one.open("#/run")
    end_run(one)


def test_a_due_stop_is_loud_survives_the_kill_and_opens_the_check(one: Phone) -> None:
    start_run(one, "Wheels off and on")
    put_right(one, "21")
    one.page.get_by_role("heading", name="Stop at the next safe place").wait_for()
    assert one.page.evaluate("document.querySelector('.shouting').offsetHeight") >= 740
    one.kill()
    one.start()
    one.offline(True)
    one.open("#/")
    one.page.get_by_text("a look is due").click()
    one.page.get_by_text("wheel nuts, hubs").wait_for()
    one.page.get_by_role("button", name="Standing still").click()
    one.page.get_by_role("button", name="Looked at").first.click()
    one.page.get_by_text("Look at: wheel nuts").wait_for(state="detached")
    one.page.get_by_role("button", name="Check now").click()
    one.wait_for("location.hash.startsWith('#/stop/')")
    one.settle()
    one.finish()
    facts = one.stored("records")[-1]["record"]["body"]["facts"]
    assert 33.8 <= facts["run_distance"] <= 36  # km; 21 miles, and the seconds since
    assert facts["run_speed"] == 89
    one.open("#/run")
    one.page.get_by_role("button", name="Drive on").wait_for()
    assert not one.page.get_by_text("Look at:").count()
    end_run(one)
    one.page.get_by_text("Stops that were due: 2. Looked at: 1.").wait_for()
    one.page.get_by_text("Stopped, nothing answered: wheel nuts").wait_for()
    *_, body = [r["record"]["body"] for r in one.stored("records") if r["record"]["kind"] == "run"]
    made = {stop["id"]: stop["check"] for stop in body["stops"] if stop["done"]}
    assert made["out:10"] is None
    assert made["out:20"] in [r["id"] for r in one.stored("records")]


def test_every_stop_ahead_has_its_alarm_in_the_calendar_file(one: Phone) -> None:
    start_run(one, "Wheels off and on")
    with one.page.expect_download() as saved:
        one.page.get_by_role("button", name="Alarms for all stops").click()
    text = saved.value.path().read_text("utf-8")
    assert text.count("BEGIN:VALARM") == 6  # 10, 20, 25, 50 and 100 miles, and three hours
    end_run(one)


def test_before_the_trip_ticks_and_numbers_stay_and_the_weather_is_worked_out(one: Phone) -> None:
    one.open("#/trip")
    one.page.get_by_label("Two chocks").check()
    one.page.get_by_label("Numbers on bearings").fill("LM67048 and LM11949")
    for name, text in {"set": "70", "low": "30", "high": "95", "cold": "65"}.items():
        one.page.fill(f"#air-{name}", text)
    one.page.get_by_role("button", name="Work it out").click()
    one.page.get_by_text("At the coldest: 59 psi").wait_for()
    one.page.get_by_text("At the warmest: 69 psi").wait_for()
    one.page.reload()
    assert one.page.get_by_label("Two chocks").is_checked()
    assert one.page.get_by_label("Numbers on bearings").input_value() == "LM67048 and LM11949"
    assert one.page.input_value("#air-low") == "30"
    one.page.fill("#air-low", "cold")
    one.page.get_by_role("button", name="Work it out").click()
    one.page.get_by_text("Coldest of the trip, °F: give a plain number from").wait_for()
    assert one.page.input_value("#air-low") == "cold"


# Air when set, coldest and warmest in degF, label's pressure in psi, what is said.
WEATHERS = [
    (("", "30", "95", "65"), "Air when the tires were set, °F: give a plain number from"),
    (("70", "30", "950", "65"), "Warmest of the trip, °F: give a plain number from"),
    (("70", "30", "95", "6.5"), "Pressure they were set to, psi: give a plain number from 15 to"),
    (("70", "30", "95", "650"), "Pressure they were set to, psi: give a plain number from 15 to"),
    (("70", "95", "30", "65"), "The coldest is above the warmest: exchange the two."),
    (("70", "30", "30", "65"), "At the coldest: 59 psi"),
]


@pytest.mark.parametrize(("typed", "said"), WEATHERS)
def test_a_temperature_that_cannot_be_is_named(one: Phone, typed, said) -> None:
    one.open("#/trip")
    one.settle()
    for name, text in zip(("set", "low", "high", "cold"), typed, strict=True):
        one.page.fill(f"#air-{name}", text)
    one.page.get_by_role("button", name="Work it out").click()
    one.page.locator("[role=status]", has_text=said).wait_for()


def test_an_unknown_bearing_service_is_named_before_the_trip(one: Phone) -> None:
    one.open("#/trip")
    one.page.get_by_text("When the bearings were last packed is not known on this phone").wait_for()


@pytest.mark.parametrize("wrong", few(["-3", "", "many", "99999"], 2))
def test_a_distance_that_cannot_be_is_refused_and_nothing_is_lost(one: Phone, wrong: str) -> None:
    start_run(one)
    put_right(one, wrong)
    one.page.get_by_text("Type a distance from 0").wait_for()
    assert one.page.locator("form input").input_value() == wrong
    one.page.reload()
    one.page.get_by_text(re.compile(r"^Next: ")).wait_for()
    end_run(one)


@pytest.mark.long
def test_denied_position_costs_only_the_counter_and_none_is_ever_sent(
    chromium: Browser, server: str, tmp_path
) -> None:
    with phone(chromium, tmp_path, server) as fresh:
        fresh.install()
        sent: list[str] = []
        fresh.context.on("request", lambda r: sent.append(f"{r.url} {r.post_data or ''}"))
        fresh.context.clear_permissions()
        start_run(fresh)
        fresh.page.get_by_role("button", name="Count by position").click()
        fresh.page.get_by_text("The phone gave no position").wait_for()
        fresh.page.get_by_text(re.compile(r"^Next: ")).wait_for()
        end_run(fresh)
        fresh.context.grant_permissions(["geolocation"])
        fresh.context.set_geolocation({"latitude": 45.4215, "longitude": -75.6972})
        fresh.page.reload()
        start_run(fresh)
        fresh.page.get_by_role("button", name="Count by position").click()
        fresh.page.get_by_text("Distance is counted by position").wait_for()
        end_run(fresh)
        assert not [one for one in sent if "45.42" in one or "75.69" in one]
        assert not fresh.faults


@pytest.mark.long
def test_amber_turn_lamps_have_a_plug_with_a_stop_of_its_own(one: Phone) -> None:
    one.open("#/lamps")
    one.page.get_by_role("button", name="Converter box").click()
    one.page.locator("button[aria-pressed=true]", has_text="Converter box").wait_for()
    one.page.get_by_role("button", name="Seven round pins").click()
    one.page.locator("button[aria-pressed=true]", has_text="Seven round pins").wait_for()
    assert not one.page.get_by_role("button", name="Converter box").count()
    begin_lamps(one, "Own outputs")
    assert one.page.locator("rect.lampbox.amber").count() == 2
    headings = [name for name in COMMANDS if name != "What it may be"]
    for heading in headings:
        one.page.get_by_role("button", name=re.compile("The rest is right|All as drawn")).click()
        one.page.get_by_role("heading", name=heading, exact=True).wait_for()
        if heading.startswith("Brake"):
            answer(one, "Left red lamp", "Dark")
            answer(one, "Right red lamp", "Dark")
    answer(one, "Left red lamp", "Dim")
    answer(one, "Right red lamp", "Dim")
    one.page.get_by_role("button", name="The rest is right").click()
    one.page.get_by_role("heading", name="What it may be", exact=True).wait_for()
    first = one.page.locator("section.card").first
    assert "red (stop)" in first.inner_text()
    face = first.locator("figure").first
    assert face.locator(".contact").count() == 7
    assert face.locator(".contact.marked text").all_text_contents() == ["6"]
    one.open("#/lamps")
    one.page.get_by_role("button", name="Four flat").click()
    one.page.locator("button[aria-pressed=true]", has_text="Four flat").wait_for()


@pytest.mark.parametrize("plug", few(["Four flat", "Seven blades", "Seven round pins"], 1))
def test_lamps_that_all_do_what_they_should_give_nothing_wrong(one: Phone, plug: str) -> None:
    one.open("#/lamps")
    one.page.get_by_role("button", name=plug).click()
    one.page.locator("button[aria-pressed=true]", has_text=plug).wait_for()
    begin_lamps(one, "Own outputs")
    one.page.get_by_role("button", name="All as drawn").click()
    one.page.get_by_role("heading", name="Left turn, tail lights off").wait_for()
    one.open("#/lamps/found")
    one.page.get_by_text("Nothing wrong seen").wait_for()
    one.page.get_by_role("link", name="Front page").click()
    one.page.locator(".page.front").wait_for()
    one.open("#/lamps")
    one.page.get_by_role("button", name="Four flat").click()
    one.page.locator("button[aria-pressed=true]", has_text="Four flat").wait_for()


# Every lamp is dark under every command: taps from the first step to the causes; and one by one, a
# tap a lamp that should light and a tap on to the next step.
TAPS = [
    ("Four flat", "flat4", 10, 31),
    ("Seven blades", "blade7", 11, 33),
    ("Seven round pins", "round7", 10, 33),
]


@pytest.mark.parametrize(("plug", "name", "taps", "before"), few(TAPS, 1))
def test_a_trailer_all_dark_takes_a_tap_a_step(one: Phone, plug, name, taps, before) -> None:
    made = table()
    sound = made["rows"][made["systems"][f"{name}.bulbs.frame.module"]["sound"]]
    assert sound.count("g") + len(made["plugs"][name]["commands"]) == before
    one.open("#/lamps")
    one.page.get_by_role("button", name=plug).click()
    one.page.locator("button[aria-pressed=true]", has_text=plug).wait_for()
    begin_lamps(one, "Own outputs")
    all_dark, made_taps = one.page.get_by_role("button", name="None of them lights"), 0
    red = "red lamp" if name == "round7" else "lamp"
    for lamp in (f"Left {red}", f"Right {red}", "Left side marker"):
        assert not all_dark.count(), lamp
        answer(one, lamp, "Dark")
        made_taps += 1
    for _ in range(taps):
        if one.page.get_by_role("heading", name="What it may be").count():
            break
        step = one.page.evaluate("location.hash")
        one.page.get_by_text("Only after a look at each").wait_for()
        all_dark.click()
        one.wait_for(f"location.hash !== '{step}'")
        one.settle()
        made_taps += 1
    assert made_taps == taps
    read = next(s for s in one.stored("settings") if s["key"] == "lampTest")["value"]["reading"]
    assert read["left"]["right"] == "good"  # it should not light, and does not
    assert set(read["tail"].values()) <= {"dark", "good"}
    assert "Ground lost" in one.page.locator("section.card").first.inner_text()
    one.open("#/lamps")
    one.page.get_by_role("button", name="Four flat").click()
    one.page.locator("button[aria-pressed=true]", has_text="Four flat").wait_for()


def test_one_lamp_that_lights_takes_the_offer_away(one: Phone) -> None:
    begin_lamps(one, "Own outputs")
    for lamp in ("Left lamp", "Right lamp", "Left side marker"):
        answer(one, lamp, "Dark")
    one.page.get_by_role("button", name="None of them lights").wait_for()
    answer(one, "Right lamp", "Dim")
    one.page.get_by_role("button", name="None of them lights").wait_for(state="detached")


def test_a_lamp_dark_in_one_step_only_is_read_again_before_anything_is_named(one: Phone) -> None:
    begin_lamps(one, "Own outputs")
    for heading in COMMANDS:
        if one.page.get_by_role("heading", name="Brake, tail lights off", exact=True).count():
            answer(one, "Left lamp", "Dark")
        one.page.get_by_role("button", name=re.compile("The rest is right|All as drawn")).click()
        one.page.get_by_role("heading", name=heading, exact=True).wait_for()
    first = one.page.locator("main p, main section").first
    assert "Do not tow without lamps that work" in first.inner_text()
    odd, *cards = one.page.locator("section.card").all_inner_texts()
    assert "Left lamp, Brake, tail lights off." in odd
    assert "yellow (left stop and turn)" in cards[0]
    assert not [card for card in cards if "reads wrong" in card or "reverse" in card]
    one.page.get_by_role("link", name="Read it").click()
    one.page.get_by_role("heading", name="Brake, tail lights off", exact=True).wait_for()


@pytest.mark.long
def test_a_test_put_down_half_way_goes_on_where_it_was(one: Phone) -> None:
    one.open("#/lamps")
    one.page.get_by_role("button", name="I am alone").click()
    one.page.locator("button[aria-pressed=true]", has_text="I am alone").wait_for()
    begin_lamps(one, "Own outputs")
    one.page.get_by_role("button", name="All as drawn").click()
    one.page.get_by_role("heading", name="Left turn, tail lights off", exact=True).wait_for()
    assert "this side alone" in one.page.locator("main .note").inner_text()
    answer(one, "Left lamp", "Dim")
    one.kill()
    one.start()
    one.offline(True)
    one.open("#/lamps")
    one.page.get_by_role("button", name="Go on where you were").click()
    one.page.get_by_role("heading", name="Left turn, tail lights off", exact=True).wait_for()
    one.page.locator("button[aria-pressed=true]", has_text="Dim").wait_for()
