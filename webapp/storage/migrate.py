"""Brings the database to the newest table layout; safe when several workers start at once."""

from __future__ import annotations

from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import text

from webapp.file_lock import locked
from webapp.storage.store import Store

# Any number will do, as long as every host asks PostgreSQL for the same one.
ADVISORY_LOCK = 20_000_020


def migrate(store: Store, revision: str = "head") -> None:
    """Run the migrations that are missing. Raises what the database raises."""
    with locked(store.data / "start.lock"), store.engine.connect() as connection:
        connection = connection.execution_options(writes=True)
        with connection.begin():
            if not store.on_sqlite:
                connection.execute(text(f"SELECT pg_advisory_xact_lock({ADVISORY_LOCK})"))
            command.upgrade(alembic_config(connection), revision)


def alembic_config(connection: object) -> Config:
    config = Config()
    # Config reads percent signs as its own placeholders.
    folder = str(Path(__file__).parent / "migrations").replace("%", "%%")
    config.set_main_option("script_location", folder)
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    return config
