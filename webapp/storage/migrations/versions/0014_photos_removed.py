"""A photo from the bench that was removed can be brought back for a while."""

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("photos", sa.Column("removed", sa.String(32)))


def downgrade() -> None:
    op.drop_column("photos", "removed")
