"""Trees written out as Python say what the closures say, of every tree and set of answers.

The closures of ``checks/formula.py`` are the measure here; ``test_formula_properties.py`` holds
those to mpmath and to intervals.
"""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checks.formula import compile_tree
from checks.judge import read_case
from checks.rulebook import load
from checks.written import Written
from tests.support import cases, trees
from tests.support.effort import effort

randoms = st.randoms(use_true_random=False)
CONTEXT = trees.context()
WRITTEN = Written(CONTEXT)


@pytest.mark.slow
@pytest.mark.sample
@effort(300)
@given(randoms, st.integers(0, 5))
def test_a_written_tree_says_what_the_closures_say(rng: Random, depth: int) -> None:
    grown = [trees.Grower(rng).tree(depth) for _ in range(3)]
    wheels = trees.random_wheels(rng)
    case, place = trees.case(trees.random_facts(rng, wheels), wheels), rng.choice(wheels)
    answers = WRITTEN.answers(case.facts, wheels)
    for tree in grown:  # the later ones meet quantities that are worked out already
        closure = compile_tree(tree, CONTEXT)
        assert WRITTEN.worth(tree)(answers, place) == closure(case, place), tree
        wanted = trees.looked_at(closure, case, place)
        assert list(WRITTEN.needs(tree)(answers, place)) == wanted, tree


@pytest.mark.slow
@pytest.mark.sample
@effort(100)
@given(randoms)
def test_truths_that_are_written_together_are_those_of_each(rng: Random) -> None:
    grown = [trees.Grower(rng).truth(3) for _ in range(6)]
    wheels = trees.random_wheels(rng)
    case, place = trees.case(trees.random_facts(rng, wheels), wheels), rng.choice(wheels)
    wanted = tuple(compile_tree(tree, CONTEXT)(case, place) for tree in grown)
    assert WRITTEN.truths(grown)(WRITTEN.answers(case.facts, wheels), place) == wanted


@pytest.mark.slow
@pytest.mark.sample
@effort(20)
@given(st.integers(0, 100_000))
def test_every_rule_of_the_book_is_written_as_it_is(seed: int) -> None:
    book = load()
    _, case = read_case(cases.random_payload(Random(seed), book), book)
    answers = book.written.answers(case.facts, case.wheels)
    places = {"trailer": [""], "axle": sorted({w[0] for w in case.wheels}), "wheel": case.wheels}
    for point in (point for station in book.stations for point in station.points):
        look = book.written.truths([finding.when.tree for finding in point.findings])
        for at in places[point.scope]:
            wanted = tuple(finding.test(case, at) for finding in point.findings)
            assert look(answers, at) == wanted, f"{point.id} at {at}"
            for finding in point.findings:
                needs = list(book.needs(finding)(answers, at))
                assert needs == trees.looked_at(finding.test, case, at), f"{finding.id} at {at}"
