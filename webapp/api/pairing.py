"""Records on their way from one phone to another: kept for a day under a secret of their own."""

from __future__ import annotations

import re
import secrets
from datetime import timedelta

from flask import Blueprint, Response, jsonify
from flask.typing import ResponseReturnValue
from marshmallow import fields
from sqlalchemy import delete, func, select

from webapp import sizes
from webapp.api.requests import checked, device_key, parsed, unless_bracketed, whole_json
from webapp.api.scanning import end_of
from webapp.api.schemas import Strict, field
from webapp.app_files.addresses import app_address, qr_svg
from webapp.clock import now
from webapp.errors import Refusal
from webapp.follow_up import rate_limit
from webapp.security import csrf, digest, sender
from webapp.storage.models import pairs
from webapp.storage.store import store

blueprint = Blueprint("pairs", __name__, url_prefix="/api/pairs")
csrf.exempt(blueprint)

LIMIT = sizes.BUNDLE
KEPT_FOR = timedelta(days=1)
# A record opens about thirty of them: this is room for 13,000 records.
BRACKETS = 400_000
# So much is kept of all phones together; then a new bundle waits until the oldest ends.
KEPT_MOST = 2_000_000_000
HEAD = re.compile(rb'[ \t\n\r]*\{[ \t\n\r]*"bundle"[ \t\n\r]*:[ \t\n\r]*(?=\{)')


class BundleSchema(Strict):
    bundle = field(fields.Dict, keys=fields.String())


class SecretSchema(Strict):
    secret = field(fields.String)


@blueprint.post("")
def make() -> ResponseReturnValue:
    """Keep a bundle for a day and answer with its secret, which is stored as its hash only."""
    device_key()
    if rate_limit.count(store(), rate_limit.PAIR, sender()) is not None:
        raise Refusal(429, "too_many", words="too_many_pairs")
    bundle = bundle_of(unless_bracketed(whole_json(LIMIT), BRACKETS))
    secret, moment = secrets.token_urlsafe(32), now()
    with store().writing() as connection:
        connection.execute(delete(pairs).where(pairs.c.expires < moment))
        held = select(func.coalesce(func.sum(func.length(pairs.c.bundle)), 0))
        if connection.execute(held).scalar_one() + len(bundle) > KEPT_MOST:
            raise Refusal(503, "pairs_full")
        connection.execute(
            pairs.insert().values(
                token_hash=digest(secret),
                made=moment,
                expires=moment + KEPT_FOR,
                bundle=bundle,
            )
        )
    ends = (moment + KEPT_FOR).isoformat(timespec="seconds")
    return jsonify(secret=secret, expires=ends, qr=qr_svg(app_address("pair", secret)))


def bundle_of(body: bytes) -> str:
    """The bundle as it was written. What stands around it is read like all that comes."""
    head = HEAD.match(body)
    if head is None:
        around, bundle = body, b""
    else:
        begins = head.end()
        try:
            ends = end_of(body, begins)
        except ValueError as error:
            raise Refusal(400, "not_json", reason=str(error)) from None
        around, bundle = body[:begins] + b"{}" + body[ends:], body[begins:ends]
    checked(BundleSchema, parsed(around if len(around) <= sizes.RECORD else b"{}"), "")
    try:
        return bundle.decode()
    except UnicodeDecodeError as error:
        raise Refusal(400, "not_json", reason=str(error)) from None


@blueprint.post("/read")
def read() -> Response:
    """The bundle as it was sent, as often as asked until it expires."""
    device_key()
    sent = checked(SecretSchema, parsed(whole_json(4096)), "")
    wanted = select(pairs).where(pairs.c.token_hash == digest(sent["secret"]))
    with store().reading() as connection:
        row = connection.execute(wanted).first()
    if row is None:
        raise Refusal(404, "pair_unknown", "secret")
    if row.expires <= now():
        raise Refusal(410, "pair_ended", "secret")
    return Response(row.bundle, mimetype="application/json")
