"""Jobs: filled in on one page, finished with a link for the customer."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import Connection, select
from sqlalchemy.exc import IntegrityError
from uuid_utils import uuid7

from webapp.app_files.addresses import app_address
from webapp.clock import now
from webapp.follow_up import link_life, schedule
from webapp.follow_up.answered import came_back
from webapp.follow_up.schedule import LEAVING, WORK
from webapp.shop import (
    bench,
    find,
    job_form,
    job_state,
    job_storing,
    lists,
    merging,
    questions,
    session,
    stands,
    undoing,
    work_record,
)
from webapp.shop.forms import ButtonForm, JobForm
from webapp.shop.job_form import Draft
from webapp.storage import audit, photo_files
from webapp.storage.models import customers, due, jobs, refused, staff, trailers
from webapp.storage.store import AnyRow, store
from webapp.wording import say, speaking

blueprint = Blueprint("jobs", __name__, url_prefix="/shop")
Json = dict[str, Any]


@blueprint.get("/jobs")
def listing() -> ResponseReturnValue:
    shop_id, start = session.me()["shop_id"], lists.after()
    with store().reading() as connection:
        going = [] if start is not None else lists.open_jobs(connection, shop_id)
        rows, more = lists.job_page(connection, shop_id, start)
        stand = stands.signs(connection, shop_id, {row.trailer_id for row in [*going, *rows]})
    return render_template("shop/jobs.html", going=going, rows=rows, stand=stand, more=more)


# ---- the form ---------------------------------------------------------------------------------


@blueprint.route("/jobs/new", methods=["GET", "POST"])
def new() -> ResponseReturnValue:
    with store().reading() as connection:
        trailer = picked(connection, request.values.get("trailer", ""))
        state = job_state.stored(connection, trailer, None)
    return form_or_take(trailer, None, state, {"form": str(uuid7())})


@blueprint.route("/jobs/<int:job_id>/edit", methods=["GET", "POST"])
def edit(job_id: int) -> ResponseReturnValue:
    """Go on with a job that is open, or correct one that is finished."""
    with store().reading() as connection:
        job = session.own(connection, jobs, job_id)
        trailer = session.own(connection, trailers, job["trailer_id"])
        state = job_state.stored(connection, trailer, job)
    return form_or_take(trailer, job, state, {"form": job["form"]})


def form_or_take(
    trailer: Json | None, job: Json | None, state: Json, values: Json
) -> ResponseReturnValue:
    if request.method == "POST":
        return take(JobForm(), trailer, job)
    values |= job_state.values(state, job_form.proposed(), known=job is not None)
    form = JobForm(data={name: state.get(name, "") for name in job_state.TYPED})
    return form_page(form, values | {"base": job_state.packed(state)}, trailer, job)


def picked(connection: Connection, text: str) -> Json | None:
    """The trailer that is named, when the shop has it."""
    if not questions.ID.fullmatch(text):
        return None
    return session.kept(connection, trailers, int(text))


def form_page(
    form: JobForm,
    values: Mapping[str, str],
    trailer: Json | None,
    job: Json | None,
    wrong: Mapping[str, str] | None = None,
    check: Json | None = None,
    meanwhile: Json | None = None,
) -> ResponseReturnValue:
    page = render_template(
        "shop/job_form.html",
        **form_choices(),
        **form_beside(trailer, job, values.get("customer", "")),
        form=form,
        values=values,
        trailer=trailer,
        job=job,
        wrong=wrong or {},
        meanwhile=meanwhile,
        lines=job_form.line_numbers(values),
        findings=found_words(check),
    )
    return page, 409 if meanwhile else 422 if wrong else 200


def form_choices() -> Json:
    """What every job's form asks and offers."""
    return {
        "profile": questions.profile(),
        "points": questions.bench(),
        "wheels": questions.wheels(),
        "work": schedule.work_words(WORK),
        "leaving": schedule.work_words(LEAVING),
        "checks": questions.checks_by_name(),
        "parts": work_record.labels(),
    }


def form_beside(trailer: Json | None, job: Json | None, customer: str) -> Json:
    """What the shop has that stands beside the answers; ``customer`` is the number in the form."""
    shop_id = session.me()["shop_id"]
    with store().reading() as connection:
        owner = None
        if questions.ID.fullmatch(customer):
            owner = session.kept(connection, customers, int(customer))
        return {
            "trailers": find.pickable(connection, trailers, shop_id),
            "customers": find.pickable(connection, customers, shop_id),
            "owner": owner,
            "earlier": work_record.last_time(connection, trailer, job),
            "benched": work_record.last_bench(connection, trailer, job),
            "stands": stands.of(connection, trailer) if trailer else None,
        }


def take(form: JobForm, trailer: Json | None, job: Json | None) -> ResponseReturnValue:
    """Store what was filled in; nothing is stored, and all of it shown again, when it is wrong."""
    sent = request.form
    draft = job_form.read_draft(form, sent, trailer)
    if not form.validate():
        draft.wrong |= {name: str(errors[0]) for name, errors in form.errors.items()}
    if trailer is None and not form.trailer_name.data:
        draft.wrong["trailer_name"] = say("form-trailer-none")
    finish = "finish" in sent
    leaves = finish or (job is not None and job["finished"] is not None)
    stops = draft.check is not None and draft.check["verdict"]["level"] == "stop"
    if leaves and stops and not sent.get("anyway"):
        draft.wrong["anyway"] = say("form-bench-stops")
    if draft.wrong:
        return form_page(form, sent, trailer, job, draft.wrong, draft.check)
    key = job_storing.form_key(sent.get("form", "")) if job is None else job["form"]
    return keep(form, draft, trailer, key, finish, leaves)


def keep(
    form: JobForm, draft: Draft, trailer: Json | None, key: str, finish: bool, leaves: bool
) -> ResponseReturnValue:
    base = job_state.unpacked(request.form["base"]) if "base" in request.form else None
    try:
        try:
            job_id, link = job_storing.save(draft, trailer, base, key, finish)
        except IntegrityError:  # the same form has just come in, on another thread
            job_id, link = job_storing.save(draft, trailer, base, key, finish)
    except job_storing.Meanwhile as other:
        return meanwhile_page(form, draft, base or {}, other)
    if link is None and not finish:
        flash(say("shop-note-kept" if leaves else "shop-job-kept"))
    return redirect(url_for("jobs.show", job_id=job_id))


def meanwhile_page(
    form: JobForm, draft: Draft, base: Json, other: job_storing.Meanwhile
) -> ResponseReturnValue:
    """The form as the two versions come together, with what the other one says beside it."""
    with store().reading() as connection:
        job = None if other.job_id is None else session.own(connection, jobs, other.job_id)
        trailer_id = job["trailer_id"] if job else int(request.form["trailer"])
        trailer = session.kept(connection, trailers, trailer_id)
        done = job_storing.last_deed(connection, job, trailer)
    mine = job_state.drafted(draft, bool(base.get("finished")))
    both = job_state.merged(base, other.state, mine)
    values = {name: request.form.get(name, "") for name in ("form", "customer_name")}
    values |= job_state.values(both, job_form.proposed(), known=True)
    values["base"] = job_state.packed(other.state)
    form.process(data={name: both.get(name, "") for name in job_state.TYPED})
    told = {"lines": job_state.told(base, other.state, mine), "done": done}
    return form_page(form, values, trailer, job, meanwhile=told)


# ---- a job, and the sheet that goes with the trailer -------------------------------------------


@blueprint.get("/jobs/<int:job_id>")
def show(job_id: int) -> ResponseReturnValue:
    return render_template("shop/job.html", **job_parts(job_id), button=ButtonForm())


@blueprint.get("/jobs/<int:job_id>/sheet")
def sheet(job_id: int) -> ResponseReturnValue:
    """The sheet as it is printed, in the language of whoever takes it along."""
    with store().reading() as connection:
        reader = language_of(connection, session.own(connection, jobs, job_id)["customer_id"])
    with speaking(reader):
        return render_template(
            "shop/sheet.html", **job_parts(job_id), cautions=questions.cautions()
        )


def refused_of(connection: Connection, job_id: int) -> list[AnyRow]:
    """Forms of this job that came second and are not stored: nothing in them is lost."""
    wanted = (
        select(refused.c.id, refused.c.made, refused.c.staff_id, staff.c.name.label("who"))
        .join(staff, staff.c.id == refused.c.staff_id)
        .where(refused.c.path == url_for("jobs.edit", job_id=job_id), refused.c.status == 409)
    )
    mine = wanted.where(refused.c.shop_id == session.me()["shop_id"])
    return list(connection.execute(mine.order_by(refused.c.id.desc())).all())


# Work whose pin, torque and play belong on the bench record.
RECORDED = {"bearings", "wheels", "brakes"}


def says_nothing(record: Json | None) -> bool:
    """Whether no answer of the bench record is in it."""
    asked = {one["name"] for point in questions.bench() for one in point["questions"]}
    return record is None or asked.isdisjoint(key.partition("@")[0] for key in record["facts"])


def found_words(check: Json | None) -> list[bench.FindingWords]:
    return (
        []
        if check is None
        else bench.finding_words(check["verdict"], bench.axles_of(check["facts"]))
    )


def language_of(connection: Connection, customer_id: int | None) -> str:
    """What a customer reads; empty where that is not known."""
    wanted = select(customers.c.language).where(customers.c.id == customer_id)
    return connection.execute(wanted).scalar() or ""


def job_parts(job_id: int) -> Json:
    """Everything that is shown of a job."""
    with store().reading() as connection:
        stored = job_rows(connection, session.own(connection, jobs, job_id))
    job, record = stored["job"], stored["record"]
    secret = link_life.secret_of(stored["link"]) if stored["link"] else None
    reader = (stored["customer"] or {}).get("language") or ""
    return stored | {
        "reader": reader,
        "parts": {work_record.label(name): text for name, text in job["parts"].items()},
        "names": questions.checks_by_name(),
        "address": app_address("from", secret, reader) if secret else None,
        "work": schedule.work_done(job["work"], WORK),
        "bare": says_nothing(record) and bool(RECORDED & set(job["work"])),
        "leaving": schedule.work_done(job["work"], LEAVING),
        "findings": found_words(record),
    }


def job_rows(connection: Connection, job: Json) -> Json:
    """A job with the rows that are shown beside it."""
    trailer = session.own(connection, trailers, job["trailer_id"])
    customer = None
    if job["customer_id"]:
        customer = session.own(connection, customers, job["customer_id"])
    lines = (
        select(due, came_back())
        .where(due.c.job_id == job["id"], due.c.dropped.is_(None))
        .order_by(due.c.at_km.is_(None), due.c.at_km, due.c.id)
    )
    links = link_life.of_trailer(connection, job["trailer_id"], now())
    pictures = photo_files.of_job(connection, job["id"])
    return {
        "job": job,
        "trailer": trailer,
        "twin": trailer["merged_into"] is None and merging.has_twin(connection, trailer),
        "customer": customer,
        "link": link_life.working(links, "job", job["id"]),
        "record": bench.stored(connection, job["shop_id"], job["record_id"]),
        "stands": stands.of(connection, trailer),
        "deeds": audit.of(connection, job["shop_id"], "job", job["id"]),
        "held": refused_of(connection, job["id"]),
        "photos": [one for one in pictures if one["removed"] is None],
        "removed": [one for one in pictures if undoing.lately(one["removed"])],
        "lines": list(connection.execute(lines).all()),
    }
