"""The worst verdict of a trailer that nobody has decided: it stands wherever the trailer is shown.

A check that came in counts until somebody with the right to has decided it, whatever came in later;
one that came on a link taken back waits in a tray of its own and paints no trailer.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any, TypedDict

from sqlalchemy import Connection, select

from webapp.clock import made_at
from webapp.follow_up.shelves import SHELVES, level_of
from webapp.follow_up.verdicts import Found, as_seen
from webapp.storage.models import records
from webapp.storage.store import AnyRow

BAD = (SHELVES["stop"], SHELVES["mend"])


def worst(
    connection: Connection, shop_id: int, trailers: Iterable[int] | None = None
) -> dict[int, AnyRow]:
    """By trailer its worst undecided check, the newest of equals; ``trailers`` narrows."""
    wanted = select(records).where(records.c.shop_id == shop_id, records.c.shelf.in_(BAD))
    if trailers is not None:
        wanted = wanted.where(records.c.trailer_key.in_(list(trailers)))
    rows = connection.execute(wanted.order_by(records.c.shelf.desc(), records.c.made_ms)).all()
    return {row.trailer_key: row for row in rows if row.trailer_key is not None}


def of(connection: Connection, shop_id: int, trailer: int) -> list[AnyRow]:
    """All undecided checks of a trailer, the worst first and of equals the newest."""
    wanted = select(records).where(
        records.c.shop_id == shop_id, records.c.trailer_key == trailer, records.c.shelf.in_(BAD)
    )
    return list(connection.execute(wanted.order_by(records.c.shelf, records.c.made_ms.desc())))


def level(row: Any) -> str:
    """The level of a row that ``worst`` gave: the worse of the phone's and the server's."""
    return level_of(row.shelf)


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
    """``[{"finding", "place"}]`` of that level, the phone's and the server's, each once."""
    record = json.loads(row.record)
    both = (json.loads(row.verdict), record["body"]["verdict"])
    found = [one for verdict in both for one in as_seen(verdict)["findings"]]
    named = {(one["finding"], one["place"]): None for one in found if one["level"] == level}
    return [{"finding": finding, "place": place} for finding, place in named]
