"""The life of a customer's link: made, opened, ended, taken back; and what may come on it.

Only the hash of a link's secret is stored.
"""

from __future__ import annotations

import re
import secrets
from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any, Literal

from sqlalchemy import Connection, select, update

from webapp.clock import now
from webapp.errors import Refusal
from webapp.security import digest, seeded_secret
from webapp.storage.models import links

Link = Mapping[str, Any]
State = Literal["sent", "opened", "ended", "replaced", "revoked"]
WORKING: tuple[State, ...] = ("sent", "opened")
SECRET = re.compile(r"[A-Za-z0-9_-]{43}\Z")
# A job's link ends with its season; one that hangs on a lending desk is renewed once a year.
LASTS = {"job": timedelta(days=90), "standing": timedelta(days=365)}
# A phone may lie in a glovebox for weeks: what was done on a link is taken this long after its end.
GRACE = timedelta(days=90)


def state(link: Link, moment: datetime) -> State:
    """What can be said of the link at that moment; *sent* is one that nobody has opened yet."""
    if link["revoked"] is not None:
        return "revoked"
    if link["replaced"] is not None:
        return "replaced"
    if link["expires"] <= moment:
        return "ended"
    return "sent" if link["opened"] is None else "opened"


def end_of(link: Link) -> datetime:
    """When the link stopped working, or will."""
    end: datetime = link["revoked"] or link["replaced"] or link["expires"]
    return end


def told_until(link: Link) -> datetime:
    """Until when the link tells what comes in on others: the first of its ends. One that was over
    may be renewed or taken back long after, when somebody else has the trailer."""
    first: datetime = min(filter(None, (link["revoked"], link["replaced"], link["expires"])))
    return first


def may_send(link: Link, moment: datetime) -> bool:
    """Whether what was done on the link is still taken: for a while longer than it can be read.

    A link that was replaced or taken back takes what was begun under it; nothing that a customer
    kept may be undeliverable without a word. What comes on one taken back goes into a tray.
    """
    if state(link, moment) == "ended" and link["opened"] is None:
        return False
    return moment - end_of(link) <= GRACE


def find(connection: Connection, secret: str) -> dict[str, Any] | None:
    """The link that ``secret`` opens, whatever its state, or None."""
    if not SECRET.match(secret):
        return None
    row = connection.execute(select(links).where(links.c.token_hash == digest(secret))).first()
    return None if row is None else dict(row._mapping)


def held(connection: Connection, link_id: int) -> dict[str, Any]:
    """The link as it is now, held until the transaction ends: its trailer is merged into no other
    meanwhile. Raises Refusal (403) when it has gone with its customer."""
    row = connection.execute(select(links).where(links.c.id == link_id).with_for_update()).first()
    if row is None:
        raise closed("link_unknown")
    return dict(row._mapping)


def sending_link(connection: Connection, secret: str) -> dict[str, Any]:
    """The link that ``secret`` opens, when something may still be sent on it.

    Raises Refusal (403) when it is unknown, ended before anybody had opened it, or ended, was
    replaced or taken back more than 90 days ago.
    """
    link = find(connection, secret)
    if link is None:
        raise closed("link_unknown")
    if not may_send(link, now()):
        if state(link, now()) == "revoked":
            raise closed("link_revoked")
        raise closed("link_expired")
    return link


def closed(code: str) -> Refusal:
    return Refusal(403, code, "link", words=f"sending-{code}")


def make(connection: Connection, trailer: Link, job: Link | None = None) -> tuple[int, str]:
    """A new link, in the place of the job's (or the trailer's standing) one: its id and secret."""
    kind = "standing" if job is None else "job"
    moment = now()
    same = (links.c.trailer_id == trailer["id"], links.c.kind == kind, links.c.revoked.is_(None))
    ours = same if job is None else (*same, links.c.job_id == job["id"])
    standing = update(links).where(*ours, links.c.replaced.is_(None))
    connection.execute(standing.values(replaced=moment))
    seed = secrets.token_hex(16)
    secret = seeded_secret("link", seed)
    done = connection.execute(
        links.insert().values(
            shop_id=trailer["shop_id"],
            trailer_id=trailer["id"],
            customer_id=None if job is None else job["customer_id"],
            job_id=None if job is None else job["id"],
            kind=kind,
            token_hash=digest(secret),
            seed=seed,
            made=moment,
            expires=moment + LASTS[kind],
        )
    )
    return int(done.inserted_primary_key[0]), secret  # type: ignore[index]


def secret_of(link: Link) -> str | None:
    """The link's secret, to show or print it again; None where the server's key has changed."""
    secret = seeded_secret("link", link["seed"]) if link["seed"] else ""
    return secret if digest(secret) == link["token_hash"] else None


def of_trailer(connection: Connection, trailer_id: int, moment: datetime) -> list[dict[str, Any]]:
    """The trailer's links, newest first, each with its ``state``."""
    rows = connection.execute(
        select(links).where(links.c.trailer_id == trailer_id).order_by(links.c.id.desc())
    ).mappings()
    return [row | {"state": state(row, moment)} for row in map(dict, rows)]


def working(
    found: list[dict[str, Any]], kind: str, job_id: int | None = None
) -> dict[str, Any] | None:
    """The one of that kind that still works, of what ``of_trailer`` gave; or None."""
    for link in found:
        if (link["kind"], link["job_id"]) == (kind, job_id) and link["state"] in WORKING:
            return link
    return None
