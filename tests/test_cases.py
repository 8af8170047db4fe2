"""The case tables, judged in Python."""

import pytest

from tests.cases import all_cases, differences, outcome

CASES = all_cases()


@pytest.mark.parametrize("case", CASES, ids=[f"{c['table']}: {c['case']}" for c in CASES])
def test_case_comes_out_as_the_table_says(case):
    assert differences(case["expect"], outcome(case)) == []


def test_every_case_has_a_sentence_of_its_own():
    names = [(c["table"], c["case"]) for c in CASES]
    assert len(names) == len(set(names))
