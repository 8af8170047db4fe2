"""Deleting a customer: everything that is theirs goes, rows and files."""

from __future__ import annotations

from typing import Any, TypedDict

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import ColumnElement, Connection, delete, or_, select, union, update

from webapp.follow_up import undecided
from webapp.follow_up.shelves import TRAY
from webapp.shop import inbox, session, stands
from webapp.shop.forms import ButtonForm
from webapp.storage.forgetting import forget
from webapp.storage.models import (
    audit,
    customers,
    due,
    finds,
    intakes,
    jobs,
    links,
    mails,
    notes,
    outings,
    photos,
    records,
    refused,
    trailers,
)
from webapp.storage.store import store
from webapp.wording import say

blueprint = Blueprint("forget", __name__, url_prefix="/shop/customers")
Json = dict[str, Any]


@blueprint.route("/<int:customer_id>/delete", methods=["GET", "POST"])
def show(customer_id: int) -> ResponseReturnValue:
    form = ButtonForm()
    with store().reading() as connection:
        customer = session.kept(connection, customers, customer_id)
        if customer["id"] != customer_id:  # all that was theirs is the other's: ask about that one
            return redirect(url_for("forget.show", customer_id=customer["id"]))
        rows = connection.execute(select(trailers).where(trailers_of(customer_id))).all()
        stand = undecided_of(connection, customer)
    looked = request.form.get("anyway", "")
    if form.validate_on_submit() and stands.covers(looked, stand):
        if not delete_customer(customer_id, looked):
            return redirect(url_for("forget.show", customer_id=customer_id))
        flash(say("shop-customer-deleted", name=customer["name"]))
        return redirect(url_for("customers.listing"))
    if form.errors:
        abort(400)
    parts = {"customer": customer, "trailers": rows, "undecided": stand, "form": form}
    page = render_template("shop/forget.html", **parts, these=stands.these(stand))
    return page, 422 if form.is_submitted() else 200


def undecided_of(connection: Connection, customer: Json) -> list[inbox.Line]:
    """What would go with them and nobody has decided."""
    theirs = belongings(connection, customer)["records"]
    wanted = inbox.check_rows().where(records.c.shop_id == customer["shop_id"], theirs)
    wanted = wanted.order_by(records.c.shelf, records.c.seq.desc())
    waiting = (undecided.at_work(), records.c.shelf.in_([*undecided.BAD, TRAY]))
    rows = (row for one in waiting for row in connection.execute(wanted.where(one)))
    return [inbox.line(row) for row in rows]


def trailers_of(customer_id: int) -> ColumnElement[bool]:
    """Those of the customer, and those that were found to be one of them.

    By their numbers: told the two ways at once, PostgreSQL goes through all trailers.
    """
    own, merged = trailers.alias("own"), trailers.alias("merged")
    mine = select(own.c.id).where(own.c.customer_id == customer_id)
    with_mine = select(merged.c.id).join(own, merged.c.merged_into == own.c.id)
    return trailers.c.id.in_(union(mine, with_mine.where(own.c.customer_id == customer_id)))


def delete_customer(customer_id: int, looked: str) -> bool:
    """Rows first, in one transaction; then the files that no row speaks of any more.

    False, with nothing deleted, where something undecided has come in since the page was drawn.
    """
    with store().writing() as connection:
        customer = session.own(connection, customers, customer_id)
        # What is arriving on one of their links is waited for, and then looked at.
        arriving = select(links.c.id).where(
            links.c.id.in_(belongings(connection, customer)["link"])
        )
        connection.execute(arriving.with_for_update())
        if not stands.covers(looked, undecided_of(connection, customer)):
            return False
        paths = delete_rows(connection, customer)
    store().photos.remove(paths)
    return True


def delete_rows(connection: Connection, customer: Json) -> list[str]:
    """Delete what belongs to the customer; return the paths of the photos that were theirs."""
    theirs = belongings(connection, customer)
    keys, job_ids = theirs["trailer"], theirs["job"]
    link_ids, due_ids = theirs["link"], theirs["due"]
    paths = delete_records(connection, customer["shop_id"], theirs["records"], link_ids)
    paths += delete_bench_photos(connection, job_ids)
    connection.execute(update(records).where(records.c.due_id.in_(due_ids)).values(due_id=None))
    connection.execute(delete(outings).where(outings.c.trailer_id.in_(keys)))
    for table, gone in ((due, due_ids), (links, link_ids), (jobs, job_ids), (trailers, keys)):
        connection.execute(delete(table).where(table.c.id.in_(gone)))
    here = (customers.c.id == customer["id"]) | (customers.c.merged_into == customer["id"])
    people = ids(connection, customers, here)
    lost = {"due": due_ids, "link": link_ids, "job": job_ids, "trailer": keys, "customer": people}
    forget_deeds(connection, customer["shop_id"], lost)
    connection.execute(delete(customers).where(here))
    return paths


class Belongings(TypedDict):
    """What goes with a customer, by numbers of rows; ``records`` tells theirs from others'."""

    trailer: list[int]
    job: list[int]
    link: list[int]
    due: list[int]
    records: ColumnElement[bool]


def belongings(connection: Connection, customer: Json) -> Belongings:
    """Their trailers with all that hangs on them, and what was done for them or came on their
    links for trailers that others have now."""
    mine = select(trailers.c.id, trailers.c.record_id).where(trailers_of(customer["id"]))
    own = connection.execute(mine).all()
    keys, names = [row.id for row in own], [row.record_id for row in own]
    job_ids, link_ids, due_ids = hanging(connection, customer["id"], keys)
    made = connection.execute(select(jobs.c.record_id).where(jobs.c.id.in_(job_ids))).scalars()
    theirs = or_(
        records.c.link_id.in_(link_ids),
        records.c.trailer_key.in_(keys),
        # Sent by the same phones without a link, and bench records of their jobs.
        records.c.trailer.in_(names),
        (records.c.shop_id == customer["shop_id"]) & records.c.id.in_([one for one in made if one]),
    )
    return {"trailer": keys, "job": job_ids, "link": link_ids, "due": due_ids, "records": theirs}


def hanging(
    connection: Connection, customer: int, keys: list[int]
) -> tuple[list[int], list[int], list[int]]:
    """Jobs, links and due checks of a customer and of the trailers with these keys."""
    job_ids = ids(
        connection, jobs, or_(jobs.c.customer_id == customer, jobs.c.trailer_id.in_(keys))
    )
    for_whom = links.c.customer_id == customer
    on_what = or_(links.c.trailer_id.in_(keys), links.c.job_id.in_(job_ids))
    link_ids = ids(connection, links, or_(for_whom, on_what))
    due_ids = ids(connection, due, or_(due.c.trailer_id.in_(keys), due.c.job_id.in_(job_ids)))
    return job_ids, link_ids, due_ids


def forget_deeds(connection: Connection, shop_id: int, gone: dict[str, list[int]]) -> None:
    """What was done to rows that are gone, the words they were found by, and refused forms and
    files on their way in, which may name anybody."""
    for kind, row_ids in gone.items():
        of_kind = (audit.c.shop_id == shop_id, audit.c.kind == kind)
        connection.execute(
            delete(audit).where(*of_kind, audit.c.row_key.in_([str(one) for one in row_ids]))
        )
        words = (finds.c.shop_id == shop_id, finds.c.kind == kind, finds.c.row_id.in_(row_ids))
        connection.execute(delete(finds).where(*words))
    connection.execute(delete(refused).where(refused.c.shop_id == shop_id))
    waiting = (intakes.c.shop_id == shop_id, intakes.c.taken.is_(None))
    connection.execute(delete(intakes).where(*waiting))


def ids(connection: Connection, table: Any, where: ColumnElement[bool]) -> list[int]:
    return list(connection.execute(select(table.c.id).where(where)).scalars())


def delete_bench_photos(connection: Connection, job_ids: list[int]) -> list[str]:
    """Those of jobs that are about to go; the paths of their files."""
    theirs = photos.c.job_id.in_(job_ids)
    paths = list(connection.execute(select(photos.c.path).where(theirs)).scalars())
    connection.execute(delete(photos).where(theirs))
    return paths


def delete_records(
    connection: Connection, shop_id: int, theirs: ColumnElement[bool], link_ids: list[int]
) -> list[str]:
    found = connection.execute(select(records.c.device, records.c.id).where(theirs)).all()
    pairs = {(row.device, row.id) for row in found}
    gone = list({record_id for _, record_id in pairs})
    for table in (notes, mails):
        connection.execute(
            delete(table).where(table.c.shop_id == shop_id, table.c.record_id.in_(gone))
        )
    said = (audit.c.shop_id == shop_id, audit.c.kind == "check", audit.c.row_key.in_(gone))
    connection.execute(delete(audit).where(*said))
    taken = connection.execute(
        select(photos).where(or_(photos.c.record_id.in_(gone), photos.c.link_id.in_(link_ids)))
    ).all()
    lost = [p for p in taken if p.link_id in link_ids or (p.device_hash, p.record_id) in pairs]
    connection.execute(delete(photos).where(photos.c.id.in_([photo.id for photo in lost])))
    forget(connection, [*pairs, *((photo.device_hash, photo.id) for photo in lost)])
    # A due check that one of these settled for somebody else's trailer stays settled.
    connection.execute(delete(records).where(theirs))
    return [photo.path for photo in lost]
