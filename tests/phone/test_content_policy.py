"""What a page does against its content policy is noted, so that the test which met it fails."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from tests.support.browser import AGAINST_POLICY
from tests.support.waiting import drawn

ADDRESS = "http://policy.test/"
POLICY = "default-src 'none'; script-src 'self'; connect-src 'self'; style-src 'self'"
SLIPS = {
    "a script in the page": "<script>1</script>",
    "a style in the page": "<p style='color: red'>x</p>",
    "a picture from elsewhere": "<img src='http://elsewhere.test/x.png' alt=''>",
}


@pytest.mark.parametrize("slip", SLIPS)
def test_what_a_page_does_against_its_content_policy_is_noted(chromium: Browser, slip: str) -> None:
    seen = visited(chromium, SLIPS[slip])
    AGAINST_POLICY.clear()  # it was meant
    assert seen


def test_a_page_that_keeps_to_its_content_policy_leaves_no_note(chromium: Browser) -> None:
    assert visited(chromium, "<p>x</p>") == []


def visited(chromium: Browser, body: str) -> list[str]:
    context = chromium.new_context()
    page = context.new_page()
    page.route(
        f"{ADDRESS}**",
        lambda route: route.fulfill(
            body=f"<!doctype html><title>x</title>{body}",
            content_type="text/html",
            headers={"Content-Security-Policy": POLICY},
        ),
    )
    page.goto(ADDRESS)
    drawn(page)
    context.close()
    return list(AGAINST_POLICY)
