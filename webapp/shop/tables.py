"""The shop's tables for a spreadsheet: names in the place of ids, numbers in the shop's units."""

from __future__ import annotations

import csv
import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import UTC, date, datetime
from io import StringIO
from typing import Any

from sqlalchemy import Select, case, func, or_, select

from webapp.clock import made_at, now
from webapp.follow_up import link_life, undecided
from webapp.follow_up.schedule import LEAVING, WORK, what_due, work_done
from webapp.follow_up.shelves import DONE, HELD, SHELVES, level_of
from webapp.follow_up.verdicts import Finding, as_seen, is_held
from webapp.shop import inbox, measures, questions, reading, release, stands, times, work_record
from webapp.storage.models import customers, due, jobs, links, notes, photos, records, trailers
from webapp.storage.models import staff as people
from webapp.storage.store import store
from webapp.wording import place_text, said, say

Json = dict[str, Any]
Row = Mapping[Any, Any]
Cell = str | int | float | date | None  # `datetime` is a `date`
# What is selected, the column that counts the rows, the head, and a row's cells.
Table = tuple[Select[Any], Any, list[str], Callable[[Any], list[Cell]]]
SLICE = 1000
# Spreadsheets take what begins like this for a formula, as OWASP's page on CSV injection names it.
FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
WHOSE = (trailers.c.name.label("trailer"), customers.c.name.label("customer"))


# ---- as a file ----------------------------------------------------------------------------------


def written(rows: Iterable[Iterable[Any]]) -> Iterator[str]:
    """CSV as RFC 4180 has it; the mark in front tells spreadsheets that it is UTF-8."""
    yield "\ufeff"
    for row in rows:
        line = StringIO()
        csv.writer(line).writerow([guarded(cell) for cell in row])
        yield line.getvalue()


def guarded(cell: Cell) -> Cell:
    """Text that a spreadsheet would take for a formula gets an apostrophe in front."""
    if isinstance(cell, dict | list):
        cell = json.dumps(cell, ensure_ascii=False, sort_keys=True)
    if isinstance(cell, datetime):
        return times.here(cell).isoformat(timespec="seconds")
    if isinstance(cell, str) and cell.startswith(FORMULA):
        return "'" + cell
    return cell


def rows(name: str, shop_id: int) -> Iterator[Sequence[Cell]]:
    """A table of the shop's with its head; KeyError where there is none of the name."""
    wanted, key, head, cells = TABLES[name](shop_id)
    wanted = wanted.add_columns(key.label("last"))
    yield head
    last: Any = None
    while True:
        part = wanted.order_by(key).limit(SLICE)
        with store().reading() as connection:
            more = part if last is None else part.where(key > last)
            found = connection.execute(more).mappings().all()
        yield from (cells(row) for row in found)
        if len(found) < SLICE:
            return
        last = found[-1]["last"]


# ---- the tables ---------------------------------------------------------------------------------


def trailer_table(shop_id: int) -> Table:
    asked = [one["name"] for one in questions.profile()]
    head = ["trailer", "plate", "vin", "customer", "phone", "email", "touched"]
    waiting = or_(records.c.shelf.in_(undecided.BAD), undecided.at_work())
    theirs = (records.c.trailer_key == trailers.c.id, waiting)
    # The record of a bench that is still at work is on no shelf yet.
    bench = case((records.c.level == "stop", SHELVES["stop"]), else_=SHELVES["mend"])
    stood = func.coalesce(records.c.shelf, bench)
    worst = select(func.min(stood)).where(*theirs).scalar_subquery()
    many = select(func.count()).where(*theirs).scalar_subquery()
    wanted = (
        select(trailers, customers.c.name.label("customer"), customers.c.phone, customers.c.email)
        .add_columns(worst.label("worst"), many.label("undecided"))
        .outerjoin(customers, customers.c.id == trailers.c.customer_id)
        .where(trailers.c.shop_id == shop_id, trailers.c.merged_into.is_(None))
    )

    def cells(row: Row) -> list[Cell]:
        own = [row["name"], *(row[name] for name in head[1:])]
        worst = row["worst"]
        waits = "" if worst is None else stands.level_text(level_of(worst), worst == HELD)
        if row["undecided"] > 1:
            waits += f"; {say('shop-open-more', count=row['undecided'] - 1)}"
        return [*own, waits, *(fact_cell(name, row["facts"]) for name in asked)]

    return wanted, trailers.c.id, [*head, "not_decided", *(fact_head(n) for n in asked)], cells


def fact_head(name: str) -> str:
    """What a question's column is called: its name, with the unit where there is one."""
    fact = questions.book()["facts"][name]
    if fact["kind"] != "number" or fact["unit"] == "count":
        return name
    return f"{name}_{measures.fact_unit(fact)}"


def fact_cell(name: str, facts: Json) -> Cell:
    """An answer about the trailer: a number in the shop's unit, or the words of a choice."""
    value: Cell = facts.get(name)
    fact = questions.book()["facts"][name]
    if value is None:
        return ""
    if fact["kind"] == "choice":
        return said(f"fact-{name}.choice-{value}", str(value))
    if fact["kind"] != "number" or fact["unit"] == "count":
        return value
    worth = reading.worth(value, fact["unit"])
    if worth is None:
        return value
    return measures.plain(worth, fact["unit"], measures.fact_unit(fact))


def customer_table(shop_id: int) -> Table:
    mine = (customers.c.shop_id == shop_id, customers.c.merged_into.is_(None))
    wanted = select(customers).where(*mine)
    head = ["customer", "phone", "email"]
    return wanted, customers.c.id, head, lambda row: [row["name"], row["phone"], row["email"]]


def job_table(shop_id: int) -> Table:
    head = ["trailer", "customer", "opened", "finished", "who", "work", "leaves", "note"]
    head += ["work_order", *work_record.PARTS]
    wanted = (
        select(jobs, *WHOSE, people.c.name.label("who"))
        .join(trailers, trailers.c.id == jobs.c.trailer_id)
        .outerjoin(customers, customers.c.id == jobs.c.customer_id)
        .outerjoin(people, people.c.id == jobs.c.staff_id)
        .where(jobs.c.shop_id == shop_id)
    )

    def cells(row: Row) -> list[Cell]:
        told = {"work": work_done(row["work"], WORK), "leaves": work_done(row["work"], LEAVING)}
        known = dict(row) | {name: "; ".join(texts) for name, texts in told.items()}
        return [(known | row["parts"]).get(name, "") for name in head]

    return wanted, jobs.c.id, head, cells


def due_table(shop_id: int) -> Table:
    unit = measures.distance_unit()
    head = ["trailer", "customer", "what", "check", f"at_{unit}", "by", "done", "dropped"]
    wanted = (
        select(due, *WHOSE)
        .join(trailers, trailers.c.id == due.c.trailer_id)
        .outerjoin(customers, customers.c.id == trailers.c.customer_id)
        .where(due.c.shop_id == shop_id)
    )

    def cells(row: Row) -> list[Cell]:
        name = said(f"check-{row['check']}", row["check"])
        by = row["by"] and times.here(row["by"]).date()
        at, driven = (far_cell(row[key]) for key in ("at_km", "missed_km"))
        texts = [row["trailer"], row["customer"], what_due(row["what"]), name, at, by]
        return [*texts, yes(row["record_id"]), row["dropped"], driven]

    return wanted, due.c.id, [*head, f"driven_{unit}"], cells


def far_cell(km: float | None) -> Cell:
    return "" if km is None else measures.plain(km, "km")


def yes(value: Any) -> str:
    return say("shop-table-yes") if value else ""


def link_table(shop_id: int) -> Table:
    head = ["trailer", "customer", "for", "made", "expires", "opened", "state"]
    wanted = (
        select(links, *WHOSE)
        .join(trailers, trailers.c.id == links.c.trailer_id)
        .outerjoin(customers, customers.c.id == links.c.customer_id)
        .where(links.c.shop_id == shop_id)
    )

    def cells(row: Row) -> list[Cell]:
        why = say("shop-link-desk") if row["kind"] == "standing" else say("shop-link-job")
        state = say(f"shop-link-state-{link_life.state(row, now())}")
        return [row["trailer"], row["customer"], why, *(row[n] for n in head[3:6]), state]

    return wanted, links.c.id, head, cells


def note_table(shop_id: int) -> Table:
    head = ["trailer", "check", "checked", "made", "who", "text", "reply", "decided"]
    of = (records.c.id == notes.c.record_id) & (records.c.shop_id == notes.c.shop_id)
    told = (*RECORD, trailers.c.name.label("trailer"), people.c.name.label("who"))
    wanted = (
        select(notes, *told)
        .join(people, people.c.id == notes.c.staff_id)
        .outerjoin(records, of)
        .outerjoin(trailers, trailers.c.id == records.c.trailer_key)
        .where(notes.c.shop_id == shop_id)
    )

    def cells(row: Row) -> list[Cell]:
        texts = [row["made"], row["who"], row["text"], row["reply"], yes(row["decided"])]
        return [row["trailer"], *check_of(row), *texts]

    return wanted, notes.c.id, head, cells


RECORD = (records.c.record, records.c.made_ms, records.c.clock_s)


def check_of(row: Row) -> tuple[str, datetime | str]:
    """The name of a record's check and when it was made; both empty where there is none."""
    if row["record"] is None:
        return "", ""
    one = json.loads(row["record"])
    check = one["body"].get("check", "")
    return said(f"check-{check}", check), made_at(one["made"], row["made_ms"], row["clock_s"])


def photo_table(shop_id: int) -> Table:
    head = ["photo", "trailer", "check", "checked", "job_opened", "point", "place", "received"]
    head += ["width", "height", "length", "sha256"]
    sent = (records.c.shop_id == photos.c.shop_id) & (records.c.device == photos.c.device_hash)
    whose = (trailers.c.id == records.c.trailer_key) | (trailers.c.id == jobs.c.trailer_id)
    wanted = (
        select(photos, *RECORD, trailers.c.name.label("trailer"), jobs.c.opened)
        .outerjoin(records, sent & (records.c.id == photos.c.record_id))
        .outerjoin(jobs, jobs.c.id == photos.c.job_id)
        .outerjoin(trailers, whose)
        .where(photos.c.shop_id == shop_id)
    )

    def cells(row: Row) -> list[Cell]:
        point = said(f"point-{row['point']}", row["point"])
        where = place_text(row["place"], questions.MOST_AXLES)
        told = [row["id"], row["trailer"], *check_of(row), row["opened"], point, where]
        return [*told, *(row[name] for name in head[7:])]

    return wanted, photos.c.id, head, cells


CHECK_HEAD = (
    *("id", "made", "received", "check", "trailer", "customer", "by", "level", "phone_level"),
    *("decided", "answered", "asked", "findings", "answers", "rulebook", "sha256", "held"),
)


def check_table(shop_id: int) -> Table:
    mine = (records.c.shop_id == shop_id, records.c.kind == "check")
    return inbox.check_rows().where(*mine), records.c.seq, list(CHECK_HEAD), check_cells


def check_cells(row: Row) -> list[Cell]:
    one, verdict = json.loads(row["record"]), json.loads(row["verdict"])
    body = one["body"]
    axles, by = reading.axles_of(body), body.get("by") or {}
    coverage = reading.coverage_of(verdict.get("coverage")) or {}
    found = [finding_text(one, axles) for one in as_seen(verdict)["findings"]]
    given = reading.table_answers(body, axles, release.today())
    received = datetime.fromtimestamp(row["received_ms"] / 1000, UTC)
    made = made_at(one["made"], row["made_ms"], row["clock_s"])
    return [
        *(row["id"], made, received, said(f"check-{body['check']}", body["check"])),
        *(row["trailer_name"], row["customer"], by.get("name", "")),
        *(said(f"level-{row[key]}", "") for key in ("level", "phone_level")),
        yes(row["shelf"] in DONE),
        *(coverage.get("answered"), coverage.get("asked"), "; ".join(found), "; ".join(given)),
        *(body["rulebook"], row["hash"], say("shop-held") if is_held(row) else ""),
    ]


def finding_text(one: Finding, axles: int) -> str:
    entry = reading.worded(one, axles)
    where = f" ({entry['where']})" if entry["where"] else ""
    return f"{said('level-' + one['level'], '')}: {entry['title']}{where}"


TABLES: dict[str, Callable[[int], Table]] = {
    "checks": check_table,
    "trailers": trailer_table,
    "customers": customer_table,
    "jobs": job_table,
    "due": due_table,
    "links": link_table,
    "notes": note_table,
    "photos": photo_table,
}
