"""The rules that checks were judged by, once per hash, and the words they were shown in."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "rulebooks",
        sa.Column("hash", sa.String(64), nullable=False),
        sa.Column("rules", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("hash", name="pk_rulebooks"),
    )
    op.create_table(
        "words",
        sa.Column("seq", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("hash", sa.String(64), nullable=False),
        sa.Column("rulebook", sa.String(64), nullable=False),
        sa.Column("language", sa.String(16), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("seq", name="pk_words"),
        sa.UniqueConstraint("rulebook", "hash", name="uq_words_rulebook_hash"),
        sa.ForeignKeyConstraint(["rulebook"], ["rulebooks.hash"], name="fk_words_rulebook"),
    )
