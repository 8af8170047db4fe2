"""Links for customers: made, shown once, replaced, taken back."""

from __future__ import annotations

import secrets
from datetime import timedelta
from hashlib import sha256
from io import BytesIO
from typing import Any

import segno
from flask import Blueprint, Response, abort, current_app, flash, redirect, request, url_for
from sqlalchemy import Connection, select, update

from webapp.models import jobs, links, trailers
from webapp.schemas import now
from webapp.shop import session

blueprint = Blueprint("links", __name__, url_prefix="/shop")
# A job's link ends with its season; one that hangs on a lending desk is renewed once a year.
LASTS = {"job": timedelta(days=90), "standing": timedelta(days=365)}
Json = dict[str, Any]


def make(connection: Connection, trailer: Json, job: Json | None = None) -> tuple[int, str]:
    """A new link, in the place of the job's (or the trailer's standing) one: its id and secret."""
    kind = "standing" if job is None else "job"
    moment = now()
    same = (links.c.trailer_id == trailer["id"], links.c.kind == kind, links.c.revoked.is_(None))
    ours = same if job is None else (*same, links.c.job_id == job["id"])
    connection.execute(update(links).where(*ours).values(revoked=moment))
    secret = secrets.token_urlsafe(32)
    done = connection.execute(
        links.insert().values(
            shop_id=trailer["shop_id"],
            trailer_id=trailer["id"],
            customer_id=None if job is None else job["customer_id"],
            job_id=None if job is None else job["id"],
            kind=kind,
            token_hash=hashed(secret),
            made=moment,
            expires=moment + LASTS[kind],
        )
    )
    return int(done.inserted_primary_key[0]), secret  # type: ignore[index]


def hashed(secret: str) -> str:
    return sha256(secret.encode()).hexdigest()


def address(secret: str) -> str:
    """What the customer opens. After the # nothing is sent to any server, or kept in its logs."""
    origin = current_app.config["ADDRESS"] or request.host_url.rstrip("/")
    return f"{origin}/#/from/{secret}"


def standing_of(link: Json) -> str:
    """What can be said of the link today: ``taken back``, ``ended``, ``opened`` or ``sent``."""
    if link["revoked"] is not None:
        return "taken back"
    if link["expires"] <= now():
        return "ended"
    return "not opened yet" if link["opened"] is None else "opened"


def of_trailer(connection: Connection, trailer_id: int) -> list[Json]:
    rows = connection.execute(
        select(links).where(links.c.trailer_id == trailer_id).order_by(links.c.id.desc())
    )
    return [dict(row._mapping) | {"state": standing_of(dict(row._mapping))} for row in rows]


def live(found: list[Json], kind: str, job_id: int | None = None) -> Json | None:
    """The link of that kind that still works, or None."""
    for link in found:
        if (link["kind"], link["job_id"]) == (kind, job_id) and link["state"] in STILL_WORK:
            return link
    return None


STILL_WORK = ("opened", "not opened yet")


@blueprint.get("/links/<int:link_id>/qr.svg")
def picture(link_id: int) -> Response:
    """The link as a QR code, for as long as its secret is shown."""
    with session.store().reading() as connection:
        session.own(connection, links, link_id)
    secret = session.shown_secret(link_id)
    if secret is None:
        abort(404)
    drawn = BytesIO()
    segno.make(address(secret), error="m").save(drawn, kind="svg", scale=8, border=4, light="#fff")
    return Response(drawn.getvalue(), content_type="image/svg+xml")


@blueprint.post("/links/<int:link_id>/revoke")
def revoke(link_id: int) -> Any:
    with session.store().writing() as connection:
        link = session.own(connection, links, link_id)
        wanted = update(links).where(links.c.id == link_id, links.c.revoked.is_(None))
        connection.execute(wanted.values(revoked=now()))
    flash("The link no longer works.")
    if link["job_id"] is not None:
        return redirect(url_for("jobs.show", job_id=link["job_id"]))
    return redirect(url_for("trailers.show", trailer_id=link["trailer_id"]))


@blueprint.post("/jobs/<int:job_id>/link")
def renew(job_id: int) -> Any:
    with session.store().writing() as connection:
        job = session.own(connection, jobs, job_id)
        if job["finished"] is None:
            abort(400, "The job is still open. Finish it, and the link is made with it.")
        link_id, secret = make(
            connection, session.own(connection, trailers, job["trailer_id"]), job
        )
    session.show_secret(link_id, secret)
    return redirect(url_for("jobs.show", job_id=job_id))


@blueprint.post("/trailers/<int:trailer_id>/standing")
def renew_standing(trailer_id: int) -> Any:
    with session.store().writing() as connection:
        link_id, secret = make(connection, session.own(connection, trailers, trailer_id))
    session.show_secret(link_id, secret)
    return redirect(url_for("trailers.standing", trailer_id=trailer_id))
