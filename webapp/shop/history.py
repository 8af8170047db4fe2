"""A trailer's file: every check over the years, its hubs and tires drawn, on a page or paper."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, TypedDict

from flask import Blueprint, Response, render_template, request
from flask.typing import ResponseReturnValue
from sqlalchemy import Connection, select

from checks.facts import wheel_order
from checks.history import Kept
from checks.units import to_unit
from webapp.follow_up import schedule
from webapp.follow_up.schedule import WORK
from webapp.shop import inbox, measures, reading, session
from webapp.shop.plots import Plot, Reading, Row, plots
from webapp.shop.print.years import pdf as drawn_pdf
from webapp.shop.years import Years, years
from webapp.storage.models import jobs, records, trailers
from webapp.storage.store import AnyRow, store
from webapp.wording import number_text, place_text, say, unit_text

blueprint = Blueprint("history", __name__, url_prefix="/shop")
Json = dict[str, Any]
PAGE = 200
VAGUE = 50.0  # kelvin: an answer that leaves more open than this tells nothing on a plot
HOTTEST = 111.0  # kelvin above the air; what is hotter ends at the edge
WHEEL = re.compile(r"@([1-9])")


@blueprint.get("/trailers/<int:trailer_id>/file")
def show(trailer_id: int) -> ResponseReturnValue:
    before = request.args.get("before", "")
    with store().reading() as connection:
        trailer = session.kept(connection, trailers, trailer_id)
        rows, done = newest(connection, trailer, before), jobs_of(connection, trailer)
        drawn = over_the_years(connection, trailer, rows[:PAGE], done)
    return render_template(
        "shop/history.html",
        trailer=trailer,
        checks=[inbox.line(row) for row in rows[:PAGE]],
        jobs=done,
        more=rows[PAGE - 1].made_ms if len(rows) > PAGE else None,
        before=before,
        years=drawn,
        heat=heat(rows[:PAGE]),
        degrees=degree_label(),
        work=schedule.work_words(WORK),
    )


@blueprint.get("/trailers/<int:trailer_id>/years.pdf")
def pdf(trailer_id: int) -> Response:
    """The plots on paper."""
    with store().reading() as connection:
        trailer = session.kept(connection, trailers, trailer_id)
        rows = newest(connection, trailer, request.args.get("before", ""))[:PAGE]
        drawn = over_the_years(connection, trailer, rows, jobs_of(connection, trailer))
    made = drawn_pdf(trailer["name"], drawn, session.me())
    headers = {"Content-Disposition": f'inline; filename="years-{trailer_id}.pdf"'}
    return Response(made, mimetype="application/pdf", headers=headers)


def newest(connection: Connection, trailer: Json, before: str) -> Sequence[AnyRow]:
    """The trailer's checks, newest first, one more than a page; ``before``: ms since 1970."""
    wanted = inbox.check_rows().where(
        records.c.trailer_key == trailer["id"],
        records.c.shop_id == trailer["shop_id"],
        records.c.kind == "check",
    )
    if before.isascii() and before.isdigit() and len(before) < 16:
        wanted = wanted.where(records.c.made_ms < int(before))
    return connection.execute(wanted.order_by(records.c.made_ms.desc()).limit(PAGE + 1)).all()


def jobs_of(connection: Connection, trailer: Json) -> Sequence[AnyRow]:
    wanted = select(jobs).where(jobs.c.trailer_id == trailer["id"])
    return connection.execute(wanted.order_by(jobs.c.opened.desc())).all()


def over_the_years(
    connection: Connection, trailer: Json, rows: Iterable[Any], done: Iterable[Any]
) -> list[Years]:
    """The plots of the checks in ``rows``; ``done`` are the trailer's jobs."""
    bodies = [(row.made_ms, json.loads(row.record)["body"]) for row in rows]
    checks = [Kept(at, body) for at, body in sorted(bodies, key=lambda one: one[0])]
    runs = connection.execute(
        select(records.c.record).where(
            records.c.trailer_key == trailer["id"],
            records.c.shop_id == trailer["shop_id"],
            records.c.kind == "run",
        )
    ).scalars()
    works = [job.finished.timestamp() * 1000 for job in done if opened_hub(job)]
    return years(checks, [ended(json.loads(run)) for run in runs], works, axles_in(checks))


class Ended(TypedDict):
    """When a run ended, in ISO 8601, and how far it went, in kilometres."""

    ended: str
    km: float


def ended(record: Mapping[str, Any]) -> Ended:
    body = record["body"]
    return {"ended": body["ended"] or record["made"], "km": body["km"]}


def axles_in(checks: Iterable[Kept]) -> int:
    """As many axles as any answer names."""
    named = (WHEEL.search(key) for one in checks for key in one.facts)
    return max((int(found[1]) for found in named if found), default=1)


def opened_hub(job: Any) -> bool:
    return job.finished is not None and bool(set(schedule.HUBS_OPEN) & set(job.work))


def heat(rows: Iterable[Any]) -> list[Plot]:
    """For each wheel that was felt or measured how warm it was above the air, oldest first."""
    found: dict[str, list[Reading]] = {}
    for row in sorted(rows, key=lambda one: one.made_ms):
        for wheel, (low, high) in reading.hub_rises(json.loads(row.record)["body"]).items():
            if high - low <= VAGUE:
                least, most = (degrees(min(end, HOTTEST)) for end in (low, high))
                found.setdefault(wheel, []).append(Reading(row.made_ms, least, most, rough=True))
    axles = max((int(wheel[0]) for wheel in found), default=1)
    return plots(
        [
            Row(place_text(wheel, axles), told(found[wheel]), found[wheel])
            for wheel in sorted(wheel_order(axles))
            if wheel in found
        ],
        degree_label(),
    )


def told(readings: Sequence[Reading]) -> str:
    last = readings[-1]
    ends = {"low": number_text(last.low), "high": number_text(last.high)}
    return say("shop-history-told", count=len(readings), **ends, unit=degree_label())


def degree_label() -> str:
    """``°F`` or ``°C``."""
    return unit_text(measures.unit_of("K"))


def degrees(kelvin: float) -> float:
    """A difference of temperatures in the shop's degrees."""
    return to_unit(kelvin, "K", measures.unit_of("K"))
