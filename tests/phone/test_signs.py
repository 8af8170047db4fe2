"""The phone draws the same five signs as the shop's pages and prints."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page

from tests.support.browser import engine_page
from webapp.shop.signs import DISC, SIGNS, Sign

DRAWN = """async (level) => {
    const { shape } = await import("/static/parts/sign.js");
    const [form, mark] = shape(level).children;
    const given = [...form.attributes].map(({ name, value }) => [name, value]);
    return { ...Object.fromEntries(given), mark: mark.textContent,
        foot: Number(mark.getAttribute("y")), small: mark.classList.contains("small") };
}"""


@pytest.fixture(scope="module")
def page(chromium: Browser) -> Page:
    return engine_page(chromium)


@pytest.mark.parametrize("level", sorted(SIGNS))
def test_a_sign_has_the_same_shape_and_mark_on_phone_and_paper(page: Page, level: str) -> None:
    drawn, sign = page.evaluate(DRAWN, level), SIGNS[level]
    assert (drawn["mark"], drawn["foot"], drawn["small"]) == (sign.mark, sign.foot, sign.small)
    if not sign.corners:
        assert [float(drawn[name]) for name in ("cx", "cy", "r")] == [24, 24, DISC]
    else:
        assert (drawn.get("d") or corners_of(drawn)) == sign.path
        assert float(drawn.get("rx", 0)) == sign.rounded


def corners_of(box: dict[str, str]) -> str:
    """The path of a rect from its corner and its sides."""
    left, top, wide, high = (float(box[name]) for name in ("x", "y", "width", "height"))
    right, foot = left + wide, top + high
    return Sign(((left, top), (right, top), (right, foot), (left, foot)), "", 0).path
