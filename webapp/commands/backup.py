"""Copies the SQLite database whole, while the server runs: `python -m webapp.commands.backup FILE`.

`--done` in the place of FILE tells the server that a backup was made otherwise, as by pg_dump.
"""

from __future__ import annotations

import os
import sqlite3
import sys
from contextlib import closing
from pathlib import Path
from typing import Any

from sqlalchemy.exc import SQLAlchemyError

from webapp.commands.verify import differing
from webapp.config import BadSetting, from_environment
from webapp.storage import stamps
from webapp.storage.store import Store

DONE = "--done"


def back_up(url: str, target: Path) -> int:
    """Write ``target``, prove every record in it, and return how many there are.

    Raises ``ValueError`` saying what is in the way; a copy that is not whole is removed.
    """
    if not url.startswith("sqlite:///"):
        raise ValueError("the database is not SQLite: use its own tools, such as pg_dump")
    source = Path(url.removeprefix("sqlite:///"))
    if not source.exists():
        raise ValueError(f"there is no database at {source}")
    if target.exists():
        raise ValueError(f"{target} exists: name a new file")
    if not target.parent.is_dir():
        raise ValueError(f"there is no folder {target.parent}: make it first")
    # Records are personal: the copy is for its owner only, like the folder it comes from.
    os.close(os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    try:
        return copied(source, target)
    except sqlite3.DatabaseError as error:
        target.unlink()
        raise ValueError(f"the database is damaged or no database ({error})") from None
    except BaseException:
        target.unlink()
        raise


def copied(source: Path, target: Path) -> int:
    with closing(sqlite3.connect(source)) as database, closing(sqlite3.connect(target)) as copy:
        database.backup(copy)
        copy.execute("PRAGMA journal_mode=DELETE")  # one file, nothing beside it
        count, found = differing(copy.execute("SELECT id, hash, record FROM records"))
    if found:
        raise ValueError(f"{len(found)} records do not fit their hash, {found[0]} first")
    return count


def main() -> None:
    if len(sys.argv) != 2:
        sys.exit("Name the file to write: python -m webapp.commands.backup FILE")
    try:
        settings = from_environment({})
        if sys.argv[1] == DONE:
            stamp(settings)
            print("It is noted that a backup was made.")
            return
        count = back_up(settings["DATABASE_URL"], Path(sys.argv[1]).resolve())
    except (BadSetting, ValueError, OSError) as error:
        sys.exit(f"No backup was made: {error}.")
    print(f"{count} records, each proved by its hash, are in {sys.argv[1]}")
    try:
        stamp(settings)
    except (SQLAlchemyError, OSError) as error:
        print(f"The server's pages will not show it: {error}", file=sys.stderr)


def stamp(settings: dict[str, Any]) -> None:
    """Let the shops see how old the last backup is."""
    store = Store(settings["DATABASE_URL"], settings["DATA"])
    try:
        with store.writing() as connection:
            stamps.write(connection, "backup")
    finally:
        store.engine.dispose()


if __name__ == "__main__":
    main()
