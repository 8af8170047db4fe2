"""Where records are kept: SQLite in the data folder, or PostgreSQL through its address."""

from __future__ import annotations

import os
import threading
from collections import deque
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, nullcontext, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from flask import current_app
from sqlalchemy import Connection, Engine, create_engine, event, select
from sqlalchemy import Row as SqlRow
from sqlalchemy.exc import IntegrityError

from webapp.file_lock import locked
from webapp.storage import photo_places
from webapp.storage.models import records

Row = dict[str, Any]
AnyRow = SqlRow[*tuple[Any, ...]]  # a row with whatever columns were asked for, by their names
Then = Callable[[Connection, Row], None]
TOGETHER = 64  # rows of one commit


@dataclass(eq=False)
class Filing:
    """A row on its way to the disk, with what has to happen in the same transaction.

    Once it is done, ``stored`` is what stands there by now, or ``error`` why nothing was stored.
    """

    row: Row
    then: Then | None = None
    stored: Row | None = None
    error: BaseException | None = None

    @property
    def done(self) -> bool:
        return self.stored is not None or self.error is not None

    def settled(self) -> Row:
        """What stands there, once it is done. Raises what kept it from being stored."""
        if self.stored is None:
            raise self.error or AssertionError(self)
        return self.stored


class Store:
    """One database. Writers take turns, which on SQLite is faster than letting them collide."""

    def __init__(self, url: str, data: Path, photos: str = "") -> None:
        self.data = data
        self.photos = photo_places.place_of(data, photos)
        keep_private(url)
        self.engine = make_engine(url)
        self.on_sqlite = self.engine.dialect.name == "sqlite"
        self._turn = threading.Lock()
        self._lead = threading.Lock()
        self._waiting: deque[Filing] = deque()

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

    def find(self, device: str, record_id: str) -> Row | None:
        """The stored row, or None."""
        with self.reading() as connection:
            return find_in(connection, device, record_id)

    def add(self, row: Row, then: Then | None = None) -> Row:
        """Store ``row`` unless its device and id are there; return what is stored, committed.

        ``then`` runs in the same transaction with what is stored: all of it happens, or nothing.
        """
        filing = Filing(row, then)
        self.add_all([filing])
        return filing.settled()

    def add_all(self, filings: list[Filing]) -> None:
        """Store several, each as ``add`` does; every one is done on return.

        A flush to disk takes as long for sixty rows as for one, so they share a commit. On SQLite
        whoever comes first commits for all who wait meanwhile; PostgreSQL does that itself.
        """
        new = [filing for filing in filings if not filing.done]
        if not self.on_sqlite:
            if new:
                self._together(new)
            return
        self._waiting.extend(new)
        with self._lead:
            while not all(filing.done for filing in new):
                waiting = range(min(TOGETHER, len(self._waiting)))
                self._together([self._waiting.popleft() for _ in waiting])

    def _together(self, filings: list[Filing]) -> None:
        """In one commit; where one of them fails, each in a commit of its own."""
        try:
            with self.writing() as connection:
                stored = put(connection, filings)
        except Exception:
            for filing in filings:
                self._alone(filing)
        except BaseException as error:  # this thread ends: whoever waits for it must not wait on
            for filing in filings:
                filing.error = error
            raise
        else:
            for filing, row in zip(filings, stored, strict=True):
                filing.stored = row

    def _alone(self, filing: Filing) -> None:
        for last in (False, True):
            try:
                with self.writing() as connection:
                    (stored,) = put(connection, [filing])
            except IntegrityError as error:
                # On PostgreSQL two hosts may store the same record at once: the first one holds,
                # and the second try finds it.
                if last:
                    filing.error = error
            except Exception as error:
                filing.error = error
                return
            else:
                filing.stored = stored
                return


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


def find_in(connection: Connection, device: str, record_id: str) -> Row | None:
    found = connection.execute(
        select(records).where(records.c.device == device, records.c.id == record_id)
    ).first()
    return None if found is None else dict(found._mapping)


def put(connection: Connection, filings: list[Filing]) -> list[Row]:
    """What stands there for each of ``filings``, once those that were missing are added."""
    there = found_in(connection, {key(one.row) for one in filings})
    new: dict[tuple[str, str], Row] = {}
    for one in filings:
        if key(one.row) not in there:
            new.setdefault(key(one.row), one.row)
    if new:
        connection.execute(records.insert(), list(new.values()))
    there |= {name: {"shop_id": None, "clock_s": None} | row for name, row in new.items()}
    for one in filings:
        stored = there[key(one.row)]
        if one.then is not None and stored["hash"] == one.row["hash"]:
            one.then(connection, stored)
    return [there[key(one.row)] for one in filings]


def found_in(connection: Connection, keys: set[tuple[str, str]]) -> dict[tuple[str, str], Row]:
    """What stands there for devices and ids. By both, each for itself: SQLite goes through the
    whole table to find an id alone, or a list of pairs."""
    devices, ids = {device for device, _ in keys}, {record_id for _, record_id in keys}
    wanted = select(records).where(records.c.device.in_(devices), records.c.id.in_(ids))
    return {key(row): dict(row) for row in connection.execute(wanted).mappings()}


def key(row: Mapping[Any, Any]) -> tuple[str, str]:
    return row["device"], row["id"]


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
