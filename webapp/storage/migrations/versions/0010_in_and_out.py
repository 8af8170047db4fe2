"""Files taken in, photos from the bench, units, which news is mailed, when a backup was made."""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None

TIME = sa.String(32)


def upgrade() -> None:
    units = sa.Column[str]("units", sa.String(8), nullable=False, server_default="us")
    op.add_column("shops", units)
    for name in ("mail_mend", "mail_overdue"):
        off = sa.Column[bool](name, sa.Boolean(), nullable=False, server_default="0")
        op.add_column("shops", off)
    op.add_column("mails", sa.Column("kind", sa.String(8), nullable=False, server_default="stop"))
    op.add_column("due", sa.Column("told", TIME))
    with op.batch_alter_table("photos") as photos:
        photos.add_column(sa.Column("job_id", sa.Integer()))
        photos.create_foreign_key("fk_photos_job_id", "jobs", ["job_id"], ["id"])
        photos.create_index("ix_photos_job_id", ["job_id"])
    op.create_table(
        "stamps",
        sa.Column("name", sa.String(16), nullable=False),
        sa.Column("made", TIME, nullable=False),
        sa.PrimaryKeyConstraint("name", name="pk_stamps"),
    )
    op.create_table("intakes", *intake_columns())
    for column in ("shop_id", "staff_id"):
        op.create_index(f"ix_intakes_{column}", "intakes", [column])


def intake_columns() -> list[sa.Column[object] | sa.Constraint]:
    return [
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("staff_id", sa.Integer(), nullable=False),
        sa.Column("made", TIME, nullable=False),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("name", sa.String(80), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("taken", TIME),
        sa.Column("undone", TIME),
        sa.Column("added", sa.JSON(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_intakes"),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name="fk_intakes_shop_id"),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name="fk_intakes_staff_id"),
    ]


def downgrade() -> None:
    for name in ("intakes", "stamps"):
        op.drop_table(name)
    with op.batch_alter_table("photos") as photos:
        photos.drop_index("ix_photos_job_id")
        photos.drop_constraint("fk_photos_job_id", type_="foreignkey")
        photos.drop_column("job_id")
    op.drop_column("due", "told")
    op.drop_column("mails", "kind")
    for name in ("units", "mail_mend", "mail_overdue"):
        op.drop_column("shops", name)
