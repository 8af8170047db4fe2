"""Expression trees: built with Python operators, kept as nested lists, compiled to closures.

A tree is a number, or a list with its operator first. The list of operators is closed; the twin in
``static/engine/formula.js`` knows the same ones. Numbers evaluate to ranges, truths and choices to
bit sets (see :mod:`checks.interval`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from checks import interval as iv
from checks.interval import MAYBE, NO, YES, Range

Tree = Any  # float | list[Any]; recursive, so mypy is told no more than that
Value = Any  # Range for numbers, int for truths and choice sets


class FormulaError(ValueError):
    """A tree that cannot be built or compiled; the message names the part."""


# ---- building -------------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class Expr:
    """A tree under construction; ``Expr`` and plain numbers mix freely."""

    tree: Tree

    def __add__(self, other: Term) -> Expr:
        return node("+", self, other)

    def __radd__(self, other: Term) -> Expr:
        return node("+", other, self)

    def __sub__(self, other: Term) -> Expr:
        return node("-", self, other)

    def __rsub__(self, other: Term) -> Expr:
        return node("-", other, self)

    def __mul__(self, other: Term) -> Expr:
        return node("*", self, other)

    def __rmul__(self, other: Term) -> Expr:
        return node("*", other, self)

    def __truediv__(self, other: Term) -> Expr:
        return node("/", self, other)

    def __rtruediv__(self, other: Term) -> Expr:
        return node("/", other, self)

    def __pow__(self, other: Term) -> Expr:
        return node("^", self, other)

    def __neg__(self) -> Expr:
        return node("neg", self)

    def __lt__(self, other: Term) -> Expr:
        return node("<", self, other)

    def __le__(self, other: Term) -> Expr:
        return node("<=", self, other)

    def __gt__(self, other: Term) -> Expr:
        return node("<", other, self)

    def __ge__(self, other: Term) -> Expr:
        return node("<=", other, self)

    def __and__(self, other: Expr) -> Expr:
        return node("and", self, other)

    def __or__(self, other: Expr) -> Expr:
        return node("or", self, other)

    def __invert__(self) -> Expr:
        return node("not", self)

    def __bool__(self) -> bool:
        raise FormulaError("use & | ~ on formulas, not and, or, not, or a chained comparison")


Term = Expr | float | int


def plain(term: Term) -> Tree:
    """The bare tree of a term."""
    return term.tree if isinstance(term, Expr) else float(term)


def node(op: str, *terms: Term) -> Expr:
    return Expr([op, *(plain(t) for t in terms)])


def fact(name: str) -> Expr:
    """The answer to a numeric fact, at the place it belongs to."""
    return Expr(["fact", name])


def limit(name: str) -> Expr:
    """A number or range of ``limits.toml``."""
    return Expr(["limit", name])


def quantity(name: str) -> Expr:
    return Expr(["quantity", name])


def is_(name: str, *choices: str) -> Expr:
    """Truth that a choice fact is one of ``choices``."""
    return Expr(["is", name, list(choices)])


def rank(name: str) -> Expr:
    """Position of a choice in its fact's list, counted from 0."""
    return Expr(["rank", name])


def pick(name: str, cases: Mapping[str, Term]) -> Expr:
    """One term per choice; several choices still possible give the hull."""
    # sorted, as canonical JSON has it: so that both engines walk the arms in one order
    return Expr(["pick", name, {k: plain(cases[k]) for k in sorted(cases)}])


def table(name: str, x: Term) -> Expr:
    """Straight-line interpolation in a limit that is a list of ``[x, y]``; flat beyond its ends."""
    return Expr(["table", name, plain(x)])


def when(condition: Expr, then: Term, otherwise: Term) -> Expr:
    return Expr(["if", condition.tree, plain(then), plain(otherwise)])


def mate(term: Expr) -> Expr:
    """The same term at the other wheel of the axle."""
    return Expr(["mate", term.tree])


def each(how: str, where: str, term: Expr) -> Expr:
    """``any all count`` of a truth or ``max min median`` of a number over wheels.

    where: ``others``, ``axle``, its ``left`` or ``right`` wheel, ``side`` or ``all``.
    """
    return Expr(["each", how, where, term.tree])


def low(term: Expr) -> Expr:
    return node("low", term)


def high(term: Expr) -> Expr:
    return node("high", term)


def between(a: Term, b: Term) -> Expr:
    """From the low end of ``a`` to the high end of ``b``: a spread that the sources leave open."""
    return node("between", a, b)


def known(name: str) -> Expr:
    """Truth that a fact is answered; not allowed in findings (see ``rulebook/check.py``)."""
    return Expr(["known", name])


def convert(term: Term, source: str, target: str) -> Expr:
    """The same number in another unit of the unit table."""
    return Expr(["convert", source, target, plain(term)])


def smallest(*terms: Term) -> Expr:
    return node("min", *terms)


def largest(*terms: Term) -> Expr:
    return node("max", *terms)


def exp(term: Term) -> Expr:
    return node("exp", term)


def ln(term: Term) -> Expr:
    return node("ln", term)


def absolute(term: Term) -> Expr:
    return node("abs", term)


# ---- walking --------------------------------------------------------------------------------


def children(tree: Tree) -> list[Tree]:
    """The trees directly inside a tree."""
    if not isinstance(tree, list):
        return []
    op = tree[0]
    if op in ("fact", "limit", "quantity", "is", "rank", "known"):
        return []
    if op == "pick":
        return list(tree[2].values())
    first = {"table": 2, "each": 3, "convert": 3}.get(op, 1)
    return list(tree[first:])


def walk(tree: Tree) -> Iterator[list[Any]]:
    """Every list node of a tree, outermost first."""
    if isinstance(tree, list):
        yield tree
        for child in children(tree):
            yield from walk(child)


# ---- evaluating -----------------------------------------------------------------------------


@dataclass
class Context:
    """What compiled trees look up: definitions, and nothing that changes from case to case."""

    whole: dict[str, Value]  # by fact: its value when not answered
    scope: dict[str, str]  # by fact and by quantity: trailer, axle, wheel
    choices: dict[str, list[str]]  # by choice fact
    limits: dict[str, Any]
    quantities: dict[str, Tree]
    units: dict[str, tuple[float, float]] = field(default_factory=dict)  # factor, offset to base
    compiled: dict[str, Compiled] = field(default_factory=dict)


class Case:
    """One set of answers: facts by ``(name, place)``, the wheels, and results worked out so far."""

    __slots__ = ("cache", "facts", "wheels")

    def __init__(self, facts: Mapping[tuple[str, str], Value], wheels: list[str]) -> None:
        self.facts = facts
        self.wheels = wheels
        self.cache: dict[tuple[str, str], Value] = {}


Compiled = Callable[[Case, str], Value]


def mate_of(place: str) -> str:
    return place[:-1] + ("R" if place[-1] == "L" else "L")


def place_for(scope: str, place: str) -> str:
    """Where a fact of ``scope`` is kept, seen from ``place``."""
    if scope == "trailer":
        return ""
    if scope == "axle":
        return place.rstrip("LR")
    return place


_BINARY = {
    "+": iv.add,
    "-": iv.sub,
    "*": iv.mul,
    "/": iv.div,
    "^": iv.power,
    "<": iv.less,
    "<=": iv.at_most,
}
_UNARY = {"neg": iv.neg, "abs": iv.absolute, "exp": iv.exp, "ln": iv.ln}


def compile_tree(tree: Tree, ctx: Context) -> Compiled:
    """Turn a tree into a function of a case and a place. Raises FormulaError on an unknown part."""
    if isinstance(tree, (int, float)):
        point = (float(tree), float(tree))
        return lambda case, place: point
    op = tree[0]
    maker = _MAKERS.get(op)
    if maker is None:
        raise FormulaError(f"unknown operator {op!r}")
    return maker(tree, ctx)


def _lookup(name: str, ctx: Context) -> Compiled:
    if name not in ctx.whole:
        raise FormulaError(f"unknown fact {name!r}; no file of trade has it in FACTS")
    whole, scope = ctx.whole[name], ctx.scope[name]
    if scope == "trailer":
        key = (name, "")
        return lambda case, place: case.facts.get(key, whole)
    if scope == "axle":
        return lambda case, place: case.facts.get((name, place.rstrip("LR")), whole)
    return lambda case, place: case.facts.get((name, place), whole)


def _fact(tree: Tree, ctx: Context) -> Compiled:
    return _lookup(tree[1], ctx)


def _no_limit(name: str) -> str:
    file, _, entry = name.partition(".")
    return f"unknown limit {name!r}; give it in limits/{file}.toml as [{entry}]"


def _limit(tree: Tree, ctx: Context) -> Compiled:
    if tree[1] not in ctx.limits:
        raise FormulaError(_no_limit(tree[1]))
    entry = ctx.limits[tree[1]]
    ends = entry if isinstance(entry, list) else [entry, entry]
    value: Range = (float(ends[0]), float(ends[1]))
    return lambda case, place: value


def _quantity(tree: Tree, ctx: Context) -> Compiled:
    name = tree[1]
    if name not in ctx.quantities:
        raise FormulaError(f"unknown quantity {name!r}; no file of trade has it in QUANTITIES")
    if name not in ctx.compiled:
        ctx.compiled[name] = compile_tree(ctx.quantities[name], ctx)
    body, scope = ctx.compiled[name], ctx.scope[name]

    def run(case: Case, place: str) -> Value:
        key = (name, place_for(scope, place))
        found = case.cache.get(key)
        if found is None:
            found = case.cache[key] = body(case, key[1])
        return found

    return run


def mask_of(name: str, wanted: list[str], ctx: Context) -> int:
    choices = ctx.choices.get(name)
    if choices is None:
        raise FormulaError(f"{name!r} is not a choice fact")
    for choice in wanted:
        if choice not in choices:
            raise FormulaError(f"fact {name!r} has no choice {choice!r}")
    return sum(1 << choices.index(c) for c in wanted)


def _is(tree: Tree, ctx: Context) -> Compiled:
    mask, look = mask_of(tree[1], tree[2], ctx), _lookup(tree[1], ctx)

    def run(case: Case, place: str) -> int:
        value = look(case, place)
        return (YES if value & mask else 0) | (NO if value & ~mask else 0)

    return run


def _rank(tree: Tree, ctx: Context) -> Compiled:
    mask_of(tree[1], [], ctx)
    look = _lookup(tree[1], ctx)

    def run(case: Case, place: str) -> Range:
        value = look(case, place)
        return (float((value & -value).bit_length() - 1), float(value.bit_length() - 1))

    return run


def _pick(tree: Tree, ctx: Context) -> Compiled:
    name, cases = tree[1], tree[2]
    mask_of(name, list(cases), ctx)
    missing = [c for c in ctx.choices[name] if c not in cases]
    if missing:
        raise FormulaError(f"pick on {name!r} leaves out {', '.join(missing)}")
    look = _lookup(name, ctx)
    arms = [compile_tree(cases[c], ctx) for c in ctx.choices[name]]

    def run(case: Case, place: str) -> Value:
        value, result = look(case, place), None
        for i, arm in enumerate(arms):
            if value >> i & 1:
                result = arm(case, place) if result is None else _join(result, arm(case, place))
        return result

    return run


def _join(a: Value, b: Value) -> Value:
    return a | b if isinstance(a, int) else iv.hull(a, b)


def _interpolate(points: list[list[float]], x: float) -> float:
    if x <= points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in pairwise(points):
        if x <= x1:
            return y1 if x == x1 else y0 + (y1 - y0) * ((x - x0) / (x1 - x0))
    return points[-1][1]


def _table(tree: Tree, ctx: Context) -> Compiled:
    if tree[1] not in ctx.limits:
        raise FormulaError(_no_limit(tree[1]))
    points = [[float(x), float(y)] for x, y in ctx.limits[tree[1]]]
    inner = compile_tree(tree[2], ctx)

    return lambda case, place: over_table(points, *inner(case, place))


def over_table(points: list[list[float]], a: float, b: float) -> Range:
    """What a table comes to between two places of its x."""
    if a == b:
        return (found := _interpolate(points, a), found)
    ends: list[float] = [_interpolate(points, a), _interpolate(points, b)]
    ends += [y for x, y in points if a < x < b]
    return (min(ends), max(ends))


def _unary(tree: Tree, ctx: Context) -> Compiled:
    f, inner = _UNARY[tree[0]], compile_tree(tree[1], ctx)
    return lambda case, place: f(inner(case, place))


def _binary(tree: Tree, ctx: Context) -> Compiled:
    f = _BINARY[tree[0]]
    a, b = compile_tree(tree[1], ctx), compile_tree(tree[2], ctx)
    return lambda case, place: f(a(case, place), b(case, place))


def _fold(tree: Tree, ctx: Context) -> Compiled:
    f = iv.smaller if tree[0] == "min" else iv.larger
    inner = [compile_tree(t, ctx) for t in tree[1:]]

    def run(case: Case, place: str) -> Range:
        result: Range = inner[0](case, place)
        for term in inner[1:]:
            result = f(result, term(case, place))
        return result

    return run


def _not(tree: Tree, ctx: Context) -> Compiled:
    inner = compile_tree(tree[1], ctx)
    return lambda case, place: iv.NOT[inner(case, place)]


def _junction(tree: Tree, ctx: Context) -> Compiled:
    a, b = compile_tree(tree[1], ctx), compile_tree(tree[2], ctx)
    rules, settled = (iv.AND, NO) if tree[0] == "and" else (iv.OR, YES)

    def run(case: Case, place: str) -> int:
        left = a(case, place)
        return settled if left == settled else rules[left][b(case, place)]

    return run


def _if(tree: Tree, ctx: Context) -> Compiled:
    cond, then, otherwise = (compile_tree(t, ctx) for t in tree[1:])

    def run(case: Case, place: str) -> Value:
        truth = cond(case, place)
        if truth == YES:
            return then(case, place)
        if truth == NO:
            return otherwise(case, place)
        return _join(then(case, place), otherwise(case, place))

    return run


def _mate(tree: Tree, ctx: Context) -> Compiled:
    inner = compile_tree(tree[1], ctx)
    return lambda case, place: inner(case, mate_of(place))


SIDES = {"left": "L", "right": "R"}


def wheels_at(where: str, wheels: Sequence[str], place: str) -> Sequence[str]:
    if where == "others":
        return [w for w in wheels if w != place]
    if where == "axle":
        axle = place.rstrip("LR")
        return [axle + "L", axle + "R"]
    if where in SIDES:
        return [place.rstrip("LR") + SIDES[where]]
    if where == "side":
        return [w for w in wheels if w[-1] == place[-1]]
    return wheels


def _median(ends: list[float]) -> float:
    ends = sorted(ends)
    half = len(ends) // 2
    return ends[half] if len(ends) % 2 else (ends[half - 1] + ends[half]) / 2


FOLDS: dict[str, Callable[[list[float]], float]] = {"max": max, "min": min, "median": _median}


def _gather(how: str, values: list[Value]) -> Value:
    if how == "any":
        result = NO
        for v in values:
            result = iv.OR[result][v]
        return result
    if how == "all":
        result = YES
        for v in values:
            result = iv.AND[result][v]
        return result
    if how == "count":
        return (float(sum(v == YES for v in values)), float(sum(v != NO for v in values)))
    f = FOLDS[how]
    return (f([v[0] for v in values]), f([v[1] for v in values]))


def _each(tree: Tree, ctx: Context) -> Compiled:
    _, how, where, body = tree
    if how not in ("any", "all", "count", "max", "min", "median"):
        raise FormulaError(f"each cannot take {how!r}")
    if where not in ("others", "axle", "side", "all", *SIDES):
        raise FormulaError(f"each cannot go over {where!r}")
    inner = compile_tree(body, ctx)
    return lambda case, place: _gather(
        how, [inner(case, w) for w in wheels_at(where, case.wheels, place)]
    )


def _low(tree: Tree, ctx: Context) -> Compiled:
    inner, i = compile_tree(tree[1], ctx), 0 if tree[0] == "low" else 1

    def run(case: Case, place: str) -> Range:
        end = inner(case, place)[i]
        return (end, end)

    return run


def _between(tree: Tree, ctx: Context) -> Compiled:
    a, b = compile_tree(tree[1], ctx), compile_tree(tree[2], ctx)
    return lambda case, place: iv.hull(a(case, place), b(case, place))


def _known(tree: Tree, ctx: Context) -> Compiled:
    look, whole = _lookup(tree[1], ctx), ctx.whole[tree[1]]
    return lambda case, place: NO if look(case, place) == whole else YES


def _convert(tree: Tree, ctx: Context) -> Compiled:
    _, source, target, body = tree
    for unit in (source, target):
        if unit not in ctx.units:
            raise FormulaError(f"unknown unit {unit!r}")
    (f1, o1), (f2, o2) = ctx.units[source], ctx.units[target]
    factor, offset = f1 / f2, (o1 - o2) / f2
    inner = compile_tree(body, ctx)

    def run(case: Case, place: str) -> Range:
        a, b = inner(case, place)
        return (a * factor + offset, b * factor + offset)

    return run


_MAKERS: dict[str, Callable[[Tree, Context], Compiled]] = {
    "fact": _fact,
    "limit": _limit,
    "quantity": _quantity,
    "is": _is,
    "rank": _rank,
    "pick": _pick,
    "table": _table,
    "not": _not,
    "and": _junction,
    "or": _junction,
    "if": _if,
    "mate": _mate,
    "each": _each,
    "low": _low,
    "high": _low,
    "between": _between,
    "known": _known,
    "convert": _convert,
    "min": _fold,
    "max": _fold,
    **dict.fromkeys(_BINARY, _binary),
    **dict.fromkeys(_UNARY, _unary),
}

OPERATORS = frozenset(_MAKERS)

__all__ = ["MAYBE", "NO", "YES", "Case", "Context", "Expr", "FormulaError", "compile_tree"]
