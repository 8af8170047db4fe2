"""What was forgotten is not asked for again; one-time codes for staff."""

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "forgotten",
        sa.Column("key", sa.String(64), nullable=False),
        sa.PrimaryKeyConstraint("key", name="pk_forgotten"),
    )
    with op.batch_alter_table("staff") as staff:
        staff.add_column(sa.Column("code_seed", sa.String(32)))
        staff.add_column(sa.Column("code_step", sa.BigInteger()))


def downgrade() -> None:
    with op.batch_alter_table("staff") as staff:
        staff.drop_column("code_step")
        staff.drop_column("code_seed")
    op.drop_table("forgotten")
