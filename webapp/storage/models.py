"""All tables. Times are UTC; what belongs to a shop carries its ``shop_id``."""

from __future__ import annotations

import unicodedata
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import (
    JSON,
    BigInteger,
    Boolean,
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    SmallInteger,
    String,
    Table,
    Text,
    UniqueConstraint,
)
from sqlalchemy.types import TypeDecorator

from webapp.clock import now

metadata = MetaData(
    naming_convention={
        "pk": "pk_%(table_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    }
)


class Time(TypeDecorator[datetime]):
    """A moment with its offset, kept as text in UTC that sorts by time on every database."""

    impl = String(32)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Any) -> str | None:
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("a stored time needs its offset")
        return value.astimezone(UTC).isoformat(timespec="milliseconds")

    def process_result_value(self, value: str | None, dialect: Any) -> datetime | None:
        return None if value is None else datetime.fromisoformat(value)


def table(name: str, *columns: Any) -> Table:
    return Table(name, metadata, *columns)


def key() -> Column[int]:
    return Column("id", Integer, primary_key=True, autoincrement=True)


def refers(name: str, to: str, null: bool = False) -> Column[int]:
    return Column(name, Integer, ForeignKey(f"{to}.id"), nullable=null, index=True)


def text(name: str, length: int, null: bool = False) -> Column[str]:
    return Column(name, String(length), nullable=null)


def time(name: str, null: bool = False) -> Column[datetime]:
    return Column(name, Time, nullable=null)


def optional(name: str, length: int) -> Column[str]:
    """A text that nobody has to give."""
    return Column(name, String(length), nullable=False, default="")


def bytewise(length: int) -> String:
    """Text that sorts by its bytes on every database, so that a range of words is a range."""
    return String(length).with_variant(String(length, collation="C"), "postgresql")


def sort_key(name: str) -> str:
    """A name as lists are sorted by: without case and accents."""
    plain = unicodedata.normalize("NFKD", name)
    return "".join(x for x in plain if not unicodedata.combining(x)).casefold()[:80]


def sorted_name() -> Column[str]:
    def from_name(context: Any) -> str:
        return sort_key(context.get_current_parameters()["name"])

    return Column("sort_name", bytewise(80), nullable=False, default=from_name)


# Append-only. `record` and `verdict` are canonical JSON, so `hash` can be proved at any time.
# `device` is the SHA-256 of the device's id: a stolen copy of the table opens nothing.
# `trailer` is the id that the phone gave; `trailer_key` the shop's trailer that it came in for.
# `made_ms` is when it was made by this server's clock; `clock_s` how many seconds the phone's was
# ahead, where that is more than a little. `shelf` is where a check stands in the inbox
# (follow_up/shelves.py), `far_km` how far it says it was driven. The same record from a second
# phone has no `shop_id`: it is shown once. `level_now` is what rules of a later release say, where
# that is another level than `level` (commands/judge_again.py).
records = table(
    "records",
    Column("seq", Integer, primary_key=True, autoincrement=True),
    text("device", 64),
    text("id", 36),
    text("hash", 64),
    text("kind", 16),
    Column("version", Integer, nullable=False),
    text("trailer", 36, null=True),
    text("level", 16, null=True),
    Column("made_ms", BigInteger, nullable=False),
    Column("received_ms", BigInteger, nullable=False),
    Column("record", Text, nullable=False),
    Column("verdict", Text),
    refers("shop_id", "shops", null=True),
    refers("trailer_key", "trailers", null=True),
    refers("link_id", "links", null=True),
    refers("due_id", "due", null=True),
    Column("shelf", SmallInteger),
    text("phone_level", 16, null=True),
    Column("far_km", Float),
    Column("clock_s", Integer),
    text("level_now", 16, null=True),
    UniqueConstraint("device", "id"),
    Index(None, "device", "trailer"),
    Index("ix_records_shop_id_id", "shop_id", "id", unique=True),
    Index("ix_records_shop_id_shelf_seq", "shop_id", "shelf", "seq"),
    Index("ix_records_trailer_key_made_ms", "trailer_key", "made_ms"),
    Index("ix_records_trailer_key_shelf", "trailer_key", "shelf"),
    Index("ix_records_trailer_key_level_made_ms", "trailer_key", "level", "made_ms"),
)

# `feed_hash` is the SHA-256 of the secret in the address of the shop's calendar, which `feed_seed`
# and the server's key make anew; `zone` the time zone of its pages by its IANA name, empty for that
# of the server; `units` is "us" or "metric", `language` a BCP 47 code; `mail_...` say which news is
# mailed beside *Stop now*.
shops = table(
    "shops",
    key(),
    text("name", 80),
    text("phone", 40),
    text("email", 254),
    text("place", 200),
    text("feed_hash", 64, null=True),
    optional("zone", 40),
    Column("repack_months", Integer),
    Column("repack_miles", Integer),
    text("feed_seed", 32, null=True),
    Column("units", String(8), nullable=False, default="us"),
    Column("language", String(35), nullable=False, default="en"),
    Column("mail_mend", Boolean, nullable=False, default=False),
    Column("mail_overdue", Boolean, nullable=False, default=False),
    Index("ix_shops_feed_hash", "feed_hash", unique=True),
)

# `epoch` goes up when all sessions are to end; `gone` is when somebody left the shop. `code_seed`
# and the server's key make the secret of their one-time codes, null while they use none;
# `code_step` is the step of time whose code was used last: none opens twice.
staff = table(
    "staff",
    key(),
    refers("shop_id", "shops"),
    text("login", 80),
    text("name", 80),
    text("password_hash", 256),
    Column("epoch", Integer, nullable=False),
    time("gone", null=True),
    text("code_seed", 32, null=True),
    Column("code_step", BigInteger),
    UniqueConstraint("login"),
)

# Who is signed in where. `token_hash` is the SHA-256 of what the cookie holds, `browser` what the
# browser says it is, for its owner to know it by.
sessions = table(
    "sessions",
    key(),
    refers("staff_id", "staff"),
    text("token_hash", 64),
    time("made"),
    time("seen"),
    text("browser", 80),
    UniqueConstraint("token_hash"),
)

# Counts what may only be tried so often: `what` is "login", "address" or "link", `who` the SHA-256
# of the login or the address. In the database, so that all processes and hosts count together.
tries = table(
    "tries",
    key(),
    text("what", 16),
    text("who", 64),
    Column("count", Integer, nullable=False),
    time("since"),
    time("until", null=True),
    UniqueConstraint("what", "who"),
)

# `sort_name` is the name as lists are sorted by; `merged_into` the customer that this one turned
# out to be; `language` what they are written to in, empty for the shop's own.
customers = table(
    "customers",
    key(),
    refers("shop_id", "shops"),
    text("name", 80),
    text("phone", 40),
    text("email", 254),
    optional("language", 35),
    sorted_name(),
    Column("merged_into", Integer, index=True),
    Index(None, "shop_id", "sort_name", "id"),
)

# `record_id` is the trailer's UUID, the same on the phone of whoever opens a link for it; `touched`
# is when a job or a check last came to it. What its upkeep stands at (follow_up/upkeep.py), days as
# ISO 8601: bearings `packed`, driven `driven_km` since then, oldest tire `tires_from`, `stored`.
trailers = table(
    "trailers",
    key(),
    refers("shop_id", "shops"),
    refers("customer_id", "customers", null=True),
    text("name", 80),
    Column("facts", JSON, nullable=False),
    text("record_id", 36),
    optional("plate", 16),
    optional("vin", 20),
    sorted_name(),
    Column("touched", Time, nullable=False, default=now),
    Column("merged_into", Integer, index=True),
    text("packed", 10, null=True),
    Column("driven_km", Float),
    text("tires_from", 10, null=True),
    text("stored", 10, null=True),
    UniqueConstraint("record_id"),
    Index(None, "shop_id", "touched", "id"),
    Index(None, "shop_id", "sort_name", "id"),
    *(
        Index(None, "shop_id", name, "id")
        for name in ("packed", "driven_km", "tires_from", "stored")
    ),
)

# `work` lists what was worked on (see follow_up/schedule.py); `record_id` is the bench record;
# `form` is drawn with the empty form, so that a form sent twice makes one job. `revision` counts
# how often the job was stored; `work_order` is the shop's own number, `parts` what was put in
# and by which figures, by the names in webapp/shop/work_record.py.
jobs = table(
    "jobs",
    key(),
    refers("shop_id", "shops"),
    refers("trailer_id", "trailers"),
    refers("customer_id", "customers", null=True),
    refers("staff_id", "staff", null=True),
    time("opened"),
    time("finished", null=True),
    Column("work", JSON, nullable=False),
    Column("note", Text, nullable=False),
    text("record_id", 36, null=True),
    text("form", 36),
    Column("revision", Integer, nullable=False, default=0),
    optional("work_order", 40),
    Column("parts", JSON, nullable=False, default=dict),
    UniqueConstraint("form"),
    Index(None, "shop_id", "finished", "id"),
)

# A check that should come back. `record_id` is the check that settled it; `missed_km` how far the
# trailer was driven by then, once that is past `at_km`; `told` when a mail said that it is overdue.
due = table(
    "due",
    key(),
    refers("shop_id", "shops"),
    refers("trailer_id", "trailers"),
    refers("job_id", "jobs", null=True),
    text("check", 16),
    text("what", 200),
    Column("at_km", Float),
    time("by", null=True),
    text("record_id", 36, null=True),
    time("dropped", null=True),
    Column("missed_km", Float),
    time("told", null=True),
    Index("ix_due_waiting", "shop_id", "record_id", "dropped", "by"),
)

# `kind` is "job" or "standing"; `token_hash` the SHA-256 of the secret, which is not kept: `seed`
# and the server's key make it anew (webapp/security.py).
links = table(
    "links",
    key(),
    refers("shop_id", "shops"),
    refers("trailer_id", "trailers"),
    refers("customer_id", "customers", null=True),
    refers("job_id", "jobs", null=True),
    text("kind", 16),
    text("token_hash", 64),
    text("seed", 32, null=True),
    time("made"),
    time("expires"),
    time("revoked", null=True),
    time("replaced", null=True),
    time("opened", null=True),
    UniqueConstraint("token_hash"),
)

# When a lent trailer went out and came back: `what` is "out" or "back", two events. `name` and
# `phone` of whoever has it are emptied once it is back; `record_id` is the walk it went out with.
outings = table(
    "outings",
    key(),
    refers("shop_id", "shops"),
    refers("trailer_id", "trailers"),
    text("what", 8),
    time("made"),
    text("name", 80),
    text("phone", 40),
    text("record_id", 36, null=True),
)

# What the shop says to a check. `text` stays in the shop, `reply` goes to whoever holds the link.
# `reworded` is when the reply last became another one.
notes = table(
    "notes",
    key(),
    refers("shop_id", "shops"),
    Column("record_id", String(36), nullable=False, index=True),
    refers("staff_id", "staff"),
    time("made"),
    Column("text", Text, nullable=False),
    Column("decided", Boolean, nullable=False),
    Column("reply", Text),
    time("reworded", null=True),
)

# `sha256` and `length` are of the file that is kept, `path` is below the data folder. A photo from
# the bench has a `job_id`, and the job's `form` as its `record_id`; `removed` is when somebody took
# it away, which can be undone for a while.
photos = table(
    "photos",
    Column("id", String(36), primary_key=True),
    Column("record_id", String(36), nullable=False, index=True),
    text("point", 64),
    text("place", 8),
    text("sha256", 64),
    text("received_sha256", 64),
    Column("length", Integer, nullable=False),
    Column("width", Integer, nullable=False),
    Column("height", Integer, nullable=False),
    refers("shop_id", "shops", null=True),
    text("device_hash", 64),
    refers("link_id", "links", null=True),
    text("path", 200),
    time("received"),
    refers("job_id", "jobs", null=True),
    time("removed", null=True),
)

# `kind` is "stop" for one *Stop now*, "held" for one that nobody is to drive on with yet; "stops"
# and "helds" for more of them from one link, "mend" and "overdue" gather what came since the last
# mail of their kind, and name no record, or that of their link.
mails = table(
    "mails",
    key(),
    refers("shop_id", "shops"),
    Column("record_id", String(36), nullable=False, index=True),
    time("made"),
    time("sent", null=True),
    Column("tries", Integer, nullable=False),
    time("next_try", null=True),
    Column("error", Text, nullable=False),
    Column("kind", String(8), nullable=False, default="stop"),
)
Index(
    "ix_mails_unsent",
    mails.c.next_try,
    sqlite_where=mails.c.sent.is_(None),
    postgresql_where=mails.c.sent.is_(None),
)

# Records on their way from one phone to another, for a day.
pairs = table(
    "pairs",
    key(),
    text("token_hash", 64),
    time("made"),
    time("expires"),
    Column("bundle", Text, nullable=False),
    UniqueConstraint("token_hash"),
)

# What was deleted for good, as the SHA-256 of its device and id: a phone that still has it is not
# asked to send it again (webapp/api/held.py).
forgotten = table("forgotten", Column("key", String(64), primary_key=True))

# Rules and words as phones got them: canonical JSON, so that each can be proved by its hash.
rulebooks = table(
    "rulebooks",
    Column("hash", String(64), primary_key=True),
    Column("rules", Text, nullable=False),
)
words = table(
    "words",
    Column("seq", Integer, primary_key=True, autoincrement=True),
    text("hash", 64),
    Column("rulebook", String(64), ForeignKey("rulebooks.hash"), nullable=False),
    text("language", 16),
    Column("text", Text, nullable=False),
    UniqueConstraint("rulebook", "hash"),
)

# Who did what and when. `row_key` names the row of the table `kind`; `before` and `after` hold what
# it takes to show the deed and to undo it.
audit = table(
    "audit",
    key(),
    refers("shop_id", "shops"),
    refers("staff_id", "staff"),
    time("made"),
    text("kind", 16),
    text("row_key", 36),
    text("did", 24),
    Column("before", JSON),
    Column("after", JSON),
    Index(None, "shop_id", "kind", "row_key", "id"),
    Index(None, "shop_id", "id"),
)

# Pages that refused a form, as they were answered: what was typed is in them, nowhere else.
refused = table(
    "refused",
    key(),
    refers("shop_id", "shops"),
    refers("staff_id", "staff"),
    time("made"),
    Column("path", String(200), nullable=False, index=True),
    Column("status", SmallInteger, nullable=False),
    Column("page", Text, nullable=False),
)

# A file of customers or trailers on its way in: `text` is its rows until they are taken in, `added`
# the ids of what then came in, by table.
intakes = table(
    "intakes",
    key(),
    refers("shop_id", "shops"),
    refers("staff_id", "staff"),
    time("made"),
    text("kind", 16),
    text("name", 80),
    Column("text", Text, nullable=False),
    time("taken", null=True),
    time("undone", null=True),
    Column("added", JSON, nullable=False, default=dict),
)

# When something was last done to the whole store, such as "backup".
stamps = table(
    "stamps",
    Column("name", String(16), primary_key=True),
    time("made"),
)

# How far the kept checks have been judged again by which rules (commands/judge_again.py).
judgings = table(
    "judgings",
    Column("rules", String(64), primary_key=True),
    Column("seq", Integer, nullable=False),
)

# What is found by which word: `kind` is "trailer", "customer" or "job".
finds = table(
    "finds",
    Column("shop_id", Integer, ForeignKey("shops.id"), primary_key=True),
    Column("kind", String(8), primary_key=True),
    Column("word", bytewise(40), primary_key=True),
    Column("row_id", Integer, primary_key=True, autoincrement=False),
    Index(None, "shop_id", "kind", "row_id", "word"),
)
