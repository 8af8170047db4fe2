"""Judging kept checks again, by the command as it stands, on SQLite.

    python -m tests.benchmarks.again [--checks 20000] [--processes 2]

Beside the rate it tells what processor each check took, the start of the processes left out: on a
machine that others use too that is what stays the same.
"""

from __future__ import annotations

import argparse
import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.benchmarks.serving import season_facts
from tests.support.records import check_body, record, uuid7
from tests.support.serve import ROOT
from webapp import create_app
from webapp.canonical import canonical
from webapp.storage.models import records
from webapp.storage.store import Store


def fill(data: Path, count: int) -> None:
    """Checks of a season stop that, as the store has them, were judged *Mend* then."""
    kept: Store = create_app({"DATA": data}).extensions["store"]
    body = check_body(facts=season_facts())
    text = canonical(record(body=body)).decode()
    row = {"device": "d", "hash": "h", "kind": "check", "version": 1, "level": "mend"}
    row |= {"made_ms": 0, "received_ms": 0, "record": text}
    with kept.writing() as connection:
        connection.execute(records.insert(), [row | {"id": uuid7()} for _ in range(count)])
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
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        data = Path(folder)
        fill(data, given.checks)
        whole = run(data, given.processes)
        fill(data, 1)  # the same start with next to nothing to do
        start = run(data, given.processes)
    clock, processor = (a - b for a, b in zip(whole, start, strict=True))
    each = processor / given.checks
    print(f"{given.checks} checks of {len(season_facts())} answers, {given.processes} processes")
    print(f"{given.checks / clock:.0f} a second, {each * 1e3:.3f} ms of processor each")
    print(f"start {start[0]:.1f} s; two cores of their own: {2 / each:.0f} a second at most")


if __name__ == "__main__":
    main()
