"""Names that are found, pages that are counted, deeds that are known and can be undone."""

import unicodedata
from datetime import UTC, datetime
from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

TIME, JSON = sa.String(32), sa.JSON()


def bytewise(length: int) -> Any:
    return sa.String(length).with_variant(sa.String(length, collation="C"), "postgresql")


def upgrade() -> None:
    widen()
    fill()
    make_tables()
    for table, *columns in INDEXES:
        op.create_index(f"ix_{table}_{'_'.join(columns)}", table, columns)


INDEXES = (
    ("customers", "shop_id", "sort_name", "id"),
    ("customers", "merged_into"),
    ("trailers", "shop_id", "sort_name", "id"),
    ("trailers", "shop_id", "touched", "id"),
    ("trailers", "merged_into"),
    ("jobs", "shop_id", "finished", "id"),
    ("records", "trailer_key", "shelf"),
)


def empty(name: str, length: int) -> Any:
    return sa.Column(name, sa.String(length), nullable=False, server_default="")


def widen() -> None:
    op.add_column("shops", empty("zone", 40))
    for name in ("customers", "trailers"):
        key = sa.Column("sort_name", bytewise(80), nullable=False, server_default="")
        op.add_column(name, key)
        op.add_column(name, sa.Column("merged_into", sa.Integer()))
    op.add_column("trailers", empty("plate", 16))
    op.add_column("trailers", empty("vin", 20))
    op.add_column("trailers", sa.Column("touched", TIME, nullable=False, server_default=""))
    op.add_column("jobs", sa.Column("revision", sa.Integer(), nullable=False, server_default="0"))
    op.add_column("jobs", empty("work_order", 40))
    op.add_column("jobs", sa.Column("parts", JSON, nullable=False, server_default="{}"))


def sort_key(name: str) -> str:
    plain = unicodedata.normalize("NFKD", name)
    return "".join(x for x in plain if not unicodedata.combining(x)).casefold()[:80]


def fill() -> None:
    """Names as they sort, and when a trailer was last worked on."""
    here = op.get_bind()
    moment = datetime.now(UTC).isoformat(timespec="milliseconds")
    last = "(SELECT max(opened) FROM jobs WHERE jobs.trailer_id = trailers.id)"
    here.execute(sa.text(f"UPDATE trailers SET touched = coalesce({last}, :now)"), {"now": moment})
    for name in ("customers", "trailers"):
        table = sa.table(name, sa.column("id"), sa.column("name"), sa.column("sort_name"))
        for row in here.execute(sa.select(table.c.id, table.c.name)).all():
            key = table.update().where(table.c.id == row.id).values(sort_name=sort_key(row.name))
            here.execute(key)


def make_tables() -> None:
    op.create_table(
        "audit",
        *whose("audit"),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("row_key", sa.String(36), nullable=False),
        sa.Column("did", sa.String(24), nullable=False),
        sa.Column("before", JSON),
        sa.Column("after", JSON),
    )
    op.create_index(
        "ix_audit_shop_id_kind_row_key_id", "audit", ["shop_id", "kind", "row_key", "id"]
    )
    op.create_index("ix_audit_shop_id_id", "audit", ["shop_id", "id"])
    op.create_table(
        "refused",
        *whose("refused"),
        sa.Column("path", sa.String(200), nullable=False),
        sa.Column("status", sa.SmallInteger(), nullable=False),
        sa.Column("page", sa.Text(), nullable=False),
    )
    op.create_index("ix_refused_path", "refused", ["path"])
    for name in ("audit", "refused"):
        for column in ("shop_id", "staff_id"):
            op.create_index(f"ix_{name}_{column}", name, [column])
    op.create_table(
        "finds",
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("word", bytewise(40), nullable=False),
        sa.Column("kind", sa.String(8), nullable=False),
        sa.Column("row_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("shop_id", "word", "kind", "row_id", name="pk_finds"),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name="fk_finds_shop_id"),
    )
    # The word stands in it too, so that what a row is found by is read without the table.
    by_row = ["shop_id", "kind", "row_id", "word"]
    op.create_index("ix_finds_shop_id_kind_row_id_word", "finds", by_row)


def whose(name: str) -> list[Any]:
    return [
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("staff_id", sa.Integer(), nullable=False),
        sa.Column("made", TIME, nullable=False),
        sa.PrimaryKeyConstraint("id", name=f"pk_{name}"),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name=f"fk_{name}_shop_id"),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=f"fk_{name}_staff_id"),
    ]


def downgrade() -> None:
    for table, *columns in INDEXES:
        op.drop_index(f"ix_{table}_{'_'.join(columns)}", table)
    for name in ("audit", "refused", "finds"):
        op.drop_table(name)
    for name, *columns in WIDER:
        for column in columns:
            op.drop_column(name, column)


WIDER = (
    ("jobs", "revision", "work_order", "parts"),
    ("trailers", "plate", "vin", "touched", "sort_name", "merged_into"),
    ("customers", "sort_name", "merged_into"),
    ("shops", "zone"),
)
