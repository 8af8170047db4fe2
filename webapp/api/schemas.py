"""What the server accepts, field by field. Past these schemas the code trusts its data."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any, TypeVar
from uuid import UUID

from marshmallow import Schema, ValidationError, fields, validate, validates

from checks.facts import PLACE
from checks.rulebook import CHECKS
from webapp.clock import moment
from webapp.wording import said, say

KINDS = ("trailer", "check", "photo", "work", "link", "run", "outing")
VERSIONS = (1,)
# A phone whose battery ran flat may think it is 1970. A record is taken whatever its clock said.
YEARS = (1970, 9998)
MOST_KM = 100_000  # of a run
SEVERAL = 20  # records of one request
SHA256 = re.compile(r"[0-9a-f]{64}\Z")
# What the library finds wrong, by the name of its words: these are set before any request.
FOUND = ("required", "null", "invalid", "type", "unknown")
MESSAGES = {name: f"error-field-{name}" for name in FOUND}


def is_uuid(text: str) -> None:
    try:
        plain = str(UUID(text)) == text
    except ValueError:
        plain = False
    if not plain:
        raise ValidationError(say("error-field-uuid"))


def is_uuid7(text: str) -> None:
    is_uuid(text)
    if UUID(text).version != 7:
        raise ValidationError(say("error-field-uuid7"))


def is_place(text: str) -> None:
    if not PLACE.match(text):
        raise ValidationError(MESSAGES["invalid"])


def is_hash(text: str) -> None:
    if not SHA256.match(text):
        raise ValidationError(say("error-field-hash"))


@dataclass(frozen=True)
class OneOf:
    choices: tuple[Any, ...]

    def __call__(self, given: Any) -> None:
        if given not in self.choices:
            offer = ", ".join(map(str, self.choices))
            raise ValidationError(say("error-field-one_of", offer=offer))


AnyField = TypeVar("AnyField", bound=fields.Field[Any])


class Strict(Schema):
    error_messages = MESSAGES


def field(kind: type[AnyField], **options: Any) -> AnyField:
    """A field that is required and says what is wrong in our words."""
    made: dict[str, Any] = {"required": True, "error_messages": MESSAGES} | options
    return kind(**made)


class EnvelopeSchema(Strict):
    """``{"record": {...}, "hash": "<SHA-256>"}``, and the shop's link and due check it is for."""

    record = field(fields.Dict, keys=fields.String())
    hash = field(fields.String, validate=is_hash)
    link = field(fields.String, required=False, allow_none=True)
    due = field(fields.Integer, required=False, allow_none=True, strict=True)


class SeveralSchema(Strict):
    """``{"records": [...]}``: envelopes, each looked at for itself."""

    records = field(
        fields.List,
        cls_or_instance=fields.Dict(keys=fields.String()),
        validate=validate.Length(1, SEVERAL),
    )


class RecordSchema(Strict):
    """What all kinds of record share."""

    id = field(fields.String, validate=is_uuid7)
    kind = field(fields.String, validate=OneOf(KINDS))
    version = field(fields.Integer, strict=True, validate=OneOf(VERSIONS))
    made = field(fields.String)
    body = field(fields.Dict, keys=fields.String())

    @validates("made")
    def check_made(self, text: str, **_: Any) -> None:
        try:
            made = moment(text)
        except ValueError:
            raise ValidationError(say("error-field-time")) from None
        if not YEARS[0] <= made.year <= YEARS[1]:
            raise ValidationError(say("error-field-years", first=str(YEARS[0]), last=str(YEARS[1])))


class BySchema(Strict):
    """Who made the check, where that is not the customer: whoever borrows the trailer."""

    name = field(fields.String, validate=validate.Length(1, 80))
    phone = field(fields.String, validate=validate.Length(0, 80))


class CheckSchema(Strict):
    """The body of a check; the engine judges what stands in ``facts``."""

    check = field(fields.String, validate=OneOf(CHECKS))
    date = field(fields.String)
    facts = field(fields.Dict, keys=fields.String())
    typed = field(fields.Dict, keys=fields.String())
    trailer = field(fields.String, allow_none=True, validate=is_uuid)
    rulebook = field(fields.String, validate=is_hash)
    verdict = field(fields.Dict, keys=fields.String())
    by = fields.Nested(BySchema)

    @validates("date")
    def check_date(self, text: str, **_: Any) -> None:
        try:
            day = date.fromisoformat(text)
        except ValueError:
            day = None
        if day is None or day.isoformat() != text:
            raise ValidationError(say("error-field-date"))
        if not YEARS[0] <= day.year <= YEARS[1]:
            raise ValidationError(say("error-field-years", first=str(YEARS[0]), last=str(YEARS[1])))


class TrailerSchema(Strict):
    """The body of a trailer: what is known about it, whole, each time that changes."""

    trailer = field(fields.String, validate=is_uuid)
    name = field(fields.String)
    facts = field(fields.Dict, keys=fields.String())
    typed = field(fields.Dict, keys=fields.String())
    retired = field(fields.Boolean, required=False, truthy={True}, falsy={False})


class LegSchema(Strict):
    """The way out or back, and where in the run it begins: km and minutes."""

    name = field(fields.String, validate=validate.Length(1, 20))
    km = field(fields.Float, validate=validate.Range(0, MOST_KM))
    minutes = field(fields.Float, validate=validate.Range(0))


class StopSchema(Strict):
    """A stop of a run: what to look at, when it came due, when and by which check it was done."""

    id = field(fields.String, validate=validate.Length(1, 40))
    what = field(fields.List, cls_or_instance=fields.String(validate=validate.Length(1, 40)))
    places = field(fields.List, required=False, cls_or_instance=fields.String(validate=is_place))
    axles = field(fields.Integer, required=False, validate=validate.Range(1, 9))
    km = field(fields.Float, required=False, validate=validate.Range(0))
    minutes = field(fields.Float, required=False, validate=validate.Range(0))
    reached = field(fields.String, allow_none=True)
    done = field(fields.String, allow_none=True)
    check = field(fields.String, allow_none=True, validate=is_uuid7)


class RunSchema(Strict):
    """The body of a run: miles, minutes and stops. A place on earth is no field of it."""

    run = field(fields.String, validate=is_uuid7)
    trailer = field(fields.String, allow_none=True, validate=is_uuid)
    began = field(fields.String)
    ended = field(fields.String)
    by = field(fields.String, validate=OneOf(("time", "position")))
    km = field(fields.Float, validate=validate.Range(0, MOST_KM))
    minutes = field(fields.Float, validate=validate.Range(0))
    speed = field(fields.Float, validate=validate.Range(0, 300))
    work = field(fields.List, cls_or_instance=fields.String(validate=validate.Length(1, 20)))
    legs = field(fields.List, cls_or_instance=fields.Nested(LegSchema))
    stops = field(fields.List, cls_or_instance=fields.Nested(StopSchema))


class OutingSchema(Strict):
    """The body of an outing: a borrower has brought the trailer back to the desk it is lent by."""

    what = field(fields.String, validate=OneOf(("back",)))
    trailer = field(fields.String, allow_none=True, validate=is_uuid)
    by = fields.Nested(BySchema)


# Kinds without an entry carry a body of their own making; only its size is limited.
BODIES: dict[str, type[Schema]] = {
    "check": CheckSchema,
    "trailer": TrailerSchema,
    "run": RunSchema,
    "outing": OutingSchema,
}


def problems(messages: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[str, str]]:
    """Flatten marshmallow's messages to ``(dotted path, what is wrong with it)``."""
    if isinstance(messages, dict):
        for key, inner in messages.items():
            # Dict fields file their errors one level down, under these two words.
            name = () if key in ("_schema", "key", "value") else (str(key),)
            yield from problems(inner, path + name)
    elif isinstance(messages, list):
        yield from ((".".join(path), said(str(one), str(one))) for one in messages)
