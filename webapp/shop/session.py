"""Who is signed in, and what is theirs."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from flask import Flask, Response, abort, current_app, g, redirect, request, url_for
from flask import session as cookie
from flask.typing import ResponseReturnValue
from itsdangerous import BadSignature, URLSafeSerializer
from sqlalchemy import Connection, Table, select
from werkzeug.wrappers import Response as BaseResponse

from webapp.clock import moment, now
from webapp.security import digest
from webapp.storage.models import shops, staff
from webapp.storage.store import store

SIGN_IN = "accounts.sign_in"
# How long after it was made a link's secret can be shown, printed and copied.
SHOWN = timedelta(minutes=20)
LARGEST_ID = 2**31 - 1  # databases refuse to look for larger ones


def init_app(app: Flask) -> None:
    app.before_request(guard)
    app.after_request(keep_private)
    app.jinja_env.globals["signed_in"] = current


def in_shop() -> bool:
    return request.path == "/shop" or request.path.startswith("/shop/")


def guard() -> ResponseReturnValue | None:
    """Every address below /shop is for signed-in staff, whatever is found there."""
    if not in_shop():
        return None  # whoever is not at the shop's pages gets answers that depend on no cookie
    forget_secret()
    if request.endpoint != SIGN_IN and current() is None:
        if request.method in ("GET", "HEAD"):
            return redirect(url_for(SIGN_IN))
        abort(403)
    return None


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
    if "staff" not in cookie:
        return None
    wanted = select(staff, shops.c.name.label("shop_name"), shops.c.phone.label("shop_phone")).join(
        shops
    )
    with store().reading() as connection:
        row = connection.execute(wanted.where(staff.c.id == cookie["staff"])).first()
    if row is None or row.gone is not None or row.epoch != cookie.get("epoch"):
        return None
    return dict(row._mapping)


def me() -> dict[str, Any]:
    """The staff member, behind the guard."""
    found = current()
    if found is None:
        abort(404)
    return found


def begin(row: dict[str, Any]) -> None:
    """Start a session of its own; nothing of an earlier one is kept."""
    cookie.clear()
    cookie.permanent = True
    cookie["staff"], cookie["epoch"] = row["id"], row["epoch"]
    g.pop("staff", None)
    # The form's token belonged to the session that has ended.
    g.pop("csrf_token", None)


def end() -> None:
    cookie.clear()
    g.pop("staff", None)


def own(connection: Connection, table: Table, row_id: int) -> dict[str, Any]:
    """The shop's own row. What belongs to others is as absent as what was never there."""
    if not 0 < row_id <= LARGEST_ID:
        abort(404)
    wanted = select(table).where(table.c.id == row_id, table.c.shop_id == me()["shop_id"])
    row = connection.execute(wanted).first()
    if row is None:
        abort(404)
    return dict(row._mapping)


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


# ---- the secret of a link just made -----------------------------------------------------------


def show_secret(link_id: int, secret: str) -> None:
    """Let whoever made the link see it for a while: only its hash is stored."""
    cookie["link"] = [link_id, secret, now().isoformat()]


def shown_secret(link_id: int) -> str | None:
    link, secret, _ = cookie.get("link", (None, "", ""))
    return secret if link == link_id else None


def forget_secret() -> None:
    if "link" in cookie and now() - moment(cookie["link"][2]) > SHOWN:
        del cookie["link"]
