"""A lent trailer out and back: two events, the first by the borrower's walk on the desk's code."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, func, select, update

from webapp.clock import now
from webapp.storage.models import outings

OUT, BACK = "out", "back"
# Who finds one of these walking round does not set off.
STAYS = ("stop", "mend")


def states(connection: Connection, trailers: Iterable[int]) -> dict[int, Any]:
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

    ``trailer`` is its row, ``who`` has ``name`` and ``phone``. Once it is back, names go.
    """
    who = who or {"name": "", "phone": ""}
    last = states(connection, [trailer["id"]]).get(trailer["id"])
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
            made=made or now(),
            name=who["name"][:80],
            phone=who["phone"][:40],
            record_id=record_id,
        )
    )


def walked(
    connection: Connection,
    link: Mapping[str, Any],
    body: Mapping[str, Any],
    level: str,
    record: str,
) -> None:
    """A borrower's walk that found nothing in the way is how the trailer goes out."""
    by = body.get("by")
    if link["kind"] != "standing" or body["check"] != "walkaround" or not by or level in STAYS:
        return
    trailer = {"id": link["trailer_id"], "shop_id": link["shop_id"]}
    note(connection, OUT, trailer, by, record)
