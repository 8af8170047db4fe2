"""Everything in one file, for another server: the rows of all tables, or of one shop, and photos.

The file is a ZIP archive. ``twentymile.json`` says what is in it, ``tables/NAME.jsonl`` has a row a
line, ``photos/ID.jpg`` the photos as they are kept. Each table is proved by its SHA-256, each photo
by that of its row. It is taken in whole or not at all, by a server that has nothing yet.
"""

from __future__ import annotations

import json
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from hashlib import sha256
from typing import IO, Any
from uuid import UUID

from sqlalchemy import Connection, Select, Table, func, select, text
from sqlalchemy.exc import SQLAlchemyError

from webapp.clock import now
from webapp.storage import photo_places
from webapp.storage.migrate import newest, older
from webapp.storage.models import Time, metadata, photos, records, rulebooks, shops, words
from webapp.storage.store import Store

FORMAT, MANIFEST = 1, "twentymile.json"
AT_ONCE = 500  # rows
# What is a server's own, or passes within days: who is signed in, tries, what waits to be sent.
LEFT_OUT = ("sessions", "tries", "pairs", "refused", "mails", "stamps", "judgings")
# Of one shop alone, what belongs to no shop stays behind; so do keys to its accounts.
SHARED = ("rulebooks", "words")
BLANK = {"staff": {"password_hash": "", "code_seed": None, "code_step": None}}
Json = dict[str, Any]
Identity = str | tuple[str, str]  # of rules their hash; of words also that of their rules


class Unusable(ValueError):
    """A file that is not taken in: the words ``cli-whole-CODE`` say why, with ``values``."""

    def __init__(self, code: str, **values: object) -> None:
        super().__init__(code)
        self.code, self.values = code, values


# ---- out ----------------------------------------------------------------------------------------


def write(store: Store, file: IO[bytes], shop_id: int | None = None) -> Json:
    """Write everything, or all of one shop's, into ``file``; return what its manifest says."""
    told: Json = {"format": FORMAT, "revision": newest(), "made": now().isoformat()}
    told |= {"of": "server" if shop_id is None else "shop", "tables": {}, "missing": []}
    with snapshot(store) as connection, zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as whole:
        for table in tables(shop_id):
            told["tables"][table.name] = write_rows(connection, whole, table, shop_id)
        told["photos"] = write_photos(connection, whole, store.photos, shop_id, told["missing"])
        whole.writestr(MANIFEST, json.dumps(told, indent=1))
    return told


@contextmanager
def snapshot(store: Store) -> Iterator[Connection]:
    """A connection that sees one moment however long it reads."""
    options: Json = {} if store.on_sqlite else {"isolation_level": "REPEATABLE READ"}
    with store.engine.connect().execution_options(yield_per=AT_ONCE, **options) as connection:
        yield connection


def tables(shop_id: int | None) -> list[Table]:
    """In an order in which each refers only to those before it."""
    found = [table for table in metadata.sorted_tables if table.name not in LEFT_OUT]
    if shop_id is None:
        return found
    return [t for t in found if t is shops or "shop_id" in t.c or t.name in SHARED]


def wanted(table: Table, shop_id: int | None) -> Select[Any]:
    rows = select(table).order_by(*table.primary_key.columns)
    if shop_id is None or table.name in SHARED:
        return rows
    return rows.where((table.c.id if table is shops else table.c.shop_id) == shop_id)


def write_rows(
    connection: Connection, whole: zipfile.ZipFile, table: Table, shop_id: int | None
) -> Json:
    count, proof = 0, sha256()
    blank = BLANK.get(table.name, {}) if shop_id is not None else {}
    with whole.open(f"tables/{table.name}.jsonl", "w", force_zip64=True) as file:
        for row in connection.execute(wanted(table, shop_id)).mappings():
            line = json.dumps(dict(row) | blank, default=datetime.isoformat).encode() + b"\n"
            file.write(line)
            proof.update(line)
            count += 1
    return {"rows": count, "sha256": proof.hexdigest()}


def write_photos(
    connection: Connection,
    whole: zipfile.ZipFile,
    kept: photo_places.Photos,
    shop_id: int | None,
    missing: list[str],
) -> int:
    """Put in the photos, which are packed as they are; ``missing`` gets those without a file."""
    count = 0
    for row in connection.execute(wanted(photos, shop_id)):
        body = kept.read(row.path)
        if body is None:
            missing.append(row.id)
            continue
        whole.writestr(f"photos/{row.id}.jpg", body, zipfile.ZIP_STORED)
        count += 1
    return count


# ---- in -----------------------------------------------------------------------------------------


def take_in(store: Store, file: IO[bytes]) -> Json:
    """Store what ``write`` has written and return its manifest. All of it, or nothing.

    Raises ``Unusable`` where the file is damaged, of another release or no such file, and where
    this server has shops or records of its own.
    """
    written: list[str] = []
    try:
        with zipfile.ZipFile(file) as whole:
            told = manifest(whole)
            with store.writing() as connection:
                unless_empty(connection)
                for table in tables(None):
                    if table.name in told["tables"]:
                        read_rows(connection, whole, table, told)
                read_photos(connection, whole, store.photos, told, written)
                count_on(connection)
        return told
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError):
        store.photos.remove(written)
        raise Unusable("damaged", what=MANIFEST if not written else "photos") from None
    except BaseException:
        store.photos.remove(written)
        raise


def manifest(whole: zipfile.ZipFile) -> Json:
    try:
        told = json.loads(whole.read(MANIFEST))
        number, revision, of = told["format"], told["revision"], told["tables"]
        good = all(type(one["rows"]) is int and one["sha256"] for one in of.values())
        good = good and isinstance(told["missing"], list) and type(number) is int
    except (KeyError, TypeError, ValueError, AttributeError):
        raise Unusable("no_export") from None
    if not good:
        raise Unusable("no_export")
    if number > FORMAT or (revision != newest() and revision not in older()):
        raise Unusable("newer")
    if revision != newest():
        raise Unusable("older")
    return dict(told)


def unless_empty(connection: Connection) -> None:
    for table in (shops, records):
        if connection.execute(select(table).limit(1)).first() is not None:
            raise Unusable("not_empty")


def read_rows(connection: Connection, whole: zipfile.ZipFile, table: Table, told: Json) -> None:
    name, proof, count = table.name, sha256(), 0
    there = known(connection, table)
    some: list[Json] = []
    try:
        with whole.open(f"tables/{name}.jsonl") as file:
            for line in file:
                proof.update(line)
                count += 1
                row = read_row(table, json.loads(line))
                if there is None or identity(table, row) not in there:
                    some.append(row)
                if len(some) == AT_ONCE:
                    connection.execute(table.insert(), some)
                    some = []
        if some:
            connection.execute(table.insert(), some)
    except (KeyError, ValueError, TypeError, SQLAlchemyError):
        raise Unusable("damaged", what=name) from None
    if {"rows": count, "sha256": proof.hexdigest()} != told["tables"][name]:
        raise Unusable("damaged", what=name)


def known(connection: Connection, table: Table) -> set[Identity] | None:
    """Rules and words that this server has already, from its start."""
    if table.name not in SHARED:
        return None
    rows = connection.execute(select(table)).mappings()
    return {identity(table, dict(row)) for row in rows}


def identity(table: Table, row: Json) -> Identity:
    return row["hash"] if table is rulebooks else (row["rulebook"], row["hash"])


def read_row(table: Table, row: Json) -> Json:
    """The row as the table takes it. Raises ``ValueError`` where it has other columns."""
    if set(row) != {column.name for column in table.columns}:
        raise ValueError(table.name)
    for column in table.columns:
        value = row[column.name]
        if isinstance(column.type, Time) and value is not None:
            row[column.name] = datetime.fromisoformat(value)
    if table is words:
        del row["seq"]  # a number of this server's own
    if table is photos:
        photo = str(UUID(row["id"]))  # what names a file is nothing but an id
        row["path"] = photo_places.path_of(photo)
    return row


def read_photos(
    connection: Connection,
    whole: zipfile.ZipFile,
    kept: photo_places.Photos,
    told: Json,
    written: list[str],
) -> None:
    rows = connection.execute(select(photos.c.id, photos.c.path, photos.c.sha256)).all()
    for row in rows:
        if row.id in told["missing"]:
            continue
        try:
            body = whole.read(f"photos/{row.id}.jpg")
        except KeyError:
            raise Unusable("damaged", what=f"photos/{row.id}.jpg") from None
        if sha256(body).hexdigest() != row.sha256:
            raise Unusable("damaged", what=f"photos/{row.id}.jpg")
        written.append(row.path)
        kept.write(row.path, body)


def count_on(connection: Connection) -> None:
    """Let PostgreSQL number new rows behind those that came in with their numbers."""
    if connection.dialect.name != "postgresql":
        return
    for table in metadata.sorted_tables:
        column = table.autoincrement_column
        if column is None:
            continue
        last = connection.execute(select(func.max(column))).scalar()
        if last is not None:
            numbers = "SELECT setval(pg_get_serial_sequence(:table, :column), :last)"
            values = {"table": table.name, "column": column.name, "last": last}
            connection.execute(text(numbers), values)
