"""Shops, their staff, customers, trailers, jobs, due checks, links, notes, photos and mail."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    the_shop()
    the_work()
    what_comes_back()
    records_of_a_shop()


def the_shop() -> None:
    op.create_table(
        "shops",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("name", sa.String(80), nullable=False),
        sa.Column("phone", sa.String(40), nullable=False),
        sa.Column("email", sa.String(254), nullable=False),
        sa.Column("place", sa.String(200), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_shops"),
    )
    op.create_table(
        "staff",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("login", sa.String(80), nullable=False),
        sa.Column("name", sa.String(80), nullable=False),
        sa.Column("password_hash", sa.String(256), nullable=False),
        sa.Column("epoch", sa.Integer(), nullable=False),
        sa.Column("gone", sa.String(32)),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name="fk_staff_shop_id"),
        sa.PrimaryKeyConstraint("id", name="pk_staff"),
        sa.UniqueConstraint("login", name="uq_staff_login"),
    )
    op.create_index("ix_staff_shop_id", "staff", ["shop_id"])
    op.create_table(
        "tries",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("what", sa.String(16), nullable=False),
        sa.Column("who", sa.String(64), nullable=False),
        sa.Column("count", sa.Integer(), nullable=False),
        sa.Column("since", sa.String(32), nullable=False),
        sa.Column("until", sa.String(32)),
        sa.PrimaryKeyConstraint("id", name="pk_tries"),
        sa.UniqueConstraint("what", "who", name="uq_tries_what_who"),
    )
    op.create_table(
        "customers",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(80), nullable=False),
        sa.Column("phone", sa.String(40), nullable=False),
        sa.Column("email", sa.String(254), nullable=False),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name="fk_customers_shop_id"),
        sa.PrimaryKeyConstraint("id", name="pk_customers"),
    )
    op.create_index("ix_customers_shop_id", "customers", ["shop_id"])
    op.create_table(
        "trailers",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("customer_id", sa.Integer()),
        sa.Column("name", sa.String(80), nullable=False),
        sa.Column("facts", sa.JSON(), nullable=False),
        sa.Column("record_id", sa.String(36), nullable=False),
        sa.ForeignKeyConstraint(["customer_id"], ["customers.id"], name="fk_trailers_customer_id"),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name="fk_trailers_shop_id"),
        sa.PrimaryKeyConstraint("id", name="pk_trailers"),
        sa.UniqueConstraint("record_id", name="uq_trailers_record_id"),
    )
    op.create_index("ix_trailers_shop_id", "trailers", ["shop_id"])
    op.create_index("ix_trailers_customer_id", "trailers", ["customer_id"])


def the_work() -> None:
    op.create_table(
        "jobs",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("trailer_id", sa.Integer(), nullable=False),
        sa.Column("customer_id", sa.Integer()),
        sa.Column("staff_id", sa.Integer()),
        sa.Column("opened", sa.String(32), nullable=False),
        sa.Column("finished", sa.String(32)),
        sa.Column("work", sa.JSON(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("record_id", sa.String(36)),
        sa.Column("form", sa.String(36), nullable=False),
        sa.ForeignKeyConstraint(["customer_id"], ["customers.id"], name="fk_jobs_customer_id"),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name="fk_jobs_shop_id"),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name="fk_jobs_staff_id"),
        sa.ForeignKeyConstraint(["trailer_id"], ["trailers.id"], name="fk_jobs_trailer_id"),
        sa.PrimaryKeyConstraint("id", name="pk_jobs"),
        sa.UniqueConstraint("form", name="uq_jobs_form"),
    )
    op.create_index("ix_jobs_shop_id", "jobs", ["shop_id"])
    op.create_index("ix_jobs_trailer_id", "jobs", ["trailer_id"])
    op.create_index("ix_jobs_customer_id", "jobs", ["customer_id"])
    op.create_index("ix_jobs_staff_id", "jobs", ["staff_id"])
    op.create_table(
        "due",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("trailer_id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer()),
        sa.Column("check", sa.String(16), nullable=False),
        sa.Column("what", sa.String(200), nullable=False),
        sa.Column("at_km", sa.Float()),
        sa.Column("by", sa.String(32)),
        sa.Column("record_id", sa.String(36)),
        sa.Column("dropped", sa.String(32)),
        sa.ForeignKeyConstraint(["job_id"], ["jobs.id"], name="fk_due_job_id"),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name="fk_due_shop_id"),
        sa.ForeignKeyConstraint(["trailer_id"], ["trailers.id"], name="fk_due_trailer_id"),
        sa.PrimaryKeyConstraint("id", name="pk_due"),
    )
    op.create_index("ix_due_shop_id", "due", ["shop_id"])
    op.create_index("ix_due_trailer_id", "due", ["trailer_id"])
    op.create_index("ix_due_job_id", "due", ["job_id"])
    op.create_table(
        "links",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("trailer_id", sa.Integer(), nullable=False),
        sa.Column("customer_id", sa.Integer()),
        sa.Column("job_id", sa.Integer()),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("token_hash", sa.String(64), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("expires", sa.String(32), nullable=False),
        sa.Column("revoked", sa.String(32)),
        sa.Column("opened", sa.String(32)),
        sa.ForeignKeyConstraint(["customer_id"], ["customers.id"], name="fk_links_customer_id"),
        sa.ForeignKeyConstraint(["job_id"], ["jobs.id"], name="fk_links_job_id"),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name="fk_links_shop_id"),
        sa.ForeignKeyConstraint(["trailer_id"], ["trailers.id"], name="fk_links_trailer_id"),
        sa.PrimaryKeyConstraint("id", name="pk_links"),
        sa.UniqueConstraint("token_hash", name="uq_links_token_hash"),
    )
    op.create_index("ix_links_shop_id", "links", ["shop_id"])
    op.create_index("ix_links_trailer_id", "links", ["trailer_id"])
    op.create_index("ix_links_customer_id", "links", ["customer_id"])
    op.create_index("ix_links_job_id", "links", ["job_id"])


def what_comes_back() -> None:
    op.create_table(
        "notes",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("record_id", sa.String(36), nullable=False),
        sa.Column("staff_id", sa.Integer(), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("decided", sa.Boolean(), nullable=False),
        sa.Column("reply", sa.Text()),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name="fk_notes_shop_id"),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name="fk_notes_staff_id"),
        sa.PrimaryKeyConstraint("id", name="pk_notes"),
    )
    op.create_index("ix_notes_shop_id", "notes", ["shop_id"])
    op.create_index("ix_notes_record_id", "notes", ["record_id"])
    op.create_index("ix_notes_staff_id", "notes", ["staff_id"])
    op.create_table(
        "photos",
        sa.Column("id", sa.String(36), nullable=False),
        sa.Column("record_id", sa.String(36), nullable=False),
        sa.Column("point", sa.String(64), nullable=False),
        sa.Column("place", sa.String(8), nullable=False),
        sa.Column("sha256", sa.String(64), nullable=False),
        sa.Column("received_sha256", sa.String(64), nullable=False),
        sa.Column("length", sa.Integer(), nullable=False),
        sa.Column("width", sa.Integer(), nullable=False),
        sa.Column("height", sa.Integer(), nullable=False),
        sa.Column("shop_id", sa.Integer()),
        sa.Column("device_hash", sa.String(64), nullable=False),
        sa.Column("link_id", sa.Integer()),
        sa.Column("path", sa.String(200), nullable=False),
        sa.Column("received", sa.String(32), nullable=False),
        sa.ForeignKeyConstraint(["link_id"], ["links.id"], name="fk_photos_link_id"),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name="fk_photos_shop_id"),
        sa.PrimaryKeyConstraint("id", name="pk_photos"),
    )
    op.create_index("ix_photos_record_id", "photos", ["record_id"])
    op.create_index("ix_photos_shop_id", "photos", ["shop_id"])
    op.create_index("ix_photos_link_id", "photos", ["link_id"])
    op.create_table(
        "mails",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("shop_id", sa.Integer(), nullable=False),
        sa.Column("record_id", sa.String(36), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("sent", sa.String(32)),
        sa.Column("tries", sa.Integer(), nullable=False),
        sa.Column("next_try", sa.String(32)),
        sa.Column("error", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["shop_id"], ["shops.id"], name="fk_mails_shop_id"),
        sa.PrimaryKeyConstraint("id", name="pk_mails"),
    )
    op.create_index("ix_mails_shop_id", "mails", ["shop_id"])
    op.create_index("ix_mails_record_id", "mails", ["record_id"])
    op.create_table(
        "pairs",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("token_hash", sa.String(64), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("expires", sa.String(32), nullable=False),
        sa.Column("bundle", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_pairs"),
        sa.UniqueConstraint("token_hash", name="uq_pairs_token_hash"),
    )


def records_of_a_shop() -> None:
    refers = {"shop_id": "shops", "trailer_key": "trailers", "link_id": "links", "due_id": "due"}
    with op.batch_alter_table("records") as records:
        for name, table in refers.items():
            records.add_column(sa.Column(name, sa.Integer()))
            records.create_index(f"ix_records_{name}", [name])
            records.create_foreign_key(f"fk_records_{name}", table, [name], ["id"])
