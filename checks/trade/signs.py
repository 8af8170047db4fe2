"""Faults that eye, hand or ear reports outright: one yes/no fact and the finding it makes."""

from checks.facts import Fact, yes_no
from checks.formula import Expr, is_
from checks.rules import PRACTICE, Finding

Sign = tuple[Fact, Finding]


def sign(
    name: str,
    point: str,
    level: str,
    source: str,
    standing: str,
    *cautions: str,
    only: Expr | None = None,
    beneath: str = "",
) -> Sign:
    """A fault seen at ``point``, asked ``only`` of trailers that can have it."""
    seen = is_(name, "yes")
    return yes_no(name, when=only), Finding(
        name,
        point,
        level,
        seen if only is None else only & seen,
        source,
        standing,
        cautions,
        beneath=beneath,
    )


def practice(
    name: str,
    point: str,
    level: str,
    *cautions: str,
    only: Expr | None = None,
    beneath: str = "",
) -> Sign:
    """A sign that rests on common practice alone."""
    return sign(name, point, level, PRACTICE, "practice", *cautions, only=only, beneath=beneath)
