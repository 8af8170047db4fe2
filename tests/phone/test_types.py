"""The type check leaves no script out, and no script lets anything pass unseen."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
STATIC = ROOT / "static"
CONFIGS = ("tsconfig.json", "tsconfig.worker.json")
WORDS = re.compile(
    r"@ts-(nocheck|ignore|expect-error)|[:<{,(|] ?any\b(?=[\]\[}>,);| ])|\bunknown as\b"
)


def config(name: str) -> dict[str, object]:
    found: dict[str, object] = json.loads((ROOT / name).read_text("utf-8"))
    return found


def test_every_script_is_in_one_of_the_two_checks() -> None:
    page, worker = (config(name) for name in CONFIGS)
    assert page["include"] == ["static/types.d.ts", "static/**/*.js"]
    assert page["exclude"] == ["static/sw.js"]
    assert "static/sw.js" in worker["include"]  # type: ignore[operator]


def test_both_checks_are_strict_and_linted() -> None:
    options = config("tsconfig.json")["compilerOptions"]
    assert isinstance(options, dict)
    assert (options["strict"], options["checkJs"]) == (True, True)
    assert config("tsconfig.worker.json")["extends"] == "./tsconfig.json"
    lint = (ROOT / "Makefile").read_text("utf-8")
    assert "typescript/bin/tsc\n" in lint
    assert "typescript/bin/tsc --project tsconfig.worker.json" in lint


@pytest.mark.parametrize(
    "path",
    [*sorted(STATIC.rglob("*.js")), *sorted(STATIC.glob("*.d.ts"))],
    ids=lambda path: path.relative_to(STATIC).as_posix(),
)
def test_nothing_is_left_unchecked(path: Path) -> None:
    remarks = re.findall(r"/\*\*.*?\*/|//[^\n]*", path.read_text("utf-8"), re.DOTALL)
    whole = path.read_text("utf-8") if path.suffix == ".ts" else "\n".join(remarks)
    assert [found[0] for found in WORDS.finditer(whole)] == []


@pytest.mark.parametrize(
    ("text", "passes"),
    [
        ("/** @param {any} one */", False),
        ("/** @type {(f: any) => void} */", False),
        ("/** @type {Record<string, any>} */", False),
        ("// @ts-ignore", False),
        ("/** What stands in any of them. */", True),
        ("/** @type {(f: Answer) => void} */", True),
    ],
)
def test_what_lets_things_pass_is_seen(text: str, passes: bool) -> None:
    assert (WORDS.search(text) is None) == passes
