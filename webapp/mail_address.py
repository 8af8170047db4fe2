"""Addresses that mail can go to."""

from __future__ import annotations

import re
from email.errors import HeaderParseError
from email.headerregistry import Address

PART = re.compile(r"[^\s<>@,;:\\\"()\[\]]+")


def is_mail_address(text: str) -> bool:
    """One plain address, ``name@example.org``: no list, no name before it, no brackets.

    Whether there is such a box only its mail server knows.
    """
    before, _, after = text.partition("@")
    if not (PART.fullmatch(before) and PART.fullmatch(after)) or len(after.split(".")) < 2:
        return False
    if not all(after.split(".")):
        return False
    try:
        Address(addr_spec=text)
    except (HeaderParseError, ValueError, IndexError):
        return False
    return True
