"""Ranges of numbers and three-valued truth.

A range is a tuple ``(low, high)`` of floats with ``low <= high``; infinite ends are allowed. The
operations follow IEEE 1788 (natural domain, ``0 * inf = 0``) without outward rounding: each end is
the correctly rounded result of one point operation, so a point computed with floats always lies
inside the range computed with floats, which is what the judge needs.

A truth is a bit set of what is still possible: ``NO``, ``YES`` or both, ``MAYBE``.
"""

import math

Range = tuple[float, float]

NO, YES, MAYBE = 1, 2, 3

WHOLE: Range = (-math.inf, math.inf)


def _product(x: float, y: float) -> float:
    return 0.0 if x == 0 or y == 0 else x * y


def add(a: Range, b: Range) -> Range:
    """Sum; ends of opposite infinity cannot meet because low ends add to low ends."""
    return (a[0] + b[0], a[1] + b[1])


def sub(a: Range, b: Range) -> Range:
    return (a[0] - b[1], a[1] - b[0])


def mul(a: Range, b: Range) -> Range:
    ends = (
        _product(a[0], b[0]),
        _product(a[0], b[1]),
        _product(a[1], b[0]),
        _product(a[1], b[1]),
    )
    return (min(ends), max(ends))


def _quotient(x: float, y: float) -> float:
    if x == 0 or math.isinf(y):
        return 0.0
    return math.copysign(math.inf, x) * math.copysign(1.0, y) if y == 0 else x / y


def div(a: Range, b: Range) -> Range:
    """Quotient over all divisors but zero itself.

    A divisor that touches zero gives one open end, one across it the whole line. A divisor of
    nothing but zero has no quotient: the whole line, which is 'cannot tell', where IEEE 1788 has
    the empty set.
    """
    low, high = b
    if low == high == 0:
        return WHOLE
    if a[0] == a[1] == 0:
        return (0.0, 0.0)
    if low < 0 < high or (low <= 0 <= high and a[0] < 0 < a[1]):
        return WHOLE
    low, high = (0.0 if low == 0 else low), (-0.0 if high == 0 else high)  # seen from inside
    ends = (
        _quotient(a[0], low),
        _quotient(a[0], high),
        _quotient(a[1], low),
        _quotient(a[1], high),
    )
    return (min(ends), max(ends))


def neg(a: Range) -> Range:
    return (-a[1], -a[0])


def absolute(a: Range) -> Range:
    if a[0] >= 0:
        return a
    if a[1] <= 0:
        return (-a[1], -a[0])
    return (0.0, max(-a[0], a[1]))


def smaller(a: Range, b: Range) -> Range:
    return (min(a[0], b[0]), min(a[1], b[1]))


def larger(a: Range, b: Range) -> Range:
    return (max(a[0], b[0]), max(a[1], b[1]))


def exp_of(x: float) -> float:
    try:
        return math.exp(x)
    except OverflowError:
        return math.inf


def exp(a: Range) -> Range:
    return (exp_of(a[0]), exp_of(a[1]))


def _ln(x: float) -> float:
    return -math.inf if x <= 0 else math.log(x)


def ln(a: Range) -> Range:
    """Natural logarithm on its domain; a range with nothing above zero gives the whole line."""
    if a[1] <= 0:
        return WHOLE
    return (_ln(a[0]), _ln(a[1]))


def power_of(x: float, y: float) -> float:
    if x == 0:
        return 1.0 if y == 0 else (0.0 if y > 0 else math.inf)
    try:
        return math.pow(x, y)
    except OverflowError:
        return math.inf


def power(a: Range, b: Range) -> Range:
    """``a ** b`` over the bases above zero, and zero to a power above zero.

    Where there is no such pair, the whole line: 'cannot tell', where IEEE 1788 has the empty set.
    """
    if a[1] < 0 or (a[1] == 0 and b[1] <= 0):
        return WHOLE
    if a[1] == 0:
        return (0.0, 0.0)
    low = max(a[0], 0.0)
    ends = (power_of(low, b[0]), power_of(low, b[1]), power_of(a[1], b[0]), power_of(a[1], b[1]))
    return (min(ends), max(ends))


def hull(a: Range, b: Range) -> Range:
    """The smallest range that holds both."""
    return (min(a[0], b[0]), max(a[1], b[1]))


def less(a: Range, b: Range) -> int:
    """Truth of ``a < b``."""
    if a[1] < b[0]:
        return YES
    return NO if a[0] >= b[1] else MAYBE


def at_most(a: Range, b: Range) -> int:
    """Truth of ``a <= b``."""
    if a[1] <= b[0]:
        return YES
    return NO if a[0] > b[1] else MAYBE


# not, and, or as tables over the bit sets 0..3; an empty set stays empty
NOT = (0, YES, NO, MAYBE)
AND = tuple(
    tuple(0 if not (a and b) else ((a | b) & NO) | (a & b & YES) for b in range(4))
    for a in range(4)
)
OR = tuple(
    tuple(0 if not (a and b) else ((a | b) & YES) | (a & b & NO) for b in range(4))
    for a in range(4)
)
