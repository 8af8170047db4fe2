"""The case tables leave out nothing: every finding holds, is a near no, every choice is answered.

Each message names what is missing, and the table to put it in is the finding's own.
"""

from __future__ import annotations

import pytest

from checks.judge import STAND_INS
from checks.rulebook import Rulebook
from tests.support import reach
from tests.support.mutate import Lab, Trial


@pytest.fixture(scope="module")
def trials(lab: Lab) -> list[Trial]:
    return lab.trials


@pytest.mark.slow
def test_every_finding_holds_in_a_case_that_expects_it(book: Rulebook, trials: list[Trial]) -> None:
    assert set(book.findings) - set(reach.fires(trials)) == set(STAND_INS)  # stands for others


@pytest.mark.slow
def test_every_finding_has_a_case_just_outside(book: Rulebook, trials: list[Trial]) -> None:
    assert set(book.findings) - set(reach.beside(trials, book)) == set(STAND_INS)


@pytest.mark.slow
def test_every_choice_is_answered_where_it_is_asked(book: Rulebook, trials: list[Trial]) -> None:
    answered = reach.answered(trials, book)
    assert [one for one in reach.every_choice(book) if one not in answered] == []


@pytest.mark.slow
def test_a_finding_no_case_reaches_is_told(book: Rulebook, trials: list[Trial]) -> None:
    without = [t for t in trials if "tread_gone" not in t.named]
    assert "tread_gone" not in reach.fires(without)
    assert "tread_gone" in reach.fires(trials)


def test_two_answers_apart_is_not_just_outside(book: Rulebook) -> None:
    base = {"case": "a", "check": "tires", "date": "2026-07-14", "expect": {"level": "look"}}
    worn = base | {"facts": {"axles": 1, "tread_by": "gauge", "tread@1L": 1}}
    one = base | {"facts": {"axles": 1, "tread_by": "gauge", "tread@1L": 7}}
    two = base | {"facts": {"axles": 1, "tread_by": "bars", "wear_bars@1L": "clear"}}
    assert "tread_gone" in reach.beside(Lab(book, [worn, one]).trials, book)
    assert "tread_gone" not in reach.beside(Lab(book, [worn, two]).trials, book)
