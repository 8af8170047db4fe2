"""Which trailers a shop should ask back: bearings, old tires, long storage. Without Flask."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any

from sqlalchemy import Connection, func, select

from checks.facts import week_start
from webapp.follow_up.filing import DAY_MS
from webapp.storage.models import customers, jobs, records, trailers

MONTHS, YEAR = 12, 365.25
SEASONS = ("repack", "tires", "stored")


@dataclass(frozen=True)
class Owner:
    """A trailer with whom to write to."""

    trailer: int
    name: str
    customer: str
    phone: str


@dataclass(frozen=True)
class Recalled:
    """One line: ``since`` the day it counts from, ``km`` driven since or None, ``age`` in years."""

    owner: Owner
    since: date | None
    km: float | None
    age: float | None


def owners(connection: Connection, shop_id: int) -> dict[int, Owner]:
    wanted = (
        select(
            trailers.c.id, trailers.c.name, customers.c.name.label("customer"), customers.c.phone
        )
        .outerjoin(customers, customers.c.id == trailers.c.customer_id)
        .where(trailers.c.shop_id == shop_id, trailers.c.merged_into.is_(None))
    )
    rows = connection.execute(wanted.order_by(trailers.c.sort_name, trailers.c.id))
    return {row.id: Owner(row.id, row.name, row.customer or "", row.phone or "") for row in rows}


def repack(
    connection: Connection, shop_id: int, today: date, months: int, km: float
) -> list[Recalled]:
    """Trailers whose bearings are due by time or by distance, the longest since first.

    Where nothing says when they were packed, a trailer stands last, without a day.
    """
    packed, driven = last_packed(connection, shop_id), daily_km(connection, shop_id)
    found = []
    for owner in owners(connection, shop_id).values():
        since = packed.get(owner.trailer)
        far = None
        if since is not None:
            days = driven.get(owner.trailer, {})
            far = sum(most for day, most in days.items() if day >= since)
            if months_between(since, today) < months and far < km:
                continue
        found.append(Recalled(owner, since, far, None))
    return sorted(found, key=lambda one: (one.since is None, one.since or today))


def last_packed(connection: Connection, shop_id: int) -> dict[int, date]:
    """By trailer the later of its last finished job on hubs and what its owner told of before."""
    found: dict[int, date] = {}
    mine = select(trailers.c.id, trailers.c.facts).where(trailers.c.shop_id == shop_id)
    for row in connection.execute(mine):
        year, month = row.facts.get("service_year"), row.facts.get("service_month")
        if isinstance(year, int):
            found[row.id] = date(year, month if isinstance(month, int) else 1, 1)
    for trailer, day in finished_with(connection, shop_id, "bearings"):
        found[trailer] = max(day, found.get(trailer, day))
    return found


def finished_with(connection: Connection, shop_id: int, work: str) -> Iterator[tuple[int, date]]:
    wanted = select(jobs.c.trailer_id, jobs.c.work, jobs.c.finished)
    mine = (jobs.c.shop_id == shop_id, jobs.c.finished.is_not(None))
    for row in connection.execute(wanted.where(*mine).order_by(jobs.c.finished)):
        if work in row.work:
            yield row.trailer_id, row.finished.date()


def daily_km(connection: Connection, shop_id: int) -> dict[int, dict[date, float]]:
    """By trailer and day the farthest that a check says it was driven (follow_up/filing.py)."""
    day = records.c.made_ms // DAY_MS
    wanted = (
        select(records.c.trailer_key, day.label("day"), func.max(records.c.far_km).label("km"))
        .where(records.c.shop_id == shop_id, records.c.far_km.is_not(None))
        .group_by(records.c.trailer_key, day)
    )
    found: dict[int, dict[date, float]] = {}
    for row in connection.execute(wanted):
        days = found.setdefault(row.trailer_key, {})
        days[date.fromordinal(date(1970, 1, 1).toordinal() + row.day)] = row.km
    return found


def months_between(since: date, today: date) -> int:
    """Whole months, as a calendar counts them."""
    months = (today.year - since.year) * 12 + today.month - since.month
    return months - (today.day < since.day)


def tires(connection: Connection, shop_id: int, today: date) -> list[Recalled]:
    """Trailers by their oldest tire, as the newest check that names one has it, oldest first."""
    whose, made = owners(connection, shop_id), {}
    wanted = (
        select(records.c.trailer_key, records.c.record)
        .where(records.c.shop_id == shop_id, records.c.record.contains('"tire_made@'))
        .order_by(records.c.made_ms)
    )
    for row in connection.execute(wanted):
        oldest = oldest_tire(json.loads(row.record)["body"].get("facts", {}))
        if row.trailer_key in whose and oldest is not None:
            made[row.trailer_key] = oldest
    lines = [
        Recalled(whose[trailer], day, None, (today - day).days / YEAR)
        for trailer, day in made.items()
    ]
    return sorted(lines, key=lambda one: one.since or today)


def oldest_tire(facts: dict[str, Any]) -> date | None:
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


def stored(connection: Connection, shop_id: int) -> list[Recalled]:
    """Trailers that left to be stored and that nothing was heard of since, the longest first."""
    whose, left = owners(connection, shop_id), dict(finished_with(connection, shop_id, "storage"))
    last_job = dict(
        connection.execute(
            select(jobs.c.trailer_id, func.max(jobs.c.opened))
            .where(jobs.c.trailer_id.in_(left))
            .group_by(jobs.c.trailer_id)
        ).all()
    )
    last_check = dict(
        connection.execute(
            select(records.c.trailer_key, func.max(records.c.made_ms))
            .where(records.c.trailer_key.in_(left), records.c.link_id.is_not(None))
            .group_by(records.c.trailer_key)
        ).all()
    )
    lines = []
    for trailer, day in left.items():
        seen = last_check.get(trailer)
        checked = seen is not None and datetime.fromtimestamp(seen / 1000, UTC).date() > day
        if trailer in whose and not checked and last_job[trailer].date() <= day:
            lines.append(Recalled(whose[trailer], day, None, None))
    return sorted(lines, key=lambda one: one.since or date.max)
