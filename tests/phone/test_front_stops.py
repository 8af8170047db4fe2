"""Several open *Stop nows* on the front page: all of them in sight, and the start buttons too."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser

from tests.support.phone import Phone, installed
from tests.support.stop_nows import plant
from tests.support.waiting import drawn

SHORT = {"width": 360, "height": 640}
TRAILER = """async () => {
    const { openStore } = await import("/static/data/store.js");
    const { seal } = await import("/static/data/records.js");
    const { store } = await openStore(() => {});
    await store.commit([["records",
        await seal("trailer", { trailer: "t5", name: "Alder Fork 5", facts: {} })]]);
}"""
LOOSE = ({"axles": 2, "nuts@1L": "loose"}, [("nuts_loose", "1L")])
# Of all at one moment: a card may be drawn anew between two questions.
HEIGHTS = "[...document.querySelectorAll('.due.stop')].map((one) => one.offsetHeight)"
FIRST_BUTTON = "document.querySelector('.big').getBoundingClientRect().bottom"


def three_open(one: Phone, trailer: str | None = None) -> list[str]:
    """Their ids, the newest first."""
    right = {"axles": 1, "smoke@1R": "yes"}
    ids = [
        plant(one.page, right, [("has_smoke", "1R")], kept=True, trailer=trailer),
        plant(one.page, *LOOSE, check="walkaround", kept=True),
        plant(one.page, {"axles": 2, "smoke@2L": "yes"}, [], check="quick_stop"),
    ]
    one.page.reload()
    one.page.locator(".due.stop").first.wait_for()
    return ids[::-1]


@pytest.mark.english  # two languages by their own names
@pytest.mark.parametrize(
    ("locale", "said"),
    [
        ("en-US", ["axle 2: Smoke", "axle 1: Wheel nut", "Right wheel: Smoke"]),
        ("es-US", ["eje 2: Sale humo", "eje 1: Tuerca", "Rueda derecha: Sale humo"]),
    ],
)
def test_the_newest_stands_whole_the_others_in_a_line_and_the_start_buttons_in_sight(
    chromium: Browser, server: str, locale: str, said: list[str]
) -> None:
    with installed(chromium, server, locale) as one:
        size = one.page.viewport_size
        one.page.set_viewport_size(SHORT)  # type: ignore[arg-type]
        one.page.evaluate(TRAILER)
        three_open(one, "t5")
        cards = one.page.locator(".due.stop")
        for at, words in enumerate(said):
            cards.nth(at).get_by_text(words).wait_for()
        assert cards.count() == 3
        assert one.page.locator(".due.brief").count() == 2
        assert "Alder Fork 5" in cards.last.inner_text()
        assert one.page.evaluate(FIRST_BUTTON) <= SHORT["height"]
        one.page.set_viewport_size(size)  # type: ignore[arg-type]


def test_each_open_stop_now_is_one_tap_away_with_its_sign_and_time(one: Phone) -> None:
    ids = three_open(one)
    cards = one.page.locator(".due.stop")
    assert min(one.page.evaluate(HEIGHTS)) >= 48
    for at, check_id in enumerate(ids):
        assert re.search(r"\b\d{1,2}:\d\d\b", cards.nth(at).inner_text())
        assert cards.nth(at).locator(".shape.stop").count() == 1
        assert at == 0 or cards.nth(at).get_by_role("img", name="Stop now").count() == 1
        cards.nth(at).click()
        one.wait_for(f"location.hash === '#/now/{check_id}'")
        one.open("#/")
        cards.nth(2).wait_for()


@pytest.mark.parametrize("at", [0, 1], ids=["whole", "in a line"])
def test_a_card_drawn_anew_under_a_finger_that_is_down_is_tapped(one: Phone, at: int) -> None:
    ids = three_open(one)
    one.page.locator(".due.stop").nth(at).hover()
    one.page.mouse.down()
    one.page.evaluate("dispatchEvent(new Event('moved'))")
    drawn(one.page)
    one.page.mouse.up()
    one.wait_for(f"location.hash === '#/now/{ids[at]}'")


@pytest.mark.english  # one language, in two regions
@pytest.mark.parametrize(("locale", "noon"), [("en-US", r"\b1:05.PM"), ("en-GB", r"\b13:05\b")])
def test_its_time_is_written_as_the_reader_writes_it(
    chromium: Browser, server: str, locale: str, noon: str
) -> None:
    with installed(chromium, server, locale) as one:
        check_id = plant(one.page, *LOOSE, check="walkaround")
        one.page.evaluate(
            """async (id) => {
              const { openStore } = await import("/static/data/store.js");
              const { store } = await openStore(() => {});
              await store.change("drafts", id, (draft) =>
                ({ ...draft, started: new Date(2026, 6, 14, 13, 5).toISOString() }));
            }""",
            check_id,
        )
        one.page.reload()
        card = one.page.locator(".due.stop", has_text=re.compile(noon))
        card.wait_for()
        assert "14" in card.inner_text()


CHAINS = (
    {"axles": 1, "walk_depth": "trip", "chains_hooked": "none"},
    [("chains_too_few", "")],
)


@pytest.mark.parametrize("signal", [True, False], ids=["online", "offline"])
@pytest.mark.parametrize("kept", [True, False], ids=["kept", "begun"])
def test_after_a_reload_its_card_says_what_is_wrong_though_those_words_come_later(
    one: Phone, kept: bool, signal: bool
) -> None:
    plant(one.page, *CHAINS, check="walkaround", kept=kept)
    one.offline(not signal)
    one.page.reload()
    card = one.page.locator(".due.stop")
    card.wait_for()
    card.get_by_text("Fewer than two safety chains hooked on").wait_for()


def test_the_card_of_a_mend_says_what_is_wrong_after_a_reload(one: Phone) -> None:
    worn = ({"axles": 1, "chain_worn": "yes"}, [("chain_worn", "")])
    plant(one.page, *worn, check="walkaround", kept=True, level="mend")
    one.page.reload()
    one.page.locator(".due.mend strong").wait_for()
