"""What a trailer stands at: its worst undecided verdict, else that of its newest check."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any, TypedDict

from sqlalchemy import Connection, select

from webapp.clock import made_at
from webapp.follow_up import undecided
from webapp.follow_up.shelves import DECIDED, TRAY, level_of, shelf_of
from webapp.shop import reading
from webapp.storage.models import records, trailers
from webapp.storage.store import AnyRow


class Sign(TypedDict):
    """What a list shows of a trailer; ``open`` is *Stop now* or *Mend* that nobody has decided."""

    level: str
    open: bool
    decided: bool


class Stand(Sign):
    """A trailer's sign with the check that it comes from, and what was found, in words; ``others``
    are the undecided checks beside it."""

    id: str
    check: str
    made: datetime
    found: list[str]
    others: list[Stand]


def of(connection: Connection, trailer: Mapping[str, Any]) -> Stand | None:
    """What the trailer stands at, with all that nobody has decided; None without a check."""
    rows = undecided.of(connection, trailer["shop_id"], trailer["id"])
    rows = rows or list(newest(connection, [trailer["id"]]).values())
    stand = [told(row) for row in rows]
    return stand[0] | {"others": stand[1:]} if stand else None


def signs(connection: Connection, shop_id: int, shown: Iterable[int]) -> dict[int, Sign]:
    """By trailer: what a list shows, no check read."""
    rows = rows_of(connection, shop_id, list(shown))
    return {trailer: sign_of(row) for trailer, row in rows.items()}


def open_rows(connection: Connection, shop_id: int, shown: list[int]) -> dict[int, Stand]:
    """By trailer what nobody has decided, a bench record still at work too:
    what the desk does not lend without a look."""
    rows = rows_of(connection, shop_id, shown)
    return {trailer: told(row) for trailer, row in rows.items() if sign_of(row)["open"]}


def rows_of(connection: Connection, shop_id: int, shown: list[int]) -> dict[int, AnyRow]:
    return newest(connection, shown) | undecided.worst(connection, shop_id, shown)


def newest(connection: Connection, shown: Iterable[int]) -> dict[int, AnyRow]:
    """By trailer the row of the check that was made last; copies that other phones sent of it are
    no one's to decide, and stay out of sight."""
    last = (
        select(records.c.seq)
        .where(
            records.c.trailer_key == trailers.c.id,
            records.c.shop_id == trailers.c.shop_id,
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


def sign_of(row: AnyRow) -> Sign:
    """The worse level of the phone's and the server's, and whether it is decided."""
    shelf, decided = shelf_of(row.phone_level, row.level), row.shelf == DECIDED
    is_open = shelf in undecided.BAD and not decided
    return {"level": level_of(shelf), "open": is_open, "decided": decided}


def told(row: AnyRow) -> Stand:
    """A row of ``records`` that is a check, as what its trailer stands at."""
    one, sign = json.loads(row.record), sign_of(row)
    return Stand(
        **sign,
        id=row.id,
        check=one["body"]["check"],
        made=made_at(one["made"], row.made_ms, row.clock_s),
        found=reading.found_words(undecided.findings(row, sign["level"]), one["body"]),
        others=[],
    )
