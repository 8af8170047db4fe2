"""Moves every limit and flips every comparison of the rulebook, and says which the cases miss.

``make mutate`` runs all; ``python -m tests.support.mutate WORD ...`` only those whose name holds
one of the words. A mutant is noticed where a case of ``tests/cases`` would fail with it. Nothing is
written anywhere: the changed trees are compiled beside the others and taken out again.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from fnmatch import fnmatchcase
from functools import cached_property
from pathlib import Path
from typing import Any

from checks.formula import Case, Compiled, Context, Expr, Tree, compile_tree, walk
from checks.judge import Visit, asked, read_case
from checks.rulebook import Rulebook, load
from tests.support import cases

Json = dict[str, Any]
PAGE = Path(__file__).parents[2] / "docs" / "mutation.md"
BY = 0.3  # a limit is moved by this share of itself, or, where it is zero, by this much
NAMING = ("finding", "no_finding", "cannot_tell", "no_cannot_tell")  # words of ``expect``
LEAST = {"limit": 0.95, "comparison": 0.90}  # share of the mutants that the cases must notice


@dataclass(frozen=True)
class Mutant:
    """One change. ``limits`` or ``trees`` (of findings and quantities) hold what is different."""

    kind: str  # limit, comparison
    name: str
    limits: Mapping[str, Any] = field(default_factory=dict, hash=False)
    trees: Mapping[str, Tree] = field(default_factory=dict, hash=False)


# ---- what can be changed --------------------------------------------------------------------


def mutants(book: Rulebook) -> list[Mutant]:
    """Every limit moved down and up, every comparison with its strictness and its sides flipped."""
    return [*moved_limits(book), *flipped_comparisons(book)]


def moved_limits(book: Rulebook) -> Iterator[Mutant]:
    """Only limits that some tree reads: the others are not the rules' to notice."""
    read = {name for tree in _trees(book).values() for name in _named(tree, "limit", "table")}
    for name, value in sorted(book.context.limits.items()):
        if name in read:
            for share, text in ((1 - BY, "down"), (1 + BY, "up")):
                yield Mutant("limit", f"{name} {text}", {name: moved(value, share)})


def moved(value: Any, share: float) -> Any:
    if not isinstance(value, list):
        return value * share if value else share - 1
    if isinstance(value[0], list):
        return [[x, moved(y, share)] for x, y in value]
    return sorted(moved(end, share) for end in value)


def flipped_comparisons(book: Rulebook) -> Iterator[Mutant]:
    """Of every tree that reads something; one of plain numbers stands for never or always."""
    read = {n: t for n, t in _trees(book).items() if _named(t, "fact", "quantity", "is", "rank")}
    for owner, tree in read.items():
        found = comparisons(tree)
        for i, one in enumerate(found):
            for how in ("strictness", "sides"):
                name = f"{owner} {i + 1} of {len(found)} {how}"
                yield Mutant("comparison", name, trees={owner: flipped(tree, one, how)})


def comparisons(tree: Tree) -> list[Tree]:
    """Those of a tree, outermost first. One that stands in several branches was written once, so it
    is one: it is flipped in all of them."""
    found: list[Tree] = []
    for part in walk(tree):
        if part[0] in ("<", "<=") and part not in found:
            found.append(part)
    return found


def flipped(tree: Tree, wanted: Tree, how: str) -> Tree:
    """The tree with a comparison flipped wherever it stands."""

    def copy(part: Tree) -> Tree:
        if isinstance(part, dict):
            return {key: copy(arm) for key, arm in part.items()}
        if not isinstance(part, list):
            return part
        if part != wanted:
            return [copy(inner) for inner in part]
        op, a, b = part
        return [op, b, a] if how == "sides" else [{"<": "<=", "<=": "<"}[op], a, b]

    return copy(tree)


def _trees(book: Rulebook) -> dict[str, Tree]:
    """By name; no finding shares its name with a quantity (the lab checks it)."""
    return {f.id: f.when.tree for f in book.findings.values()} | dict(book.context.quantities)


def _named(tree: Tree, *heads: str) -> set[str]:
    return {part[1] for part in walk(tree) if part[0] in heads}


# ---- what notices it ------------------------------------------------------------------------


@dataclass
class Trial:
    """A case of the tables with its answers read, the points it visits, and what it expects."""

    case: Json
    answers: Case
    visits: list[Visit]
    truths: dict[tuple[str, str], int]  # by finding and place
    named: frozenset[str]  # findings that its expectations name, themselves or by their point
    sums: frozenset[str]  # quantities that it expects


class Lab:
    """The rulebook with all cases judged once, so that a mutant costs only what it reaches."""

    def __init__(self, book: Rulebook, tables: list[Json]) -> None:
        self.book = book
        if set(book.findings) & set(book.context.quantities):
            raise ValueError("a finding and a quantity have one name")
        judged = (case for case in tables if "error" not in case["expect"])
        self.trials = [_trial(case, book) for case in judged]

    @cached_property
    def quantities_in(self) -> dict[str, set[str]]:
        """By finding and quantity: every quantity its tree comes to, through others too."""
        direct = {name: _named(tree, "quantity") for name, tree in _trees(self.book).items()}

        def all_of(name: str, seen: set[str]) -> set[str]:
            for inner in direct[name] - seen:
                seen.add(inner)
                all_of(inner, seen)
            return seen

        return {name: all_of(name, set()) for name in direct}

    def touched(self, mutant: Mutant) -> set[str]:
        """Findings and quantities whose value may differ."""
        trees = _trees(self.book)
        changed = set(mutant.trees)
        if mutant.limits:
            limits = set(mutant.limits)
            changed |= {n for n, tree in trees.items() if limits & _named(tree, "limit", "table")}
        return changed | {n for n, inner in self.quantities_in.items() if inner & changed}

    def noticed(self, mutant: Mutant) -> str:
        """The case that fails with the mutant, empty where none does."""
        touched, trees = self.touched(mutant), _trees(self.book) | dict(mutant.trees)
        context = self._context(mutant, touched, trees)
        tests = {n: compile_tree(trees[n], context) for n in touched & set(self.book.findings)}
        with self._swapped(tests, trees, context):
            for trial in sorted(self.trials, key=lambda trial: not trial.named & touched):
                reached = trial.sums & touched or self._differs(trial, tests, touched)
                if reached and cases.failures(trial.case, self.book):
                    return str(trial.case["case"])
        return ""

    def _context(self, mutant: Mutant, touched: set[str], trees: dict[str, Tree]) -> Context:
        old = self.book.context
        return replace(
            old,
            limits=old.limits | dict(mutant.limits),
            quantities={name: trees[name] for name in old.quantities},
            compiled={n: run for n, run in old.compiled.items() if n not in touched},
        )

    def _differs(self, trial: Trial, tests: dict[str, Compiled], touched: set[str]) -> bool:
        answers = Case(trial.answers.facts, trial.answers.wheels)
        kept = trial.answers.cache
        answers.cache = {key: value for key, value in kept.items() if key[0] not in touched}
        return any(
            tests[name](answers, place) != truth
            for (name, place), truth in trial.truths.items()
            if name in tests
        )

    @contextmanager
    def _swapped(
        self, tests: dict[str, Compiled], trees: Mapping[str, Tree], context: Context
    ) -> Iterator[None]:
        """The book with the changed rules; what was written out of them is written anew."""
        book, findings = self.book, [self.book.findings[name] for name in tests]
        before = dict(vars(book)), [dict(vars(finding)) for finding in findings]
        try:
            book.context, book.stands = context, {}
            vars(book).pop("written", None)
            for finding in findings:
                finding.test, finding.needs = tests[finding.id], None
                finding.when = Expr(trees[finding.id])
            yield
        finally:
            for one, held in zip([book, *findings], [before[0], *before[1]], strict=True):
                vars(one).clear()
                vars(one).update(held)


def _trial(case: Json, book: Rulebook) -> Trial:
    check, answers = read_case(cases.payload(case), book)
    visits = list(asked(check, answers, book))
    truths = {
        (finding.id, visit.place): finding.test(answers, visit.place)
        for visit in visits
        for finding in visit.point.findings
    }
    expect = case["expect"]
    words = [w for key in NAMING for w in expect.get(key, [])]
    points = {name.partition("@")[0] for name in expect.get("point", {})}
    named = {word.partition("@")[0] for word in words}
    named |= {f.id for visit in visits if visit.point.id in points for f in visit.point.findings}
    sums = {name.partition("@")[0] for name in expect.get("sums", {})}
    return Trial(case, answers, visits, truths, frozenset(named), frozenset(sums))


# ---- survivors ------------------------------------------------------------------------------


def survivors(lab: Lab, chosen: list[Mutant]) -> list[Mutant]:
    """The mutants that no case notices."""
    return [mutant for mutant in chosen if not lab.noticed(mutant)]


def listed() -> dict[str, str]:
    """Survivors that are right, with the reason, from ``docs/mutation.md``.

    A line of its table is a name, in which ``*`` stands for anything, and the reason.
    """
    rows = re.findall(r"^\| `([^`]+)` \| ([^|]+) \|$", PAGE.read_text("utf-8"), re.M)
    return {name: reason.strip() for name, reason in rows}


def fits(name: str, rows: Mapping[str, str]) -> list[str]:
    """The names of the list, as written there, that a mutant's name fits."""
    return [row for row in rows if fnmatchcase(name, row)]


def report(chosen: list[Mutant], alive: list[Mutant], rows: Mapping[str, str]) -> list[str]:
    """What stands in the way of calling the tables whole, a sentence each."""
    faults = [
        f"{mutant.name}: no case notices it; add one on and beside the limit, or list it with "
        f"its reason in docs/{PAGE.name}"
        for mutant in alive
        if not fits(mutant.name, rows)
    ]
    living = {row for mutant in alive for row in fits(mutant.name, rows)}
    mine = {row for mutant in chosen for row in fits(mutant.name, rows)}
    faults += [
        f"docs/{PAGE.name}: {row} is noticed now; take it off" for row in sorted(mine - living)
    ]
    for kind, least in LEAST.items():
        noticed, of = counted(kind, chosen, alive)
        if of and noticed < least * of:
            faults.append(f"{kind}: {noticed} of {of} noticed, less than {least:.0%}")
    return faults


def counted(kind: str, chosen: list[Mutant], alive: list[Mutant]) -> tuple[int, int]:
    """How many mutants of a kind are noticed, of how many."""
    of = sum(mutant.kind == kind for mutant in chosen)
    return of - sum(mutant.kind == kind for mutant in alive), of


def main(words: list[str]) -> int:
    book, rows = load(), listed()
    lab = Lab(book, cases.all_cases())
    chosen = [m for m in mutants(book) if not words or any(word in m.name for word in words)]
    alive = survivors(lab, chosen)
    faults = report(chosen, alive, rows)
    names = {mutant.name for mutant in mutants(book)}
    faults += [
        f"docs/{PAGE.name}: {row} names nothing that can be changed"
        for row in rows
        if not any(fnmatchcase(name, row) for name in names)
    ]
    for fault in faults:
        print(fault)
    for kind in LEAST:
        noticed, of = counted(kind, chosen, alive)
        print(f"{kind}: {noticed} of {of} noticed, {of - noticed} live")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
