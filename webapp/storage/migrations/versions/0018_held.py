"""What nobody is to drive on with before something is settled gets a shelf of its own."""

import json
from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0018"
down_revision = "0017"
branch_labels = None
depends_on = None

LOOK, HELD = 2, 8
# As the rules of this release name them.
HOLDS = ("too_hot", "hub_no_touch")
records = sa.table("records", *map(sa.column, ("seq", "shelf", "record", "verdict")))


def upgrade() -> None:
    named = [
        column.contains(f'"{name}"')
        for column in (records.c.record, records.c.verdict)
        for name in HOLDS
    ]
    wanted = sa.select(records).where(records.c.shelf == LOOK, sa.or_(*named))
    connection = op.get_bind()
    held = [row.seq for row in connection.execute(wanted) if holds(row)]
    for seq in held:
        here = records.update().where(records.c.seq == seq)
        connection.execute(here.values(shelf=HELD))


def downgrade() -> None:
    op.execute(records.update().where(records.c.shelf == HELD).values(shelf=LOOK))


def holds(row: Any) -> bool:
    """A phone's verdict is of any shape: whatever is no finding is passed over."""
    both = (json.loads(row.record)["body"]["verdict"], json.loads(row.verdict or "{}"))
    found = [one for verdict in both for one in listed(verdict.get("findings"))]
    return any(isinstance(one, dict) and one.get("finding") in HOLDS for one in found)


def listed(given: object) -> list[object]:
    return given if isinstance(given, list) else []
