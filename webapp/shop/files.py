"""What the shop takes out: tables as CSV, and a calendar of what is due."""

from __future__ import annotations

import secrets
from collections.abc import Iterator
from datetime import timedelta
from tempfile import TemporaryFile
from typing import Any

from flask import (
    Blueprint,
    Response,
    abort,
    redirect,
    render_template,
    request,
    stream_with_context,
    url_for,
)
from flask.typing import ResponseReturnValue
from icalendar import Calendar, Event
from sqlalchemy import Connection, select, update

from webapp.app_files.addresses import origin
from webapp.clock import now
from webapp.follow_up.link_life import SECRET
from webapp.follow_up.schedule import what_due
from webapp.security import digest, seeded_secret
from webapp.shop import inbox, session, tables, times
from webapp.shop.forms import ButtonForm
from webapp.shop.measures import distance
from webapp.storage import models, whole
from webapp.storage.models import shops
from webapp.storage.store import store
from webapp.wording import say, speaking

blueprint = Blueprint("files", __name__, url_prefix="/shop/files")
# Calendar programs send no cookie: the address itself is the key.
feeds = Blueprint("feeds", __name__, url_prefix="/calendar")
Json = dict[str, Any]
PART = 1 << 18


@blueprint.get("")
def listing() -> ResponseReturnValue:
    with store().reading() as connection:
        mine = select(shops).where(shops.c.id == session.me()["shop_id"])
        shop = connection.execute(mine).one()
    feed, address = shop.feed_hash, None
    secret = seeded_secret("feed", shop.feed_seed) if shop.feed_seed else ""
    if feed and digest(secret) == feed:
        address = f"{origin()}/calendar/{secret}.ics"
    parts = {"tables": tables.TABLES, "feed": feed, "address": address}
    return render_template("shop/files.html", **parts, button=ButtonForm())


# ---- tables -------------------------------------------------------------------------------------


@blueprint.get("/<name>.csv")
def table(name: str) -> Response:
    """One table of the shop's, whole, written while it is read."""
    shop_id = session.me()["shop_id"]
    if name not in tables.TABLES:
        abort(404)
    day = times.here(now()).date().isoformat()
    headers = {"Content-Disposition": f'attachment; filename="twentymile-{name}-{day}.csv"'}
    text = stream_with_context(tables.written(tables.rows(name, shop_id)))
    return Response(text, content_type="text/csv; charset=utf-8", headers=headers)


@blueprint.get("/everything.zip")
def everything() -> Response:
    """All rows and photos of the shop, as another server takes them in."""
    name = f"twentymile-{times.here(now()).date().isoformat()}.zip"
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    kind = "application/zip"
    if request.method == "HEAD":
        return Response(mimetype=kind, headers=headers)
    body = stream_with_context(packed(session.me()["shop_id"]))
    return Response(body, mimetype=kind, headers=headers)


def packed(shop_id: int) -> Iterator[bytes]:
    """Written beside the data first, where there is room for photos; the file has no name."""
    with TemporaryFile(dir=store().data) as file:
        whole.write(store(), file, shop_id)
        file.seek(0)
        while part := file.read(PART):
            yield part


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
        with speaking(shop.language):
            drawn = drawn_calendar(connection, shop)
    headers = {"Content-Disposition": 'inline; filename="due.ics"', "Cache-Control": "no-store"}
    return Response(drawn, content_type="text/calendar; charset=utf-8", headers=headers)


def drawn_calendar(connection: Connection, shop: Any) -> bytes:
    """RFC 5545: an all-day event for each due check. No phone numbers: calendars get around."""
    found = Calendar()
    found.add("prodid", f"-//Twentymile//{shop.language.upper()}")
    found.add("version", "2.0")
    found.add("name", say("calendar-title", shop=shop.name))
    found.add("x-wr-calname", say("calendar-title", shop=shop.name))
    found.add("refresh-interval", timedelta(hours=6), parameters={"VALUE": "DURATION"})
    dated = models.due.c.by.is_not(None)
    for row in connection.execute(inbox.due_rows(shop.id).where(dated).order_by(models.due.c.id)):
        found.add_component(event(row, shop.units))
    return bytes(found.to_ical())


def event(row: Any, system: str) -> Event:
    day = row.by.date()
    found = Event()
    host = origin().split("://")[1]
    found.add("uid", f"due-{row.id}@{host}")
    found.add("dtstamp", now())
    found.add("dtstart", day)
    found.add("dtend", day + timedelta(days=1))
    found.add("summary", say("calendar-due", trailer=row.trailer_name, what=what_due(row.what)))
    parts = [
        row.customer or "",
        "" if row.at_km is None else say("calendar-at", distance=distance(row.at_km, system)),
    ]
    found.add("description", ", ".join(part for part in parts if part))
    found.add("transp", "TRANSPARENT")
    return found
