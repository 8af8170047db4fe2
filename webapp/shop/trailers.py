"""Trailers: what they are, every check on them, what is due, and the page at the lending desk."""

from __future__ import annotations

import json
from datetime import datetime
from typing import Any, TypedDict

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import Connection, select, update
from uuid_utils import uuid7

from checks.facts import BadInput
from webapp.app_files.addresses import app_address
from webapp.clock import local_now, made_at, now
from webapp.follow_up import lending, link_life, upkeep
from webapp.follow_up.answered import came_back
from webapp.follow_up.schedule import WAITING
from webapp.follow_up.shelves import STRAY
from webapp.shop import (
    bench,
    find,
    job_state,
    lists,
    meanwhile,
    measures,
    merging,
    questions,
    session,
    stands,
    undoing,
)
from webapp.shop.forms import ButtonForm, TrailerForm, given, sent_number
from webapp.shop.questions import cautions, checks_by_name
from webapp.storage import audit, photo_files
from webapp.storage.models import customers, due, jobs, records, sort_key, trailers
from webapp.storage.store import AnyRow, store
from webapp.wording import place_text, said, say

blueprint = Blueprint("trailers", __name__, url_prefix="/shop")
Json = dict[str, Any]
TYPED = ("name", "plate", "vin")
SHOWN = 200  # checks on a trailer's page
RUNS = 20
PHOTOS = 12


@blueprint.get("/trailers")
def listing() -> ResponseReturnValue:
    show, sort = lists.chosen("show", lists.SHOWS), lists.chosen("sort", lists.SORTS)
    shop_id = session.me()["shop_id"]
    with store().reading() as connection:
        rows, more = lists.trailer_page(connection, shop_id, show, sort, lists.after())
        stand = stands.signs(connection, shop_id, [row.id for row in rows])
    ways = {"show": show, "sort": sort, "shows": lists.SHOWS, "sorts": lists.SORTS}
    return render_template("shop/trailers.html", rows=rows, stand=stand, more=more, **ways)


@blueprint.route("/trailers/new", methods=["GET", "POST"])
def new() -> ResponseReturnValue:
    return edit_page(None)


@blueprint.route("/trailers/<int:trailer_id>/edit", methods=["GET", "POST"])
def edit(trailer_id: int) -> ResponseReturnValue:
    with store().reading() as connection:
        trailer = session.kept(connection, trailers, trailer_id)
    if trailer["id"] == trailer_id:
        return edit_page(trailer)
    # What was typed for the one that is gone is looked at again before it changes the other.
    return edit_page(trailer, say("shop-merged-meanwhile", name=trailer["name"]))


def edit_page(trailer: Json | None, wrong: str = "") -> ResponseReturnValue:
    form, clash = TrailerForm(data={name: (trailer or {}).get(name, "") for name in TYPED}), None
    if form.validate_on_submit() and not wrong:
        try:
            kept, stored = keep(trailer, form), sent_number() or None
            return redirect(url_for("trailers.show", trailer_id=kept, stored=stored))
        except BadInput as error:
            wrong = questions.mistake(error)
        except meanwhile.Clash as other:
            clash = other
            form.process(data=clash.both)
    state, values = clash.both if clash else state_of(trailer), dict(request.form)
    if request.method == "GET" or clash:
        values = {key: str(value) for key, value in state.items()}
    with store().reading() as connection:
        deeds = deeds_of(connection, trailer)
        if clash:
            name_customers(connection, clash)
        people = find.pickable(connection, customers, session.me()["shop_id"])
        owner = picked(connection, values.get("customer", ""))
    page = render_template(
        "shop/trailer_form.html",
        form=form,
        values=values,
        trailer=trailer,
        wrong=wrong,
        customers=people,
        owner=owner,
        profile=questions.profile(),
        **meanwhile.shown(clash, deeds, state),
    )
    return page, 409 if clash else 422 if wrong or form.errors else 200


def state_of(trailer: Json | None) -> Json:
    """What its form is drawn from, by the keys of ``job_state``."""
    if trailer is None:
        return {}
    typed = {name: trailer[name] for name in TYPED} | {"customer": trailer["customer_id"]}
    return job_state.present(typed) | job_state.keyed("fact", trailer["facts"])


def deeds_of(connection: Connection, trailer: Json | None) -> list[Json]:
    if trailer is None:
        return []
    return audit.of(connection, trailer["shop_id"], "trailer", trailer["id"])


def name_customers(connection: Connection, clash: meanwhile.Clash) -> None:
    """Whose it is by what is stored, and by what was typed: by their names."""
    for line in clash.told:
        if line["key"] == "customer":
            line["theirs"] = customer_name(connection, clash.theirs)
            line["mine"] = customer_name(connection, clash.mine)


def customer_name(connection: Connection, state: Json) -> str:
    owner = picked(connection, str(state.get("customer", "")))
    return say("form-state-nothing") if owner is None else str(owner["name"])


def picked(connection: Connection, text: str) -> Json | None:
    """The customer that a form names, when the shop has it."""
    return session.kept(connection, customers, int(text)) if questions.ID.fullmatch(text) else None


def keep(trailer: Json | None, form: TrailerForm) -> int:
    """Store what was filled in; its id. Raises ``BadInput``, and ``meanwhile.Clash``."""
    me = session.me()
    with store().writing() as connection:
        if trailer is not None:
            trailer = meanwhile.held(connection, trailers, trailer["id"])
        mine = filled_in(connection, form, trailer)
        state = mine if trailer is None else meanwhile.settled(state_of(trailer), mine, form)
        values = columns(state)
        bench.judged(values["facts"], local_now())
        if trailer is None:
            first = {"shop_id": me["shop_id"], "record_id": str(uuid7())}
            done = connection.execute(trailers.insert().values(**values, **first))
            trailer_id = int(done.inserted_primary_key[0])  # type: ignore[index]
            audit.write(connection, me, "trailer", trailer_id, "added", None, values)
        else:
            trailer_id = int(trailer["id"])
            here = update(trailers).where(trailers.c.id == trailer_id)
            connection.execute(here.values(**values))
            before = {name: trailer[name] for name in values}
            audit.write(connection, me, "trailer", trailer_id, "changed", before, values)
        upkeep.renew_trailer(connection, trailer_id)
    return trailer_id


def filled_in(connection: Connection, form: TrailerForm, trailer: Json | None) -> Json:
    """What the form asks to store, by the keys of ``job_state``."""
    found: Json = {"name": given(form.name)} | {n: given(form[n]).upper() for n in ("plate", "vin")}
    found["customer"] = (trailer or {}).get("customer_id")
    if "customer" in request.form:
        found["customer"] = (picked(connection, request.form["customer"]) or {}).get("id")
    facts = questions.profile_answers(request.form)
    return job_state.present(found) | job_state.keyed("fact", facts)


def columns(state: Json) -> Json:
    """The columns of a trailer that its form fills."""
    values = {name: state.get(name, "") for name in TYPED}
    values |= {"facts": job_state.part(state, "fact"), "customer_id": state.get("customer")}
    return values | {"sort_name": sort_key(values["name"])}


@blueprint.get("/trailers/<int:trailer_id>")
def show(trailer_id: int) -> ResponseReturnValue:
    with store().reading() as connection:
        parts = trailer_parts(connection, trailer_id)
        if parts["trailer"]["id"] != trailer_id:
            return redirect(url_for("trailers.show", trailer_id=parts["trailer"]["id"]))
        parts["deeds"] = audit.of(connection, parts["trailer"]["shop_id"], "trailer", trailer_id)
        parts["merged"] = merging.merged(connection, trailers, trailer_id)
        parts["dropped"] = dropped_lately(connection, trailer_id)
        parts["photos"] = photo_files.of_trailer(connection, trailer_id, PHOTOS)
        theirs = jobs.c.trailer_id == trailer_id
        parts["jobs"] = connection.execute(
            select(jobs).where(theirs).order_by(jobs.c.id.desc())
        ).all()
    lately = undoing.lately
    return render_template("shop/trailer.html", **parts, button=ButtonForm(), lately=lately)


def dropped_lately(connection: Connection, trailer_id: int) -> list[AnyRow]:
    """Due checks that can be made due again."""
    since = due.c.dropped > now() - undoing.FOR
    wanted = select(due).where(due.c.trailer_id == trailer_id, since).order_by(due.c.id)
    return list(connection.execute(wanted).all())


@blueprint.get("/trailers/<int:trailer_id>/standing")
def standing(trailer_id: int) -> ResponseReturnValue:
    """What the lending desk prints: last verdict, what is due, and the code to start with."""
    with store().reading() as connection:
        parts = trailer_parts(connection, trailer_id)
    if parts["trailer"]["id"] != trailer_id:
        return redirect(url_for("trailers.standing", trailer_id=parts["trailer"]["id"]))
    link = link_life.working(parts["links"], "standing")
    secret = link_life.secret_of(link) if link else None
    return render_template(
        "shop/standing.html",
        **parts,
        link=link,
        address=app_address("from", secret) if secret else None,
        cautions=cautions(),
        button=ButtonForm(),
    )


def trailer_parts(connection: Connection, trailer_id: int) -> Json:
    trailer = session.kept(connection, trailers, trailer_id)
    customer = None
    if trailer["customer_id"]:
        customer = session.own(connection, customers, trailer["customer_id"])
    waiting = connection.execute(
        select(due, came_back())
        .where(due.c.trailer_id == trailer_id, *WAITING)
        .order_by(due.c.at_km.is_(None), due.c.at_km, due.c.id)
    ).all()
    return {
        "trailer": trailer,
        "customer": customer,
        "due": waiting,
        "now": now(),
        "facts": facts_in_words(trailer["facts"]),
        "checks": checks_of(connection, trailer),
        "runs": runs_of(connection, trailer),
        "stands": stands.of(connection, trailer),
        "state": lending.states(connection, [trailer["id"]]).get(trailer["id"]),
        "names": checks_by_name() | {"bench": say("check-bench")},
        "links": link_life.of_trailer(connection, trailer_id, now()),
    }


def facts_in_words(facts: Json) -> list[tuple[str, str]]:
    found = []
    for one in questions.profile():
        if one["name"] in facts:
            text = str(facts[one["name"]])
            found.append((one["ask"], dict(one["options"]).get(text, text)))
    return found


def checks_of(connection: Connection, trailer: Json) -> list[bench.Kept]:
    """Every check on the trailer, newest first, each once however many phones sent it."""
    rows = connection.execute(
        select(records)
        .where(
            records.c.trailer_key == trailer["id"],
            records.c.shop_id == trailer["shop_id"],
            records.c.kind == "check",
            records.c.shelf.is_(None) | records.c.shelf.not_in(STRAY),
        )
        .order_by(records.c.made_ms.desc())
        .limit(SHOWN)
    )
    return [bench.read(row) for row in rows if row.verdict]


def runs_of(connection: Connection, trailer: Json) -> list[RunWords]:
    """The newest runs that came on a link: how far, which stops were made, and what is left."""
    rows = connection.execute(
        select(records)
        .where(
            records.c.trailer_key == trailer["id"],
            records.c.shop_id == trailer["shop_id"],
            records.c.kind == "run",
        )
        .order_by(records.c.made_ms.desc())
        .limit(RUNS)
    )
    return [run_in_words(row) for row in rows]


class RunWords(TypedDict):
    """A run in words: ``done`` by a check, ``ticked`` without, ``left`` not, ``ahead`` too far."""

    made: datetime
    far: str
    done: int
    all: int
    checks: list[str]
    ticked: list[str]
    left: list[str]
    ahead: list[str]


def run_in_words(row: AnyRow) -> RunWords:
    record = json.loads(row.record)
    body = record["body"]
    stops = [stop for stop in body["stops"] if stop["reached"]]
    left = [stop for stop in stops if not stop["done"]]
    ahead = [stop for stop in body["stops"] if not stop["reached"] and "km" in stop]
    return {
        "made": made_at(record["made"], row.made_ms, row.clock_s),
        "far": measures.distance(body["km"]),
        "done": sum(1 for stop in stops if stop["check"]),
        "all": len(stops),
        "checks": [stop["check"] for stop in stops if stop["check"]],
        "ticked": [what_text(stop) for stop in stops if stop["done"] and not stop["check"]],
        "left": [what_text(stop) for stop in left],
        "ahead": [f"{what_text(stop)} ({measures.distance(stop['km'])})" for stop in ahead],
    }


def what_text(stop: Json) -> str:
    """What was to be looked at, and at which wheels where a check found something there."""
    looks = ", ".join(said(f"road-run-what-{one}", one) for one in stop["what"])
    wheels = "; ".join(place_text(one, stop.get("axles", 1)) for one in stop.get("places", []))
    return f"{looks}: {wheels}" if wheels else looks


@blueprint.post("/due/<int:due_id>/drop")
def drop(due_id: int) -> ResponseReturnValue:
    with store().writing() as connection:
        line = session.own(connection, due, due_id)
        wanted = update(due).where(due.c.id == due_id, due.c.dropped.is_(None))
        if connection.execute(wanted.values(dropped=now())).rowcount:
            audit.write(connection, session.me(), "due", due_id, "dropped")
    flash(say("shop-due-dropped"))
    return redirect(url_for("trailers.show", trailer_id=line["trailer_id"]))
