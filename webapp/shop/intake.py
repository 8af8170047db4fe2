"""Customers and trailers from a spreadsheet: looked at first, taken in, and undone for a while."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Response, abort, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import Connection, delete, exists, select, update

from webapp import sizes
from webapp.clock import now
from webapp.shop import session, spreadsheet, taking_in, undoing
from webapp.shop.forms import ButtonForm, tidy
from webapp.shop.tables import written
from webapp.storage import audit
from webapp.storage.models import (
    customers,
    due,
    finds,
    intakes,
    jobs,
    links,
    outings,
    records,
    trailers,
)
from webapp.storage.store import store
from webapp.wording import say

blueprint = Blueprint("intake", __name__, url_prefix="/shop/take-in")
Json = dict[str, Any]
SHOWN = 50  # rows without anything to say about


@blueprint.route("", methods=["GET", "POST"])
def listing() -> ResponseReturnValue:
    """Choose a file; what was taken in before, to be undone."""
    form, wrong = ButtonForm(), ""
    if form.validate_on_submit():
        try:
            return redirect(url_for("intake.show", intake_id=keep_file()))
        except spreadsheet.Unreadable as error:
            wrong = str(error)
    with store().reading() as connection:
        mine = (intakes.c.shop_id == session.me()["shop_id"], intakes.c.made > now() - undoing.FOR)
        rows = connection.execute(select(intakes).where(*mine).order_by(intakes.c.id.desc())).all()
    kind = request.form.get("kind", taking_in.KINDS[0])
    parts = {"kinds": taking_in.KINDS, "kind": kind, "rows": rows, "wrong": wrong, "form": form}
    return render_template("shop/intake.html", **parts), 422 if wrong else 200


def keep_file() -> int:
    """Keep the file's text until somebody has looked at what it becomes; raises ``Unreadable``."""
    kind, file = request.form.get("kind", ""), request.files.get("file")
    if kind not in taking_in.KINDS:
        raise spreadsheet.Unreadable(say("shop-take-no-kind"))
    if file is None or not file.filename:
        raise spreadsheet.Unreadable(say("shop-take-no-file"))
    text = spreadsheet.decoded(file.stream.read(sizes.TABLE + 1))
    spreadsheet.read(text, taking_in.heads(kind), taking_in.NEEDED[kind])
    me = session.me()
    row = {"shop_id": me["shop_id"], "staff_id": me["id"], "made": now(), "kind": kind}
    row |= {"name": tidy(file.filename)[-80:], "text": text, "added": {}}
    with store().writing() as connection:
        old = (intakes.c.taken.is_(None), intakes.c.made < now() - undoing.FOR)
        connection.execute(delete(intakes).where(*old))
        done = connection.execute(intakes.insert().values(**row))
    return int(done.inserted_primary_key[0])  # type: ignore[index]


@blueprint.get("/<kind>.csv")
def template(kind: str) -> Response:
    """An empty table with the heads that are understood."""
    if kind not in taking_in.KINDS:
        abort(404)
    headers = {"Content-Disposition": f'attachment; filename="twentymile-{kind}-empty.csv"'}
    text = "".join(written([taking_in.template(kind)]))
    return Response(text, content_type="text/csv; charset=utf-8", headers=headers)


@blueprint.route("/<int:intake_id>", methods=["GET", "POST"])
def show(intake_id: int) -> ResponseReturnValue:
    """What each row becomes; then what was taken in."""
    form = ButtonForm()
    if form.validate_on_submit():
        return take(intake_id)
    with store().reading() as connection:
        row = session.own(connection, intakes, intake_id)
        if row["taken"] is not None:
            return done_page(connection, row, form)
        found = looked_at(connection, row)
    return render_template("shop/intake_rows.html", form=form, intake=row, **sorted_out(found))


def looked_at(connection: Connection, row: Json) -> tuple[list[taking_in.Line], list[str]]:
    kind = row["kind"]
    sheet = spreadsheet.read(row["text"], taking_in.heads(kind), taking_in.NEEDED[kind])
    return taking_in.lines(connection, row["shop_id"], kind, sheet), sheet.unknown


def sorted_out(found: tuple[list[taking_in.Line], list[str]]) -> Json:
    """The rows by what is to be said of them."""
    lines, unknown = found
    good = [one for one in lines if not one.wrong and not one.same]
    return {
        "wrong": [one for one in lines if one.wrong],
        "same": [one for one in lines if one.same and not one.wrong],
        "hinted": [one for one in good if one.hint],
        "good": good,
        "shown": SHOWN,
        "unknown": unknown,
    }


def take(intake_id: int) -> ResponseReturnValue:
    """Take in the rows that are right and new, and those that were ticked all the same."""
    me = session.me()
    with store().writing() as connection:
        row = session.own(connection, intakes, intake_id)
        if row["taken"] is not None:  # pressed twice at once
            return redirect(url_for("intake.show", intake_id=intake_id))
        lines, _ = looked_at(connection, row)
        ticked = set(request.form.getlist("all-the-same"))
        taken = [
            one for one in lines if not one.wrong and (not one.same or str(one.number) in ticked)
        ]
        for one in taken:
            if one.same and row["kind"] == "customers":
                one.owner = None
        added = taking_in.store(connection, me["shop_id"], row["kind"], taken)
        values = {"taken": now(), "added": added, "text": ""}
        connection.execute(update(intakes).where(intakes.c.id == intake_id).values(**values))
        counts = {name: len(ids) for name, ids in added.items()}
        audit.write(connection, me, "intake", intake_id, "took_in", None, counts)
    return redirect(url_for("intake.show", intake_id=intake_id))


def done_page(connection: Connection, row: Json, form: ButtonForm) -> ResponseReturnValue:
    deeds = audit.of(connection, row["shop_id"], "intake", row["id"])
    counts = {name: len(ids) for name, ids in row["added"].items()}
    parts = {"intake": row, "counts": counts, "deeds": deeds, "lately": undoing.lately}
    return render_template("shop/intake_done.html", button=form, **parts)


@blueprint.post("/<int:intake_id>/drop")
def drop(intake_id: int) -> ResponseReturnValue:
    """Throw away a file that was looked at and not taken in."""
    with store().writing() as connection:
        session.own(connection, intakes, intake_id)
        connection.execute(
            delete(intakes).where(intakes.c.id == intake_id, intakes.c.taken.is_(None))
        )
    return redirect(url_for("intake.listing"))


# What may have come to a row since it was taken in; then it stays.
TO_TRAILER = (
    *(jobs.c.trailer_id, due.c.trailer_id, links.c.trailer_id, outings.c.trailer_id),
    *(records.c.trailer_key, trailers.c.merged_into),
)
TO_CUSTOMER = (
    *(trailers.c.customer_id, jobs.c.customer_id, links.c.customer_id),
    customers.c.merged_into,
)


@blueprint.post("/<int:intake_id>/undo")
def undo(intake_id: int) -> ResponseReturnValue:
    """Take out again what came in and has nothing of its own since."""
    me = session.me()
    with store().writing() as connection:
        row = session.own(connection, intakes, intake_id)
        if row["undone"] is None:
            undoing.unless_late(row["taken"])
            kept = 0
            for table, by in ((trailers, TO_TRAILER), (customers, TO_CUSTOMER)):
                ids = row["added"].get(table.name, [])
                kept += len(ids) - take_out(connection, me["shop_id"], table, ids, by)
            here = update(intakes).where(intakes.c.id == intake_id)
            connection.execute(here.values(undone=now()))
            audit.write(connection, me, "intake", intake_id, "undid", None, {"kept": kept})
            flash(say("shop-take-kept", count=kept) if kept else say("shop-undone"))
    return redirect(url_for("intake.show", intake_id=intake_id))


def take_out(connection: Connection, shop_id: int, table: Any, ids: list[int], by: Any) -> int:
    """Delete those rows that nothing hangs on and nobody has changed; how many they were."""
    kind, count = table.name.removesuffix("s"), 0
    for row_id in ids:
        hangs = any(
            connection.execute(select(exists().where(column == row_id))).scalar() for column in by
        )
        merged = select(table.c.merged_into).where(table.c.id == row_id)
        gone = connection.execute(merged).scalar() is not None
        if hangs or gone or audit.of(connection, shop_id, kind, row_id):
            continue
        words = (finds.c.shop_id == shop_id, finds.c.kind == kind, finds.c.row_id == row_id)
        connection.execute(delete(finds).where(*words))
        count += connection.execute(delete(table).where(table.c.id == row_id)).rowcount
    return count
