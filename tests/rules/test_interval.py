"""Ranges against mpmath and IEEE 1788, truths against Kleene's tables."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import mpmath
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checks import interval as iv
from checks.interval import AND, MAYBE, NO, NOT, OR, WHOLE, YES, Range
from tests.support import ieee1788

inf = math.inf


def ranges(low: float, high: float) -> st.SearchStrategy[Range]:
    numbers = st.floats(low, high, allow_subnormal=False)
    return st.tuples(numbers, numbers).map(lambda ends: (min(ends), max(ends)))


anywhere = ranges(-1e6, 1e6)
away_from_zero = ranges(1e-3, 1e6).flatmap(lambda r: st.sampled_from([r, (-r[1], -r[0])]))
seeded = settings(max_examples=200, deadline=None, derandomize=True)


# ---- against mpmath -------------------------------------------------------------------------

# ours, mpmath's, first range, second range, ulps apart that are allowed (mpmath rounds outwards)
AGAINST_MPMATH = {
    "sum": (iv.add, lambda a, b: a + b, anywhere, anywhere, 1),
    "difference": (iv.sub, lambda a, b: a - b, anywhere, anywhere, 1),
    "product": (iv.mul, lambda a, b: a * b, anywhere, anywhere, 1),
    "quotient": (iv.div, lambda a, b: a / b, anywhere, away_from_zero, 1),
    "negative": (iv.neg, lambda a, _: -a, anywhere, anywhere, 0),
    "absolute": (iv.absolute, lambda a, _: abs(a), anywhere, anywhere, 0),
    "exp": (iv.exp, lambda a, _: mpmath.iv.exp(a), ranges(-50, 50), anywhere, 2),
    "ln": (iv.ln, lambda a, _: mpmath.iv.log(a), ranges(1e-6, 1e6), anywhere, 2),
}


@pytest.mark.slow
@pytest.mark.parametrize("name", AGAINST_MPMATH)
def test_an_operation_fills_the_range_of_mpmath(name: str) -> None:
    """Outside reference: mpmath's ``iv`` intervals of 53 bits, each end rounded outwards."""
    ours, theirs, first, second, ulps = AGAINST_MPMATH[name]

    @seeded
    @given(first, second)
    def compare(a: Range, b: Range) -> None:
        mine = ours(a, b) if ours.__code__.co_argcount == 2 else ours(a)
        outer = theirs(mpmath.iv.mpf(list(a)), mpmath.iv.mpf(list(b)))
        assert_just_inside(mine, (float(outer.a), float(outer.b)), ulps)

    compare()


@pytest.mark.slow
@seeded
@given(ranges(0.01, 100), ranges(-4, 4))
def test_a_power_fills_the_range_of_mpmath(a: Range, b: Range) -> None:
    """mpmath has no interval to an interval, so its exp and ln at 80 bits stand in."""
    mpmath.iv.prec = 80
    try:
        outer = mpmath.iv.exp(mpmath.iv.log(mpmath.iv.mpf(list(a))) * mpmath.iv.mpf(list(b)))
    finally:
        mpmath.iv.prec = 53
    low, high = iv.power(a, b)
    assert low == pytest.approx(float(outer.a), rel=4 * 2**-52)
    assert high == pytest.approx(float(outer.b), rel=4 * 2**-52)


def assert_just_inside(inner: Range, outer: Range, ulps: int) -> None:
    assert outer[0] <= inner[0] <= inner[1] <= outer[1]
    assert inner[0] - outer[0] <= ulps * math.ulp(outer[0])
    assert outer[1] - inner[1] <= ulps * math.ulp(outer[1])


# ---- IEEE 1788-2015 -------------------------------------------------------------------------

OPERATIONS: dict[str, Callable[..., Range]] = {
    "neg": iv.neg,
    "add": iv.add,
    "sub": iv.sub,
    "mul": iv.mul,
    "div": iv.div,
    "recip": lambda a: iv.div((1.0, 1.0), a),
    "sqrt": lambda a: iv.power(a, (0.5, 0.5)),
    "pow": iv.power,
    "exp": iv.exp,
    "log": iv.ln,
    "abs": iv.absolute,
    "min": iv.smaller,
    "max": iv.larger,
}


@pytest.mark.parametrize("name", OPERATIONS)
def test_an_operation_is_as_tight_as_ieee_1788(name: str) -> None:
    """Outside reference: the public ITF1788 suite (``tests/cases/ieee1788.itl`` names authors and
    licence). Its ends are rounded outwards, ours to the nearest: two steps of a float are allowed.
    Where it has the empty set, a judge must not take that for an answer: the whole line."""
    told = [case for case in ieee1788.read() if case.operation == name]
    assert len(told) > 5
    for case in told:
        ours, wanted = OPERATIONS[name](*case.operands), case.result or WHOLE
        assert all(map(ieee1788.close, ours, wanted)), f"{case}: {ours}"


def test_the_suite_tells_a_wider_range_from_a_tight_one() -> None:
    assert not ieee1788.close(0.25, -inf)
    assert not ieee1788.close(1.0, 1.0 + 3 * 2**-52)
    assert ieee1788.close(1.0, 1.0 + 2 * 2**-52)
    assert ieee1788.close(math.nextafter(inf, 0), inf)


# ---- our own ground -------------------------------------------------------------------------

TABLE: list[tuple[str, Callable[..., Any], tuple[Range, ...], Range]] = [
    ("zero times everything is zero", iv.mul, ((0, 0), WHOLE), (0, 0)),
    ("a sign turns the product", iv.mul, ((-2, 3), (-5, 1)), (-15, 10)),
    ("absolute across zero starts at zero", iv.absolute, ((-3, 2),), (0, 3)),
    ("absolute of a negative", iv.absolute, ((-3, -2),), (2, 3)),
    ("exp of a number too great", iv.exp, ((0, 1e4),), (1, inf)),
    ("exp of everything", iv.exp, (WHOLE,), (0, inf)),
    ("ln from zero", iv.ln, ((0, 1),), (-inf, 0)),
    ("ln of nothing above zero", iv.ln, ((-2, 0),), WHOLE),
    ("the root of a quarter to four", iv.power, ((0.25, 4), (0.5, 0.5)), (0.5, 2)),
    ("an exponent across zero", iv.power, ((2, 4), (-1, 2)), (0.25, 16)),
    ("zero to the power of zero cannot tell", iv.power, ((0, 0), (0, 0)), WHOLE),
    ("nothing but zero to a power from zero up", iv.power, ((0, 0), (0, 2)), (0, 0)),
    ("divided by nothing but zero", iv.div, ((1, 1), (0, 0)), WHOLE),
    ("divisor from zero up", iv.div, ((1, 2), (0, 4)), (0.25, inf)),
    ("divisor up to zero", iv.div, ((1, 2), (-4, 0)), (-inf, -0.25)),
    ("divisor up to a negative zero", iv.div, ((1, 2), (-4, -0.0)), (-inf, -0.25)),
    ("divisor across zero", iv.div, ((1, 2), (-1, 1)), WHOLE),
    ("zero by a divisor across zero", iv.div, ((0, 0), (-1, 1)), (0, 0)),
    ("zero to a negative power", iv.power, ((0, 2), (-1, -1)), (0.5, inf)),
    ("a negative base", iv.power, ((-2, -1), (2, 2)), WHOLE),
    ("the smaller of two", iv.smaller, ((1, 5), (2, 3)), (1, 3)),
    ("the larger of two", iv.larger, ((1, 5), (2, 3)), (2, 5)),
    ("a hull bridges a gap", iv.hull, ((1, 2), (4, 5)), (1, 5)),
]


@pytest.mark.parametrize(("name", "operation", "terms", "result"), TABLE)
def test_range(
    name: str, operation: Callable[..., Any], terms: tuple[Range, ...], result: Range
) -> None:
    assert operation(*terms) == result, name


COMPARED: list[tuple[str, Range, Range, int, int]] = [
    # name, a, b, a < b, a <= b
    ("apart", (1, 2), (3, 4), YES, YES),
    ("touching", (1, 2), (2, 3), MAYBE, YES),
    ("overlapping", (1, 3), (2, 4), MAYBE, MAYBE),
    ("the same point", (2, 2), (2, 2), NO, YES),
    ("touching from above", (2, 3), (1, 2), NO, MAYBE),
    ("apart from above", (3, 4), (1, 2), NO, NO),
    ("one inside the other", (1, 4), (2, 3), MAYBE, MAYBE),
    ("anything", WHOLE, (0, 0), MAYBE, MAYBE),
]


@pytest.mark.parametrize(("name", "a", "b", "less", "at_most"), COMPARED)
def test_comparison(name: str, a: Range, b: Range, less: int, at_most: int) -> None:
    assert (iv.less(a, b), iv.at_most(a, b)) == (less, at_most), name


# ---- Kleene ---------------------------------------------------------------------------------

# The strong three-valued tables of S. C. Kleene, Introduction to Metamathematics (1952),
# section 64: t true, f false, u undefined. Rows and columns run t, f, u. From memory.
KLEENE = {"t": YES, "f": NO, "u": MAYBE}
KLEENE_NOT = {"t": "f", "f": "t", "u": "u"}
KLEENE_AND = {"t": "tfu", "f": "fff", "u": "ufu"}
KLEENE_OR = {"t": "ttt", "f": "tfu", "u": "tuu"}


def test_not_is_kleenes() -> None:
    for value, result in KLEENE_NOT.items():
        assert NOT[KLEENE[value]] == KLEENE[result]


@pytest.mark.parametrize(
    ("ours", "kleene"), [(AND, KLEENE_AND), (OR, KLEENE_OR)], ids=["and", "or"]
)
def test_junction_is_kleenes(ours: Any, kleene: dict[str, str]) -> None:
    for row, results in kleene.items():
        for column, result in zip("tfu", results, strict=True):
            assert ours[KLEENE[row]][KLEENE[column]] == KLEENE[result], (row, column)


def test_no_possibility_stays_none() -> None:
    assert NOT[0] == 0
    for value in (0, NO, YES, MAYBE):
        assert (AND[0][value], AND[value][0], OR[0][value], OR[value][0]) == (0, 0, 0, 0)
