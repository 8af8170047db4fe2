"""Jobs: filled in on one page, finished with a link for the customer."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import Connection, delete, select, update
from sqlalchemy.exc import IntegrityError
from uuid_utils import uuid7

from checks.facts import BadInput
from webapp.app_files.addresses import app_address
from webapp.clock import local_now, now
from webapp.follow_up import link_life, schedule
from webapp.follow_up.schedule import CHECKS, LEAVING, WORK, Line
from webapp.shop import bench, questions, session
from webapp.shop.forms import ButtonForm, JobForm, tidy
from webapp.storage.models import customers, due, jobs, trailers
from webapp.storage.store import store
from webapp.wording import say

blueprint = Blueprint("jobs", __name__, url_prefix="/shop")
Json = dict[str, Any]
ID = re.compile(r"[0-9]{1,10}")
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
        return form_page(form, new_values(trailer), trailer, None)
    return take(form, trailer, None)


@blueprint.route("/jobs/<int:job_id>/edit", methods=["GET", "POST"])
def edit(job_id: int) -> ResponseReturnValue:
    with store().reading() as connection:
        job = session.own(connection, jobs, job_id)
        trailer = session.own(connection, trailers, job["trailer_id"])
        if job["finished"] is not None:
            return redirect(url_for("jobs.show", job_id=job_id))
        values = job_values(connection, job, trailer)
    form = JobForm(note=job["note"])
    if request.method == "GET":
        return form_page(form, values, trailer, job)
    return take(form, trailer, job)


def picked(connection: Connection, text: str) -> Json | None:
    """The trailer that is named, when the shop has it."""
    if not ID.fullmatch(text):
        return None
    return session.own(connection, trailers, int(text))


def new_values(trailer: Json | None) -> Json:
    values: Json = {"form": str(uuid7())}
    if trailer is not None:
        values |= questions.profile_values(trailer["facts"])
        values["customer"] = str(trailer["customer_id"] or "")
    lines = schedule.proposed(questions.book()["limits"], local_now().date())
    return values | line_values(lines)


def job_values(connection: Connection, job: Json, trailer: Json) -> Json:
    """An open job as it was left."""
    values = {"form": job["form"], "customer": str(job["customer_id"] or "")}
    values |= questions.profile_values(trailer["facts"])
    values |= {f"work:{name}": "1" for name in job["work"]}
    record = bench.stored(connection, job["shop_id"], job["record_id"])
    if record is not None:
        values |= questions.bench_values(record["facts"])
    open_lines = (due.c.job_id == job["id"], due.c.record_id.is_(None))
    kept = connection.execute(select(due).where(*open_lines).order_by(due.c.id)).mappings()
    lines = schedule.proposed(questions.book()["limits"], local_now().date())
    return values | line_values(schedule.with_kept(lines, [dict(r) for r in kept]))


def line_values(lines: list[Line]) -> Json:
    """The lines as fields, with empty ones for what the shop thinks of itself."""
    values: Json = {}
    own = [Line((), CHECKS[1], "", keep=False)] * schedule.OWN_LINES
    for number, line in enumerate([*lines, *own]):
        at = "" if line.at is None else f"{line.at:g}"
        values |= {
            f"line:{number}:works": " ".join(line.works),
            f"line:{number}:keep": "1" if line.keep else "",
            f"line:{number}:check": line.check,
            f"line:{number}:what": line.what,
            f"line:{number}:at": at,
            f"line:{number}:by": "" if line.by is None else line.by.isoformat(),
        }
    return values


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
        lines=line_numbers(values),
        work=schedule.work_words(WORK),
        leaving=schedule.work_words(LEAVING),
        checks=checks_by_name(),
        findings=found_words(check),
    )
    return page, 422 if wrong else 200


def line_numbers(values: Mapping[str, str]) -> list[int]:
    found = [key.split(":")[1] for key in values if key.startswith("line:")]
    return sorted({int(one) for one in found if ID.fullmatch(one)})[:MOST_LINES]


MOST_LINES = 40


def axles_of(facts: Json) -> int:
    return int(facts.get("axles", 1))


def checks_by_name() -> dict[str, str]:
    return {name: say(f"check-{name}") for name in CHECKS}


# ---- what was filled in -----------------------------------------------------------------------


@dataclass
class Draft:
    """A job as it was filled in; ``wrong`` says by field what has to be put right."""

    facts: Json
    work: list[str]
    lines: list[Line]
    check: Json | None = None
    customer_id: int | None = None
    wrong: dict[str, str] = field(default_factory=dict)


def take(form: JobForm, trailer: Json | None, job: Json | None) -> ResponseReturnValue:
    """Store what was filled in; nothing is stored, and all of it shown again, when it is wrong."""
    sent = request.form
    draft = read_draft(sent, trailer)
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
        job_id, link = save(form, draft, trailer, job, finish)
    except IntegrityError:  # the same form has just come in, on another thread
        job_id, link = already(sent["form"]), None
    if link is not None:
        session.show_secret(*link)
    elif not finish:
        flash(say("shop-job-kept"))
    return redirect(url_for("jobs.show", job_id=job_id))


def read_draft(sent: Mapping[str, str], trailer: Json | None) -> Draft:
    known = {} if trailer is None else trailer["facts"]
    facts = known | questions.profile_answers(sent)
    work = [name for name in (*WORK, *LEAVING) if sent.get(f"work:{name}")]
    draft = Draft(facts, work, [])
    read_lines(sent, draft)
    read_customer(sent, draft)
    try:
        bench.judged(facts, local_now())
        found = questions.bench_answers(sent, int(facts.get("axles", 1)))
        if found:
            only = {name: facts[name] for name in ("axles", "brakes") if name in facts}
            draft.check = bench.judged(only | found, local_now())
    except (BadInput, ValueError) as error:
        draft.wrong["facts"] = str(error)
    if draft.check is not None and "axles" not in facts:
        draft.wrong["facts"] = say("form-axles-missing")
    return draft


def read_customer(sent: Mapping[str, str], draft: Draft) -> None:
    text = sent.get("customer", "")
    if not text or tidy(sent.get("customer_name")):
        return
    with store().reading() as connection:
        if not ID.fullmatch(text):
            draft.wrong["customer"] = say("form-customer-odd")
        else:
            draft.customer_id = session.own(connection, customers, int(text))["id"]


def read_lines(sent: Mapping[str, str], draft: Draft) -> None:
    """The lines that are ticked and, where they follow from work, whose work was done."""
    for number in line_numbers(sent):
        get = {key: sent.get(f"line:{number}:{key}", "").strip() for key in LINE_KEYS}
        works = tuple(get["works"].split())
        if not get["keep"] or (works and not set(works) & set(draft.work)):
            continue
        try:
            draft.lines.append(read_line(works, get))
        except ValueError as error:
            draft.wrong[f"line:{number}"] = str(error)


LINE_KEYS = ("works", "keep", "check", "what", "at", "by")
FARTHEST = 10_000.0  # miles


def read_line(works: tuple[str, ...], get: Mapping[str, str]) -> Line:
    """Raises ``ValueError`` with words for the person at the form."""
    what = tidy(get["what"])[:200]
    if get["check"] not in CHECKS:
        raise ValueError(say("form-line-check-missing"))
    if not what:
        raise ValueError(say("form-line-what-missing"))
    at = by = None
    if get["at"]:
        try:
            at = float(get["at"].replace(",", "."))
        except ValueError:
            at = -1.0
        if not 0 < at <= FARTHEST:
            raise ValueError(say("form-line-at-odd"))
    if get["by"]:
        try:
            by = date.fromisoformat(get["by"])
        except ValueError:
            raise ValueError(say("form-line-by-odd")) from None
    return Line(works, get["check"], what, at=at, by=by)


# ---- storing ----------------------------------------------------------------------------------


def already(form_key: str) -> int:
    """The job that the same form has made."""
    mine = (jobs.c.form == form_key, jobs.c.shop_id == session.me()["shop_id"])
    with store().reading() as connection:
        return int(connection.execute(select(jobs.c.id).where(*mine)).scalar_one())


def save(
    form: JobForm, draft: Draft, trailer: Json | None, job: Json | None, finish: bool
) -> tuple[int, tuple[int, str] | None]:
    """Store trailer, customer, job, bench record, due checks and link, all or nothing."""
    me, moment = session.me(), local_now()
    key = job["form"] if job else form_key(request.form.get("form", ""))
    with store().writing() as connection:
        found = connection.execute(
            select(jobs).where(jobs.c.form == key, jobs.c.shop_id == me["shop_id"])
        ).first()
        if found is not None and (job is None or found.finished is not None):
            return found.id, None
        customer_id = draft.customer_id or new_customer(connection, form, me["shop_id"])
        trailer = keep_trailer(connection, form, draft, trailer, customer_id)
        values: Json = {"customer_id": customer_id, "work": draft.work, "note": form.note.data}
        values |= {"staff_id": me["id"], "finished": moment if finish else None}
        values["note"] = (form.note.data or "").strip()
        job = keep_job(connection, job, trailer, key, values, moment)
        keep_bench(connection, draft, trailer, job, moment)
        open_lines = (due.c.job_id == job["id"], due.c.record_id.is_(None))
        connection.execute(delete(due).where(*open_lines))
        schedule.insert_due(connection, me["shop_id"], trailer["id"], job["id"], draft.lines)
        return job["id"], link_life.make(connection, trailer, job) if finish else None


def form_key(text: str) -> str:
    return text if len(text) == 36 else str(uuid7())


def new_customer(connection: Connection, form: JobForm, shop_id: int) -> int | None:
    if not form.customer_name.data:
        return None
    names = {"name": form.customer_name.data, "phone": form.customer_phone.data or "", "email": ""}
    done = connection.execute(customers.insert().values(shop_id=shop_id, **names))
    return int(done.inserted_primary_key[0])  # type: ignore[index]


def keep_trailer(
    connection: Connection,
    form: JobForm,
    draft: Draft,
    trailer: Json | None,
    customer_id: int | None,
) -> Json:
    values: Json = {"facts": draft.facts, "customer_id": customer_id}
    if trailer is None:
        values |= {"shop_id": session.me()["shop_id"], "record_id": str(uuid7())}
        values["name"] = form.trailer_name.data
        done = connection.execute(trailers.insert().values(**values))
        return values | {"id": int(done.inserted_primary_key[0])}  # type: ignore[index]
    values["customer_id"] = customer_id or trailer["customer_id"]
    connection.execute(update(trailers).where(trailers.c.id == trailer["id"]).values(**values))
    return trailer | values


def keep_job(
    connection: Connection,
    job: Json | None,
    trailer: Json,
    key: str,
    values: Json,
    moment: datetime,
) -> Json:
    if job is not None:
        connection.execute(update(jobs).where(jobs.c.id == job["id"]).values(**values))
        return job | values
    values |= {"shop_id": trailer["shop_id"], "trailer_id": trailer["id"], "form": key}
    done = connection.execute(jobs.insert().values(**values, opened=moment))
    return values | {"id": int(done.inserted_primary_key[0]), "record_id": None}  # type: ignore[index]


def keep_bench(
    connection: Connection, draft: Draft, trailer: Json, job: Json, moment: datetime
) -> None:
    """Records are append-only: a changed bench record is a new one, and the job names the last."""
    if draft.check is None:
        record_id = None
    else:
        before = bench.stored(connection, trailer["shop_id"], job["record_id"])
        if before is not None and before["facts"] == draft.check["facts"]:
            return
        record_id = bench.store_bench(connection, trailer["shop_id"], trailer, draft.check, moment)
    connection.execute(update(jobs).where(jobs.c.id == job["id"]).values(record_id=record_id))


# ---- a job, and the sheet that goes with the trailer -------------------------------------------


@blueprint.get("/jobs/<int:job_id>")
def show(job_id: int) -> ResponseReturnValue:
    return render_template("shop/job.html", **job_parts(job_id), button=ButtonForm())


@blueprint.get("/jobs/<int:job_id>/sheet")
def sheet(job_id: int) -> ResponseReturnValue:
    return render_template("shop/sheet.html", **job_parts(job_id), cautions=cautions())


# What a person at the first stop has to know before touching anything.
CAUTIONS = ("traffic", "burn", "fire", "maker")


def cautions() -> list[str]:
    return [say(f"caution-{name}") for name in CAUTIONS]


def found_words(check: Json | None) -> list[Json]:
    return [] if check is None else bench.finding_words(check["verdict"], axles_of(check["facts"]))


def job_parts(job_id: int) -> Json:
    """Everything that is shown of a job."""
    with store().reading() as connection:
        job = session.own(connection, jobs, job_id)
        trailer = session.own(connection, trailers, job["trailer_id"])
        customer = None
        if job["customer_id"]:
            customer = session.own(connection, customers, job["customer_id"])
        lines = connection.execute(
            select(due)
            .where(due.c.job_id == job_id)
            .order_by(due.c.at_km.is_(None), due.c.at_km, due.c.id)
        ).all()
        found = link_life.of_trailer(connection, job["trailer_id"], now())
        record = bench.stored(connection, job["shop_id"], job["record_id"])
    link = link_life.working(found, "job", job_id)
    secret = session.shown_secret(link["id"]) if link else None
    return {
        "job": job,
        "trailer": trailer,
        "customer": customer,
        "link": link,
        "record": record,
        "lines": [line for line in lines if line.dropped is None],
        "names": checks_by_name(),
        "address": app_address("from", secret) if secret else None,
        "work": schedule.work_done(job["work"], WORK),
        "leaving": schedule.work_done(job["work"], LEAVING),
        "findings": bench.finding_words(record["verdict"], axles_of(record["facts"]))
        if record
        else [],
    }
