"""Where records are kept: SQLite in the data folder, or PostgreSQL through its address."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext, suppress
from pathlib import Path
from typing import Any

from flask import current_app
from sqlalchemy import Connection, Engine, create_engine, event, select
from sqlalchemy.exc import IntegrityError

from webapp.file_lock import locked
from webapp.storage import photo_places
from webapp.storage.models import records

Then = Callable[[Connection, dict[str, Any]], None]


class Store:
    """One database. Writers take turns, which on SQLite is faster than letting them collide."""

    def __init__(self, url: str, data: Path, photos: str = "") -> None:
        self.data = data
        self.photos = photo_places.place_of(data, photos)
        keep_private(url)
        self.engine = make_engine(url)
        self.on_sqlite = self.engine.dialect.name == "sqlite"
        self._turn = threading.Lock()

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A transaction that may write: committed on leaving, rolled back on an exception."""
        between_processes = locked(self.data / "write.lock") if self.on_sqlite else nullcontext()
        with self._turn if self.on_sqlite else nullcontext(), between_processes:
            connection = self.engine.connect().execution_options(writes=True)
            with connection, connection.begin():
                yield connection

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        with self.engine.connect() as connection:
            yield connection

    def find(self, device: str, record_id: str) -> dict[str, Any] | None:
        """The stored row, or None."""
        with self.reading() as connection:
            return find_in(connection, device, record_id)

    def add(self, row: dict[str, Any], then: Then | None = None) -> dict[str, Any]:
        """Store ``row`` unless its device and id are there; return what is stored, committed.

        ``then`` runs in the same transaction with what is stored: all of it happens, or nothing.
        """
        try:
            return self._add(row, then)
        except IntegrityError:
            # On PostgreSQL two hosts may store the same record at once: the first one holds, and
            # the second try finds it.
            return self._add(row, then)

    def _add(self, row: dict[str, Any], then: Then | None) -> dict[str, Any]:
        with self.writing() as connection:
            stored = find_in(connection, row["device"], row["id"])
            if stored is None:
                connection.execute(records.insert().values(**row))
                stored = {"shop_id": None, "clock_s": None} | row
            if then is not None and stored["hash"] == row["hash"]:
                then(connection, stored)
        return stored


def store() -> Store:
    """The store of the running application."""
    kept: Store = current_app.extensions["store"]
    return kept


def keep_private(url: str) -> None:
    """An SQLite file is its owner's alone, also in a folder that others may read; what SQLite puts
    beside it gets the same mode."""
    path = Path(url.removeprefix("sqlite:///"))
    if not url.startswith("sqlite:///") or not path.parent.is_dir():
        return
    with suppress(PermissionError):  # not ours: using it will say so
        os.close(os.open(path, os.O_RDWR | os.O_CREAT, 0o600))
        path.chmod(0o600)


def find_in(connection: Connection, device: str, record_id: str) -> dict[str, Any] | None:
    found = connection.execute(
        select(records).where(records.c.device == device, records.c.id == record_id)
    ).first()
    return None if found is None else dict(found._mapping)


def make_engine(url: str) -> Engine:
    engine = create_engine(
        url,
        pool_pre_ping=not url.startswith("sqlite"),
        hide_parameters=True,  # a fault is logged with its statement, never with what people wrote
    )
    if engine.dialect.name == "sqlite":
        event.listen(engine, "connect", prepare_sqlite)
        event.listen(engine, "begin", begin_sqlite)
    return engine


def prepare_sqlite(connection: Any, _pool_entry: Any) -> None:
    # The driver's own BEGIN comes too late (at the first write); begin_sqlite sends ours.
    connection.isolation_level = None
    for pragma in (
        "busy_timeout=10000",
        "journal_mode=WAL",
        "synchronous=FULL",  # an answered record survives a power cut
        "foreign_keys=ON",
    ):
        connection.execute(f"PRAGMA {pragma}")


def begin_sqlite(connection: Connection) -> None:
    writes = connection.get_execution_options().get("writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
