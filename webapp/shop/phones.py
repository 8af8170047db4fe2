"""Phone numbers as people write them, made into what a phone can dial."""

from __future__ import annotations

import re

EXTENSION = re.compile(r"\s*(?:x|ext\.?|extension)\s*\d+\s*$", re.IGNORECASE)
LEAST = 3


def dial(text: str | None) -> str:
    """The digits, with a plus in front where one was written (RFC 3966); empty when there is no
    number in it. What follows as an extension is not dialled."""
    plain = EXTENSION.sub("", text or "").strip()
    digits = "".join(x for x in plain if x.isascii() and x.isdigit())
    if len(digits) < LEAST:
        return ""
    return f"+{digits}" if plain.startswith("+") else digits
