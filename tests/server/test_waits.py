"""No test waits for a time to pass, nor without end: it waits for what is to come.

A pause for a fixed time fails on a slow machine, and proves no absence on any.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

TESTS = Path(__file__).parents[1]
PAUSES = {"sleep", "wait_for_timeout"}
# Where time itself is what is tried.
RIGHT = {
    "support/air.py": "a network that is late",
    "support/faults.py": "a phone that is killed at any moment",
}
CLOCKS = {"monotonic", "perf_counter", "process_time"}
BOUNDS = ("deadline", "monotonic")


def waits(text: str) -> Iterator[str]:
    """Pauses that no poll needs, and polls without an end, each with its line."""
    tree = ast.parse(text)
    loops = [n for n in ast.walk(tree) if isinstance(n, ast.For | ast.While)]
    polled = {pause.lineno for loop in loops for pause in pauses(loop)}
    for pause in pauses(tree):
        if pause.lineno not in polled:
            yield f"line {pause.lineno}: a fixed wait"
    for loop in loops:
        told = ast.unparse(loop)
        endless = isinstance(loop, ast.While) and not any(word in told for word in BOUNDS)
        if endless and (any(pauses(loop)) or on_a_screen(loop)):
            yield f"line {loop.lineno}: a poll without an end"


def pauses(tree: ast.AST) -> Iterator[ast.Call]:
    for one in ast.walk(tree):
        if isinstance(one, ast.Call) and ast.unparse(one.func).rpartition(".")[2] in PAUSES:
            yield one


def on_a_screen(loop: ast.For | ast.While) -> bool:
    """Whether its end depends on what a browser shows."""
    test = loop.test if isinstance(loop, ast.While) else loop.iter
    names = {one.attr for one in ast.walk(test) if isinstance(one, ast.Attribute)}
    return bool(names & {"asking", "where", "question", "locator", "count", "evaluate"})


def files() -> Iterator[tuple[str, str]]:
    for path in sorted(TESTS.rglob("*.py")):
        name = path.relative_to(TESTS).as_posix()
        if not name.startswith("benchmarks/"):
            yield name, path.read_text("utf-8")


@pytest.mark.slow
def test_no_test_waits_for_a_time_to_pass_nor_without_end() -> None:
    found = {name: [*waits(text)] for name, text in files() if name not in RIGHT}
    assert {name: told for name, told in found.items() if told} == {}


def clocks(text: str) -> list[str]:
    """Where a test asks how long something took: how quick a machine is no test may hang on."""
    named = (one for one in ast.walk(ast.parse(text)) if isinstance(one, ast.Attribute | ast.Name))
    told = [(one.lineno, ast.unparse(one).rpartition(".")[2]) for one in named]
    return [
        f"line {line}: a clock; how soon belongs in a benchmark"
        for line, name in told
        if name in CLOCKS
    ]


@pytest.mark.slow
def test_no_test_asks_how_long_something_took() -> None:
    found = {name: clocks(text) for name, text in files() if "/test_" in name}
    assert {name: told for name, told in found.items() if told} == {}


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("from time import monotonic\nbegan = monotonic()", 1),
        ("assert time.perf_counter() - began < 1", 1),
        ("os.utime(path, (time.time(),) * 2)", 0),
    ],
)
def test_a_clock_is_seen(text: str, found: int) -> None:
    assert len(clocks(text)) == found


def test_each_exception_is_one() -> None:
    texts = dict(files())
    assert [name for name in RIGHT if not [*waits(texts[name])]] == []


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("time.sleep(1)", ["line 1: a fixed wait"]),
        ("page.wait_for_timeout(300)\nassert not shown", ["line 1: a fixed wait"]),
        ("for _ in range(9):\n    time.sleep(1)", []),
        ("while not done():\n    sleep(1)", ["line 1: a poll without an end"]),
        ("while not done():\n    assert monotonic() < most\n    sleep(1)", []),
        ("while one.asking:\n    one.answer()", ["line 1: a poll without an end"]),
        ("while page.locator('.more').count():\n    go()", ["line 1: a poll without an end"]),
        ("while line := file.readline():\n    keep(line)", []),
    ],
)
def test_the_tests_above_see(text: str, found: list[str]) -> None:
    assert [*waits(text)] == found
