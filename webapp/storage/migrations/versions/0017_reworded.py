"""When a reply was last reworded; and what was decided in the tray stays in it."""

from datetime import datetime

import sqlalchemy as sa
from alembic import op

revision = "0017"
down_revision = "0016"
branch_labels = None
depends_on = None

DECIDED, TRAY_DECIDED = 5, 7
records = sa.table("records", *map(sa.column, ("seq", "link_id", "shelf", "received_ms")))
links = sa.table("links", *map(sa.column, ("id", "revoked")))


def upgrade() -> None:
    op.add_column("notes", sa.Column[str]("reworded", sa.String(32)))
    move(DECIDED, TRAY_DECIDED)


def downgrade() -> None:
    move(TRAY_DECIDED, DECIDED)
    op.drop_column("notes", "reworded")


def move(shelf: int, to: int) -> None:
    """Bring to another shelf what came after its link was taken back."""
    wanted = (
        sa.select(records.c.seq, records.c.received_ms, links.c.revoked)
        .join(links, links.c.id == records.c.link_id)
        .where(records.c.shelf == shelf, links.c.revoked.is_not(None))
    )
    connection = op.get_bind()
    for seq, received_ms, revoked in connection.execute(wanted).all():
        if received_ms >= datetime.fromisoformat(revoked).timestamp() * 1000:
            here = records.update().where(records.c.seq == seq)
            connection.execute(here.values(shelf=to))
