"""Prove that each record still is what the phone sent, and each photo what was kept:
`python -m webapp.commands.verify`.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from hashlib import sha256
from pathlib import Path
from typing import Any

from sqlalchemy import select

from checks import prompt
from webapp import create_app
from webapp.config import BadSetting
from webapp.storage.models import photos, records
from webapp.storage.photo_places import Photos
from webapp.storage.store import Store
from webapp.wording import say, speaking


def differing(rows: Iterable[Sequence[str]]) -> tuple[int, list[str]]:
    """From rows of id, hash and record: how many there are, and the ids whose hash does not fit."""
    count, found = 0, []
    for record_id, digest, text in rows:
        count += 1
        if sha256(text.encode()).hexdigest() != digest:
            found.append(record_id)
    return count, found


def photos_astray(kept: Photos, rows: Iterable[Any]) -> tuple[int, list[str], list[str]]:
    """How many photos there are, the ids of those whose file is missing or another, and files
    that no photo has."""
    count, found, left = 0, [], kept.names()
    for row in rows:
        count += 1
        data = kept.read(row.path) if row.path in left else None
        left.discard(row.path)
        if data is None or sha256(data).hexdigest() != row.sha256:
            found.append(row.id)
    return count, found, sorted(left)


def main() -> int:
    said = prompt.spoken()
    with speaking(said.language):
        prompt.parser("webapp.commands.verify", "cli-verify", said).parse_args()
        try:
            return verify(create_app().extensions["store"])
        except BadSetting as error:
            sys.exit(str(error))


def verify(store: Store) -> int:
    """Tell what is not as it was, and how many were looked at; 1 where there is any."""
    wanted = select(records.c.id, records.c.hash, records.c.record)
    with store.reading() as connection:
        count, found = differing(connection.execute(wanted))
        kept = select(photos.c.id, photos.c.path, photos.c.sha256)
        pictures, astray, left = photos_astray(store.photos, connection.execute(kept))
    told = [say("cli-verify-record", id=one) for one in found]
    told += [say("cli-verify-photo", id=one) for one in astray]
    told += [say("cli-verify-stray", file=Path(path).name) for path in left]
    for line in told:
        print(line, file=sys.stderr)
    print(say("cli-verify-records", count=count, differ=len(found)))
    print(say("cli-verify-photos", count=pictures, differ=len(astray)))
    return 1 if found or astray else 0


if __name__ == "__main__":
    sys.exit(main())
