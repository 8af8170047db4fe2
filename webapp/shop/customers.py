"""Customers: a name, how to reach them, and their trailers."""

from __future__ import annotations

from flask import Blueprint, flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import select, update

from webapp.shop import session
from webapp.shop.forms import CustomerForm
from webapp.storage.models import customers, trailers
from webapp.storage.store import store
from webapp.wording import say

blueprint = Blueprint("customers", __name__, url_prefix="/shop")


@blueprint.get("/customers")
def listing() -> ResponseReturnValue:
    mine = customers.c.shop_id == session.me()["shop_id"]
    with store().reading() as connection:
        rows = connection.execute(select(customers).where(mine).order_by(customers.c.name)).all()
    return render_template("shop/customers.html", rows=rows)


@blueprint.route("/customers/<int:customer_id>", methods=["GET", "POST"])
def show(customer_id: int) -> ResponseReturnValue:
    with store().reading() as connection:
        customer = session.own(connection, customers, customer_id)
        theirs = trailers.c.customer_id == customer_id
        rows = connection.execute(select(trailers).where(theirs).order_by(trailers.c.name)).all()
    form = CustomerForm(data=customer)
    if form.validate_on_submit():
        values = {name: form[name].data or "" for name in ("name", "phone", "email")}
        with store().writing() as connection:
            here = customers.c.id == customer_id
            connection.execute(update(customers).where(here).values(**values))
        flash(say("shop-saved"))
        return redirect(url_for("customers.show", customer_id=customer_id))
    return render_template("shop/customer.html", form=form, customer=customer, trailers=rows)
