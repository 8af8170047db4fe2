"""How fast the phone judges, and how much it has to load.

Run with ``python -m tests.benchmarks.twin``, or a part of it with ``--part later --check
run_stop``. Judges whole three-axle checks in headless Chromium, counted at a quarter of this
machine's speed, and weighs the app's files as they go over the wire.
"""

from __future__ import annotations

import argparse
import json
import tempfile
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path
from random import Random
from statistics import median
from typing import Any

ROOT = Path(__file__).parents[2]

import rfc8785  # noqa: E402
from playwright.sync_api import Browser, CDPSession, Page  # noqa: E402

from checks.facts import wheel_order  # noqa: E402
from checks.judge import asked, join_key, read_case  # noqa: E402
from checks.rulebook import load  # noqa: E402
from tests.support import cases  # noqa: E402
from tests.support.browser import engine_page, launched  # noqa: E402
from tests.support.serve import serving  # noqa: E402
from tests.support.weight import weighed  # noqa: E402

SLOWDOWN, RUNS, PAGES, LATER_PAGES = 4, 40, 5, 3
LATER_CHECKS = ("run_stop", "quick_stop", "walkaround")
JUDGE_MS, SCRIPT_KB, VISIT_KB = 16, 60, 100

READ = """({ text, payload, warmed }) => new Promise((done) => setTimeout(async () => {
    const { load } = await import("/static/engine/judge.js");
    const book = load(JSON.parse(text));
    if (warmed) {
        const { warm } = await import("/static/engine/warm.js");
        const moment = (go) => setTimeout(() => go(() => 0), 0);
        await warm(book, payload.date, () => new Promise(moment));
    }
    Object.assign(window, { book, judge: () => book.judge(payload) });
    done();
}, 0))"""
STEPS = "(steps) => { window.judge = () => window.book.judge(steps.shift()); }"
JUDGE = "() => new Promise((done) => setTimeout(() => { window.judge(); done(); }, 0))"


def full(check: str) -> dict[str, Any]:
    """Three axles and an answer to every fact there is, or nearly every one."""
    book, rng = load(), Random(3)
    keys = cases.every_key(book, wheel_order(3))
    facts = {join_key(key): cases.random_answer(rng, book.facts[key[0]]) for key in keys}
    return {"check": check, "date": "2026-07-14", "facts": facts | {"axles": 3}}


def empty(check: str) -> dict[str, Any]:
    """Three axles and nothing else: every finding is open, which costs most."""
    return {"check": check, "date": "2026-07-14", "facts": {"axles": 3}}


def as_asked(check: str) -> list[dict[str, Any]]:
    """Three axles, the longest walk, answered question by question, then changed here and there.

    Nothing burns and nothing smokes, which would end it."""
    book, rng = load(), Random(4)
    payload: dict[str, Any] = empty(check)
    payload["facts"]["walk_depth"] = "season"
    steps = [payload]

    def answer(key: tuple[str, str]) -> None:
        nonlocal payload
        drawn = cases.random_answer(rng, book.facts[key[0]])
        told = {join_key(key): "no" if key[0] in ("flames", "smoke") else drawn}
        payload = payload | {"facts": payload["facts"] | told}
        steps.append(payload)

    while fresh := [key for key in keys_of(payload) if join_key(key) not in payload["facts"]]:
        answer(fresh[0])
    for key in rng.choices([key for key in keys_of(payload) if key[0] != "axles"], k=RUNS):
        answer(key)
    return steps


def keys_of(payload: dict[str, Any]) -> list[tuple[str, str]]:
    check, told = read_case(payload, load())
    return [key for visit in asked(check, told, load()) for key in visit.keys]


def script_ms(session: CDPSession) -> float:
    """What the page's thread has spent on scripts so far, of its own time, SLOWDOWN times over."""
    told = session.send("Performance.getMetrics")["metrics"]
    return SLOWDOWN * 1000 * next(one["value"] for one in told if one["name"] == "ScriptDuration")


def timed(browser: Browser, text: str, payload: dict[str, Any], warmed: bool) -> list[float]:
    """ms to read the rulebook, then of each judgement, on a page of its own.

    Time of the page's thread alone, so that nothing else on this machine counts.
    """
    page, session = counted(browser)
    marks = [script_ms(session)]
    page.evaluate(READ, {"text": text, "payload": payload, "warmed": warmed})
    marks.append(script_ms(session))
    for _ in range(RUNS if warmed else 1):
        page.evaluate(JUDGE)
        marks.append(script_ms(session))
    page.context.close()
    return [after - before for before, after in pairwise(marks)]


def counted(browser: Browser) -> tuple[Page, CDPSession]:
    """A page, and what counts the time of its thread."""
    page = engine_page(browser)
    session = page.context.new_cdp_session(page)
    session.send("Performance.setTimeDomain", {"timeDomain": "threadTicks"})
    session.send("Performance.enable")
    return page, session


def after_each(browser: Browser, text: str, steps: list[dict[str, Any]]) -> list[float]:
    """ms of each of the judgements, one after the other on a page of its own."""
    page, session = counted(browser)
    page.evaluate(READ, {"text": text, "payload": steps[0], "warmed": True})
    page.evaluate(STEPS, steps)
    marks = [script_ms(session)]
    for _ in steps:
        page.evaluate(JUDGE)
        marks.append(script_ms(session))
    page.context.close()
    return [after - before for before, after in pairwise(marks)]


def print_later(checks: Sequence[str]) -> None:
    """After each answer, as a person gives them: no two judgements are of the same answers."""
    text = rfc8785.dumps(load().data).decode()
    with launched() as browser:
        for check in checks:
            steps = as_asked(check)
            pages = [after_each(browser, text, steps) for _ in range(LATER_PAGES)]
            parts = {"answering": slice(1, -RUNS), "changing": slice(-RUNS, None)}
            for part, cut in parts.items():
                times = sorted(ms for page in pages for ms in page[cut])
                print(
                    f"{check}, {part}: median {median(times):.1f} ms, "
                    f"p95 {times[int(0.95 * len(times))]:.1f} ms, of {len(times)}"
                )
    print()


def print_times() -> None:
    text = rfc8785.dumps(load().data).decode()
    with launched() as browser:
        for check in ("run_stop", "walkaround"):
            for name, payload in (("all answered", full(check)), ("none answered", empty(check))):
                cold = [timed(browser, text, payload, warmed=False) for _ in range(PAGES)]
                warm = [timed(browser, text, payload, warmed=True) for _ in range(PAGES)]
                times = sorted(ms for row in warm for ms in row[2:])
                slow = times[int(0.95 * len(times))]
                print(
                    f"{check}, {name}: rulebook read in {median(row[0] for row in cold):.1f} ms, "
                    f"first judgement {median(row[1] for row in cold):.1f} ms as loaded and "
                    f"{median(row[1] for row in warm):.1f} ms once warm, "
                    f"then median {median(times):.1f} ms, p95 {slow:.1f} ms"
                )
    print(f"budget: {JUDGE_MS} ms at {SLOWDOWN}x slow-down\n")


def print_visit() -> None:
    with (
        tempfile.TemporaryDirectory() as folder,
        serving(Path(folder)) as server,
        launched() as browser,
    ):
        found = weighed(browser, server, Path(folder) / "phone")
    script = sum(size for path, size in found.items() if path.endswith(".js")) / 1000
    print(
        f"first visit over plain HTTP, with headers: {sum(found.values()) / 1000:.1f} kB; ", end=""
    )
    print(f"budget {VISIT_KB} kB; of it script {script:.1f} kB; budget {SCRIPT_KB} kB\n")


def print_sizes() -> None:
    """Everything a phone fetches to work without signal, without headers."""
    for coding in ("gzip", "br"):
        sizes, rest = visits(coding)
        scripts = {at: size for at, size in (sizes | rest).items() if at.endswith(".js")}
        engine = sum(size for at, size in scripts.items() if "/engine/" in at)
        print(f"engine, as sent in {coding}: {engine / 1000:.1f} kB")
        page = sum(size for at, size in scripts.items() if at in sizes and at != "/sw.js") / 1000
        print(f"page script that the worker holds first, in {coding}: {page:.1f} kB")
        later, worker = rest["/later-scripts.txt"] / 1000, sizes["/sw.js"] / 1000
        print(f"page script fetched later, as one: {later:.1f} kB; worker {worker:.1f} kB")
        for address, size in sorted(sizes.items(), key=lambda item: -item[1])[:6]:
            print(f"  {address}: {size / 1000:.1f} kB")
        total = sum(sizes.values()) / 1000
        print(f"what the worker holds first, in {coding}: {total:.1f} kB")
        print(f"fetched right after it: {sum(rest.values()) / 1000:.1f} kB\n")


def visits(coding: str) -> tuple[dict[str, int], dict[str, int]]:
    """Bytes of every answer of a first visit (page, worker, all that it keeps), and after it."""
    from webapp import create_app

    with tempfile.TemporaryDirectory() as data:
        client = create_app({"DATA": Path(data)}).test_client()
        packed = {"Accept-Encoding": coding}
        worker = client.get("/sw.js").text
        shell = json.loads(worker.partition("\n")[0].removeprefix("self.SHELL = ").rstrip(";"))

        def sizes(addresses: list[str]) -> dict[str, int]:
            return {each: len(client.get(each, headers=packed).data) for each in addresses}

        return sizes(["/", "/sw.js", *shell["files"][1:]]), sizes(
            [shell["together"]["address"], *shell["rest"]]
        )


def main() -> None:
    parser = argparse.ArgumentParser(description="How fast the phone judges, and what it loads.")
    parser.add_argument("--part", choices=("times", "later", "visit", "sizes"), action="append")
    parser.add_argument("--check", choices=LATER_CHECKS, action="append", help="of the part later")
    told = parser.parse_args()
    parts = {
        "times": print_times,
        "later": lambda: print_later(told.check or LATER_CHECKS),
        "visit": print_visit,
        "sizes": print_sizes,
    }
    for part in told.part or parts:
        parts[part]()


if __name__ == "__main__":
    main()
