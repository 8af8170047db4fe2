"""What must hold for every tree and every set of answers, and for the rulebook itself."""

from __future__ import annotations

from random import Random
from typing import Any

import mpmath
import pytest
from hypothesis import given
from hypothesis import strategies as st

from checks.formula import Case, Context, Tree, compile_tree
from checks.judge import read_case
from checks.rulebook import Rulebook, load
from checks.rules import Finding
from tests.support import cases, trees
from tests.support.effort import effort

randoms = st.randoms(use_true_random=False)
thorough = effort(300)
CONTEXT = trees.context()


def lies_within(inner: Any, outer: Any) -> bool:
    """Bit sets and ranges alike."""
    if isinstance(inner, int):
        return inner & ~outer == 0
    return bool(outer[0] <= inner[0] and inner[1] <= outer[1])


@pytest.mark.slow
@pytest.mark.sample
@thorough
@given(randoms, st.integers(1, 5))
def test_a_point_lies_in_the_range_that_holds_its_answers(rng: Random, depth: int) -> None:
    check_narrowing(rng, depth, exact=True)


@pytest.mark.slow
@pytest.mark.sample
@thorough
@given(randoms, st.integers(1, 5))
def test_narrower_answers_never_widen_a_result(rng: Random, depth: int) -> None:
    check_narrowing(rng, depth, exact=False)


def check_narrowing(rng: Random, depth: int, *, exact: bool) -> None:
    tree = trees.Grower(rng, narrowing=True).tree(depth)
    wheels = trees.random_wheels(rng)
    facts = trees.random_facts(rng, wheels)
    fewer = trees.narrowed(rng, facts, wheels, exact=exact)
    run, place = compile_tree(tree, CONTEXT), rng.choice(wheels)
    wide, narrow = run(trees.case(facts, wheels), place), run(trees.case(fewer, wheels), place)
    assert lies_within(narrow, wide), f"{tree}\n{facts}\n{fewer}\n{wide} became {narrow}"


EXACT = ("+", "-", "*", "/", "neg", "abs", "min", "max")


def arithmetic(rng: Random, depth: int) -> Tree:
    """A tree of the operations that mpmath has too."""
    if depth == 0:
        return ["fact", rng.choice(trees.NUMBERS)] if rng.random() < 0.6 else rng.uniform(-9, 9)
    op = rng.choice(["+", "-", "*", "/", "neg", "abs", "exp", "ln", "^"])
    inner = arithmetic(rng, depth - 1)
    if op == "exp":
        return [op, ["min", inner, 5]]
    if op == "ln":
        return [op, ["max", inner, 0.5]]
    if op == "^":
        return [op, ["max", ["min", inner, 50], 0.5], rng.choice([0.25, 0.5, 1.7, 2, -1.3])]
    if op in ("neg", "abs"):
        return [op, inner]
    if op == "/":  # a divisor that touches zero is told apart in test_interval.py
        divisor = ["+", ["abs", arithmetic(rng, depth - 1)], 0.5]
        return [op, inner, rng.choice([divisor, ["neg", divisor]])]
    return [op, inner, arithmetic(rng, depth - 1)]


def by_mpmath(tree: Tree, values: dict[str, tuple[float, float]]) -> Any:
    """The same tree in mpmath's outward-rounded interval arithmetic."""
    iv = mpmath.iv
    if not isinstance(tree, list):
        return iv.mpf(tree)
    if tree[0] == "fact":
        return iv.mpf(list(values[tree[1]]))
    terms = [by_mpmath(t, values) for t in tree[1:]]
    a, b = terms[0], terms[-1]
    operations = {
        "+": lambda: a + b,
        "-": lambda: a - b,
        "*": lambda: a * b,
        "/": lambda: a / b,
        "neg": lambda: -a,
        "abs": lambda: abs(a),
        "exp": lambda: iv.exp(a),
        "ln": lambda: iv.log(a),
        "^": lambda: iv.exp(iv.log(a) * b),
        "min": lambda: iv.mpf([min(a.a, b.a), min(a.b, b.b)]),
        "max": lambda: iv.mpf([max(a.a, b.a), max(a.b, b.b)]),
    }
    return operations[tree[0]]()


@pytest.mark.slow
@pytest.mark.sample
@thorough
@given(randoms, st.integers(1, 4))
def test_ranges_agree_with_mpmath(rng: Random, depth: int) -> None:
    """Outside reference: mpmath's interval arithmetic (the ``iv`` context), rounded outwards.

    Its power goes through exp and ln at 53 bits, hence an allowance that grows with depth.
    """
    tree = arithmetic(rng, depth)
    facts = {(name, ""): trees.narrower(rng, trees.whole(name)) for name in trees.NUMBERS}
    context = Context(
        {n: trees.whole(n) for n in trees.NUMBERS},
        dict.fromkeys(trees.NUMBERS, "trailer"),
        {},
        {},
        {},
    )
    ours = compile_tree(tree, context)(trees.case(facts, ["1R", "1L"]), "1L")
    theirs = by_mpmath(tree, {name: facts[name, ""] for name in trees.NUMBERS})
    low, high = float(theirs.a), float(theirs.b)
    assert low <= ours[0], f"{tree}\n{facts}\n{ours} reaches below {low}"
    assert ours[1] <= high, f"{tree}\n{facts}\n{ours} reaches above {high}"


# ---- the rulebook itself --------------------------------------------------------------------


@pytest.mark.sample
@effort(60)
@given(st.integers(0, 10**6))
def test_more_answers_never_turn_a_finding_round(seed: int) -> None:
    """Every finding at every place: once *yes* or *no*, it stays so; *maybe* may become either."""
    rng, book = Random(seed), load()
    _, case = read_case(cases.random_payload(rng, book), book)
    facts = dict(case.facts)
    for name, place in cases.every_key(book, case.wheels):
        value = facts.get((name, place), book.context.whole[name])
        if name != "axles" and rng.random() < 0.5:
            facts[name, place] = trees.narrower(rng, value, exact=rng.random() < 0.7)
    fewer = Case(facts, case.wheels)
    for finding, place in every_finding(book, case.wheels):
        before, after = finding.test(case, place), finding.test(fewer, place)
        assert after & ~before == 0, f"{finding.id} at {place}: {before} became {after}"


def every_finding(book: Rulebook, wheels: list[str]) -> list[tuple[Finding, str]]:
    places = {"trailer": [""], "axle": sorted({w[0] for w in wheels}), "wheel": wheels}
    return [
        (finding, place)
        for station in book.stations
        for point in station.points
        for finding in point.findings
        for place in places[point.scope]
    ]
