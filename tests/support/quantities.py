"""Works out named quantities and bare trees for tests."""

from __future__ import annotations

from typing import Any

from checks.explain import explain
from checks.formula import Case, Expr, compile_tree
from checks.judge import read_case
from checks.rulebook import load


def work_out(name: str, facts: dict[str, Any], date: str = "2026-07-14") -> tuple[float, float]:
    """The range of ``quantity`` or ``quantity@place`` for these answers."""
    _, case = read_case({"check": "run_stop", "date": date, "facts": facts}, load())
    quantity, _, place = name.partition("@")
    value = explain(quantity, place, case, load())[-1]["value"]
    return (value[0], value[1])


def evaluate(expr: Expr, facts: dict[tuple[str, str], Any] | None = None) -> tuple[float, float]:
    """The range of a tree over facts given as ranges by name and place."""
    case = Case(facts or {}, ["1R", "1L"])
    return compile_tree(expr.tree, load().context)(case, "")
