"""Pages of the shop's lists. Each begins after a row: the last one costs as much as the first."""

from __future__ import annotations

from typing import Any

from flask import request
from sqlalchemy import (
    ColumnElement,
    Connection,
    Select,
    Table,
    exists,
    func,
    or_,
    select,
    tuple_,
)

from webapp.errors import Refusal
from webapp.follow_up import undecided
from webapp.follow_up.schedule import WAITING
from webapp.follow_up.shelves import HELD, SHELVES
from webapp.shop import times
from webapp.shop.find import job_rows, trailer_rows
from webapp.storage.models import customers, due, jobs, records, trailers
from webapp.storage.store import AnyRow

PAGE = 50
ALL, OVERDUE = "all", "overdue"
SHOWS = (ALL, "stop", "mend", "look", OVERDUE)
RECENT, NAME = "recent", "name"
SORTS = (RECENT, NAME)
# As long as so few rows tell which trailers are meant, they are asked first.
FEW = 2000


def chosen(name: str, among: tuple[str, ...]) -> str:
    """What the address asks for, the first of ``among`` if it asks for nothing."""
    text = request.args.get(name, among[0])
    if text not in among:
        raise Refusal(400, "bad_page", name)
    return text


def after() -> int | None:
    """The row that the page begins after, of the address."""
    text = request.args.get("after")
    if text is None:
        return None
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        raise Refusal(400, "bad_page", "after")
    return int(text)


def page(
    connection: Connection, wanted: Select[Any], most: int = PAGE
) -> tuple[list[AnyRow], int | None]:
    """The rows, and the id that the next page begins after."""
    rows = list(connection.execute(wanted.limit(most + 1)).all())
    return rows[:most], rows[most - 1].id if len(rows) > most else None


def beyond(
    table: Table, column: ColumnElement[Any], row_id: int, down: bool
) -> ColumnElement[bool]:
    """Rows that come after a row in the order of ``column``, then of their ids."""
    edge = select(column).where(table.c.id == row_id).scalar_subquery()
    here, there = tuple_(column, table.c.id), tuple_(edge, row_id)
    return here < there if down else here > there


def trailer_page(
    connection: Connection, shop_id: int, show: str, sort: str, start: int | None
) -> tuple[list[AnyRow], int | None]:
    column = trailers.c.touched if sort == RECENT else trailers.c.sort_name
    down = sort == RECENT
    mine = (trailers.c.shop_id == shop_id, trailers.c.merged_into.is_(None))
    wanted = trailer_rows().where(*mine)
    if show != ALL:
        wanted = wanted.where(narrowed(connection, shop_id, show))
    if start is not None:
        wanted = wanted.where(beyond(trailers, column, start, down))
    # Of few rows none is looked for along the index of the order, which holds all there are.
    by = column if show == ALL else func.coalesce(column, column)
    order = (by.desc(), trailers.c.id.desc()) if down else (by, trailers.c.id)
    return page(connection, wanted.order_by(*order))


def narrowed(connection: Connection, shop_id: int, show: str) -> ColumnElement[bool]:
    """Trailers with an undecided check of a level, or with a due check that is late."""
    table, key, where = telling(shop_id, show)
    bad = SHELVES.get(show) in undecided.BAD
    benched = undecided.benched(connection, shop_id, show) if bad else set()
    few = connection.execute(select(key).where(*where).limit(FEW)).scalars().all()
    if len(few) < FEW:
        return trailers.c.id.in_(benched.union(one for one in few if one is not None))
    there = exists(select(table.c[key.name]).where(*where, key == trailers.c.id))
    return or_(there, trailers.c.id.in_(benched))


def telling(
    shop_id: int, show: str
) -> tuple[Table, ColumnElement[Any], tuple[ColumnElement[bool], ...]]:
    if show == OVERDUE:
        late = or_(due.c.by < times.over_before(), due.c.missed_km.is_not(None))
        return due, due.c.trailer_id, (due.c.shop_id == shop_id, *WAITING, late)
    shelves = (SHELVES[show], HELD) if show == "look" else (SHELVES[show],)
    where = (records.c.shop_id == shop_id, records.c.shelf.in_(shelves))
    return records, records.c.trailer_key, where


def customer_page(
    connection: Connection, shop_id: int, start: int | None
) -> tuple[list[AnyRow], int | None]:
    mine = (customers.c.shop_id == shop_id, customers.c.merged_into.is_(None))
    wanted = select(customers).where(*mine)
    if start is not None:
        wanted = wanted.where(beyond(customers, customers.c.sort_name, start, down=False))
    return page(connection, wanted.order_by(customers.c.sort_name, customers.c.id))


def job_page(
    connection: Connection, shop_id: int, start: int | None
) -> tuple[list[AnyRow], int | None]:
    """Finished jobs, the last first."""
    wanted = job_rows().where(jobs.c.shop_id == shop_id, jobs.c.finished.is_not(None))
    if start is not None:
        wanted = wanted.where(beyond(jobs, jobs.c.finished, start, down=True))
    return page(connection, wanted.order_by(jobs.c.finished.desc(), jobs.c.id.desc()))


OPEN_MOST = 200


def open_jobs(connection: Connection, shop_id: int) -> list[AnyRow]:
    wanted = job_rows().where(jobs.c.shop_id == shop_id, jobs.c.finished.is_(None))
    return list(connection.execute(wanted.order_by(jobs.c.id.desc()).limit(OPEN_MOST)).all())
