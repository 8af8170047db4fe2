"""The first table: records as phones send them."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "records",
        sa.Column("seq", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("device", sa.String(64), nullable=False),
        sa.Column("id", sa.String(36), nullable=False),
        sa.Column("hash", sa.String(64), nullable=False),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("trailer", sa.String(36)),
        sa.Column("level", sa.String(16)),
        sa.Column("made_ms", sa.BigInteger(), nullable=False),
        sa.Column("received_ms", sa.BigInteger(), nullable=False),
        sa.Column("record", sa.Text(), nullable=False),
        sa.Column("verdict", sa.Text()),
        sa.PrimaryKeyConstraint("seq", name="pk_records"),
        sa.UniqueConstraint("device", "id", name="uq_records_device_id"),
    )
    op.create_index("ix_records_device_trailer", "records", ["device", "trailer"])
