"""What came back after a job: by part, wheel, work and season, so that a shop sees its own.

A comeback is a check that found *Stop now* or *Mend before towing* within 90 days after a job on
that trailer was finished; it counts for the last job before it. It says what was found, not whose
fault it is.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any

from flask import Blueprint, render_template
from flask.typing import ResponseReturnValue
from sqlalchemy import Connection, and_, select

from webapp.clock import now
from webapp.follow_up.schedule import WORK
from webapp.shop import questions, session
from webapp.storage.models import jobs, records
from webapp.storage.store import store
from webapp.wording import place_text, said, say

blueprint = Blueprint("comebacks", __name__, url_prefix="/shop")
Json = dict[str, Any]
WITHIN = timedelta(days=90)
LOOKED_BACK = timedelta(days=730)
MOST_JOBS = 5_000
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
    with store().reading() as connection:
        done = finished(connection, session.me()["shop_id"])
        tally = counted(done, came(connection, session.me()["shop_id"]))
    tables = {
        "part": rows(tally.parts, lambda name: said(f"point-{name}", name)),
        "wheel": rows(tally.wheels, lambda place: place_text(place, questions.MOST_AXLES)),
        "work": rows(tally.works, lambda name: say(f"form-work-{name}"), tally.jobs),
        "season": rows(tally.seasons, lambda name: say(f"shop-season-{name}")),
    }
    return render_template("shop/comebacks.html", tables=tables, tally=tally, jobs=len(done))


def finished(connection: Connection, shop_id: int) -> dict[int, Any]:
    """Jobs finished in the time looked at, by id."""
    since = (jobs.c.shop_id == shop_id, jobs.c.finished > now() - LOOKED_BACK)
    wanted = select(jobs.c.id, jobs.c.trailer_id, jobs.c.finished, jobs.c.work).where(*since)
    found = connection.execute(wanted.order_by(jobs.c.finished.desc()).limit(MOST_JOBS)).all()
    return {row.id: row for row in found}


def came(connection: Connection, shop_id: int) -> list[Any]:
    """Checks that found something bad on trailers that a job was finished on, oldest first."""
    since = int((now() - LOOKED_BACK).timestamp() * 1000)
    theirs = (records.c.trailer_key == jobs.c.trailer_id, records.c.made_ms > since)
    other = records.c.id.is_distinct_from(jobs.c.record_id)  # not its own bench record
    wanted = (
        select(records.c.seq, records.c.id, records.c.made_ms, records.c.trailer_key)
        .add_columns(records.c.verdict)
        .join(jobs, and_(*theirs))
        .where(jobs.c.shop_id == shop_id, jobs.c.finished.is_not(None), other)
        .where(records.c.shop_id == shop_id, records.c.kind == "check", records.c.level.in_(BAD))
        .distinct()
    )
    return sorted(connection.execute(wanted).all(), key=lambda row: row.made_ms)


def counted(done: dict[int, Any], checks: Iterable[Any]) -> Tally:
    tally = Tally(jobs=Counter(name for job in done.values() for name in job.work))
    by_trailer: dict[int, list[Any]] = {}
    for job in done.values():  # the last finished first
        by_trailer.setdefault(job.trailer_id, []).append(job)
    again: set[tuple[int, str]] = set()
    for row in checks:
        made = datetime.fromtimestamp(row.made_ms / 1000, now().tzinfo)
        before = (job for job in by_trailer.get(row.trailer_key, []) if job.finished < made)
        job = next(before, None)
        if job is None or made - job.finished > WITHIN:
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


def rows(counts: Counter[str], words: Any, of: Counter[str] | None = None) -> list[Json]:
    """The most first: ``{"name", "count", "of", "share"}``, the share of the longest bar."""
    most = max(counts.values(), default=1)
    return [
        {"name": words(name), "count": count, "of": of and of[name], "share": count / most}
        for name, count in counts.most_common()
    ]
