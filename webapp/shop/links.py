"""Links for customers: made, shown once, replaced, taken back."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Response, abort, flash, redirect, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import select, update

from webapp.app_files.addresses import app_address, qr_svg
from webapp.clock import now
from webapp.follow_up import link_life
from webapp.shop import session
from webapp.storage import audit
from webapp.storage.models import customers, jobs, links, trailers
from webapp.storage.store import store
from webapp.wording import say

blueprint = Blueprint("links", __name__, url_prefix="/shop")
Json = dict[str, Any]


@blueprint.get("/links/<int:link_id>/qr.svg")
def picture(link_id: int) -> Response:
    """The link as a QR code."""
    with store().reading() as connection:
        link = session.own(connection, links, link_id)
        whose = select(customers.c.language).where(customers.c.id == link["customer_id"])
        reader = connection.execute(whose).scalar() or ""
    secret = link_life.secret_of(link)
    if secret is None or link_life.state(link, now()) not in link_life.WORKING:
        abort(404)
    return Response(qr_svg(app_address("from", secret, reader)), content_type="image/svg+xml")


@blueprint.post("/links/<int:link_id>/revoke")
def revoke(link_id: int) -> ResponseReturnValue:
    with store().writing() as connection:
        link = session.own(connection, links, link_id)
        wanted = update(links).where(links.c.id == link_id, links.c.revoked.is_(None))
        if connection.execute(wanted.values(revoked=now())).rowcount:
            audit.write(connection, session.me(), "link", link_id, "revoked")
    flash(say("shop-link-no-more"))
    if link["job_id"] is not None:
        return redirect(url_for("jobs.show", job_id=link["job_id"]))
    return redirect(url_for("trailers.show", trailer_id=link["trailer_id"]))


@blueprint.post("/jobs/<int:job_id>/link")
def renew(job_id: int) -> ResponseReturnValue:
    with store().writing() as connection:
        job = session.own(connection, jobs, job_id)
        if job["finished"] is None:
            abort(400, say("error-job_open"))
        trailer = session.own(connection, trailers, job["trailer_id"])
        link_life.make(connection, trailer, job)
    return redirect(url_for("jobs.show", job_id=job_id))


@blueprint.post("/trailers/<int:trailer_id>/standing")
def renew_standing(trailer_id: int) -> ResponseReturnValue:
    with store().writing() as connection:
        trailer = session.kept(connection, trailers, trailer_id)
        link_life.make(connection, trailer)
    return redirect(url_for("trailers.standing", trailer_id=trailer["id"]))
