"""Trees written out as Python: what closures do by a call for each node, straight through.

The tree stays the one source: what is written does what :func:`checks.formula.compile_tree` says,
which the property tests hold it to, only faster. The ends of a range are two plain variables; what
was worked out once is read again wherever it must have been worked out before; what hangs on no
answer is worked out while writing. The names of a rulebook go in as literals only.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import lru_cache
from typing import Any, NamedTuple

from checks import interval as iv
from checks.formula import (
    FOLDS,
    Case,
    Context,
    Tree,
    Value,
    children,
    compile_tree,
    mask_of,
    over_table,
    wheels_at,
)
from checks.interval import NO, YES, Range

Key = tuple[str, str]


class Answers:
    """One set of answers as written trees read it.

    at: by place all that is known there, by fact; and the quantities of that place, by "=" and
    name, ``None`` until worked out. A wheel's has what its axle's and the trailer's has. facts: as
    they were given.
    """

    __slots__ = ("at", "facts", "read", "wheels")

    def __init__(
        self,
        facts: Mapping[Key, Value],
        at: dict[str, dict[str, Value]],
        wheels: tuple[str, ...],
    ) -> None:
        self.facts = facts
        self.at = at
        self.wheels = wheels
        self.read: dict[Key, dict[Key, None]] = {}  # by quantity and place: facts it looked at


Truths = Callable[[Answers, str], tuple[int, ...]]
Needs = Callable[[Answers, str], dict[Key, None]]
Worth = Callable[[Answers, str], Value]

_AXLE = {"": "", **{f"{n}{side}": str(n) for n in (1, 2, 3) for side in ("", "L", "R")}}
_MATE = {f"{n}{a}": f"{n}{b}" for n in (1, 2, 3) for a, b in ("LR", "RL")}


class Written:
    """The trees of one context, each written when it is first asked for."""

    def __init__(self, context: Context) -> None:
        self.context = context
        self.blank: dict[str, Value] = context.whole | {f"={n}": None for n in context.quantities}
        self.space: dict[str, Any] = {
            "AXLE": _AXLE,
            "MATE": _MATE,
            "INF": math.inf,
            "AND": iv.AND,
            "OR": iv.OR,
            "NOT": iv.NOT,
            "mul": iv.mul,
            "div": iv.div,
            "power": iv.power,
            "ln": iv.ln,
            "exp_of": iv.exp_of,
            "power_of": iv.power_of,
            "over_table": over_table,
            "wheels_at": lru_cache(maxsize=256)(wheels_at),
            **{f"fold_{how}": f for how, f in FOLDS.items()},
        }
        self.constants: dict[str, str] = {}  # by what it is: its name in the space

    def answers(self, facts: Mapping[Key, Value], wheels: Sequence[str]) -> Answers:
        """Facts by ``(name, place)`` as written trees read them; each place stands in ``wheels``
        or is an axle of these."""
        given: dict[str, dict[str, Value]] = defaultdict(dict)
        for (name, place), value in facts.items():
            given[place][name] = value
        top = self.blank | given.get("", {})
        at = {"": top}
        for wheel in wheels:
            axle = _AXLE[wheel]
            if axle not in at:
                at[axle] = top | given.get(axle, {})
            at[wheel] = at[axle] | given.get(wheel, {})
        return Answers(facts, at, tuple(wheels))

    def truths(self, trees: Sequence[Tree]) -> Truths:
        """The truth of each tree at a place."""
        writer = _Writer(self, recording=False)
        found = [writer.truth(tree, HERE) for tree in trees]
        made: Truths = writer.made(f"({''.join(f'{one}, ' for one in found)})")
        return made

    def worth(self, tree: Tree) -> Worth:
        """What a tree comes to at a place: a range, or the bits of a truth."""
        writer = _Writer(self, recording=False)
        made: Worth = writer.made(writer.value(tree, HERE))
        return made

    def needs(self, tree: Tree) -> Needs:
        """The facts that a tree looks at in a case, in order."""
        writer = _Writer(self, recording=True)
        writer.line("seen = {}")
        writer.value(tree, HERE)
        made: Needs = writer.made("seen")
        return made

    def constant(self, value: Any) -> str:
        """The name by which written code reads a value that is no literal."""
        name = self.constants.setdefault(repr(value), f"K{len(self.constants)}")
        self.space[name] = value
        return name

    def quantity(self, name: str, recording: bool) -> str:
        """The function that works a quantity out and keeps it; written when it is first called."""
        called = f"{'seen' if recording else 'worth'}_{list(self.context.quantities).index(name)}"
        if called not in self.space:

            def first(*given: Any) -> Value:
                write = self._recorded if recording else self._kept
                self.space[called] = made = write(name)
                return made(*given)

            self.space[called] = first
        return called

    def _kept(self, name: str) -> Callable[..., Value]:
        writer = _Writer(self, recording=False)
        worked = writer.value(self.context.quantities[name], HERE)
        writer.line(f"found = here[{'=' + name!r}] = {worked}")
        made: Callable[..., Value] = writer.made("found")
        return made

    def _recorded(self, name: str) -> Callable[..., Value]:
        writer = _Writer(self, recording=True)
        writer.line("seen = {}")
        worked = writer.value(self.context.quantities[name], HERE)
        writer.line(f"found = here[{'=' + name!r}] = {worked}")
        writer.line(f"case.read[{name!r}, place] = seen")
        writer.line("outer.update(seen)")
        made: Callable[..., Value] = writer.made("found", "case, place, outer")
        return made


# ---- writing --------------------------------------------------------------------------------


class At(NamedTuple):
    """The variables that hold a place, and what is known there."""

    place: str
    known: str


class Ends(NamedTuple):
    """What holds the ends of a range; ``value`` where they are known while writing."""

    low: str
    high: str
    value: Range | None = None

    @property
    def above_zero(self) -> bool:
        return self.value is not None and self.value[0] > 0 and self.value[1] < math.inf

    @property
    def factor(self) -> bool:
        """Whether it is one number above zero."""
        return self.above_zero and self.low == self.high


HERE = At("place", "here")


def _literal(value: float) -> str:
    if math.isinf(value):
        return "INF" if value > 0 else "(-INF)"
    return repr(value) if value >= 0 else f"({value!r})"


def is_truth(tree: Tree, context: Context) -> bool:
    """Whether a tree comes to a truth, and not to a number."""
    while isinstance(tree, list):
        op = tree[0]
        if op in ("<", "<=", "and", "or", "not", "is", "known"):
            return True
        if op == "each":
            return tree[1] in ("any", "all")
        inner = {"if": lambda t: t[2], "mate": lambda t: t[1]}.get(op)
        if op == "quantity":
            tree = context.quantities[tree[1]]
        elif op == "pick":
            tree = next(iter(tree[2].values()))
        elif inner:
            tree = inner(tree)
        else:
            return False
    return False


class _Writer:
    """Writes the body of one function. ``known`` holds what surely was worked out before."""

    def __init__(self, code: Written, recording: bool) -> None:
        self.code = code
        self.context = code.context
        self.recording = recording
        self.lines: list[str] = []
        self.indent = 1
        self.known: dict[tuple[str, str], Any] = {}
        self.count = 0
        self.line("here = case.at[place]")

    def line(self, text: str) -> None:
        self.lines.append("    " * self.indent + text)

    def fresh(self) -> str:
        self.count += 1
        return f"v{self.count}"

    @contextmanager
    def block(self, head: str) -> Iterator[None]:
        before, self.known = self.known, dict(self.known)
        self.line(head)
        self.indent += 1
        yield
        self.indent -= 1
        self.known = before

    def made(self, result: str, takes: str = "case, place") -> Any:
        text = "\n".join([f"def written({takes}):", *self.lines, f"    return {result}"])
        exec(compile(text, "<rules>", "exec"), self.code.space)
        return self.code.space.pop("written")

    # ---- values

    def value(self, tree: Tree, at: At) -> str:
        if is_truth(tree, self.context):
            return self.truth(tree, at)
        ends = self.ends(tree, at)
        return f"({ends.low}, {ends.high})"

    def truth(self, tree: Tree, at: At) -> str:
        key = (repr(tree), at.place)
        if key not in self.known:
            fixed = is_fixed(tree, self.context)
            self.known[key] = self._fixed(tree) if fixed else _TRUTHS[tree[0]](self, tree, at)
        found: str = self.known[key]
        return found

    def ends(self, tree: Tree, at: At) -> Ends:
        key = (repr(tree), at.place)
        if key not in self.known:
            fixed = is_fixed(tree, self.context)
            self.known[key] = self._fixed(tree) if fixed else _ENDS[tree[0]](self, tree, at)
        found: Ends = self.known[key]
        return found

    def _fixed(self, tree: Tree) -> Ends | str:
        """What hangs on no answer."""
        value = compile_tree(tree, self.context)(Case({}, []), "")
        if isinstance(value, int):
            return str(value)
        return Ends(_literal(value[0]), _literal(value[1]), value)

    def read(self, name: str, at: At) -> str:
        """The variable that holds a fact's value."""
        key = (f"fact {name}", at.place)
        if key not in self.known:
            self.known[key] = found = self.fresh()
            self.line(f"{found} = {at.known}[{name!r}]")
            if self.recording:
                scope = self.context.scope[name]
                home = self.home(scope, at).place if scope != "trailer" else "''"
                self.line(f"seen[{name!r}, {home}] = None")
        held: str = self.known[key]
        return held

    def home(self, scope: str, at: At) -> At:
        """Where a quantity or fact of a scope is kept, seen from a place."""
        if scope == "wheel":
            return at
        return self.moved("''" if scope == "trailer" else f"AXLE[{at.place}]", at)

    def moved(self, to: str, at: At) -> At:
        key = (f"at {to}", "" if to == "''" else at.place)
        if key not in self.known:
            there = At(self.fresh(), self.fresh())
            self.line(f"{there.place} = {to}")
            self.line(f"{there.known} = case.at[{there.place}]")
            self.known[key] = there
        found: At = self.known[key]
        return found

    def pair(self, text: str) -> Ends:
        """Ends from what comes to a range."""
        ends = Ends(self.fresh(), self.fresh())
        self.line(f"{ends.low}, {ends.high} = {text}")
        return ends

    def hold(self, low: str, high: str) -> Ends:
        """Ends from what each comes to; one variable where both are one number."""
        first = self.fresh()
        self.line(f"{first} = {low}")
        if low == high:
            return Ends(first, first)
        second = self.fresh()
        self.line(f"{second} = {high}")
        return Ends(first, second)

    def either(self, subject: str, arms: list[tuple[int, Tree]], at: At) -> Ends:
        """The hull of the arms whose bits are set."""
        ends = self.pair("INF, -INF")
        for bits, tree in arms:
            with self.block(f"if {subject} & {bits}:"):
                arm = self.ends(tree, at)
                self.line(f"if {arm.low} < {ends.low}: {ends.low} = {arm.low}")
                self.line(f"if {arm.high} > {ends.high}: {ends.high} = {arm.high}")
        return ends

    def either_truth(self, subject: str, arms: list[tuple[int, Tree]], at: At) -> str:
        found = self.fresh()
        self.line(f"{found} = 0")
        for bits, tree in arms:
            with self.block(f"if {subject} & {bits}:"):
                self.line(f"{found} |= {self.truth(tree, at)}")
        return found


def is_fixed(tree: Tree, context: Context) -> bool:
    """Whether a tree hangs on no answer."""
    if not isinstance(tree, list):
        return True
    if tree[0] in ("fact", "is", "rank", "pick", "known", "each", "mate"):
        return False
    if tree[0] == "quantity":
        return is_fixed(context.quantities[tree[1]], context)
    return all(is_fixed(part, context) for part in children(tree))


# ---- numbers, an operator each ------------------------------------------------------------------


def _fact(w: _Writer, tree: Tree, at: At) -> Ends:
    return w.pair(w.read(tree[1], at))


def _quantity(w: _Writer, tree: Tree, at: At) -> Ends:
    return w.pair(_worked(w, tree[1], at))


def _worked(w: _Writer, name: str, at: At) -> str:
    """The variable with what a quantity comes to, worked out where it was not yet."""
    home, called, found = (
        w.home(w.context.scope[name], at), w.code.quantity(name, w.recording), w.fresh()
    )  # fmt: skip
    if not w.recording:
        w.line(f"{found} = {home.known}[{'=' + name!r}]")
        w.line(f"if {found} is None: {found} = {called}(case, {home.place})")
        return found
    plain, read = w.code.quantity(name, recording=False), w.fresh()
    w.line(f"{read} = case.read.get(({name!r}, {home.place}))")
    w.line(f"if {read} is None: {found} = {called}(case, {home.place}, seen)")
    with w.block("else:"):
        w.line(f"seen.update({read})")
        w.line(f"{found} = {home.known}[{'=' + name!r}]")
        w.line(f"if {found} is None: {found} = {plain}(case, {home.place})")
    return found


def _rank(w: _Writer, tree: Tree, at: At) -> Ends:
    v = w.read(tree[1], at)
    return w.hold(f"float(({v} & -{v}).bit_length() - 1)", f"float({v}.bit_length() - 1)")


def _arms(w: _Writer, tree: Tree, at: At) -> tuple[str, list[tuple[int, Tree]]]:
    """What decides between branches, and each branch with the bits it stands for."""
    if tree[0] == "if":
        return w.truth(tree[1], at), [(YES, tree[2]), (NO, tree[3])]
    bits: dict[str, int] = {}
    arms: dict[str, Tree] = {}
    for i, choice in enumerate(w.context.choices[tree[1]]):
        arm = tree[2][choice]
        bits[repr(arm)] = bits.get(repr(arm), 0) | 1 << i
        arms.setdefault(repr(arm), arm)
    return w.read(tree[1], at), [(bits[key], arm) for key, arm in arms.items()]


def _branches(w: _Writer, tree: Tree, at: At) -> Ends:
    return w.either(*_arms(w, tree, at), at)


def _table(w: _Writer, tree: Tree, at: At) -> Ends:
    points = w.code.constant([[float(x), float(y)] for x, y in w.context.limits[tree[1]]])
    x = w.ends(tree[2], at)
    return w.pair(f"over_table({points}, {x.low}, {x.high})")


def _mate(w: _Writer, tree: Tree, at: At) -> Ends:
    return w.ends(tree[1], w.moved(f"MATE[{at.place}]", at))


def _convert(w: _Writer, tree: Tree, at: At) -> Ends:
    (f1, o1), (f2, o2) = w.context.units[tree[1]], w.context.units[tree[2]]
    factor, offset = f1 / f2, (o1 - o2) / f2
    x = w.ends(tree[3], at)
    rest = f" * {_literal(factor)} + {_literal(offset)}"
    return w.hold(f"{x.low}{rest}", f"{x.high}{rest}")


def _end(w: _Writer, tree: Tree, at: At) -> Ends:
    x = w.ends(tree[1], at)
    end = x.low if tree[0] == "low" else x.high
    return Ends(end, end)


def _fold(w: _Writer, tree: Tree, at: At) -> Ends:
    """``min`` and ``max``; of equal ends the first, as Python's own take it."""
    sign = "<" if tree[0] == "min" else ">"
    found = w.ends(tree[1], at)
    for other in tree[2:]:
        x = w.ends(other, at)
        low, high = (f"{x[i]} if {x[i]} {sign} {found[i]} else {found[i]}" for i in (0, 1))
        found = w.hold(low, high)
    return found


def _between(w: _Writer, tree: Tree, at: At) -> Ends:
    a, b = w.ends(tree[1], at), w.ends(tree[2], at)
    return w.hold(
        f"{b.low} if {b.low} < {a.low} else {a.low}",
        f"{b.high} if {b.high} > {a.high} else {a.high}",
    )


def _sum(w: _Writer, tree: Tree, at: At) -> Ends:
    a, b = w.ends(tree[1], at), w.ends(tree[2], at)
    if tree[0] == "+":
        return w.hold(f"{a.low} + {b.low}", f"{a.high} + {b.high}")
    return w.hold(f"{a.low} - {b.high}", f"{a.high} - {b.low}")


def _product(w: _Writer, tree: Tree, at: At) -> Ends:
    a, b = w.ends(tree[1], at), w.ends(tree[2], at)
    if a.factor:
        a, b = b, a
    if b.factor:
        return w.hold(f"{a.low} * {b.low}", f"{a.high} * {b.high}")
    quick = f"{a.low} * {b.low}", f"{a.high} * {b.high}"
    return _both_above(w, a, b, "mul", quick, ends=(a.low, b.low))


def _quotient(w: _Writer, tree: Tree, at: At) -> Ends:
    a, b = w.ends(tree[1], at), w.ends(tree[2], at)
    if b.factor:
        return w.hold(f"{a.low} / {b.low}", f"{a.high} / {b.high}")
    quick = f"{a.low} / {b.high}", f"{a.high} / {b.low}"
    return _both_above(w, a, b, "div", quick, ends=(a.low, b.low))


def _both_above(
    w: _Writer, a: Ends, b: Ends, how: str, quick: tuple[str, str], ends: tuple[str, str]
) -> Ends:
    """The plain sum where both lie above zero and end somewhere, else as intervals do it."""
    found = Ends(w.fresh(), w.fresh())
    tests = [f"0.0 < {x.low} and {x.high} < INF" for x in (a, b) if not x.above_zero]
    whole = f"{found.low}, {found.high} = {how}(({a.low}, {a.high}), ({b.low}, {b.high}))"
    with w.block(f"if {' and '.join(tests) or 'True'}:"):
        w.line(f"{found.low} = {quick[0]}")
        w.line(f"{found.high} = {quick[1]}")
    with w.block("else:"):
        w.line(whole)
    return found


def _power(w: _Writer, tree: Tree, at: At) -> Ends:
    a, b = w.ends(tree[1], at), w.ends(tree[2], at)
    if not b.factor:
        return w.pair(f"power(({a.low}, {a.high}), ({b.low}, {b.high}))")
    found = Ends(w.fresh(), w.fresh())
    with w.block(f"if {a.low} > 0.0:"):  # rising, as the exponent lies above zero
        w.line(f"{found.low} = power_of({a.low}, {b.low})")
        w.line(f"{found.high} = power_of({a.high}, {b.low})")
    with w.block("else:"):
        w.line(f"{found.low}, {found.high} = power(({a.low}, {a.high}), ({b.low}, {b.high}))")
    return found


def _negative(w: _Writer, tree: Tree, at: At) -> Ends:
    x = w.ends(tree[1], at)
    return w.hold(f"-{x.high}", f"-{x.low}")


def _absolute(w: _Writer, tree: Tree, at: At) -> Ends:
    x, found = w.ends(tree[1], at), Ends(w.fresh(), w.fresh())
    low, high = found.low, found.high
    w.line(f"if {x.low} >= 0: {low} = {x.low}; {high} = {x.high}")
    w.line(f"elif {x.high} <= 0: {low} = -{x.high}; {high} = -{x.low}")
    w.line(f"else: {low} = 0.0; {high} = max(-{x.low}, {x.high})")
    return found


def _exp(w: _Writer, tree: Tree, at: At) -> Ends:
    x = w.ends(tree[1], at)
    return w.hold(f"exp_of({x.low})", f"exp_of({x.high})")


def _ln(w: _Writer, tree: Tree, at: At) -> Ends:
    x = w.ends(tree[1], at)
    return w.pair(f"ln(({x.low}, {x.high}))")


def _gathered(w: _Writer, tree: Tree, at: At) -> Ends:
    """``count`` of a truth, ``max``, ``min`` or ``median`` of a number, over wheels."""
    _, how, where, body = tree
    found = w.pair("0.0, 0.0" if how == "count" else "[], []")
    with _each_wheel(w, where, at) as there:
        if how == "count":
            truth = w.truth(body, there)
            w.line(f"if {truth} == {YES}: {found.low} += 1.0")
            w.line(f"if {truth} != {NO}: {found.high} += 1.0")
        else:
            x = w.ends(body, there)
            w.line(f"{found.low}.append({x.low})")
            w.line(f"{found.high}.append({x.high})")
    if how == "count":
        return found
    return w.hold(f"fold_{how}({found.low})", f"fold_{how}({found.high})")


@contextmanager
def _each_wheel(w: _Writer, where: str, at: At) -> Iterator[At]:
    there = At(w.fresh(), w.fresh())
    with w.block(f"for {there.place} in wheels_at({where!r}, case.wheels, {at.place}):"):
        w.line(f"{there.known} = case.at[{there.place}]")
        yield there


_ENDS: dict[str, Callable[[_Writer, Tree, At], Ends]] = {
    "fact": _fact,
    "quantity": _quantity,
    "rank": _rank,
    "pick": _branches,
    "if": _branches,
    "table": _table,
    "mate": _mate,
    "convert": _convert,
    "low": _end,
    "high": _end,
    "min": _fold,
    "max": _fold,
    "between": _between,
    "+": _sum,
    "-": _sum,
    "*": _product,
    "/": _quotient,
    "^": _power,
    "neg": _negative,
    "abs": _absolute,
    "exp": _exp,
    "ln": _ln,
    "each": _gathered,
}

# ---- truths, an operator each -------------------------------------------------------------------


def _compared(w: _Writer, tree: Tree, at: At) -> str:
    a, b, found = w.ends(tree[1], at), w.ends(tree[2], at), w.fresh()
    sure, never = ("<", ">=") if tree[0] == "<" else ("<=", ">")
    never_so = f"{NO} if {a.low} {never} {b.high} else 3"
    w.line(f"{found} = {YES} if {a.high} {sure} {b.low} else {never_so}")
    return found


def _is(w: _Writer, tree: Tree, at: At) -> str:
    v, found = w.read(tree[1], at), w.fresh()
    bits = mask_of(tree[1], tree[2], w.context)
    others = w.context.whole[tree[1]] & ~bits
    w.line(f"{found} = (3 if {v} & {others} else {YES}) if {v} & {bits} else {NO}")
    return found


def _known(w: _Writer, tree: Tree, at: At) -> str:
    found, whole = w.fresh(), w.code.constant(w.context.whole[tree[1]])
    w.line(f"{found} = {NO} if {w.read(tree[1], at)} == {whole} else {YES}")
    return found


def _not(w: _Writer, tree: Tree, at: At) -> str:
    found = w.fresh()
    w.line(f"{found} = NOT[{w.truth(tree[1], at)}]")
    return found


def _junction(w: _Writer, tree: Tree, at: At) -> str:
    rules, settled = ("AND", NO) if tree[0] == "and" else ("OR", YES)
    left, found = w.truth(tree[1], at), w.fresh()
    w.line(f"{found} = {left}")
    with w.block(f"if {left} != {settled}:"):
        right = w.truth(tree[2], at)
        w.line(f"{found} = {rules}[{left}][{right}]")
    return found


def _branch_truth(w: _Writer, tree: Tree, at: At) -> str:
    return w.either_truth(*_arms(w, tree, at), at)


def _mate_truth(w: _Writer, tree: Tree, at: At) -> str:
    return w.truth(tree[1], w.moved(f"MATE[{at.place}]", at))


def _any_or_all(w: _Writer, tree: Tree, at: At) -> str:
    _, how, where, body = tree
    found, settled, start = w.fresh(), *((YES, NO) if how == "any" else (NO, YES))
    w.line(f"{found} = {start}")
    with _each_wheel(w, where, at) as there:
        w.line(f"{found} = {'OR' if how == 'any' else 'AND'}[{found}][{w.truth(body, there)}]")
        if not w.recording:
            w.line(f"if {found} == {settled}: break")
    return found


_TRUTHS: dict[str, Callable[[_Writer, Tree, At], str]] = {
    "<": _compared,
    "<=": _compared,
    "is": _is,
    "known": _known,
    "not": _not,
    "and": _junction,
    "or": _junction,
    "if": _branch_truth,
    "pick": _branch_truth,
    "mate": _mate_truth,
    "each": _any_or_all,
    "quantity": lambda w, tree, at: _worked(w, tree[1], at),
}
