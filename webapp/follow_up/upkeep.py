"""What a trailer's upkeep stands at, kept beside its row: a list of thousands is read by an index.

``packed`` is the day its bearings were last packed, ``driven_km`` how far checks say it was driven
since, ``tires_from`` the day its oldest tire was made, ``stored`` the day it was put away. What
nobody told is empty. A row whose ``driven_km`` is empty was never looked at.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime
from typing import Any

from sqlalchemy import Connection, func, select, update

from checks.facts import week_start
from webapp.follow_up.shelves import STRAY
from webapp.storage import finds
from webapp.storage.models import jobs, records, trailers
from webapp.storage.store import Store

DAY_MS = 24 * 60 * 60 * 1000
# What comes on a link taken back says nothing of the trailer.
HEARD = (records.c.kind == "check", records.c.shelf.is_(None) | records.c.shelf.not_in(STRAY))


def renew(connection: Connection, trailer_id: int) -> None:
    """Work it out anew: after a job, a check, a change of the trailer, or a merge."""
    trailer = connection.execute(select(trailers).where(trailers.c.id == trailer_id)).one()
    mine = select(jobs).where(jobs.c.trailer_id == trailer_id)
    done = list(connection.execute(mine.order_by(jobs.c.finished)).all())
    packed = last_packed(trailer.facts, done)
    values = {
        "packed": packed and packed.isoformat(),
        "driven_km": 0.0
        if packed is None
        else driven_km(connection, trailer_id, day_start(packed)),
        "tires_from": iso(oldest_told(connection, trailer_id)),
        "stored": iso(stored_since(connection, trailer_id, done)),
    }
    here = update(trailers).where(trailers.c.id == trailer_id)
    connection.execute(here.values(**values))


def renew_trailer(connection: Connection, trailer_id: int) -> None:
    """All that is kept beside a trailer's row: what it is found by, and its upkeep."""
    finds.renew_trailer(connection, trailer_id)
    renew(connection, trailer_id)


def renew_all(connection: Connection, shop_id: int | None = None) -> None:
    """After rows came in otherwise than one by one; of every shop, if none is named."""
    wanted = select(trailers.c.id).where(trailers.c.driven_km.is_(None))
    if shop_id is not None:
        wanted = wanted.where(trailers.c.shop_id == shop_id)
    for trailer_id in connection.execute(wanted).scalars().all():
        renew(connection, trailer_id)


def fill(store: Store) -> None:
    """Once, for trailers stored before this was kept."""
    with store.reading() as connection:
        unknown = select(trailers.c.id).where(trailers.c.driven_km.is_(None)).limit(1)
        if connection.execute(unknown).first() is None:
            return
    with store.writing() as connection:
        renew_all(connection)


def iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def last_packed(facts: Mapping[str, Any], done: Iterable[Any]) -> date | None:
    """The later of the last finished job on hubs and what the owner told of before."""
    year, month = facts.get("service_year"), facts.get("service_month")
    told = isinstance(year, int) and date(year, month if isinstance(month, int) else 1, 1)
    days = [told] if told else []
    return max(days + finished_with(done, "bearings"), default=None)


def finished_with(done: Iterable[Any], work: str) -> list[date]:
    return [job.finished.date() for job in done if job.finished and work in job.work]


def driven_km(connection: Connection, trailer_id: int, since: datetime) -> float:
    """How far checks say the trailer was driven: the farthest of each day, added up.

    People answer "since you set off", so the checks of one day count the same road again.
    """
    farthest = (
        select(func.max(records.c.far_km).label("km"))
        .where(
            records.c.trailer_key == trailer_id,
            records.c.far_km.is_not(None),
            records.c.made_ms >= int(since.timestamp() * 1000),
            *HEARD,
        )
        .group_by(records.c.made_ms // DAY_MS)
        .subquery()
    )
    wanted = select(func.coalesce(func.sum(farthest.c.km), 0.0))
    return float(connection.execute(wanted).scalar_one())


def day_start(day: date) -> datetime:
    return datetime(day.year, day.month, day.day, tzinfo=UTC)


def oldest_told(connection: Connection, trailer_id: int) -> date | None:
    """The oldest tire, as the newest check that names one has it."""
    wanted = (
        select(records.c.record)
        .where(records.c.trailer_key == trailer_id, records.c.record.contains('"tire_made@'))
        .where(*HEARD)
        .order_by(records.c.made_ms.desc())
    )
    for text in connection.execute(wanted).scalars():
        day = oldest_tire(json.loads(text)["body"].get("facts", {}))
        if day is not None:
            return day
    return None


def oldest_tire(facts: Mapping[str, Any]) -> date | None:
    """The first day of the week in the oldest date code; one of three digits is from before 2000
    (49 CFR 574.5)."""
    codes = [raw for key, raw in facts.items() if key.startswith("tire_made@")]
    days = []
    for code in (one.strip() for one in codes if isinstance(one, str)):
        if len(code) == 3 and code.isdigit():
            days.append(date(1999, 12, 31))
        elif len(code) == 4 and code.isdigit() and 1 <= int(code[:2]) <= 53:
            days.append(week_start(int(code[:2]), 2000 + int(code[2:])))
    return min(days, default=None)


def stored_since(connection: Connection, trailer_id: int, done: list[Any]) -> date | None:
    """The day of the job it left from to be stored, if nothing was heard of it since."""
    left = max(finished_with(done, "storage"), default=None)
    if left is None or max(job.opened for job in done).date() > left:
        return None
    heard = select(func.max(records.c.made_ms)).where(
        records.c.trailer_key == trailer_id, records.c.link_id.is_not(None), *HEARD
    )
    seen = connection.execute(heard).scalar()
    if seen is not None and datetime.fromtimestamp(seen / 1000, UTC).date() > left:
        return None
    return left
