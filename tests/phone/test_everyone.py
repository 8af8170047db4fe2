"""Every screen for everyone: valid HTML, targets for a thumb, still for who asked for it.

Then the ways in that are not a thumb and an eye: a keyboard alone, colours of one's own, and ears.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.phone.test_fits import TOURS
from tests.phone.test_shell import contrast
from tests.support.effort import few
from tests.support.markup import invalid
from tests.support.phone import OPEN_LADDER, OPEN_ZONE, PROOF, Phone, installed
from tests.support.tours import save_trailer
from tests.support.waiting import until

TARGET, ANSWER = 48, 72  # CSS px

MEASURED = """() => {
  const drawn = (one) => one.checkVisibility({ visibilityProperty: true, opacityProperty: true })
    && !one.closest(".unseen");
  const box = (one) => one.getBoundingClientRect();
  const named = (one) => `${one.tagName} ${one.className} ${(one.textContent || one.ariaLabel || "")
    .trim().slice(0, 30)} ${Math.round(box(one).width)} by ${Math.round(box(one).height)}`;
  const all = (selector) => [...document.querySelectorAll(selector)].filter(drawn);
  const inSentence = (one) =>
    one.matches("p a, dd a, li a") && getComputedStyle(one).display === "inline";
  const tapped = all("button, a[href], select, summary, input:not([type=file]), label.answer")
    .filter((one) => !inSentence(one)).map((one) => one.closest("label") ?? one);
  return {
    html: "<!DOCTYPE html>\\n" + document.documentElement.outerHTML,
    small: tapped.filter((one) => box(one).width < TARGET || box(one).height < TARGET).map(named),
    low: all(".foot .answer:not(.quietly)").filter((one) => box(one).height < ANSWER).map(named),
    moving: all("*").filter((one) => {
      const { transitionDuration, animationName, scrollBehavior } = getComputedStyle(one);
      const moves = parseFloat(transitionDuration) || animationName !== "none";
      return moves || scrollBehavior === "smooth";
    }).map(named).concat(document.getAnimations().map(String)),
  };
}""".replace("TARGET", str(TARGET)).replace("ANSWER", str(ANSWER))

Seen = dict[str, dict[str, Any]]


# `make test` walks these; the others are for `make test-sweeps`.
OFTEN = ("places", "stop")
MARKED = [
    pytest.param(tour, id=tour.__name__, marks=() if tour.__name__ in OFTEN else pytest.mark.sweep)
    for tour in TOURS
]


@pytest.fixture(scope="module", params=MARKED)
def seen(
    chromium: Browser,
    server: str,
    tmp_path_factory: pytest.TempPathFactory,
    request: pytest.FixtureRequest,
) -> Seen:
    """Every screen of a tour, as it stood when it was shown."""
    found: Seen = {}

    def look(one: Phone, name: str) -> None:
        found[name] = one.page.evaluate(MEASURED)

    with installed(chromium, server) as one:
        one.page.emulate_media(reduced_motion="reduce")
        request.param(one, look)
    return found


def told(seen: Seen, kind: str) -> dict[str, list[str]]:
    return {name: screen[kind] for name, screen in seen.items() if screen[kind]}


@pytest.mark.long
def test_the_html_of_every_screen_is_valid(seen: Seen) -> None:
    assert invalid({name: screen["html"] for name, screen in seen.items()}) == {}


@pytest.mark.long
def test_everything_to_tap_is_48_px_each_way(seen: Seen) -> None:
    assert told(seen, "small") == {}


@pytest.mark.long
def test_answers_at_the_foot_are_72_px_high(seen: Seen) -> None:
    assert told(seen, "low") == {}


@pytest.mark.long
def test_nothing_moves_for_who_asked_for_less_motion(seen: Seen) -> None:
    assert told(seen, "moving") == {}


def test_motion_is_there_to_be_left_out(one: Phone) -> None:
    one.page.emulate_media(reduced_motion="no-preference")
    assert one.page.evaluate(MEASURED)["moving"]


# ---- a keyboard alone ----

FOCUSED = """() => {
  const one = document.activeElement, style = getComputedStyle(one);
  const box = one.getBoundingClientRect();
  const there = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
  return { ring: style.outlineStyle === "none" ? 0 : parseFloat(style.outlineWidth),
    covered: one !== document.body && !(one.contains(there) || there?.contains(one)) };
}"""
TABS = 80  # no screen has more stops than that


class Keys:
    """A phone worked by Tab, Space and Enter; every stop on the way has to be seen."""

    def __init__(self, phone: Phone) -> None:
        self.phone, self.page = phone, phone.page
        self.unseen: list[str] = []

    def to(self, selector: str) -> None:
        for _ in range(TABS):
            self.page.keyboard.press("Tab")
            if self.page.evaluate("document.activeElement === document.body"):
                continue
            state = self.page.evaluate(FOCUSED)
            if state["ring"] < 3 or state["covered"]:
                self.unseen.append(f"{self.phone.where} {state}")
            if self.page.evaluate("(to) => document.activeElement.matches(to)", selector):
                return
        raise AssertionError(f"no way by Tab to {selector} on {self.phone.where}")

    def press(self, selector: str, key: str = "Enter") -> None:
        state = "location.hash + document.querySelectorAll('[aria-pressed=true]').length"
        before = self.page.evaluate(state)
        self.to(selector)
        self.page.keyboard.press(key)
        self.phone.wait_for(f"{state} !== {before!r}")
        self.phone.settle()


@pytest.mark.long
def test_a_whole_stop_is_made_by_keyboard(one: Phone) -> None:
    keys = Keys(one)
    keys.press("button[value=run_stop]")
    keys.press(".foot .main", "Space")
    row = ".row-of:not(:has([aria-pressed=true])):not(:has(.told)) .pick"

    def answer() -> None:
        open_ladder = one.page.locator(OPEN_LADDER).count()
        keys.press(f"{OPEN_LADDER} .cold" if open_ladder else row)

    one.repeat(answer, lambda: not one.asking)
    keys.to("button.main")
    one.page.keyboard.press("Enter")
    one.page.wait_for_selector(".kept")
    assert keys.unseen == []


@pytest.mark.long
def test_a_place_of_the_walk_is_gone_through_by_keyboard(one: Phone) -> None:
    save_trailer(one)
    one.open()
    keys = Keys(one)
    keys.press("button[value=walkaround]")
    keys.press("button[value=trip]")
    place = one.where
    looked = lambda: one.where != place or not one.page.locator(OPEN_ZONE).count()  # noqa: E731
    one.repeat(lambda: keys.press(f"{OPEN_ZONE} .fine"), looked)
    one.repeat(lambda: keys.press(f"{PROOF} .pick"), lambda: one.where != place)
    assert one.where != place
    assert keys.unseen == []


def test_the_heading_has_the_focus_and_from_there_on_the_order_is_that_of_the_page(
    one: Phone,
) -> None:
    one.begin("quick_stop")
    assert one.page.evaluate("document.activeElement.tagName") == "H1"
    steps = """() => { const all = [...document.querySelectorAll("*")];
      return all.indexOf(document.activeElement); }"""
    way = [one.page.evaluate(steps)]
    for _ in range(6):
        one.page.keyboard.press("Tab")
        way.append(one.page.evaluate(steps))
    assert way == sorted(set(way))


# ---- colours of one's own ----

LOOKS = """(one) => { const { backgroundColor, color, borderTopColor } = getComputedStyle(one);
  return [backgroundColor, color, borderTopColor].join(); }"""


@pytest.mark.parametrize("scheme", few(["light", "dark"], 1))
def test_what_is_chosen_is_told_apart_in_forced_colours(one: Phone, scheme: str) -> None:
    one.page.emulate_media(forced_colors="active", color_scheme=scheme)  # type: ignore[arg-type]
    one.begin("quick_stop")
    one.tap_at(".foot .main")
    one.page.wait_for_selector(".row-of")
    one.settle()
    before = one.page.locator(".row-of .pick").first.evaluate(LOOKS)
    one.page.locator(".row-of .pick").first.click()
    chosen = one.page.locator(".row-of .pick[aria-pressed=true]").first
    chosen.wait_for()
    until(lambda: chosen.evaluate(LOOKS) != before, "another look of what is chosen")
    other = one.page.locator(".row-of .pick:not([aria-pressed=true])").first
    assert other.evaluate(LOOKS) != chosen.evaluate(LOOKS)


# ---- what axe does not look at ----

HINT = """(one) => { const hex = (text) => "#" + text.match(/\\d+/g).slice(0, 3)
    .map((part) => Number(part).toString(16).padStart(2, "0")).join("");
  return [getComputedStyle(one, "::placeholder").color, getComputedStyle(one).backgroundColor]
    .map(hex); }"""


@pytest.mark.parametrize("scheme", few(["light", "dark"], 1))
def test_what_a_field_says_while_it_is_empty_has_seven_to_one(one: Phone, scheme: str) -> None:
    one.page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    one.begin("quick_stop")
    one.tap("Smoke")
    field = one.page.locator(".tell-them input")
    field.wait_for()
    assert contrast(*field.evaluate(HINT)) >= 7


# ---- a screen that stays lit ----

LAMP = """() => Object.defineProperty(navigator, "wakeLock", { value: { request: async (kind) => {
  window.lit = kind;
  return { released: false, release: async () => { window.lit = "let go"; } }; } } })"""


@pytest.mark.long
def test_the_screen_stays_lit_while_a_run_is_under_way(one: Phone) -> None:
    one.page.evaluate(LAMP)
    one.tap("Start a run")
    until(lambda: one.page.evaluate("window.lit") == "screen", "a lit screen")
    one.tap("End the run")
    one.page.locator("dialog[open] button").last.click()
    until(lambda: one.page.evaluate("window.lit") == "let go", "a screen that may go dark")


# ---- ears ----

HEARD = """() => { window.heard = []; const region = document.getElementById("spoken");
  new MutationObserver(() => region.textContent && window.heard.push(region.textContent))
    .observe(region, { childList: true }); }"""


@pytest.mark.long
def test_a_verdict_that_changes_is_said_once(one: Phone) -> None:
    one.begin("quick_stop")
    one.page.evaluate(HEARD)
    levels = [one.page.inner_text(".now .word")]
    for _ in range(30):
        one.answer()
        if not one.page.locator(".now").count():
            break
        levels.append(one.page.inner_text(".now .word"))
        if levels[-1] != levels[-2]:
            until(lambda: one.page.evaluate("window.heard.at(-1)") == levels[-1], levels[-1])
    changes = [new for old, new in pairwise(levels) if old != new]
    heard = [text for text in one.page.evaluate("window.heard") if not text.startswith("Saved")]
    assert changes
    assert heard == changes
    assert one.page.get_attribute("#spoken", "role") == "status"
