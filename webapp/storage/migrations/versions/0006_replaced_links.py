"""A link that another took the place of is told from one that was taken back."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("links") as links:
        links.add_column(sa.Column("replaced", sa.String(32)))


def downgrade() -> None:
    with op.batch_alter_table("links") as links:
        links.drop_column("replaced")
