"""What can be undone for a while: a due check dropped, a link taken back, somebody removed."""

from __future__ import annotations

from datetime import datetime, timedelta

from flask import Blueprint, abort, flash, redirect, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import select, update

from webapp.clock import now
from webapp.shop import session
from webapp.storage import audit
from webapp.storage.models import due, links, staff
from webapp.storage.store import store
from webapp.wording import say

blueprint = Blueprint("undoing", __name__, url_prefix="/shop")
FOR = timedelta(days=30)


def lately(moment: datetime | None) -> bool:
    """Whether what was done then can still be undone."""
    return moment is not None and now() - moment < FOR


def unless_late(moment: datetime | None) -> None:
    if not lately(moment):
        abort(400, say("error-undo_late", days=FOR.days))


@blueprint.post("/due/<int:due_id>/undrop")
def undrop(due_id: int) -> ResponseReturnValue:
    with store().writing() as connection:
        line = session.own(connection, due, due_id)
        unless_late(line["dropped"])
        connection.execute(update(due).where(due.c.id == due_id).values(dropped=None))
        audit.write(connection, session.me(), "due", due_id, "undropped")
    flash(say("shop-undone"))
    return redirect(url_for("trailers.show", trailer_id=line["trailer_id"]))


@blueprint.post("/links/<int:link_id>/unrevoke")
def unrevoke(link_id: int) -> ResponseReturnValue:
    """What came in while it was taken back stays in its tray."""
    with store().writing() as connection:
        link = session.own(connection, links, link_id)
        unless_late(link["revoked"])
        connection.execute(update(links).where(links.c.id == link_id).values(revoked=None))
        audit.write(connection, session.me(), "link", link_id, "unrevoked")
    flash(say("shop-undone"))
    return redirect(url_for("trailers.show", trailer_id=link["trailer_id"]))


@blueprint.post("/staff/<int:staff_id>/unremove")
def unremove(staff_id: int) -> ResponseReturnValue:
    """With the login they had, unless somebody has it now."""
    with store().writing() as connection:
        row = session.own(connection, staff, staff_id)
        unless_late(row["gone"])
        deeds = audit.of(connection, row["shop_id"], "staff", staff_id)
        login = next((one["before"]["login"] for one in deeds if one["did"] == "removed"), None)
        taken = select(staff.c.id).where(staff.c.login == login)
        if login is None or connection.execute(taken).first() is not None:
            abort(400, say("error-undo_login"))
        back = {"gone": None, "login": login}
        connection.execute(update(staff).where(staff.c.id == staff_id).values(**back))
        audit.write(connection, session.me(), "staff", staff_id, "unremoved")
    flash(say("shop-undone"))
    return redirect(url_for("accounts.people"))
