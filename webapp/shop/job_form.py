"""A job as its form has it: what stands in the fields, and what is read from them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from checks.facts import BadInput
from checks.units import to_unit
from webapp.clock import local_now
from webapp.follow_up import schedule
from webapp.follow_up.schedule import CHECKS, LEAVING, WORK, Line
from webapp.shop import bench, measures, questions, session, work_record
from webapp.shop.forms import JobForm, given, tidy
from webapp.shop.numbers import read_number
from webapp.storage.models import customers
from webapp.storage.store import store
from webapp.wording import number_text, say

Json = dict[str, Any]
MOST_LINES = 40
LINE_KEYS = ("works", "keep", "check", "what", "at", "by", "was")
FARTHEST = 10_000.0  # miles
WHOLE_FROM = 30  # from here on a proposed distance is whole in kilometers, too


# ---- into the form ----------------------------------------------------------------------------


def proposed() -> list[Line]:
    return schedule.proposed(questions.book()["limits"], local_now().date())


def line_values(lines: list[Line]) -> Json:
    """The lines as fields, with empty ones for what the shop thinks of itself."""
    values: Json = {}
    own = [Line((), CHECKS[1], "", keep=False)] * schedule.OWN_LINES
    for number, line in enumerate([*lines, *own]):
        at = "" if line.at is None else at_text(line.at)
        values |= {
            f"line:{number}:works": " ".join(line.works),
            f"line:{number}:keep": "1" if line.keep else "",
            f"line:{number}:check": line.check,
            f"line:{number}:what": line.what,
            f"line:{number}:at": at,
            f"line:{number}:by": "" if line.by is None else line.by.isoformat(),
            # A day that has come since the line was stored may stay.
            f"line:{number}:was": "" if line.by is None else line.by.isoformat(),
        }
    return values


def at_text(miles: float) -> str:
    """Miles as the form has them, in the shop's unit."""
    if measures.system() == measures.US:
        return f"{miles:g}"
    km = to_unit(miles, "mi", "km")
    return f"{km:.0f}" if km >= WHOLE_FROM else f"{round(km, 1):g}"


def line_numbers(values: Mapping[str, str]) -> list[int]:
    found = [key.split(":")[1] for key in values if key.startswith("line:")]
    return sorted({int(one) for one in found if questions.ID.fullmatch(one)})[:MOST_LINES]


# ---- from the form ----------------------------------------------------------------------------


@dataclass
class Draft:
    """A job as it was filled in; ``wrong`` says by field what has to be put right."""

    facts: Json
    work: list[str]
    lines: list[Line]
    trailer_name: str = ""
    customer_name: str = ""
    customer_phone: str = ""
    note: str = ""
    work_order: str = ""
    plate: str = ""
    vin: str = ""
    parts: dict[str, str] = field(default_factory=dict)
    check: Json | None = None
    customer_id: int | None = None
    wrong: dict[str, str] = field(default_factory=dict)


def read_draft(form: JobForm, sent: Mapping[str, str], trailer: Json | None) -> Draft:
    known = {} if trailer is None else trailer["facts"]
    facts = known | questions.profile_answers(sent)
    work = [name for name in (*WORK, *LEAVING) if sent.get(f"work:{name}")]
    draft = Draft(
        facts,
        work,
        [],
        trailer_name=given(form.trailer_name),
        customer_name=given(form.customer_name),
        customer_phone=given(form.customer_phone),
        note=given(form.note),
        work_order=given(form.work_order),
        plate=given(form.plate).upper(),
        vin=given(form.vin).upper(),
    )
    draft.parts, odd = work_record.read(sent)
    draft.wrong |= odd
    read_lines(sent, draft)
    read_customer(sent, draft)
    try:
        bench.judged(facts, local_now())
        found = questions.bench_answers(sent, bench.axles_of(facts))
        if found:
            only = {name: facts[name] for name in ("axles", "brakes") if name in facts}
            draft.check = bench.judged(only | found, local_now())
    except BadInput as error:
        draft.wrong["facts"] = questions.mistake(error)
    if draft.check is not None and "axles" not in facts:
        draft.wrong["facts"] = say("form-axles-missing")
    return draft


def read_customer(sent: Mapping[str, str], draft: Draft) -> None:
    text = sent.get("customer", "")
    if not text:
        return
    if draft.customer_name:
        draft.wrong["customer"] = say("form-customer-both", name=draft.customer_name)
        return
    with store().reading() as connection:
        if not questions.ID.fullmatch(text):
            draft.wrong["customer"] = say("form-customer-odd")
        else:
            draft.customer_id = session.kept(connection, customers, int(text))["id"]


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


def read_miles(text: str) -> float | None:
    """The miles that are meant by a number in the shop's unit."""
    at = read_number(text)
    if at is None or measures.system() == measures.US:
        return at
    return round(to_unit(at, "km", "mi"), 3)


def read_line(works: tuple[str, ...], get: Mapping[str, str]) -> Line:
    """Raises ``ValueError`` with words for the person at the form."""
    what = tidy(get["what"])[:200]
    if get["check"] not in CHECKS:
        raise ValueError(say("form-line-check-missing"))
    if not what:
        raise ValueError(say("form-line-what-missing"))
    at = by = None
    if get["at"]:
        at = read_miles(get["at"])
        if at is None or not 0 < at <= FARTHEST:
            most = measures.plain(to_unit(FARTHEST, "mi", "km"), "km")
            unit = measures.distance_word()
            raise ValueError(say("form-line-at-odd", most=number_text(most), unit=unit))
    if get["by"]:
        by = schedule.day(get["by"])
        if by is None:
            raise ValueError(say("form-line-by-odd"))
        if by < local_now().date() and get["by"] != get["was"]:
            raise ValueError(say("form-line-by-past"))
    return Line(works, get["check"], what, at=at, by=by)
