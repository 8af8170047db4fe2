"""A sum with its numbers put in, and the comparisons that make a finding hold.

So that a person can follow with a pocket calculator: ``118 °F − 68 °F``, and ``50 °F is more than
43 °F``. What no calculator has (tables, choices between ways) stands as its result. The twin is
``static/engine/working.js``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import timedelta

from checks.facts import EPOCH
from checks.formula import Case, Tree, compile_tree, mate_of
from checks.interval import NO, YES, Range
from checks.rulebook import Rulebook
from checks.units import units
from checks.words import Words

SIGNS = {"+": "+", "-": "−", "*": "×", "/": "÷", "^": "^"}
# Operators whose sums need no brackets beside this one.
LOOSE = {"+": ("+", "*", "/"), "*": ("*",)}
EXTREMES = ("max", "min")
BARE = ("", "ratio", "count", "step")  # units that leave the other side's as it is


@dataclass(frozen=True)
class Writer:
    """What it takes to write a sum of one case at one place.

    text: a range with its unit as the reader wants it, say in US units.
    """

    case: Case
    place: str
    book: Rulebook
    said: Words
    text: Callable[[Range, str], str]

    def dates(self, ends: Range) -> str:
        """Days since 2000 as dates."""
        first, last = ((EPOCH + timedelta(days=end)).isoformat() for end in ends)
        return first if first == last else self.said.say("working-range", first=first, last=last)

    def value(self, tree: Tree) -> str:
        """What a tree comes to, with its unit."""
        if not isinstance(tree, list):
            return f"{tree:g}"
        ends: Range = compile_tree(tree, self.book.context)(self.case, self.place)
        if self.is_date(tree):
            return self.dates(ends)
        return self.text(ends, unit_of(tree, self.book) or "ratio")

    def is_date(self, tree: Tree) -> bool:
        fact = isinstance(tree, list) and tree[0] == "fact"
        return fact and (tree[1] == "today" or self.book.facts[tree[1]].kind == "made")

    def sum(self, tree: Tree) -> str:
        """The tree as a sum of numbers."""
        op = tree[0] if isinstance(tree, list) else ""
        if op in SIGNS:
            return f"{self.part(tree[1], op)} {SIGNS[op]} {self.part(tree[2], op)}"
        if op == "neg":
            return f"−{self.part(tree[1], '*')}"
        if op == "convert" and _is_sum(tree[3]):
            return self.sum(tree[3])
        if op in EXTREMES:
            listed = "; ".join(self.sum(t) for t in tree[1:])
            return self.said.say(f"working-{op}", listed=listed)
        if op == "mate":
            return replace(self, place=mate_of(self.place)).sum(tree[1])
        return self.value(tree)

    def part(self, tree: Tree, outer: str) -> str:
        """An operand, in brackets where leaving them away would change the sum."""
        text = self.sum(tree)
        while isinstance(tree, list) and tree[0] == "convert" and _is_sum(tree[3]):
            tree = tree[3]
        inner = tree[0] if isinstance(tree, list) else ""
        return text if inner not in SIGNS or inner in LOOSE.get(outer, ()) else f"({text})"

    def side(self, tree: Tree) -> str:
        """One side of a comparison: a named value, or a sum and what it comes to."""
        if not _is_sum(tree):
            name, value = self.name(tree), self.value(tree)
            return self.said.say("working-named", name=name, value=value) if name else value
        return f"{self.sum(tree)} = {self.value(tree)}"

    def name(self, tree: Tree) -> str:
        op = tree[0] if isinstance(tree, list) else ""
        if op not in ("fact", "quantity"):
            return ""
        return self.said.say(f"{op}-{tree[1]}").removesuffix("?")


def _is_sum(tree: Tree) -> bool:
    op = tree[0] if isinstance(tree, list) else ""
    return op in SIGNS or op in EXTREMES or (op == "convert" and _is_sum(tree[3]))


def unit_of(tree: Tree, book: Rulebook) -> str:
    """The unit of what a tree comes to, "" where it cannot be told."""
    if not isinstance(tree, list):
        return ""
    op = tree[0]
    if op in ("fact", "quantity", "limit", "table"):
        if op == "fact":
            return book.facts[tree[1]].unit if tree[1] in book.facts else "day"
        known = book.quantities[tree[1]].unit if op == "quantity" else ""
        return known or str(book.data["limits"][tree[1]]["unit"]).rpartition(" by ")[2]
    if op == "convert":
        return str(tree[2])
    if op == "pick":
        return next(filter(None, (unit_of(t, book) for t in tree[2].values())), "")
    if op == "-" and [unit_of(t, book) for t in tree[1:]] == ["degC", "degC"]:
        return "K"
    if op in ("*", "/", "^"):
        return _product_unit(op, *(unit_of(t, book) for t in tree[1:]))
    first = {"if": 2, "each": 3}.get(op, 1)
    return next(filter(None, (unit_of(t, book) for t in tree[first:])), "")


def _product_unit(op: str, left: str, right: str) -> str:
    if op == "/" and left and right:
        same = units()[left]["dimension"] == units()[right]["dimension"]
        return "ratio" if same else (left if right in BARE else "")
    if op == "^":
        return left if left in BARE else ""
    if right in BARE:
        return left
    return right if op == "*" and left in BARE else ""


def deciding(tree: Tree, writer: Writer, positive: bool = True) -> Iterator[str]:
    """The comparisons in a finding's pruned tree that hold it up, a sentence each."""
    if not isinstance(tree, list):
        return
    op = tree[0]
    if op in ("and", "or"):
        held = YES if positive else NO
        for part in tree[1:]:
            if compile_tree(part, writer.book.context)(writer.case, writer.place) == held:
                yield from deciding(part, writer, positive)
    elif op == "not":
        yield from deciding(tree[1], writer, not positive)
    elif op == "mate":
        yield from deciding(tree[1], replace(writer, place=mate_of(writer.place)), positive)
    elif op in ("<", "<="):
        truth = compile_tree(tree, writer.book.context)(writer.case, writer.place)
        if truth == (YES if positive else NO) and not any(_is_switch(t, writer) for t in tree[1:]):
            yield compared(op, tree[1], tree[2], writer, positive)


def _is_switch(tree: Tree, writer: Writer) -> bool:
    """Whether a side is 1 or 0 for a yes or no, which is no number to a reader."""
    if not (isinstance(tree, list) and tree[0] == "quantity"):
        return False
    formula = writer.book.quantities[tree[1]].formula.tree
    return isinstance(formula, list) and formula[0] == "if" and formula[2:] == [1.0, 0.0]


def compared(op: str, left: Tree, right: Tree, writer: Writer, positive: bool) -> str:
    """``left < right`` as a sentence that begins with what was answered."""
    word = {"<": "less", "<=": "most"}[op] if positive else {"<": "least", "<=": "more"}[op]
    if _nearness(left) < _nearness(right):
        left, right = right, left
        word = {"less": "more", "more": "less", "most": "least", "least": "most"}[word]
    texts = [writer.side(left), writer.side(right)]
    for i, (one, other) in enumerate(((left, right), (right, left))):
        if writer.is_date(other) and not writer.is_date(one):
            ends = compile_tree(one, writer.book.context)(writer.case, writer.place)
            texts[i] = writer.dates(ends)
    return writer.said.say(f"working-{word}", left=texts[0], right=texts[1])


def _nearness(tree: Tree) -> int:
    """How near a side is to what a person answered, to begin with the nearer one."""
    op = tree[0] if isinstance(tree, list) else ""
    return {"fact": 3, "quantity": 2}.get(op, int(_answered(tree)))


def _answered(tree: Tree) -> bool:
    """Whether a side hangs on answers, as far as can be seen from outside."""
    if not isinstance(tree, list):
        return False
    return tree[0] not in ("limit", "table") and (
        tree[0] in ("fact", "quantity", "mate", "each", "pick", "if")
        or any(_answered(part) for part in tree[1:])
    )
