"""When something was last done to the whole store."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import Connection, delete, select

from webapp.clock import now
from webapp.storage.models import stamps


def write(connection: Connection, name: str) -> None:
    """It is done now."""
    connection.execute(delete(stamps).where(stamps.c.name == name))
    connection.execute(stamps.insert().values(name=name, made=now()))


def read(connection: Connection, name: str) -> datetime | None:
    return connection.execute(select(stamps.c.made).where(stamps.c.name == name)).scalar()
