"""The rulebook as JSON, and cut in two for the phone: what a walk or a stop needs, and the figures.

A first visit fetches only the first part. Each part is a whole rulebook of its own, with everything
its points lead to and a hash over it; a verdict names the hash of the part that judged it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator
from typing import Any

import rfc8785

from checks.facts import Fact, sizes
from checks.formula import Tree, walk
from checks.rulebook.check import depth_of
from checks.rulebook.definitions import PARTS, Definitions
from checks.rulebook.model import DEPTHS, Point, Station
from checks.rules import Finding
from checks.sources import HEAD, KEYED, keyed
from checks.units import units

Data = dict[str, Any]


def as_data(defs: Definitions, stations: list[Station]) -> Data:
    """The whole rulebook as JSON data; it has no hash of its own."""
    return {
        "format": 1,
        "units": {k: {x: u[x] for x in u} for k, u in units().items()},
        "facts": {f.id: _fact_data(f) | _depth_data(f, defs) for f in defs.facts.values()},
        "limits": defs.limits,
        "quantities": {
            q.id: {
                "scope": q.scope,
                "unit": q.unit,
                "formula": q.formula.tree,
                "source": q.source,
                "standing": q.standing,
            }
            for q in defs.quantities.values()
        },
        "findings": {f.id: _finding_data(f) for f in defs.findings.values()},
        "stations": [{"id": s.id, "points": [_point_data(p) for p in s.points]} for s in stations],
        "zones": defs.zones,
        "proofs": defs.proofs,
    }


def _depth_data(fact: Fact, defs: Definitions) -> Data:
    depth = depth_of(fact.id, defs)
    return {"depth": DEPTHS[depth]} if depth else {}


def _fact_data(fact: Fact) -> Data:
    data: Data = {"scope": fact.scope, "kind": fact.kind}
    if fact.kind == "choice":
        data["choices"] = list(fact.choices)
        if fact.only:
            data["only"] = {choice: expr.tree for choice, expr in fact.only.items()}
    else:
        data |= {"unit": fact.unit, "low": fact.low, "high": fact.high}
        if fact.kind == "number":
            data |= {"spread": fact.spread, "show": {"us": fact.us, "metric": fact.metric}}
    if fact.kind == "size":
        data["sizes"] = sizes()
    if fact.when is not None:
        data["when"] = fact.when.tree
    data |= {name: True for name in ("optional", "past") if getattr(fact, name)}
    return data


MARKS = ("optional", "told_only", "holds", "sends_on")


def _finding_data(finding: Finding) -> Data:
    data: Data = {
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
    data |= {name: True for name in MARKS if getattr(finding, name)}
    data |= {
        name: getattr(finding, name) for name in ("beneath", "danger") if getattr(finding, name)
    }
    if finding.alarm is not None:
        data |= {"alarm": finding.alarm.tree, "card": finding.card}
    if finding.moot is not None:
        data["moot"] = finding.moot.tree
    return data


def _point_data(point: Point) -> Data:
    data: Data = {
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


# ---- parts ----------------------------------------------------------------------------------


def split(data: Data) -> dict[str, Data]:
    """Each part by name, its ``hash`` filled in. ``data`` is a whole rulebook without one."""
    return {name: _sealed(_part(data, checks)) for name, checks in PARTS.items()}


# What parts have in common where they are about the same trailer.
COMMON = ("units", "facts", "limits", "quantities")
SOURCED = ("limits", "quantities", "findings")


def beside(first: Data, part: Data) -> Data:
    """A part without what a phone has in the ``first`` one, whose hash stands under ``beside``.

    What is as there is named by kind: all ``like`` the first's, or all of the first's ``but`` some,
    whichever is fewer names. The ``hash`` is still that of the whole part.
    """
    kinds = [kind for kind in COMMON if kind in part and kind in first]
    like = {k: [n for n in part[k] if first[k].get(n) == part[k][n]] for k in kinds}
    own = {k: {n: v for n, v in part[k].items() if n not in like[k]} for k in kinds}
    but = {k: sorted(first[k].keys() - set(like[k])) for k in kinds}
    most = {k for k in kinds if len(but[k]) < len(like[k])}
    named = {"like": _only(like, set(kinds) - most), "but": _only(but, most)}
    return part | own | named | {"beside": first["hash"]}


def _sealed(data: Data) -> Data:
    return data | {"hash": hashlib.sha256(rfc8785.dumps(data)).hexdigest()}


def _part(data: Data, checks: Iterable[str]) -> Data:
    stations = []
    for station in data["stations"]:
        points = [p for p in station["points"] if set(p["checks"]) & set(checks)]
        if points:
            stations.append({"id": station["id"], "points": points})
    used = _closure(data, [p for s in stations for p in s["points"]])
    walked = "walkaround" in checks
    if walked:  # no formula reads them: the walk's screens do
        used["limits"] |= {name for name in data["limits"] if name.startswith("walk.")}
    parts = {kind: _only(data[kind], used[kind]) for kind in used}
    # dates and notes are for the page of sources, not for the roadside
    shown = ("value", "unit", "source", "standing")
    parts["limits"] = {k: _only(v, set(shown)) for k, v in parts["limits"].items()}
    parts |= sourced(parts)
    # each point names its findings, so that none has to name its point
    parts["findings"] = {k: _only(v, v.keys() - {"point"}) for k, v in parts["findings"].items()}
    drawn = {name: data[name] if walked else [] for name in ("zones", "proofs")}
    return data | parts | drawn | {"stations": stations}


def sourced(data: Data) -> Data:
    """What of a rulebook names its source, with that as ``checks.sources.keyed`` has it."""
    return {
        kind: {k: v | {"source": keyed(v["source"])} for k, v in data[kind].items()}
        for kind in SOURCED
    }


# Words by how their names begin: those of every part, and those of one part alone. The rest are
# for the server's pages.
SHARED = ("level-", "check-", "caution-", "standing-", "unit-")
# What the app says only on screens that a first visit does without; of findings the reasons, and
# what a doubt could be, which a verdict has other words for until they are there.
LATER = (
    "app-file-",
    "app-link-",
    "app-mended-",
    "app-pair",
    "app-photo",
    "app-add-photo",
    "app-settings-",
    "app-figures-",
    "app-walk-",
    "app-sidewall-",
    "app-pause",
    "app-pick",
    "app-still",
    "app-readiness",
    "app-no-readiness",
    "app-share",
    "app-verdict-last",
    "app-verdict-never",
    "app-verdict-partly",
    "app-verdict-left",
    "app-trailer-",
    "app-trailers-",
    "app-history-",
    "app-answers-open",
    "app-answers-aside",
    "app-answers-known",
    "unit-slot",
    "unit-step",
    "unit-thou",
    "unit-per_K",
    "app-run-",
    "app-trip",
    "drawing-",
    "road-",
    "working-",
)
ALONE = {
    "walk": ("app-", "place-", "error-", "road-"),
    "figures": ("working-",),
    "later": LATER,
}
# What the page brings itself, drawn before any script; none says it.
PAGES = (
    *("app-description", "app-lamps", "app-needs-script", "app-not-started", "app-run"),
    *("app-starting", "app-what"),
)
# What no answer of a stop is refused with: those of sizes, dates and texts, and of whole inputs.
ELSEWHERE = tuple(
    f"error-{code}"
    for code in (
        *("made", "size", "text", "axle", "check", "choice", "date", "facts", "input"),
        *("no_fact", "scope"),
    )
)
STOPS = ("quick_stop",)  # a full stop goes on from a quick one
NAMED = {"facts": "fact-", "findings": "finding-", "quantities": "quantity-"}


def words_of(part: str, data: Data, names: Iterable[str]) -> list[str]:
    """Those of the words' ``names`` that the phone needs with a part; ``data`` is that part."""
    heads = {f"{NAMED[kind]}{name}" for kind in NAMED for name in data[kind]}
    heads |= {f"station-{s['id']}" for s in data["stations"]}
    heads |= {f"point-{p['id']}" for s in data["stations"] for p in s["points"]}
    heads |= {
        f"{HEAD}{number}"
        for kind in SOURCED
        for one in data[kind].values()
        for number in KEYED.findall(one["source"])
    }
    heads |= {n.partition(".")[0] for n in names if n.startswith((*SHARED, *ALONE[part]))}
    said = [n for n in names if n.partition(".")[0] in heads - set(PAGES)]
    return [n for n in said if part != "walk" or not is_later(n)]


def is_later(name: str) -> bool:
    """Whether the app can do without these words on a first visit."""
    reason = name.startswith("finding-") and name.endswith((".why", ".doubt"))
    return reason or name.startswith((*LATER, "quantity-", HEAD))


def first_words(data: Data, names: Iterable[str]) -> list[str]:
    """Those of ``names`` that a first visit needs: to look round, and to make a stop's check.

    ``data`` is the part of the walk. What an answer is refused with stands among them: it is said
    while a person waits.
    """
    stop = _part(data, STOPS)
    heads = {f"{NAMED[kind]}{name}" for kind in NAMED for name in data[kind].keys() - stop[kind]}
    heads |= {f"point-{p['id']}" for s in data["stations"] for p in s["points"]}
    heads -= {f"point-{p['id']}" for s in stop["stations"] for p in s["points"]}
    heads |= {f"caution-{name}" for name in cautions_of(data) - cautions_of(stop)}
    walk = words_of("walk", data, names)
    return [n for n in walk if n.partition(".")[0] not in heads and not n.startswith(ELSEWHERE)]


def cautions_of(data: Data) -> set[str]:
    return {name for one in data["findings"].values() for name in one.get("cautions", ())}


def _only(entries: Data, names: set[str]) -> Data:
    return {k: v for k, v in entries.items() if k in names}


def _closure(data: Data, points: list[Data]) -> dict[str, set[str]]:
    """Names of all facts, limits, quantities and findings that the points lead to."""
    used: dict[str, set[str]] = {k: set() for k in ("facts", "limits", "quantities", "findings")}
    for point in points:
        for name in point["facts"]:
            _use(data, "facts", name, used)
        for name in point["findings"]:
            _use(data, "findings", name, used)
        for name in point.get("shows", []):
            _use(data, "quantities", name, used)
        _follow(data, point.get("applies"), used)
    return used


def _use(data: Data, kind: str, name: str, used: dict[str, set[str]]) -> None:
    if name in used[kind] or name == "today":
        return
    used[kind].add(name)
    entry = data[kind][name]
    for key in ("when", "formula", "alarm", "moot"):
        _follow(data, entry.get(key), used)
    for tree in entry.get("only", {}).values():
        _follow(data, tree, used)
    for quantity in entry.get("shows", []):
        _use(data, "quantities", quantity, used)
    if entry.get("beneath"):
        _use(data, "findings", entry["beneath"], used)


def _follow(data: Data, tree: Tree, used: dict[str, set[str]]) -> None:
    for kind, name in _names(tree):
        _use(data, kind, name, used)


def _names(tree: Tree) -> Iterator[tuple[str, str]]:
    kinds = {"limit": "limits", "table": "limits", "quantity": "quantities"}
    for node in walk(tree):
        if node[0] in ("fact", "is", "rank", "pick", "known"):
            yield "facts", node[1]
        elif node[0] in kinds:
            yield kinds[node[0]], node[1]
