"""Records come in here, one or several at once, and are answered only once they are on disk."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import datetime, timedelta
from functools import partial
from hashlib import sha256
from typing import Any, TypedDict, TypeVar

import rfc8785
from flask import Blueprint, jsonify, request
from flask.typing import ResponseReturnValue
from marshmallow import ValidationError

from webapp import allowance, sizes
from webapp.api.requests import checked, device_key, parsed, whole_json
from webapp.api.schemas import BODIES, EnvelopeSchema, RecordSchema, SeveralSchema, is_uuid
from webapp.canonical import canonical
from webapp.clock import moment, now
from webapp.engine import engine
from webapp.errors import Refusal, note_fault
from webapp.follow_up import filing, link_life
from webapp.security import csrf
from webapp.storage.store import Filing, Then, store
from webapp.wording import language

# No form token: the header below cannot be set from another site, and no cookie counts here.
blueprint = Blueprint("records", __name__, url_prefix="/api/records")
csrf.exempt(blueprint)

LIMIT = sizes.RECORD
# Clocks that differ by less than this mean the same time.
CLOCK_SLACK = timedelta(minutes=5)
LARGEST = 2**31 - 1  # what a column of whole numbers holds
Found = TypeVar("Found")


@blueprint.post("")
def store_record() -> ResponseReturnValue:
    """Store a record once; the same record again gets the same answer."""
    device = device_key()
    envelope = checked(EnvelopeSchema, parsed(whole_json(LIMIT)), "")
    filing = prepared(device, envelope)
    store().add_all([filing])
    return jsonify(told(filing, envelope))


@blueprint.post("/several")
def store_several() -> ResponseReturnValue:
    """Store what waits on a phone: each record for itself, as if it had come alone.

    The answers stand in the order of the records, each ``{"status": ..., "body": {...}}``.
    """
    device = device_key()
    sent = checked(SeveralSchema, parsed(whole_json(LIMIT)), "")["records"]
    ready = [attempt(partial(ready_of, device, one)) for one in sent]
    store().add_all([one[0] for one in ready if isinstance(one, tuple)])
    answers = [attempt(partial(told, *one)) if isinstance(one, tuple) else one for one in ready]
    return jsonify(answers=[in_place(one) for one in answers])


def ready_of(device: str, sent: dict[str, Any]) -> tuple[Filing, dict[str, Any]]:
    envelope = checked(EnvelopeSchema, sent, "")
    return prepared(device, envelope), envelope


def attempt(work: Callable[[], Found]) -> Found | Refusal:
    """What comes of it, or why nothing does. A fault of ours is one record's, not all records'."""
    try:
        return work()
    except Refusal as refusal:
        return refusal
    except Exception as error:
        note_fault(error)
        return Refusal(500, "server_fault", words="page-500")


class InPlace(TypedDict):
    """One answer of several, as it would have come alone."""

    status: int
    body: dict[str, Any]


def in_place(answer: dict[str, Any] | Refusal) -> InPlace:
    if isinstance(answer, Refusal):
        return {"status": answer.status, "body": {"error": answer.error}}
    return {"status": 200, "body": answer}


def prepared(device: str, envelope: dict[str, Any]) -> Filing:
    """What has to be stored, proved, checked and judged."""
    record = envelope["record"]
    text = proved(record, envelope["hash"])
    row, then = None, None
    if envelope.get("link") is not None:
        row = found_already(device, record)
        then = shown_to_shop(row, envelope)
    if row is None:
        try:
            if then is None:
                allowance.take(len(text))
            row = new_row(device, record, envelope["hash"], text)
        except Refusal:
            # What is stored already is answered as it was, whatever the rules say by now.
            row = found_already(device, record)
            if row is None:
                raise
    done = row if "seq" in row and then is None else None
    return Filing(row, then, stored=done)


def found_already(device: str, record: dict[str, Any]) -> dict[str, Any] | None:
    return store().find(device, record["id"]) if isinstance(record.get("id"), str) else None


def told(filing: Filing, envelope: dict[str, Any]) -> dict[str, Any]:
    """The answer once all is on disk. Raises what kept it from that."""
    row = filing.settled()
    if row["hash"] != envelope["hash"]:
        raise Refusal(422, "id_reused", "record.id", id=row["id"])
    verdict = None if row["verdict"] is None else json.loads(row["verdict"])
    answer = {"id": row["id"], "hash": row["hash"], "verdict": verdict}
    # Said only where there is something to say: `clock` is how many seconds the phone's is ahead.
    return answer if row["clock_s"] is None else answer | {"clock": row["clock_s"]}


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
        text = canonical(record)
    except (rfc8785.CanonicalizationError, UnicodeError, RecursionError) as error:
        raise Refusal(
            422,
            "not_canonical",
            "record",
            reason=str(error),
        ) from None
    if sha256(text).hexdigest() != expected:
        raise Refusal(
            422,
            "hash_mismatch",
            "hash",
        )
    return text.decode()


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
        "verdict": None if verdict is None else canonical(verdict).decode(),
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
    from checks.words import words

    try:
        return engine().judge({key: body[key] for key in ("check", "date", "facts")})
    except BadInput as error:
        ours = body["rulebook"] == engine().rulebook["hash"]
        about = ("facts", error.key) if error.key in body["facts"] else ()
        path = ("record", "body", *about)
        kind = "bad_fact" if ours else "bad_fact_other_rules"
        told = error.whole(words(language()))
        raise Refusal(422, "bad_fact", ".".join(path), words=kind, problem=told) from None
