"""Photos come in as raw bodies, are kept as files, and go out to whom they are meant for."""

from __future__ import annotations

import re
from typing import Any

from flask import Blueprint, Response, abort, jsonify, request
from flask.typing import ResponseReturnValue
from marshmallow import ValidationError, fields
from sqlalchemy import Connection, select, update
from sqlalchemy.exc import IntegrityError

from webapp import allowance
from webapp.api.links import open_link
from webapp.api.requests import checked, device_key, parsed, whole_body, whole_json
from webapp.api.schemas import Strict, field, is_hash, is_uuid7
from webapp.clock import now
from webapp.errors import Refusal
from webapp.follow_up import link_life
from webapp.security import csrf
from webapp.storage import decoding, images, photo_places
from webapp.storage.models import links, photos, records
from webapp.storage.store import Store, store
from webapp.wording import say

# No form token: no cookie counts at these addresses.
blueprint = Blueprint("photos", __name__, url_prefix="/api/photos")
csrf.exempt(blueprint)

POINT = re.compile(r"[a-z][a-z0-9_]{0,62}(@([1-9][LR]?)?)?\Z")
HEADERS = {
    "X-Twentymile-Photo": is_uuid7,
    "X-Twentymile-Record": is_uuid7,
    "X-Twentymile-Sha256": is_hash,
}


class ReadSchema(Strict):
    secret = field(fields.String)
    id = field(fields.String)


@blueprint.post("")
def take() -> ResponseReturnValue:
    """Keep a photo once; the same photo again gets the same answer."""
    device = device_key()
    photo, record, digest = (header(name, check) for name, check in HEADERS.items())
    point, _, place = header("X-Twentymile-Point", is_point).partition("@")
    body = whole_body(images.BYTES, "photo")
    unless_good(images.prove, body, request.content_length or 0, digest)
    kept = Keeping(device, photo, digest)
    secret = request.headers.get("X-Twentymile-Link")
    if not kept.already(record):
        if secret is None:
            allowance.take(len(body))
        picture = unless_good(images.cleaned, body)
        kept.add(picture, secret, record_id=record, point=point, place=place)
    return jsonify(id=photo, hash=digest, length=len(body))


def header(name: str, check: Any) -> str:
    text = request.headers.get(name, "")
    try:
        check(text)
    except ValidationError as error:
        raise Refusal(
            400,
            "bad_header",
            name,
            header=name,
            problem=str(error.messages[0]),
        ) from None
    return text


def is_point(text: str) -> None:
    if not POINT.match(text):
        raise ValidationError(say("error-field-point"))


def unless_good(work: Any, *given: Any) -> Any:
    try:
        return work(*given)
    except decoding.BadPicture as error:
        status = 400 if error.code == "cut_off" else 422
        raise Refusal(
            status, error.code, "photo", words=f"photo-{error.code}", **error.values
        ) from None


class Keeping:
    """One photo on its way into the data folder and the table ``photos``."""

    def __init__(self, device: str, photo: str, digest: str) -> None:
        self.store: Store = store()
        self.device, self.photo, self.digest = device, photo, digest

    def already(self, record_id: str) -> bool:
        """Whether this very photo is kept; raises Refusal when its id belongs to another.

        A check that was brought to a second phone is sent by both, and so are its photos.
        """
        with self.store.reading() as connection:
            row = connection.execute(select(photos).where(photos.c.id == self.photo)).first()
        if row is None:
            return False
        if row.received_sha256 == self.digest:
            if row.device_hash != self.device:
                self.bring_home(record_id)
            return True
        raise Refusal(
            422, "id_reused", "X-Twentymile-Photo", words="id_reused_photo", id=self.photo
        )

    def bring_home(self, record_id: str) -> None:
        """Of the phones that sent the check, the photo belongs to the one whose check is shown."""
        shown = (records.c.device == self.device, records.c.id == record_id)
        wanted = select(records.c.shop_id, records.c.link_id).where(*shown)
        with self.store.writing() as connection:
            row = connection.execute(wanted.where(records.c.shop_id.is_not(None))).first()
            if row is not None:
                # Never away from another check, or from another shop.
                free = photos.c.shop_id.is_(None) | (photos.c.shop_id == row.shop_id)
                same = (photos.c.id == self.photo, photos.c.record_id == record_id)
                mine = update(photos).where(*same, free)
                connection.execute(mine.values(**row._mapping, device_hash=self.device))

    def add(self, picture: decoding.Picture, secret: str | None, **about: str) -> None:
        """File and row together: the answer goes out only when both are on disk."""
        path = photo_places.path_of(self.photo)
        row = about | {
            "id": self.photo,
            "device_hash": self.device,
            "sha256": picture.sha256,
            "received_sha256": self.digest,
            "length": len(picture.data),
            "width": picture.width,
            "height": picture.height,
            "path": path,
            "received": now(),
        }
        try:
            with self.store.writing() as connection:
                home = self.home(connection, about["record_id"], secret)
                connection.execute(photos.insert().values(**row, **home))
                self.store.photos.write(path, picture.data)
        except IntegrityError:
            if not self.already(about["record_id"]):
                raise

    def home(self, connection: Connection, record_id: str, secret: str | None) -> dict[str, Any]:
        """The shop that sees the photo: that of its link, else that of its check."""
        if secret is not None:
            link = link_life.sending_link(connection, secret)
            return {"shop_id": link["shop_id"], "link_id": link["id"]}
        wanted = select(records.c.shop_id, records.c.link_id).where(
            records.c.device == self.device, records.c.id == record_id
        )
        row = connection.execute(wanted).first()
        return {} if row is None else dict(row._mapping)


@blueprint.post("/read")
def read() -> Response:
    """The photo, to whoever holds a link for the same customer's trailer.

    Many borrowers share a standing link, so there each phone sees its own photos only.
    """
    device = device_key()
    sent = checked(ReadSchema, parsed(whole_json(4096)), "")
    link = open_link(sent["secret"])
    wanted = (
        select(photos)
        .join(links, links.c.id == photos.c.link_id)
        .where(
            photos.c.id == sent["id"],
            links.c.trailer_id == link["trailer_id"],
            links.c.customer_id.is_not_distinct_from(link["customer_id"]),
        )
    )
    if link["kind"] == "standing":
        wanted = wanted.where(photos.c.device_hash == device)
    with store().reading() as connection:
        row = connection.execute(wanted).first()
    data = None if row is None else store().photos.read(row.path)
    if data is None:
        abort(404)
    return Response(data, mimetype="image/jpeg")
