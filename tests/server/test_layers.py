"""Arrows between the folders of Python run downward only, and no imports go round in a circle.

Imports inside functions count as much as those at the top.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
# From the top down; folders of one line stand side by side and do not know each other.
FLOORS = (
    ("webapp.commands", "webapp.__main__", "webapp.connections", "webapp.workers"),
    ("webapp.__init__",),
    ("webapp.api", "webapp.shop"),
    ("webapp.app_files",),
    ("webapp.follow_up",),
    ("webapp.storage",),
    (
        "webapp.allowance",
        *("webapp.config", "webapp.errors", "webapp.security", "webapp.clock", "webapp.canonical"),
        *(
            "webapp.engine",
            "webapp.file_lock",
            "webapp.logs",
            "webapp.mail_address",
            "webapp.network",
            "webapp.passwords",
        ),
        *("webapp.sizes", "webapp.wording"),
    ),
    ("checks",),
)

GROUND = len(FLOORS) - 2


def modules() -> dict[str, Path]:
    """Every module of both packages by its name; a package's own is called ``__init__``."""
    found = {}
    for package in ("webapp", "checks"):
        for path in sorted((ROOT / package).rglob("*.py")):
            if "migrations" not in path.parts:
                found[".".join(path.relative_to(ROOT).with_suffix("").parts)] = path
    return found


MODULES = modules()


def imported(name: str, tree: ast.AST) -> Iterator[str]:
    """The modules of ours that ``tree`` imports anywhere, strings for ``import_module`` too."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (found for alias in node.names if (found := ours(alias.name)))
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                parents = name.split(".")[: -node.level]
                base = ".".join([*parents, base]).rstrip(".")
            for alias in node.names:
                found = ours(f"{base}.{alias.name}") or ours(base)
                if found:
                    yield found
        elif isinstance(node, ast.Call) and "import" in ast.unparse(node.func):
            given = [*node.args, *(keyword.value for keyword in node.keywords)]
            texts = [a.value for a in given if isinstance(a, ast.Constant)]
            yield from (found for text in texts if (found := ours(str(text))))


def ours(name: str) -> str | None:
    return next((one for one in (name, f"{name}.__init__") if one in MODULES), None)


def arrows(sources: dict[str, str]) -> dict[str, set[str]]:
    return {n: set(imported(n, ast.parse(text))) - {n} for n, text in sources.items()}


def floor(name: str) -> int:
    """The floor with the longest prefix of the name: ``webapp.__init__`` is no other folder's."""
    for number, names in enumerate(FLOORS):
        if any(name == one or name.startswith(f"{one}.") for one in names):
            return number
    raise LookupError(f"{name} stands on no floor: give it one in FLOORS")


def room(name: str) -> str:
    names = FLOORS[floor(name)]
    return next(one for one in names if name == one or name.startswith(f"{one}."))


def upward(found: dict[str, set[str]]) -> list[str]:
    return [
        f"{a} -> {b}"
        for a, targets in sorted(found.items())
        for b in sorted(targets)
        if floor(b) < floor(a) or (floor(a) == floor(b) != GROUND and room(a) != room(b))
    ]


@pytest.fixture(scope="module")
def today() -> dict[str, set[str]]:
    return arrows({name: path.read_text("utf-8") for name, path in MODULES.items()})


@pytest.mark.slow
def test_no_arrow_runs_upward_or_to_the_room_beside(today: dict[str, set[str]]) -> None:
    beside = {"webapp.__main__ -> webapp.commands.mail"}
    assert set(upward(today)) <= beside


@pytest.mark.slow
def test_no_imports_go_round_in_a_circle(today: dict[str, set[str]]) -> None:
    assert list(TopologicalSorter(today).static_order())


def test_every_module_stands_on_a_floor() -> None:
    assert [name for name in MODULES if floor(name) not in range(len(FLOORS))] == []


# What loads the trade files by their names, of which all stand in one folder.
BY_NAME = {"checks.rulebook.load"}


def test_no_module_is_imported_by_a_name_that_is_put_together() -> None:
    found = {n for n, path in MODULES.items() if "importlib" in path.read_text("utf-8")}
    assert found == BY_NAME


def test_follow_up_knows_nothing_of_flask(today: dict[str, set[str]]) -> None:
    for name, path in MODULES.items():
        if name.startswith("webapp.follow_up"):
            assert "flask" not in path.read_text("utf-8").replace("Without Flask", ""), name


@pytest.mark.parametrize(
    ("why", "module", "text", "found"),
    [
        ("at the top", "webapp.clock", "from webapp.storage import models", 1),
        ("inside a function", "webapp.clock", "def f():\n    import webapp.shop.jobs", 1),
        ("by a name in a string", "webapp.clock", "import_module('webapp.shop.jobs')", 1),
        ("the room beside", "webapp.api.links", "from webapp.shop import session", 1),
        ("by a keyword", "webapp.clock", "import_module(name='webapp.shop.jobs')", 1),
        ("relative", "webapp.storage.store", "from ..follow_up import filing", 1),
        ("downward", "webapp.shop.jobs", "from webapp.storage.models import jobs", 0),
        ("in the same room", "webapp.shop.jobs", "from webapp.shop import session", 0),
        ("checks below webapp", "checks.judge", "import webapp.clock", 1),
    ],
)
def test_an_arrow_upward_is_seen(why: str, module: str, text: str, found: int) -> None:
    assert len(upward(arrows({module: text}))) == found, why


def test_a_circle_is_seen() -> None:
    texts = {"webapp.clock": "import webapp.engine", "webapp.engine": "import webapp.clock"}
    with pytest.raises(CycleError):
        list(TopologicalSorter(arrows(texts)).static_order())
