"""Headless Chromium, and the app's files in it without a server."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, Page, Route, sync_playwright

from checks.words import words

STATIC = Path(__file__).parents[2] / "static"
NAMES = ("chromium", "chromium-browser", "google-chrome")
FLAGS = [
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
# Nothing listens there: whatever is not a file of the app fails.
ORIGIN = "http://engine.test"
TAKE_WORDS = "async (said) => (await import('/static/data/words.js')).takeWords(said)"


def executable() -> str:
    """The Chromium to drive. Raises RuntimeError saying how to get one."""
    for name in (os.environ.get("TWENTYMILE_CHROMIUM", ""), *NAMES):
        path = name and shutil.which(name)
        if path:
            return path
    raise RuntimeError("no Chromium found: run `make browser`, or set TWENTYMILE_CHROMIUM")


@contextmanager
def launched() -> Iterator[Browser]:
    """A browser of its own, closed at the end."""
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=executable(), args=FLAGS)
        try:
            yield browser
        finally:
            browser.close()


def engine_page(browser: Browser) -> Page:
    """An empty page that can import what stands below ``static/``, and has the words."""
    page = browser.new_page()
    page.route(f"{ORIGIN}/**", _answer)
    page.goto(f"{ORIGIN}/")
    said = words("en")
    page.evaluate(TAKE_WORDS, said.export(said.ids()))
    return page


def _answer(route: Route) -> None:
    address = route.request.url.removeprefix(ORIGIN)
    if address == "/":
        route.fulfill(body="<!doctype html><title>engine</title>", content_type="text/html")
    else:
        route.fulfill(
            path=STATIC / address.removeprefix("/static/"), content_type="text/javascript"
        )
