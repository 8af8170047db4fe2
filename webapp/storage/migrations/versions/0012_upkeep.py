"""What a trailer's upkeep stands at, and words in the order in which they are looked for."""

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None

BY = ("packed", "driven_km", "tires_from", "stored")


def upgrade() -> None:
    for name in BY:
        kind: Any = sa.Float() if name == "driven_km" else sa.String(10)
        op.add_column("trailers", sa.Column(name, kind))
        op.create_index(f"ix_trailers_shop_id_{name}_id", "trailers", ["shop_id", name, "id"])
    order_words("shop_id", "kind", "word", "row_id")


def downgrade() -> None:
    order_words("shop_id", "word", "kind", "row_id")
    for name in BY:
        op.drop_index(f"ix_trailers_shop_id_{name}_id", "trailers")
        op.drop_column("trailers", name)


def order_words(*columns: str) -> None:
    """The table anew under another key, with all that is in it."""
    by_row = "ix_finds_shop_id_kind_row_id_word"
    op.drop_index(by_row, "finds")
    op.rename_table("finds", "finds_before")
    if op.get_bind().dialect.name == "postgresql":
        op.execute("ALTER TABLE finds_before DROP CONSTRAINT pk_finds")
        op.execute("ALTER TABLE finds_before DROP CONSTRAINT fk_finds_shop_id")
    word: Any = sa.String(40).with_variant(sa.String(40, collation="C"), "postgresql")
    op.create_table(
        "finds",
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("word", word, nullable=False),
        sa.Column("kind", sa.String(8), nullable=False),
        sa.Column("row_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint(*columns, name="pk_finds"),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name="fk_finds_shop_id"),
    )
    op.execute(
        "INSERT INTO finds (shop_id, word, kind, row_id)"
        " SELECT shop_id, word, kind, row_id FROM finds_before"
    )
    op.drop_table("finds_before")
    op.create_index(by_row, "finds", ["shop_id", "kind", "row_id", "word"])
