"""What several tests of the rules use: the rulebook, and every case judged by it."""

from __future__ import annotations

import pytest

from checks.rulebook import Rulebook, load
from tests.support import cases
from tests.support.mutate import Lab


@pytest.fixture(scope="session")
def book() -> Rulebook:
    return load()


@pytest.fixture(scope="module")
def lab() -> Lab:
    """A rulebook of its own: a change is made in it and taken out again."""
    return Lab(load(), cases.all_cases())
