"""The circuit solver against solved networks and an independent solution; current is conserved."""

from __future__ import annotations

import json
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq, root

from checks.circuit.light import black_body
from checks.circuit.network import GROUND, KNEE, Branch, filament, solve

NETWORKS = json.loads((Path(__file__).parent / "data" / "circuit_networks.json").read_text())[
    "networks"
]


def branches(name: str) -> list[Branch]:
    return [Branch(*row) for row in NETWORKS[name]["netlist"]]


def test_there_are_32_networks() -> None:
    assert len(NETWORKS) == 32


@pytest.mark.parametrize("name", NETWORKS)
def test_every_node_and_lamp_stands_where_the_worked_network_has_it(name: str) -> None:
    solved = solve(branches(name))
    for node, volts in NETWORKS[name]["nodes"].items():
        assert solved.volts[node] == pytest.approx(volts, abs=1e-9), node
    for lamp, volts, amperes, *_ in NETWORKS[name]["lamps"]:
        assert solved.across(lamp) == pytest.approx(volts, abs=1e-9), lamp
        assert solved.amperes[lamp] == pytest.approx(amperes, abs=1e-9), lamp
    assert solved.left_over() < 1e-9


@pytest.mark.parametrize("name", NETWORKS)
def test_light_agrees_with_the_black_body_column(name: str) -> None:
    solved = solve(branches(name))
    rated = {one.name: one.q for one in branches(name) if one.kind == "F"}
    for lamp, _, _, _, light, *_ in NETWORKS[name]["lamps"]:
        if lamp in rated and light > 1e-9:
            share = solved.across(lamp) / rated[lamp]
            assert black_body(share) == pytest.approx(light, rel=0.02), lamp


# ---- an independent solution: scipy finds the zero of Kirchhoff's current law ----------------


def amperes(one: Branch, volts: float) -> float:
    """Written from the formulas of the reference alone, not from the solver."""
    if one.kind == "R":
        return volts / one.p
    if one.kind == "D":
        return max(0.0, volts - one.p) / one.q
    return volts / (one.q / one.p * max(0.08, (abs(volts) / one.q) ** 0.45))


def by_scipy(parts: list[Branch], near: dict[str, float]) -> dict[str, float]:
    fixed = {one.a: one.p for one in parts if one.kind == "V"} | {GROUND: 0.0}
    free = sorted({n for one in parts for n in (one.a, one.b)} - set(fixed))

    def left_over(x: np.ndarray) -> np.ndarray:
        volts = fixed | dict(zip(free, x, strict=True))
        sums = dict.fromkeys(volts, 0.0)
        for one in parts:
            if one.kind != "V":
                flow = amperes(one, volts[one.a] - volts[one.b])
                sums[one.a] -= flow
                sums[one.b] += flow
        return np.array([sums[n] for n in free])

    found = root(left_over, [near[n] + 0.01 for n in free], method="hybr", tol=1e-14)
    assert np.abs(found.fun).max() < 1e-11
    return fixed | dict(zip(free, map(float, found.x), strict=True))


@pytest.mark.parametrize("name", NETWORKS)
def test_scipy_finds_the_same_voltages(name: str) -> None:
    parts = branches(name)
    if not {one.kind for one in parts} - {"V"}:
        pytest.fail("a network without loads proves nothing")
    ours = solve(parts).volts
    theirs = by_scipy(parts, dict(ours))
    for node, volts in theirs.items():
        assert ours[node] == pytest.approx(volts, abs=1e-9), node


@given(
    volts=st.floats(6, 15),
    ohms=st.floats(0.01, 100),
    rated=st.sampled_from([(2.1, 12.8), (0.59, 14.0), (0.27, 14.0)]),
)
def test_one_filament_behind_a_resistor_agrees_with_a_bracketed_root(
    volts: float, ohms: float, rated: tuple[float, float]
) -> None:
    lamp = Branch("lamp", "F", "x", GROUND, *rated)
    feed = [Branch("e", "V", "a", GROUND, volts), Branch("r", "R", "a", "x", ohms)]
    found = brentq(lambda x: (volts - x) / ohms - amperes(lamp, x), 0, volts, xtol=1e-13)
    assert solve([*feed, lamp]).volts["x"] == pytest.approx(found, abs=1e-9)


@st.composite
def tangles(draw: st.DrawFn) -> list[Branch]:
    """Any network whose every node has a way to ground by a resistor."""
    nodes = [GROUND, "a", *(f"n{i}" for i in range(draw(st.integers(1, 8))))]
    parts = [Branch("e", "V", "a", GROUND, draw(st.floats(1, 15)))]
    parts += [Branch(f"s{n}", "R", n, GROUND, 1e6) for n in nodes[2:]]
    two = st.lists(st.sampled_from(nodes), min_size=2, max_size=2, unique=True)
    for i in range(draw(st.integers(1, 20))):
        a, b = draw(two)
        kind = draw(st.sampled_from("RFD"))
        p, q = {
            "R": (draw(st.floats(0.01, 1000)), 0.0),
            "F": (draw(st.floats(0.2, 4)), draw(st.floats(12, 14))),
            "D": (draw(st.floats(1, 11)), draw(st.floats(5, 200))),
        }[kind]
        parts.append(Branch(f"b{i}", kind, a, b, p, q))  # type: ignore[arg-type]
    return parts


@pytest.mark.slow
@settings(max_examples=300, deadline=None)
@given(tangles())
def test_current_is_conserved_and_no_node_leaves_the_supply(parts: list[Branch]) -> None:
    solved = solve(parts)
    assert solved.left_over() < 1e-9
    top = parts[0].p
    assert all(-1e-9 <= volts <= top + 1e-9 for volts in solved.volts.values())


def test_the_filament_law_is_continuous_at_its_knee_and_odd() -> None:
    low, high = (
        filament(12.8 * KNEE * (1 - 1e-9), 2.1, 12.8),
        filament(12.8 * KNEE * (1 + 1e-9), 2.1, 12.8),
    )
    assert math.isclose(low[0], high[0], rel_tol=1e-6)
    assert filament(-5, 2.1, 12.8)[0] == -filament(5, 2.1, 12.8)[0]
    assert filament(12.8, 2.1, 12.8)[0] == pytest.approx(2.1)


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ([Branch("e", "V", "a", "b", 12.8)], "ends at node '0'"),
        ([Branch("e", "V", "a", "0", 12.8), Branch("f", "V", "a", "0", 6)], "fed twice"),
    ],
)
def test_a_network_that_cannot_be_solved_says_why(parts: list[Branch], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        solve(parts)
