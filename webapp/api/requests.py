"""How a body comes in: whole, within a limit, and from a device that says which it is."""

from __future__ import annotations

import json
import re
from functools import cache
from hashlib import sha256
from typing import Any

from flask import request
from marshmallow import Schema, ValidationError
from werkzeug.exceptions import ClientDisconnected, RequestTimeout

from webapp.api.schemas import problems
from webapp.errors import Refusal
from webapp.wording import say

DEVICE = re.compile(r"[0-9a-f]{32}\Z")


def device_key() -> str:
    """What the sending device's records are filed under: the hash of its random id."""
    device = request.headers.get("X-Twentymile-Device", "")
    if not DEVICE.match(device):
        raise Refusal(
            400,
            "device_missing" if not device else "device_malformed",
            "X-Twentymile-Device",
        )
    return sha256(device.encode()).hexdigest()


def whole_json(limit: int) -> bytes:
    """The body, when it is JSON, within ``limit``, and arrived to its last byte."""
    if request.mimetype != "application/json":
        raise Refusal(
            415,
            "not_json",
            "Content-Type",
            words="not_json_type",
        )
    body = whole_body(limit, "record")
    if len(body) != request.content_length:
        raise Refusal(
            400,
            "cut_off",
            "Content-Length",
            arrived=str(len(body)),
            length=str(request.content_length),
        )
    return body


def whole_body(limit: int, what: str) -> bytes:
    """What arrived of the body, when it was announced and is within ``limit``.

    It may be shorter than announced: whoever calls has to look.
    """
    length = request.content_length
    if length is None:
        raise Refusal(
            411,
            "length_missing",
            "Content-Length",
        )
    if length > limit:
        raise Refusal(
            413,
            "too_large",
            words=f"too_large_{what}",
            length=str(length),
            limit=str(limit),
        )
    return received(length)


def received(length: int) -> bytes:
    """The next ``length`` bytes; fewer when the sender hung up."""
    try:
        return request.stream.read(length)
    except ClientDisconnected:
        return b""
    except RequestTimeout:
        raise Refusal(408, "too_slow") from None


def parsed(body: bytes) -> Any:
    try:
        return json.loads(body.decode(), object_pairs_hook=no_twins, parse_constant=no_constant)
    except (ValueError, RecursionError) as error:
        raise Refusal(
            400,
            "not_json",
            reason=str(error),
        ) from None


def unless_bracketed(body: bytes, most: int) -> bytes:
    """``body``, unless more than ``most`` brackets open in it: each costs the parser far more
    memory than its byte. Those inside texts count too, so that nothing need be parsed to know."""
    opened = body.count(b"[") + body.count(b"{")
    if opened > most:
        raise Refusal(413, "too_bracketed", most=str(most))
    return body


def no_twins(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("an object names a field twice")
    return found


def no_constant(name: str) -> None:
    raise ValueError(f"{name} is not a JSON number")


@cache
def made(schema: type[Schema]) -> Schema:
    """One of each kind for all requests: making one copies all its fields."""
    return schema()


def checked(schema: type[Schema], data: Any, path: str) -> dict[str, Any]:
    """``data`` when it fits; otherwise the first thing that is wrong, by name."""
    try:
        return dict(made(schema).load(data))
    except ValidationError as error:
        where, what = next(problems(error.messages))
    field = ".".join(part for part in (path, where) if part)
    raise Refusal(
        422,
        "bad_field",
        field,
        part=field or say("error-body"),
        problem=what,
    )
