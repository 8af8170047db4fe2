"""Waiting for what is to come, never for a time to pass."""

from __future__ import annotations

import time
from collections.abc import Callable

from playwright.sync_api import Page

# Seconds for what a quiet machine has ready in one: a test that waits so long has failed for its
# fault, never because others keep the machine busy.
PATIENCE = 60.0
# Past the next frame: what watches the layout has been told of it by then.
DRAWN = """() => new Promise((done) => {
  requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done)));
})"""


def until(holds: Callable[[], bool], what: str, patience: float = PATIENCE) -> None:
    """Poll until it holds; AssertionError after ``patience`` seconds.

    From outside the page: its content policy forbids what the driver would poll with.
    """
    deadline = time.monotonic() + patience
    while not holds():
        if time.monotonic() > deadline:
            raise AssertionError(f"never came true: {what}")
        time.sleep(0.01)


def drawn(page: Page) -> None:
    """Wait until the page is drawn as it is now."""
    page.evaluate(DRAWN)
