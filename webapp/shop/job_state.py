"""A job as one flat mapping: what a form was drawn from, what is stored now, and the two merged.

Keys are ``fact:NAME``, ``work:NAME``, ``bench:FACT@PLACE``, ``part:NAME``, ``lines`` (each
``[check, what, miles, day]``), ``customer`` (an id), and the names of the fields that are typed.
What is not answered has no key.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any, TypedDict

from sqlalchemy import Connection, select

from checks.units import to_unit
from webapp.follow_up import schedule
from webapp.follow_up.schedule import Line
from webapp.shop import bench, measures, questions, work_record
from webapp.shop.job_form import Draft, line_values
from webapp.storage.models import due
from webapp.wording import place_text, say

Json = dict[str, Any]
MOST = 100_000  # characters of a state, as it goes through the form


def stored(connection: Connection, trailer: Json | None, job: Json | None) -> Json:
    """What is stored of a job and of its trailer; of a job that is not yet there, the trailer's."""
    found: Json = {}
    if trailer is not None:
        found |= keyed("fact", trailer["facts"]) | {n: trailer[n] for n in ("plate", "vin")}
        found["customer"] = trailer["customer_id"]
    if job is None:
        return present(found)
    record = bench.stored(connection, job["shop_id"], job["record_id"])
    if record is not None:
        found |= keyed("bench", record["facts"])
    found |= {f"work:{name}": True for name in job["work"]} | keyed("part", job["parts"])
    found |= {name: job[name] for name in ("note", "work_order")}
    found |= {"customer": job["customer_id"], "finished": job["finished"] is not None}
    found["lines"] = plain_lines(lines_of(connection, job))
    return present(found)


def lines_of(connection: Connection, job: Json) -> list[Line]:
    """The due checks of a job that nobody has done or dropped."""
    wanted = select(due).where(due.c.job_id == job["id"], *schedule.WAITING).order_by(due.c.id)
    rows = connection.execute(wanted).mappings()
    return schedule.kept_lines(dict(row) for row in rows)


def drafted(draft: Draft, finished: bool) -> Json:
    """What a form asks to store."""
    found = keyed("fact", draft.facts) | {f"work:{name}": True for name in draft.work}
    found |= keyed("part", draft.parts)
    if draft.check is not None:
        found |= keyed("bench", draft.check["facts"])
    found |= {name: getattr(draft, name) for name in TYPED}
    found |= {"customer": draft.customer_id, "finished": finished}
    found["lines"] = plain_lines(draft.lines)
    return present(found)


TYPED = ("note", "work_order", "plate", "vin", "customer_name", "customer_phone")


def keyed(head: str, values: Mapping[str, Any]) -> Json:
    return {f"{head}:{name}": value for name, value in values.items()}


def present(found: Json) -> Json:
    return {key: value for key, value in found.items() if value not in ("", None, False, [])}


def plain_lines(lines: list[Line]) -> list[list[Any]]:
    """In an order of their own: forms and rows have others."""
    plain = [[x.check, x.what, x.at, None if x.by is None else x.by.isoformat()] for x in lines]
    return sorted(plain, key=str)


# ---- through the form ---------------------------------------------------------------------------


def packed(state: Json) -> str:
    return json.dumps(state, sort_keys=True, separators=(",", ":"))


def unpacked(text: str) -> Json:
    """What ``packed`` made; nothing where it is something else, so that all that differs shows."""
    try:
        found = json.loads(text) if len(text) <= MOST else {}
    except (ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}


def values(state: Json, proposed: list[Line], known: bool) -> dict[str, str]:
    """The state as the fields of the form; the lines of a job that is ``known`` are its own."""
    found = {f"fact:{name}": str(value) for name, value in part(state, "fact").items()}
    found |= {key: "1" for key in state if key.startswith("work:")}
    found |= {f"part:{name}": str(value) for name, value in part(state, "part").items()}
    found["customer"] = str(state.get("customer") or "")
    answers = part(state, "bench")
    if answers:
        found |= questions.bench_values(answers)
    lines = schedule.with_proposed(read_lines(state), proposed) if known else proposed
    return found | line_values(lines)


def read_lines(state: Json) -> list[Line]:
    return [
        Line((), check, what, at=at, by=None if by is None else schedule.day(by))
        for check, what, at, by in state.get("lines", [])
    ]


def part(state: Json, head: str) -> Json:
    cut = len(head) + 1
    return {key[cut:]: value for key, value in state.items() if key.startswith(f"{head}:")}


# ---- two people -------------------------------------------------------------------------------


def changed(before: Json, after: Json) -> list[str]:
    """The keys whose values differ, in a fixed order."""
    return sorted(key for key in before.keys() | after.keys() if before.get(key) != after.get(key))


def merged(base: Json, theirs: Json, mine: Json) -> Json:
    """What both changed stays as ``mine`` has it; what only they changed, as ``theirs`` has it."""
    found = dict(mine)
    for key in changed(base, theirs):
        if mine.get(key) != base.get(key):
            continue
        found.pop(key, None)
        if key in theirs:
            found[key] = theirs[key]
    return found


def taken(mine: Json, base: Json, keys: list[str]) -> Json:
    """``mine``, but of these keys what stood there before."""
    found = {key: value for key, value in mine.items() if key not in keys}
    return found | {key: base[key] for key in keys if key in base}


class Change(TypedDict):
    """What somebody else changed; ``clash``: it was changed here too."""

    key: str
    what: str
    theirs: str
    mine: str
    clash: bool


def told(base: Json, theirs: Json, mine: Json, form: Any = ()) -> list[Change]:
    """What they changed meanwhile; ``form`` has the labels and choices of its own fields.

    What neither has any more is left out: ``base`` came through a form, and may name what is none.
    """
    return [
        {
            "key": key,
            "what": str(form[key].label.text) if key in form else label(key),
            "theirs": text(key, theirs.get(key), form),
            "mine": text(key, mine.get(key), form),
            "clash": mine.get(key) not in (base.get(key), theirs.get(key)),
        }
        for key in changed(base, theirs)
        if key in theirs or key in mine
    ]


def label(key: str) -> str:
    head, _, name = key.partition(":")
    if head == "fact":
        return asked(name)
    if head == "bench":
        name, _, place = name.partition("@")
        where = place_text(place, questions.MOST_AXLES)
        return asked(name) + (f" ({where})" if where else "")
    if head == "work":
        return say(f"form-work-{name}")
    if head == "part":
        return work_record.label(name)
    return say(f"form-state-{key.replace('_', '-')}")


def asked(name: str) -> str:
    return str(questions.question(name)["ask"]) if name in questions.book()["facts"] else name


def text(key: str, value: Any, form: Any = ()) -> str:
    """A value as people read it."""
    head, _, name = key.partition(":")
    if key in form and (choices := getattr(form[key], "choices", None)):
        return str(dict(choices).get(value, value))
    if value in (None, "", False):
        return say("form-state-nothing")
    if value is True:
        return say("form-state-yes")
    if key == "lines":
        return "; ".join(line_text(*line) for line in value)
    if key == "customer":
        return say("form-state-another") if value else say("form-state-nothing")
    if head in ("fact", "bench"):
        options = questions.question(name.partition("@")[0])["options"]
        return str(dict(options).get(str(value), value))
    return str(value)


def line_text(_check: str, what: str, at: float | None, by: str | None) -> str:
    far = "" if at is None else measures.distance(to_unit(at, "mi", "km"))
    return ", ".join(part for part in (what, far, by) if part)
