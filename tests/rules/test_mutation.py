"""A limit that moves, or a comparison that is flipped, makes a case fail: a fixed sample.

``make mutate`` tries all of them; ``docs/mutation.md`` lists those that cannot be noticed.
"""

from __future__ import annotations

from zlib import crc32

import pytest

from checks.rulebook import Rulebook, load
from tests.support import cases, mutate
from tests.support.effort import LONG, PART
from tests.support.mutate import Lab, Mutant

# One of so many, picked by name, so that the sample stays as rules change.
EVERY = 1 if LONG else 5 * PART
SHARE = " noticed, less than "


@pytest.mark.sample
@pytest.mark.slow
def test_the_cases_notice_a_sample_of_changes(lab: Lab) -> None:
    chosen = [m for m in mutate.mutants(lab.book) if crc32(m.name.encode()) % EVERY == 0]
    alive = mutate.survivors(lab, chosen)
    faults = mutate.report(chosen, alive, mutate.listed())
    assert [fault for fault in faults if SHARE not in fault] == []


@pytest.mark.sweep
@pytest.mark.slow
def test_nineteen_of_twenty_limits_and_nine_of_ten_comparisons_are_noticed(lab: Lab) -> None:
    chosen = mutate.mutants(lab.book)
    faults = mutate.report(chosen, mutate.survivors(lab, chosen), mutate.listed())
    assert [fault for fault in faults if SHARE in fault] == []


@pytest.mark.slow
def test_every_survivor_listed_can_be_made_and_has_a_reason(book: Rulebook) -> None:
    names = [m.name for m in mutate.mutants(book)]
    for row, reason in mutate.listed().items():
        assert any(mutate.fits(name, {row: reason}) for name in names), row
        assert len(reason.split()) > 3, row


@pytest.mark.slow
def test_a_change_leaves_the_rulebook_as_it_was() -> None:
    lab = Lab(load(), [one for one in cases.all_cases() if one["case"].startswith("tires: ")])
    mutant = next(m for m in mutate.moved_limits(lab.book) if m.name == "tires.tread_min up")
    before = lab.book.findings["tread_gone"].test
    assert lab.noticed(mutant)
    assert lab.book.findings["tread_gone"].test is before
    assert lab.book.context is load().context
    assert lab.book.context.limits["tires.tread_min"] == 2


@pytest.mark.slow
def test_without_cases_nothing_is_noticed() -> None:
    empty, (first, *_) = Lab(load(), []), mutate.mutants(load())
    assert mutate.survivors(empty, [first]) == [first]
    (fault, low) = mutate.report([first], [first], {})
    assert first.name in fault
    assert "0 of 1 noticed" in low


def test_a_listed_survivor_that_is_noticed_must_go() -> None:
    mutant = Mutant("limit", "tires.tread_min up")
    assert mutate.report([mutant], [], {"tires.* up": "reason"}) == [
        "docs/mutation.md: tires.* up is noticed now; take it off"
    ]


@pytest.mark.parametrize(
    ("value", "moved"),
    [
        (10, 15),
        ([10, 20], [15, 30]),
        ([-45, 25], [-67.5, 37.5]),
        ([[0, 10], [1, 20]], [[0, 15], [1, 30]]),
        (0, 0.5),
    ],
)
def test_a_limit_of_any_kind_is_moved(value: object, moved: object) -> None:
    assert mutate.moved(value, 1.5) == moved


def test_a_comparison_is_flipped_wherever_it_stands() -> None:
    low = ["<=", 2.0, ["fact", "c"]]
    tree = ["and", ["<", ["fact", "a"], 1.0], ["pick", "b", {"x": low, "y": ["not", low]}]]
    outer, inner = mutate.comparisons(tree)
    assert (outer, inner) == (tree[1], low)
    assert mutate.flipped(tree, outer, "sides") == ["and", ["<", 1.0, ["fact", "a"]], tree[2]]
    strict = ["<", 2.0, ["fact", "c"]]
    assert mutate.flipped(tree, inner, "strictness") == [
        *("and", tree[1]),
        ["pick", "b", {"x": strict, "y": ["not", strict]}],
    ]
