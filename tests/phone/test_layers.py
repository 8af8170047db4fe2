"""The app's scripts stand in layers: no circle of imports, and none that points upward."""

from __future__ import annotations

import re
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

from tests.support.browser import STATIC
from webapp.app_files.fetched import LATER_SCRIPTS

# A script may import from its own layer and from those before it.
LAYERS = (
    "engine/",
    "data/",
    "parts/",
    ("dialog.js", "router.js", "keep.js"),
    "screens/",
    "routes.js",
    "shop/",
)
IMPORT = re.compile(
    r"""\b(?:from|import\s*\(\s*(?:/\*.*?\*/)?|import)\s*(["'`])(\.{0,2}/.*?)\1""", re.DOTALL
)
STARTING = re.compile(r"""^import\b[^"'(;]*["'](.*?)["']""", re.MULTILINE)


def scripts(folder: Path) -> list[str]:
    """Every script but the worker, by its path below the static folder."""
    found = (path.relative_to(folder).as_posix() for path in sorted(folder.rglob("*.js")))
    return [name for name in found if name != "sw.js"]


def code(path: Path) -> str:
    """A script without the lines that are remarks."""
    return re.sub(r"^\s*(?://|/?\*).*$", "", path.read_text("utf-8"), flags=re.MULTILINE)


def imports(folder: Path, name: str, pattern: re.Pattern[str] = IMPORT) -> list[str]:
    """What a script imports, at its start or when needed."""
    at = (folder / name).parent
    return [
        (at / match[match.re.groups]).resolve().relative_to(folder.resolve()).as_posix()
        for match in pattern.finditer(code(folder / name))
    ]


def circle(folder: Path) -> list[str]:
    """The scripts of a circle, or nothing."""
    graph = {name: imports(folder, name) for name in scripts(folder)}
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        return list(error.args[1])
    return []


def layer(name: str) -> int:
    return next(i for i, starts in enumerate(LAYERS) if name.startswith(starts))


def upward(folder: Path) -> list[str]:
    """Imports from a higher layer, as "from > to"."""
    pairs = [(one, other) for one in scripts(folder) for other in imports(folder, one)]
    return [f"{one} > {other}" for one, other in pairs if layer(one) < layer(other)]


def test_no_circle_of_imports() -> None:
    assert circle(STATIC) == []


def test_no_import_points_upward() -> None:
    assert upward(STATIC) == []


def test_an_import_names_its_file_where_it_stands() -> None:
    """A name that is put together elsewhere would hide from the two tests above."""
    for name in scripts(STATIC):
        assert re.findall(r"\bimport\s*\((?![\"'])", code(STATIC / name)) == [], name


# What the start goes without, and fetches once the first screen is drawn.
SOON = re.compile(r"""\bsoon\(\(\) => import\((["'])(.*?)\1""")


def reached(pattern: re.Pattern[str], *starts: str) -> set[str]:
    """Addresses of the scripts that the app's start leads to by imports of one kind."""
    found: set[str] = set()
    waiting = ["routes.js", *starts]
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting += imports(STATIC, name, pattern)
    return {f"/static/{name}" for name in found}


UP = "parts/a.js > router.js"


def test_what_is_imported_only_when_needed_is_fetched_after_the_first_visit() -> None:
    later = set(LATER_SCRIPTS)
    soon = imports(STATIC, "routes.js", SOON)
    assert soon
    early = reached(STARTING, *soon)
    assert reached(IMPORT) - early <= later
    assert not later & early


@pytest.mark.parametrize(
    ("why", "files", "circles", "points"),
    [
        ("one arrow down", {"data/a.js": 'import { b } from "../engine/b.js";'}, [], []),
        (
            "a circle through what is fetched when needed",
            {
                "screens/a.js": 'import { b } from "./b.js";',
                "screens/b.js": 'const a = () => import("./a.js");',
            },
            {"screens/a.js", "screens/b.js"},
            [],
        ),
        (
            "an arrow up",
            {"parts/a.js": 'import { go } from "../router.js";', "router.js": ""},
            [],
            ["parts/a.js > router.js"],
        ),
        *(
            (f"an arrow up by {how}", {"parts/a.js": how, "router.js": ""}, [], [UP])
            for how in (
                'import * as up from "../router.js";',
                'import up from "../router.js";',
                'export * from "../router.js";',
                'const up = () => import ("../router.js");',
                'const up = () => import(/* why */ "../router.js");',
                'import "../router.js";',
            )
        ),
        ("a word in a remark", {"parts/a.js": '// from "../router.js"', "router.js": ""}, [], []),
        ("a word in a text", {"parts/a.js": "say('from'); h('a')", "router.js": ""}, [], []),
    ],
)
def test_the_tests_above_see(
    tmp_path: Path, why: str, files: dict[str, str], circles: set[str], points: list[str]
) -> None:
    for name, text in files.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text)
    assert set(circle(tmp_path)) == set(circles), why
    assert upward(tmp_path) == points, why
