"""What a phone does with a link: read it as often as it likes, and say once that it was opened.

The secret comes in the body, never in an address: those are kept in logs.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any, TypedDict

from flask import Blueprint, jsonify
from flask.typing import ResponseReturnValue
from marshmallow import fields
from sqlalchemy import Connection, func, or_, select, update

from webapp import logs
from webapp.api.requests import checked, device_key, parsed, whole_json
from webapp.api.schemas import Strict, field
from webapp.clock import now
from webapp.errors import Refusal
from webapp.follow_up import link_life, rate_limit, undecided
from webapp.follow_up.schedule import WORK, what_due
from webapp.follow_up.schedule import work_done as work_done_words
from webapp.security import csrf, sender
from webapp.storage.models import due, jobs, links, notes, records, shops, trailers
from webapp.storage.store import store

blueprint = Blueprint("link_reading", __name__, url_prefix="/api/links")
csrf.exempt(blueprint)
Json = dict[str, Any]
LIMIT = 4096


class SecretSchema(Strict):
    """``{"secret": "..."}``, the part of the link after ``#/from/``"""

    secret = field(fields.String)


@blueprint.post("/read")
def read() -> ResponseReturnValue:
    """What the link is for. Changes nothing, however often and by whatever it is read.

    Of one that has ended, beside the error: what was found before and is not decided, and replies.
    """
    device = device_key()
    link = known_link(secret_sent())
    with store().reading() as connection:
        if (over := ended(link)) is None:
            return jsonify(contents(connection, link, device))
        over.beside = left(connection, link, device)
    raise over


@blueprint.post("/opened")
def opened() -> ResponseReturnValue:
    """A person has pressed the button; the first time is kept."""
    device_key()
    link = open_link(secret_sent())
    with store().writing() as connection:
        first = update(links).where(links.c.id == link["id"], links.c.opened.is_(None))
        connection.execute(first.values(opened=now()))
        wanted = select(links.c.opened).where(links.c.id == link["id"])
        when = connection.execute(wanted).scalar_one()
    return jsonify(opened=when and when.isoformat())


def secret_sent() -> str:
    return str(checked(SecretSchema, parsed(whole_json(LIMIT)), "")["secret"])


def open_link(secret: str) -> Json:
    """The link, while it works."""
    link = known_link(secret)
    if (over := ended(link)) is not None:
        raise over
    return link


def known_link(secret: str) -> Json:
    """The link, working or not. Only what is unknown is counted, and shut out: whoever has a link
    may read it, whatever somebody else behind the same address tried."""
    with store().reading() as connection:
        link = link_life.find(connection, secret)
    if link is None:
        shut = rate_limit.count(store(), rate_limit.LINK, sender()) is not None
        logs.security("link_shut_out" if shut else "link_unknown")
        if shut:
            raise Refusal(429, "too_many")
        raise Refusal(404, "link_unknown")
    return link


ENDS = {"revoked": "link_revoked", "replaced": "link_replaced", "ended": "link_expired"}


def ended(link: Json) -> Refusal | None:
    """What a link that no longer works is answered."""
    state = link_life.state(link, now())
    return Refusal(410, ENDS[state]) if state in ENDS else None


def left(connection: Connection, link: Json, device: str) -> Json:
    """What a phone that kept the link still has to know of what was found before its end."""
    return {
        "open": open_verdict(connection, link, link_life.told_until(link)),
        "replies": replies(connection, link, device),
    }


def contents(connection: Connection, link: Json, device: str) -> Json:
    shop = connection.execute(select(shops).where(shops.c.id == link["shop_id"])).one()
    trailer = connection.execute(select(trailers).where(trailers.c.id == link["trailer_id"])).one()
    return {
        "shop": {"name": shop.name, "phone": shop.phone},
        "trailer": {"id": trailer.record_id, "name": trailer.name, "facts": trailer.facts},
        "due": due_for(connection, link),
        "replies": replies(connection, link, device),
        "expires": link["expires"].isoformat(),
        "kind": link["kind"],
        "work": work_done(connection, link),
        "service": service(connection, link),
        "open": open_verdict(connection, link),
    }


class Open(undecided.Told):
    """The worst undecided check of a trailer, and the others."""

    more: list[undecided.Told]


def open_verdict(connection: Connection, link: Json, end: datetime | None = None) -> Open | None:
    """The trailer's verdicts that the shop has not decided: whoever tows it has to know.

    Of a link that has ended only those that came by then, or on it: it tells no later owner's.
    """
    rows = undecided.of(connection, link["shop_id"], link["trailer_id"])
    told = [
        undecided.told(row)
        for row in rows
        if end is None or row.link_id == link["id"] or row.received_ms <= end.timestamp() * 1000
    ]
    return {**told[0], "more": told[1:]} if told else None


class Due(TypedDict):
    """A due check as phones get it: ``at_km`` in kilometres, ``by`` in ISO 8601."""

    id: int
    check: str
    what: str
    at_km: float | None
    by: str | None
    done: bool


def due_for(connection: Connection, link: Json) -> list[Due]:
    """A job's link shows that job's checks; the standing one whatever waits on the trailer."""
    wanted = select(due).where(due.c.trailer_id == link["trailer_id"], due.c.dropped.is_(None))
    if link["job_id"] is not None:
        wanted = wanted.where(due.c.job_id == link["job_id"])
    else:
        wanted = wanted.where(due.c.record_id.is_(None))
    return [
        {
            "id": row.id,
            "check": row.check,
            "what": what_due(row.what),
            "at_km": row.at_km,
            "by": None if row.by is None else row.by.isoformat(),
            "done": row.record_id is not None,
        }
        for row in connection.execute(wanted.order_by(due.c.at_km.is_(None), due.c.at_km, due.c.id))
    ]


class Reply(TypedDict):
    """What the shop wrote to whoever sent a check, and what it decided."""

    record: str
    text: str
    made: str
    decided: str | None


def replies(connection: Connection, link: Json, device: str) -> list[Reply]:
    """What the shop answered to checks sent with this link.

    Many borrowers share a standing link, so there each phone sees the answers to its own; and
    whoever else has one that was taken back sees none written or reworded later.
    """
    sent = select(records.c.id).where(records.c.link_id == link["id"])
    own = sent.where(records.c.device == device)
    if link["kind"] == "standing":
        sent = own
    wanted = select(notes).where(
        notes.c.shop_id == link["shop_id"], notes.c.reply.is_not(None), notes.c.record_id.in_(sent)
    )
    if link["revoked"] is not None:
        last = func.coalesce(notes.c.reworded, notes.c.made)
        wanted = wanted.where(or_(last <= link["revoked"], notes.c.record_id.in_(own)))
    return [
        {
            "record": row.record_id,
            "text": row.reply,
            "made": row.made.isoformat(),
            "decided": row.decided,
        }
        for row in connection.execute(wanted.order_by(notes.c.id))
    ]


class Service(TypedDict):
    """What was done to a trailer last, by its codes, and when, in ISO 8601."""

    work: list[str]
    finished: str


def service(connection: Connection, link: Json) -> Service | None:
    """What the shop did to the trailer last, by its codes, for the plan of a run."""
    wanted = select(jobs.c.work, jobs.c.finished).where(
        jobs.c.trailer_id == link["trailer_id"],
        jobs.c.shop_id == link["shop_id"],
        jobs.c.finished.is_not(None),
    )
    row = connection.execute(wanted.order_by(jobs.c.finished.desc(), jobs.c.id.desc())).first()
    return None if row is None else {"work": row.work, "finished": row.finished.isoformat()}


def work_done(connection: Connection, link: Json) -> str | None:
    if link["job_id"] is None:
        return None
    job = connection.execute(select(jobs).where(jobs.c.id == link["job_id"])).one()
    parts = [", ".join(work_done_words(job.work, WORK)), job.note]
    return ". ".join(part for part in parts if part) or None
