"""Copies the SQLite database whole, while the server runs: `python -m webapp.commands.backup FILE`.

`--done` in the place of FILE tells the server that a backup was made otherwise, as by pg_dump.
"""

from __future__ import annotations

import argparse
import os
import sqlite3
import sys
from contextlib import closing
from pathlib import Path
from typing import Any

from sqlalchemy.exc import SQLAlchemyError

from checks import prompt
from checks.words import Words
from webapp.commands.verify import differing
from webapp.config import BadSetting, from_environment
from webapp.storage import stamps
from webapp.storage.store import Store
from webapp.wording import say, speaking


def back_up(url: str, target: Path) -> int:
    """Write ``target``, prove every record in it, and return how many there are.

    Raises ``ValueError`` saying what is in the way; a copy that is not whole is removed.
    """
    if not url.startswith("sqlite:///"):
        raise ValueError(say("cli-backup-not-sqlite"))
    source = Path(url.removeprefix("sqlite:///"))
    if not source.exists():
        raise ValueError(say("cli-backup-no-database", path=str(source)))
    if target.exists():
        raise ValueError(say("cli-backup-there", path=str(target)))
    if not target.parent.is_dir():
        raise ValueError(say("cli-backup-no-folder", path=str(target.parent)))
    # Records are personal: the copy is for its owner only, like the folder it comes from.
    os.close(os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    try:
        return copied(source, target)
    except sqlite3.DatabaseError as error:
        target.unlink()
        raise ValueError(say("cli-backup-damaged", what=str(error))) from None
    except BaseException:
        target.unlink()
        raise


def copied(source: Path, target: Path) -> int:
    with closing(sqlite3.connect(source)) as database, closing(sqlite3.connect(target)) as copy:
        database.backup(copy)
        copy.execute("PRAGMA journal_mode=DELETE")  # one file, nothing beside it
        count, found = differing(copy.execute("SELECT id, hash, record FROM records"))
    if found:
        raise ValueError(say("cli-backup-differ", count=len(found), first=found[0]))
    return count


def parser(said: Words) -> argparse.ArgumentParser:
    made = prompt.parser("webapp.commands.backup", "cli-backup", said)
    written = say("cli-written")
    made.add_argument("file", nargs="?", help=say("cli-backup-file"), metavar=written)
    made.add_argument("--done", action="store_true", help=say("cli-backup-done"))
    return made


def main() -> None:
    said = prompt.spoken()
    with speaking(said.language):
        asked = parser(said)
        given = asked.parse_args()
        if given.done == bool(given.file):
            asked.error(say("cli-backup-which"))
        try:
            settings = from_environment({})
            if given.done:
                stamp(settings)
                print(say("cli-backup-noted"))
                return
            count = back_up(settings["DATABASE_URL"], Path(given.file).resolve())
        except (BadSetting, ValueError, OSError) as error:
            sys.exit(say("cli-backup-none", why=str(error)))
        print(say("cli-backup-made", count=count, file=given.file))
        try:
            stamp(settings)
        except (SQLAlchemyError, OSError) as error:
            print(say("cli-backup-not-shown", why=str(error)), file=sys.stderr)


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
