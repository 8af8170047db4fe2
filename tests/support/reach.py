"""What the case tables reach: where a finding holds, its nearest no, every choice answered."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from checks.formula import place_for
from checks.interval import NO, YES
from checks.rulebook import Rulebook
from tests.support.cases import Json
from tests.support.mutate import Trial


def fires(trials: Iterable[Trial]) -> dict[str, list[Trial]]:
    """By finding: the cases that expect it by name, and in which it holds."""
    result = defaultdict(list)
    for trial in trials:
        expected = {name.partition("@")[0] for name in trial.case["expect"].get("finding", [])}
        holds = {finding for (finding, _), truth in trial.truths.items() if truth == YES}
        for finding in expected & holds:
            result[finding].append(trial)
    return dict(result)


def beside(trials: list[Trial], book: Rulebook) -> dict[str, str]:
    """By finding: a case in which it is no, where one other answer makes it hold at that place.

    An optional finding may be in doubt instead of no: it is silent then too.
    """
    near: dict[int, list[Trial]] = defaultdict(list)
    for trial in trials:
        for without in _less_one(trial.case):
            near[without].append(trial)
    result: dict[str, str] = {}
    for alike in near.values():
        yes = {key for t in alike for key, truth in t.truths.items() if truth == YES}
        for trial in alike:
            for key, truth in trial.truths.items():
                quiet = truth == NO or (truth != YES and book.findings[key[0]].optional)
                if quiet and key in yes:
                    result.setdefault(key[0], trial.case["case"])
    return result


def _less_one(case: Json) -> list[int]:
    """A mark of the answers without each of them in turn, and of the date's place among them."""
    items = [hash((key, repr(value))) for key, value in case["facts"].items()]
    whole = hash(case["check"]) ^ hash(case["date"])
    for item in items:
        whole ^= item
    named = [whole ^ item ^ hash(key) for item, key in zip(items, case["facts"], strict=True)]
    return [*named, whole ^ hash(case["date"])]


def answered(trials: Iterable[Trial], book: Rulebook) -> set[tuple[str, str]]:
    """Every choice that is the answer to a fact in a case that asks for it there."""
    result = set()
    for trial in trials:
        asked = {key for visit in trial.visits for key in visit.keys}
        for written, answer in trial.case["facts"].items():
            name, _, place = written.partition("@")
            fact = book.facts[name]
            chosen = fact.kind == "choice" and isinstance(answer, str)
            if chosen and (name, place_for(fact.scope, place)) in asked:
                result.add((name, answer))
    return result


def every_choice(book: Rulebook) -> list[tuple[str, str]]:
    return [(fact.id, one) for fact in book.facts.values() for one in fact.choices]
