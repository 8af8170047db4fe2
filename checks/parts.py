"""The rulebook cut in two for the phone: what a walk or a stop needs, and the sums.

A first visit fetches only the first part. Each part is a whole rulebook of its own, with everything
its points lead to and a hash over it; a verdict names the hash of the part that judged it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator
from typing import Any

import rfc8785

from checks.formula import Tree, walk

Data = dict[str, Any]
PARTS = {
    "walk": ("walkaround", "run_stop", "quick_stop", "tires", "bench"),
    "figures": ("figures",),
}
PART_OF = {check: part for part, checks in PARTS.items() for check in checks}


def split(data: Data) -> dict[str, Data]:
    """Each part by name, its ``hash`` filled in. ``data`` is a whole rulebook without one."""
    return {name: _sealed(_part(data, checks)) for name, checks in PARTS.items()}


def _sealed(data: Data) -> Data:
    return data | {"hash": hashlib.sha256(rfc8785.dumps(data)).hexdigest()}


def _part(data: Data, checks: Iterable[str]) -> Data:
    stations = []
    for station in data["stations"]:
        points = [p for p in station["points"] if set(p["checks"]) & set(checks)]
        if points:
            stations.append({"id": station["id"], "points": points})
    used = _closure(data, [p for s in stations for p in s["points"]])
    parts = {kind: _only(data[kind], used[kind]) for kind in used}
    # dates and notes are for the page of sources, not for the roadside
    shown = ("value", "unit", "source", "standing")
    parts["limits"] = {k: _only(v, set(shown)) for k, v in parts["limits"].items()}
    return data | parts | {"stations": stations}


# Words by how their names begin: those of every part, and those of one part alone. The rest are
# for the server's pages.
SHARED = ("level-", "check-", "caution-", "standing-", "unit-")
ALONE = {"walk": ("app-", "place-", "error-", "calendar-"), "figures": ("figures-",)}
NAMED = {"facts": "fact-", "findings": "finding-", "quantities": "quantity-"}


def words_of(part: str, data: Data, names: Iterable[str]) -> list[str]:
    """Those of the words' ``names`` that the phone needs with a part; ``data`` is that part."""
    heads = {f"{NAMED[kind]}{name}" for kind in NAMED for name in data[kind]}
    heads |= {f"station-{s['id']}" for s in data["stations"]}
    heads |= {f"point-{p['id']}" for s in data["stations"] for p in s["points"]}
    kept = (*SHARED, *ALONE[part])
    return [n for n in names if n.partition(".")[0] in heads or n.startswith(kept)]


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
    for key in ("when", "formula"):
        _follow(data, entry.get(key), used)
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
