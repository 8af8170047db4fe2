"""Two rows for one customer, or for one trailer, made one; and taken apart again for a while."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import Column, Connection, Table, select, update

from webapp.follow_up import upkeep
from webapp.shop import find, questions, session, undoing
from webapp.shop.forms import ButtonForm
from webapp.storage import audit, finds
from webapp.storage.models import customers, due, jobs, links, outings, records, trailers
from webapp.storage.store import AnyRow, store
from webapp.wording import say

blueprint = Blueprint("merging", __name__, url_prefix="/shop")
Json = dict[str, Any]
TABLES = {"customer": customers, "trailer": trailers}
# What hangs on a row of each kind: the key of the row that hangs, and what it hangs by.
HANGING: dict[str, tuple[tuple[Column[Any], Column[Any]], ...]] = {
    "customer": (
        (trailers.c.id, trailers.c.customer_id),
        (jobs.c.id, jobs.c.customer_id),
        (links.c.id, links.c.customer_id),
    ),
    "trailer": (
        (jobs.c.id, jobs.c.trailer_id),
        (due.c.id, due.c.trailer_id),
        (links.c.id, links.c.trailer_id),
        (outings.c.id, outings.c.trailer_id),
        (records.c.seq, records.c.trailer_key),
    ),
}
AT_ONCE = 500  # ids in one statement


@blueprint.route("/customers/<int:customer_id>/merge", methods=["GET", "POST"])
def customer(customer_id: int) -> ResponseReturnValue:
    return merge_page("customer", customer_id)


@blueprint.route("/trailers/<int:trailer_id>/merge", methods=["GET", "POST"])
def trailer(trailer_id: int) -> ResponseReturnValue:
    return merge_page("trailer", trailer_id)


@blueprint.post("/customers/<int:customer_id>/part")
def part_customer(customer_id: int) -> ResponseReturnValue:
    return part("customer", customer_id)


@blueprint.post("/trailers/<int:trailer_id>/part")
def part_trailer(trailer_id: int) -> ResponseReturnValue:
    return part("trailer", trailer_id)


def has_twin(connection: Connection, trailer: Json) -> bool:
    """Whether another of the shop's trailers has its name and owner, its plate or its VIN."""
    others = select(trailers.c.id).where(
        trailers.c.shop_id == trailer["shop_id"],
        trailers.c.id != trailer["id"],
        trailers.c.merged_into.is_(None),
    )
    alike = [(trailers.c.sort_name == trailer["sort_name"])]
    alike += [trailers.c.customer_id == trailer["customer_id"], trailers.c.customer_id.is_not(None)]
    tried = [others.where(*alike)]
    for name in ("plate", "vin"):
        if trailer[name]:  # few are found by it, where all would have to be read to compare it
            ids, _ = find.found_of(connection, trailer["shop_id"], "trailer", trailer[name])
            tried.append(others.where(trailers.c.id.in_(ids), trailers.c[name] == trailer[name]))
    return any(connection.execute(wanted.limit(1)).first() for wanted in tried)


def merge_page(kind: str, row_id: int) -> ResponseReturnValue:
    """Pick which one of the shop's rows this one is."""
    with store().reading() as connection:
        row = session.own(connection, TABLES[kind], row_id)
        text = request.args.get("q", row["name"])[:80]
        ids, more = find.found_of(connection, row["shop_id"], kind, text)
        found = find.ROWS[kind](connection, [one for one in ids if one != row_id])
    form = ButtonForm()
    if form.validate_on_submit():
        into = request.form.get("into", "")
        if not questions.ID.fullmatch(into) or int(into) == row_id:
            abort(400, say("error-merge_into"))
        merge(kind, row_id, int(into))
        flash(say("shop-merged"))
        return redirect(page_of(kind, int(into)))
    told = {"kind": kind, "row": row, "text": text, "found": found, "more": more}
    return render_template("shop/merge.html", **told, back=page_of(kind, row_id), form=form)


def page_of(kind: str, row_id: int) -> str:
    if kind == "customer":
        return url_for("customers.show", customer_id=row_id)
    return url_for("trailers.show", trailer_id=row_id)


def merge(kind: str, gone_id: int, kept_id: int) -> None:
    """All that hangs on the one hangs on the other from now on; the deed knows what was moved."""
    table, me = TABLES[kind], session.me()
    with store().writing() as connection:
        gone, kept = (session.own(connection, table, one) for one in (gone_id, kept_id))
        if gone["merged_into"] is not None or kept["merged_into"] is not None:
            abort(400, say("error-merge_into"))
        moved = {}
        for key, by in HANGING[kind]:
            there = connection.execute(select(key).where(by == gone_id)).scalars().all()
            moved[key.table.name] = list(there)
            move(connection, key, by, moved[key.table.name], gone_id, kept_id)
        here = update(table).where(table.c.id == gone_id)
        connection.execute(here.values(merged_into=kept_id))
        before = {"gone": gone_id, "name": gone["name"], "moved": moved}
        audit.write(connection, me, kind, kept_id, "merged", before)
        audit.write(connection, me, kind, gone_id, "gone", None, {"into": kept_id})
        renew(connection, kind, gone_id, kept_id)


def move(
    connection: Connection, key: Column[Any], by: Column[Any], ids: list[int], at: int, to: int
) -> None:
    """Those of ``ids`` that hang on the row ``at``; what has gone on from there stays."""
    for start in range(0, len(ids), AT_ONCE):
        some = (key.in_(ids[start : start + AT_ONCE]), by == at)
        connection.execute(update(key.table).where(*some).values({by.name: to}))


def renew(connection: Connection, kind: str, *row_ids: int) -> None:
    each = finds.renew_customer if kind == "customer" else upkeep.renew_trailer
    for row_id in row_ids:
        each(connection, row_id)


def merged(connection: Connection, table: Table, row_id: int) -> list[AnyRow]:
    """The rows that were found to be this one."""
    return list(connection.execute(select(table).where(table.c.merged_into == row_id)).all())


def part(kind: str, gone_id: int) -> ResponseReturnValue:
    """What was moved goes back, with what has come since on a link or for a due check that was.

    What else came since stays where it came.
    """
    table, me = TABLES[kind], session.me()
    with store().writing() as connection:
        gone = session.own(connection, table, gone_id)
        kept_id = gone["merged_into"]
        deeds = audit.of(connection, me["shop_id"], kind, kept_id or 0)
        deed = next((x for x in deeds if (x["before"] or {}).get("gone") == gone_id), None)
        undoing.unless_late(None if kept_id is None or deed is None else deed["made"])
        assert deed is not None
        at = session.kept(connection, table, kept_id)["id"]  # it may have been merged itself
        moved = deed["before"]["moved"]
        if kind == "trailer":
            moved = moved | {
                "records": moved.get("records", []) + came_since(connection, moved, at)
            }
        for key, by in HANGING[kind]:
            move(connection, key, by, moved.get(key.table.name, []), at, gone_id)
        here = update(table).where(table.c.id == gone_id)
        connection.execute(here.values(merged_into=None))
        audit.write(connection, me, kind, kept_id, "parted")
        renew(connection, kind, gone_id, at)
    flash(say("shop-undone"))
    return redirect(page_of(kind, gone_id))


def came_since(connection: Connection, moved: Json, at: int) -> list[int]:
    """Records of the trailer ``at`` whose link, or whose due check, is one of those moved."""
    found: set[int] = set()
    for column, name in ((records.c.link_id, "links"), (records.c.due_id, "due")):
        ids = moved.get(name, [])
        for start in range(0, len(ids), AT_ONCE):
            some = (column.in_(ids[start : start + AT_ONCE]), records.c.trailer_key == at)
            found |= set(connection.execute(select(records.c.seq).where(*some)).scalars())
    return sorted(found)
