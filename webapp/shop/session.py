"""Who is signed in, and what is theirs."""

from __future__ import annotations

import re
import secrets
from collections.abc import Sequence
from datetime import timedelta
from typing import Any

from flask import Flask, Response, abort, current_app, g, redirect, request, url_for
from flask import session as cookie
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import generate_csrf
from itsdangerous import BadSignature, URLSafeSerializer
from sqlalchemy import Connection, Row, Table, delete, select, update
from werkzeug.exceptions import SecurityError
from werkzeug.wrappers import Response as BaseResponse

from webapp import logs, wording
from webapp.clock import now
from webapp.security import digest
from webapp.storage.models import sessions, shops, staff
from webapp.storage.store import store

SIGN_IN, SECOND_STEP = "accounts.sign_in", "one_time.enter"
# A session ends so long after its sign-in, however much it is used; and after so long without use.
LONGEST, UNUSED = timedelta(days=90), timedelta(days=30)
# How closely it is noted when a session was last used: a page that is read seldom writes for it.
NOTED = timedelta(hours=12)
WANTED, LONGEST_PATH = "wanted", 200
LARGEST_ID = 2**31 - 1  # databases refuse to look for larger ones


def init_app(app: Flask) -> None:
    app.after_request(keep_private)
    app.jinja_env.globals["signed_in"] = current


def in_shop() -> bool:
    return request.path == "/shop" or request.path.startswith("/shop/")


def guard() -> ResponseReturnValue | None:
    """Every address below /shop is for signed-in staff, whatever is found there."""
    if not in_shop() or isinstance(request.routing_exception, SecurityError):
        return None  # whoever is not at the shop's pages gets answers that depend on no session
    whose = current()
    if whose is not None:
        wording.speak(whose["language"])
    elif request.endpoint not in (SIGN_IN, SECOND_STEP):
        remember()
        if request.method in ("GET", "HEAD"):
            return redirect(url_for(SIGN_IN))
        logs.security("unsigned_refused")
        abort(403)
    return None


def remember() -> None:
    """Which page somebody wanted who has to sign in first: what they typed is offered there.

    The inbox is where signing in leads anyway, and pages that refuse lead to it.
    """
    reads = request.url_rule is not None and "GET" in (request.url_rule.methods or ())
    path = request.full_path.removesuffix("?")
    is_page = "." not in path and "text/html" in request.headers.get("Accept", "")
    if reads and is_page and path != "/shop" and len(path) <= LONGEST_PATH:
        cookie[WANTED] = path


def wanted(otherwise: str) -> str:
    """The page to go on with after signing in."""
    return str(cookie.get(WANTED, otherwise))


def keep_private(response: Response) -> Response:
    if in_shop() or request.path.startswith("/photos/"):
        response.headers["Cache-Control"] = "no-store"
    return response


def current() -> dict[str, Any] | None:
    """The staff member of this request with the shop's name and phone, or None."""
    if "staff" not in g:
        g.staff = read_staff()
    found: dict[str, Any] | None = g.staff
    return found


def read_staff() -> dict[str, Any] | None:
    """Whose session the cookie names, while it lasts; ``session_id`` is its row."""
    token = cookie.get("session")
    if not isinstance(token, str):
        return None
    wanted = (
        select(
            staff,
            shops.c.name.label("shop_name"),
            shops.c.phone.label("shop_phone"),
            shops.c.zone,
            shops.c.units,
            shops.c.language,
            sessions.c.id.label("session_id"),
            sessions.c.made,
            sessions.c.seen,
        )
        .join_from(staff, shops)
        .join(sessions, sessions.c.staff_id == staff.c.id)
    )
    with store().reading() as connection:
        row = connection.execute(wanted.where(sessions.c.token_hash == digest(token))).first()
    if row is None or row.gone is not None or row.epoch != cookie.get("epoch") or not lasts(row):
        return None
    note_use(row)
    return dict(row._mapping)


def lasts(row: Row[Any]) -> bool:
    """Whether a session goes on. One from after now was begun while the clock was wrong."""
    ahead = timedelta(days=1)
    return bool(-ahead < now() - row.made < LONGEST and now() - row.seen < UNUSED)


def note_use(row: Row[Any]) -> None:
    if now() - row.seen < NOTED:
        return
    with store().writing() as connection:
        mine = update(sessions).where(sessions.c.id == row.session_id)
        connection.execute(mine.values(seen=now()))


def me() -> dict[str, Any]:
    """The staff member, behind the guard."""
    found = current()
    if found is None:
        abort(404)
    return found


def begin(row: dict[str, Any]) -> None:
    """Start a session of its own; nothing of an earlier one is kept, here or in the database."""
    end()
    token, moment = secrets.token_urlsafe(32), now()
    with store().writing() as connection:
        old = (sessions.c.made < moment - LONGEST) | (sessions.c.seen < moment - UNUSED)
        connection.execute(delete(sessions).where(old))
        connection.execute(
            sessions.insert().values(
                staff_id=row["id"],
                token_hash=digest(token),
                made=moment,
                seen=moment,
                browser=browser_name(request.headers.get("User-Agent", "")),
            )
        )
    cookie.permanent = True
    cookie["session"], cookie["epoch"] = token, row["epoch"]
    # The form's token belonged to the session that has ended. The new one is there from the start:
    # of two pages asked for at once the later answer sets the cookie, and it must not take away
    # a token that was first made for the other page's form.
    g.pop("csrf_token", None)
    generate_csrf()


def end() -> None:
    """End the session for good: a copy of its cookie opens nothing any more."""
    token = cookie.get("session")
    if isinstance(token, str):
        with store().writing() as connection:
            connection.execute(delete(sessions).where(sessions.c.token_hash == digest(token)))
    cookie.clear()
    g.pop("staff", None)


def end_all(connection: Connection, staff_id: int) -> None:
    """End every session of a staff member. The epoch ends one that is just being begun with an old
    password."""
    connection.execute(delete(sessions).where(sessions.c.staff_id == staff_id))
    mine = update(staff).where(staff.c.id == staff_id)
    connection.execute(mine.values(epoch=staff.c.epoch + 1))


def end_one(staff_id: int, session_id: int) -> None:
    """End one session of the staff member; 404 when it is not theirs."""
    theirs = (sessions.c.id == session_id, sessions.c.staff_id == staff_id)
    if not 0 < session_id <= LARGEST_ID:
        abort(404)
    with store().writing() as connection:
        if connection.execute(delete(sessions).where(*theirs)).rowcount == 0:
            abort(404)


def of_staff(staff_id: int) -> Sequence[Row[Any]]:
    """The sessions of a staff member that go on, the last used first."""
    wanted = select(sessions).where(sessions.c.staff_id == staff_id)
    with store().reading() as connection:
        rows = connection.execute(wanted.order_by(sessions.c.seen.desc(), sessions.c.id)).all()
    return [row for row in rows if lasts(row)]


# Each browser also names those it is made from, and each system those it is like: the first counts.
SYSTEMS = ("Android", "iPhone", "iPad", "Windows", "Mac", "CrOS", "Linux")
BROWSERS = {"Edg": "Edge", "Firefox": "", "FxiOS": "Firefox", "OPR": "Opera", "Chrome": ""}
BROWSERS |= {"CriOS": "Chrome", "Safari": ""}


def browser_name(user_agent: str) -> str:
    """What a browser says it is, in two words its owner knows it by; empty when it says nothing."""
    words = set(re.findall(r"[A-Za-z]+", user_agent[:500]))
    system = next((name for name in SYSTEMS if name in words), "")
    browser = next((BROWSERS[name] or name for name in BROWSERS if name in words), "")
    return ", ".join(part for part in (browser, system) if part)


def own(connection: Connection, table: Table, row_id: int) -> dict[str, Any]:
    """The shop's own row. What belongs to others is as absent as what was never there."""
    if not 0 < row_id <= LARGEST_ID:
        abort(404)
    wanted = select(table).where(table.c.id == row_id, table.c.shop_id == me()["shop_id"])
    row = connection.execute(wanted).first()
    if row is None:
        abort(404)
    return dict(row._mapping)


def kept(connection: Connection, table: Table, row_id: int) -> dict[str, Any]:
    """The shop's own row, or the one it was found to be: a page opened before the two were merged
    still names the other."""
    row = own(connection, table, row_id)
    while row["merged_into"] is not None:
        row = own(connection, table, row["merged_into"])
    return row


# ---- browsers that somebody has signed in with ------------------------------------------------

KNOWN, KNOWN_FOR = "twentymile-known", timedelta(days=365)


def with_known(response: BaseResponse, login: str) -> BaseResponse:
    """Let this browser be told from those of strangers: it opens nothing, and only spares its owner
    from being shut out while somebody elsewhere guesses."""
    response.set_cookie(
        known_name(),
        signer().dumps(digest(login)),
        max_age=KNOWN_FOR,
        secure=current_app.config["HTTPS"],
        httponly=True,
        samesite="Lax",
    )
    return response


def known_name() -> str:
    return f"__Host-{KNOWN}" if current_app.config["HTTPS"] else KNOWN


def is_known(login: str) -> bool:
    try:
        return bool(signer().loads(request.cookies.get(known_name(), "")) == digest(login))
    except BadSignature:
        return False


def signer() -> URLSafeSerializer:
    return URLSafeSerializer(current_app.config["SECRET_KEY"], salt=KNOWN)
