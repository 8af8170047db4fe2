"""No finding leans on a fact that its check can't ask, none waits for a fact that it does not need.

A design rule of this engine, so there is no outside source: every finding of the rulebook is held
against what its check asks, and against every answer set of the case tables and scenarios.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

import pytest

from checks.facts import Fact
from checks.formula import Case, Tree, walk
from checks.interval import MAYBE
from checks.judge import CHECKS, Visit, asked, join_key, read_case
from checks.rulebook import Rulebook, load
from checks.rules import Finding
from tests.support import cases
from tests.support.effort import PART
from tests.support.trees import looked_at

BOOK = load()
READS = ("fact", "is", "rank", "pick", "known")
HALVINGS = 14  # a fact's range is cut in two this often before an answer counts as not found
ENOUGH = 3  # answer sets in which a finding is tried with one fact left open
Key = tuple[str, str]


def facts_read(tree: Tree) -> set[str]:
    """Facts that a tree reads, by itself or by way of quantities."""
    found: set[str] = set()
    for node in walk(tree):
        if node[0] in READS:
            found.add(node[1])
        elif node[0] == "quantity":
            found |= facts_of(node[1])
    return found - {"today"}


@cache
def facts_of(quantity: str) -> set[str]:
    """Looked through once: many quantities are worked out from the same few."""
    return facts_read(BOOK.quantities[quantity].formula.tree)


@pytest.mark.parametrize("check", CHECKS)
def test_no_finding_leans_on_a_fact_that_its_check_cannot_ask(check: str) -> None:
    points = [p for station in BOOK.stations for p in station.points if check in p.checks]
    can_ask = {fact for point in points for fact in point.facts}
    leans = {
        finding.id: out
        for point in points
        for finding in point.findings
        if (out := facts_read(finding.when.tree) - can_ask)
    }
    assert not leans, "\n".join(f"{k}: {v}" for k, v in leans.items())


# ---- with the answers of the tables ---------------------------------------------------------


@dataclass(frozen=True)
class AnswerSet:
    """An answer set of the tables: its answers, what is asked for, the verdict."""

    name: str
    case: Case
    visits: list[Visit]
    keys: set[Key]
    verdict: dict[str, Any]


@cache
def answer_sets(part: int) -> list[AnswerSet]:
    """One of ``part`` answer sets of cases and scenarios that the engine takes."""
    told = [(one["case"], cases.payload(one)) for one in cases.all_cases()]
    told += [(one["sentence"], one["payload"]) for one in cases.scenarios()]
    result = []
    for name, payload in told[::part]:
        verdict = cases.verdict_or_error(payload)
        if "error" not in verdict:
            check, case = read_case(payload, BOOK)
            visits = list(asked(check, case, BOOK))
            keys = {key for visit in visits for key in visit.keys}
            result.append(AnswerSet(name, case, visits, keys, verdict))
    return result


def answers_to(fact: Fact, halvings: int = HALVINGS) -> Iterator[object]:
    """Each choice; or the ends of a range and the middles left by cutting it up, coarse first."""
    if fact.kind == "choice":
        yield from fact.bits.values()
        return
    whole = fact.whole()
    yield from ((end, end) for end in whole)
    if fact.unit == "count":
        yield from ((float(n), float(n)) for n in range(int(whole[0]), min(int(whole[1]), 60) + 1))
        return
    for depth in range(halvings):
        step = (whole[1] - whole[0]) / 2**depth
        # only around what a person would answer: fine steps near the low end, coarse over all
        for n in range(min(2**depth, 64)):
            at = whole[0] + step * (n + 0.5)
            yield (at, at)


def truths(finding: Finding, place: str, key: Key, case: Case) -> set[int]:
    """What the finding says for the answers to one fact, the others as they are; two suffice."""
    found: set[int] = set()
    for answer in answers_to(BOOK.facts[key[0]]):
        found.add(finding.test(Case(dict(case.facts) | {key: answer}, case.wheels), place))
        if len(found) > 1:
            break
    return found


def is_open(key: Key, case: Case, book: Rulebook = BOOK) -> bool:
    return bool(case.facts.get(key, book.context.whole[key[0]]) == book.context.whole[key[0]])


def follows(key: Key, one: AnswerSet) -> bool:
    """Whether a question comes once another is answered, and that one is asked and open."""
    only = BOOK.facts[key[0]].when
    first = (
        {node[1] for node in walk(only.tree) if node[0] == "known"} if only is not None else set()
    )
    return any(name in first and is_open((name, at), one.case) for name, at in one.keys)


def told_vague(verdict: dict[str, Any]) -> Iterator[tuple[Finding, str]]:
    """Doubts that a verdict tells though nothing is left to answer for them."""
    for entry in verdict["cannot_tell"]:
        if entry["why"] == "vague":
            yield BOOK.findings[entry["finding"]], entry["place"]


@pytest.mark.slow
@pytest.mark.sample
def test_no_doubt_rests_on_a_fact_that_is_not_asked_there() -> None:
    leans = {}
    for one in answer_sets(PART):
        for finding, place in told_vague(one.verdict):
            for key in looked_at(finding.test, one.case, place):
                hidden = key[0] != "today" and key not in one.keys and is_open(key, one.case)
                if (
                    hidden
                    and not follows(key, one)
                    and truths(finding, place, key, one.case) != {MAYBE}
                ):
                    leans.setdefault((finding.id, key[0]), f"{one.name}, {join_key(key)}")
    assert not leans, told(leans)


# Where a fact stands in a sum against itself, all its answers at once reach further than any one of
# them: such a finding waits for it though each single answer decides it the same way. The engine's
# ranges are sound and not the narrowest; what could be written with the fact standing once, is.
AGAINST_ITSELF = {
    "axle_hot": {"air", "axle_braked", "braking", "driven_easy", "hub_size", "sun"},
    "side_hot": {
        "air",
        "axle_braked",
        "braking",
        "driven_easy",
        "grinding",
        "hot_smell",
        "hub_size",
        "leaning",
        "run_speed",
        "smoke",
        "sun",
        "thrown_grease",
    },
    # a word too hot for the hand beside a cold one is told apart, and any other is not too hot
    "hub_stays_warm": {"hub_feel"},
    "hub_warm_again": {"hub_feel"},
    "brake_heat_hides": {"hub_feel"},
    "hub_stays_hot": {"hub_method"},
    "hub_too_hot": {"parked"},
    "grease_gone": {"air", "hub_size", "run_speed"},
    # asked where the heat is in doubt, so it reads all that a sound hub's heat hangs on
    "hot_wheel_held": {"braking", "hub_spot", "parked", "run_speed"},
    "all_hot": {"run_speed"},
    "all_hot_brakes": {"run_speed"},
    "hub_far_too_warm": {"run_speed"},
    "hub_no_touch": {"run_speed"},
    "hub_warm_by_hand": {"run_speed"},
    "pair_warm": {"brakes", "hub_method"},
    "wheel_near": {"cargo_1_ahead"},  # far behind the deck, where nothing is judged, it is heavy
    "wheel_over": {"cargo_1_ahead"},
}


def waiting(one: AnswerSet, visit: Visit, finding: Finding) -> Iterator[Key]:
    """Answered keys that a decided finding would wait for, were they left open."""
    for key in looked_at(finding.test, one.case, visit.place):
        if key in one.keys and not is_open(key, one.case):
            left = without(one.case, key)
            if finding.test(left, visit.place) == MAYBE:
                yield key


def without(case: Case, key: Key) -> Case:
    return Case({k: v for k, v in case.facts.items() if k != key}, case.wheels)


@pytest.mark.sweep
def test_no_finding_waits_for_a_fact_that_it_does_not_need() -> None:
    waits, tried = dict[Key, str](), dict[Key, int]()
    for one in answer_sets(1):  # which of them are tried hangs on all that came before
        for visit in one.visits:
            for finding in visit.point.findings:
                truth = finding.test(one.case, visit.place)
                if truth == MAYBE:
                    continue
                for key in waiting(one, visit, finding):
                    mark = (finding.id, key[0])
                    if tried.setdefault(mark, 0) >= ENOUGH:
                        continue
                    tried[mark] += 1
                    if truths(finding, visit.place, key, without(one.case, key)) == {truth}:
                        waits.setdefault(mark, f"{one.name}, {join_key(key)}")
    known = {(finding, fact) for finding, facts in AGAINST_ITSELF.items() for fact in facts}
    assert len(tried) > 500  # the tables do reach the findings
    assert set(waits) <= known, told({k: v for k, v in waits.items() if k not in known})


def told(found: dict[Key, str]) -> str:
    return "\n".join(f"{finding} by {fact}: {where}" for (finding, fact), where in found.items())


# ---- every fact is read ---------------------------------------------------------------------

# Kept with the trailer and shown to whoever works on it; no rule can judge a number on a box.
NOTES = {"bearing_numbers", "seal_numbers", "grease_kind"}
ELSEWHERE = {"walk_depth", "ties_counted"}  # by the judge; by the walk, as proof of a look
# What a stop asks about the way and the wheels, beside heat: each leads to a finding.
AT_A_STOP = (
    "cap_wet", "squeak", "knock", "vibration", "brakes_weak", "brakes_dragged", "flames",
    "hitch_pin_out", "tire_flat", "swayed", "hub_warmer", "tires_hot", "tire_reading",
    "gap_side", "gap_size", "drum_reading", "barrel_reading", "again_reading",
)  # fmt: skip


def read_by_findings() -> set[str]:
    return set().union(*(facts_read(one.when.tree) for one in BOOK.findings.values()))


@pytest.mark.slow
def test_no_fact_is_asked_that_nothing_reads() -> None:
    points = [point for station in BOOK.stations for point in station.points]
    filters = set().union(*(facts_read(p.applies_tree) for p in points if p.applies_tree))
    asked_if = [fact.when for fact in BOOK.facts.values() if fact.when is not None]
    filters = filters.union(*(facts_read(one.tree) for one in asked_if))
    worked = set().union(*(facts_read(q.formula.tree) for q in BOOK.quantities.values()))
    assert set(BOOK.facts) - read_by_findings() - filters - worked == NOTES | ELSEWHERE


@pytest.mark.parametrize("fact", AT_A_STOP)
def test_what_is_asked_at_a_stop_leads_to_a_finding(fact: str) -> None:
    points = [point for station in BOOK.stations for point in station.points]
    assert any(fact in point.facts and "run_stop" in point.checks for point in points)
    assert fact in read_by_findings()
