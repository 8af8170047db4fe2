"""Copies the SQLite database whole, while the server runs: `python -m webapp.commands.backup`."""

from __future__ import annotations

import os
import sqlite3
import sys
from contextlib import closing
from pathlib import Path

from webapp.commands.verify import differing
from webapp.config import BadSetting, from_environment


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
        count = back_up(from_environment({})["DATABASE_URL"], Path(sys.argv[1]).resolve())
    except (BadSetting, ValueError, OSError) as error:
        sys.exit(f"No backup was made: {error}.")
    print(f"{count} records, each proved by its hash, are in {sys.argv[1]}")


if __name__ == "__main__":
    main()
