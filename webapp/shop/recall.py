"""Lists of trailers to ask back: to print, as CSV, and as texts to send."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Response, abort, flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import Connection, select, update
from wtforms import IntegerField
from wtforms.validators import NumberRange, Optional

from checks.units import to_unit
from webapp.clock import local_now, now
from webapp.follow_up import recall
from webapp.shop import session
from webapp.shop.files import written
from webapp.shop.forms import Form
from webapp.shop.questions import book
from webapp.storage.models import shops
from webapp.storage.store import store
from webapp.wording import later, say

blueprint = Blueprint("recall", __name__, url_prefix="/shop/recall")
Json = dict[str, Any]


class FigureForm(Form):
    """The shop's own figures; empty for the usual ones."""

    months = IntegerField(
        later("form-repack-months"), [Optional(), NumberRange(1, 60, later("form-repack-odd"))]
    )
    miles = IntegerField(
        later("form-repack-miles"),
        [Optional(), NumberRange(100, 100_000, later("form-repack-odd"))],
    )


@blueprint.route("", methods=["GET", "POST"])
def listing() -> ResponseReturnValue:
    with store().reading() as connection:
        own = own_figures(connection)
        form = FigureForm(data=own)
        if form.validate_on_submit():
            return keep(form)
        lists = {name: lines(connection, name) for name in recall.SEASONS}
    months, miles = figures(own)
    page = render_template(
        "shop/recall.html", lists=lists, form=form, months=months, miles=miles, now=now()
    )
    return page, 422 if form.errors else 200


def keep(form: FigureForm) -> ResponseReturnValue:
    values = {"repack_months": form.months.data, "repack_miles": form.miles.data}
    with store().writing() as connection:
        mine = update(shops).where(shops.c.id == session.me()["shop_id"])
        connection.execute(mine.values(**values))
    flash(say("shop-saved"))
    return redirect(url_for("recall.listing"))


@blueprint.get("/<season>.csv")
def table(season: str) -> Response:
    if season not in recall.SEASONS:
        abort(404)
    with store().reading() as connection:
        rows = [cells(one) for one in lines(connection, season)]
    heads = [say(f"shop-recall-head-{head}") for head in HEADS]
    filed = f'attachment; filename="twentymile-{season}-{now().date().isoformat()}.csv"'
    kind = "text/csv; charset=utf-8"
    whole = "".join(written([heads, *rows]))
    return Response(whole, content_type=kind, headers={"Content-Disposition": filed})


HEADS = ("trailer", "customer", "phone", "since", "miles", "years")


def cells(one: recall.Recalled) -> list[Any]:
    since = one.since.isoformat() if one.since else ""
    far = "" if one.km is None else round(to_unit(one.km, "km", "mi"))
    years = "" if one.age is None else round(one.age, 1)
    return [one.owner.name, one.owner.customer, one.owner.phone, since, far, years]


def lines(connection: Connection, name: str) -> list[recall.Recalled]:
    shop_id, today = session.me()["shop_id"], local_now().date()
    if name == "tires":
        return recall.tires(connection, shop_id, today)
    if name == "stored":
        return recall.stored(connection, shop_id)
    months, miles = figures(own_figures(connection))
    return recall.repack(connection, shop_id, today, months, to_unit(miles, "mi", "km"))


def own_figures(connection: Connection) -> Json:
    mine = select(shops).where(shops.c.id == session.me()["shop_id"])
    row = connection.execute(mine).one()
    return {"months": row.repack_months, "miles": row.repack_miles}


def figures(own: Json) -> tuple[int, float]:
    """Months and miles between two packings: the shop's own first, then those of the rulebook."""
    limits = book()["limits"]
    years = limits["service.years"]["value"]
    return own["months"] or round(years * 12), own["miles"] or limits["service.miles"]["value"]
