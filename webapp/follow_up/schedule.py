"""Which checks should come back after which work. The distances are limits of the rulebook."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from functools import cache
from typing import Any, TypedDict

from sqlalchemy import Connection, delete, select, update

from checks.units import to_unit
from checks.words import finished, words
from webapp.clock import now
from webapp.storage.models import due
from webapp.wording import say, say_to

# What may have been worked on, and how the trailer leaves.
WORK = ("bearings", "wheels", "brakes", "tires", "lamps", "coupling", "body")
LEAVING = ("loaded", "storage")
CHECKS = ("quick_stop", "run_stop", "nuts_stop", "load_stop", "walkaround", "tires")


# A check that is due, and that nobody has done or dropped.
WAITING = (due.c.record_id.is_(None), due.c.dropped.is_(None))


@dataclass(frozen=True)
class Line:
    """A check that should come back: after ``at`` miles, or by a day, or both.

    ``works``: proposed where one of these was worked on; an own line has none. ``what`` is what
    to look for; in ``LINES`` the name of its words.
    """

    works: tuple[str, ...]
    check: str
    what: str
    limit: str = ""
    at: float | None = None
    by: date | None = None
    keep: bool = True


HUBS_OPEN = ("bearings", "brakes")
WHEEL_OFF = ("wheels", "bearings", "brakes", "tires")
LINES = (
    Line(WHEEL_OFF, "nuts_stop", "form-due-nuts-first", "nuts_first"),
    Line(HUBS_OPEN, "quick_stop", "form-due-hubs", "hub_stop"),
    Line(WHEEL_OFF, "nuts_stop", "form-due-nuts-second", "nuts_second"),
    Line(("loaded",), "load_stop", "form-due-load", "load_first"),
    Line(WHEEL_OFF, "nuts_stop", "form-due-nuts-third", "nuts_third"),
    Line((*WHEEL_OFF, "loaded"), "run_stop", "form-due-way-back"),
    Line(("storage",), "walkaround", "form-due-storage"),
)
OWN_LINES = 2


def proposed(limits: Mapping[str, Any], today: date) -> list[Line]:
    """All lines with their miles and day filled in; ``limits`` are the rulebook's."""
    late = today + timedelta(days=round(in_unit(limits["follow_up.ask_after"], "day")))
    lines = []
    for line in LINES:
        at = in_unit(limits[f"follow_up.{line.limit}"], "mi") if line.limit else None
        lines.append(
            replace(line, what=say(line.what), at=at, by=None if "storage" in line.works else late)
        )
    return lines


def what_due(what: str, reader: str = "") -> str:
    """What to look for, as the reader reads it where it was proposed; a person's own line stays."""
    name = proposals().get(what)
    return what if name is None else say_to(reader, name)


@cache
def proposals() -> dict[str, str]:
    """The words of each proposed line, by what it says in any language."""
    return {words(one).say(line.what): line.what for one in finished() for line in LINES}


def work_words(names: Iterable[str]) -> dict[str, str]:
    return {name: say(f"form-work-{name}") for name in names}


def work_done(done: Iterable[str], names: tuple[str, ...]) -> list[str]:
    """The words of what was done, of ``names``; other releases may have known more."""
    return [say(f"form-work-{name}") for name in done if name in names]


def in_unit(limit: Mapping[str, Any], unit: str) -> float:
    return to_unit(float(limit["value"]), limit["unit"], unit)


def kept_lines(rows: Iterable[Mapping[str, Any]]) -> list[Line]:
    """Rows of ``due`` as lines."""
    return [
        Line((), row["check"], what_due(row["what"]), at=miles(row["at_km"]), by=day_of(row["by"]))
        for row in rows
    ]


def with_proposed(kept: list[Line], lines: list[Line]) -> list[Line]:
    """The lines of a job that is there already: those kept, then what was proposed besides."""
    taken = {(line.check, line.what) for line in kept}
    return kept + [replace(x, keep=False) for x in lines if (x.check, x.what) not in taken]


def miles(km: float | None) -> float | None:
    return None if km is None else round(to_unit(km, "km", "mi"), 3)


def day_of(moment: datetime | None) -> date | None:
    return None if moment is None else moment.date()


def day(text: str) -> date | None:
    """A day as forms send it, or None."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def renew_due(connection: Connection, job: Mapping[str, Any], lines: Iterable[Line]) -> None:
    """Store the lines of a job as checks that are due, counted from now.

    One that is there already keeps its row, which a customer's phone may know; what is no longer
    wanted is dropped, so that what came back for it still has its line.
    """
    wanted = select(due).where(due.c.job_id == job["id"], *WAITING).order_by(due.c.id)
    rows = connection.execute(wanted).mappings().all()
    there: dict[Any, list[Any]] = {}
    for one in rows:
        there.setdefault((one["check"], what_due(one["what"])), []).append(one)
    for line in lines:
        same = there.get((line.check, what_due(line.what)))
        row, values = same.pop(0) if same else None, stored_line(line)
        if row is None:
            insert(connection, job, values)
        elif any(row[name] != value for name, value in values.items()):
            connection.execute(update(due).where(due.c.id == row["id"]).values(**values))
    for row in itertools.chain.from_iterable(there.values()):
        if job["finished"] is None:
            connection.execute(delete(due).where(due.c.id == row["id"]))
        else:
            connection.execute(update(due).where(due.c.id == row["id"]).values(dropped=now()))


class StoredLine(TypedDict):
    """The columns of a due check that its line fills; ``at_km`` in kilometres."""

    check: str
    what: str
    at_km: float | None
    by: datetime | None


def stored_line(line: Line) -> StoredLine:
    at_km = None if line.at is None else to_unit(line.at, "mi", "km")
    by = None if line.by is None else datetime.combine(line.by, time(12), UTC)
    return {"check": line.check, "what": line.what, "at_km": at_km, "by": by}


def insert(connection: Connection, job: Mapping[str, Any], values: Mapping[str, Any]) -> None:
    whose = {"shop_id": job["shop_id"], "trailer_id": job["trailer_id"], "job_id": job["id"]}
    connection.execute(due.insert().values(**whose, **values))
