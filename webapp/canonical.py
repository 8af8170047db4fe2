"""A value as the one text that its hash is taken of (RFC 8785)."""

from __future__ import annotations

import json
import re
from typing import Any

import rfc8785

# What Python's own writer writes otherwise than RFC 8785: whole numbers too large to be exact,
# floats that are whole, that have an exponent, or that are no numbers. A number stands behind one
# of these three signs; that texts are searched with it costs time, never a wrong answer.
OTHERWISE = re.compile(r"[:\[,]-?(?:[IN]|\d{16}|\d+\.0[,\]}]|\d[\d.]*e)")


def canonical(value: Any) -> bytes:
    """``value`` by RFC 8785.

    Python's writer, in C, gives the same for nearly all values and is many times as fast. Names in
    ASCII sort alike in both. Raises what ``rfc8785.dumps`` raises.
    """
    if not isinstance(value, dict):
        return rfc8785.dumps(value)
    try:
        text = json.dumps(
            value, sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False
        )
    except (TypeError, ValueError, RecursionError):
        return rfc8785.dumps(value)
    if not text.isascii() or OTHERWISE.search(text):
        return rfc8785.dumps(value)
    return text.encode()
