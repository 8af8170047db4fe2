"""A stored check in words: what the customer saw, what the server says, the answers, the working.

The phone's verdict is data from outside: whatever in it is not as expected is left away here.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Mapping
from datetime import datetime
from typing import Any, TypedDict

from sqlalchemy import Connection

from checks import sources
from checks.explain import decided_by, explain
from checks.facts import BadInput
from checks.formula import Case, Value, place_for
from checks.interval import YES
from checks.judge import read_case
from checks.rulebook import Rulebook, load
from checks.rules import PRACTICE
from checks.sources import Piece
from checks.units import to_unit, units, with_label
from checks.words import finished, words
from webapp.clock import made_at, moment
from webapp.engine import engine
from webapp.follow_up.shelves import SHELVES
from webapp.follow_up.verdicts import Finding, Found, Seen, as_seen, is_held
from webapp.shop import measures, release
from webapp.shop.release import Release
from webapp.wording import finding_title, language, place_text, said, say, unit_text

Json = dict[str, Any]
Said = Callable[[str, str], str]


def told(row: Mapping[str, Any], connection: Connection) -> Json:
    """The check of a row of ``records``, ready for a page or a print.

    Each verdict is worded by the rules it was made with, where they are kept.
    """
    one = json.loads(row["record"])
    body, server = one["body"], json.loads(row["verdict"])
    phone = as_seen(body["verdict"])
    case = case_of(body)
    axles = 1 if case is None else len({wheel[0] for wheel in case.wheels})
    shown = phone if phone["level"] else as_seen(server)
    worst = worst_of(phone["level"], as_seen(server)["level"])
    theirs = release.of(connection, body["check"], body["rulebook"])
    ours = release.of(connection, body["check"], str(server.get("rulebook", "")))
    used = theirs if phone["level"] else ours
    held = is_held(row)
    stays = held or worst in ("stop", "mend")
    return {
        "id": row["id"],
        "check": body["check"],
        "by": body.get("by"),
        "name": said(f"check-{body['check']}", body["check"]),
        "date": body["date"],
        **times(row, one["made"]),
        "received": datetime.fromtimestamp(row["received_ms"] / 1000).astimezone(),
        "level": shown["level"] or "unchecked",
        "held": held,
        "phone": phone,
        "server": as_seen(server),
        "differ": differ(phone, as_seen(server)),
        "rulebooks": {"phone": body["rulebook"], "server": str(server.get("rulebook", ""))},
        "readiness": readiness(row, worst, body["verdict"]),
        "coverage": coverage_of(body["verdict"].get("coverage")),
        "findings": [advised(one, axles, used, stays=stays) for one in shown["findings"]],
        "server_findings": [
            advised(one, axles, ours, stays=stays) for one in as_seen(server)["findings"]
        ],
        "cannot_tell": [doubted(one, axles, used) for one in shown["cannot_tell"]],
        "working": working(shown["findings"], case, axles),
        "answers": answers(body, axles, theirs),
        "axles": axles,
    }


class Times(TypedDict):
    """When a check was made, and what to say where the phone's clock was wrong."""

    made: datetime
    clock: str


def times(row: Mapping[str, Any], made: str) -> Times:
    """When it was made, by this server's clock where the phone's was off, which ``clock`` says."""
    ours = made_at(made, row["made_ms"], row["clock_s"])
    if row["clock_s"] is None:
        return {"made": ours, "clock": ""}
    text = moment(made).strftime("%Y-%m-%d %H:%M")  # as the phone had it, right or wrong
    return {"made": ours, "clock": say("shop-clock-off", made=text)}


def readiness(row: Mapping[str, Any], level: str, verdict: Json) -> list[int] | None:
    """The number is for what may be driven: one fault outweighs all that is sound."""
    if level in ("stop", "mend") or is_held(row):
        return None
    return pair_of(verdict.get("readiness"))


def pair_of(given: Any) -> list[int] | None:
    good = isinstance(given, list) and len(given) == 2 and all(type(n) is int for n in given)
    return given if good else None


def coverage_of(given: Any) -> Json | None:
    counts = given if isinstance(given, dict) else {}
    good = all(type(counts.get(key)) is int for key in ("answered", "asked"))
    return counts if good else None


def differ(phone: Seen, server: Seen) -> bool:
    """Whether phone and server came to another level or to other findings."""

    def essence(verdict: Seen) -> tuple[str | None, list[str]]:
        return verdict["level"], sorted(map(str, verdict["findings"]))

    return essence(phone) != essence(server)


def worded(one: Found, axles: int, by: Release | None = None) -> Json:
    """A finding with the words of a release (today's, if none is given); else named by its id."""
    by = by or release.today()
    name, said, plain = f"finding-{one['finding']}", by.said, one["finding"].replace("_", " ")
    entry = by.rules["findings"].get(one["finding"], {})
    return dict(one) | {
        "where": place_text(one["place"], axles),
        "title": finding_title(one["finding"], one["place"], plain, said),
        "do": said(f"{name}.do", ""),
        "why": said(f"{name}.why", ""),
        "cautions": [said(f"caution-{c}", c) for c in entry.get("cautions", [])],
        "source": source_pieces(entry.get("source", ""), said),
        "standing": said(f"standing-{entry.get('standing')}", ""),
    }


def worst_of(*levels: str | None) -> str:
    """The worst of some levels; what was not said is passed over."""
    told = [level for level in levels if level]
    return min(told, key=SHELVES.__getitem__, default="unchecked")


def advised(one: Finding, axles: int, by: Release, *, stays: bool) -> Json:
    """A finding with its words, as it is to be followed where the trailer ``stays`` or not."""
    entry = worded(one, axles, by)
    return entry | {"do": to_do(one, entry["do"], stays=stays)}


def to_do(one: Finding, text: str, *, stays: bool) -> str:
    """What to do about a finding: beside what keeps the trailer where it is, a milder one that
    sends on comes after. By today's rules, as others may not say which do; its twin is in
    ``static/parts/findings.js``."""
    sends_on = engine().whole.get("findings", {}).get(one["finding"], {}).get("sends_on")
    waits = text and sends_on and one["level"] == "look" and stays
    return say("app-found-then", do=text) if waits else text


def source_pieces(source: str, by: Said) -> list[Piece]:
    """None where nothing was read: the standing says so."""
    if source.lower() == PRACTICE.lower():
        return []
    return sources.pieces(source, lambda name: by(name, ""))


def found_words(findings: Iterable[Found], body: Json) -> list[str]:
    """Findings of a check in a few words each: ``Left wheel: Smoke at this wheel``."""
    axles = axles_of(body)
    told = (worded(one, axles) for one in findings)
    return [": ".join(filter(None, (one["where"], one["title"]))) for one in told]


def doubted(one: Finding, axles: int, by: Release) -> Json:
    """A doubt with its words: what it could be, and what would tell."""
    entry = worded(one, axles, by)
    plain = say("app-doubt", what=entry["title"])
    return entry | {"title": by.said(f"finding-{one['finding']}.doubt", plain)}


# ---- answers ------------------------------------------------------------------------------------


class Answer(TypedDict):
    """A question and its answer, in words."""

    key: str
    ask: str
    where: str
    text: str


def answers(body: Json, axles: int, by: Release) -> list[Answer]:
    """What was answered, in walking order."""
    order = {name: number for number, name in enumerate(facts_in_order(by.rules))}
    keys = [key for key in body["facts"] if key.partition("@")[0] in order]
    keys.sort(key=lambda key: (order[key.partition("@")[0]], key))
    return [
        {
            "key": key,
            "ask": by.said(f"fact-{key.partition('@')[0]}", key.partition("@")[0]),
            "where": place_text(key.partition("@")[2], axles),
            "text": answer_text(key, body, by),
        }
        for key in keys
    ]


def facts_in_order(book: Json) -> list[str]:
    asked = [f for station in book["stations"] for p in station["points"] for f in p["facts"]]
    return list(dict.fromkeys([*asked, *book["facts"]]))


def answer_text(key: str, body: Json, by: Release) -> str:
    """An answer as the person gave it, with the unit that was typed."""
    typed, value = body["typed"].get(key), body["facts"][key]
    book, said = by.rules, by.said
    if isinstance(typed, str) and typed:
        return typed_words(typed, book)
    name = key.partition("@")[0]
    if value is None:
        return say("app-not-sure")
    if isinstance(value, list) and book["facts"][name]["kind"] == "choice":
        return f" {say('shop-answer-or')} ".join(
            said(f"fact-{name}.choice-{one}", str(one)) for one in value
        )
    if isinstance(value, str):
        return said(f"fact-{name}.choice-{value}", unit_in_words(value, book))
    ends = value if isinstance(value, list) else [value]
    unit = book["facts"][name].get("unit", "")
    return joined([number_text(end, unit, book) for end in ends])


def number_text(end: Any, unit: str, book: Json) -> str:
    """One end of an answer: a bare number in the shop's unit, text as it was given."""
    if not is_number(end):
        return unit_in_words(str(end), book)
    if unit not in units():
        return f"{end:g}"
    return measures.text((end, end), unit)


def joined(texts: list[str]) -> str:
    """Both ends of an answer; one unit does for both."""
    number, _, unit = texts[0].partition(" ")
    if unit and len(texts) == 2 and texts[1].endswith(f" {unit}"):
        texts = [number, texts[1]]
    return f" {say('shop-answer-to')} ".join(texts)


def axles_of(body: Json) -> int:
    """How many axles the answers speak of; a place names at least its own."""
    told = body["facts"].get("axles", 1)
    named = [int(key[-2]) for key in body["facts"] if re.search(r"@[1-9][LR]\Z", key)]
    return max([told if type(told) is int else 1, *named])


def table_answers(body: Json, axles: int, by: Release) -> list[str]:
    """Question, place and answer in one text each, in walking order."""
    found = []
    for one in answers(body, axles, by):
        where = f" ({one['where']})" if one["where"] else ""
        found.append(f"{one['ask']}{where} {in_shop_units(one['key'], body, by)}")
    return found


def worth(value: Any, base: str) -> float | None:
    """``3500 lb`` or a bare number as a number in ``base``; None where it is neither."""
    found = GIVEN.match(value) if isinstance(value, str) else None
    if found is None:
        return float(value) if is_number(value) else None
    kind = units()[base]["dimension"]
    named = [n for n, unit in units().items() if found[2] in (n, unit["label"])]
    unit = next((name for name in named if units()[name]["dimension"] == kind), None)
    return None if unit is None else to_unit(float(found[1]), unit, base)


GIVEN = re.compile(r"(-?[0-9.]+) ?(\S+)\Z")


def in_shop_units(key: str, body: Json, by: Release) -> str:
    """An answer for a table: numbers in the shop's units, whichever they were given in."""
    name = key.partition("@")[0]
    fact, value = by.rules["facts"][name], body["facts"][key]
    base = fact.get("unit", "")
    ends = value if isinstance(value, list) else [value]
    if fact["kind"] != "number" or base in ("", "count") or base not in units() or value is None:
        return answer_text(key, body | {"typed": {}}, by)
    return joined([measured(end, base, by.rules) for end in ends])


def measured(end: Any, base: str, book: Json) -> str:
    """``68 degF`` or a bare number in ``base``, in the shop's unit."""
    number = worth(end, base)
    return number_text(end if number is None else number, base, book)


RANGE = re.compile(r"([0-9][0-9.,]*)\s*[-–]\s*([0-9][0-9.,]*)\Z")


def typed_words(text: str, book: Json) -> str:
    """``60–80 degF`` as ``60 to 80 °F``, ``under 20 degF`` as ``under 20 °F``; text without a
    unit as it was typed."""
    given, _, unit = text.rpartition(" ")
    if not given or unit not in book["units"]:
        return text
    ends = RANGE.match(given)
    told = f" {say('shop-answer-to')} ".join(ends.groups()) if ends else rough(given)
    return with_label(told, unit_in(book, unit, given))


def rough(given: str) -> str:
    """A rough answer as a phone of any language offers it, in the page's: ``under 20``."""
    for own in finished():
        for name in ("app-under", "app-over", "app-from-to"):
            parts = words(own).shape(name)
            pattern = "".join(
                re.escape(one) if isinstance(one, str) else rf"(?P<{one['value']}>-?[0-9.,]+)"
                for one in parts
            )
            if found := re.fullmatch(pattern, given):
                return say(name, **found.groupdict())
    return given


def unit_in(book: Json, unit: str, number: str = "") -> str:
    """The unit as it is said today, or as the rules of another release label it."""
    return unit_text(unit, number) if unit in units() else str(book["units"][unit]["label"])


def unit_in_words(text: str, book: Json) -> str:
    """``65 degF`` as ``65 °F``; other text as it is."""
    number, _, unit = text.partition(" ")
    label = unit_in(book, unit, number) if unit in book["units"] else ""
    return with_label(number, label) if label else text


def is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


# ---- working ------------------------------------------------------------------------------------


def case_of(body: Mapping[str, Any]) -> Case | None:
    """The answers as today's rulebook reads them, or None when it no longer takes them."""
    try:
        return read_case({key: body[key] for key in ("check", "date", "facts")}, load())[1]
    except BadInput:
        return None


class Working(TypedDict):
    """How something came about: in short, and step by step."""

    title: str
    text: str
    steps: list[Json]


def working(findings: list[Finding], case: Case | None, axles: int) -> list[Working]:
    """The quantities behind the findings, each once."""
    book = load()
    found: dict[tuple[str, str], Working | None] = {}
    for one in findings:
        entry = book.data["findings"].get(one["finding"])
        if entry and case is not None and (why := decision(one, case, book, axles)):
            found[one["finding"], f"{one['place']} decided"] = why
        for name in entry.get("shows", ()) if entry and case is not None else ():
            place = place_for(book.quantities[name].scope, one["place"])
            if (name, place) not in found:
                found[name, place] = worked_out(name, place, case, book, axles)
    return [one for one in found.values() if one]


def decision(one: Finding, case: Case, book: Rulebook, axles: int) -> Working | None:
    """The comparisons that make a finding hold by today's rules, if it holds by them."""
    places = {"", *case.wheels, *(wheel[0] for wheel in case.wheels)}
    if one["place"] not in places or book.findings[one["finding"]].test(case, one["place"]) != YES:
        return None
    lines = decided_by(one["finding"], one["place"], case, book, measures.text, words(language()))
    where = place_text(one["place"], axles)
    title = say(f"finding-{one['finding']}")
    titled = f"{title} ({where.lower()})" if where else title
    return {"title": titled, "text": "; ".join(lines), "steps": []} if lines else None


def worked_out(name: str, place: str, case: Any, book: Rulebook, axles: int) -> Working | None:
    try:
        steps = explain(name, place, case, book, measures.text, words(language()))
    except BadInput:
        return None
    if not all(step.get("answered", True) for step in steps):
        return None  # nearly every number is possible then, which tells nobody anything
    lines = [
        step
        | {"title": step_title(step, axles), "text": shop_text(step), "source": told_source(step)}
        for step in steps
    ]
    return {"title": lines[-1]["title"], "text": lines[-1]["text"], "steps": lines}


def told_source(step: Json) -> list[Piece]:
    if "source" not in step:
        return []
    return source_pieces(step["source"], said) or [Piece(say("standing-practice"), False)]


def shop_text(step: Json) -> str:
    """The step's value in the shop's units where it is a plain range of a unit."""
    value, unit = step["value"], step.get("unit", "")
    if unit not in units() or len(value) != 2 or not all(map(is_number, value)):
        return str(step["text"])
    return measures.text((value[0], value[1]), unit)


def step_title(step: Json, axles: int) -> str:
    if step["kind"] == "limit":
        return said("working-limit", step["label"])
    name = said(f"{step['kind']}-{step['id']}", step["label"])
    where = place_text(step["place"], axles)
    return f"{name} ({where.lower()})" if where else name


def hub_rises(body: Mapping[str, Any]) -> dict[str, tuple[float, float]]:
    """How far each hub was above the air, in kelvin from least to most, where that is known."""
    case, book = case_of(body), load()
    if case is None or case.facts.get(("air", ""), whole(book, "air")) == whole(book, "air"):
        return {}
    asked = [[name, wheel] for wheel in case.wheels for name in ("hub_feel", "hub_reading")]
    answered = {w for n, w in asked if case.facts.get((n, w), None) not in (None, whole(book, n))}
    known = [wheel for wheel in case.wheels if wheel in answered]
    return {wheel: book.worth("hub_rise", case, wheel) for wheel in known}


def whole(book: Rulebook, name: str) -> Value:
    return book.facts[name].whole()
