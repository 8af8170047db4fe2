"""For who runs the server: is it alive, can it work, and what has it done."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from functools import cache
from time import perf_counter

from flask import Blueprint, Flask, Response, abort, current_app, g, jsonify
from flask.typing import ResponseReturnValue
from prometheus_client import CONTENT_TYPE_LATEST, CollectorRegistry, Histogram, generate_latest
from prometheus_client import multiprocess as processes
from sqlalchemy import func, select, text
from sqlalchemy.exc import SQLAlchemyError

from checks.words import FIRST, words
from webapp import logs
from webapp.storage.migrate import newest, reached
from webapp.storage.models import mails
from webapp.storage.store import store

blueprint = Blueprint("watching", __name__)

LEAST_FREE = 100_000_000  # bytes; a full disk refuses records, and this many photos still fit
# No address, login or path: the rule that a path matched says no more than which page it was.
ANSWERS = Histogram(
    "twentymile_answer_seconds",
    words(FIRST).say("cli-metrics-answers"),
    ("method", "page", "status"),
    buckets=(0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10),
)


def init_app(app: Flask) -> None:
    """Count, where somebody may read the counts."""
    if app.config["METRICS"]:
        app.before_request(begin)
        app.after_request(note)


def begin() -> None:
    g.begun = perf_counter()


def note(response: Response) -> Response:
    took = perf_counter() - g.get("begun", perf_counter())
    ANSWERS.labels(logs.method(), logs.page(), str(response.status_code)).observe(took)
    return response


@blueprint.get("/healthz")
def alive() -> Response:
    """200 as long as the process answers."""
    return jsonify(status="ok")


@blueprint.get("/readyz")
def ready() -> ResponseReturnValue:
    """200 when records can be taken; else 503, and which part stands in the way."""
    parts = {"database": database, "tables": tables, "disk": disk}
    found = {name: told(look) for name, look in parts.items()}
    fine = set(found.values()) == {"ok"}
    return jsonify(status="ok" if fine else "not_ready", **found), 200 if fine else 503


def told(look: Callable[[], str]) -> str:
    try:
        return look()
    except (SQLAlchemyError, OSError):
        current_app.logger.exception("silent")
        return "silent"


def database() -> str:
    with store().reading() as connection:
        connection.execute(text("SELECT 1"))
    return "ok"


def tables() -> str:
    with store().reading() as connection:
        return "ok" if reached(connection) == wanted() else "other_release"


@cache
def wanted() -> str:
    return newest()


def disk() -> str:
    data = current_app.config["DATA"]
    if not os.access(data, os.W_OK | os.X_OK):
        return "unwritable"
    return "ok" if shutil.disk_usage(data).free >= LEAST_FREE else "full"


@blueprint.get("/metrics")
def metrics() -> Response:
    """Counts of all processes in the text format that OpenMetrics grew out of."""
    if not current_app.config["METRICS"]:
        abort(404)
    registry = CollectorRegistry()
    if "PROMETHEUS_MULTIPROC_DIR" in os.environ:
        processes.MultiProcessCollector(registry)  # type: ignore[no-untyped-call]
    else:
        registry.register(ANSWERS)
    return Response(generate_latest(registry) + waiting(), content_type=CONTENT_TYPE_LATEST)


def waiting() -> bytes:
    """What waits, counted now; each host would say the same."""
    with store().reading() as connection:
        unsent, tried = connection.execute(
            select(func.count(), func.count(mails.c.next_try)).where(mails.c.sent.is_(None))
        ).one()
    free = shutil.disk_usage(current_app.config["DATA"]).free
    rows = (
        ("twentymile_mails_waiting", tried),
        ("twentymile_mails_given_up", unsent - tried),
        ("twentymile_disk_free_bytes", free),
    )
    return "".join(f"# TYPE {name} gauge\n{name} {value}\n" for name, value in rows).encode()
