"""Brings the database to the newest table layout; safe when several workers start at once."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from alembic.util.exc import CommandError
from sqlalchemy import Connection, text
from sqlalchemy.exc import DatabaseError

from webapp.config import BadSetting
from webapp.file_lock import locked
from webapp.storage.store import Store
from webapp.wording import say

# Any number will do, as long as every host asks PostgreSQL for the same one.
ADVISORY_LOCK = 20_000_020


def migrate(store: Store, revision: str = "head") -> None:
    """Run the migrations that are missing. Raises what the database raises."""
    with locked(store.data / "start.lock"), store.engine.connect() as connection:
        connection = connection.execution_options(writes=True)
        with connection.begin():
            if not store.on_sqlite:
                connection.execute(text(f"SELECT pg_advisory_xact_lock({ADVISORY_LOCK})"))
            if revision != "head" or reached(connection) != newest():
                command.upgrade(alembic_config(connection), revision)


def bring_up_to_date(store: Store) -> None:
    """Migrate at a start. Raises BadSetting saying why the database cannot be used."""
    try:
        migrate(store)
    except CommandError:
        raise BadSetting(say("cli-database-newer")) from None
    except (DatabaseError, OSError) as error:
        raise BadSetting(why_not(str(getattr(error, "orig", None) or error))) from None


@cache
def newest() -> str:
    """The revision that this release works with."""
    return str(ScriptDirectory.from_config(alembic_config(None)).get_current_head())


def older() -> set[str]:
    """The revisions that came before it."""
    script = ScriptDirectory.from_config(alembic_config(None))
    return {one.revision for one in script.walk_revisions()} - {newest()}


def reached(connection: Connection) -> str | None:
    """The revision that the database has."""
    return MigrationContext.configure(connection).get_current_revision()


def why_not(said: str) -> str:
    """What to do about a database that said this."""
    if "not a database" in said or "malformed" in said:
        return say("cli-database-damaged")
    if "readonly" in said or "unable to open" in said or "Permission denied" in said:
        return say("cli-database-denied")
    return say("cli-database-unusable", what=said.strip())


def alembic_config(connection: object) -> Config:
    config = Config()
    # Config reads percent signs as its own placeholders.
    folder = str(Path(__file__).parent / "migrations").replace("%", "%%")
    config.set_main_option("script_location", folder)
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    return config
