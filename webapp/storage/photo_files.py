"""The photos as files: written whole, found by their check, taken away."""

from __future__ import annotations

import logging
import os
import time
from collections.abc import Iterable, Mapping
from contextlib import suppress
from datetime import timedelta
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, delete, select

from webapp.clock import now
from webapp.storage.models import jobs, photos
from webapp.storage.store import Store

log = logging.getLogger("webapp.storage.photo_files")


def path_of(photo: str) -> str:
    """Where a photo lies below the data folder."""
    return f"photos/{photo[-2:]}/{photo}.jpg"


def write_whole(path: Path, data: bytes) -> None:
    """Write a file that is there whole or not at all, also after a power cut."""
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    draft = path.with_suffix(f".{os.getpid()}.part")
    try:
        with open(os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        draft.rename(path)
    except BaseException:
        draft.unlink(missing_ok=True)
        raise
    for folder in (path.parent, path.parent.parent):
        handle = os.open(folder, os.O_RDONLY)
        os.fsync(handle)
        os.close(handle)


def tidy(data: Path) -> None:
    """Take away what a power cut left half written; nothing takes an hour to write."""
    for part in data.glob("photos/*/*.part"):
        with suppress(FileNotFoundError):  # another process tidies too
            if time.time() - part.stat().st_mtime > 3600:
                part.unlink()


def read(data: Path, path: str) -> bytes | None:
    """The photo's bytes; None, and a line in the log, when its file is missing."""
    try:
        return (data / path).read_bytes()
    except FileNotFoundError:
        log.error("the photo's file %s is missing", path)
        return None


def remove_files(data: Path, paths: Iterable[str]) -> None:
    """Take the files of deleted photos away; one that is gone already is no fault."""
    for path in paths:
        (data / path).unlink(missing_ok=True)


def of_record(connection: Connection, record: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The photos of a shop's check, oldest first: those of the phone that sent it."""
    wanted = (
        select(photos)
        .where(
            photos.c.record_id == record["id"],
            photos.c.shop_id == record["shop_id"],
            photos.c.device_hash == record["device"],
        )
        .order_by(photos.c.id)
    )
    return [dict(row) for row in connection.execute(wanted).mappings()]


def of_job(connection: Connection, job_id: int) -> list[dict[str, Any]]:
    """The photos from the bench, oldest first, with those that were removed."""
    wanted = select(photos).where(photos.c.job_id == job_id).order_by(photos.c.id)
    return [dict(row) for row in connection.execute(wanted).mappings()]


def of_trailer(connection: Connection, trailer_id: int, most: int) -> list[dict[str, Any]]:
    """The photos of all its jobs, the newest first."""
    wanted = select(photos).join(jobs, jobs.c.id == photos.c.job_id)
    mine = wanted.where(jobs.c.trailer_id == trailer_id, photos.c.removed.is_(None))
    newest = mine.order_by(photos.c.id.desc()).limit(most)
    return [dict(row) for row in connection.execute(newest).mappings()]


def of_bench(connection: Connection, record: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The photos of the job whose bench record this is, oldest first."""
    wanted = select(photos).join(jobs, jobs.c.id == photos.c.job_id)
    mine = (jobs.c.record_id == record["id"], jobs.c.shop_id == record["shop_id"])
    shown = wanted.where(*mine, photos.c.removed.is_(None)).order_by(photos.c.id)
    return [dict(row) for row in connection.execute(shown).mappings()]


def forget_removed(store: Store, after: timedelta) -> None:
    """Delete for good what was removed longer ago than that."""
    old = photos.c.removed < now() - after
    with store.reading() as connection:
        if connection.execute(select(photos.c.id).where(old).limit(1)).first() is None:
            return
    with store.writing() as connection:
        gone = connection.execute(select(photos.c.id, photos.c.path).where(old)).all()
        ids = [row.id for row in gone]
        connection.execute(delete(photos).where(photos.c.id.in_(ids)))
    remove_files(store.data, [row.path for row in gone])
