"""What people wait for, judging and storing: `make bench` prints a table against no bar."""

from __future__ import annotations

import http.client
import json
import platform
import tempfile
import time
import tomllib
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

from checks.judge import judge
from checks.rulebook import export
from tests.support.records import HEADERS, check_body, envelope, record
from tests.support.serve import ROOT, serving

RUNS = 400


def season_checks() -> list[tuple[str, dict[str, Any]]]:
    """The checks of the demo's season, each with its kind and its answers."""
    season = tomllib.loads((ROOT / "webapp/commands/demo.toml").read_text("utf-8"))
    checks = [(t, c) for t in season["trailer"] for c in t["check"]]
    return [(c["check"], t["facts"] | c["facts"]) for t, c in checks]


def season_facts() -> dict[str, Any]:
    """The fullest check of the demo's season."""
    return max((facts for _, facts in season_checks()), key=len)


def timed(work: Callable[[], object], runs: int) -> list[float]:
    """Seconds of each run, shortest first."""
    found = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        found.append(time.perf_counter() - start)
    return sorted(found)


def line(name: str, seconds: list[float], rate: float | None = None) -> str:
    middle, late = seconds[len(seconds) // 2], seconds[int(len(seconds) * 0.99)]
    per_second = "" if rate is None else f"{rate:8.0f}/s"
    return f"| {name:34} | {middle * 1e3:8.2f} | {late * 1e3:8.2f} | {per_second:>10} |"


def send_many(port: int, facts: dict[str, Any], count: int) -> list[float]:
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    headers = HEADERS | {"Content-Type": "application/json"}

    def send() -> None:
        sent = json.dumps(envelope(record(body=check_body(facts=facts))))
        connection.request("POST", "/api/records", sent, headers)
        answer = connection.getresponse()
        if answer.status != 200:
            raise RuntimeError(answer.read().decode())
        answer.read()

    found = timed(send, count)
    connection.close()
    return found


def storing(clients: int, facts: dict[str, Any]) -> str:
    """Checks stored by so many phones at once, over HTTP, each flushed to disk."""
    with tempfile.TemporaryDirectory() as folder, serving(Path(folder)) as address:
        port = int(address.rsplit(":", 1)[1])
        send_many(port, facts, 5)
        start = time.perf_counter()
        with ThreadPoolExecutor(clients) as pool:
            shares = [pool.submit(send_many, port, facts, RUNS // clients) for _ in range(clients)]
            seconds = sorted(second for share in shares for second in share.result())
        rate = len(seconds) / (time.perf_counter() - start)
    return line(f"store a check, {clients} at once", seconds, rate)


def main() -> None:
    facts = season_facts()
    export()
    payload = {"check": "run_stop", "date": "2026-07-14", "facts": facts}
    print(f"Python {platform.python_version()}, {platform.machine()}")
    print(f"| {'what':34} | p50 (ms) | p99 (ms) | {'rate':>10} |")
    print(f"|{'-' * 36}|---------:|---------:|-----------:|")
    print(line(f"judge a run stop, {len(facts)} answers", timed(lambda: judge(payload), RUNS)))
    for clients in (1, 8):
        print(storing(clients, facts))


if __name__ == "__main__":
    main()
