"""The first verdict after loading, once idle moments have gone through the rules.

Run with ``python -m tests.benchmarks.first_verdict``. Loads page after page in headless Chromium,
lets each warm itself as the app does, and counts the first judgement by the time of the page's own
thread, at a quarter of this machine's speed. The budget is one frame at 60 a second, for 95 of 100
loads.
"""

from __future__ import annotations

from random import Random
from statistics import median, quantiles
from typing import Any

import rfc8785
from playwright.sync_api import Browser

from checks.facts import wheel_order
from checks.judge import join_key
from checks.rulebook import load
from tests.benchmarks.twin import JUDGE, SLOWDOWN, script_ms
from tests.support import cases
from tests.support.browser import engine_page, launched

LOADS, AXLES, DATE = 40, 2, "2026-07-14"
FRAME_MS = 1000 / 60

WARM = """({ text, payload }) => new Promise((done, failed) => setTimeout(async () => {
    try {
        const { load } = await import("/static/engine/judge.js");
        const { warm } = await import("/static/engine/warm.js");
        const book = load(JSON.parse(text));
        await warm(book, payload.date);
        window.judge = () => book.judge(payload);
        done();
    } catch (error) { failed(error); }
}, 0))"""


def payloads() -> dict[str, dict[str, Any]]:
    """What is judged first: nothing said yet, and a check kept half-way that has every answer."""
    book, rng = load(), Random(3)
    keys = cases.every_key(book, wheel_order(AXLES))
    given = {join_key(key): cases.random_answer(rng, book.facts[key[0]]) for key in keys}
    made = {}
    for name, check, known in (
        ("quick stop", "quick_stop", {}),
        ("walk of every trip", "walkaround", {"walk_depth": "trip"}),
    ):
        base = known | {"axles": AXLES}
        made[f"{name}, nothing answered"] = {"check": check, "date": DATE, "facts": base}
        made[f"{name}, all answered"] = {"check": check, "date": DATE, "facts": given | base}
    return made


def first(browser: Browser, text: str, payload: dict[str, Any]) -> float:
    """ms of the first judgement on a page of its own."""
    page = engine_page(browser)
    session = page.context.new_cdp_session(page)
    session.send("Performance.setTimeDomain", {"timeDomain": "threadTicks"})
    session.send("Performance.enable")
    page.evaluate(WARM, {"text": text, "payload": payload})
    before = script_ms(session)
    page.evaluate(JUDGE)
    after = script_ms(session)
    page.context.close()
    return after - before


def main() -> None:
    text = rfc8785.dumps(load().data).decode()
    times: dict[str, list[float]] = {name: [] for name in payloads()}
    with launched() as browser:
        for _ in range(LOADS):  # in turn, so that what else the machine does meets all alike
            for name, payload in payloads().items():
                times[name].append(first(browser, text, payload))
    print(f"first verdict at {SLOWDOWN}x slow-down, {LOADS} loads; budget {FRAME_MS:.1f} ms\n")
    print("| check, two axles | median, ms | 95 of 100, ms | worst, ms |\n|---|---|---|---|")
    for name, found in times.items():
        slow = quantiles(found, n=20, method="inclusive")[-1]
        print(f"| {name} | {median(found):.1f} | {slow:.1f} | {max(found):.1f} |")


if __name__ == "__main__":
    main()
