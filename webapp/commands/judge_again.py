"""Judge every kept check by today's rules: ``python -m webapp.commands.judge_again``.

What was told when a check came in stays as it was. Beside it goes the level that today's rules
give, where that is another one. It can be stopped at any time and goes on where it was; after
another change of the rules it begins anew. The server may run meanwhile.
"""

from __future__ import annotations

import argparse
import json
import os
import re
import signal
import sys
import time
from collections import Counter, deque
from collections.abc import Iterator
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from dataclasses import dataclass, field
from hashlib import sha256
from multiprocessing import get_context
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, bindparam, delete, func, select, update

from checks import prompt
from checks.facts import BadInput
from checks.judge import level_of
from checks.rulebook import PARTS, export
from checks.words import Words
from webapp import create_app
from webapp.config import BadSetting
from webapp.follow_up.shelves import SHELVES
from webapp.storage.models import judgings, records
from webapp.storage.store import Store
from webapp.wording import number_text, percent_text, say, speaking

PART = 500  # rows of one commit
AHEAD = 4  # parts that wait for each process, so that none is idle
MOST_TOLD = 20
BAR = 30


@dataclass
class Part:
    """What came of one stretch of the store: ``changed`` are rows with their new ``level_now``."""

    last: int
    judged: int = 0
    unreadable: int = 0
    changed: list[dict[str, Any]] = field(default_factory=list)


# ---- in each process ----------------------------------------------------------------------------

_store: Store | None = None


def begin(url: str, data: Path) -> None:
    """What a process needs; it is ended by the one that began it, not by the keyboard."""
    global _store
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _store = Store(url, data)


def judged(first: int, last: int) -> Part:
    """Judge the checks from ``first`` to ``last``; nothing is written here."""
    assert _store is not None
    columns = (records.c.seq, records.c.record, records.c.level, records.c.level_now)
    here = (records.c.seq >= first, records.c.seq <= last, records.c.kind == "check")
    with _store.reading() as connection:
        rows = connection.execute(select(*columns).where(*here)).all()
    part = Part(last)
    for row in rows:
        now = level_by_now(json.loads(row.record)["body"])
        part.judged += 1
        part.unreadable += now is None
        found = None if now == row.level else now
        if found != row.level_now:
            part.changed.append({"row": row.seq, "found": found})
    return part


def level_by_now(body: dict[str, Any]) -> str | None:
    """The level by today's rules, or None where these cannot read what was answered then."""
    try:
        return level_of({key: body[key] for key in ("check", "date", "facts")})
    except BadInput:
        return None


# ---- in the one that shares out -----------------------------------------------------------------


def rules_of_today() -> str:
    """One hash for all parts of the rules: a check is judged by one or the other."""
    return sha256("".join(export(part)["hash"] for part in PARTS).encode()).hexdigest()


def again(store: Store, pool: Executor, rules: str, at_once: int) -> Iterator[Part]:
    """Judge what has not been judged by ``rules``; each part is on disk when it is yielded."""
    waiting: deque[Future[Part]] = deque()
    with store.reading() as connection:
        done, last = mark(connection, rules), newest(connection)
    for first in range(done + 1, last + 1, PART):
        waiting.append(pool.submit(judged, first, min(first + PART - 1, last)))
        if len(waiting) >= at_once:
            yield written(store, rules, waiting.popleft().result())
    while waiting:
        yield written(store, rules, waiting.popleft().result())


def mark(connection: Connection, rules: str) -> int:
    """The last row that was judged by ``rules``."""
    found = connection.execute(select(judgings.c.seq).where(judgings.c.rules == rules)).scalar()
    return found or 0


def newest(connection: Connection) -> int:
    return connection.execute(select(func.max(records.c.seq))).scalar() or 0


def written(store: Store, rules: str, part: Part) -> Part:
    """In one commit what changed and how far it went: whatever ends the run, both or neither."""
    with store.writing() as connection:
        if part.changed:
            here = update(records).where(records.c.seq == bindparam("row"))
            connection.execute(here.values(level_now=bindparam("found")), part.changed)
        connection.execute(delete(judgings))
        connection.execute(judgings.insert().values(rules=rules, seq=part.last))
    return part


# ---- what is told -------------------------------------------------------------------------------


class Bar:
    """How far it is, on one line of a terminal; elsewhere nothing."""

    def __init__(self, first: int, last: int) -> None:
        self.first, self.last, self.began = first, last, time.monotonic()
        self.on = sys.stderr.isatty()

    def show(self, seq: int, count: int) -> None:
        if not self.on:
            return
        share = (seq - self.first) / max(1, self.last - self.first)
        rate = count / max(0.001, time.monotonic() - self.began)
        bar = "#" * round(share * BAR)
        shown = {"share": percent_text(share), "count": number_text(count)}
        told = say("cli-again-bar", rate=number_text(rate), **shown)
        print(f"\r[{bar:<{BAR}}] {told}", end="", file=sys.stderr, flush=True)

    def end(self) -> None:
        if self.on:
            print(file=sys.stderr)


def told(store: Store) -> Iterator[str]:
    """Which levels are others by now, worst first, and the checks that are *Stop now* by now."""
    other = records.c.level_now.is_not(None)
    wanted = select(records.c.level, records.c.level_now, func.count()).where(other)
    with store.reading() as connection:
        rows = connection.execute(wanted.group_by(records.c.level, records.c.level_now)).all()
        stop = select(records.c.id).where(records.c.level_now == "stop").order_by(records.c.seq)
        ids = connection.execute(stop.limit(MOST_TOLD + 1)).scalars().all()
    for then, now, count in sorted(rows, key=lambda row: (SHELVES[row[1]], SHELVES[row[0]])):
        levels = {"then": say(f"level-{then}"), "now": say(f"level-{now}")}
        yield say("cli-again-moved", count=number_text(count), **levels)
    for one in ids[:MOST_TOLD]:
        yield say("cli-again-stop", check=one)
    if len(ids) > MOST_TOLD:
        yield say("cli-again-more")


def run(store: Store, pool: Executor, processes: int) -> bool:
    """Judge and tell; whether it came to its end."""
    rules, total, ended = rules_of_today(), Counter[str](), False
    with store.reading() as connection:
        bar = Bar(mark(connection, rules), newest(connection))
    try:
        for part in again(store, pool, rules, processes * AHEAD):
            total.update(judged=part.judged, unreadable=part.unreadable)
            bar.show(part.last, total["judged"])
        ended = True
    except KeyboardInterrupt:
        pool.shutdown(wait=False, cancel_futures=True)
    bar.end()
    end = "cli-again-done" if ended else "cli-again-stopped"
    print(say(end, count=number_text(total["judged"])))
    if total["unreadable"]:
        print(say("cli-again-unreadable", count=number_text(total["unreadable"])))
    for line in told(store) if ended else ():
        print(line)
    return ended


def parser(said: Words) -> argparse.ArgumentParser:
    made = prompt.parser("webapp.commands.judge_again", "cli-again", said)
    all_of_them = str(os.cpu_count() or 1)
    told = say("cli-again-processes")
    made.add_argument("--processes", default=all_of_them, metavar="N", help=told)
    return made


def main() -> None:
    said = prompt.spoken()
    with speaking(said.language):
        sys.exit(begun(parser(said).parse_args()))


def begun(given: argparse.Namespace) -> int:
    """Judge the store of this server; the status to end with."""
    processes = int(given.processes) if re.fullmatch("[0-9]{1,3}", given.processes) else 0
    if not processes:
        sys.exit(say("cli-again-few"))
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    try:
        app = create_app()
    except BadSetting as error:
        sys.exit(str(error))
    store: Store = app.extensions["store"]
    where = (app.config["DATABASE_URL"], app.config["DATA"])
    spawning = get_context("spawn")
    with ProcessPoolExecutor(processes, spawning, initializer=begin, initargs=where) as pool:
        return 0 if run(store, pool, processes) else 130


if __name__ == "__main__":
    main()
