"""The rulebook's trees as a person would write them, in English, for pages made from them."""

from __future__ import annotations

from collections.abc import Callable

from checks.explain import label
from checks.formula import Tree
from checks.working import LOOSE
from checks.working import SIGNS as SUMS

SIGNS = SUMS | {"<": "<", "<=": "≤"}


def infix(tree: Tree) -> str:
    """A tree as a person would write the sum."""
    if not isinstance(tree, list):
        return f"{tree:g}"
    op = tree[0]
    if op in SIGNS:
        return f"{_part(tree[1], op)} {SIGNS[op]} {_part(tree[2], op)}"
    spell = _SPELL.get(op)
    return spell(tree) if spell else f"{op}({', '.join(infix(t) for t in tree[1:])})"


def _arms(tree: Tree) -> str:
    arms = ", ".join(f"{label(c)}: {infix(t)}" for c, t in tree[2].items())
    return f"by {label(tree[1])} ({arms})"


_SPELL: dict[str, Callable[[Tree], str]] = {
    "is": lambda t: f"{label(t[1])} is {' or '.join(label(c) for c in t[2])}",
    "pick": _arms,
    "table": lambda t: f"{label(t[1])} at ({infix(t[2])})",
    "mate": lambda t: f"mate's {_part(t[1], 'mate')}",
    "each": lambda t: f"{t[1]} over {t[2]} of ({infix(t[3])})",
    "if": lambda t: f"({infix(t[2])} if {infix(t[1])}, else {infix(t[3])})",
    "convert": lambda t: f"{_part(t[3], '*')} in {t[2]}",
    "neg": lambda t: f"−{_part(t[1], '*')}",
} | dict.fromkeys(("fact", "limit", "quantity", "rank", "known"), lambda t: label(t[1]))


def _part(tree: Tree, outer: str) -> str:
    """An operand, in brackets where leaving them away would change the sum."""
    text = infix(tree)
    inner = tree[0] if isinstance(tree, list) else ""
    return text if inner not in SIGNS or inner in LOOSE.get(outer, ()) else f"({text})"
