"""Records as a phone makes them, for the tests that send some."""

from __future__ import annotations

import secrets
import time
from datetime import UTC, datetime
from hashlib import sha256
from typing import Any
from uuid import UUID

import rfc8785

DEVICE = "00112233445566778899aabbccddeeff"
HEADERS = {"X-Twentymile-Device": DEVICE}


def uuid7() -> str:
    """Time in milliseconds, then random bits (RFC 9562, section 5.7)."""
    bits = time.time_ns() // 1_000_000 << 80 | secrets.randbits(80)
    return str(UUID(int=bits & ~(0xF << 76) & ~(0x3 << 62) | 7 << 76 | 2 << 62))


def check_body(**changes: Any) -> dict[str, Any]:
    return {
        "check": "run_stop",
        "date": datetime.now(UTC).date().isoformat(),
        "facts": {"axles": 1},
        "typed": {},
        "trailer": None,
        "rulebook": "0" * 64,
        "verdict": {"level": "unchecked"},
    } | changes


def record(**changes: Any) -> dict[str, Any]:
    return {
        "id": uuid7(),
        "kind": "check",
        "version": 1,
        "made": datetime.now(UTC).isoformat(),
        "body": check_body(),
    } | changes


def envelope(one: dict[str, Any]) -> dict[str, Any]:
    return {"record": one, "hash": sha256(rfc8785.dumps(one)).hexdigest()}


def error_of(response: Any, status: int, beside: tuple[str, ...] = ()) -> dict[str, str]:
    """The error of a refused request, whose shape is the same everywhere; ``beside`` it may stand
    what is told all the same."""
    assert response.status_code == status, response.text
    assert set(response.json) == {"error", *beside}
    error: dict[str, str] = response.json["error"]
    assert set(error) == {"code", "message", "fix", "field"}
    assert all(isinstance(text, str) for text in error.values())
    assert error["code"]
    assert error["message"].endswith((".", "?"))
    assert error["fix"].endswith(".")
    return error
