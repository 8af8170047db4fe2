"""A *Stop now* whose page has not come, or cannot: it says what the whole page says first."""

from __future__ import annotations

import pytest
from playwright.sync_api import Route

from tests.support.phone import Phone
from tests.support.stop_nows import plant


@pytest.mark.parametrize("fate", ["refused", "never answered"])
def test_a_stop_now_says_what_to_do_though_its_page_does_not_come(fresh: Phone, fate: str) -> None:
    script = (lambda route: route.abort()) if fate == "refused" else (lambda route: None)
    fresh.context.route("**/screens/stop_now.js", script)
    fresh.page.add_init_script("delete Navigator.prototype.serviceWorker")
    fresh.open()
    fresh.begin("quick_stop")
    smoke = fresh.page.get_by_role("button", name="Smoke", exact=True)
    smoke.dblclick()  # the second tap takes nothing back
    fresh.page.locator(".stop-now h1").wait_for()
    said = fresh.page.inner_text(".stop-now")
    assert [one for one in ("Stop now", "Stay clear", "Do not drive on") if one not in said] == []
    note = "Being fetched" if fate == "never answered" else "not on the phone yet"
    fresh.page.locator(".hint", has_text=note).wait_for()
    fresh.tap("Right wheel")
    fresh.page.get_by_role("heading", name="Right wheel: Smoke").wait_for()
    (draft,) = fresh.stored("drafts")
    assert (draft["facts"]["smoke@1R"], draft["facts"]["smoke@1L"]) == ("yes", "no")


def test_a_stop_now_is_told_whole_once_its_page_has_come(fresh: Phone) -> None:
    held: list[Route] = []
    fresh.context.route("**/screens/stop_now.js", lambda route: held.append(route))
    fresh.page.add_init_script("delete Navigator.prototype.serviceWorker")
    fresh.open()
    fresh.begin("quick_stop")
    fresh.tap("Smoke")
    fresh.page.locator(".hint", has_text="Being fetched").wait_for()
    assert not fresh.page.locator(".tell-them").count()
    for route in held:
        route.continue_()
    fresh.page.locator(".tell-them").wait_for()
    assert "Stay clear" in fresh.page.inner_text(".stop-now")


SMOKE = ({"axles": 1, "smoke@1R": "yes"}, [("has_smoke", "1R")])
LOOSE = ({"axles": 1, "nuts@1R": "loose"}, [("nuts_loose", "1R")])
OFF_THE_ROAD = ("Get well off the road", "Stop well off the road")
HOME = ("Do not tow this trailer",)
MIND = ("Chock the other wheels",)
# By the kind of check: what the page says, and what it does not.
SAID = [("run_stop", OFF_THE_ROAD + MIND, HOME), ("walkaround", HOME + MIND, OFF_THE_ROAD)]


@pytest.mark.parametrize("kept", [False, True], ids=["begun", "kept"])
@pytest.mark.parametrize(("check", "there", "not_there"), SAID)
def test_it_speaks_to_who_stands_there_and_tells_what_to_mind_as_the_whole_page_does(
    fresh: Phone, check: str, there: tuple[str, ...], not_there: tuple[str, ...], kept: bool
) -> None:
    page = fresh.page
    page.add_init_script("delete Navigator.prototype.serviceWorker")
    held: list[Route] = []
    page.route("**/screens/stop_now.js", lambda route: held.append(route))
    fresh.open()
    check_id = plant(page, *LOOSE, check=check, kept=kept)
    fresh.open(f"#/now/{check_id}")
    page.locator("h1", has_text="Right wheel: Wheel nut loose or missing.").wait_for()
    page.locator(".hint", has_text="Being fetched").wait_for()
    short = page.inner_text(".stop-now")
    assert fresh.by_name("Show the verdict" if kept else "Go on with the check").count() == 1
    for route in held:
        route.continue_()
    page.locator(".tell-them").wait_for()
    for said in (short, page.inner_text(".stop-now")):
        assert [one for one in there if one not in said] == []
        assert [one for one in not_there if one in said] == []


def test_a_kept_one_is_told_though_its_page_cannot_be_fetched(fresh: Phone) -> None:
    page = fresh.page
    page.add_init_script("delete Navigator.prototype.serviceWorker")
    page.route("**/screens/stop_now.js", lambda route: route.abort())
    fresh.open()
    plant(page, *SMOKE, kept=True)
    fresh.open()
    fresh.tap_at(".due.stop")
    page.locator(".stop-now .hint", has_text="not on the phone yet").wait_for()
    assert "Stay clear" in page.inner_text(".stop-now")
    assert "Hot metal burns" in page.inner_text(".stop-now .cautions")
