"""Records come in here, one by one, and are answered only once they are on disk."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from functools import partial
from hashlib import sha256
from typing import Any

import rfc8785
from flask import Blueprint, jsonify, request
from flask.typing import ResponseReturnValue
from marshmallow import ValidationError

from webapp import sizes
from webapp.api.requests import checked, device_key, parsed, whole_json
from webapp.api.schemas import BODIES, EnvelopeSchema, RecordSchema, is_uuid
from webapp.clock import moment, now
from webapp.engine import engine
from webapp.errors import Refusal
from webapp.follow_up import filing, link_life
from webapp.security import csrf
from webapp.storage.store import Then, store

# No form token: the header below cannot be set from another site, and no cookie counts here.
blueprint = Blueprint("records", __name__, url_prefix="/api/records")
csrf.exempt(blueprint)

LIMIT = sizes.RECORD
# Clocks that differ by less than this mean the same time.
CLOCK_SLACK = timedelta(minutes=5)
LARGEST = 2**31 - 1  # what a column of whole numbers holds


@blueprint.post("")
def store_record() -> ResponseReturnValue:
    """Store a record once; the same record again gets the same answer."""
    device = device_key()
    envelope = checked(EnvelopeSchema, parsed(whole_json(LIMIT)), "")
    record = envelope["record"]
    text = proved(record, envelope["hash"])
    # A record that is already stored is answered as it was, whatever the rules say by now.
    row = store().find(device, record["id"]) if isinstance(record.get("id"), str) else None
    then = None
    if envelope.get("link") is not None:
        then = shown_to_shop(row, envelope)
    if row is None or then is not None:
        row = store().add(row or new_row(device, record, envelope["hash"], text), then)
    if row["hash"] != envelope["hash"]:
        raise Refusal(
            422,
            "id_reused",
            "record.id",
            id=row["id"],
        )
    verdict = None if row["verdict"] is None else json.loads(row["verdict"])
    answer = {"id": row["id"], "hash": row["hash"], "verdict": verdict}
    # Said only where there is something to say: `clock` is how many seconds the phone's is ahead.
    return jsonify(answer if row["clock_s"] is None else answer | {"clock": row["clock_s"]})


def shown_to_shop(row: dict[str, Any] | None, envelope: dict[str, Any]) -> Then | None:
    """What has to happen beside the storing when the record comes on a shop's link; or None."""
    with store().reading() as connection:
        if row is not None and filing.filed(connection, row, envelope):
            return None
        link = link_life.sending_link(connection, envelope["link"])
    record, far = envelope["record"], None
    if record.get("kind") == "check" and isinstance(record.get("body"), dict):
        far = engine().far_km(record["body"])
    return partial(filing.attach, link=link, due_id=envelope.get("due"), far_km=far)


def proved(record: dict[str, Any], expected: str) -> str:
    """The record's canonical text, once its hash is shown to be the one that was sent."""
    try:
        canonical = rfc8785.dumps(record)
    except (rfc8785.CanonicalizationError, UnicodeError, RecursionError) as error:
        raise Refusal(
            422,
            "not_canonical",
            "record",
            reason=str(error),
        ) from None
    if sha256(canonical).hexdigest() != expected:
        raise Refusal(
            422,
            "hash_mismatch",
            "hash",
        )
    return canonical.decode()


def new_row(device: str, record: dict[str, Any], digest: str, text: str) -> dict[str, Any]:
    """A row for the store, checked and judged."""
    checked(RecordSchema, record, "record")
    body, kind = record["body"], record["kind"]
    if kind in BODIES:
        checked(BODIES[kind], body, "record.body")
    verdict = judged(body) if kind == "check" else None
    return {
        "device": device,
        "id": record["id"],
        "hash": digest,
        "kind": kind,
        "version": record["version"],
        "trailer": trailer_of(body),
        "level": None if verdict is None else verdict["level"],
        **clocked(moment(record["made"]), now()),
        "record": text,
        "verdict": None if verdict is None else rfc8785.dumps(verdict).decode(),
    }


def clocked(made: datetime, received: datetime) -> dict[str, int | None]:
    """When the record was made by this server's clock, and how far off the phone's was.

    The phone says with each request what its clock shows, so a record that waited for weeks is not
    taken for one with a wrong time. A phone of an earlier release does not say: then only a time
    that has not come yet shows.
    """
    ahead = phone_time(made, received) - received
    if abs(ahead) < CLOCK_SLACK:
        ahead = timedelta()
    millis = (made - ahead).timestamp() * 1000
    seconds = max(-LARGEST, min(round(ahead.total_seconds()), LARGEST))
    received_ms = int(received.timestamp() * 1000)
    return {
        "made_ms": min(int(millis), received_ms),
        "received_ms": received_ms,
        "clock_s": seconds or None,
    }


def phone_time(made: datetime, received: datetime) -> datetime:
    """What the phone's clock shows now, as far as can be told."""
    try:
        return moment(request.headers.get("X-Twentymile-Clock", ""))
    except ValueError:
        return max(made, received)


def trailer_of(body: dict[str, Any]) -> str | None:
    """The trailer a record is about; kinds without a schema may carry anything there."""
    trailer = str(body.get("trailer"))
    try:
        is_uuid(trailer)
    except ValidationError:
        return None
    return trailer


def judged(body: dict[str, Any]) -> dict[str, Any]:
    """The server's own verdict, stored beside the phone's."""
    from checks.facts import BadInput

    try:
        return engine().judge({key: body[key] for key in ("check", "date", "facts")})
    except BadInput as error:
        ours = body["rulebook"] == engine().rulebook["hash"]
        about = ("facts", error.key) if error.key in body["facts"] else ()
        path = ("record", "body", *about)
        words = "bad_fact" if ours else "bad_fact_other_rules"
        raise Refusal(422, "bad_fact", ".".join(path), words=words, problem=str(error)) from None
