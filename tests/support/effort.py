"""How hard tests try: a short seeded run in ``make test-long``, the whole in ``make test-sweeps``.

What walks over everything there is, or tries made-up examples, says here how much is tried.
``make test-long`` takes a part, the same each time; ``make test-sweeps`` sets TWENTYMILE_SWEEPS and
takes the whole; ``make fuzz`` sets TWENTYMILE_LONG and tries many times the examples, new ones.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

LONG = bool(os.environ.get("TWENTYMILE_LONG"))
SWEEPS = LONG or bool(os.environ.get("TWENTYMILE_SWEEPS"))
PART = 1 if SWEEPS else 4  # one of so many is tried

# seeded, so that a run elsewhere fails on the same example; no deadline, since machines differ
settings.register_profile(
    "twentymile",
    deadline=None,
    derandomize=not LONG,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
settings.load_profile("twentymile")


def rounds(count: int) -> int:
    """How many of ``count`` made-up examples are tried: a quarter, all, or forty times as many."""
    return count * 40 if LONG else -(-count // PART)


def effort(examples: int) -> settings:
    """Settings for ``rounds(examples)``."""
    return settings(max_examples=rounds(examples))


def some(cases: Iterable[Any], count: int) -> list[Any]:
    """The cases for ``parametrize``: ``count`` of them, evenly spread, are no sweep.

    The others are marked ``sweep``.
    """
    return spread(cases, count, pytest.mark.sweep)


def few(cases: Iterable[Any], count: int) -> list[Any]:
    """The same, for ``make test``: the others are marked ``long``."""
    return spread(cases, count, pytest.mark.long)


def spread(cases: Iterable[Any], count: int, mark: pytest.MarkDecorator) -> list[Any]:
    every = list(cases)
    kept = {at * len(every) // count for at in range(count)}
    return [one if at in kept else marked(one, mark) for at, one in enumerate(every)]


def marked(case: Any, mark: pytest.MarkDecorator) -> Any:
    values = case if type(case) is tuple else (case,)
    return pytest.param(*values, marks=mark)


def swept(case: Any) -> Any:
    """A case of ``parametrize`` that ``make test-sweeps`` alone tries."""
    return marked(case, pytest.mark.sweep)
