"""Every page of the shop: valid HTML, and in both schemes nothing that stands in anyone's way."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from flask import Flask
from playwright.sync_api import Browser

from tests.support.access import barriers, slips
from tests.support.effort import PART
from tests.support.markup import invalid
from tests.support.serve import ONE, serving
from tests.support.shops import PASSWORD, a_shop, finished_job
from webapp import create_app

# One of everything stands under the first of all ids.
NAMES = ("staff_id", "job_id", "trailer_id", "customer_id", "due_id", "link_id", "session_id")


def pages(app: Flask) -> list[str]:
    """Addresses of the shop that are read."""
    found = []
    for rule in app.url_map.iter_rules():
        path = str(rule)
        read = "GET" in (rule.methods or ()) and path.startswith("/shop")
        if read and rule.arguments <= set(NAMES):
            found.append(re.sub(r"<int:\w+>", "1", path))
    return sorted(found)


@pytest.mark.parametrize("text", ["<!doctype html><p>a<div></p></div>", "<p>no doctype</p>"])
def test_slips_in_html_are_seen(text: str) -> None:
    assert slips(text)


@pytest.mark.slow
@pytest.mark.parametrize(
    "body", ["<button><a href='/'>a link in a button</a></button>", "<ul><p>no item</p></ul>"]
)
def test_what_parses_but_may_not_stand_there_is_seen(body: str) -> None:
    page = (
        f'<!DOCTYPE html>\n<html lang="en"><head><title>x</title></head><body>{body}</body></html>'
    )
    assert not slips(page)
    assert invalid({"page": page})["page"]


@pytest.mark.long
def test_html_of_every_page_is_valid(app: Flask) -> None:
    shop = a_shop(app)
    finished_job(shop)
    read = {}
    for path in ["/", *pages(app), "/shop/sign-in"]:
        answer = (app.test_client() if path.endswith("sign-in") else shop.client).get(path)
        if answer.status_code == 200 and answer.mimetype == "text/html":
            read[path] = answer.text
    assert {path: wrong for path, text in read.items() if (wrong := slips(text))} == {}
    assert invalid(read) == {}
    assert len(read) > 20


@pytest.mark.sample
@pytest.mark.slow
def test_nothing_stands_in_the_way_on_any_page(chromium: Browser, tmp_path: Path) -> None:
    app = create_app({"DATA": tmp_path, "DATABASE_URL": ""})
    shop = a_shop(app)
    finished_job(shop)
    app.extensions["store"].engine.dispose()
    found, read = {}, 0
    with serving(tmp_path, ONE, TWENTYMILE_DATABASE_URL="") as address:
        page = chromium.new_context(
            viewport={"width": 360, "height": 740}, reduced_motion="reduce"
        ).new_page()
        page.goto(f"{address}/shop/sign-in")
        signing = barriers(page)
        page.fill("#login", shop.login)
        page.fill("#password", PASSWORD)
        page.click("button.main")
        page.wait_for_selector("nav")
        page.wait_for_load_state("networkidle")
        for path in pages(app)[::PART]:
            if "sign-out" in path or "photo" in path:
                continue
            kind = page.request.head(f"{address}{path}").headers.get("content-type", "")
            if not kind.startswith("text/html"):
                continue
            page.goto(f"{address}{path}")
            read += 1
            if wrong := barriers(page):
                found[path] = wrong
        page.context.close()
    assert signing == []
    assert found == {}
    assert read > 20 / PART
