"""The photos of the shop's checks, for its staff."""

from __future__ import annotations

from uuid import UUID

from flask import Blueprint, Response, abort
from sqlalchemy import select

from webapp.shop import session
from webapp.storage.models import photos
from webapp.storage.store import store

blueprint = Blueprint("photo_pages", __name__)


@blueprint.get("/photos/<uuid:photo>")
def show(photo: UUID) -> Response:
    """The photo, to signed-in staff of its shop; to all others there is none."""
    staff = session.current()
    if staff is None:
        abort(404)
    wanted = select(photos).where(photos.c.id == str(photo), photos.c.shop_id == staff["shop_id"])
    wanted = wanted.where(photos.c.removed.is_(None))
    with store().reading() as connection:
        row = connection.execute(wanted).first()
    data = None if row is None else store().photos.read(row.path)
    if data is None:
        abort(404)
    return Response(data, mimetype="image/jpeg")
