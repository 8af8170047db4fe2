"""The case tables in ``tests/cases/*.json``, how a verdict is held against one, and random answers.

A case is a sentence with answers and what the verdict must say about them:
``{"case", "check", "date", "facts", "expect"}``, or with ``base``, the name of an entry of
``base.json``, whose check, date and answers it starts from. ``source`` says where the outcome comes
from. ``EXPECTATIONS`` below lists what ``expect`` may hold, beside ``sums``: quantities by number.
"""

from __future__ import annotations

import json
from datetime import timedelta
from functools import cache
from math import isclose
from pathlib import Path
from random import Random
from typing import Any

from checks.facts import EPOCH, BadInput, Fact, wheel_order
from checks.formula import compile_tree
from checks.interval import NO
from checks.judge import CHECKS, LEVELS, Visit, asked, join_key, judge, read_case
from checks.rulebook import Rulebook, load

Json = dict[str, Any]
FOLDER = Path(__file__).parents[1] / "cases"
SIZES = (
    "ST205/75R15", "205/75-15", "LT235/85R16", "155R13", "4.80-12", "4.80/4.00-8", "7.00-15LT",
    "20.5x8.0-10", "31x10.50R15LT",
)  # fmt: skip
PAST = 2023  # a year before every day that is made up
KEYS = {"case", "check", "date", "facts", "expect"}


def all_cases() -> list[Json]:
    """Every case of every table, whole, its ``case`` led by the file's name. Raises ValueError."""
    bases = known_bases()
    result = []
    for path in sorted(FOLDER.glob("*.json")):
        if path.name != "base.json" and path.stem != "scenarios":
            for entry in json.loads(path.read_text("utf-8")):
                result.append(_whole(entry, bases, path.stem))
    return result


@cache
def known_bases() -> Json:
    """Those of the rulebook as it is: none may be changed, since all tables start from them."""
    return read_bases(load())


def read_bases(book: Rulebook) -> Json:
    """The entries of ``base.json``, each with a quiet answer to what it leaves out.

    A base answers a point or leaves it alone. Where it answers half of a point's facts or more, the
    others get an answer with which nothing is found, so that a fact added to the point changes no
    case; with ``"whole": true`` that goes for every point of its check, so that a point may be
    added too. ``null`` keeps a fact open.
    """
    bases = json.loads((FOLDER / "base.json").read_text("utf-8"))
    return {name: filled(base, book) for name, base in bases.items()}


def filled(base: Json, book: Rulebook) -> Json:
    base = dict(base)
    whole = base.pop("whole", False)
    given, facts = set(base["facts"]), dict(base["facts"])
    while True:
        check, answers = read_case(base | {"facts": facts}, book)
        visits = list(asked(check, answers, book))
        missing = [
            key
            for visit in visits
            if whole or _answers(visit, given)
            for key in visit.keys
            if join_key(key) not in facts and not book.facts[key[0]].optional
        ]
        if not missing:
            return base | {"facts": facts}
        facts[join_key(missing[0])] = _quiet(base | {"facts": facts}, missing[0], visits, book)


def _answers(visit: Visit, given: set[str]) -> bool:
    """Whether half of what the point must know, or more, is given."""
    named = sum(join_key(key) in given for key in visit.required)
    return named > 0 and 2 * named >= len(visit.required)


def _quiet(payload: Json, key: tuple[str, str], visits: list[Visit], book: Rulebook) -> Any:
    """The answer to ``key`` with which the fewest findings hold or stand open."""

    def noise(answer: Any) -> int:
        _, answers = read_case(
            payload | {"facts": payload["facts"] | {join_key(key): answer}}, book
        )
        return sum(f.test(answers, v.place) != NO for v in visits for f in v.point.findings)

    return min(_candidates(book.facts[key[0]]), key=noise)


def _candidates(fact: Fact) -> list[Any]:
    if fact.kind == "choice":
        return list(fact.choices)
    if fact.kind == "made":
        return ["2523"]
    if fact.kind == "text":
        return ["L68149"]
    if fact.kind == "size":
        return ["ST205/75R15"]
    if fact.unit == "count":
        return list(range(int(fact.low), int(fact.high) + 1))
    eighth = (fact.high - fact.low) / 8  # the middle first, as the likeliest to be sound
    return [fact.low + eighth * n for n in (4, 3, 5, 2, 6, 1, 7, 0, 8)]


def scenarios() -> list[Json]:
    """Every told scenario of ``scenarios*.json``, with its ``payload`` worked out from its base."""
    bases = known_bases()
    told = json.loads((FOLDER / "scenarios.json").read_text("utf-8"))
    return [one | {"payload": _told(one, bases)} for one in told]


def _told(one: Json, bases: Json) -> Json:
    base = bases.get(one.get("base", ""), {"facts": {}})
    given = base | {key: one[key] for key in ("check", "date") if key in one}
    return given | {"facts": base["facts"] | one["facts"]}


def _whole(entry: Json, bases: Json, table: str) -> Json:
    where = f"{table}: {entry.get('case')}"
    changes = {key: value for key, value in entry.items() if key != "base"}
    base = entry.get("base")
    if base is not None and base not in bases:
        raise ValueError(f"{where}: base.json has no {base!r}")
    start = bases[base] if base else {}
    whole = start | changes | {"case": where}
    if set(whole) - {"source"} != KEYS:
        raise ValueError(f"{where}: keys are {sorted(whole)}, must be {sorted(KEYS)}")
    if base:
        whole["facts"] = start["facts"] | entry.get("facts", {})
    return whole


def payload(case: Json) -> Json:
    return {key: case[key] for key in ("check", "date", "facts")}


def verdict_or_error(answers: Json, book: Rulebook | None = None) -> Json:
    """What the engine says, ``{"error": message}`` where it refuses."""
    try:
        return judge(answers, book)
    except BadInput as error:
        return {"error": str(error)}


def failures(case: Json, book: Rulebook) -> list[str]:
    """What comes out otherwise than the case expects, a sentence each."""
    expect = {word: wanted for word, wanted in case["expect"].items() if word != "sums"}
    told = unmet(expect, verdict_or_error(payload(case), book)) if expect else []
    return told + _sums(case, book)


def _sums(case: Json, book: Rulebook) -> list[str]:
    """``sums``: by quantity and place a number, or its lowest and highest; to three figures."""
    wanted = case["expect"].get("sums", {})
    if not wanted:
        return []
    _, answers = read_case(payload(case), book)
    told = []
    for key, value in wanted.items():
        name, _, place = key.partition("@")
        ends = value if isinstance(value, list) else [value, value]
        got = compile_tree(["quantity", name], book.context)(answers, place)
        if not all(isclose(a, b, rel_tol=0.005) for a, b in zip(ends, got, strict=True)):
            told.append(f"{key} is {got[0]:.6g} to {got[1]:.6g}, not {value}")
    return told


def unmet(expect: Json, verdict: Json) -> list[str]:
    """Each expectation that the verdict does not meet, as a sentence. Raises ValueError on a word
    that no expectation has."""
    unknown = set(expect) - set(EXPECTATIONS)
    if unknown or not expect:
        raise ValueError(f"expect: {sorted(unknown) or 'empty'}; use {', '.join(EXPECTATIONS)}")
    if "error" in verdict and "error" not in expect:
        return [f"was refused: {verdict['error']}"]
    told = [EXPECTATIONS[word](wanted, verdict) for word, wanted in expect.items()]
    return [sentence for sentences in told for sentence in sentences]


def _equal(name: str) -> Any:
    return lambda wanted, verdict: (
        [] if verdict[name] == wanted else [f"{name} is {verdict[name]}, not {wanted}"]
    )


def _first(wanted: str, verdict: Json) -> list[str]:
    told = [f"{one['finding']}@{one['place']}" for one in verdict["findings"][:1]]
    return [] if told == [wanted] else [f"first comes {told}, not {wanted}"]


def _level_at(wanted: dict[str, str], verdict: Json) -> list[str]:
    here = verdict["places"]
    return [
        f"{p or 'trailer'}: {here.get(p)}, not {w}" for p, w in wanted.items() if here.get(p) != w
    ]


def _at_least(wanted: str, verdict: Json) -> list[str]:
    level = verdict["level"]
    worse = LEVELS.index(level) <= LEVELS.index(wanted)
    return [] if worse else [f"level is {level}, less than {wanted}"]


def _listed(name: str, *, present: bool) -> Any:
    def check(wanted: list[str], verdict: Json) -> list[str]:
        ids = {entry["finding"] for entry in verdict[name]}
        if present and not wanted:  # an empty list means none at all
            return [f"{name} holds {sorted(ids)}"] if ids else []
        at = ids | {f"{entry['finding']}@{entry['place']}" for entry in verdict[name]}
        return [
            f"{one} is {'missing from' if present else 'among'} {name}: {sorted(ids)}"
            for one in wanted
            if (one in at) != present
        ]

    return check


def _next_first(wanted: str, verdict: Json) -> list[str]:
    first = verdict["next"][0] if verdict["next"] else {"fact": None, "place": ""}
    names = (first["fact"], f"{first['fact']}@{first['place']}")
    return [] if wanted in names else [f"first to check is {first}, not {wanted}"]


def _point(wanted: dict[str, str], verdict: Json) -> list[str]:
    here = {
        f"{p['point']}@{p['place']}" if p["place"] else p["point"]: p["level"]
        for p in verdict["points"]
    }
    return [f"{p}: {here.get(p)}, not {w}" for p, w in wanted.items() if here.get(p) != w]


def _error(wanted: str, verdict: Json) -> list[str]:
    told = verdict.get("error", "a verdict")
    return [] if wanted in told else [f"got {told!r}, not an error with {wanted!r}"]


EXPECTATIONS = {
    "level": _equal("level"),
    "level_at": _level_at,
    "at_least": _at_least,
    "finding": _listed("findings", present=True),
    "first": _first,
    "no_finding": _listed("findings", present=False),
    "cannot_tell": _listed("cannot_tell", present=True),
    "no_cannot_tell": _listed("cannot_tell", present=False),
    "next_first": _next_first,
    "point": _point,
    "error": _error,
}


# ---- random answers from the rulebook's own facts -------------------------------------------


def random_payload(rng: Random, book: Rulebook) -> Json:
    """A check with answers that are in range, many or few, exact or coarse, all of one trailer."""
    axles = rng.randint(1, 3)
    answered = rng.choice([0.1, 0.5, 0.9, 1.0])
    facts: Json = {}
    for name, place in every_key(book, wheel_order(axles)):
        if rng.random() < answered:
            facts[join_key((name, place))] = random_answer(rng, book.facts[name])
    facts["axles"] = axles
    day = EPOCH + timedelta(days=rng.randint(9000, 11000))
    return {"check": rng.choice(CHECKS), "date": day.isoformat(), "facts": facts}


def every_key(book: Rulebook, wheels: list[str]) -> list[tuple[str, str]]:
    """Every fact at every place of its own."""
    places = {"trailer": [""], "axle": sorted({w[0] for w in wheels}), "wheel": wheels}
    return [(fact.id, place) for fact in book.facts.values() for place in places[fact.scope]]


def random_answer(rng: Random, fact: Fact) -> Any:
    if rng.random() < 0.05:
        return None
    if fact.kind == "choice":
        several = rng.sample(fact.choices, rng.randint(1, len(fact.choices)))
        return several if rng.random() < 0.15 else several[0]
    if fact.kind == "made":
        return f"{rng.randint(1, 53):02}{rng.randint(0, 23):02}"
    if fact.kind == "text":
        return rng.choice(["L68149 / L44649", "12192TB"])
    if fact.kind == "size":
        return rng.choice(SIZES)
    if fact.unit == "count":
        return rng.randint(
            int(fact.low), min(int(fact.high), PAST) if fact.past else int(fact.high)
        )
    low, high = sorted(round(rng.uniform(fact.low, fact.high), 1) for _ in range(2))
    kind = rng.random()
    if kind < 0.2:
        return [max(low, fact.low), min(high, fact.high)]
    value = min(max(low, fact.low), fact.high)
    return f"{value} {fact.unit}" if kind < 0.3 else value
