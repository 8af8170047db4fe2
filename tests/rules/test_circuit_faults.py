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
from checks.circuit.network import GROUND, Branch, solve
from checks.circuit.rank import AT_ONCE, SOUND, rank, table
from checks.circuit.table import candela, lights, make, said
from checks.circuit.wiring import SYSTEMS, System, healthy, switched
from tests.benchmarks.lamp_faults import measure
from tests.rules.test_circuit_network import NETWORKS, by_scipy
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
    fed = System("flat4", "bulbs", "frame", supply).fed(COMMAND.get(command, command))
    solved = solve(switched(network, fed))
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
                solved = solve(switched(broken(network, variant), system.fed(command)))
                assert solved.left_over() < 1e-9, (fault.name, command)


@pytest.mark.parametrize("system", [s for s in SYSTEMS if s.lamps == "bulbs"][::3], ids=str)
def test_scipy_finds_the_same_voltages_in_faulty_networks(system: System) -> None:
    for fault in singles(system)[::6]:
        parts = switched(broken(healthy(system), fault.variants[-1]), system.fed("tail_left"))
        ours = solve(parts)
        # A node cut off from everything has no voltage of its own; what is lit does.
        theirs = by_scipy([*parts, *_tied(parts)], dict(ours.volts))
        tied = solve([*parts, *_tied(parts)])
        for node, volts in theirs.items():
            assert tied.volts[node] == pytest.approx(volts, abs=1e-9), (fault.name, node)


def _tied(parts: list) -> list:
    nodes = sorted({node for part in parts for node in part[2:4]} - {GROUND})
    return [parts[1]._replace(name=f"t{n}", kind="R", a=n, b=GROUND, p=1e6) for n in nodes]


@pytest.mark.parametrize("colour", ["B", "K", "Y", "G", "S"])
@pytest.mark.parametrize("supply", ["spliced", "module"])
def test_a_feed_of_the_round_plug_chafed_to_the_frame_blows_any_lamp_fuse(colour, supply) -> None:
    network = healthy(System("round7", "bulbs", "frame", supply))
    shorted = solve(switched(broken(network, joined(f"P{colour}", "F", 0.02)), colour))
    assert shorted.amperes[f"Rf{colour}"] > 20
    assert solve(switched(network, "BKS")).amperes["RfS"] < 10  # two lamps, and the vehicle's two


# What a trailer with turn lamps of its own shows; from circuit reasoning, and for the lost return
# from the solved seven-pin network among the 32 (its neighbours glow, the turn lamp is dim).
SEPARATE = [
    ("sound, left turn", "module", None, "left", {"left_turn"}, set()),
    ("sound, brake", "spliced", None, "brake", {"left", "right"}, set()),
    ("stop feed open: turns go on working", "module", opened("pinS"), "brake", set(), set()),
    ("stop feed open, left turn", "module", opened("pinS"), "left", {"left_turn"}, set()),
    ("left tail has its own contact", "module", opened("pinK"), "tail",
     {"right", "right_marker", "plate"}, set()),
    ("red and yellow exchanged", "module", joined("PS", "PY"), "left",
     {"left_turn", "left", "right"}, set()),
    ("white open, own outputs", "module", opened("white"), "left", set(), set()),
    ("left lamp's ground open, spliced: its tail glows", "spliced", opened("gL"), "left", set(),
     {"left_turn"}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("title", "supply", "edit", "command", "lit", "dim"), SEPARATE, ids=[s[0] for s in SEPARATE]
)
def test_turn_lamps_of_their_own(title, supply, edit, command, lit, dim) -> None:
    system = System("round7", "bulbs", "frame", supply)
    network = healthy(system)
    solved = solve(switched(broken(network, edit) if edit else network, system.fed(command)))
    full = {lamp: candela(solve(switched(network, "BKYGS")), lamp) for lamp in system.seen}
    share = {lamp: candela(solved, lamp) / full[lamp] for lamp in system.seen}
    small = {lamp for lamp in ("left", "right") if command == "tail"}  # a tenth of stop and tail
    assert {lamp for lamp in share if share[lamp] > (0.04 if lamp in small else 0.5)} == lit, share
    assert {lamp for lamp in share if 1e-6 < share[lamp] < 0.5} - small >= dim, share


def as_solved(part: Branch) -> Branch:
    """The same part with the bulbs, wires and contacts of ``eu_lost_earth_left``."""
    if part.kind == "F":
        amperes = {"Ltail": 0.4445, "Rtail": 0.4445, "plate": 0.4445, "ownS": 3.734}
        amperes |= {"ownK": 0.4445, "ownB": 0.4445}
        return part._replace(p=amperes.get(part.name, 1.867), q=13.5)
    if part.kind == "R" and not part.name.startswith("stray"):
        return part._replace(p=0.12 if part.name in ("wYL", "wGR", "wKL", "wBR") else 1e-9)
    return part


def test_a_lost_return_is_what_the_solved_seven_pin_network_has() -> None:
    """One of the 32 networks: ISO 1724, contact 3 open, spliced vehicle, left turn only."""
    network = healthy(System("round7", "bulbs", "frame", "spliced"))
    for name in ("Lmark", "Rmark", "strayF"):
        del network[name]
    parts = {name: as_solved(part) for name, part in network.items()}
    # There one wire of 0.12 ohm leads to both stop lamps.
    parts["wSL"] = parts["wSL"]._replace(a="N6", p=1e-9)
    parts["wSR"] = parts["wSR"]._replace(a="N6", p=1e-9)
    parts["w6"] = parts["wYL"]._replace(name="w6", a="PS", b="N6")
    solved = solve(switched(broken(parts, opened("white")), "Y"))
    wanted = {lamp: volts for lamp, volts, *_ in NETWORKS["eu_lost_earth_left"]["lamps"]}
    theirs = {"ownG": "v4", "ownS": "v6", "ownK": "v7", "ownB": "v5"}
    for lamp in ("Lturn", "Rturn", "Lstop", "Rstop", "Ltail", "Rtail", "plate", *theirs):
        volts = wanted[theirs.get(lamp, lamp)]
        assert solved.across(lamp) == pytest.approx(volts, abs=1e-4), lamp
    assert solved.volts["F"] == pytest.approx(
        NETWORKS["eu_lost_earth_left"]["nodes"]["F"], abs=1e-4
    )


# A converter's wires from the vehicle: what each is for goes dark with it, and nothing else.
INPUTS = [
    ("turn_left", {"left": {"left"}, "tail_left": set()}),
    ("turn_right", {"right": {"right"}}),
    ("stop", {"brake": {"left", "right"}}),
    ("in_tail", {"tail": {"left", "right", "left_marker", "right_marker", "plate"}}),
]


@pytest.mark.parametrize("plug", ["flat4", "blade7"])
@pytest.mark.parametrize("lamps", ["bulbs", "leds"])
@pytest.mark.parametrize(("wire", "dark"), INPUTS, ids=[one[0] for one in INPUTS])
def test_an_open_wire_into_the_converter_takes_its_own_command_alone(plug, lamps, wire, dark):
    system = System(plug, lamps, "frame", "converter")
    network = healthy(system)
    [fault] = [one for one in singles(system) if one.name == f"input_open:{wire}"]
    for command in ("tail", "left", "right", "brake"):
        fed = system.fed(command)
        sound = solve(switched(network, fed))
        found = solve(switched(broken(network, fault.variants[0]), fed))
        lit = {lamp for lamp in system.seen if candela(sound, lamp) > 0.03}
        assert lit - {one for one in lit if candela(found, one) > 0.003} == dark.get(
            command, set()
        ), command


@pytest.mark.parametrize("lamps", ["bulbs", "leds"])
def test_a_weak_wire_into_the_converter_dims_its_own_command_alone(lamps: str) -> None:
    system = System("flat4", lamps, "frame", "converter")
    network = healthy(system)
    for fault in (one for one in singles(system) if one.name.startswith("input_weak:")):
        worst = broken(network, fault.variants[-1])
        for command, own in (("tail", "in_tail"), ("left", "turn_left"), ("brake", "stop")):
            fed = system.fed(command)
            share = candela(solve(switched(worst, fed)), "left") / candela(
                solve(switched(network, fed)), "left"
            )
            assert (share < 0.7) == (fault.name == f"input_weak:{own}"), (fault.name, command)


PLUGS = [("flat4", "BYG"), ("blade7", "BYGU"), ("round7", "BKYGS")]


@pytest.mark.parametrize(("plug", "circuits"), PLUGS)
def test_every_two_contacts_may_be_exchanged_and_every_two_live_wires_touch(plug, circuits) -> None:
    names = {f.name for f in singles(System(plug, "bulbs", "wire", "module"))}
    count = len(circuits)
    crossed = {name for name in names if name.startswith("crossed:")} - {"crossed:by_colour"}
    assert len(crossed) == (count + 1) * count // 2
    assert len([name for name in names if name.startswith("touching:")]) == count * (count - 1) // 2


def test_a_converter_is_for_one_lamp_for_stop_and_turn_alone() -> None:
    found = {str(one) for one in SYSTEMS}
    assert "blade7.leds.wire.converter" in found
    assert not any(name.startswith("round7") and name.endswith("converter") for name in found)


@pytest.mark.parametrize("colour", ["B", "Y", "G", "U"])
@pytest.mark.parametrize("supply", ["spliced", "module", "converter"])
def test_a_feed_chafed_to_the_frame_blows_any_lamp_fuse(colour: str, supply: str) -> None:
    network = healthy(System("blade7", "bulbs", "frame", supply))
    shorted = solve(switched(broken(network, joined(f"P{colour}", "F", 0.02)), colour))
    assert shorted.amperes[f"Rf{colour}"] > 20
    stop = "RfX" if supply == "converter" else "RfY"
    assert 1 < solve(switched(network, "BYG")).amperes[stop] < 6  # two lamps


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

SUPPLIES = ("spliced", "module", "converter")
SPLICED, MODULE = "flat4.bulbs.frame.spliced", "flat4.bulbs.frame.module"
BOX = "flat4.bulbs.frame.converter"


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
    ("left turn dark, left stop well", BOX, "input_open:turn_left", "input_open:turn_left"),
    ("both stops dark, both turns well", BOX, "input_open:stop", "input_open:stop"),
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


UNSURE = [
    *[(plug, lamps, None) for plug in ("flat4", "blade7", "round7") for lamps in ("bulbs", "leds")],
    *[(plug, None, supply) for plug in ("flat4", "blade7") for supply in SUPPLIES],
]


@pytest.mark.parametrize(("plug", "lamps", "supply"), UNSURE)
def test_where_no_lamp_lights_plug_and_fuse_come_first(plug, lamps, supply) -> None:
    """What is not known (None) stays open; they cost no tool. Common practice, no source."""
    possible = [
        str(one) for one in SYSTEMS
        if one.plug == plug and lamps in (None, one.lamps) and supply in (None, one.supply)
    ]  # fmt: skip
    dark = seen(f"{plug}.bulbs.frame.spliced", "plug_out:all")
    assert set(dark.values()) == {"dark", "good"}  # nothing glows that should not
    first = rank(dark, possible, table())[0]
    assert first.faults[:2] == ("plug_out:all", "fuse_main:all")
    assert first.share > 0.9
    if supply == "module":  # as texts rank what is left: ground before box
        assert first.faults[2:4] == ("ground_open:main", "box:module")


@pytest.mark.parametrize("supply", SUPPLIES)
def test_a_plug_that_is_out_or_a_blown_fuse_leaves_no_light_at_all(supply: str) -> None:
    system = System("blade7", "bulbs", "frame", supply)
    for fault in (f for f in singles(system) if f.name in AT_ONCE):
        cds = lights(system, broken(healthy(system), fault.variants[0]))
        assert max(cds) < 1e-9, fault.name


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
