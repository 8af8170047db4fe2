"""A lent trailer out and back: two events, told by the desk or on its code by the borrower."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import UTC, datetime
from typing import Any, TypedDict

from sqlalchemy import Connection, func, select, update

from webapp.clock import now
from webapp.follow_up.shelves import HELD, SHELVES
from webapp.storage.models import outings, records
from webapp.storage.store import AnyRow

OUT, BACK = "out", "back"
# Who finds one of these walking round does not set off.
STAYS = (SHELVES["stop"], SHELVES["mend"], HELD)


def states(connection: Connection, trailers: Iterable[int]) -> dict[int, AnyRow]:
    """By trailer the last event of ``outings``; without one, it was never lent."""
    newest = (
        select(func.max(outings.c.id))
        .where(outings.c.trailer_id.in_(list(trailers)))
        .group_by(outings.c.trailer_id)
    )
    rows = connection.execute(select(outings).where(outings.c.id.in_(newest))).all()
    return {row.trailer_id: row for row in rows}


def note(
    connection: Connection,
    what: str,
    trailer: Mapping[str, Any],
    who: Mapping[str, str] | None = None,
    record_id: str | None = None,
    made: datetime | None = None,
) -> None:
    """Write one event down, unless the last one says so already; a second borrower goes out anew.

    ``trailer`` is its row, ``who`` has ``name`` and ``phone``. Once it is back, names go. What a
    phone tells late changes nothing that was written down for a later time.
    """
    who, made = who or {"name": "", "phone": ""}, made or now()
    last = states(connection, [trailer["id"]]).get(trailer["id"])
    if last is not None and made < last.made:
        return
    holder = last.name if last is not None and last.what == OUT else None
    if holder is None if what == BACK else holder == who["name"]:
        return
    if what == BACK:
        mine = update(outings).where(outings.c.trailer_id == trailer["id"])
        connection.execute(mine.values(name="", phone=""))
    connection.execute(
        outings.insert().values(
            shop_id=trailer["shop_id"],
            trailer_id=trailer["id"],
            what=what,
            made=made,
            name=who["name"][:80],
            phone=who["phone"][:40],
            record_id=record_id,
        )
    )


def told(
    connection: Connection, link: Mapping[str, Any], row: Mapping[str, Any], shelf: int | None
) -> None:
    """What a phone sent on a link, when it is about a trailer going out or coming back.

    ``shelf`` is where a check stands by its verdict. Of links only the desk's own code counts.
    """
    if link["kind"] != "standing":
        return
    body = json.loads(row["record"])["body"]
    if row["kind"] == "outing":
        came_back(connection, link, row, body.get("by"))
    elif row["kind"] == "check":
        walked(connection, link, row, body, shelf)


def walked(
    connection: Connection,
    link: Mapping[str, Any],
    row: Mapping[str, Any],
    body: Mapping[str, Any],
    shelf: int | None,
) -> None:
    """A borrower's walk that found nothing in the way is how the trailer goes out."""
    by = body.get("by")
    if body["check"] != "walkaround" or not by or shelf in STAYS or is_back(connection, row):
        return
    note(connection, OUT, lent(link), by, row["id"], made_of(row))


def is_back(connection: Connection, row: Mapping[str, Any]) -> bool:
    """Whether the same phone has told already that it came back from that walk."""
    since = (records.c.device == row["device"], records.c.made_ms >= row["made_ms"])
    later = select(records.c.seq).where(*since, records.c.kind == "outing").limit(1)
    return connection.execute(later).first() is not None


def came_back(
    connection: Connection,
    link: Mapping[str, Any],
    row: Mapping[str, Any],
    by: Mapping[str, str] | None,
) -> None:
    """Only who has it brings it back; a phone that gave no name is taken to be theirs."""
    last = states(connection, [link["trailer_id"]]).get(link["trailer_id"])
    if last is not None and by and last.name and last.name != by["name"][:80]:
        return
    note(connection, BACK, lent(link), None, row["id"], made_of(row))


class Lent(TypedDict):
    """A trailer by its row, and whose it is."""

    id: int
    shop_id: int


def lent(link: Mapping[str, Any]) -> Lent:
    return {"id": link["trailer_id"], "shop_id": link["shop_id"]}


def made_of(row: Mapping[str, Any]) -> datetime:
    return datetime.fromtimestamp(row["made_ms"] / 1000, UTC)
