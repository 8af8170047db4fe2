"""Who did what and when: written in the transaction of the deed, so that neither is there alone."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Connection, select

from webapp.clock import now
from webapp.storage.models import audit, staff

Json = dict[str, Any]


def write(
    connection: Connection,
    who: Mapping[str, Any],
    kind: str,
    row: int | str,
    did: str,
    before: Json | None = None,
    after: Json | None = None,
) -> int:
    """Note that the staff member ``who`` did it to the ``row`` of the table ``kind``; the id.

    ``did`` is one of the words ``shop-did-...``.
    """
    values = {"shop_id": who["shop_id"], "staff_id": who["id"], "made": now()}
    values |= {"kind": kind, "row_key": str(row), "did": did, "before": before, "after": after}
    done = connection.execute(audit.insert().values(**values))
    return int(done.inserted_primary_key[0])  # type: ignore[index]


def of(connection: Connection, shop_id: int, kind: str, row: int | str) -> list[Json]:
    """What was done to a row, the last first, each with ``who``."""
    wanted = (
        select(audit, staff.c.name.label("who"))
        .join(staff, staff.c.id == audit.c.staff_id)
        .where(audit.c.shop_id == shop_id, audit.c.kind == kind, audit.c.row_key == str(row))
        .order_by(audit.c.id.desc())
    )
    return [dict(row) for row in connection.execute(wanted).mappings()]
