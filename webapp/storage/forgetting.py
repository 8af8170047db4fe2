"""What was deleted for good: known by a hash, so that no phone is asked to bring it back."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import Connection, select

from webapp.security import digest
from webapp.storage.models import forgotten


def key_of(device: str, item: str) -> str:
    return digest(f"{device} {item}")


def forget(connection: Connection, items: Iterable[tuple[str, str]]) -> None:
    """Note that these, each a device's key and an id, are deleted for good."""
    keys = {key_of(device, item) for device, item in items}
    known = set(
        connection.execute(select(forgotten.c.key).where(forgotten.c.key.in_(keys))).scalars()
    )
    if keys - known:
        connection.execute(forgotten.insert(), [{"key": key} for key in keys - known])


def forgotten_of(connection: Connection, device: str, items: Iterable[str]) -> set[str]:
    """Those of the ``items`` that were deleted for good."""
    keys = {key_of(device, item): item for item in items}
    wanted = select(forgotten.c.key).where(forgotten.c.key.in_(list(keys)))
    return {keys[key] for key in connection.execute(wanted).scalars()}
