"""What came back bad on a trailer is found without reading its other checks."""

from alembic import op

revision = "0013"
down_revision = "0012"
branch_labels = None
depends_on = None

NAME = "ix_records_trailer_key_level_made_ms"


def upgrade() -> None:
    op.create_index(NAME, "records", ["trailer_key", "level", "made_ms"])


def downgrade() -> None:
    op.drop_index(NAME, "records")
