"""Which points are looked at, where, and what is asked there: made ready once, then walked."""

from __future__ import annotations

from collections.abc import Iterator, Set
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

from checks.formula import Expr, Tree, place_for
from checks.interval import NO, YES
from checks.rulebook.model import DEPTHS, Point, Question, Rulebook
from checks.rules import Finding
from checks.written import Answers, Key, Truths

ALWAYS: Tree = ["<", 0.0, 1.0]
# The depth at which nothing more is asked; it counts from the end of what is told by depth.
BURNS = -1
MOST_KEPT = 64  # visits of a stand that are kept; which questions are live rarely changes

_Gate = tuple[Truths, list[int]]  # and by question which of the truths it hangs on


class Beside(NamedTuple):
    """What stands beside the conditions of some findings of a point: their alarms, or what makes
    their doubts moot."""

    findings: list[Finding]
    truths: Truths

    def holding(self, answers: Answers, place: str) -> list[Finding]:
        """The findings for which it holds."""
        if not self.findings:
            return []
        found = zip(self.findings, self.truths(answers, place), strict=True)
        return [finding for finding, truth in found if truth == YES]


_Looks = tuple[Truths, Beside, Beside, _Gate]


@dataclass(frozen=True)
class Visit:
    """One point at one place: the keys asked there, those it needs, and those of a deeper walk.

    spared: keys which nobody is asked for and nothing waits for: optional ones of a deeper walk,
    and whatever is open where something burns; over: whether it is that.
    """

    point: Point
    place: str
    keys: list[Key]
    required: list[Key]
    deeper: list[Key]
    spared: list[Key]
    over: bool

    @cached_property
    def all_keys(self) -> frozenset[Key]:
        """The keys asked; in a set their hashes are worked out once."""
        return frozenset(self.keys)

    @cached_property
    def all_required(self) -> frozenset[Key]:
        """Those it needs."""
        return frozenset(self.required)


@dataclass
class Stand:
    """A point at a place of a trailer with so many axles.

    gate: truths of what the point and its questions hang on. asks: each key with its question and
    the truth in the gate that it hangs on. look: truths of the findings. alarms, moots: what
    stands beside them. quiet: truths of findings of which none holds or may hold. later: by depth
    the keys that are asked on a deeper walk alone.
    """

    point: Point
    place: str
    gate: Truths
    asks: list[tuple[Key, Question, int]]
    look: Truths
    alarms: Beside
    moots: Beside
    quiet: tuple[int, ...]
    later: tuple[frozenset[Key], ...]
    kept: dict[tuple[int, ...], Visit | None] = field(default_factory=dict)

    def visit(self, answers: Answers, depth: int, answered: Set[Key]) -> Visit | None:
        """What is asked here by now; None where the point does not apply."""
        truths = self.gate(answers, self.place)
        if not self.later[depth] <= answered:
            return self._made(truths, depth, answered)
        try:
            return self.kept[truths]
        except KeyError:
            if len(self.kept) == MOST_KEPT:
                self.kept.clear()
            self.kept[truths] = made = self._made(truths, depth, answered)
            return made

    def _made(self, truths: tuple[int, ...], depth: int, answered: Set[Key]) -> Visit | None:
        if truths[0] == NO:
            return None
        over = depth == BURNS and any(key not in answered for key, _, _ in self.asks)
        visit = Visit(self.point, self.place, [], [], [], [], over)
        for key, question, hangs_on in self.asks:
            if truths[hangs_on] == NO:
                continue
            if question.depth > depth and key not in answered:
                (visit.spared if question.optional or over else visit.deeper).append(key)
                continue
            visit.keys.append(key)
            if not question.optional:
                visit.required.append(key)
        return visit


def stands(check: str, wheels: list[str], book: Rulebook) -> list[Stand]:
    """Every stand of a kind of check, in walking order."""
    kept: list[Stand] | None = book.stands.get((check, *wheels))
    if kept is None:
        looks: dict[str, _Looks] = {}
        kept = [_stand(point, at, looks, book) for point, at in _walk(check, wheels, book)]
        book.stands[check, *wheels] = kept
    return kept


def _walk(check: str, wheels: list[str], book: Rulebook) -> Iterator[tuple[Point, str]]:
    axles = sorted({w[0] for w in wheels})
    for station in book.stations:
        points = [p for p in station.points if check in p.checks]
        for place in [*wheels, ""]:
            for point in points:
                if (point.scope == "wheel") == bool(place):
                    for at in axles if point.scope == "axle" else [place]:
                        yield point, at


def _stand(point: Point, at: str, looks: dict[str, _Looks], book: Rulebook) -> Stand:
    if point.id not in looks:
        looks[point.id] = _looks(point, book)
    look, alarms, moots, (gate, hangs_on) = looks[point.id]
    keys = [book.key((q.fact, place_for(q.scope, at))) for q in point.questions]
    return Stand(
        *(point, at, gate, list(zip(keys, point.questions, hangs_on, strict=True))),
        *(look, alarms, moots, (NO,) * len(point.findings)),
        tuple(_deeper(keys, point, depth) for depth in (*range(len(DEPTHS)), BURNS)),
    )


def _looks(point: Point, book: Rulebook) -> _Looks:
    look = book.written.truths([finding.when.tree for finding in point.findings])
    alarms = _beside([(finding, finding.alarm) for finding in point.findings], book)
    moots = _beside([(finding, finding.moot) for finding in point.findings], book)
    return look, alarms, moots, _gate(point, book)


def _beside(marked: list[tuple[Finding, Expr | None]], book: Rulebook) -> Beside:
    told = [(finding, mark.tree) for finding, mark in marked if mark is not None]
    return Beside([f for f, _ in told], book.written.truths([tree for _, tree in told]))


def _deeper(keys: list[Key], point: Point, depth: int) -> frozenset[Key]:
    asked = zip(keys, point.questions, strict=True)
    return frozenset(key for key, question in asked if question.depth > depth)


def _gate(point: Point, book: Rulebook) -> _Gate:
    trees: list[Tree] = [point.applies_tree or ALWAYS, ALWAYS]
    hangs_on = []
    for question in point.questions:
        when = book.facts[question.fact].when
        tree = ALWAYS if when is None else when.tree
        if tree not in trees[1:]:
            trees.append(tree)
        hangs_on.append(trees.index(tree, 1))
    return book.written.truths(trees), hangs_on
