"""Judging kept checks again, by the command as it stands, on SQLite.

    python -m tests.benchmarks.again [--checks 20000] [--processes 2] [--mixed]

The checks are the fullest stop of the demo's season; ``--mixed``: every check of it in turn, and a
whole walkaround of three axles.

Beside the rate it tells what processor each check took, the start of the processes left out: on a
machine that others use too that is what stays the same.
"""

from __future__ import annotations

import argparse
import itertools
import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from tests.benchmarks.judging import full
from tests.benchmarks.serving import season_checks, season_facts
from tests.support.records import check_body, record, uuid7
from tests.support.serve import ROOT
from webapp import create_app
from webapp.canonical import canonical
from webapp.storage.models import records
from webapp.storage.store import Store


def bodies(mixed: bool) -> list[dict[str, Any]]:
    if not mixed:
        return [check_body(facts=season_facts())]
    checks = [check_body(check=kind, facts=facts) for kind, facts in season_checks()]
    return [*checks, check_body(**full("walkaround"))]


def fill(data: Path, count: int, mixed: bool = False) -> None:
    """Checks that, as the store has them, were judged *Mend* then."""
    kept: Store = create_app({"DATA": data}).extensions["store"]
    texts = [canonical(record(body=body)).decode() for body in bodies(mixed)]
    row = {"device": "d", "hash": "h", "kind": "check", "version": 1, "level": "mend"}
    row |= {"made_ms": 0, "received_ms": 0}
    turns = itertools.islice(itertools.cycle(texts), count)
    with kept.writing() as connection:
        connection.execute(records.insert(), [row | {"id": uuid7(), "record": t} for t in turns])
    kept.engine.dispose()


def run(data: Path, processes: int) -> tuple[float, float]:
    """Seconds by the clock and of processor."""
    command = [sys.executable, "-m", "webapp.commands.judge_again", f"--processes={processes}"]
    before, began = used(), time.perf_counter()
    quiet = subprocess.DEVNULL
    environment = os.environ | {"TWENTYMILE_DATA": str(data)}
    subprocess.run(command, cwd=ROOT, env=environment, check=True, stdout=quiet)
    return time.perf_counter() - began, used() - before


def used() -> float:
    spent = resource.getrusage(resource.RUSAGE_CHILDREN)
    return spent.ru_utime + spent.ru_stime


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--checks", type=int, default=20_000)
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--mixed", action="store_true")
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        data = Path(folder)
        fill(data, given.checks, given.mixed)
        whole = run(data, given.processes)
        fill(data, 1)  # the same start with next to nothing to do
        start = run(data, given.processes)
    clock, processor = (a - b for a, b in zip(whole, start, strict=True))
    each = processor / given.checks
    answers = [len(body["facts"]) for body in bodies(given.mixed)]
    mean = sum(answers) / len(answers)
    print(f"{given.checks} checks of {mean:.0f} answers, {given.processes} processes")
    print(f"{given.checks / clock:.0f} a second, {each * 1e3:.3f} ms of processor each")
    print(f"start {start[0]:.1f} s; two cores of their own: {2 / each:.0f} a second at most")


if __name__ == "__main__":
    main()
