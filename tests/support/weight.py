"""What a first visit weighs on the wire, as the browser counts it."""

from __future__ import annotations

from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from playwright.sync_api import Browser

from tests.support.phone import phone

# What is to be fetched two seconds on, or later, is never begun: so none of it is counted, however
# slow the machine is.
TWO_SECONDS = """const soon = setTimeout;
window.setTimeout = (work, wait, ...more) => (wait >= 2000 ? 0 : soon(work, wait, ...more));"""
HOST = "trailer.test"


def weighed(browser: Browser, server: str, profile: Path, locale: str = "en-US") -> dict[str, int]:
    """Bytes of every answer, headers included, by path; ``profile`` is an empty folder.

    Over plain HTTP at an address of a local network, where nothing packs tighter than gzip and no
    worker helps. A path that is asked for twice counts twice.
    """
    paths: dict[str, str] = {}
    found: dict[str, int] = {}

    def asked(event: dict[str, Any]) -> None:
        paths[event["requestId"]] = urlsplit(event["request"]["url"]).path

    def done(event: dict[str, Any]) -> None:
        path = paths.get(event["requestId"], "?")
        found[path] = found.get(path, 0) + event["encodedDataLength"]

    rules = f"--host-resolver-rules=MAP {HOST} 127.0.0.1"
    with phone(browser, profile, server, flags=[rules], locale=locale) as one:
        one.page.add_init_script(TWO_SECONDS)
        session = one.context.new_cdp_session(one.page)
        session.send("Network.enable")
        session.on("Network.requestWillBeSent", asked)
        session.on("Network.loadingFinished", done)
        one.page.goto(server.replace("127.0.0.1", HOST))
        one.page.wait_for_selector(".page:not(.first)")
        one.page.wait_for_load_state("networkidle")
    return found
