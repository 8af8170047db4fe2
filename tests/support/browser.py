"""Headless Chromium, and the app's files in it without a server."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from playwright.sync_api import (
    Browser,
    BrowserContext,
    ConsoleMessage,
    Page,
    Route,
    expect,
    sync_playwright,
)

from checks.words import words
from tests.support.waiting import PATIENCE

STATIC = Path(__file__).parents[2] / "static"
NAMES = ("chromium", "chromium-browser", "google-chrome")
# Lists that hang from the address bar, each drawn by a process of its own in every new window; of
# two lists of features the last one counts, so what the driver leaves out stands here, too.
LEFT_OUT = (
    *("WebUIOmniboxPopup", "WebUIOmniboxAimPopup", "WebUIOmniboxFullPopup"),
    *("AvoidUnnecessaryBeforeUnloadCheckSync", "DestroyProfileOnBrowserClose", "HttpsUpgrades"),
    *("HttpsFirstBalancedModeAutoEnable", "LensOverlay", "MediaRouter", "PaintHolding"),
    *("ThirdPartyStoragePartitioning", "AvoidCorsURLLoaderRestartOnRedirect", "AimEnabled"),
    *("OptimizationHints", "NetworkTimeServiceQuerying", "PreconnectToSearch"),
)
FLAGS = [
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    f"--disable-features={','.join(LEFT_OUT)}",
]
# Nothing listens there: whatever is not a file of the app fails.
ORIGIN = "http://engine.test"
# What pages did against their content policy. A test that ends with anything here fails (conftest).
AGAINST_POLICY: list[str] = []
expect.set_options(timeout=PATIENCE * 1000)
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
            yield watched(browser)
        finally:
            browser.close()


def watched(browser: Browser) -> Browser:
    """The browser, each context of which notes what is done against a content policy."""
    make_context, make_page = browser.new_context, browser.new_page

    def new_context(**given: Any) -> BrowserContext:
        return watch(make_context(**given))

    def new_page(**given: Any) -> Page:
        page = make_page(**given)
        watch(page.context)
        return page

    browser.new_context, browser.new_page = new_context, new_page  # type: ignore[method-assign]
    return browser


def watch(context: BrowserContext) -> BrowserContext:
    """Chromium tells the console of each violation, those of frames and styles too.

    Whatever is waited for in it is given the patience of all tests.
    """
    context.set_default_timeout(PATIENCE * 1000)

    def note(message: ConsoleMessage) -> None:
        if "Content Security Policy" in message.text:
            AGAINST_POLICY.append(message.text)

    context.on("console", note)
    return context


def engine_page(browser: Browser, **made: str) -> Page:
    """An empty page that can import what stands below ``static/``, and has the words; ``made`` is
    what the driver makes it with."""
    page = browser.new_page(**made)  # type: ignore[arg-type]
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
