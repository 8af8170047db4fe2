"""Random expression trees and answers over a small made-up world, for whoever tests the engine."""

from __future__ import annotations

from collections.abc import Mapping
from random import Random
from typing import Any

from checks.facts import wheel_order
from checks.formula import Case, Compiled, Context, Tree, place_for
from checks.units import units

# The same shape as the exported rulebook, so that the twin builds its context from it.
WORLD: dict[str, Any] = {
    "facts": {
        "speed": {"scope": "trailer", "kind": "number", "low": -4, "high": 12},
        "load": {"scope": "axle", "kind": "number", "low": 0, "high": 3},
        "heat": {"scope": "wheel", "kind": "number", "low": -40, "high": 200},
        "wear": {"scope": "wheel", "kind": "number", "low": 0.125, "high": 8},
        "made": {"scope": "wheel", "kind": "made", "low": -10957, "high": 36525},
        "kind": {"scope": "trailer", "kind": "choice", "choices": ["open", "closed", "boat"]},
        "play": {"scope": "axle", "kind": "choice", "choices": ["no", "yes"]},
        "feel": {"scope": "wheel", "kind": "choice", "choices": ["cold", "warm", "hot", "burns"]},
    },
    "limits": {
        "few": {"value": 2.5},
        "none": {"value": 0},
        "spread": {"value": [0.75, 1.5]},
        "curve": {"value": [[-1, 4], [0, 1], [2.5, 3], [7, -2]]},
        "steps": {"value": [[0, 0], [10, 1]]},
    },
    "quantities": {
        "margin": {"scope": "trailer", "formula": ["-", ["limit", "few"], ["fact", "speed"]]},
        "share": {
            "scope": "axle",
            "formula": ["*", ["fact", "load"], ["pick", "play", {"no": 1, "yes": 0.5}]],
        },
        "rise": {"scope": "wheel", "formula": ["-", ["fact", "heat"], ["quantity", "margin"]]},
    },
    "units": units(),
}
FACTS = WORLD["facts"]
CHOICES = {name: f["choices"] for name, f in FACTS.items() if f["kind"] == "choice"}
NUMBERS = [name for name in FACTS if name not in CHOICES]
PLAIN_LIMITS = ("few", "none", "spread")
CURVES = ("curve", "steps")
CONVERSIONS = (("degC", "degF"), ("K", "dF"), ("km", "mi"), ("psi", "kPa"), ("in32", "mm"))


def whole(name: str) -> Any:
    fact = FACTS[name]
    if name in CHOICES:
        return (1 << len(fact["choices"])) - 1
    return (float(fact["low"]), float(fact["high"]))


def context() -> Context:
    """The world as Python compiles against it."""
    items = FACTS | WORLD["quantities"]
    return Context(
        whole={name: whole(name) for name in FACTS},
        scope={name: item["scope"] for name, item in items.items()},
        choices=CHOICES,
        limits={name: entry["value"] for name, entry in WORLD["limits"].items()},
        quantities={name: q["formula"] for name, q in WORLD["quantities"].items()},
        units={name: (u["factor"], u["offset"]) for name, u in units().items()},
    )


NUMBER_OPERATORS = (
    *("+", "-", "*", "/", "^", "neg", "abs", "exp", "ln", "min", "max", "between", "low", "high"),
    *("table", "pick", "if", "mate", "each", "convert", "leaf", "leaf", "leaf"),
)


class Grower:
    """Grows trees. ``narrowing``: only what a finding may hold, so no ``known`` and no ``low`` or
    ``high`` over facts, and no logarithm, power or quotient outside its domain."""

    def __init__(self, rng: Random, *, narrowing: bool = False) -> None:
        self.rng = rng
        self.narrowing = narrowing

    def tree(self, depth: int) -> Tree:
        return self.number(depth) if self.rng.random() < 0.5 else self.truth(depth)

    def number(self, depth: int) -> Tree:
        if depth <= 0:
            return self._number_leaf()
        op = self.rng.choice(NUMBER_OPERATORS)
        if op == "leaf":
            return self._number_leaf()
        if op == "/":
            return [op, self.number(depth - 1), self._divisor(depth - 1)]
        if op in ("+", "-", "*", "between"):
            return [op, self.number(depth - 1), self.number(depth - 1)]
        if op in ("min", "max"):
            return [op, *(self.number(depth - 1) for _ in range(self.rng.randint(1, 3)))]
        if op in ("pick", "if"):
            return self._branch(op, depth, self.number)
        if op in ("neg", "abs", "mate"):
            return [op, self.number(depth - 1)]
        return self._special(op, depth)

    def _divisor(self, depth: int) -> Tree:
        """Where narrowing: what may reach to zero, or across it, but is never zero itself."""
        inner = self.number(depth)
        if not self.narrowing:
            return inner
        apart = ["-", ["fact", "speed"], 0.0037]  # answers have two decimals
        kept = ["+", ["abs", inner], 0.5]
        return self.rng.choice([apart, ["abs", apart], ["neg", ["abs", apart]], kept])

    def _special(self, op: str, depth: int) -> Tree:
        inner = self.number(depth - 1)
        if op == "exp":
            return [op, ["min", inner, self.rng.choice([3, 30])]]
        if op == "ln":
            return [op, ["max", inner, 0.01] if self.narrowing else inner]
        if op == "^":
            base = ["max", inner, 0.01] if self.narrowing else inner
            return [op, base, ["max", -3, ["min", 3, self.number(depth - 1)]]]
        if op == "table":
            return [op, self.rng.choice(CURVES), inner]
        if op == "convert":
            return [op, *self.rng.choice(CONVERSIONS), inner]
        if op == "each":
            how = self.rng.choice(["max", "min", "median", "count"])
            body = self.truth(depth - 1) if how == "count" else inner
            return [
                op,
                how,
                self.rng.choice(["others", "axle", "left", "right", "side", "all"]),
                body,
            ]
        return [op, ["limit", "spread"] if self.narrowing else inner]  # low, high

    def truth(self, depth: int) -> Tree:
        ops = ["is", "<", "<=", "and", "or", "not", "each", "if", "pick", "mate", "known"]
        op = self.rng.choice(ops) if depth > 0 else self.rng.choice(["is", "<", "known"])
        if op == "known" and not self.narrowing:
            return [op, self.rng.choice(list(FACTS))]
        if op in ("is", "known"):
            name = self.rng.choice(list(CHOICES))
            wanted = self.rng.sample(CHOICES[name], self.rng.randint(1, len(CHOICES[name])))
            return ["is", name, wanted]
        if op in ("<", "<="):
            return [op, self.number(depth - 1), self.number(depth - 1)]
        if op in ("and", "or"):
            return [op, self.truth(depth - 1), self.truth(depth - 1)]
        if op in ("not", "mate"):
            return [op, self.truth(depth - 1)]
        if op == "each":
            how, where = (
                self.rng.choice(["any", "all"]),
                self.rng.choice(["others", "axle", "left", "right", "side", "all"]),
            )
            return [op, how, where, self.truth(depth - 1)]
        return self._branch(op, depth, self.truth)

    def _branch(self, op: str, depth: int, grow: Any) -> Tree:
        if op == "if":
            return [op, self.truth(depth - 1), grow(depth - 1), grow(depth - 1)]
        name = self.rng.choice(list(CHOICES))
        return [op, name, {one: grow(depth - 1) for one in sorted(CHOICES[name])}]

    def _number_leaf(self) -> Tree:
        kind = self.rng.choice(["number", "fact", "limit", "quantity", "rank"])
        if kind == "number":
            return self.rng.choice([0, 1, 2, -1, 0.5, 7.25, round(self.rng.uniform(-9, 9), 3)])
        names = {
            "fact": NUMBERS,
            "limit": PLAIN_LIMITS,
            "quantity": list(WORLD["quantities"]),
            "rank": list(CHOICES),
        }
        return [kind, self.rng.choice(names[kind])]


Facts = dict[tuple[str, str], Any]


def random_facts(rng: Random, wheels: list[str]) -> Facts:
    """Some facts answered exactly, some coarsely, some not at all."""
    answered = rng.choice([0.3, 0.7, 1.0])
    return {key: narrower(rng, whole(key[0])) for key in keys(wheels) if rng.random() < answered}


def keys(wheels: list[str]) -> list[tuple[str, str]]:
    """Every fact at every place of its own, wheel by wheel."""
    every = ((name, place_for(f["scope"], w)) for name, f in FACTS.items() for w in wheels)
    return list(dict.fromkeys(every))


def narrower(rng: Random, value: Any, *, exact: bool = False) -> Any:
    """A value inside ``value``: one choice or number when ``exact``, else anything from that up."""
    if isinstance(value, int):
        bits = [1 << i for i in range(value.bit_length()) if value >> i & 1]
        kept = rng.sample(bits, 1 if exact else rng.randint(1, len(bits)))
        return sum(kept)
    low, high = value
    a, b = sorted(min(max(round(rng.uniform(low, high), 2), low), high) for _ in range(2))
    return (a, a) if exact or rng.random() < 0.5 else (a, b)


def narrowed(rng: Random, facts: Facts, wheels: list[str], *, exact: bool = False) -> Facts:
    """The same answers, each the same or narrower; all of them to a point when ``exact``."""
    result = {}
    for key in keys(wheels):
        if exact or rng.random() < 0.6:
            result[key] = narrower(rng, facts.get(key, whole(key[0])), exact=exact)
        elif key in facts:
            result[key] = facts[key]
    return result


def random_wheels(rng: Random) -> list[str]:
    return wheel_order(rng.randint(1, 3))


def case(facts: Facts, wheels: list[str]) -> Case:
    return Case(facts, wheels)


class _Recorder(dict[tuple[str, str], Any]):
    """Answers that remember which of them were asked for, in order."""

    def __init__(self, facts: Mapping[tuple[str, str], Any]) -> None:
        super().__init__(facts)
        self.seen: dict[tuple[str, str], None] = {}

    def get(self, key: tuple[str, str], default: Any = None) -> Any:
        self.seen[key] = None
        return super().get(key, default)


def looked_at(test: Compiled, case: Case, place: str) -> list[tuple[str, str]]:
    """The fact keys that a compiled tree looks at in a case, in order."""
    recorder = _Recorder(case.facts)
    test(Case(recorder, case.wheels), place)
    return list(recorder.seen)
