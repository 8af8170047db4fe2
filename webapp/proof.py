"""Prove that each stored record still is what the phone sent: `python -m webapp.proof`."""

from __future__ import annotations

import sys
from hashlib import sha256

from sqlalchemy import select

from webapp import create_app
from webapp.store import Store, records


def differing(store: Store) -> tuple[int, list[str]]:
    """How many records were read, and the ids of those whose hash does not fit."""
    count, found = 0, []
    with store.reading() as connection:
        for row in connection.execute(select(records.c.id, records.c.hash, records.c.record)):
            count += 1
            if sha256(row.record.encode()).hexdigest() != row.hash:
                found.append(row.id)
    return count, found


def main() -> int:
    count, found = differing(create_app().extensions["store"])
    for record_id in found:
        print(f"{record_id} does not fit its hash: restore it from a backup", file=sys.stderr)
    print(f"{count} records read, {len(found)} differ")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
