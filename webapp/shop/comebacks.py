"""What came back after a job: by part, wheel, work and season, so that a shop sees its own.

A comeback is a check that found *Stop now* or *Mend before towing* within 90 days after a job on
that trailer was finished; it counts for the last job before it. It says what was found, not whose
fault it is.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any, TypedDict

from flask import Blueprint, render_template
from flask.typing import ResponseReturnValue
from sqlalchemy import Connection, select

from webapp.clock import now
from webapp.follow_up.schedule import WORK
from webapp.shop import lists, questions, session
from webapp.storage.models import jobs, records
from webapp.storage.store import AnyRow, store
from webapp.wording import place_text, said, say

blueprint = Blueprint("comebacks", __name__, url_prefix="/shop")
Json = dict[str, Any]
WITHIN = timedelta(days=90)
LOOKED_BACK = timedelta(days=730)
MOST_JOBS = 1_000
AT_ONCE = 500  # ids in one statement
BAD = ("stop", "mend")
SEASONS = ("winter", "spring", "summer", "fall")


@dataclass
class Tally:
    """Counts by id: of points, places, kinds of work and seasons; ``jobs`` is out of how many."""

    parts: Counter[str] = field(default_factory=Counter)
    wheels: Counter[str] = field(default_factory=Counter)
    works: Counter[str] = field(default_factory=Counter)
    seasons: Counter[str] = field(default_factory=Counter)
    jobs: Counter[str] = field(default_factory=Counter)
    checks: int = 0


@blueprint.get("/comebacks")
def show() -> ResponseReturnValue:
    """Of so many jobs at a time: the last page costs as much as the first."""
    shop_id = session.me()["shop_id"]
    with store().reading() as connection:
        done, more = finished(connection, shop_id, lists.after())
        tally = counted(done, neighbours(connection, done), came(connection, done))
    tables = {
        "part": rows(tally.parts, lambda name: said(f"point-{name}", name)),
        "wheel": rows(tally.wheels, lambda place: place_text(place, questions.MOST_AXLES)),
        "work": rows(tally.works, lambda name: say(f"form-work-{name}"), tally.jobs),
        "season": rows(tally.seasons, lambda name: say(f"shop-season-{name}")),
    }
    times = [job.finished for job in done]
    span = (min(times), max(times)) if times else None
    parts = {"tables": tables, "tally": tally, "jobs": len(done), "span": span, "more": more}
    return render_template("shop/comebacks.html", **parts)


def finished(
    connection: Connection, shop_id: int, start: int | None
) -> tuple[list[AnyRow], int | None]:
    """Jobs finished in the time looked at, the last first, and where the next page begins."""
    since = (jobs.c.shop_id == shop_id, jobs.c.finished > now() - LOOKED_BACK)
    wanted = select(jobs).where(*since)
    if start is not None:
        wanted = wanted.where(lists.beyond(jobs, jobs.c.finished, start, down=True))
    wanted = wanted.order_by(jobs.c.finished.desc(), jobs.c.id.desc())
    return lists.page(connection, wanted, MOST_JOBS)


def neighbours(connection: Connection, done: list[AnyRow]) -> dict[int, list[AnyRow]]:
    """By trailer of these jobs all its finished ones, the last first."""
    found: dict[int, list[AnyRow]] = {}
    for some in chunks({job.trailer_id for job in done}):
        wanted = select(jobs.c.id, jobs.c.trailer_id, jobs.c.finished)
        theirs = (jobs.c.trailer_id.in_(some), jobs.c.finished.is_not(None))
        for row in connection.execute(wanted.where(*theirs).order_by(jobs.c.finished.desc())):
            found.setdefault(row.trailer_id, []).append(row)
    return found


def came(connection: Connection, done: list[AnyRow]) -> Iterator[AnyRow]:
    """Checks that found something bad on the trailers of these jobs."""
    for some in chunks({job.trailer_id for job in done}):
        wanted = select(records.c.id, records.c.made_ms, records.c.trailer_key).where(
            records.c.trailer_key.in_(some),
            records.c.level.in_(BAD),
            records.c.shop_id.is_not(None),  # of two copies the one that is shown
            records.c.kind == "check",
        )
        yield from connection.execute(wanted.add_columns(records.c.verdict))


def chunks(ids: Iterable[int]) -> Iterator[list[int]]:
    every = sorted(ids)
    return (every[start : start + AT_ONCE] for start in range(0, len(every), AT_ONCE))


def counted(done: list[AnyRow], others: dict[int, list[AnyRow]], checks: Iterable[Any]) -> Tally:
    ours = {job.id: job for job in done}
    tally = Tally(jobs=Counter(name for job in done for name in job.work))
    again: set[tuple[int, str]] = set()
    for row in checks:
        made = datetime.fromtimestamp(row.made_ms / 1000, now().tzinfo)
        before = (job for job in others[row.trailer_key] if job.finished < made)
        job = ours.get(next((one.id for one in before), 0))
        if job is None or row.id == job.record_id or made - job.finished > WITHIN:
            continue
        tally.checks += 1
        tally.seasons[SEASONS[made.month % 12 // 3]] += 1
        again |= {(job.id, name) for name in job.work if name in WORK}
        places(tally, json.loads(row.verdict))
    tally.works = Counter(name for _, name in again)
    return tally


def places(tally: Tally, verdict: Json) -> None:
    """Every part and every wheel once a check, however much was found there."""
    bad = [point for point in verdict.get("points", []) if point.get("level") in BAD]
    tally.parts.update({point["point"] for point in bad})
    tally.wheels.update({point["place"] for point in bad if point["place"]})


class Bar(TypedDict):
    """A line of a count; ``share`` is that of the longest bar, 0 to 1."""

    name: str
    count: int
    of: int | None
    share: float


def rows(counts: Counter[str], words: Any, of: Counter[str] | None = None) -> list[Bar]:
    """The most first."""
    most = max(counts.values(), default=1)
    return [
        {
            "name": words(name),
            "count": count,
            "of": None if of is None else of[name],
            "share": count / most,
        }
        for name, count in counts.most_common()
    ]
