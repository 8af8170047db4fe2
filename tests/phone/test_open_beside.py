"""A later check says nothing against a *Stop now* that is open: it stands above its verdict."""

from __future__ import annotations

import pytest

from tests.support.phone import Phone
from tests.support.stop_nows import plant

SMOKE = ({"axles": 1, "smoke@1R": "yes"}, [("has_smoke", "1R")])
SKIFF = """async () => {
    const { openStore } = await import("/static/data/store.js");
    const { seal } = await import("/static/data/records.js");
    const { store } = await openStore(() => {});
    await store.commit([["records",
        await seal("trailer", { trailer: "t5", name: "Skiff", facts: {} })]]);
}"""
COLD = {"axles": 1, "hub_feel@1L": "cold", "hub_feel@1R": "cold", "smoke@1L": "no"}
GO_ON = "next stop"


@pytest.mark.parametrize("kept", [True, False], ids=["kept", "begun"])
@pytest.mark.parametrize(
    ("of", "later", "says"),
    [
        ("t5", "t5", "Still open on this trailer"),
        (None, None, "Still open on this trailer"),
        (None, "t5", "May be this trailer"),
        ("t5", None, "May be this trailer"),
    ],
)
def test_an_open_stop_now_stands_above_a_later_verdict_of_its_trailer(
    one: Phone, of: str | None, later: str | None, says: str, kept: bool
) -> None:
    page = one.page
    page.evaluate(SKIFF)
    stop = plant(page, *SMOKE, check="quick_stop", kept=kept, trailer=of)
    begun = plant(page, COLD, [], check="quick_stop", trailer=later)
    done = plant(page, COLD, [], check="quick_stop", kept=True, trailer=later, level="nothing")
    for address in (f"#/sofar/{begun}", f"#/check/{done}"):
        one.open(address)
        page.locator(".beside").get_by_text(says).wait_for()
        card = page.locator(".beside .due.stop")
        assert "Right wheel: Smoke" in card.inner_text()
        assert card.get_attribute("href") == f"#/now/{stop}"
        above = "document.querySelector('.beside').compareDocumentPosition("
        assert page.evaluate(f"{above}document.querySelector('main h1')) & 4")
        assert GO_ON not in page.inner_text("main")


def test_without_one_a_verdict_sends_on_as_ever(one: Phone) -> None:
    done = plant(one.page, COLD, [], check="quick_stop", kept=True, level="nothing")
    one.open(f"#/check/{done}")
    one.page.locator("main .act", has_text=GO_ON).wait_for()
    assert not one.page.locator(".beside").count()


def test_a_stop_now_is_no_news_to_itself(one: Phone) -> None:
    stop = plant(one.page, *SMOKE, check="quick_stop", kept=True)
    one.open(f"#/check/{stop}")
    one.page.locator(".card.stop").first.wait_for()
    assert not one.page.locator(".beside").count()
