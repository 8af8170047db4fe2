"""Shelves, missed distances and indexes for the inbox, and the secret of the calendar."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("records") as records:
        records.add_column(sa.Column("shelf", sa.SmallInteger()))
        records.add_column(sa.Column("phone_level", sa.String(16)))
        records.add_column(sa.Column("far_km", sa.Float()))
        records.create_index("ix_records_shop_id_id", ["shop_id", "id"], unique=True)
        records.create_index("ix_records_shop_id_shelf_seq", ["shop_id", "shelf", "seq"])
        records.create_index("ix_records_trailer_key_made_ms", ["trailer_key", "made_ms"])
    with op.batch_alter_table("due") as due:
        due.add_column(sa.Column("missed_km", sa.Float()))
    with op.batch_alter_table("shops") as shops:
        shops.add_column(sa.Column("feed_hash", sa.String(64)))
        shops.create_index("ix_shops_feed_hash", ["feed_hash"], unique=True)
    op.create_index("ix_due_waiting", "due", ["shop_id", "record_id", "dropped", "by"])
    # Of years of mails only the few unsent ones are ever asked for.
    unsent = sa.text("sent IS NULL")
    op.create_index(
        "ix_mails_unsent", "mails", ["next_try"], sqlite_where=unsent, postgresql_where=unsent
    )
