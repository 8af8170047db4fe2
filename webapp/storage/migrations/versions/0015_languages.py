"""The language of a shop, and of a customer where it is another."""

import sqlalchemy as sa
from alembic import op

revision = "0015"
down_revision = "0014"
branch_labels = None
depends_on = None


def upgrade() -> None:
    for table, default in (("shops", "en"), ("customers", "")):
        language = sa.Column[str]("language", sa.String(35), nullable=False, server_default=default)
        op.add_column(table, language)


def downgrade() -> None:
    for table in ("customers", "shops"):
        op.drop_column(table, "language")
