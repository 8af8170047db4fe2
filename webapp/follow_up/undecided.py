"""The verdicts of a trailer that nobody has decided: they stand wherever the trailer is shown.

A check that came in counts until somebody with the right to has decided it, whatever came in later;
one that came on a link taken back waits in a tray of its own and paints no trailer.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any, TypedDict

from sqlalchemy import ColumnElement, Connection, exists, select

from webapp.clock import made_at
from webapp.follow_up.shelves import HELD, SHELVES, level_of, shelf_of
from webapp.follow_up.verdicts import Found, by_both, holds
from webapp.storage.models import jobs, records
from webapp.storage.store import AnyRow

# Worst first.
BAD = (SHELVES["stop"], SHELVES["mend"], HELD)


def of_each(
    connection: Connection, shop_id: int, trailers: Iterable[int]
) -> dict[int, list[AnyRow]]:
    """By trailer all its undecided checks, the worst first and of equals the newest; the record of
    a bench that is still at work is one."""
    # The shop is looked at here: asked for it too, SQLite walks all its checks for one trailer.
    theirs = select(records).where(records.c.trailer_key.in_(list(trailers)))
    waiting = (records.c.shelf.in_(BAD), at_work())
    found_rows = (row for one in waiting for row in connection.execute(theirs.where(one)))
    rows = [row for row in found_rows if row.shop_id == shop_id]
    found: dict[int, list[AnyRow]] = {}
    for row in sorted(rows, key=lambda row: (shelf(row), -row.made_ms)):
        found.setdefault(row.trailer_key, []).append(row)
    return found


def at_work() -> ColumnElement[bool]:
    """Whether a row of ``records`` is the bench record of a job that goes on: no inbox has it."""
    going = jobs.alias("going")
    named = (going.c.shop_id == records.c.shop_id) & (going.c.record_id == records.c.id)
    bad = records.c.level.in_([level_of(one) for one in BAD])
    return records.c.shelf.is_(None) & bad & exists().where(named, going.c.finished.is_(None))


def benched(connection: Connection, shop_id: int, level: str) -> set[int]:
    """Trailers with a bench record at work of that level; the jobs that go on are few."""
    named = (records.c.shop_id == jobs.c.shop_id) & (records.c.id == jobs.c.record_id)
    going = (jobs.c.shop_id == shop_id, jobs.c.finished.is_(None))
    there = select(records.c.trailer_key).join(jobs, named)
    wanted = there.where(*going, records.c.shelf.is_(None), records.c.level == level)
    return {one for one in connection.execute(wanted).scalars() if one is not None}


def of(connection: Connection, shop_id: int, trailer: int) -> list[AnyRow]:
    """All undecided checks of a trailer, the worst first and of equals the newest."""
    return of_each(connection, shop_id, [trailer]).get(trailer, [])


def shelf(row: Any) -> int:
    """Where the inbox has such a row; that of a bench at work, by its level, once it is left."""
    return row.shelf if row.shelf is not None else shelf_of(row.phone_level, row.level)


def level(row: Any) -> str:
    """The level of such a row: the worse of the phone's and the server's."""
    return level_of(shelf_of(row.phone_level, row.level))


class Told(TypedDict):
    """An undecided check as phones get it."""

    record: str
    level: str
    made: str
    findings: list[Found]


def told(row: AnyRow) -> Told:
    """What phones get of such a row."""
    made = made_at(json.loads(row.record)["made"], row.made_ms, row.clock_s)
    return {
        "record": row.id,
        "level": level(row),
        "made": made.isoformat(),
        "findings": findings(row, level(row)),
    }


def findings(row: Any, level: str) -> list[Found]:
    """``[{"finding", "place"}]`` of that level, the phone's and the server's, each once.

    What holds up driving on is told first: at *Look again* more may stand beside it.
    """
    found = sorted(by_both(row._mapping), key=lambda one: not holds(one))
    named = {(one["finding"], one["place"]): None for one in found if one["level"] == level}
    return [{"finding": finding, "place": place} for finding, place in named]
