"""The fault table: from the worked patterns, made again, current conserved, and how often right."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from checks.circuit.faults import (
    PRIORS,
    added,
    broken,
    joined,
    opened,
    pairs,
    single_contact,
    singles,
)
from checks.circuit.network import GROUND, solve
from checks.circuit.rank import SOUND, rank, table
from checks.circuit.table import candela, make, said
from checks.circuit.wiring import SYSTEMS, System, healthy, switched
from tests.benchmarks.lamp_faults import measure
from tests.rules.test_circuit_network import by_scipy
from tests.support.effort import rounds, some

PATTERNS = json.loads((Path(__file__).parent / "data" / "circuit_patterns.json").read_text())
EDITS = {
    "healthy": lambda network: None,
    "main ground open": opened("white"),
    "main ground 1 ohm": added("white", 1.0 - 0.026),
    "main ground only by ball, 2 ohm": lambda n: (opened("white")(n), joined("F", GROUND, 2.0)(n)),
    "left lamp ground open": opened("gL"),
    "left lamp ground 2 ohm": added("gL", 2.0 - 0.02),
    "brown pin 2 ohm": added("pinB", 2.0 - 0.01),
    "yellow pin 2 ohm": added("pinY", 2.0 - 0.01),
    "brown open to right": opened("wBR"),
    "yellow touches green": joined("PY", "PG", 0.05),
    "brown touches yellow": joined("LB", "LY", 0.05),
    "1156 in left socket": single_contact("L", "Y"),
}
COMMAND = {"tail+left": "tail_left", "tail+brake": "tail_brake"}


@pytest.mark.parametrize("row", PATTERNS["rows"], ids=lambda row: ", ".join(row[:3]))
def test_faults_shine_as_the_worked_patterns_have_it(row: list) -> None:
    fault, vehicle, command, _, left, right, frame = row
    supply = {"isolated": "module", "spliced": "spliced"}[vehicle]
    network = broken(healthy(System("flat4", "bulbs", "frame", supply)), EDITS[fault])
    solved = solve(switched(network, COMMAND.get(command, command)))
    assert solved.volts["F"] == pytest.approx(frame, abs=0.002)
    for lamp, light in (("left", left), ("right", right)):
        assert candela(solved, lamp) == pytest.approx(light, rel=0.02, abs=1e-5), lamp


@pytest.mark.slow
@pytest.mark.parametrize("system", some(SYSTEMS, len(SYSTEMS) // 4), ids=str)
def test_current_is_conserved_in_every_fault_and_pair(system: System) -> None:
    network, faults = healthy(system), singles(system)
    first = [pair for _, pair in zip(range(40), pairs(faults), strict=False)]
    for fault in (*faults, *first):
        for variant in fault.variants:
            for command in system.commands:
                solved = solve(switched(broken(network, variant), command))
                assert solved.left_over() < 1e-9, (fault.name, command)


@pytest.mark.parametrize("system", [s for s in SYSTEMS if s.lamps == "bulbs"][::3], ids=str)
def test_scipy_finds_the_same_voltages_in_faulty_networks(system: System) -> None:
    for fault in singles(system)[::6]:
        parts = switched(broken(healthy(system), fault.variants[-1]), "tail_left")
        ours = solve(parts)
        # A node cut off from everything has no voltage of its own; what is lit does.
        theirs = by_scipy([*parts, *_tied(parts)], dict(ours.volts))
        tied = solve([*parts, *_tied(parts)])
        for node, volts in theirs.items():
            assert tied.volts[node] == pytest.approx(volts, abs=1e-9), (fault.name, node)


def _tied(parts: list) -> list:
    nodes = sorted({node for part in parts for node in part[2:4]} - {GROUND})
    return [parts[1]._replace(name=f"t{n}", kind="R", a=n, b=GROUND, p=1e6) for n in nodes]


@pytest.mark.parametrize("colour", ["B", "Y", "G", "U"])
@pytest.mark.parametrize("supply", ["spliced", "module", "converter"])
def test_a_feed_chafed_to_the_frame_blows_any_lamp_fuse(colour: str, supply: str) -> None:
    network = healthy(System("blade7", "bulbs", "frame", supply))
    command = {"B": "tail", "Y": "left", "G": "right", "U": "reverse"}[colour]
    shorted = solve(switched(broken(network, joined(f"P{colour}", "F", 0.02)), command))
    assert shorted.amperes[f"Rf{colour}"] > 20
    assert solve(switched(network, "tail_brake")).amperes["RfY"] < 6  # two lamps


def test_priors_add_to_one() -> None:
    assert sum(PRIORS.values()) == pytest.approx(1)
    for system in SYSTEMS:
        assert sum(fault.prior for fault in singles(system)) == pytest.approx(1), system


@pytest.mark.sweep
def test_the_table_that_ships_is_the_one_the_circuit_makes() -> None:
    assert json.loads(json.dumps(make())) == table()


def test_every_single_fault_is_in_the_table_or_said_not_to_show() -> None:
    for system in SYSTEMS:
        one = table()["systems"][str(system)]
        listed = {fault[0] for fault in one["faults"]} | set(one["unseen"])
        assert {fault.name for fault in singles(system)} <= listed, system


# ---- ranking -----------------------------------------------------------------------------------

SPLICED, MODULE = "flat4.bulbs.frame.spliced", "flat4.bulbs.frame.module"


def seen(system: str, fault: str, variant: int = 0) -> dict:
    """The perfect reading of a row of the table."""
    made = table()
    plug = made["plugs"][system.split(".")[0]]
    one = made["systems"][system]
    rows = {name: numbers for name, _, _, numbers in one["faults"]} | {SOUND: [one["sound"]]}
    letters = said(made["rows"][rows[fault][variant]])
    words = {"G": "good", "D": "dim", "A": "dark", "B": "bright"}
    places = [(c, lamp) for c in plug["commands"] for lamp in plug["lamps"]]
    return {place: words[letter] for place, letter in zip(places, letters, strict=True)}


CASES = [
    ("open main ground, isolated: all dark", MODULE, "ground_open:main", "ground_open:main"),
    (
        "open main ground, spliced: wrong lamps glow",
        SPLICED,
        "ground_open:main",
        "ground_open:main",
    ),
    ("left ground open", MODULE, "ground_open:left", "ground_open:left"),
    ("swapped sides", MODULE, "crossed:yellow_green", "crossed:yellow_green"),
    ("a dead stop filament", SPLICED, "dead_stop:left", "dead_stop:left"),
    ("everything as it should be", SPLICED, SOUND, SOUND),
    ("touching wires", SPLICED, "touching:yellow_green", "touching:yellow_green"),
]


@pytest.mark.parametrize(("title", "system", "fault", "first"), CASES, ids=[c[0] for c in CASES])
def test_a_perfect_reading_puts_the_fault_first(title, system, fault, first) -> None:
    assert first in rank(seen(system, fault), [system], table())[0].faults


def test_who_does_not_know_the_vehicle_gets_both_kinds_weighed() -> None:
    reading = seen(SPLICED, "ground_open:main")
    found = rank(reading, [SPLICED, MODULE], table())
    assert "ground_open:main" in found[0].faults
    assert sum(one.share for one in found) == pytest.approx(1)


def test_without_a_reading_the_priors_stand() -> None:
    found = rank({}, [SPLICED], table())
    assert SOUND in {name for one in found[:3] for name in one.faults}


@pytest.mark.parametrize(
    ("reading", "systems", "words"),
    [
        ({("tail", "left"): "odd"}, [SPLICED], "tail left odd"),
        ({("reverse", "left"): "dim"}, [SPLICED], "reverse left dim"),
        ({("tail", "nose"): "dim"}, [SPLICED], "tail nose dim"),
        ({}, ["flat9"], "no system 'flat9'"),
    ],
)
def test_what_the_table_does_not_have_is_named(reading, systems, words) -> None:
    with pytest.raises(ValueError, match=words):
        rank(reading, systems, table())


@pytest.mark.sample
@pytest.mark.slow
def test_made_up_faults_are_found() -> None:
    shares, hidden = measure(runs=rounds(400), seed=7)
    assert shares["all"]["first"] >= 0.90
    assert shares["one wrong"]["third"] >= 0.90
    assert shares["one not"]["third"] >= 0.90
    assert hidden < 60
