"""How many taps and how long: a new user's way, at 1.5 s a tap, 4 s a reading and 10 s a touch."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from checks.words import finished, region
from tests.support.effort import some
from tests.support.phone import LONG_LOOK, OPEN_ZONE, Phone, installed
from tests.support.tongue import said

pytestmark = pytest.mark.english  # each language there is comes up by itself
DOCS = Path(__file__).parents[2] / "docs" / "usability.md"
TAP, READING, TOUCH = 1.5, 4.0, 10.0  # seconds


def told(way: str) -> str:
    """What docs/usability.md says was counted on this way."""
    rows = [line.strip("|").split("|") for line in DOCS.read_text("utf-8").splitlines()]
    counts = [row[-1].strip() for row in rows if row[0].strip() == way]
    assert len(counts) == 1, f"docs/usability.md has no row {way!r}, or more than one"
    return counts[0]


@pytest.fixture(params=some(finished(), 1))
def one(
    chromium: Browser, server: str, tmp_path: Path, request: pytest.FixtureRequest
) -> Iterator[Phone]:
    """A phone of each language: every row of the walks is counted in all of them."""
    with installed(chromium, server, region(request.param)) as it:
        yield it


def keep(one: Phone) -> None:
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    one.settle()


def save_trailer(one: Phone, axles: int, brakes: str) -> None:
    """A trailer that the phone knows before the walk."""
    one.open("#/trailer/new")
    one.page.fill("#name", "Alder Fork 3")
    one.tap("Go on")
    one.page.wait_for_selector(".asking")
    one.settle()
    one.choose(f"button[value='{axles}']")
    one.choose(f"button[value={brakes}]")
    one.answer_until(lambda: not one.asking)
    one.tap("Save trailer")
    one.wait_for("location.hash.startsWith('#/trailer/')")
    one.settle()
    one.open()


def looks(one: Phone) -> float:
    """Seconds that all the zones of this place take to be looked at."""
    limits = one.page.evaluate("fetch('/rulebook.json').then((r) => r.json()).then((b) => b)")
    fault = limits["limits"]["walk.glance_fault"]["value"]
    inside = limits["limits"]["walk.glance_inside"]["value"]
    zones = [z for z in limits["zones"] if z["place"] == one.where.split("/")[3].split(".")[0]]
    trip = {n for n, f in limits["facts"].items() if "depth" not in f}
    return sum(
        inside if z["id"] == "inside" else fault * len(trip & set(z["facts"])) for z in zones
    )


def walked(one: Phone) -> tuple[int, float]:
    """Taps and seconds of a walk as before every trip, from the front page until it is kept."""
    one.taps, seconds, place = 0, 0.0, ""
    one.begin("walkaround")
    one.page.evaluate(LONG_LOOK)

    def answer() -> None:
        nonlocal place, seconds
        if one.where != place:
            place = one.where
            seconds += looks(one)
        one.answer()

    one.repeat(answer, lambda: not one.asking)
    keep(one)
    return one.taps, seconds + one.taps * TAP


@pytest.mark.long
def test_cold_open_to_a_hub_verdict_by_hand_takes_twelve_taps_and_a_minute(one: Phone) -> None:
    one.open()
    one.taps = 0
    one.begin("quick_stop")
    touches = 0

    def answer() -> None:
        nonlocal touches
        pair = one.page.locator("[data-key^=pair_feel]").count()
        touches += one.page.locator(".ladders").count() > 0 and not pair
        one.answer()

    one.repeat(answer, lambda: not one.asking)
    seconds = one.taps * TAP + touches * TOUCH
    keep(one)
    assert touches == 2
    assert one.taps <= 12
    assert seconds + TAP <= 60
    way = "cold open to the verdict on the hubs, single axle, by hand"
    assert told(way) == f"{one.taps} taps, {seconds + TAP:.0f} s"


def test_smoke_opens_the_stop_page_in_three_taps(one: Phone) -> None:
    one.open()
    one.taps = 0
    one.begin("quick_stop")
    one.tap("Smoke")
    one.page.wait_for_selector(".stop-now h1")
    assert one.taps <= 3
    assert told("smoke to the page of a *Stop now*") == f"{one.taps} taps"


@pytest.mark.long
@pytest.mark.parametrize(
    ("name", "axles", "brakes", "most"),
    some(
        [
            ("single axle", 1, "none", 28),
            ("tandem with electric brakes", 2, "electric", 44),
            ("tandem with surge brakes", 2, "surge", 44),
        ],
        1,
    ),
)
def test_a_saved_trailer_before_every_trip(
    one: Phone, name: str, axles: int, brakes: str, most: int
) -> None:
    save_trailer(one, axles, brakes)
    taps, seconds = walked(one)
    assert told(f"saved {name}, before every trip, kept") == f"{taps} taps, {seconds:.0f} s"
    assert taps <= most
    assert seconds <= 300
    assert one.page.locator(".head .sign.nothing").count() == 1


@pytest.mark.sweep
def test_the_fourth_walk_takes_no_more_than_the_first_may(one: Phone) -> None:
    """A gauge is read on one wheel of a later walk: two keys and Next."""
    save_trailer(one, 1, "none")
    for _ in range(2):
        walk = walked(one)
        one.open()
    assert walk[0] <= 28
    assert one.page.locator(OPEN_ZONE).count() == 0


def test_the_wheel_is_tapped_on_the_drawing_and_then_what_is_there(one: Phone) -> None:
    one.begin("quick_stop")
    one.tap("Right wheel")
    one.tap("Smoke")
    one.wait_for("location.hash.startsWith('#/now/')")
    one.settle()
    assert one.question.startswith(f"{said(one.language, 'Right wheel')[0]}: ")
