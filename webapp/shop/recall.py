"""Lists of trailers to ask back: to print, as CSV, and as texts to send."""

from __future__ import annotations

import re
from typing import Any, TypedDict

from flask import Blueprint, Response, abort, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import Connection, select, update
from wtforms import IntegerField
from wtforms.validators import Optional

from checks.units import to_unit
from webapp.clock import local_now, now
from webapp.errors import Refusal
from webapp.follow_up import recall
from webapp.shop import measures, session, stands
from webapp.shop.forms import Form, between
from webapp.shop.questions import book
from webapp.shop.tables import Cell, written
from webapp.storage.models import shops
from webapp.storage.store import store
from webapp.wording import later, number_text, say

blueprint = Blueprint("recall", __name__, url_prefix="/shop/recall")
Json = dict[str, Any]
PAGE = 100
EDGE = re.compile(rf"({'|'.join(recall.SEASONS)})\.([0-2])\.([0-9]{{1,9}})\Z")


class FigureForm(Form):
    """The shop's own figures; empty for the usual ones."""

    months = IntegerField(
        later("form-repack-months"), [Optional(), between(1, 60, "form-repack-odd")]
    )
    miles = IntegerField(
        later("form-repack-miles", unit=""),
        [Optional(), between(100, 100_000, "form-repack-odd")],
    )


@blueprint.route("", methods=["GET", "POST"])
def listing() -> ResponseReturnValue:
    """Every list from its start, or one list from where its last page ended."""
    only, after = edge()
    shop_id = session.me()["shop_id"]
    with store().reading() as connection:
        own = own_figures(connection)
        form = FigureForm(data=shown(own))
        if form.validate_on_submit():
            return keep(form)
        lists = {
            name: recall.page(connection, shop_id, name, figures(own), after, PAGE)
            for name in ([only] if only else recall.SEASONS)
        }
        listed = {one.trailer for lines, _ in lists.values() for one in lines}
        still_open = stands.open_ones(connection, shop_id, listed)
    form.miles.label.text = say("form-repack-miles", unit=measures.distance_word())
    parts = {"lists": lists, "open": still_open, "first": only is None}
    parts |= {"told": told(usual(own)), "usual": told(usual(Figures(months=None, miles=None)))}
    page = render_template("shop/recall.html", form=form, now=now(), **parts)
    return page, 422 if form.errors else 200


def edge() -> tuple[str, recall.Edge | None]:
    """The list and the place in it that the address asks for: ``repack.0.17``."""
    text = request.args.get("after")
    if text is None:
        return "", None
    found = EDGE.match(text)
    if found is None:
        raise Refusal(400, "bad_page", "after")
    return found[1], (int(found[2]), int(found[3]))


def keep(form: FigureForm) -> ResponseReturnValue:
    way = form.miles.data
    miles = None if way is None else round(to_unit(way, measures.distance_unit(), "mi"))
    values = {"repack_months": form.months.data, "repack_miles": miles}
    with store().writing() as connection:
        mine = update(shops).where(shops.c.id == session.me()["shop_id"])
        connection.execute(mine.values(**values))
    flash(say("shop-saved"))
    return redirect(url_for("recall.listing"))


@blueprint.get("/<season>.csv")
def table(season: str) -> Response:
    if season not in recall.SEASONS:
        abort(404)
    shop_id = session.me()["shop_id"]
    unit = measures.distance_unit()
    rows: list[list[Cell]] = [[say(f"shop-recall-head-{head}", unit=unit) for head in HEADS]]
    with store().reading() as connection:
        own = figures(own_figures(connection))
        for lines in recall.whole(connection, shop_id, season, own):
            still_open = stands.open_ones(connection, shop_id, [one.trailer for one in lines])
            rows += [cells(one, still_open.get(one.trailer)) for one in lines]
    filed = f'attachment; filename="twentymile-{season}-{now().date().isoformat()}.csv"'
    kind = "text/csv; charset=utf-8"
    return Response(
        "".join(written(rows)), content_type=kind, headers={"Content-Disposition": filed}
    )


HEADS = ("trailer", "customer", "phone", "since", "driven", "years", "open")


def cells(one: recall.Recalled, still_open: stands.Stand | None) -> list[Cell]:
    since = one.since.isoformat() if one.since else ""
    far = "" if one.km is None else measures.plain(one.km, "km")
    years = "" if one.age is None else round(one.age, 1)
    waits = stands.in_words(still_open) if still_open else ""
    return [one.name, one.customer, one.phone, since, far, years, waits]


class Figures(TypedDict):
    """Months and miles between two packings; None where the shop set none."""

    months: int | None
    miles: float | None


def own_figures(connection: Connection) -> Figures:
    mine = select(shops).where(shops.c.id == session.me()["shop_id"])
    row = connection.execute(mine).one()
    return {"months": row.repack_months, "miles": row.repack_miles}


def usual(own: Figures) -> tuple[int, float]:
    """Months and miles between two packings: the shop's own first, then those of the rulebook."""
    limits = book()["limits"]
    years = limits["service.years"]["value"]
    miles = own.get("miles") or limits["service.miles"]["value"]
    return own.get("months") or round(years * 12), miles


def told(figures: tuple[int, float]) -> Json:
    """Such figures as the page says them."""
    return {
        "months": figures[0],
        "distance": f"{number_text(far(figures[1]))} {measures.distance_word()}",
    }


def shown(own: Figures) -> Figures:
    """The shop's own figures as its form has them."""
    return Figures(months=own["months"], miles=own["miles"] and far(own["miles"]))


def far(miles: float) -> int:
    """Miles in the shop's unit; kilometers to the ten, as such figures are given."""
    if measures.system() == measures.US:
        return round(miles)
    return round(to_unit(miles, "mi", "km") / 10) * 10


def figures(own: Figures) -> recall.Figures:
    months, miles = usual(own)
    return recall.Figures(local_now().date(), months, to_unit(miles, "mi", "km"))
