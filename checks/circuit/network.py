"""Node voltages of a network of sources, resistors, filaments and LED lamps.

The branch currents all rise with voltage, so the node voltages are the one minimum of a convex
function (Millar's co-content); Newton's method with a line search down it always arrives.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal, NamedTuple

GROUND = "0"
# Rerating of a filament (Standard Handbook for Electrical Engineers, 11th ed., p. 22-8, reported
# second hand): I = Id * r^0.55. Cold resistance is a twelfth of the lit one (an automotive
# teaching page says a tenth, an installation guide 10 to 15 times the current).
EXPONENT = 0.55
COLD = 0.08
KNEE = COLD ** (1 / (1 - EXPONENT))
# Keeps an elimination going at a node that only blocked LED lamps touch; no current is added.
SEED = 1e-12
STEPS = 200


class Branch(NamedTuple):
    """One part between two nodes; current counts from ``a`` to ``b``.

    ``V``: ideal source of ``p`` volts, ``b`` the ground node. ``R``: ``p`` ohms. ``F``: filament
    of ``p`` amperes at ``q`` volts. ``D``: LED lamp that starts at ``p`` volts, ``q`` ohms above.
    """

    name: str
    kind: Literal["V", "R", "F", "D"]
    a: str
    b: str
    p: float
    q: float = 0.0


class Stalled(ArithmeticError):
    """The method did not arrive; never seen, and never hidden."""


@dataclass(frozen=True)
class Solution:
    """Volts of every node against ground, amperes of every branch from its first node."""

    volts: Mapping[str, float]
    amperes: Mapping[str, float]
    branches: tuple[Branch, ...]

    def across(self, name: str) -> float:
        """Volts from the first to the second node of the branch of that name."""
        one = next(branch for branch in self.branches if branch.name == name)
        return self.volts[one.a] - self.volts[one.b]

    def left_over(self) -> float:
        """Amperes that fail to leave the worst node; zero but for rounding."""
        sums = dict.fromkeys(self.volts, 0.0)
        for branch in self.branches:
            sums[branch.a] -= self.amperes[branch.name]
            sums[branch.b] += self.amperes[branch.name]
        return max((abs(amperes) for amperes in sums.values()), default=0.0)


def filament(volts: float, rated_amperes: float, rated_volts: float) -> tuple[float, float]:
    """Amperes through a filament, and how fast they rise in A/V."""
    share = abs(volts) / rated_volts
    if share <= KNEE:
        slope = rated_amperes / rated_volts / COLD
        return volts * slope, slope
    amperes = rated_amperes * share**EXPONENT
    return (amperes if volts > 0 else -amperes), EXPONENT * amperes / abs(volts)


def current(branch: Branch, volts: float) -> tuple[float, float]:
    """Amperes through a branch other than a source, and how fast they rise in A/V."""
    if branch.kind == "R":
        return volts / branch.p, 1 / branch.p
    if branch.kind == "F":
        return filament(volts, branch.p, branch.q)
    if volts > branch.p:
        return (volts - branch.p) / branch.q, 1 / branch.q
    return 0.0, 0.0


def solve(branches: Iterable[Branch]) -> Solution:
    """The one state of the network.

    Raises ValueError for a source that does not end at ground or a node fed by two sources, and
    Stalled should the method not arrive.
    """
    parts = tuple(branches)
    volts = _fixed(parts)
    free = sorted({node for one in parts for node in (one.a, one.b)} - set(volts))
    loads = [one for one in parts if one.kind != "V"]
    order = _order(free, loads)
    volts |= dict.fromkeys(free, max(volts.values()) / 2)
    _descend(volts, loads, order)
    amperes = {one.name: current(one, volts[one.a] - volts[one.b])[0] for one in loads}
    for one in parts:
        if one.kind == "V":
            amperes[one.name] = _fed(one.a, amperes, loads)
    return Solution(volts, amperes, parts)


def _fixed(parts: tuple[Branch, ...]) -> dict[str, float]:
    volts = {GROUND: 0.0}
    for one in parts:
        if one.kind != "V":
            continue
        if one.b != GROUND:
            raise ValueError(f"{one.name}: a source ends at node {GROUND!r}, not {one.b!r}")
        if one.a in volts:
            raise ValueError(f"{one.name}: node {one.a!r} is fed twice; give it one source")
        volts[one.a] = one.p
    return volts


def _fed(node: str, amperes: dict[str, float], loads: list[Branch]) -> float:
    """Current of the source at a node: from the node into the source, as for any branch."""
    leaving = sum(amperes[one.name] for one in loads if one.a == node)
    return sum(amperes[one.name] for one in loads if one.b == node) - leaving


def _order(free: list[str], loads: list[Branch]) -> list[str]:
    """Elimination order: the node with the fewest neighbours first (Markowitz), ties by name."""
    near: dict[str, set[str]] = {node: set() for node in free}
    for one in loads:
        if one.a in near and one.b in near and one.a != one.b:
            near[one.a].add(one.b)
            near[one.b].add(one.a)
    order = []
    while near:
        node = min(near, key=lambda n: (len(near[n]), n))
        around = near.pop(node)
        for other in around:
            near[other] |= around
            near[other] -= {node, other}
        order.append(node)
    return order


def _descend(volts: dict[str, float], loads: list[Branch], order: list[str]) -> None:
    """Newton from ``volts`` to the minimum, in place; a step too long is halved."""
    last = False
    for _ in range(STEPS):
        rows, sums = _linear(volts, loads, order)
        step = _eliminate(rows, sums, order)
        slope = -sum(sums[node] * step[node] for node in order)
        _step(volts, step, loads, slope)
        size = max(map(abs, step.values()), default=0.0)
        if last:
            return
        last = size < 1e-10
    raise Stalled(f"no balance after {STEPS} steps")


def _linear(
    volts: dict[str, float], loads: list[Branch], order: list[str]
) -> tuple[dict[str, dict[str, float]], dict[str, float]]:
    """The conductances between free nodes, and the amperes that flow into each."""
    rows = {node: {node: SEED} for node in order}
    sums = dict.fromkeys(order, 0.0)
    for one in loads:
        amperes, slope = current(one, volts[one.a] - volts[one.b])
        for node, other, sign in ((one.a, one.b, -1.0), (one.b, one.a, 1.0)):
            row = rows.get(node)
            if row is None:
                continue
            row[node] += slope
            sums[node] += sign * amperes
            if other in rows:
                row[other] = row.get(other, 0.0) - slope
    return rows, sums


def _eliminate(
    rows: dict[str, dict[str, float]], sums: dict[str, float], order: list[str]
) -> dict[str, float]:
    """Solves the symmetric positive definite system, sparse, without pivoting."""
    right = dict(sums)
    done: list[tuple[str, dict[str, float]]] = []
    for node in order:
        row = rows[node]
        pivot = row.pop(node)
        for other, value in row.items():
            share = value / pivot
            target = rows[other]
            right[other] -= share * right[node]
            del target[node]
            for third, entry in row.items():
                target[third] = target.get(third, 0.0) - share * entry
        row[node] = pivot
        done.append((node, row))
    step: dict[str, float] = {}
    for node, row in reversed(done):
        rest = sum(value * step[other] for other, value in row.items() if other != node)
        step[node] = (right[node] - rest) / row[node]
    return step


def _step(
    volts: dict[str, float], step: dict[str, float], loads: list[Branch], slope: float
) -> None:
    """Goes as much of the step as makes the way down no steeper upwards than it began."""
    start = {node: volts[node] for node in step}
    share = 1.0
    for _ in range(40):
        for node, change in step.items():
            volts[node] = start[node] + share * change
        climb = 0.0
        for one in loads:
            along = step.get(one.a, 0.0) - step.get(one.b, 0.0)
            if along:
                climb += current(one, volts[one.a] - volts[one.b])[0] * along
        if climb <= 0.1 * abs(slope) + 1e-18:
            return
        share /= 2
