"""The rulebook as the judge uses it: checked and compiled."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from checks.facts import Fact
from checks.formula import Case, Compiled, Context, Tree, compile_tree
from checks.interval import Range
from checks.rulebook.definitions import PART_OF
from checks.rules import Finding, Quantity
from checks.written import Key, Needs, Written

# A key of the answers as it was written: the fact and place it means, and the fact itself.
Home = tuple[Key, Fact]

# How far a walk goes; what is looked at less often stands in walk.toml by these names.
DEPTHS = ("trip", "month", "season")


@dataclass(frozen=True)
class Question:
    """A fact as a point asks it, with what the judge needs to know at hand."""

    fact: str
    scope: str
    optional: bool
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
    # by kind of check and wheels: what is looked at, as checks/visits.py makes it ready
    stands: dict[tuple[str, ...], list[Any]] = field(default_factory=dict)
    # keys as written, once read: only valid ones are kept, so it cannot grow without end
    homes: dict[str, Home] = field(default_factory=dict)
    keys: dict[Key, Key] = field(default_factory=dict)

    @cached_property
    def written(self) -> Written:
        """The trees as Python."""
        return Written(self.context)

    def key(self, key: Key) -> Key:
        """The one of all equal keys that is kept: what is the same object is found sooner."""
        return self.keys.setdefault(key, key)

    def needs(self, finding: Finding) -> Needs:
        """What a finding looks at in a case."""
        if finding.needs is None:
            finding.needs = self.written.needs(finding.when.tree)
        return finding.needs

    def worth(self, name: str, case: Case, place: str = "") -> Range:
        """What a quantity comes to at a place: a range in its unit."""
        found: Range = compile_tree(["quantity", name], self.context)(case, place)
        return found

    def hash_for(self, check: str) -> str:
        """Hash of the part that judges a kind of check."""
        return str(self.parts[PART_OF[check]]["hash"])
