"""The rows of photos: found by their check or job, taken away."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from typing import Any

from sqlalchemy import Connection, delete, select

from webapp.clock import now
from webapp.storage.models import jobs, photos
from webapp.storage.store import Store


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
    store.photos.remove(row.path for row in gone)
