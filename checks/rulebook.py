"""Assembles the rulebook from its data files and trade modules, checks it, and exports it."""

from __future__ import annotations

import importlib
import math
import pkgutil
import tomllib
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import checks.trade
from checks.brake_law import limits_of, read_laws
from checks.facts import SCOPES, Fact
from checks.formula import Compiled, Context, Expr, FormulaError, Tree, compile_tree, walk
from checks.parts import PART_OF, split, words_of
from checks.rules import FOUND_LEVELS, STANDINGS, Finding, Quantity
from checks.units import units
from checks.words import Words, words

HERE = Path(__file__).parent
CHECKS = tuple(PART_OF)


class RulebookError(ValueError):
    """A fault in the rulebook itself; the message names file and entry."""


@dataclass(frozen=True)
class Question:
    """A fact as a point asks it, with what the judge needs to know at hand."""

    fact: str
    scope: str
    optional: bool
    when: Compiled | None


@dataclass
class Point:
    """A thing looked at on the walk."""

    id: str
    scope: str
    checks: list[str]
    facts: list[str]
    weight: float
    together: bool = False
    shows: list[str] = field(default_factory=list)
    applies_tree: Tree = None
    applies: Compiled | None = None
    findings: list[Finding] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)


@dataclass
class Station:
    id: str
    points: list[Point]


@dataclass
class Rulebook:
    """Everything the judge needs, compiled; the same as JSON in ``data``, and cut in ``parts``."""

    facts: dict[str, Fact]
    quantities: dict[str, Quantity]
    findings: dict[str, Finding]
    stations: list[Station]
    context: Context
    data: dict[str, Any]
    parts: dict[str, dict[str, Any]]
    # keys as written, once read: only valid ones are kept, so it cannot grow without end
    homes: dict[str, tuple[Fact, str]] = field(default_factory=dict)

    def hash_for(self, check: str) -> str:
        """Hash of the part that judges a kind of check."""
        return str(self.parts[PART_OF[check]]["hash"])


@cache
def load() -> Rulebook:
    """The rulebook of this release. Raises RulebookError on any fault in it."""
    modules = [
        importlib.import_module(f"checks.trade.{m.name}")
        for m in sorted(pkgutil.iter_modules(checks.trade.__path__), key=lambda m: m.name)
    ]
    facts = _named([f for m in modules for f in getattr(m, "FACTS", [])], "fact")
    quantities = _named([q for m in modules for q in getattr(m, "QUANTITIES", [])], "quantity")
    findings = _named([f for m in modules for f in getattr(m, "FINDINGS", [])], "finding")
    limits = read_limits(HERE / "limits") | _named_limits("brake_law", limits_of(read_laws()))
    walk_data = tomllib.loads((HERE / "walk.toml").read_text("utf-8"))
    return assemble(facts, quantities, findings, limits, walk_data, words("en"))


def export(part: str = "walk") -> dict[str, Any]:
    """A part of the rulebook as JSON data, ``hash`` included; see :mod:`checks.parts`."""
    return load().parts[part]


def export_words(part: str = "walk", language: str = "en") -> dict[str, Any]:
    """The words that the phone needs with a part, ``hash`` included. KeyError: no such language."""
    said = words(language)
    return said.export(words_of(part, load().parts[part], said.ids()))


def _named(items: list[Any], what: str) -> dict[str, Any]:
    result: dict[str, Any] = {}
    for item in items:
        if item.id in result:
            raise RulebookError(f"{what} {item.id!r} stands twice")
        result[item.id] = item
    return result


# ---- limits -----------------------------------------------------------------------

LIMIT_KEYS = {"value", "unit", "source", "standing", "confirmed", "note"}


def read_limits(folder: Path) -> dict[str, dict[str, Any]]:
    """All limits by ``file.entry``. Raises RulebookError naming file and entry."""
    result: dict[str, dict[str, Any]] = {}
    for path in sorted(folder.glob("*.toml")):
        result |= _named_limits(path.stem, tomllib.loads(path.read_text("utf-8")))
    return result


def _named_limits(stem: str, entries: dict[str, Any]) -> dict[str, dict[str, Any]]:
    """The entries of one file, checked, by ``file.entry``."""
    for name, entry in entries.items():
        _check_limit(f"{stem}.toml, {name}", entry)
    return {f"{stem}.{k}": e | {"confirmed": str(e["confirmed"])} for k, e in entries.items()}


def _check_limit(where: str, entry: dict[str, Any]) -> None:
    extra, missing = set(entry) - LIMIT_KEYS, LIMIT_KEYS - {"note"} - set(entry)
    if extra:
        raise RulebookError(f"{where}: unknown key {', '.join(sorted(extra))}")
    if missing:
        raise RulebookError(f"{where}: {', '.join(sorted(missing))} missing")
    if entry["standing"] not in STANDINGS:
        raise RulebookError(f"{where}: standing must be one of {', '.join(STANDINGS)}")
    for unit in entry["unit"].split(" by "):
        if unit not in units():
            raise RulebookError(f"{where}: unit {unit!r} is not in units.toml")
    if not str(entry["source"]).strip():
        raise RulebookError(f"{where}: source is empty")


# ---- assembly -------------------------------------------------------------------------------


def assemble(
    facts: dict[str, Fact],
    quantities: dict[str, Quantity],
    findings: dict[str, Finding],
    limits: dict[str, dict[str, Any]],
    walk_data: dict[str, Any],
    said: Words,
) -> Rulebook:
    """Check all parts against each other, compile them, and make the JSON."""
    context = Context(
        whole={f.id: f.whole() for f in facts.values()} | {"today": (-36525.0, 36525.0)},
        scope={f.id: f.scope for f in facts.values()}
        | {q.id: q.scope for q in quantities.values()}
        | {"today": "trailer"},
        choices={f.id: list(f.choices) for f in facts.values() if f.kind == "choice"},
        limits={k: v["value"] for k, v in limits.items()},
        quantities={q.id: q.formula.tree for q in quantities.values()},
        units={k: (u["factor"], u["offset"]) for k, u in units().items()},
    )
    _check_parts(facts, quantities, findings, limits)
    for item in quantities.values():
        _compile(item.formula, context, f"quantity {item.id}")
    stations = [_station(s, facts, context) for s in walk_data["station"]]
    points = {p.id: p for s in stations for p in s.points}
    for point in points.values():
        for name in point.shows:
            where = f"walk.toml, point {point.id}"
            _require(name in quantities, where, f"shows unknown quantity {name!r}")
    for finding in findings.values():
        if finding.point not in points:
            raise RulebookError(f"finding {finding.id}: unknown point {finding.point!r}")
        finding.test = _compile(finding.when, context, f"finding {finding.id}")
        points[finding.point].findings.append(finding)
    _check_words(said, facts, quantities, findings, stations)
    for point in points.values():
        point.questions = [_question(facts[name], context) for name in point.facts]
    data = _data(facts, quantities, findings, limits, stations)
    return Rulebook(facts, quantities, findings, stations, context, data, split(data))


def _compile(expr: Expr, context: Context, where: str) -> Compiled:
    try:
        return compile_tree(expr.tree, context)
    except FormulaError as error:
        raise RulebookError(f"{where}: {error}") from None


def _check_parts(
    facts: dict[str, Fact],
    quantities: dict[str, Quantity],
    findings: dict[str, Finding],
    limits: dict[str, Any],
) -> None:
    for fact in facts.values():
        where = f"fact {fact.id}"
        _require(fact.scope in SCOPES, where, f"scope must be one of {', '.join(SCOPES)}")
        _require(fact.kind != "choice" or len(fact.choices) > 1, where, "needs two choices")
        for unit in filter(None, (fact.unit, fact.us, fact.metric)):
            _require(unit in units(), where, f"unit {unit!r} is not in units.toml")
        _require(fact.kind != "number" or bool(fact.unit), where, "has no unit")
    sourced: list[Quantity | Finding] = [*quantities.values(), *findings.values()]
    for item in sourced:
        where = f"{type(item).__name__.lower()} {item.id}"
        _require(bool(item.source.strip()), where, "has no source")
        _require(item.standing in STANDINGS, where, f"standing {item.standing!r} is unknown")
    for quantity in quantities.values():
        where = f"quantity {quantity.id}"
        _require(quantity.unit in units(), where, f"unit {quantity.unit!r} is not in units.toml")
        _require(quantity.scope in SCOPES, where, "unknown scope")
    for finding in findings.values():
        where = f"finding {finding.id}"
        _require(finding.level in FOUND_LEVELS, where, f"level {finding.level!r} is unknown")
        beneath = finding.beneath
        _require(not beneath or beneath in findings, where, f"beneath unknown {beneath!r}")
        for name in finding.shows:
            _require(name in quantities, where, f"shows unknown quantity {name!r}")
        _check_narrowing(finding.when.tree, where, quantities)


def _require(holds: bool, where: str, message: str) -> None:
    if not holds:
        raise RulebookError(f"{where}: {message}")


def _check_narrowing(tree: Tree, where: str, quantities: dict[str, Quantity]) -> None:
    """Refuse what would let a further answer turn a yes into a no (see DEVELOPERS.md)."""
    for found in walk(tree):
        if found[0] == "known":
            raise RulebookError(f"{where}: 'known' may not decide a finding")
        if found[0] in ("low", "high") and _reads_facts(found[1], quantities):
            raise RulebookError(f"{where}: {found[0]!r} stands over a fact")
        if found[0] == "quantity" and found[1] in quantities:
            _check_narrowing(quantities[found[1]].formula.tree, where, quantities)


def _reads_facts(tree: Tree, quantities: dict[str, Quantity]) -> bool:
    for found in walk(tree):
        if found[0] in ("fact", "is", "rank", "pick", "known"):
            return True
        if found[0] == "quantity" and _reads_facts(quantities[found[1]].formula.tree, quantities):
            return True
    return False


def _question(fact: Fact, context: Context) -> Question:
    when = None if fact.when is None else _compile(fact.when, context, f"fact {fact.id}")
    return Question(fact.id, fact.scope, fact.optional, when)


STATION_KEYS = {"id", "point"}
POINT_KEYS = {"id", "scope", "checks", "facts", "weight", "together", "applies", "shows"}


def _station(entry: dict[str, Any], facts: dict[str, Fact], context: Context) -> Station:
    where = f"walk.toml, station {entry.get('id')}"
    _require(set(entry) == STATION_KEYS, where, f"keys must be {', '.join(STATION_KEYS)}")
    return Station(entry["id"], [_point(p, facts, context) for p in entry["point"]])


def _point(entry: dict[str, Any], facts: dict[str, Fact], context: Context) -> Point:
    where = f"walk.toml, point {entry.get('id')}"
    extra = set(entry) - POINT_KEYS
    missing = POINT_KEYS - {"together", "applies", "shows"} - set(entry)
    _require(not extra, where, f"unknown key {', '.join(sorted(extra))}")
    _require(not missing, where, f"{', '.join(sorted(missing))} missing")
    _require(entry["scope"] in SCOPES, where, f"unknown scope {entry['scope']!r}")
    for name in entry["checks"]:
        _require(name in CHECKS, where, f"unknown check {name!r}")
    for name in entry["facts"]:
        _require(name in facts, where, f"unknown fact {name!r}")
    point = Point(
        entry["id"],
        entry["scope"],
        entry["checks"],
        entry["facts"],
        float(entry["weight"]),
        entry.get("together", False),
        entry.get("shows", []),
    )
    if "applies" in entry:
        tree = applies_tree(entry["applies"], where)
        point.applies_tree = tree
        point.applies = _compile(Expr(tree), context, where)
    return point


def applies_tree(conditions: dict[str, list[str]], where: str) -> Tree:
    """``{fact = [choices], ...}`` as a tree: every fact named must be one of its choices."""
    trees: list[Tree] = [["is", name, choices] for name, choices in conditions.items()]
    _require(bool(trees), where, "applies is empty")
    result = trees[0]
    for tree in trees[1:]:
        result = ["and", result, tree]
    return result


def _check_words(
    said: Words,
    facts: dict[str, Fact],
    quantities: dict[str, Quantity],
    findings: dict[str, Finding],
    stations: list[Station],
) -> None:
    needed = [f"fact-{f.id}" for f in facts.values()]
    needed += [f"fact-{f.id}.choice-{one}" for f in facts.values() for one in f.choices]
    for finding in findings.values():
        name = f"finding-{finding.id}"
        needed += [name, f"{name}.do", f"{name}.why"]
        needed += [f"caution-{one}" for one in finding.cautions]
    needed += [f"quantity-{one}" for one in quantities]
    needed += [f"station-{s.id}" for s in stations]
    needed += [f"point-{p.id}" for s in stations for p in s.points]
    for name in needed:
        _require(said.has(name), f"words/{said.language}, {name}", "missing")


# ---- export ---------------------------------------------------------------------------------


def _data(
    facts: dict[str, Fact],
    quantities: dict[str, Quantity],
    findings: dict[str, Finding],
    limits: dict[str, dict[str, Any]],
    stations: list[Station],
) -> dict[str, Any]:
    return {
        "format": 1,
        "units": {k: {x: u[x] for x in u} for k, u in units().items()},
        "facts": {f.id: _fact_data(f) for f in facts.values()},
        "limits": limits,
        "quantities": {
            q.id: {
                "scope": q.scope,
                "unit": q.unit,
                "formula": q.formula.tree,
                "source": q.source,
                "standing": q.standing,
            }
            for q in quantities.values()
        },
        "findings": {f.id: _finding_data(f) for f in findings.values()},
        "stations": [{"id": s.id, "points": [_point_data(p) for p in s.points]} for s in stations],
    }


def _fact_data(fact: Fact) -> dict[str, Any]:
    data: dict[str, Any] = {"scope": fact.scope, "kind": fact.kind}
    if fact.kind == "choice":
        data["choices"] = list(fact.choices)
    else:
        data |= {"unit": fact.unit, "low": fact.low, "high": fact.high}
        _require(math.isfinite(fact.low + fact.high), f"fact {fact.id}", "needs low and high")
        if fact.kind == "number":
            data |= {"spread": fact.spread, "show": {"us": fact.us, "metric": fact.metric}}
    if fact.when is not None:
        data["when"] = fact.when.tree
    if fact.optional:
        data["optional"] = True
    return data


def _finding_data(finding: Finding) -> dict[str, Any]:
    data: dict[str, Any] = {
        "level": finding.level,
        "point": finding.point,
        "when": finding.when.tree,
        "source": finding.source,
        "standing": finding.standing,
    }
    if finding.cautions:
        data["cautions"] = list(finding.cautions)
    if finding.shows:
        data["shows"] = list(finding.shows)
    if finding.optional:
        data["optional"] = True
    if finding.beneath:
        data["beneath"] = finding.beneath
    return data


def _point_data(point: Point) -> dict[str, Any]:
    data: dict[str, Any] = {
        "id": point.id,
        "scope": point.scope,
        "checks": point.checks,
        "facts": point.facts,
        "weight": point.weight,
        "findings": [f.id for f in point.findings],  # canonical JSON sorts keys, not lists
    }
    if point.together:
        data["together"] = True
    if point.shows:
        data["shows"] = point.shows
    if point.applies_tree:
        data["applies"] = point.applies_tree
    return data
