"""The table of words that trailers, customers and jobs are found by, kept beside their rows."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import Connection, delete, select

from webapp.storage.models import customers, finds, sort_key, trailers
from webapp.storage.store import Store

WORD = re.compile(r"[^\W_]+")
LONGEST = 40
# Of a phone number people know the end; with less than this many digits anything fits.
LEAST_DIGITS = 4
MOST_DIGITS = 15  # E.164


def words_in(*texts: str) -> set[str]:
    """The words of names and numbers, as they are compared: ``AB-12`` is ab, 12 and ab12."""
    found: set[str] = set()
    for text in texts:
        plain = sort_key(text)
        for word in plain.split():
            parts = WORD.findall(word)
            found |= {*parts, "".join(parts)}
    return {word[:LONGEST] for word in found if word}


def ends_of(phone: str) -> set[str]:
    """The digits of a phone number and what they end in."""
    digits = "".join(x for x in phone if x.isascii() and x.isdigit())[-MOST_DIGITS:]
    return {digits[n:] for n in range(len(digits) - LEAST_DIGITS + 1)}


def renew(
    connection: Connection, shop_id: int, kind: str, row_id: int, words: Iterable[str]
) -> None:
    mine = (finds.c.shop_id == shop_id, finds.c.kind == kind, finds.c.row_id == row_id)
    connection.execute(delete(finds).where(*mine))
    row = {"shop_id": shop_id, "kind": kind, "row_id": row_id}
    if rows := [row | {"word": word} for word in sorted(set(words))]:
        connection.execute(finds.insert(), rows)


def renew_trailer(connection: Connection, trailer_id: int) -> None:
    """By its name, plate, VIN, and by whose it is."""
    row = connection.execute(select(trailers).where(trailers.c.id == trailer_id)).one()
    words = words_in(row.name, row.plate, row.vin)
    if row.customer_id is not None:
        whose = select(customers).where(customers.c.id == row.customer_id)
        owner = connection.execute(whose).one()
        words |= words_in(owner.name) | ends_of(owner.phone)
    if row.merged_into is not None:
        words = set()
    renew(connection, row.shop_id, "trailer", row.id, words)


def renew_customer(connection: Connection, customer_id: int) -> None:
    """By name, phone and email; and the trailers that are found by these."""
    row = connection.execute(select(customers).where(customers.c.id == customer_id)).one()
    words = words_in(row.name, row.email) | ends_of(row.phone)
    if row.merged_into is not None:
        words = set()
    renew(connection, row.shop_id, "customer", row.id, words)
    theirs = select(trailers.c.id).where(trailers.c.customer_id == customer_id)
    for trailer_id in connection.execute(theirs).scalars().all():
        renew_trailer(connection, trailer_id)


def renew_job(connection: Connection, job: Mapping[str, Any]) -> None:
    """By its work order."""
    renew(connection, job["shop_id"], "job", job["id"], words_in(job["work_order"]))


def renew_all(connection: Connection, shop_id: int | None = None) -> None:
    """After rows came in otherwise than one by one; of every shop, if none is named."""
    for table, each in ((customers, renew_customer), (trailers, renew_trailer)):
        wanted = select(table.c.id)
        if shop_id is not None:
            wanted = wanted.where(table.c.shop_id == shop_id)
        for row_id in connection.execute(wanted).scalars().all():
            each(connection, row_id)


def fill(store: Store) -> None:
    """Once, for what was stored before there was a search."""
    with store.reading() as connection:
        if connection.execute(select(finds.c.row_id).limit(1)).first() is not None:
            return
        if connection.execute(select(trailers.c.id).limit(1)).first() is None:
            return
    with store.writing() as connection:
        renew_all(connection)
