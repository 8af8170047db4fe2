"""Records on their way from one phone to another: kept for a day under a secret of their own."""

from __future__ import annotations

import json
import secrets
from datetime import timedelta
from typing import Any

from flask import Blueprint, Response, jsonify
from flask.typing import ResponseReturnValue
from marshmallow import fields
from sqlalchemy import delete, func, select

from webapp import sizes
from webapp.api.requests import checked, device_key, parsed, unless_bracketed, whole_json
from webapp.api.schemas import Strict, field
from webapp.app_files.addresses import app_address, qr_svg
from webapp.clock import now
from webapp.errors import Refusal
from webapp.security import csrf, digest
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


class BundleSchema(Strict):
    bundle = field(fields.Dict, keys=fields.String())


class SecretSchema(Strict):
    secret = field(fields.String)


@blueprint.post("")
def make() -> ResponseReturnValue:
    """Keep a bundle for a day and answer with its secret, which is stored as its hash only."""
    device_key()
    sent = checked(BundleSchema, parsed(unless_bracketed(whole_json(LIMIT), BRACKETS)), "")
    bundle = written(sent["bundle"])
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


def written(bundle: dict[str, Any]) -> str:
    """The bundle as text that every database keeps."""
    text = json.dumps(bundle, ensure_ascii=False)
    try:
        text.encode()
    except UnicodeEncodeError:
        raise Refusal(
            400,
            "not_json",
            "bundle",
            words="not_json_half",
        ) from None
    return text


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
