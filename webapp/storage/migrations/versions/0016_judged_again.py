"""What today's rules say of a kept check, and how far the store has been judged by them."""

import sqlalchemy as sa
from alembic import op

revision = "0016"
down_revision = "0015"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("records", sa.Column[str]("level_now", sa.String(16)))
    op.create_table(
        "judgings",
        sa.Column[str]("rules", sa.String(64), nullable=False),
        sa.Column[int]("seq", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("rules", name="pk_judgings"),
    )


def downgrade() -> None:
    op.drop_table("judgings")
    op.drop_column("records", "level_now")
