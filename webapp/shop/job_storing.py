"""Storing a job with all that hangs on it: trailer, customer, bench record, due checks, link."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import Connection, select, update
from uuid_utils import uuid7

from webapp.clock import local_now
from webapp.follow_up import link_life, schedule, undecided, upkeep
from webapp.follow_up.shelves import SHELVES
from webapp.shop import bench, job_state, phones, session
from webapp.shop.job_form import Draft
from webapp.storage import audit, finds
from webapp.storage.models import customers, jobs, records, sort_key, trailers
from webapp.storage.store import store

Json = dict[str, Any]


class Meanwhile(Exception):
    """The job is no longer what the form was drawn from: ``state`` is what it is now."""

    def __init__(self, state: Json, job_id: int | None) -> None:
        super().__init__()
        self.state, self.job_id = state, job_id


def save(
    draft: Draft, trailer: Json | None, base: Json | None, key: str, finish: bool
) -> tuple[int, tuple[int, str] | None]:
    """Store trailer, customer, job, bench record, due checks and link, all or nothing.

    ``base`` is the state that the form was drawn from; a new job may come without.
    Raises ``Meanwhile`` when another one is stored now, unless that is already what the form asks
    for: a form sent twice.
    """
    me, moment = session.me(), local_now()
    with store().writing() as connection:
        job = job_of(connection, key, me["shop_id"])
        if job is not None:
            trailer = latest(connection, job["trailer_id"])
        elif trailer is not None:
            trailer = latest(connection, trailer["id"])
        before = job_state.stored(connection, trailer, job)
        finished = finish or before.get("finished", False)
        if before != base and (job is not None or base is not None):
            if job is not None and is_there(connection, draft, before, finished):
                return job["id"], None
            raise Meanwhile(before, None if job is None else job["id"])
        customer_id = draft.customer_id or new_customer(connection, draft, me["shop_id"])
        trailer = keep_trailer(connection, draft, trailer, customer_id, moment)
        values = filled_in(draft, customer_id)
        if job is None or job["finished"] is None:
            values |= {"staff_id": me["id"], "finished": moment if finish else None}
        job = keep_job(connection, job, trailer, key, values, moment)
        keep_bench(connection, draft, trailer, job, moment)
        schedule.renew_due(connection, job, draft.lines)
        if finished:
            hand_over(connection, job["id"])
        job = job_of(connection, key, me["shop_id"]) or job
        after = job_state.stored(connection, trailer, job)
        audit.write(connection, me, "job", job["id"], deed(before, after), before, after)
        upkeep.renew_trailer(connection, trailer["id"])
        finds.renew_job(connection, job)
        if not finish or before.get("finished"):
            return job["id"], None
        return job["id"], link_life.make(connection, trailer, job)


def filled_in(draft: Draft, customer_id: int | None) -> Json:
    """The columns of a job that its form fills."""
    return {
        "customer_id": customer_id,
        "work": draft.work,
        "note": draft.note,
        "work_order": draft.work_order,
        "parts": draft.parts,
    }


def job_of(connection: Connection, key: str, shop_id: int) -> Json | None:
    """The job of a form, held until the transaction ends."""
    mine = (jobs.c.form == key, jobs.c.shop_id == shop_id)
    row = connection.execute(select(jobs).where(*mine).with_for_update()).mappings().first()
    return None if row is None else dict(row)


def latest(connection: Connection, trailer_id: int) -> Json:
    """The trailer's row, or that of the one it was merged into, held until the transaction ends."""
    here = select(trailers).where(trailers.c.id == trailer_id).with_for_update()
    row = dict(connection.execute(here).mappings().one())
    return row if row["merged_into"] is None else latest(connection, row["merged_into"])


def is_there(connection: Connection, draft: Draft, state: Json, finished: bool) -> bool:
    """Whether the job is stored as the form has it already."""
    asked = job_state.drafted(draft, finished)
    if name := asked.pop("customer_name", ""):
        wanted = select(customers.c.name).where(customers.c.id == state.get("customer"))
        if sort_key(connection.execute(wanted).scalar() or "") != sort_key(name):
            return False
        asked["customer"] = state.get("customer")
    asked.pop("customer_phone", None)
    return asked == state


def deed(before: Json, after: Json) -> str:
    """What a save does, as one of the words ``shop-did-...``."""
    if before.get("finished"):
        return "corrected"
    if after.get("finished"):
        return "finished"
    return "kept"


def last_deed(connection: Connection, job: Json | None, trailer: Json) -> Json | None:
    """Who changed the job or its trailer last."""
    found = audit.of(connection, trailer["shop_id"], "trailer", trailer["id"])
    if job is not None:
        found += audit.of(connection, trailer["shop_id"], "job", job["id"])
    return max(found, key=lambda one: one["id"], default=None)


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
    """The customer written in the form; one of that name and number is here already."""
    if not draft.customer_name:
        return None
    if (known := known_customer(connection, draft, shop_id)) is not None:
        return known
    names = {"name": draft.customer_name, "phone": draft.customer_phone, "email": ""}
    done = connection.execute(customers.insert().values(shop_id=shop_id, **names))
    customer_id = int(done.inserted_primary_key[0])  # type: ignore[index]
    finds.renew_customer(connection, customer_id)
    return customer_id


def known_customer(connection: Connection, draft: Draft, shop_id: int) -> int | None:
    """Whoever has that name and number; by a name alone nobody is told from their namesake."""
    wanted = select(customers.c.id, customers.c.phone).where(
        customers.c.shop_id == shop_id,
        customers.c.merged_into.is_(None),
        customers.c.sort_name == sort_key(draft.customer_name),
    )
    number = phones.dial(draft.customer_phone)
    rows = connection.execute(wanted.order_by(customers.c.id))
    return next((row.id for row in rows if number and phones.dial(row.phone) == number), None)


def keep_trailer(
    connection: Connection,
    draft: Draft,
    trailer: Json | None,
    customer_id: int | None,
    moment: datetime,
) -> Json:
    values: Json = {"facts": draft.facts, "customer_id": customer_id, "touched": moment}
    values |= {"plate": draft.plate, "vin": draft.vin}
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
        values["revision"] = job["revision"] + 1
        connection.execute(update(jobs).where(jobs.c.id == job["id"]).values(**values))
        return job | values
    values |= {"shop_id": trailer["shop_id"], "trailer_id": trailer["id"], "form": key}
    done = connection.execute(jobs.insert().values(**values, opened=moment))
    return values | {"id": int(done.inserted_primary_key[0]), "record_id": None}  # type: ignore[index]


def keep_bench(
    connection: Connection, draft: Draft, trailer: Json, job: Json, moment: datetime
) -> None:
    """Records are append-only: a changed bench record is a new one, and the job names the last.

    What the one before found stays undecided where the answers that it came from are gone: a
    cleared answer says nothing about the wheel.
    """
    before = bench.stored(connection, trailer["shop_id"], job["record_id"])
    record_id = None
    if draft.check is not None:
        if before is not None and before["facts"] == draft.check["facts"]:
            return
        record_id = bench.store_bench(connection, trailer["shop_id"], trailer, draft.check, moment)
    if before is not None and emptied(before["verdict"], draft.check):
        hand_over(connection, job["id"])
        audit.write(connection, session.me(), "check", before["id"], "emptied")
    connection.execute(update(jobs).where(jobs.c.id == job["id"]).values(record_id=record_id))


def emptied(before: Json, check: Json | None) -> bool:
    """Whether a *Stop now* or *Mend* of the verdict ``before`` is left without an answer."""
    bad = [one for one in before["findings"] if SHELVES[one["level"]] in undecided.BAD]
    if check is None:
        return bool(bad)
    now = check["verdict"]
    unanswered = {(one["finding"], one["place"]) for one in now["cannot_tell"]}
    return any(
        (one["finding"], one["place"]) in unanswered or one["place"] not in now["places"]
        for one in bad
    )
