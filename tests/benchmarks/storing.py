"""Storing checks: how many a second, from eight phones that each have a queue of them.

    python -m tests.benchmarks.storing [--checks 800] [--stored 100000] [--against FOLDER]
        [--postgres]

The phones are a process of their own, with all that they send made ready beforehand. Each way is
measured several times in turn, so that whatever else the machine does meets them alike. What the
server's processes themselves used of the processors is told beside the rate: on a machine that
others use too it is what stays the same. ``--stored`` puts so many checks there first;
``--against`` measures another checkout of the server too. ``--postgres``: on a PostgreSQL that
flushes each commit, a cluster of its own for each round.
"""

from __future__ import annotations

import argparse
import http.client
import json
import os
import subprocess
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, contextmanager
from pathlib import Path
from statistics import median
from typing import Any

from tests.benchmarks.serving import season_facts
from tests.support.on_postgres import cluster
from tests.support.records import HEADERS, check_body, envelope, record, uuid7
from tests.support.serve import ROOT, free_port, wait_until_healthy
from webapp import create_app
from webapp.__main__ import gunicorn_arguments
from webapp.storage.models import records

PHONES, IN_ONE, ROUNDS = 8, (1, 2, 5), 3
FILLED = 5000  # checks put there at once
WARM = 80  # sent beforehand, by all phones, so that each process has judged some
TICKS = os.sysconf("SC_CLK_TCK")


@contextmanager
def serving(code: Path, stored: int, database: str = "") -> Iterator[tuple[int, int]]:
    """The server of a checkout as `make run` starts it: its port and its process."""
    port = free_port()
    named = {"TWENTYMILE_DATABASE_URL": database} if database else {}
    named["TWENTYMILE_STRANGER_MB"] = "0"  # one place sends it all
    with tempfile.TemporaryDirectory() as data, (Path(data) / "log").open("wb") as log:
        fill({"DATA": Path(data)} | ({"DATABASE_URL": database} if database else {}), stored)
        process = subprocess.Popen(
            gunicorn_arguments("127.0.0.1", str(port)),
            cwd=code,
            env=os.environ | {"TWENTYMILE_DATA": data, "PYTHONPATH": str(code)} | named,
            stdout=log,
            stderr=log,
        )
        try:
            wait_until_healthy(f"http://127.0.0.1:{port}", process, Path(data) / "log", 60)
            yield port, process.pid
        finally:
            process.terminate()
            process.wait(40)


def fill(config: dict[str, Any], count: int) -> None:
    """So many checks of a thousand phones, as they would stand there."""
    store = create_app(config).extensions["store"]
    text = json.dumps(record(body=check_body(facts=season_facts())))
    same = {"hash": "0" * 64, "kind": "check", "version": 1, "made_ms": 1, "received_ms": 1}
    for at in range(0, count, FILLED):
        numbers = range(at, min(at + FILLED, count))
        rows = [
            same | {"device": f"{n % 1000:064}", "id": uuid7(), "record": text, "verdict": text}
            for n in numbers
        ]
        with store.writing() as connection:
            connection.execute(records.insert(), rows)
    store.engine.dispose()


def used(process: int) -> float:
    """Seconds of processor that a process and its children have had (``man 5 proc``)."""
    found = 0.0
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            fields = (folder / "stat").read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if process in (int(folder.name), int(fields[1])):
            found += (int(fields[11]) + int(fields[12])) / TICKS
    return found


def post(connection: http.client.HTTPConnection, path: str, body: str) -> Any:
    connection.request("POST", path, body, HEADERS | {"Content-Type": "application/json"})
    answer = connection.getresponse()
    return answer.status, json.loads(answer.read())


def phone(port: int, checks: list[dict[str, Any]], in_one: int) -> list[float]:
    """Seconds until each request was answered; every check is proved to be acknowledged."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    parts = [checks[at : at + in_one] for at in range(0, len(checks), in_one)]
    bodies = [json.dumps({"records": part} if in_one > 1 else part[0]) for part in parts]
    path, found = "/api/records" + ("/several" if in_one > 1 else ""), []
    for part, body in zip(parts, bodies, strict=True):
        start = time.perf_counter()
        status, answer = post(connection, path, body)
        found.append(time.perf_counter() - start)
        answers = [one["body"] for one in answer["answers"]] if in_one > 1 else [answer]
        if status != 200 or [one.get("hash") for one in answers] != [one["hash"] for one in part]:
            raise RuntimeError(f"{status}: {answer}")
    connection.close()
    return found


def phones(port: int, count: int, in_one: int) -> dict[str, float]:
    sent_by_all(port, queued(WARM), 1)  # a process writes its rules out for its first checks
    queues, start = queued(count), time.perf_counter()
    seconds = sent_by_all(port, queues, in_one)
    rate = sum(map(len, queues)) / (time.perf_counter() - start)
    at = {name: seconds[int(len(seconds) * part)] for name, part in (("p50", 0.5), ("p99", 0.99))}
    return {"rate": rate, "worst": seconds[-1]} | at


def queued(count: int) -> list[list[dict[str, Any]]]:
    """So many checks, shared out to the phones."""
    facts = season_facts()
    return [
        [envelope(record(body=check_body(facts=facts))) for _ in range(count // PHONES)]
        for _ in range(PHONES)
    ]


def sent_by_all(port: int, queues: list[list[dict[str, Any]]], in_one: int) -> list[float]:
    """Seconds of each request, shortest first."""
    with ThreadPoolExecutor(PHONES) as pool:
        shares = [pool.submit(phone, port, queue, in_one) for queue in queues]
        return sorted(second for share in shares for second in share.result())


def measured(code: Path, in_one: int, given: argparse.Namespace) -> dict[str, float]:
    count = given.checks
    with ExitStack() as stack:
        database = stack.enter_context(cluster(flushed=True)) if given.postgres else ""
        port, process = stack.enter_context(serving(code, given.stored, database))
        begun = used(process)
        command = [sys.executable, "-m", "tests.benchmarks.storing", "--phones", str(port)]
        command += ["--checks", str(count), "--in-one", str(in_one)]
        done = subprocess.run(command, cwd=ROOT, stdout=subprocess.PIPE, check=True)
        found: dict[str, float] = json.loads(done.stdout)
        return found | {"cpu": (used(process) - begun) / (count + WARM)}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--checks", type=int, default=800)
    parser.add_argument("--stored", type=int, default=0)
    parser.add_argument("--against", type=Path)
    parser.add_argument("--postgres", action="store_true")
    parser.add_argument("--in-one", type=int, default=1, help=argparse.SUPPRESS)
    parser.add_argument("--phones", type=int, help=argparse.SUPPRESS)
    given = parser.parse_args()
    if given.phones:
        print(json.dumps(phones(given.phones, given.checks, given.in_one)))
        return
    ways = {f"{n} a request": (ROOT, n) for n in IN_ONE}
    if given.against:
        ways = {f"the other checkout, {n} a request": (given.against, n) for n in IN_ONE} | ways
    found = defaultdict(list)
    for _ in range(ROUNDS):
        for name, (code, in_one) in ways.items():
            found[name].append(measured(code, in_one, given))
    stored = f"{given.stored} stored already, " if given.stored else ""
    where = "PostgreSQL" if given.postgres else "SQLite"
    print(f"{where}, {PHONES} phones, {given.checks} checks, {stored}median of {ROUNDS} rounds")
    print("| way | checks a second | p50, ms | p99, ms | worst, ms | processor a check, ms |")
    print("|---|---|---|---|---|---|")
    for name, rounds in found.items():
        rate, *times = (median(one[key] for one in rounds) for key in KEYS)
        print(f"| {name} | {rate:.0f} | " + " | ".join(f"{t * 1e3:.1f}" for t in times) + " |")


KEYS = ("rate", "p50", "p99", "worst", "cpu")

if __name__ == "__main__":
    main()
