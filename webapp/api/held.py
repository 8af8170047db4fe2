"""What a phone has sent and the server lacks: after an older backup was put back it comes again."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, jsonify
from flask.typing import ResponseReturnValue
from marshmallow import fields, validate
from sqlalchemy import Connection, select, true

from webapp.api.requests import checked, device_key, parsed, whole_json
from webapp.api.schemas import Strict, field, is_uuid7
from webapp.security import csrf
from webapp.storage.forgetting import forgotten_of
from webapp.storage.models import photos, records
from webapp.storage.store import store

blueprint = Blueprint("held", __name__, url_prefix="/api/held")
csrf.exempt(blueprint)

MOST = 500  # ids of a kind in one request
LIMIT = 64 * 1024


def ids_field() -> fields.List[str]:
    return field(
        fields.List,
        cls_or_instance=fields.String(validate=is_uuid7),
        validate=validate.Length(0, MOST),
    )


class HeldSchema(Strict):
    """Ids of what the phone has sent: ``{"records": [...], "photos": [...]}``"""

    records = ids_field()
    photos = ids_field()


@blueprint.post("")
def missing() -> ResponseReturnValue:
    """Those of the ids that this device sent once and the server has not got. Changes nothing."""
    device = device_key()
    sent = checked(HeldSchema, parsed(whole_json(LIMIT)), "")
    own = records.c.device == device
    with store().reading() as connection:
        return jsonify(
            records=not_here(connection, records, own, device, sent["records"]),
            # A photo is kept once, whichever of the phones with its check has sent it.
            photos=not_here(connection, photos, true(), device, sent["photos"]),
        )


def not_here(
    connection: Connection, table: Any, among: Any, device: str, ids: list[str]
) -> list[str]:
    wanted = select(table.c.id).where(among, table.c.id.in_(ids))
    here = set(connection.execute(wanted).scalars())
    gone = forgotten_of(connection, device, ids)
    return [one for one in ids if one not in here and one not in gone]
