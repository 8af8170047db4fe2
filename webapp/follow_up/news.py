"""Which news waits in the table ``mails``, gathered so that no link can send a mailbox full.

The first few *Stop now* from a link are mailed one by one, at once. What else comes from it within
the hour is one mail. So it is with what nobody is to drive on with yet. All *Mend* of a shop are
one mail too, and all that is overdue of a day.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import Connection, Select, func, or_, select, update

from webapp.clock import noon_of_today, now
from webapp.follow_up.schedule import WAITING
from webapp.follow_up.verdicts import is_held
from webapp.storage.models import customers, due, jobs, mails, records, shops, trailers
from webapp.storage.store import AnyRow

ONE_BY_ONE = 3  # mails an hour from one link
HOUR, SOON, DAY = timedelta(hours=1), timedelta(minutes=5), timedelta(hours=20)


# Of the news that cannot wait: the kind of the mail with what came on in the hour after.
MORE = {"stop": "stops", "held": "helds"}


def urgent_came(connection: Connection, link: Mapping[str, Any], record_id: str, kind: str) -> None:
    """A check came on the link that cannot wait: it is mailed at once, or with the others of this
    hour. ``kind`` is one of ``MORE``."""
    shop_id, moment = link["shop_id"], now()
    of_link = (
        select(mails)
        .join(records, (records.c.id == mails.c.record_id) & (records.c.shop_id == shop_id))
        .where(mails.c.shop_id == shop_id, records.c.link_id == link["id"])
    )
    lately = of_link.where(mails.c.kind == kind, mails.c.made > moment - HOUR)
    if len(connection.execute(lately.limit(ONE_BY_ONE)).all()) < ONE_BY_ONE:
        add(connection, shop_id, kind, record_id, moment)
    elif waits(connection, of_link, MORE[kind]) is None:
        add(connection, shop_id, MORE[kind], record_id, moment + HOUR)


def mend_came(connection: Connection, shop_id: int, record_id: str) -> None:
    """A *Mend* came: where the shop wants to know, it is in the next mail of its kind."""
    wants = select(shops.c.mail_mend).where(shops.c.id == shop_id)
    mine = select(mails).where(mails.c.shop_id == shop_id)
    if not connection.execute(wants).scalar() or waits(connection, mine, "mend") is not None:
        return
    last = select(func.max(mails.c.sent)).where(mails.c.shop_id == shop_id, mails.c.kind == "mend")
    sent = connection.execute(last).scalar()
    soon = now() + SOON
    add(connection, shop_id, "mend", record_id, soon if sent is None else max(soon, sent + HOUR))


def waits(connection: Connection, mine: Select[Any], kind: str) -> AnyRow | None:
    """A mail of the kind that will still go out, and takes in what comes until then."""
    open_ones = mine.where(mails.c.kind == kind, mails.c.sent.is_(None))
    return connection.execute(open_ones.where(mails.c.next_try.is_not(None)).limit(1)).first()


def add(
    connection: Connection, shop_id: int, kind: str, record_id: str, when: datetime, **more: Any
) -> None:
    row = {"shop_id": shop_id, "kind": kind, "record_id": record_id, "made": now(), "tries": 0}
    connection.execute(mails.insert().values(**row | {"next_try": when, "error": ""} | more))


# ---- overdue ------------------------------------------------------------------------------------


def overdue_came(connection: Connection) -> None:
    """For every shop that wants to know: what is overdue since its last mail, once a day."""
    moment = now()
    wanting = select(shops.c.id).where(shops.c.mail_overdue.is_(True))
    for shop_id in connection.execute(wanting).scalars().all():
        lately = (mails.c.kind == "overdue", mails.c.made > moment - DAY)
        mine = select(mails.c.id).where(mails.c.shop_id == shop_id, *lately)
        if connection.execute(mine.limit(1)).first():
            continue
        late = [row.id for row in overdue(connection, shop_id) if row.told is None]
        told = update(due).where(due.c.id.in_(late), due.c.told.is_(None)).values(told=moment)
        if late and connection.execute(told).rowcount:
            add(connection, shop_id, "overdue", "", moment, made=moment)


def overdue(connection: Connection, shop_id: int) -> list[AnyRow]:
    """Due checks of finished jobs whose day or distance is over, with the names they go by."""
    names = (trailers.c.name.label("trailer_name"), customers.c.name.label("customer"))
    zone = connection.execute(select(shops.c.zone).where(shops.c.id == shop_id)).scalar_one()
    wanted = (
        select(due, *names)
        .join(trailers, trailers.c.id == due.c.trailer_id)
        .outerjoin(jobs, jobs.c.id == due.c.job_id)
        .outerjoin(customers, customers.c.id == trailers.c.customer_id)
        .where(due.c.shop_id == shop_id, *WAITING)
        .where(or_(due.c.by < noon_of_today(zone), due.c.missed_km.is_not(None)))
        .where(or_(due.c.job_id.is_(None), jobs.c.finished.is_not(None)))
        .order_by(due.c.by.is_(None), due.c.by, due.c.id)
    )
    return list(connection.execute(wanted).all())


# ---- what a gathering mail gathers --------------------------------------------------------------


LEVELS = {"mend": "mend", "stops": "stop", "helds": "look"}


def gathered(connection: Connection, mail: AnyRow) -> list[AnyRow]:
    """The checks that came since a mail was begun, with ``trailer_name``, the last first."""
    level = LEVELS[mail.kind]
    first = (records.c.shop_id == mail.shop_id, records.c.id == mail.record_id)
    begun = connection.execute(select(records.c.seq, records.c.link_id).where(*first)).first()
    if begun is None:
        return []
    wanted = (
        select(records, trailers.c.name.label("trailer_name"))
        .outerjoin(trailers, trailers.c.id == records.c.trailer_key)
        .where(records.c.shop_id == mail.shop_id, records.c.seq >= begun.seq)
        .where(or_(records.c.level == level, records.c.phone_level == level))
    )
    if mail.kind != "mend":
        wanted = wanted.where(records.c.link_id == begun.link_id)
    rows = connection.execute(wanted.order_by(records.c.seq.desc())).all()
    return [row for row in rows if level != "look" or is_held(row._mapping)]
