"""Which trailers a shop should ask back: bearings, old tires, long storage. Without Flask."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import ColumnElement, Connection, select, tuple_

from webapp.storage.models import customers, trailers
from webapp.storage.store import AnyRow

YEAR = 365.25
SEASONS = ("repack", "tires", "stored")
ALL = 10_000  # rows at once where a whole list is wanted
Edge = tuple[int, int]  # a group of a list, and the trailer that stood last


WHOSE = (customers.c.phone, customers.c.language)


@dataclass(frozen=True)
class Figures:
    """When bearings are due: so many months or so many km after they were packed."""

    today: date
    months: int
    km: float


@dataclass(frozen=True)
class Recalled:
    """One line: ``since`` the day it counts from, ``km`` driven since or None, ``age`` in years."""

    trailer: int
    name: str
    customer: str
    phone: str
    language: str
    since: date | None
    km: float | None
    age: float | None


@dataclass(frozen=True)
class Group:
    """Trailers of one kind, in the order of a column that an index holds."""

    where: ColumnElement[bool]
    column: Any
    down: bool = False


def months_before(today: date, months: int) -> str:
    """The last day of which so many whole months have gone by, as a calendar counts them.

    As text to compare stored days with: 2025-02-30 stands for the end of that February.
    """
    year, month = divmod(today.year * 12 + today.month - 1 - months, 12)
    return f"{year:04}-{month + 1:02}-{today.day:02}"


def groups(name: str, figures: Figures) -> tuple[Group, ...]:
    """Of the bearings those due by time come first, then by distance, then those nobody knows."""
    packed = trailers.c.packed
    if name == "repack":
        edge = months_before(figures.today, figures.months)
        far = (packed > edge) & (trailers.c.driven_km >= figures.km)
        return (
            Group(packed <= edge, packed),
            Group(far, trailers.c.driven_km, down=True),
            Group(packed.is_(None), trailers.c.id),
        )
    column = trailers.c.tires_from if name == "tires" else trailers.c.stored
    return (Group(column.is_not(None), column),)


def page(
    connection: Connection,
    shop_id: int,
    name: str,
    figures: Figures,
    after: Edge | None = None,
    most: int = ALL,
) -> tuple[list[Recalled], Edge | None]:
    """Lines of a list, the longest since first, and where the next page begins."""
    found: list[tuple[int, Any]] = []
    for number, group in enumerate(groups(name, figures)):
        if after is not None and number < after[0]:
            continue
        edge = after[1] if after is not None and number == after[0] else None
        rows = members(connection, shop_id, group, edge, most + 1 - len(found))
        found += [(number, row) for row in rows]
        if len(found) > most:
            break
    lines = [line(name, row, figures.today) for _, row in found[:most]]
    if len(found) <= most:
        return lines, None
    number, row = found[most - 1]
    return lines, (number, row.id)


def members(
    connection: Connection, shop_id: int, group: Group, edge: int | None, most: int
) -> list[AnyRow]:
    column, key = group.column, trailers.c.id
    wanted = (
        select(trailers, customers.c.name.label("customer"), *WHOSE)
        .outerjoin(customers, customers.c.id == trailers.c.customer_id)
        .where(trailers.c.shop_id == shop_id, trailers.c.merged_into.is_(None), group.where)
    )
    if edge is not None:
        there = select(column).where(key == edge).correlate(None).scalar_subquery()
        here, last = tuple_(column, key), tuple_(there, edge)
        wanted = wanted.where(here < last if group.down else here > last)
    order = (column.desc(), key.desc()) if group.down else (column, key)
    return list(connection.execute(wanted.order_by(*order).limit(most)).all())


def line(name: str, row: Any, today: date) -> Recalled:
    days = {"repack": row.packed, "tires": row.tires_from, "stored": row.stored}
    since = date.fromisoformat(days[name]) if days[name] else None
    age = (today - since).days / YEAR if name == "tires" and since else None
    km = row.driven_km if name == "repack" and since else None
    return Recalled(
        row.id, row.name, row.customer or "", row.phone or "", row.language or "", since, km, age
    )


def whole(
    connection: Connection, shop_id: int, name: str, figures: Figures
) -> Iterator[list[Recalled]]:
    """All lines of a list, so many at a time."""
    edge: Edge | None = None
    while True:
        lines, edge = page(connection, shop_id, name, figures, edge)
        yield lines
        if edge is None:
            return
