"""Makes ``docs/openapi.json``: what phones send and read, described from the server's own schemas.

    python docs/openapi.py > docs/openapi.json

OpenAPI 3.1, by apispec. A test holds the file to the code, and requests made up from it meet no
answer that it does not name.
"""

from __future__ import annotations

import json
import sys
from typing import Any

from apispec import APISpec
from apispec.ext.marshmallow import MarshmallowPlugin
from marshmallow import fields, validate

from webapp.api import held, links, pairing, photos, schemas
from webapp.api.schemas import Strict

PATTERNS = {
    schemas.is_hash: "^[0-9a-f]{64}$",
    schemas.is_uuid: "^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$",
    schemas.is_uuid7: "^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$",
}
WHY = {
    400: "The body or a header is not what it says it is.",
    403: "The link takes nothing.",
    404: "There is nothing under that secret.",
    405: "Another method than POST.",
    408: "The body came too slowly.",
    409: "The record belongs to another shop.",
    410: "It has ended.",
    411: "The length was not announced.",
    413: "It is too large.",
    415: "Another content type.",
    422: "A field is wrong: `field` names it.",
    429: "Too many tries, records on one link, or bundles or bytes from one place: later.",
    503: "There is no room for now: later.",
}
ALWAYS = (400, 405, 408, 411, 413, 422)
Json = dict[str, Any]


class ErrorPart(Strict):
    """What is wrong, and how to put it right."""

    code = fields.String(required=True)
    message = fields.String(required=True)
    fix = fields.String(required=True)
    field = fields.String(required=True)


class ErrorSchema(Strict):
    error = fields.Nested(ErrorPart, required=True)


class EndedSchema(ErrorSchema):
    """What a link that has ended still tells: what was found before its end, and replies."""

    open = fields.Dict(keys=fields.String(), required=True, allow_none=True)
    replies = fields.List(fields.Dict(keys=fields.String()), required=True)


class StoredSchema(Strict):
    """The record is on disk: the phone may let go of it when ``id`` and ``hash`` are its own."""

    id = fields.String(required=True, validate=schemas.is_uuid7)
    hash = fields.String(required=True, validate=schemas.is_hash)
    verdict = fields.Dict(keys=fields.String(), required=True, allow_none=True)
    clock = fields.Integer()


class AnswerSchema(Strict):
    """What the record would have been answered, had it come alone: its status and body."""

    status = fields.Integer(required=True)
    body = fields.Dict(keys=fields.String(), required=True)


class AnswersSchema(Strict):
    """One answer for each record, in their order."""

    answers = fields.List(fields.Nested(AnswerSchema), required=True)


class KeptPhotoSchema(Strict):
    id = fields.String(required=True, validate=schemas.is_uuid7)
    hash = fields.String(required=True, validate=schemas.is_hash)
    length = fields.Integer(required=True)


class LinkSchema(Strict):
    """What the link is for."""

    shop = fields.Dict(keys=fields.String(), required=True)
    trailer = fields.Dict(keys=fields.String(), required=True)
    due = fields.List(fields.Dict(keys=fields.String()), required=True)
    replies = fields.List(fields.Dict(keys=fields.String()), required=True)
    expires = fields.String(required=True)
    kind = fields.String(required=True, validate=validate.OneOf(("job", "standing")))
    work = fields.String(required=True, allow_none=True)
    service = fields.Dict(keys=fields.String(), required=True, allow_none=True)
    open = fields.Dict(keys=fields.String(), required=True, allow_none=True)


class OpenedSchema(Strict):
    opened = fields.String(required=True, allow_none=True)


class PairSchema(Strict):
    secret = fields.String(required=True)
    expires = fields.String(required=True)
    qr = fields.String(required=True)


class MissingSchema(Strict):
    records = fields.List(fields.String(), required=True)
    photos = fields.List(fields.String(), required=True)


# Address: what it does, the body, what is answered, and by which statuses besides those of all.
POSTS: dict[str, tuple[str, Any, Any, tuple[int, ...]]] = {
    "/api/records": (
        "Store a record once",
        schemas.EnvelopeSchema,
        StoredSchema,
        (403, 409, 415, 429),
    ),
    "/api/records/several": (
        "Store several records, each once and for itself",
        schemas.SeveralSchema,
        AnswersSchema,
        (415,),
    ),
    "/api/held": ("Name what is not here", held.HeldSchema, MissingSchema, (415,)),
    "/api/links/read": (
        "Read what a link is for",
        links.SecretSchema,
        LinkSchema,
        (404, 410, 415, 429),
    ),
    "/api/links/opened": (
        "Say that a person has opened a link",
        links.SecretSchema,
        OpenedSchema,
        (404, 410, 415, 429),
    ),
    "/api/photos": ("Keep a photo once", None, KeptPhotoSchema, (403, 429)),
    "/api/photos/read": ("Read a photo", photos.ReadSchema, "image/jpeg", (404, 410, 415, 429)),
    "/api/pairs": (
        "Keep a bundle for a second phone",
        pairing.BundleSchema,
        PairSchema,
        (415, 429, 503),
    ),
    "/api/pairs/read": ("Read a bundle", links.SecretSchema, {"type": "object"}, (404, 410, 415)),
}


# What stands beside the error where a refusal of that status tells more.
TOLD = {("/api/links/read", 410): EndedSchema}


def pattern(_: Any, field: fields.Field[Any], **__: Any) -> Json:
    """What our own checks of a field mean in a JSON schema."""
    found: Json = {}
    for check in field.validators:
        if check in PATTERNS:
            found["pattern"] = PATTERNS[check]
        if hasattr(check, "choices") and not isinstance(check, validate.OneOf):
            found["enum"] = list(check.choices)
    return found


def header(name: str, rule: str, needed: bool = True) -> Json:
    schema = {"type": "string", "pattern": rule}
    return {"name": name, "in": "header", "required": needed, "schema": schema}


DEVICE = header("X-Twentymile-Device", "^[0-9a-f]{32}$")
UUID7, HASH = PATTERNS[schemas.is_uuid7], PATTERNS[schemas.is_hash]
PHOTO_HEADERS = [
    header("X-Twentymile-Photo", UUID7),
    header("X-Twentymile-Record", UUID7),
    header("X-Twentymile-Sha256", HASH),
    header("X-Twentymile-Point", "^[a-z][a-z0-9_]{0,62}(@([1-9][LR]?)?)?$"),
    header("X-Twentymile-Link", "^[A-Za-z0-9_-]{43}$", needed=False),
]


def content(of: Any) -> Json:
    if of == "image/jpeg":
        return {"image/jpeg": {"schema": {"type": "string", "contentMediaType": "image/jpeg"}}}
    return {"application/json": {"schema": of}}


def operation(address: str, what: str, body: Any, answer: Any, more: tuple[int, ...]) -> Json:
    found: Json = {"summary": what, "parameters": [DEVICE]}
    if body is None:
        found["parameters"] = [DEVICE, *PHOTO_HEADERS]
        found["requestBody"] = {"required": True, "content": content("image/jpeg")}
    else:
        found["requestBody"] = {"required": True, "content": content(body)}
    refused = {
        str(status): {"description": WHY[status], "content": content(told_of(address, status))}
        for status in sorted({*ALWAYS, *more})
    }
    found["responses"] = {"200": {"description": "Done.", "content": content(answer)}} | refused
    return {"post": found}


def told_of(address: str, status: int) -> type[Strict]:
    return TOLD.get((address, status), ErrorSchema)


def description() -> Json:
    plugin = MarshmallowPlugin()
    spec = APISpec(
        title="Twentymile: what phones send and read",
        version="1",
        openapi_version="3.1.0",
        plugins=[plugin],
    )
    assert plugin.converter is not None
    plugin.converter.add_attribute_function(pattern)
    for address, (what, body, answer, more) in POSTS.items():
        spec.path(address, operations=operation(address, what, body, answer, more))
    bodies = {kind: f"{kind.title()}Body" for kind in schemas.BODIES}
    for kind, name in bodies.items():
        spec.components.schema(name, schema=schemas.BODIES[kind])
    spec.components.schema("Record", schema=schemas.RecordSchema)
    found = dict(spec.to_dict())
    described = found["components"]["schemas"]
    # The fields say "an object" where the code looks closer in a second step.
    described["Envelope"]["properties"]["record"] = ref("Record")
    described["Several"]["properties"]["records"]["items"] = ref("Envelope")
    known = [ref(name) for name in bodies.values()]
    described["Record"]["properties"]["body"] = {"anyOf": [*known, {"type": "object"}]}
    return found


def ref(name: str) -> Json:
    return {"$ref": f"#/components/schemas/{name}"}


def text() -> str:
    return json.dumps(description(), indent=1, sort_keys=True) + "\n"


if __name__ == "__main__":
    sys.stdout.write(text())
