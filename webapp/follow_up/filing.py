"""What comes back to the shop: which shop, trailer and due check a record belongs to.

A record itself never changes. What is set here, beside it, says where it is shown.
"""

from __future__ import annotations

import json
import logging
from collections.abc import Mapping
from typing import Any

from sqlalchemy import Connection, func, select, update

from webapp.clock import now
from webapp.errors import Refusal
from webapp.follow_up import lending, link_life, news, upkeep
from webapp.follow_up.answered import answers
from webapp.follow_up.schedule import WAITING
from webapp.follow_up.shelves import DECIDED, HELD, SHELVES, STRAY, TRAY
from webapp.follow_up.verdicts import is_level, shelf_for
from webapp.security import digest
from webapp.storage.models import due, jobs, links, photos, records

LINK_MOST = 60  # records an hour; a lending desk's code sees a dozen (common practice, no source)
FLOODED = logging.getLogger("twentymile.security")
HOUR_MS = 60 * 60 * 1000


def filed(connection: Connection, row: Mapping[str, Any], envelope: Mapping[str, Any]) -> bool:
    """Whether all is done that the link asks for: then it no longer matters that it has ended."""
    came_on = select(links.c.token_hash).where(links.c.id == row["link_id"])
    if connection.execute(came_on).scalar() != digest(envelope["link"]):
        return False
    return envelope.get("due") is None or row["due_id"] is not None


def attach(
    connection: Connection,
    row: Mapping[str, Any],
    link: Mapping[str, Any],
    due_id: int | None,
    far_km: float | None,
) -> None:
    """Show the stored ``row`` to the link's shop, once, and mark the due check done.

    ``far_km`` is how far the check says it was driven. Runs in the transaction that stores.
    """
    if row["shop_id"] not in (None, link["shop_id"]):
        raise Refusal(
            409,
            "sent_elsewhere",
            "link",
            id=row["id"],
        )
    link = link_life.held(connection, link["id"])  # it was read before all this was stored
    mine = (records.c.device == row["device"], records.c.id == row["id"])
    due_id = due_of(connection, link, due_id)
    if row["shop_id"] is None:
        place = {"trailer_key": link["trailer_id"], "link_id": link["id"], "due_id": due_id}
        if shown_already(connection, row, link["shop_id"]):
            out_of_tray(connection, row, link)
        else:
            place |= taken_in(connection, row, link, far_km)
        connection.execute(update(records).where(*mine).values(place))
    else:
        out_of_tray(connection, row, link)
        if due_id is not None:
            nameless = update(records).where(*mine, records.c.due_id.is_(None))
            connection.execute(nameless.values(due_id=due_id))
    if row["kind"] == "check" and link["revoked"] is None:
        # Figures are no look at the trailer, whatever it was sent for.
        looked = None if check_of(row) == "figures" else due_id
        settle(connection, row, link["trailer_id"], looked)
        upkeep.renew(connection, link["trailer_id"])
    bring_photos(connection, row, link)


def taken_in(
    connection: Connection, row: Mapping[str, Any], link: Mapping[str, Any], far_km: float | None
) -> dict[str, Any]:
    """Where a record stands in the shop. A *Stop now* is mailed, the tray's too, and what is not to
    be driven on with before something is settled."""
    unless_flooding(connection, link)
    place = {"shop_id": link["shop_id"]} | shown(row, far_km)
    worst = place.get("shelf")
    if link["revoked"] is None:
        lending.told(connection, link, row, worst)
    if worst is None:
        return place
    if worst == SHELVES["stop"]:
        news.urgent_came(connection, link, row["id"], "stop")
    if worst == HELD:
        news.urgent_came(connection, link, row["id"], "held")
    if worst == SHELVES["mend"]:
        news.mend_came(connection, link["shop_id"], row["id"])
    if link["revoked"] is not None:
        return place | {"shelf": TRAY}
    return place


def check_of(row: Mapping[str, Any]) -> str:
    return str(json.loads(row["record"])["body"]["check"])


def unless_flooding(connection: Connection, link: Mapping[str, Any]) -> None:
    """Whoever has a link could fill the inbox of its shop. What is over the limit waits on the
    phone, which sends it again later; nothing is lost."""
    hour_ago = int(now().timestamp() * 1000) - HOUR_MS
    mine = (records.c.link_id == link["id"], records.c.received_ms > hour_ago)
    if connection.execute(select(func.count()).where(*mine)).scalar_one() >= LINK_MOST:
        FLOODED.warning("link_flooded", extra={"about": {"link": link["id"]}})
        raise Refusal(429, "too_many", "link", words="too_many_records", most=LINK_MOST)


def shown_already(connection: Connection, row: Mapping[str, Any], shop_id: int) -> bool:
    """Whether another phone has sent this record: its copy then stays out of sight."""
    twin = select(records.c.hash).where(records.c.shop_id == shop_id, records.c.id == row["id"])
    found = connection.execute(twin).scalar()
    if found is not None and found != row["hash"]:
        raise Refusal(
            422,
            "id_reused",
            "record.id",
            words="id_reused_phone",
            id=row["id"],
        )
    return found is not None


def out_of_tray(connection: Connection, row: Mapping[str, Any], link: Mapping[str, Any]) -> None:
    """What came on a link taken back stands with its trailer once it comes on one that works."""
    if link["revoked"] is not None:
        return
    mine = (records.c.shop_id == link["shop_id"], records.c.id == row["id"])
    found = connection.execute(select(records).where(*mine, records.c.shelf.in_(STRAY))).first()
    if found is not None:
        tray = found.shelf == TRAY
        shelf = shelf_for(found._mapping, found.phone_level) if tray else DECIDED
        place = {"shelf": shelf, "link_id": link["id"]}
        here = update(records).where(records.c.seq == found.seq)
        connection.execute(here.values(**place, trailer_key=link["trailer_id"]))


def shown(row: Mapping[str, Any], far_km: float | None) -> dict[str, Any]:
    """Where a check stands in the inbox: by the worse of the phone's verdict and the server's."""
    if row["kind"] != "check":
        return {}
    level = json.loads(row["record"])["body"]["verdict"].get("level")
    phone = level if is_level(level) else None
    return {"shelf": shelf_for(row, phone), "phone_level": phone, "far_km": far_km}


def due_of(connection: Connection, link: Mapping[str, Any], due_id: int | None) -> int | None:
    """``due_id`` when it is a check due on the link's trailer, else None.

    A check that names another one is taken all the same: a wrong number must not lose it.
    """
    if due_id is None or not 0 < due_id < 2**31:  # PostgreSQL refuses to look for larger ones
        return None
    wanted = select(due.c.id).where(due.c.id == due_id, due.c.trailer_id == link["trailer_id"])
    found: int | None = connection.execute(wanted).scalar()
    return found


def settle(
    connection: Connection, row: Mapping[str, Any], trailer_id: int, due_id: int | None
) -> None:
    """Mark the due check done; the first check that answers what it asks stays its answer.

    One that does not is kept with its ``due_id``, so that the shop sees that it came back.

    Due checks that the trailer has driven past since their job are marked as missed.
    """
    if due_id is not None:
        line = connection.execute(select(due).where(due.c.id == due_id)).mappings().one()
        if answers(dict(line), json.loads(row["record"])["body"]["facts"], row["level"]):
            first = update(due).where(due.c.id == due_id, due.c.record_id.is_(None))
            connection.execute(first.values(record_id=row["id"]))
    begun = func.coalesce(jobs.c.finished, jobs.c.opened).label("begun")
    waiting = (
        select(due.c.id, due.c.at_km, begun)
        .join(jobs, jobs.c.id == due.c.job_id)
        .where(due.c.trailer_id == trailer_id, *WAITING, due.c.at_km.is_not(None))
    )
    for one in connection.execute(waiting).all():
        driven = upkeep.driven_km(connection, trailer_id, one.begun)
        if driven >= one.at_km:
            connection.execute(update(due).where(due.c.id == one.id).values(missed_km=driven))


def bring_photos(connection: Connection, row: Mapping[str, Any], link: Mapping[str, Any]) -> None:
    """Photos that came before their check, or without the link, follow it to the shop."""
    connection.execute(
        update(photos)
        .where(
            photos.c.record_id == row["id"],
            photos.c.device_hash == row["device"],
            photos.c.shop_id.is_(None),
        )
        .values(shop_id=link["shop_id"], link_id=link["id"])
    )
