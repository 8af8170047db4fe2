"""One check: as the customer saw it, with the working, photos, and what the shop says to it."""

from __future__ import annotations

import json
from typing import Any

from flask import Blueprint, Response, abort, flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import Connection, select, update
from wtforms import BooleanField, TextAreaField

from webapp.clock import now
from webapp.follow_up.filing import DECIDED, shelf_of
from webapp.shop import reading, session
from webapp.shop.forms import ButtonForm, Form, given, up_to
from webapp.shop.inbox import check_rows
from webapp.shop.print.check import pdf as drawn_pdf
from webapp.storage import photo_files
from webapp.storage.models import notes, records, staff
from webapp.storage.store import store
from webapp.wording import later, place_text, said, say

blueprint = Blueprint("checks", __name__, url_prefix="/shop/checks")
Json = dict[str, Any]


class NoteForm(Form):
    text = TextAreaField(later("form-note-shop"), [up_to(2000)])
    reply = TextAreaField(later("form-note-reply"), [up_to(2000)])
    decided = BooleanField(later("form-note-decided"))

    def validate(self, extra_validators: Any = None) -> bool:
        good: bool = super().validate(extra_validators)
        if not given(self.text).strip() and not given(self.reply).strip():
            self.text.errors = [say("form-note-empty")]
            return False
        return good


@blueprint.route("/<uuid:record>", methods=["GET", "POST"])
def show(record: Any) -> ResponseReturnValue:
    form, status = NoteForm(), 200
    with store().reading() as connection:
        row = own_check(connection, str(record))
        check = reading.told(row, connection)
        parts = {
            "notes": notes_of(connection, row),
            "photos": photo_files.of_record(connection, row),
        }
    if form.validate_on_submit():
        write_note(row, form)
        flash(say("shop-note-kept-reply" if form.reply.data else "shop-note-kept"))
        return redirect(url_for("checks.show", record=record))
    if form.errors:
        status = 422
    page = render_template(
        "shop/check.html",
        **parts,
        row=row,
        check=check,
        form=form,
        button=ButtonForm(),
        decided=row["shelf"] == DECIDED,
        point_words=lambda one: said(f"point-{one['point']}", one["point"]),
        place_words=lambda one, check: place_text(one["place"], check["axles"]),
    )
    return page, status


@blueprint.post("/<uuid:record>/open")
def open_again(record: Any) -> ResponseReturnValue:
    """A check that was decided too early goes back to its shelf."""
    with store().writing() as connection:
        row = own_check(connection, str(record))
        if row["shelf"] == DECIDED:
            shelf = shelf_of(row["phone_level"], row["level"])
            here = update(records).where(records.c.seq == row["seq"])
            connection.execute(here.values(shelf=shelf))
    return redirect(url_for("checks.show", record=record))


@blueprint.get("/<uuid:record>.pdf")
def pdf(record: Any) -> Response:
    """The check as a PDF, with its photos."""
    with store().reading() as connection:
        row = own_check(connection, str(record))
        check = reading.told(row, connection)
        said, pictures = notes_of(connection, row), photo_files.of_record(connection, row)
    drawn = drawn_pdf(check, row, said, pictures, session.me())
    name = f"check-{json.loads(row['record'])['made'][:10]}-{row['id'][-6:]}.pdf"
    headers = {"Content-Disposition": f'inline; filename="{name}"'}
    return Response(drawn, mimetype="application/pdf", headers=headers)


def own_check(connection: Connection, record_id: str) -> Json:
    """The shop's own check with its trailer and customer; others' are as absent as none."""
    wanted = check_rows().where(
        records.c.shop_id == session.me()["shop_id"],
        records.c.id == record_id,
        records.c.kind == "check",
    )
    row = connection.execute(wanted).first()
    if row is None:
        abort(404)
    return dict(row._mapping)


def notes_of(connection: Connection, row: Json) -> list[Any]:
    wanted = (
        select(notes, staff.c.name.label("who"))
        .join(staff, staff.c.id == notes.c.staff_id)
        .where(notes.c.shop_id == row["shop_id"], notes.c.record_id == row["id"])
        .order_by(notes.c.id)
    )
    return list(connection.execute(wanted).all())


def write_note(row: Json, form: NoteForm) -> None:
    me, reply = session.me(), given(form.reply).strip()
    with store().writing() as connection:
        connection.execute(
            notes.insert().values(
                shop_id=row["shop_id"],
                record_id=row["id"],
                staff_id=me["id"],
                made=now(),
                text=given(form.text).strip(),
                decided=form.decided.data,
                reply=reply or None,
            )
        )
        if form.decided.data and row["shelf"] is not None:
            here = update(records).where(records.c.seq == row["seq"])
            connection.execute(here.values(shelf=DECIDED))
