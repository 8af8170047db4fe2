"""Storing a job with all that hangs on it: trailer, customer, bench record, due checks, link."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import Connection, delete, select, update
from uuid_utils import uuid7

from webapp.clock import local_now
from webapp.follow_up import link_life, schedule
from webapp.follow_up.filing import SHELVES
from webapp.shop import bench, session
from webapp.shop.job_form import Draft
from webapp.storage.models import customers, due, jobs, records, trailers
from webapp.storage.store import store

Json = dict[str, Any]


def already(form_key: str) -> int:
    """The job that the same form has made."""
    mine = (jobs.c.form == form_key, jobs.c.shop_id == session.me()["shop_id"])
    with store().reading() as connection:
        return int(connection.execute(select(jobs.c.id).where(*mine)).scalar_one())


def save(
    draft: Draft, trailer: Json | None, job: Json | None, key: str, finish: bool
) -> tuple[int, tuple[int, str] | None]:
    """Store trailer, customer, job, bench record, due checks and link, all or nothing."""
    me, moment = session.me(), local_now()
    with store().writing() as connection:
        found = connection.execute(
            select(jobs).where(jobs.c.form == key, jobs.c.shop_id == me["shop_id"])
        ).first()
        if found is not None and (job is None or found.finished is not None):
            return found.id, None
        customer_id = draft.customer_id or new_customer(connection, draft, me["shop_id"])
        trailer = keep_trailer(connection, draft, trailer, customer_id)
        values: Json = {"customer_id": customer_id, "work": draft.work, "note": draft.note}
        values |= {"staff_id": me["id"], "finished": moment if finish else None}
        job = keep_job(connection, job, trailer, key, values, moment)
        keep_bench(connection, draft, trailer, job, moment)
        open_lines = (due.c.job_id == job["id"], due.c.record_id.is_(None))
        connection.execute(delete(due).where(*open_lines))
        schedule.insert_due(connection, me["shop_id"], trailer["id"], job["id"], draft.lines)
        if not finish:
            return job["id"], None
        hand_over(connection, job["id"])
        return job["id"], link_life.make(connection, trailer, job)


def hand_over(connection: Connection, job_id: int) -> None:
    """A bench record that still says *Stop now* or *Mend* goes out undecided, not unseen."""
    ours = select(jobs.c.record_id).where(jobs.c.id == job_id)
    mine = (records.c.id == ours.scalar_subquery(), records.c.shelf.is_(None))
    for level in ("stop", "mend"):
        wanted = update(records).where(*mine, records.c.level == level)
        connection.execute(wanted.values(shelf=SHELVES[level]))


def form_key(text: str) -> str:
    return text if len(text) == 36 else str(uuid7())


def new_customer(connection: Connection, draft: Draft, shop_id: int) -> int | None:
    if not draft.customer_name:
        return None
    names = {"name": draft.customer_name, "phone": draft.customer_phone, "email": ""}
    done = connection.execute(customers.insert().values(shop_id=shop_id, **names))
    return int(done.inserted_primary_key[0])  # type: ignore[index]


def keep_trailer(
    connection: Connection,
    draft: Draft,
    trailer: Json | None,
    customer_id: int | None,
) -> Json:
    values: Json = {"facts": draft.facts, "customer_id": customer_id}
    if trailer is None:
        values |= {"shop_id": session.me()["shop_id"], "record_id": str(uuid7())}
        values["name"] = draft.trailer_name
        done = connection.execute(trailers.insert().values(**values))
        return values | {"id": int(done.inserted_primary_key[0])}  # type: ignore[index]
    values["customer_id"] = customer_id or trailer["customer_id"]
    connection.execute(update(trailers).where(trailers.c.id == trailer["id"]).values(**values))
    return trailer | values


def keep_job(
    connection: Connection,
    job: Json | None,
    trailer: Json,
    key: str,
    values: Json,
    moment: datetime,
) -> Json:
    if job is not None:
        connection.execute(update(jobs).where(jobs.c.id == job["id"]).values(**values))
        return job | values
    values |= {"shop_id": trailer["shop_id"], "trailer_id": trailer["id"], "form": key}
    done = connection.execute(jobs.insert().values(**values, opened=moment))
    return values | {"id": int(done.inserted_primary_key[0]), "record_id": None}  # type: ignore[index]


def keep_bench(
    connection: Connection, draft: Draft, trailer: Json, job: Json, moment: datetime
) -> None:
    """Records are append-only: a changed bench record is a new one, and the job names the last."""
    if draft.check is None:
        record_id = None
    else:
        before = bench.stored(connection, trailer["shop_id"], job["record_id"])
        if before is not None and before["facts"] == draft.check["facts"]:
            return
        record_id = bench.store_bench(connection, trailer["shop_id"], trailer, draft.check, moment)
    connection.execute(update(jobs).where(jobs.c.id == job["id"]).values(record_id=record_id))
