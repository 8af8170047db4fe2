"""What the shop takes out: tables as CSV, and a calendar of what is due."""

from __future__ import annotations

import csv
import json
import secrets
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime, timedelta
from io import StringIO
from typing import Any

from flask import Blueprint, Response, abort, current_app, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from icalendar import Calendar, Event
from sqlalchemy import Connection, Table, select, update

from checks.units import to_unit
from webapp.app_files.addresses import origin
from webapp.clock import now
from webapp.follow_up.link_life import SECRET
from webapp.follow_up.shelves import DECIDED
from webapp.follow_up.verdicts import as_seen
from webapp.security import digest, seeded_secret
from webapp.shop import inbox, reading, session
from webapp.shop.forms import ButtonForm
from webapp.storage import models
from webapp.storage.models import records, shops
from webapp.storage.store import store
from webapp.wording import said, say

blueprint = Blueprint("files", __name__, url_prefix="/shop/files")
# Calendar programs send no cookie: the address itself is the key.
feeds = Blueprint("feeds", __name__, url_prefix="/calendar")
Json = dict[str, Any]

TABLES = ("trailers", "customers", "jobs", "due", "links", "notes", "photos")
# Keys to a door, and where on this machine a file lies, are nobody's business outside.
KEPT_IN = ("token_hash", "device_hash", "path", "shop_id")
SLICE = 1000


@blueprint.get("")
def listing() -> ResponseReturnValue:
    with store().reading() as connection:
        mine = select(shops).where(shops.c.id == session.me()["shop_id"])
        shop = connection.execute(mine).one()
    feed, address = shop.feed_hash, None
    secret = seeded_secret("feed", shop.feed_seed) if shop.feed_seed else ""
    if feed and digest(secret) == feed:
        address = f"{origin()}/calendar/{secret}.ics"
    tables = ("checks", *TABLES)
    return render_template(
        "shop/files.html", tables=tables, feed=feed, address=address, button=ButtonForm()
    )


# ---- tables -------------------------------------------------------------------------------------


@blueprint.get("/<name>.csv")
def table(name: str) -> Response:
    """One table of the shop's, whole, written while it is read."""
    shop_id = session.me()["shop_id"]
    if name == "checks":
        rows = check_table(shop_id)
    elif name in TABLES:
        rows = plain_table(models.metadata.tables[name], shop_id)
    else:
        abort(404)
    # What is listed needs the rulebook's words, so it is read within the application.
    app = current_app._get_current_object()  # type: ignore[attr-defined]
    day = now().date().isoformat()
    headers = {"Content-Disposition": f'attachment; filename="twentymile-{name}-{day}.csv"'}
    return Response(
        within(app, written(rows)), content_type="text/csv; charset=utf-8", headers=headers
    )


def within(app: Any, parts: Iterator[str]) -> Iterator[str]:
    while True:
        with app.app_context():
            part = next(parts, None)
        if part is None:
            return
        yield part


def written(rows: Iterable[Iterable[Any]]) -> Iterator[str]:
    """CSV as RFC 4180 has it; the mark in front tells spreadsheets that it is UTF-8."""
    yield "\ufeff"
    for row in rows:
        line = StringIO()
        csv.writer(line).writerow([guarded(cell) for cell in row])
        yield line.getvalue()


def guarded(cell: Any) -> Any:
    """Text that a spreadsheet would take for a formula gets an apostrophe in front.

    The first characters are those that OWASP's page on CSV injection names.
    """
    if isinstance(cell, dict | list):
        cell = json.dumps(cell, ensure_ascii=False, sort_keys=True)
    if isinstance(cell, datetime):
        return cell.isoformat()
    if isinstance(cell, str) and cell.startswith(
        ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
    ):
        return "'" + cell
    return cell


def plain_table(one: Table, shop_id: int) -> Iterator[list[Any]]:
    columns = [column for column in one.columns if column.name not in KEPT_IN]
    yield [column.name for column in columns]
    last: Any = None
    while True:
        wanted = select(*columns).where(one.c.shop_id == shop_id).order_by(one.c.id).limit(SLICE)
        if last is not None:
            wanted = wanted.where(one.c.id > last)
        with store().reading() as connection:
            rows = connection.execute(wanted).all()
        yield from (list(row) for row in rows)
        if len(rows) < SLICE:
            return
        last = rows[-1].id


CHECK_HEAD = (
    *("id", "made", "received", "check", "trailer", "customer", "level", "phone_level", "decided"),
    *("answered", "asked", "findings", "answers", "typed", "rulebook", "sha256"),
)


def check_table(shop_id: int) -> Iterator[list[Any]]:
    yield list(CHECK_HEAD)
    last = 0
    while True:
        wanted = (
            inbox.check_rows()
            .where(records.c.shop_id == shop_id, records.c.kind == "check", records.c.seq > last)
            .order_by(records.c.seq)
            .limit(SLICE)
        )
        with store().reading() as connection:
            rows = connection.execute(wanted).all()
        yield from map(check_cells, rows)
        if len(rows) < SLICE:
            return
        last = rows[-1].seq


def check_cells(row: Any) -> list[Any]:
    one, verdict = json.loads(row.record), json.loads(row.verdict)
    body, seen = one["body"], as_seen(verdict)
    coverage = reading.coverage_of(verdict.get("coverage")) or {}
    found = [
        f"{said('level-' + one['level'], '')}: {reading.worded(one, 2)['title']}"
        + (f" ({one['place']})" if one["place"] else "")
        for one in seen["findings"]
    ]
    received = datetime.fromtimestamp(row.received_ms / 1000, UTC)
    return [
        *(row.id, one["made"], received, body["check"], row.trailer_name, row.customer),
        *(row.level, row.phone_level, say("shop-table-yes") if row.shelf == DECIDED else ""),
        *(coverage.get("answered"), coverage.get("asked"), "; ".join(found)),
        *(body["facts"], body["typed"], body["rulebook"], row.hash),
    ]


# ---- the calendar -------------------------------------------------------------------------------


@blueprint.post("/calendar")
def make_feed() -> ResponseReturnValue:
    """A new address for the calendar; the old one stops working."""
    seed = secrets.token_hex(16)
    set_feed(seed, digest(seeded_secret("feed", seed)))
    return redirect(url_for("files.listing"))


@blueprint.post("/calendar/stop")
def stop_feed() -> ResponseReturnValue:
    set_feed(None, None)
    return redirect(url_for("files.listing"))


def set_feed(seed: str | None, hashed: str | None) -> None:
    with store().writing() as connection:
        mine = update(shops).where(shops.c.id == session.me()["shop_id"])
        connection.execute(mine.values(feed_seed=seed, feed_hash=hashed))


@feeds.get("/<secret>.ics")
def calendar(secret: str) -> Response:
    """Open due checks that have a day, for calendar programs to fetch."""
    with store().reading() as connection:
        wanted = select(shops).where(shops.c.feed_hash == digest(secret))
        shop = connection.execute(wanted).first() if SECRET.match(secret) else None
        if shop is None:
            abort(404)
        drawn = drawn_calendar(connection, shop)
    headers = {"Content-Disposition": 'inline; filename="due.ics"', "Cache-Control": "no-store"}
    return Response(drawn, content_type="text/calendar; charset=utf-8", headers=headers)


def drawn_calendar(connection: Connection, shop: Any) -> bytes:
    """RFC 5545: an all-day event for each due check. No phone numbers: calendars get around."""
    found = Calendar()
    found.add("prodid", "-//Twentymile//Due checks//EN")
    found.add("version", "2.0")
    found.add("name", say("calendar-title", shop=shop.name))
    found.add("x-wr-calname", say("calendar-title", shop=shop.name))
    found.add("refresh-interval", timedelta(hours=6), parameters={"VALUE": "DURATION"})
    dated = models.due.c.by.is_not(None)
    for row in connection.execute(inbox.due_rows(shop.id).where(dated).order_by(models.due.c.id)):
        found.add_component(event(row))
    return bytes(found.to_ical())


def whole_miles(km: float) -> str:
    return f"{to_unit(km, 'km', 'mi'):.0f}"


def event(row: Any) -> Event:
    day = row.by.astimezone().date()
    found = Event()
    host = origin().split("://")[1]
    found.add("uid", f"due-{row.id}@{host}")
    found.add("dtstamp", now())
    found.add("dtstart", day)
    found.add("dtend", day + timedelta(days=1))
    found.add("summary", say("calendar-due", trailer=row.trailer_name, what=row.what))
    parts = [
        row.customer or "",
        ""
        if row.at_km is None
        else say("calendar-at", miles=f"{to_unit(row.at_km, 'km', 'mi'):.0f}"),
    ]
    found.add("description", ", ".join(part for part in parts if part))
    found.add("transp", "TRANSPARENT")
    return found
