"""One check: as the customer saw it, with the working, photos, and what the shop says to it."""

from __future__ import annotations

import json
from datetime import timedelta
from typing import Any

from flask import Blueprint, Response, abort, flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import Connection, select, update
from wtforms import BooleanField, TextAreaField

from webapp.clock import now
from webapp.follow_up import undecided
from webapp.follow_up.shelves import DECIDED, DONE, SHELVES, STRAY, TRAY, TRAY_DECIDED
from webapp.follow_up.verdicts import shelf_for
from webapp.shop import meanwhile, reading, session, stands
from webapp.shop.forms import ButtonForm, Form, given, lines, sent_number, up_to
from webapp.shop.inbox import check_rows
from webapp.shop.print.check import pdf as drawn_pdf
from webapp.shop.print.check import photo_name
from webapp.shop.questions import checks_by_name
from webapp.storage import audit, photo_files
from webapp.storage.models import notes, records, staff
from webapp.storage.store import AnyRow, store
from webapp.wording import later, place_text, say, speaking

blueprint = Blueprint("checks", __name__, url_prefix="/shop/checks")
Json = dict[str, Any]


MOST = 2000  # characters of a note
AGAIN = timedelta(minutes=2)  # the same words so soon are the same form sent twice


class SaidForm(Form):
    """What the shop says to a check: to itself, to the customer, or both."""

    text = TextAreaField(later("form-note-shop"), [up_to(MOST)], filters=[lines])
    reply = TextAreaField(later("form-note-reply"), [up_to(MOST)], filters=[lines])

    def validate(self, extra_validators: Any = None) -> bool:
        good: bool = super().validate(extra_validators)
        if not given(self.text) and not given(self.reply):
            self.text.errors = [say("form-note-empty")]
            return False
        return good


class NoteForm(SaidForm):
    decided = BooleanField(later("form-note-decided"))


@blueprint.route("/<uuid:record>", methods=["GET", "POST"])
def show(record: Any) -> ResponseReturnValue:
    form, status = NoteForm(), 200
    with store().reading() as connection:
        row = own_check(connection, str(record))
        check = reading.told(row, connection)
        parts = {
            "notes": notes_of(connection, row),
            "photos": pictures_of(connection, row),
            "deeds": audit.of(connection, row["shop_id"], "check", row["id"]),
            "open": open_of(connection, row),
        }
    if form.validate_on_submit():
        shelf = write_note(row, form)
        flash(say("shop-note-kept-reply" if form.reply.data else "shop-note-kept"))
        if shelf in (*undecided.BAD, TRAY):
            flash(say("shop-note-still-open"))
        return redirect(url_for("checks.show", record=record, stored=sent_number() or None))
    if form.errors:
        status = 422
    page = render_template(
        "shop/check.html",
        **parts,
        row=row,
        check=check,
        form=form,
        button=ButtonForm(),
        decided=row["shelf"] in DONE,
        names=checks_by_name() | {"bench": say("check-bench")},
        point_words=photo_name,
        place_words=lambda one, check: place_text(one["place"], check["axles"]),
    )
    return page, status


@blueprint.post("/<uuid:record>/open")
def open_again(record: Any) -> ResponseReturnValue:
    """A check that was decided too early goes back to its shelf."""
    with store().writing() as connection:
        row = own_check(connection, str(record))
        if row["shelf"] in DONE:
            tray = row["shelf"] == TRAY_DECIDED
            shelf = TRAY if tray else shelf_for(row, row["phone_level"])
            here = update(records).where(records.c.seq == row["seq"])
            connection.execute(here.values(shelf=shelf))
            audit.write(connection, session.me(), "check", row["id"], "reopened")
    return redirect(url_for("checks.show", record=record))


@blueprint.route("/notes/<int:note_id>", methods=["GET", "POST"])
def reword(note_id: int) -> ResponseReturnValue:
    """Correct what was said; what stood there before stays in the history of the check."""
    with store().reading() as connection:
        note = session.own(connection, notes, note_id)
        done = audit.of(connection, note["shop_id"], "check", note["record_id"])
    deeds = [one for one in done if one["did"] == "reworded"]
    form, clash = SaidForm(data=said_in(note)), None
    if form.validate_on_submit():
        try:
            keep_reworded(note_id, form)
        except meanwhile.Clash as other:
            clash = other
            form.process(data=clash.both)
        else:
            stored = sent_number() or None
            return redirect(url_for("checks.show", record=note["record_id"], stored=stored))
    parts = {"form": form, "note": note} | meanwhile.shown(clash, deeds, said_in(note))
    page = render_template("shop/reword.html", **parts)
    return page, 409 if clash else 422 if form.errors else 200


def said_in(note: Json) -> Json:
    return {name: lines(note[name]) for name in ("text", "reply")}


def keep_reworded(note_id: int, form: SaidForm) -> None:
    """Raises ``meanwhile.Clash``."""
    with store().writing() as connection:
        note = meanwhile.held(connection, notes, note_id)
        before = said_in(note)
        mine = {name: given(form[name]) for name in before}
        said = meanwhile.settled(before, mine, form)
        if said == before:
            return
        values: Json = said | {"reply": said["reply"] or None}
        if said["reply"] != before["reply"]:
            values["reworded"] = now()
        connection.execute(update(notes).where(notes.c.id == note_id).values(**values))
        deed = ("check", note["record_id"], "reworded")
        audit.write(connection, session.me(), *deed, before, said)


@blueprint.get("/<uuid:record>.pdf")
def pdf(record: Any) -> Response:
    """The check as a PDF with its photos, in the customer's language."""
    with store().reading() as connection:
        row = own_check(connection, str(record))
        pictures = pictures_of(connection, row)
        with speaking(row["language"] or ""):
            check = reading.told(row, connection)
            drawn = drawn_pdf(check, row, notes_of(connection, row), pictures, session.me())
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


def open_of(connection: Connection, row: Json) -> stands.Stand | None:
    """All that nobody has decided of the check's trailer."""
    if row["trailer_key"] is None:
        return None
    found = stands.open_ones(connection, row["shop_id"], [row["trailer_key"]])
    return found.get(row["trailer_key"])


def pictures_of(connection: Connection, row: Json) -> list[Json]:
    return photo_files.of_record(connection, row) + photo_files.of_bench(connection, row)


def notes_of(connection: Connection, row: Json) -> list[AnyRow]:
    wanted = (
        select(notes, staff.c.name.label("who"))
        .join(staff, staff.c.id == notes.c.staff_id)
        .where(notes.c.shop_id == row["shop_id"], notes.c.record_id == row["id"])
        .order_by(notes.c.id)
    )
    return list(connection.execute(wanted).all())


def is_bad(row: Json) -> bool:
    """Whether a bench record that is still at work says *Stop now* or *Mend*."""
    return row["level"] is not None and SHELVES[row["level"]] in undecided.BAD


def write_note(row: Json, form: NoteForm) -> int | None:
    """Once, however often the same form comes in; returns the shelf the check then stands on."""
    me, reply = session.me(), given(form.reply) or None
    said = {"text": given(form.text), "decided": form.decided.data, "reply": reply}
    mine = {"shop_id": row["shop_id"], "record_id": row["id"], "staff_id": me["id"]}
    with store().writing() as connection:
        # The row of the check is held, so that of two at once the second sees the first.
        held = select(records.c.shelf).where(records.c.seq == row["seq"]).with_for_update()
        shelf: int | None = connection.execute(held).scalar()
        wanted = select(notes).where(*(notes.c[name] == value for name, value in mine.items()))
        last = connection.execute(wanted.order_by(notes.c.id.desc()).limit(1)).mappings().first()
        if last is not None and now() - last["made"] < AGAIN and said.items() <= dict(last).items():
            return shelf
        connection.execute(notes.insert().values(**mine, **said, made=now()))
        deed = "decided" if form.decided.data else "noted"
        audit.write(connection, me, "check", row["id"], deed)
        if not form.decided.data or (shelf is None and not is_bad(row)):
            return shelf
        here = update(records).where(records.c.seq == row["seq"])
        decided = TRAY_DECIDED if shelf in STRAY else DECIDED
        connection.execute(here.values(shelf=decided))
        return decided
