"""Sessions of staff that can be ended one by one, and how far off the clock of a phone was."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("records", sa.Column("clock_s", sa.Integer()))
    op.create_table(
        "sessions",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("staff_id", sa.Integer(), nullable=False),
        sa.Column("token_hash", sa.String(64), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("seen", sa.String(32), nullable=False),
        sa.Column("browser", sa.String(80), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_sessions"),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name="fk_sessions_staff_id_staff"),
        sa.UniqueConstraint("token_hash", name="uq_sessions_token_hash"),
    )
    op.create_index("ix_sessions_staff_id", "sessions", ["staff_id"])
