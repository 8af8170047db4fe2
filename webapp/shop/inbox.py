"""The inbox: what came back, worst first, what is overdue, and what was opened and not done."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import Any, TypedDict

from flask import Blueprint, render_template, request
from flask.typing import ResponseReturnValue
from sqlalchemy import Connection, Select, case, exists, func, or_, select

from webapp.clock import made_at, now
from webapp.errors import Refusal
from webapp.follow_up.answered import came_back
from webapp.follow_up.lending import OUT
from webapp.follow_up.schedule import WAITING
from webapp.follow_up.shelves import DECIDED, HELD, SHELVES, TRAY, TRAY_DECIDED
from webapp.follow_up.verdicts import Finding, as_seen, by_both, holds, is_held
from webapp.shop import reading, session, stands, times
from webapp.shop.questions import checks_by_name
from webapp.storage.models import customers, due, jobs, links, outings, records, trailers
from webapp.storage.store import AnyRow, store
from webapp.wording import said, say

blueprint = Blueprint("inbox", __name__, url_prefix="/shop")
Json = dict[str, Any]

PAGE = 30
# All of them stand on the first page, however many there are.
FIRST = (SHELVES["stop"], HELD)
REST = tuple(shelf for shelf in SHELVES.values() if shelf not in FIRST)
# Where the next page begins: a shelf, and the number that the last check shown was stored under.
CURSOR = re.compile(r"([0-6])\.([0-9]{1,18})\Z")


@blueprint.get("")
def front() -> ResponseReturnValue:
    shop_id, after = session.me()["shop_id"], cursor()
    with store().reading() as connection:
        back, more = page(connection, shop_id, REST, after)
        parts: Json = {"back": back, "more": more, "first": after is None}
        if after is None:
            parts["stops"] = [
                one for shelf in FIRST for one in checks(connection, shop_id, shelf, None, None)
            ]
            tray = checks(connection, shop_id, TRAY, None, None)
            parts["tray"] = sorted(tray, key=lambda x: (SHELVES[x["level"]], not x["held"]))
            parts |= waiting(connection, shop_id)
    return render_template("shop/inbox.html", **parts, names=checks_by_name(), now=now())


@blueprint.get("/decided")
def decided() -> ResponseReturnValue:
    with store().reading() as connection:
        shop_id, after = session.me()["shop_id"], cursor()
        back, more = page(connection, shop_id, (DECIDED,), after)
        tray = [] if after else list(checks(connection, shop_id, TRAY_DECIDED, None, None))
    return render_template("shop/decided.html", back=back, more=more, tray=tray)


def cursor() -> tuple[int, int] | None:
    text = request.args.get("after")
    if text is None:
        return None
    found = CURSOR.match(text)
    if found is None:
        raise Refusal(400, "bad_page", "after")
    return int(found[1]), int(found[2])


def page(
    connection: Connection, shop_id: int, shelves: tuple[int, ...], after: tuple[int, int] | None
) -> tuple[list[Line], str | None]:
    """Up to 30 checks and where the next page begins.

    One query a shelf: each walks the index from where the last page ended, however many there are.
    """
    found: list[Line] = []
    for shelf in shelves:
        if after is not None and shelf < after[0]:
            continue
        before = after[1] if after is not None and shelf == after[0] else None
        found += checks(connection, shop_id, shelf, before, PAGE + 1 - len(found))
        if len(found) > PAGE:
            last = found[PAGE - 1]
            return found[:PAGE], f"{last['shelf']}.{last['seq']}"
    return found, None


def checks(
    connection: Connection, shop_id: int, shelf: int, before: int | None, limit: int | None
) -> Iterator[Line]:
    """Checks of one shelf, the last to arrive first."""
    wanted = (
        check_rows()
        .where(records.c.shop_id == shop_id, records.c.shelf == shelf)
        .order_by(records.c.seq.desc())
        .limit(limit)
    )
    if before is not None:
        wanted = wanted.where(records.c.seq < before)
    for row in connection.execute(wanted):
        yield line(row)


def check_rows() -> Select[Any]:
    """Checks with the names of their trailer and customer, and of whoever has it from the desk."""
    whose = func.coalesce(links.c.customer_id, jobs.c.customer_id, trailers.c.customer_id)
    made_by = (jobs.c.trailer_id == records.c.trailer_key) & (jobs.c.record_id == records.c.id)
    events = select(func.max(outings.c.id)).where(outings.c.trailer_id == records.c.trailer_key)
    last = outings.c.id == events.correlate(records).scalar_subquery()
    return (
        select(
            records,
            trailers.c.name.label("trailer_name"),
            customers.c.id.label("customer_id"),
            customers.c.name.label("customer"),
            customers.c.phone.label("customer_phone"),
            customers.c.language,
            outings.c.made.label("out_since"),
            outings.c.name.label("holder"),
            outings.c.phone.label("holder_phone"),
        )
        .outerjoin(trailers, trailers.c.id == records.c.trailer_key)
        .outerjoin(links, links.c.id == records.c.link_id)
        .outerjoin(jobs, made_by & records.c.link_id.is_(None))
        .outerjoin(outings, last & (outings.c.what == OUT))
        .outerjoin(customers, customers.c.id == whose)
    )


class Line(TypedDict):
    """A check as one line of a list; ``phone`` is of whoever sent it, ``holder`` who else has the
    trailer by now, ``held`` whether it says not to drive on before something is settled."""

    id: str
    seq: int
    shelf: int | None
    level: str
    differ: bool
    name: str
    made: datetime
    trailer: str
    trailer_id: int | None
    customer: str
    phone: str
    out_since: datetime | None
    holder: str
    holder_phone: str
    worst: str
    held: bool


def line(row: AnyRow) -> Line:
    """A check as one line of a list."""
    one = json.loads(row.record)
    body = one["body"]
    phone = as_seen(body["verdict"])
    made = made_at(one["made"], row.made_ms, row.clock_s)
    name, number = sender(row, body.get("by"), made)
    other = bool(row.out_since) and row.holder != name
    worst = reading.worst_of(phone["level"], row.level)
    found = worst_first(by_both(row._mapping))
    return {
        "id": row.id,
        "seq": row.seq,
        "shelf": row.shelf,
        "level": worst,
        "differ": phone["level"] is not None and phone["level"] != row.level,
        "name": said(f"check-{body['check']}", body["check"]),
        "made": made,
        "trailer": row.trailer_name or "",
        "trailer_id": row.trailer_key,
        "customer": name,
        "phone": number,
        "out_since": row.out_since,
        "holder": row.holder if other else "",
        "holder_phone": row.holder_phone if other else "",
        "worst": worst_words(found, body),
        "held": is_held(row._mapping),
    }


def worst_first(found: list[Finding]) -> list[Finding]:
    """What was found, worst first, of *Look again* what holds up driving on."""
    return sorted(found, key=lambda one: (SHELVES[one["level"]], not holds(one)))


def sender(row: AnyRow, by: Json | None, made: datetime) -> tuple[str, str]:
    """Name and number of whoever sent a check: it says so, or they had the trailer then."""
    holder = (row.holder or "", row.holder_phone or "")
    if by and (by["phone"] or by["name"] != holder[0]):
        return by["name"], by["phone"]
    owner = (row.customer or "", row.customer_phone or "")
    since = any(holder) and (by is not None or made >= row.out_since)
    return holder if since or not any(owner) else owner


def worst_words(both: list[Finding], body: Json) -> str:
    """The worst finding, and how many more there are of its level: one for a wheel."""
    as_bad = {(one["finding"], one["place"]) for one in both if one["level"] == both[0]["level"]}
    told = reading.found_words(both[:1], body)
    if len(as_bad) > 1:
        told.append(say("shop-open-more", count=len(as_bad) - 1))
    return ", ".join(told)


# ---- what has not come back ---------------------------------------------------------------------

SHOWN = 100


class Waiting(TypedDict):
    """Due checks that have not come back; ``open`` is what nobody has decided of each trailer."""

    overdue: Sequence[AnyRow]
    open: dict[int, stands.Stand]
    idle: list[AnyRow]
    shown: int


def waiting(connection: Connection, shop_id: int) -> Waiting:
    """Due checks that are overdue, and those whose link was opened without a check coming back."""
    late = or_(due.c.by < times.over_before(), due.c.missed_km.is_not(None))
    opened = (
        select(func.min(links.c.opened))
        .where(links.c.job_id == due.c.job_id, links.c.opened.is_not(None))
        .scalar_subquery()
    )
    lines = due_rows(shop_id).add_columns(opened.label("opened")).limit(SHOWN + 1)
    ordered = lines.where(late).order_by(due.c.by.is_(None), due.c.by, due.c.id)
    overdue, opened_only = connection.execute(ordered).all(), idle(connection, shop_id)
    shown = {one.trailer_id for one in [*overdue, *opened_only]}
    return {
        "overdue": overdue,
        "open": stands.open_ones(connection, shop_id, shown),
        "idle": opened_only,
        "shown": SHOWN,
    }


def idle(connection: Connection, shop_id: int) -> list[AnyRow]:
    """Trailers whose link was opened and whose due checks have time yet: one line each."""
    opened = exists().where(links.c.job_id == due.c.job_id, links.c.opened.is_not(None))
    later = or_(due.c.by.is_(None), due.c.by >= times.over_before())
    lines = due_rows(shop_id).where(later, due.c.missed_km.is_(None), opened).subquery()
    named = [lines.c[name] for name in ("trailer_id", "trailer_name", "customer", "customer_phone")]
    first = func.min(lines.c.by)
    counted = (func.count().label("count"), func.min(lines.c.what).label("what"))
    unanswered = func.max(case((lines.c.came_back, 1), else_=0)).label("came_back")
    wanted = select(*named, *counted, unanswered, first.label("by"))
    rows = wanted.group_by(*named).order_by(first.is_(None), first, lines.c.trailer_id)
    return list(connection.execute(rows.limit(SHOWN)).all())


def due_rows(shop_id: int) -> Select[Any]:
    """Due checks that nobody has done or dropped, with whom to ask about them."""
    return (
        select(
            due,
            came_back(),
            trailers.c.name.label("trailer_name"),
            customers.c.name.label("customer"),
            customers.c.phone.label("customer_phone"),
            customers.c.language,
        )
        .join(trailers, trailers.c.id == due.c.trailer_id)
        .outerjoin(jobs, jobs.c.id == due.c.job_id)
        .outerjoin(
            customers, customers.c.id == func.coalesce(jobs.c.customer_id, trailers.c.customer_id)
        )
        .where(due.c.shop_id == shop_id, *WAITING)
        # What is due on a job that is still open is not due yet.
        .where(or_(due.c.job_id.is_(None), jobs.c.finished.is_not(None)))
    )
