"""The bench record: a check like any other, made in the shop and judged by the same rules."""

from __future__ import annotations

import json
from datetime import datetime
from hashlib import sha256
from typing import Any, TypedDict

import rfc8785
from sqlalchemy import Connection, select
from uuid_utils import uuid7

from webapp.clock import made_at
from webapp.engine import engine
from webapp.shop import reading
from webapp.storage.models import records
from webapp.storage.store import AnyRow
from webapp.wording import place_text, said

Json = dict[str, Any]


def judged(facts: Json, moment: datetime) -> Json:
    """The payload and its verdict. Raises ``checks.facts.BadInput``."""
    asked = {"check": "bench", "date": moment.date().isoformat(), "facts": facts}
    verdict: Json = engine().judge(asked)
    return asked | {"verdict": verdict}


def store_bench(
    connection: Connection, shop_id: int, trailer: Json, check: Json, moment: datetime
) -> str:
    """Store what ``judged`` gave as a record of the shop's, and return its id."""
    names = {"typed": {}, "trailer": trailer["record_id"], "rulebook": engine().hash_for("bench")}
    made = moment.isoformat(timespec="seconds")
    one: Json = {
        "id": str(uuid7()),
        "kind": "check",
        "version": 1,
        "made": made,
        "body": check | names,
    }
    canonical = rfc8785.dumps(one)
    millis = int(moment.timestamp() * 1000)
    connection.execute(
        records.insert().values(
            device=sha256(f"shop {shop_id}".encode()).hexdigest(),
            id=one["id"],
            hash=sha256(canonical).hexdigest(),
            kind="check",
            version=1,
            trailer=trailer["record_id"],
            level=check["verdict"]["level"],
            made_ms=millis,
            received_ms=millis,
            record=canonical.decode(),
            verdict=rfc8785.dumps(check["verdict"]).decode(),
            shop_id=shop_id,
            trailer_key=trailer["id"],
        )
    )
    return str(one["id"])


def stored(connection: Connection, shop_id: int, record_id: str | None) -> Kept | None:
    """A record of the shop's, or None."""
    wanted = select(records).where(records.c.shop_id == shop_id, records.c.id == record_id)
    row = connection.execute(wanted).first()
    return None if row is None or not row.verdict else read(row)


class Kept(TypedDict):
    """A check as it is kept, its verdict the server's."""

    id: str
    made: datetime
    check: str
    facts: Json
    verdict: Json


def read(row: AnyRow) -> Kept:
    one = json.loads(row.record)
    body = one["body"]
    return {
        "id": row.id,
        "made": made_at(one["made"], row.made_ms, row.clock_s),
        "check": body["check"],
        "facts": body["facts"],
        "verdict": json.loads(row.verdict),
    }


class FindingWords(TypedDict):
    """A finding in words."""

    level: str
    place: str
    title: str
    do: str


def finding_words(verdict: Json, axles: int) -> list[FindingWords]:
    """The findings in words, worst first."""
    return [
        {
            "level": one["level"],
            "place": place_text(one["place"], axles),
            "title": said(f"finding-{one['finding']}", one["finding"]),
            "do": reading.to_do(
                one,
                said(f"finding-{one['finding']}.do", one["finding"]),
                stays=verdict["level"] in ("stop", "mend"),
            ),
        }
        for one in verdict["findings"]
    ]


def axles_of(facts: Json) -> int:
    return int(facts.get("axles", 1))
