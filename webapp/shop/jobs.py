"""Jobs: filled in on one page, finished with a link for the customer."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import Connection, select
from sqlalchemy.exc import IntegrityError

from webapp.app_files.addresses import app_address
from webapp.clock import now
from webapp.follow_up import link_life, schedule, undecided
from webapp.follow_up.answered import came_back
from webapp.follow_up.schedule import LEAVING, WORK
from webapp.shop import bench, job_form, job_storing, questions, session
from webapp.shop.forms import ButtonForm, JobForm
from webapp.storage.models import customers, due, jobs, trailers
from webapp.storage.store import store
from webapp.wording import say

blueprint = Blueprint("jobs", __name__, url_prefix="/shop")
Json = dict[str, Any]
SHOWN = 100  # jobs on the list; older ones are found on their trailer's page


@blueprint.get("/jobs")
def listing() -> ResponseReturnValue:
    wanted = (
        select(jobs, trailers.c.name.label("trailer"), customers.c.name.label("customer"))
        .join(trailers, jobs.c.trailer_id == trailers.c.id)
        .outerjoin(customers, jobs.c.customer_id == customers.c.id)
        .where(jobs.c.shop_id == session.me()["shop_id"])
        .order_by(jobs.c.finished.is_not(None), jobs.c.id.desc())
        .limit(SHOWN)
    )
    with store().reading() as connection:
        rows = connection.execute(wanted).all()
    return render_template("shop/jobs.html", rows=rows)


# ---- the form ---------------------------------------------------------------------------------


@blueprint.route("/jobs/new", methods=["GET", "POST"])
def new() -> ResponseReturnValue:
    form = JobForm()
    with store().reading() as connection:
        trailer = picked(connection, request.values.get("trailer", ""))
    if request.method == "GET":
        return form_page(form, job_form.new_values(trailer), trailer, None)
    return take(form, trailer, None)


@blueprint.route("/jobs/<int:job_id>/edit", methods=["GET", "POST"])
def edit(job_id: int) -> ResponseReturnValue:
    with store().reading() as connection:
        job = session.own(connection, jobs, job_id)
        trailer = session.own(connection, trailers, job["trailer_id"])
        if job["finished"] is not None:
            return redirect(url_for("jobs.show", job_id=job_id))
        values = job_form.job_values(connection, job, trailer)
    form = JobForm(note=job["note"])
    if request.method == "GET":
        return form_page(form, values, trailer, job)
    return take(form, trailer, job)


def picked(connection: Connection, text: str) -> Json | None:
    """The trailer that is named, when the shop has it."""
    if not questions.ID.fullmatch(text):
        return None
    return session.own(connection, trailers, int(text))


def form_page(
    form: JobForm,
    values: Mapping[str, str],
    trailer: Json | None,
    job: Json | None,
    wrong: Mapping[str, str] | None = None,
    check: Json | None = None,
) -> ResponseReturnValue:
    shop_id = session.me()["shop_id"]
    with store().reading() as connection:
        known = [
            connection.execute(select(t).where(t.c.shop_id == shop_id).order_by(t.c.name)).all()
            for t in (trailers, customers)
        ]
    page = render_template(
        "shop/job_form.html",
        form=form,
        values=values,
        trailer=trailer,
        job=job,
        wrong=wrong or {},
        trailers=known[0],
        customers=known[1],
        profile=questions.profile(),
        points=questions.bench(),
        wheels=questions.wheels(),
        lines=job_form.line_numbers(values),
        work=schedule.work_words(WORK),
        leaving=schedule.work_words(LEAVING),
        checks=questions.checks_by_name(),
        findings=found_words(check),
    )
    return page, 422 if wrong else 200


# ---- what was filled in -----------------------------------------------------------------------


def take(form: JobForm, trailer: Json | None, job: Json | None) -> ResponseReturnValue:
    """Store what was filled in; nothing is stored, and all of it shown again, when it is wrong."""
    sent = request.form
    draft = job_form.read_draft(form, sent, trailer)
    if not form.validate():
        draft.wrong |= {name: str(errors[0]) for name, errors in form.errors.items()}
    if trailer is None and not form.trailer_name.data:
        draft.wrong["trailer_name"] = say("form-trailer-none")
    finish = "finish" in sent
    stops = draft.check is not None and draft.check["verdict"]["level"] == "stop"
    if finish and stops and not sent.get("anyway"):
        draft.wrong["anyway"] = say("form-bench-stops")
    if draft.wrong:
        return form_page(form, sent, trailer, job, draft.wrong, draft.check)
    try:
        key = job_storing.form_key(sent.get("form", "")) if job is None else job["form"]
        job_id, link = job_storing.save(draft, trailer, job, key, finish)
    except IntegrityError:  # the same form has just come in, on another thread
        job_id, link = job_storing.already(sent["form"]), None
    if link is not None:
        session.show_secret(*link)
    elif not finish:
        flash(say("shop-job-kept"))
    return redirect(url_for("jobs.show", job_id=job_id))


# ---- a job, and the sheet that goes with the trailer -------------------------------------------


@blueprint.get("/jobs/<int:job_id>")
def show(job_id: int) -> ResponseReturnValue:
    return render_template("shop/job.html", **job_parts(job_id), button=ButtonForm())


@blueprint.get("/jobs/<int:job_id>/sheet")
def sheet(job_id: int) -> ResponseReturnValue:
    return render_template("shop/sheet.html", **job_parts(job_id), cautions=questions.cautions())


def found_words(check: Json | None) -> list[Json]:
    return (
        []
        if check is None
        else bench.finding_words(check["verdict"], bench.axles_of(check["facts"]))
    )


def job_parts(job_id: int) -> Json:
    """Everything that is shown of a job."""
    with store().reading() as connection:
        job = session.own(connection, jobs, job_id)
        trailer = session.own(connection, trailers, job["trailer_id"])
        customer = None
        if job["customer_id"]:
            customer = session.own(connection, customers, job["customer_id"])
        lines = connection.execute(
            select(due, came_back())
            .where(due.c.job_id == job_id)
            .order_by(due.c.at_km.is_(None), due.c.at_km, due.c.id)
        ).all()
        found = link_life.of_trailer(connection, job["trailer_id"], now())
        record = bench.stored(connection, job["shop_id"], job["record_id"])
        open_one = undecided.worst(connection, job["shop_id"], [trailer["id"]])
    link = link_life.working(found, "job", job_id)
    secret = session.shown_secret(link["id"]) if link else None
    return {
        "job": job,
        "trailer": trailer,
        "customer": customer,
        "link": link,
        "record": record,
        "open": bool(open_one),
        "lines": [line for line in lines if line.dropped is None],
        "names": questions.checks_by_name(),
        "address": app_address("from", secret) if secret else None,
        "work": schedule.work_done(job["work"], WORK),
        "leaving": schedule.work_done(job["work"], LEAVING),
        "findings": found_words(record),
    }
