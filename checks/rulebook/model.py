"""The rulebook as the judge uses it: checked and compiled."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from checks.facts import Fact
from checks.formula import Case, Compiled, Context, Tree, compile_tree
from checks.interval import Range
from checks.rulebook.definitions import PART_OF
from checks.rules import Finding, Quantity

# How far a walk goes; what is looked at less often stands in walk.toml by these names.
DEPTHS = ("trip", "month", "season")


@dataclass(frozen=True)
class Question:
    """A fact as a point asks it, with what the judge needs to know at hand."""

    fact: str
    scope: str
    optional: bool
    when: Compiled | None
    depth: int = 0


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
    """A place to stand, with the points seen from there."""

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
    # by fact and choice: offered only while this is not *no*
    offers: dict[str, dict[str, Compiled]] = field(default_factory=dict)
    # keys as written, once read: only valid ones are kept, so it cannot grow without end
    homes: dict[str, tuple[Fact, str]] = field(default_factory=dict)

    def worth(self, name: str, case: Case, place: str = "") -> Range:
        """What a quantity comes to at a place: a range in its unit."""
        found: Range = compile_tree(["quantity", name], self.context)(case, place)
        return found

    def hash_for(self, check: str) -> str:
        """Hash of the part that judges a kind of check."""
        return str(self.parts[PART_OF[check]]["hash"])
