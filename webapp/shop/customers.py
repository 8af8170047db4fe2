"""Customers: a name, how to reach them, and their trailers."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import select, update

from webapp.shop import lists, meanwhile, merging, session, stands
from webapp.shop.forms import ButtonForm, CustomerForm, given, sent_number
from webapp.storage import audit, finds
from webapp.storage.models import customers, sort_key, trailers
from webapp.storage.store import store
from webapp.wording import say

blueprint = Blueprint("customers", __name__, url_prefix="/shop")
Json = dict[str, Any]
TYPED = ("name", "phone", "email", "language")


@blueprint.get("/customers")
def listing() -> ResponseReturnValue:
    with store().reading() as connection:
        rows, more = lists.customer_page(connection, session.me()["shop_id"], lists.after())
    return render_template("shop/customers.html", rows=rows, more=more)


@blueprint.route("/customers/<int:customer_id>", methods=["GET", "POST"])
def show(customer_id: int) -> ResponseReturnValue:
    with store().reading() as connection:
        customer = session.kept(connection, customers, customer_id)
        gone = customer["id"] != customer_id
        if gone and request.method != "POST":
            return redirect(url_for("customers.show", customer_id=customer["id"]))
        others = merging.merged(connection, customers, customer["id"])
        theirs = (trailers.c.customer_id == customer["id"], trailers.c.merged_into.is_(None))
        rows = connection.execute(select(trailers).where(*theirs).order_by(trailers.c.sort_name))
        owned = rows.all()
        deeds = audit.of(connection, customer["shop_id"], "customer", customer["id"])
        stand = stands.signs(connection, customer["shop_id"], [row.id for row in owned])
    form, clash = CustomerForm(data=customer), None
    if gone:  # what was typed for it is looked at again before it changes the other
        flash(say("shop-merged-meanwhile", name=customer["name"]))
    elif form.validate_on_submit():
        try:
            keep(customer["id"], form)
        except meanwhile.Clash as other:
            clash = other
            form.process(data=clash.both)
        else:
            flash(say("shop-saved"))
            stored = sent_number() or None
            return redirect(url_for("customers.show", customer_id=customer_id, stored=stored))
    parts = {"form": form, "customer": customer, "trailers": owned, "deeds": deeds}
    parts |= {"merged": others, "stand": stand}
    parts |= meanwhile.shown(clash, deeds, typed_of(customer))
    page = render_template("shop/customer.html", **parts, button=ButtonForm())
    return page, 409 if gone or clash else 422 if form.errors else 200


def typed_of(customer: Json) -> Json:
    return {name: customer[name] for name in TYPED}


def keep(customer_id: int, form: CustomerForm) -> None:
    """Store what was changed on the form. Raises ``meanwhile.Clash``."""
    with store().writing() as connection:
        customer = meanwhile.held(connection, customers, customer_id)
        before = typed_of(customer)
        values = meanwhile.settled(before, {name: given(form[name]) for name in TYPED}, form)
        if before == values:
            return
        here = update(customers).where(customers.c.id == customer["id"])
        connection.execute(here.values(**values, sort_name=sort_key(values["name"])))
        whose = session.me()
        audit.write(connection, whose, "customer", customer["id"], "changed", before, values)
        finds.renew_customer(connection, customer["id"])
