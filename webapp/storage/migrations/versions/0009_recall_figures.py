"""A shop's own figures of when bearings are due."""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("shops") as shops:
        for name in ("repack_months", "repack_miles"):
            shops.add_column(sa.Column(name, sa.Integer()))


def downgrade() -> None:
    with op.batch_alter_table("shops") as shops:
        for name in ("repack_months", "repack_miles"):
            shops.drop_column(name)
