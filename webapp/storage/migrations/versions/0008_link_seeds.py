"""Links and calendars can be shown again, their secrets from a seed; lent trailers go out."""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("links") as links:
        links.add_column(sa.Column("seed", sa.String(32)))
    with op.batch_alter_table("shops") as shops:
        shops.add_column(sa.Column("feed_seed", sa.String(32)))
    op.create_table(
        "outings",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("trailer_id", sa.Integer(), nullable=False),
        sa.Column("what", sa.String(8), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("name", sa.String(80), nullable=False),
        sa.Column("phone", sa.String(40), nullable=False),
        sa.Column("record_id", sa.String(36)),
        sa.PrimaryKeyConstraint("id", name="pk_outings"),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name="fk_outings_shop_id"),
        sa.ForeignKeyConstraint(["trailer_id"], ["trailers.id"], name="fk_outings_trailer_id"),
    )
    for column in ("shop_id", "trailer_id"):
        op.create_index(f"ix_outings_{column}", "outings", [column])


def downgrade() -> None:
    with op.batch_alter_table("links") as links:
        links.drop_column("seed")
    with op.batch_alter_table("shops") as shops:
        shops.drop_column("feed_seed")
    op.drop_table("outings")
