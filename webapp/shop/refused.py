"""A form that is refused is answered by an address of its own, which can be read again.

So *Back* and *Reload* send nothing twice, and what was typed is there until it is stored.
"""

from __future__ import annotations

import re
from datetime import timedelta

from flask import Flask, Response, redirect, request
from flask_wtf.csrf import generate_csrf
from markupsafe import escape
from sqlalchemy import delete, select
from werkzeug.wrappers import Response as BaseResponse

from webapp.clock import now
from webapp.shop import session
from webapp.storage.models import refused
from webapp.storage.store import store

KEPT_FOR = timedelta(days=14)
REFUSED = (409, 422)
NAME = "refused"
TOKEN = re.compile(r'(name="csrf_token" type="hidden" value=")[^"]*')
ID = re.compile(r"[0-9]{1,9}\Z")
LONGEST = 200  # characters of an address


def init_app(app: Flask) -> None:
    app.before_request(shown)
    app.after_request(kept)


def kept(response: Response) -> BaseResponse:
    """Keep the page that refuses a form, and send its reader there; what was stored at last takes
    the refused pages of its address away."""
    if request.method != "POST" or not session.in_shop() or session.current() is None:
        return response
    me, path = session.me(), request.path
    if len(path) > LONGEST or response.mimetype != "text/html":
        return response
    mine = (refused.c.staff_id == me["id"], refused.c.path == path)
    if response.status_code == 302:
        with store().reading() as connection:
            if connection.execute(select(refused.c.id).where(*mine).limit(1)).first() is None:
                return response
        with store().writing() as connection:
            connection.execute(delete(refused).where(*mine))
        return response
    if response.status_code not in REFUSED:
        return response
    row = {"shop_id": me["shop_id"], "staff_id": me["id"], "made": now(), "path": path}
    row |= {"status": response.status_code, "page": response.get_data(as_text=True)}
    with store().writing() as connection:
        connection.execute(delete(refused).where(refused.c.made < now() - KEPT_FOR))
        done = connection.execute(refused.insert().values(**row))
    number = int(done.inserted_primary_key[0])  # type: ignore[index]
    return redirect(f"{path}?{NAME}={number}", 303)


def shown() -> Response | None:
    """The page kept, to whom it was answered."""
    text = request.args.get(NAME, "")
    if request.method not in ("GET", "HEAD") or not session.in_shop() or not ID.match(text):
        return None
    if session.current() is None:
        return None
    mine = (refused.c.staff_id == session.me()["id"], refused.c.path == request.path)
    with store().reading() as connection:
        row = connection.execute(select(refused).where(refused.c.id == int(text), *mine)).first()
    if row is None:
        return None
    token = str(escape(generate_csrf()))
    page = TOKEN.sub(lambda found: found[1] + token, row.page)
    return Response(page, row.status, mimetype="text/html")
