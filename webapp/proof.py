"""Prove that each stored record still is what the phone sent: `python -m webapp.proof`."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from hashlib import sha256

from sqlalchemy import select

from webapp import create_app
from webapp.models import records


def differing(rows: Iterable[Sequence[str]]) -> tuple[int, list[str]]:
    """From rows of id, hash and record: how many there are, and the ids whose hash does not fit."""
    count, found = 0, []
    for record_id, digest, text in rows:
        count += 1
        if sha256(text.encode()).hexdigest() != digest:
            found.append(record_id)
    return count, found


def main() -> int:
    wanted = select(records.c.id, records.c.hash, records.c.record)
    with create_app().extensions["store"].reading() as connection:
        count, found = differing(connection.execute(wanted))
    for record_id in found:
        print(f"{record_id} does not fit its hash: restore it from a backup", file=sys.stderr)
    print(f"{count} records read, {len(found)} differ")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
