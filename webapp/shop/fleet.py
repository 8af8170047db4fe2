"""The lending desk: every trailer it lends, who has it, and the codes that hang on them."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any, TypedDict

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import ColumnElement, Connection, exists, select
from wtforms import StringField, TelField

from webapp.clock import now
from webapp.errors import Refusal
from webapp.follow_up import lending, link_life
from webapp.follow_up.schedule import WAITING
from webapp.shop import lists, meanwhile, session, stands
from webapp.shop.forms import ButtonForm, Form, given, sent_number, tidy, up_to
from webapp.shop.questions import checks_by_name
from webapp.storage.models import due, links, outings, trailers
from webapp.storage.store import AnyRow, store
from webapp.wording import later, say

blueprint = Blueprint("fleet", __name__, url_prefix="/shop/fleet")
Json = dict[str, Any]
PAGE = 100
SIZES = ("page", "label")


class OutForm(Form):
    name = StringField(later("form-name"), [up_to(80)], filters=[tidy])
    phone = TelField(later("form-phone"), [up_to(40)], filters=[tidy])
    anyway = StringField(later("shop-fleet-anyway"), [up_to(64)])


@blueprint.get("")
def listing() -> ResponseReturnValue:
    return listed(working_code() | is_out(), OutForm())


def listed(which: ColumnElement[bool], form: OutForm, typed: int = 0) -> str:
    """The list of those trailers; ``form`` is filled in for the one of the number ``typed``."""
    shop_id = session.me()["shop_id"]
    with store().reading() as connection:
        rows, more = lent(connection, shop_id, which)
        shown = [row.id for row in rows]
        parts: Json = {
            "open": stands.open_ones(connection, shop_id, shown),
            "states": lending.states(connection, shown),
            "walks": last_checks(connection, shown),
            "due": next_due(connection, shown),
            "without": len(codeless(connection, shop_id)),
        }
    names = checks_by_name()
    return render_template(
        "shop/fleet.html",
        rows=rows,
        more=more,
        names=names,
        button=ButtonForm(),
        form=form,
        typed=typed,
        these=stands.these,
        **parts,
    )


def working_code() -> ColumnElement[bool]:
    """Whether a code of the desk hangs on a row of ``trailers``."""
    moment = now()
    return exists().where(
        links.c.trailer_id == trailers.c.id,
        links.c.kind == "standing",
        links.c.revoked.is_(None),
        links.c.replaced.is_(None),
        links.c.expires > moment,
    )


def is_out() -> ColumnElement[bool]:
    """Whether somebody has the row of ``trailers``, whatever became of the code it went out by."""
    theirs = select(outings.c.what).where(outings.c.trailer_id == trailers.c.id)
    last = theirs.order_by(outings.c.id.desc()).limit(1).scalar_subquery()
    return last == lending.OUT


def lent(
    connection: Connection, shop_id: int, which: ColumnElement[bool]
) -> tuple[list[AnyRow], int | None]:
    """The page of them that the address asks for, by name, and where the next one begins."""
    mine = (trailers.c.shop_id == shop_id, trailers.c.merged_into.is_(None), which)
    wanted, start = select(trailers).where(*mine), lists.after()
    if start is not None:
        wanted = wanted.where(lists.beyond(trailers, trailers.c.sort_name, start, down=False))
    return lists.page(connection, wanted.order_by(trailers.c.sort_name, trailers.c.id), PAGE)


def codeless(connection: Connection, shop_id: int) -> list[AnyRow]:
    """The shop's own trailers, which no customer has, that no code hangs on yet."""
    own = (
        trailers.c.shop_id == shop_id,
        trailers.c.customer_id.is_(None),
        trailers.c.merged_into.is_(None),
    )
    return list(connection.execute(select(trailers).where(*own, ~working_code())).all())


class LastCheck(TypedDict):
    """When a trailer was checked last, and how that ended."""

    made: datetime
    level: str


def last_checks(connection: Connection, shown: list[int]) -> dict[int, LastCheck]:
    """By trailer when its newest check was made, and its level, decided or not."""
    return {
        trailer: {
            "made": datetime.fromtimestamp(row.made_ms / 1000, UTC),
            "level": stands.sign_of([row])["level"],
        }
        for trailer, row in stands.newest(connection, shown).items()
    }


def next_due(connection: Connection, shown: list[int]) -> dict[int, AnyRow]:
    wanted = (
        select(due)
        .where(due.c.trailer_id.in_(shown), *WAITING)
        .order_by(due.c.by.is_(None).desc(), due.c.by.desc(), due.c.id.desc())
    )
    return {row.trailer_id: row for row in connection.execute(wanted)}


# ---- out and back -------------------------------------------------------------------------------


@blueprint.route("/<int:trailer_id>/out", methods=["GET", "POST"])
def out(trailer_id: int) -> ResponseReturnValue:
    form = OutForm()
    if request.method != "POST":  # a refused page that is kept no longer
        with store().reading() as connection:
            trailer = session.kept(connection, trailers, trailer_id)
        return redirect(url_for("fleet.listing") + f"#t{trailer['id']}")
    if not form.validate():
        abort(400, say("form-too-long", most="80"))
    who = {"name": given(form.name), "phone": given(form.phone)}
    with store().writing() as connection:
        trailer, other = lent_by_another(connection, trailer_id)
        listing = url_for("fleet.listing", stored=sent_number() or None)
        here = redirect(f"{listing}#t{trailer['id']}")
        if other is not None and other.name != who["name"]:
            flash(say("shop-fleet-meanwhile", trailer=trailer["name"]))
            return redirect(url_for("fleet.listing") + f"#t{trailer['id']}")
        bad = stands.open_ones(connection, trailer["shop_id"], [trailer["id"]])
        # A tick is for what stood on the page: another may have come in since.
        if stands.covers(given(form.anyway), stands.each(bad.get(trailer["id"]))):
            lending.note(connection, lending.OUT, trailer, who)
            return here
    flash(say("shop-fleet-stays"))
    return listed(trailers.c.id == trailer["id"], form, trailer["id"]), 422


def lent_by_another(connection: Connection, trailer_id: int) -> tuple[Json, AnyRow | None]:
    """The trailer, and how it went out since the page was drawn, where it is still out: that
    another has it by now must not be painted over."""
    trailer = session.kept(connection, trailers, trailer_id)
    meanwhile.held(connection, trailers, trailer["id"])
    state = lending.states(connection, [trailer["id"]]).get(trailer["id"])
    if "last" not in request.values or state is None or state.what != lending.OUT:
        return trailer, None
    return trailer, None if request.values["last"] == str(state.id) else state


@blueprint.post("/<int:trailer_id>/back")
def back(trailer_id: int) -> ResponseReturnValue:
    with store().writing() as connection:
        trailer, other = lent_by_another(connection, trailer_id)
        if other is None:
            lending.note(connection, lending.BACK, trailer)
        else:
            flash(say("shop-fleet-meanwhile", trailer=trailer["name"]))
    return redirect(url_for("fleet.listing") + f"#t{trailer['id']}")


# ---- codes --------------------------------------------------------------------------------------


@blueprint.post("/codes")
def make_codes() -> ResponseReturnValue:
    """A code for each of the shop's own trailers that has none; those that hang stay."""
    with store().writing() as connection:
        for row in codeless(connection, session.me()["shop_id"]):
            link_life.make(connection, dict(row._mapping))
    return redirect(url_for("fleet.codes"))


@blueprint.get("/codes")
def codes() -> ResponseReturnValue:
    """All codes to print: one a page with the cautions, or many small labels."""
    size = request.args.get("size", "label")
    if size not in SIZES:
        raise Refusal(400, "bad_page", "size")
    with store().reading() as connection:
        rows, more = lent(connection, session.me()["shop_id"], working_code())
        found = [with_code(connection, row) for row in rows]
    return render_template("shop/codes.html", codes=found, size=size, sizes=SIZES, more=more)


def with_code(connection: Connection, trailer: Any) -> Json:
    """``{"trailer", "link"}``; no ``link`` where the code cannot be shown again."""
    link = link_life.working(link_life.of_trailer(connection, trailer.id, now()), "standing")
    secret = link_life.secret_of(link) if link else None
    return {"trailer": trailer, "link": link["id"] if link and secret else None}
