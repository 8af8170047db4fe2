"""Numbers as people type them."""

from __future__ import annotations

import re

# Between thousands people write a comma or a space, which phones make narrow or unbreakable.
SPACES = re.compile(r"(?<=[0-9])[ \u00a0\u2009\u202f'’](?=[0-9]{3}(?![0-9]))")
GROUPED = re.compile(r"[1-9][0-9]{0,2}(,[0-9]{3})+(\.[0-9]*)?\Z")
GROUPED_BY_POINTS = re.compile(r"[1-9][0-9]{0,2}((\.[0-9]{3}){2,}|(\.[0-9]{3})+,[0-9]*)\Z")
PLAIN = re.compile(r"([0-9]+([.,][0-9]*)?|[.,][0-9]+)\Z")
WITH_REST = re.compile(r"([0-9.,]+)\s*(.*)\Z", re.S)


def read_number(text: str) -> float | None:
    """The number that is meant, or None: ``1,000`` and ``1 000`` are a thousand, ``12.5`` and
    ``12,5`` twelve and a half. No sign: nothing the shop's forms ask for is below zero."""
    plain = SPACES.sub("", text.strip())
    if GROUPED.match(plain):
        return float(plain.replace(",", ""))
    if GROUPED_BY_POINTS.match(plain):
        return float(plain.replace(".", "").replace(",", "."))
    return float(plain.replace(",", ".")) if PLAIN.match(plain) else None


def with_unit(text: str, unit: str) -> str:
    """``3,500`` as ``3500 lb``, a unit of its own kept; what holds no number stays as it is."""
    found = WITH_REST.match(SPACES.sub("", text.strip()))
    value = read_number(found[1]) if found else None
    if found is None or value is None:
        return text
    return f"{value:.15g} {found[2].strip() or unit}"
