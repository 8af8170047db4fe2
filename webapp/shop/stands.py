"""What a trailer stands at: its worst undecided verdict, else that of its newest check."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, select

from webapp.follow_up import undecided
from webapp.follow_up.shelves import DECIDED, SHELVES, TRAY, level_of, shelf_of
from webapp.shop import reading
from webapp.storage.models import records, trailers

Json = dict[str, Any]


def of(connection: Connection, trailer: Mapping[str, Any]) -> Json | None:
    """``{"id", "check", "made", "level", "found", "open", "decided"}``; None without a check."""
    return of_all(connection, trailer["shop_id"], [trailer["id"]]).get(trailer["id"])


def of_all(connection: Connection, shop_id: int, shown: Iterable[int]) -> dict[int, Json]:
    """The same by trailer."""
    shown = list(shown)
    last = newest(connection, shown)
    rows = last | undecided.worst(connection, shop_id, shown)
    return {trailer: told(row) for trailer, row in rows.items()}


def newest(connection: Connection, shown: Iterable[int]) -> dict[int, Any]:
    """By trailer the row of the check that was made last, whoever sent it."""
    last = (
        select(records.c.seq)
        .where(
            records.c.trailer_key == trailers.c.id,
            records.c.kind == "check",
            records.c.level.is_not(None),
            records.c.shelf.is_(None) | (records.c.shelf != TRAY),
        )
        .order_by(records.c.made_ms.desc())
        .limit(1)
        .scalar_subquery()
    )
    wanted = select(last).where(trailers.c.id.in_(list(shown)))
    rows = connection.execute(select(records).where(records.c.seq.in_(wanted))).all()
    return {row.trailer_key: row for row in rows}


def told(row: Any) -> Json:
    """A row of ``records`` that is a check, as what its trailer stands at."""
    one = json.loads(row.record)
    level = level_of(shelf_of(row.phone_level, row.level))
    return {
        "id": row.id,
        "check": one["body"]["check"],
        "made": datetime.fromisoformat(one["made"]),
        "level": level,
        "found": reading.found_words(undecided.findings(row, level), one["body"]),
        "open": SHELVES[level] in undecided.BAD and row.shelf != DECIDED,
        "decided": row.shelf == DECIDED,
    }
