"""Checks definitions against each other and compiles them. Every fault found is noted in them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from checks.facts import SCOPES, Fact
from checks.formula import Compiled, Context, Expr, FormulaError, Tree, compile_tree, walk
from checks.rulebook.definitions import CHECKS, Definitions
from checks.rulebook.model import DEPTHS, Point, Question, Rulebook, Station
from checks.rules import FOUND_LEVELS, LEVELS, STANDINGS, Finding
from checks.units import units
from checks.words.pieces import values_of


def compiled(defs: Definitions) -> Rulebook:
    """The rulebook of ``defs``, which can be used only where no fault was noted."""
    for fact in defs.facts.values():
        _check_fact(fact, defs)
    _check_sources(defs)
    context = _context(defs)
    _check_formulas(defs, context)
    stations = [_station(entry, defs, context) for entry in defs.stations]
    points = {point.id: point for station in stations for point in station.points}
    for finding in defs.findings.values():
        _check_finding(finding, points, defs)
    _check_asked(points.values(), defs)
    _rank_dangers(defs)
    _check_depths(defs)
    _check_zones(points.values(), defs)
    _check_proofs(points.values(), defs)
    _check_words(defs, stations)
    offers = {fact.id: _offers(fact, defs, context) for fact in defs.facts.values() if fact.only}
    book = Rulebook(defs.facts, defs.quantities, defs.findings, stations, context, {}, {})
    book.offers = offers
    return book


def _offers(fact: Fact, defs: Definitions, context: Context) -> dict[str, Compiled]:
    """What each choice is offered by that is not offered always."""
    found = {}
    for choice, expr in fact.only.items():
        defs.need(choice in fact.choices, f"fact {fact.id}", f"has no choice {choice!r}")
        made = _compile(expr, context)
        if isinstance(made, str):
            defs.need(False, f"fact {fact.id}", f"choice {choice}: {made}")
        else:
            found[choice] = made
    return found


def _context(defs: Definitions) -> Context:
    facts, quantities = defs.facts.values(), defs.quantities.values()
    return Context(
        whole={f.id: f.whole() for f in facts} | {"today": (-36525.0, 36525.0)},
        scope={f.id: f.scope for f in facts}
        | {q.id: q.scope for q in quantities}
        | {"today": "trailer"},
        choices={f.id: list(f.choices) for f in facts if f.kind == "choice"},
        limits={name: entry["value"] for name, entry in defs.limits.items()},
        quantities={q.id: q.formula.tree for q in quantities},
        units={name: (u["factor"], u["offset"]) for name, u in units().items()},
    )


# ---- entries by themselves ------------------------------------------------------------------


def _check_fact(fact: Fact, defs: Definitions) -> None:
    entry = f"fact {fact.id}"
    defs.need(fact.scope in SCOPES, entry, f"scope must be one of {', '.join(SCOPES)}")
    if fact.kind == "choice":
        defs.need(len(fact.choices) > 1, entry, "needs two choices or more")
    else:
        defs.need(math.isfinite(fact.low + fact.high), entry, "needs low and high")
        defs.need(bool(fact.unit), entry, "has no unit")
    for unit in filter(None, (fact.unit, fact.us, fact.metric)):
        defs.need(unit in units(), entry, f"unit {unit!r} is not in units.toml")


def _check_sources(defs: Definitions) -> None:
    for kind, items in (("quantity", defs.quantities), ("finding", defs.findings)):
        for item in items.values():
            entry = f"{kind} {item.id}"
            defs.need(bool(item.source.strip()), entry, "has no source")
            known = f"standing must be one of {', '.join(STANDINGS)}"
            defs.need(item.standing in STANDINGS, entry, known)
    for quantity in defs.quantities.values():
        entry = f"quantity {quantity.id}"
        known = f"unit {quantity.unit!r} is not in units.toml"
        defs.need(quantity.unit in units(), entry, known)
        defs.need(quantity.scope in SCOPES, entry, f"scope must be one of {', '.join(SCOPES)}")


# ---- formulas -------------------------------------------------------------------------------


NO_TRUTH = "comes to a number: compare it with something"


def _check_formulas(defs: Definitions, context: Context) -> None:
    """Compile every tree. A fault of a quantity is told once, not by all that read it."""
    trees = {f"quantity {q.id}": q.formula for q in defs.quantities.values()}
    trees |= {f"fact {f.id}": f.when for f in defs.facts.values() if f.when is not None}
    trees |= {f"finding {f.id}": f.when for f in defs.findings.values()}
    faults = {}
    for entry, expr in trees.items():
        made = _compile(expr, context)
        if isinstance(made, str):
            faults[entry] = made
        elif not entry.startswith("quantity ") and not _is_truth(expr.tree, defs):
            faults[entry] = NO_TRUTH
        elif entry.startswith("finding "):
            defs.findings[entry.removeprefix("finding ")].test = made
    for entry, message in faults.items():
        read = {f"quantity {n[1]}" for n in walk(trees[entry].tree) if n[0] == "quantity"}
        defs.need(bool(read & set(faults)), entry, message)
    for finding in defs.findings.values():
        _check_beside(finding, defs, context)


def _check_beside(finding: Finding, defs: Definitions, context: Context) -> None:
    """Compile what stands beside a finding's condition: its alarm, and what makes it moot."""
    entry = f"finding {finding.id}"
    for name, expr in (("alarm", finding.alarm), ("moot", finding.moot)):
        if expr is None:
            continue
        made = _compile(expr, context)
        if isinstance(made, str):
            defs.need(False, entry, f"{name}: {made}")
        else:
            defs.need(_is_truth(expr.tree, defs), entry, f"{name}: {NO_TRUTH}")
    known = finding.alarm is None or finding.card in defs.findings
    defs.need(known, entry, f"alarm: no card {finding.card!r}")


def _is_truth(tree: Tree, defs: Definitions) -> bool:
    """Whether a formula comes to yes, no or can't tell, and not to a number."""
    op, *rest = tree if isinstance(tree, list) else ("number",)
    if op in ("<", "<=", "is", "known"):
        return True
    if op == "each":
        return rest[0] in ("any", "all") and _is_truth(rest[2], defs)
    if op == "quantity":
        inner = defs.quantities.get(rest[0])
        return inner is None or _is_truth(inner.formula.tree, defs)
    return op in ("and", "or", "not", "mate", "if") and all(_is_truth(one, defs) for one in rest)


def _compile(expr: Expr, context: Context) -> Compiled | str:
    """The formula, or what is wrong with it."""
    try:
        return compile_tree(expr.tree, context)
    except FormulaError as error:
        return str(error)
    except RecursionError:
        return "reads itself, by itself or by way of another quantity"


def _check_finding(finding: Finding, points: dict[str, Point], defs: Definitions) -> None:
    entry = f"finding {finding.id}"
    known = f"level must be one of {', '.join(FOUND_LEVELS)}"
    defs.need(finding.level in FOUND_LEVELS, entry, known)
    above = finding.beneath
    defs.need(not above or above in defs.findings, entry, f"beneath unknown finding {above!r}")
    for name in finding.shows:
        defs.need(name in defs.quantities, entry, f"shows unknown quantity {name!r}")
    for fault in dict.fromkeys(_narrowing(finding.when.tree, defs, frozenset())):
        defs.need(False, entry, fault)
    point = points.get(finding.point)
    shown = f"no point shows it; walk.toml has no point {finding.point!r}"
    defs.need(point is not None, entry, shown)
    if point is not None:
        point.findings.append(finding)


def _narrowing(tree: Tree, defs: Definitions, seen: frozenset[str]) -> Iterator[str]:
    """What would let a further answer turn a yes into a no (see DEVELOPERS.md)."""
    for found in walk(tree):
        if found[0] == "known":
            yield "'known' may not decide a finding"
        if found[0] in ("low", "high") and _reads_facts(found[1], defs, seen):
            yield f"{found[0]!r} stands over a fact"
        inner = _inner(found, defs, seen)
        if inner is not None:
            yield from _narrowing(inner, defs, seen | {found[1]})


def _reads_facts(tree: Tree, defs: Definitions, seen: frozenset[str]) -> bool:
    for found in walk(tree):
        if found[0] in ("fact", "is", "rank", "pick", "known"):
            return True
        inner = _inner(found, defs, seen)
        if inner is not None and _reads_facts(inner, defs, seen | {found[1]}):
            return True
    return False


def _inner(found: Tree, defs: Definitions, seen: frozenset[str]) -> Tree:
    """The formula of a quantity that is met for the first time on the way, else None."""
    if found[0] != "quantity" or found[1] in seen or found[1] not in defs.quantities:
        return None
    return defs.quantities[found[1]].formula.tree


# ---- the walk -------------------------------------------------------------------------------

WALK = "walk.toml"
STATION_KEYS = {"id", "point"}
POINT_KEYS = {"id", "scope", "checks", "facts", "weight", "together", "applies", "shows"}
NOT_IN_TRADE = {
    "fact": "no file of trade has it in FACTS",
    "quantity": "no file of trade has it in QUANTITIES",
}
POINT_NEEDS = ("checks", "facts", "scope", "weight")


def _station(entry: dict[str, Any], defs: Definitions, context: Context) -> Station:
    where = f"station {entry.get('id')}"
    if set(entry) != STATION_KEYS:
        defs.fault(WALK, where, f"keys must be {' and '.join(sorted(STATION_KEYS))}")
    points = (_point(one, defs, context) for one in entry.get("point", []))
    return Station(str(entry.get("id")), [point for point in points if point])


def _point(entry: dict[str, Any], defs: Definitions, context: Context) -> Point | None:
    where = f"point {entry.get('id')}"
    faults = [f"unknown key {key}" for key in sorted(set(entry) - POINT_KEYS)]
    faults += [f"{key} missing" for key in POINT_NEEDS if key not in entry]
    if entry.get("scope", SCOPES[0]) not in SCOPES:
        faults.append(f"scope must be one of {', '.join(SCOPES)}")
    for key, known, what in (
        ("checks", CHECKS, "check"),
        ("facts", defs.facts, "fact"),
        ("shows", defs.quantities, "quantity"),
    ):
        there = f"must be one of {', '.join(CHECKS)}" if key == "checks" else NOT_IN_TRADE[what]
        unknown = (name for name in entry.get(key, []) if name not in known)
        faults += [f"unknown {what} {name!r}; {there}" for name in unknown]
    for fault in faults:
        defs.fault(WALK, where, fault)
    if "id" not in entry or any(key not in entry for key in POINT_NEEDS):
        return None
    point = Point(
        **{key: entry[key] for key in ("id", "scope", "checks", "facts")},
        weight=float(entry["weight"]),
        together=entry.get("together", False),
        shows=entry.get("shows", []),
    )
    _compile_point(point, entry, defs, context)
    return point


def _compile_point(point: Point, entry: dict[str, Any], defs: Definitions, within: Context) -> None:
    if "applies" in entry:
        point.applies_tree = applies_tree(entry["applies"])
        made = _compile(Expr(point.applies_tree), within) if point.applies_tree else "is empty"
        if isinstance(made, str):
            defs.fault(WALK, f"point {point.id}", f"applies: {made}")
    for name in point.facts:
        if fact := defs.facts.get(name):
            depth = depth_of(fact.id, defs)
            point.questions.append(Question(fact.id, fact.scope, fact.optional, depth))


def applies_tree(conditions: dict[str, list[str]]) -> Tree:
    """``{fact = [choices], ...}`` as a tree: every fact named must be one of its choices."""
    trees: list[Tree] = [["is", name, choices] for name, choices in conditions.items()]
    result = trees[0] if trees else None
    for tree in trees[1:]:
        result = ["and", result, tree]
    return result


def _check_asked(points: Any, defs: Definitions) -> None:
    asked = {name for point in points for name in point.facts}
    for name in defs.facts:
        defs.need(name in asked, f"fact {name}", "no point asks it; name it in walk.toml")


# Where a person stands on a walk, and the zones of the drawing there.
PLACES = {
    "hitch": ("ball", "latch", "chains", "plug", "jack", "breakaway", "fluid"),
    "wheel": ("outside", "inside", "nuts", "spring"),
    "rear": ("lamps", "gate"),
    "load": ("tied", "level"),
}


def depth_of(fact: str, defs: Definitions) -> int:
    """How far a walk has to go until a fact is asked, as an index of DEPTHS."""
    deeper = (n for n, depth in enumerate(DEPTHS) if fact in defs.depths.get(depth, []))
    return next(deeper, 0)


def _rank_dangers(defs: Definitions) -> None:
    """Give each finding its danger: that of the last group is 1, of one in none 0."""
    dangers: dict[str, int] = {}
    for danger, names in enumerate(reversed(defs.dangers), 1):
        for name in names:
            if name not in defs.findings:
                defs.fault("walk.toml", "danger", f"unknown finding {name!r}")
            if name in dangers:
                defs.fault("walk.toml", "danger", f"{name} stands there twice")
            dangers[name] = danger
    for finding in defs.findings.values():
        finding.danger = dangers.get(finding.id, 0)


def _check_depths(defs: Definitions) -> None:
    named = [name for names in defs.depths.values() for name in names]
    for depth in set(defs.depths) - set(DEPTHS[1:]):
        defs.fault(WALK, f"depth {depth}", f"must be one of {', '.join(DEPTHS[1:])}")
    for name in dict.fromkeys(named):
        if name not in defs.facts:
            defs.fault(WALK, "depth", f"unknown fact {name!r}")
        if named.count(name) > 1:
            defs.fault(WALK, "depth", f"fact {name!r} stands twice")


def _check_zones(points: Any, defs: Definitions) -> None:
    asked = {name for point in points if "walkaround" in point.checks for name in point.facts}
    taken: dict[str, str] = {}
    for entry in defs.zones:
        place, zone = str(entry.get("place")), str(entry.get("id"))
        where = f"zone {place}.{zone}"
        if set(entry) != {"place", "id", "facts"}:
            defs.fault(WALK, where, "keys must be facts, id and place")
        if zone not in PLACES.get(place, ()):
            defs.fault(WALK, where, "no drawing has it")
        for name in entry.get("facts", []):
            if name not in asked:
                defs.fault(WALK, where, f"no walkaround asks {name!r}")
            if name in taken:
                defs.fault(WALK, where, f"fact {name!r} stands in {taken[name]} too")
            taken[name] = where


def _check_proofs(points: Any, defs: Definitions) -> None:
    asked = {name for point in points if "walkaround" in point.checks for name in point.facts}
    for entry in defs.proofs:
        place, zone, name = (str(entry.get(key)) for key in ("place", "zone", "fact"))
        where = f"proof {place}.{zone}"
        if set(entry) != {"place", "zone", "fact"}:
            defs.fault(WALK, where, "keys must be fact, place and zone")
        if zone not in PLACES.get(place, ()):
            defs.fault(WALK, where, "no drawing has it")
        if name not in asked:
            defs.fault(WALK, where, f"no walkaround asks {name!r}")


# ---- words ----------------------------------------------------------------------------------

# How the names of words begin that the rules need; those of the pages are theirs to check.
OF_RULES = ("fact", "quantity", "finding", "point", "station", "level", "standing")
# Said as they stand, without values.
PLAIN = ("fact", "finding", "point", "station", "level", "standing", "caution")


def _check_words(defs: Definitions, stations: list[Station]) -> None:
    needed = dict(_needed(defs, stations))
    said = defs.words
    for name, entry in needed.items():
        if not said.has(name):
            stem = _file(entry, defs, stations).removeprefix("trade/").removesuffix(".py")
            file = f"words/{said.language}/{stem or 'app'}.ftl"
            defs.fault(file, name, f"missing; {entry} needs it")
    plain = {n for n in said.ids() if n.partition("-")[0] in PLAIN and not said.faults}
    for name in said.ids():
        head, _, part = name.partition(".")
        if head.partition("-")[0] in OF_RULES and name not in needed:
            if part in ("help", "do", "doubt", "none") and head in needed:
                continue
            file = said.files[head]
            told = "nobody uses it" if part else f"nobody uses it; {_home(head, file)}"
            defs.fault(f"words/{file}", name, told)
        elif name in plain and (values := values_of(said.shape(name))):
            told = f"nobody gives it {', '.join(sorted(values))}; say it without"
            defs.fault(f"words/{said.files[head]}", name, told)


def _file(entry: str, defs: Definitions, stations: list[Station]) -> str:
    """Where an entry stands; of a point or a station, where what it shows or asks first stands."""
    kind, _, name = entry.partition(" ")
    if kind not in ("point", "station"):
        return defs.files.get(entry, "")
    points = [p for s in stations for p in s.points if name == (p.id if kind == "point" else s.id)]
    held = [f"finding {finding.id}" for p in points for finding in p.findings]
    held += [f"fact {fact}" for p in points for fact in p.facts]
    held += [f"quantity {quantity}" for p in points for quantity in p.shows]
    return next((defs.files[one] for one in held if one in defs.files), "")


def _home(head: str, file: str) -> str:
    """What is missing where words name it, or what else to do with them."""
    kind, _, name = head.partition("-")
    listed = {"fact": "FACTS", "quantity": "QUANTITIES", "finding": "FINDINGS"}
    if kind in listed:
        stem = file.partition("/")[2].removesuffix(".ftl")
        return f"name it in {listed[kind]} of trade/{stem}.py, or take the words away"
    where = "rules.py" if kind in ("level", "standing") else WALK
    return f"{where} has no {kind} {name!r}; name it there, or take the words away"


def _needed(defs: Definitions, stations: list[Station]) -> Iterator[tuple[str, str]]:
    """Words that the rules cannot do without, each with the entry that needs them."""
    for fact in defs.facts.values():
        yield f"fact-{fact.id}", f"fact {fact.id}"
        for choice in fact.choices:
            yield f"fact-{fact.id}.choice-{choice}", f"fact {fact.id}"
    for finding in defs.findings.values():
        for part in ("", ".do", ".why"):
            yield f"finding-{finding.id}{part}", f"finding {finding.id}"
        for caution in finding.cautions:
            yield f"caution-{caution}", f"finding {finding.id}"
    shown = {name for s in stations for p in s.points for name in p.shows}
    yield from ((f"quantity-{name}.says", f"quantity {name}") for name in sorted(shown))
    named = {
        "quantity": defs.quantities,
        "station": [s.id for s in stations],
        "point": [p.id for s in stations for p in s.points],
        "standing": STANDINGS,
        "level": LEVELS,
    }
    for kind, names in named.items():
        yield from ((f"{kind}-{name}", f"{kind} {name}") for name in names)
