"""Every single fault of a trailer's lamp circuit and the likeliest pairs, put into its network.

A fault is named ``kind:part``. Its prior is a judgement made after counting what 28 published
troubleshooting texts put first (13 ground, 5 plug or connection, 4 fuse, 4 bulb); not data.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from checks.circuit.network import GROUND, Branch
from checks.circuit.wiring import COLOURS, STOP, Network, System

# Shares of all faults; they add to one.
PRIORS = {
    "ground_main": 0.25,
    "ground_lamp": 0.17,
    "pin": 0.15,
    "lamp": 0.15,
    "supply": 0.10,
    "feed": 0.10,
    "crossed": 0.04,
    "short": 0.02,
    "wrong_bulb": 0.02,
}
# An LED lamp seldom dies by itself: most of the bulb's share goes to wire, ground and plug.
LED_SHIFT = {"lamp": -0.09, "wrong_bulb": -0.02, "feed": 0.05, "ground_lamp": 0.04, "pin": 0.02}
# Ohms of a weak contact that can be seen; LED lamps take less current and hide more.
WEAK = {"bulbs": (1.0, 2.5, 6.0), "leds": (8.0, 25.0, 60.0)}
TOUCH = 0.05  # ohm, two wires touching
SELDOM = 0.3  # of wires that seldom lie or end side by side, beside those that do
PAIRS = 20
Edit = Callable[[Network], None]


@dataclass(frozen=True)
class Fault:
    """``name`` is ``kind:part``, a pair joins two with ``+``; each variant is one way it can be."""

    name: str
    prior: float
    variants: tuple[Edit, ...]


def broken(network: Network, edit: Edit) -> Network:
    """The network with the fault in it; the healthy one is left as it is."""
    changed = dict(network)
    edit(changed)
    return changed


def opened(*names: str) -> Edit:
    """These parts conduct no more."""

    def edit(network: Network) -> None:
        for name in names:
            network.pop(name, None)

    return edit


def added(name: str, ohm: float) -> Edit:
    """So many ohms more in this wire or contact."""

    def edit(network: Network) -> None:
        if name in network:
            network[name] = network[name]._replace(p=network[name].p + ohm)

    return edit


def joined(a: str, b: str, ohm: float = TOUCH) -> Edit:
    """Two nodes touch."""

    def edit(network: Network) -> None:
        network[f"{a}~{b}"] = Branch(f"{a}~{b}", "R", a, b, ohm)

    return edit


def moved(**ends: str) -> Edit:
    """These parts end at other nodes than they should."""

    def edit(network: Network) -> None:
        for name, node in ends.items():
            if name in network:
                network[name] = network[name]._replace(b=node)

    return edit


def both(*edits: Edit) -> Edit:
    def edit(network: Network) -> None:
        for one in edits:
            one(network)

    return edit


def single_contact(side: str, feed: str) -> Edit:
    """A single-contact bulb in a two-contact socket: one bright filament, its feeds bridged."""

    def edit(network: Network) -> None:
        tail = network.pop(f"{side}tail", None)
        network.pop(f"{side}stop", None)
        lit, shell = f"{side}{feed}", f"{side}S"
        network[f"{side}stop"] = Branch(f"{side}stop", "F", lit, shell, *STOP)
        if tail is not None:
            network[f"{tail.a}~{lit}"] = Branch(f"{tail.a}~{lit}", "R", tail.a, lit, 0.01)

    return edit


def turned(side: str, feed: str) -> Edit:
    """Stop and tail exchanged at one lamp."""

    def edit(network: Network) -> None:
        stop, tail = f"{side}stop", f"{side}tail"
        if stop in network and tail in network:
            fed = network[tail].a
            network[stop] = network[stop]._replace(a=fed)
            network[tail] = network[tail]._replace(a=f"{side}{feed}")

    return edit


def sides(system: System) -> tuple[tuple[str, str, str], ...]:
    """Each side's name, its letter, and at which of its lamp's ends the stop is fed."""
    left, right = ("X", "X") if system.separate else ("Y", "G")
    return ("left", "L", left), ("right", "R", right)


def singles(system: System, weak: Sequence[float] = ()) -> tuple[Fault, ...]:
    """Every single fault of this system, with priors that add to one.

    ``weak``: ohms to give the resistive ones instead of the table's.
    """
    share = dict(PRIORS)
    ohms = tuple(weak) or WEAK[system.lamps]
    if system.lamps == "leds":
        for group, change in LED_SHIFT.items():
            share[group] += change
    result = []
    for group, makes in GROUPS.items():
        members = [one for one in makes(system, ohms) if one[1] > 0]
        total = sum(weight for _, weight, _ in members)
        for name, weight, variants in members:
            result.append(Fault(name, share[group] * weight / total, tuple(variants)))
    return tuple(fault for fault in result if fault.prior > 0)


Member = tuple[str, float, list[Edit]]
Ohms = tuple[float, ...]


def _colours(system: System) -> list[tuple[str, str]]:
    return [(name, one) for name, one in COLOURS.items() if one in system.circuits]


def _ground_main(system: System, weak: Ohms) -> Iterator[Member]:
    yield "ground_open:main", 0.4, [opened("white")]
    yield "ground_weak:main", 0.35, [added("white", ohm) for ohm in weak]
    ball = [both(opened("white"), joined("F", GROUND, ohm)) for ohm in weak]
    yield "ground_ball:main", 0.25, ball


def _ground_lamp(system: System, weak: Ohms) -> Iterator[Member]:
    for side, letter, _ in sides(system):
        yield f"ground_open:{side}", 0.5, [opened(f"g{letter}")]
        yield f"ground_weak:{side}", 0.5, [added(f"g{letter}", ohm) for ohm in weak]
    if "U" in system.circuits:
        yield "ground_open:reverse", 0.2, [opened("gU")]


def _pin(system: System, weak: Ohms) -> Iterator[Member]:
    pins = [*_colours(system), ("white", "W")]
    yield "plug_out:all", 2.0, [opened(*(f"pin{one}" for _, one in pins))]
    for name, one in pins:
        yield f"pin_open:{name}", 0.5, [opened(f"pin{one}")]
        yield f"pin_weak:{name}", 0.5, [added(f"pin{one}", ohm) for ohm in weak]


def _lamp(system: System, weak: Ohms) -> Iterator[Member]:
    for side, letter, _ in sides(system):
        if system.separate:
            yield f"dead_turn:{side}", 1.0, [opened(f"{letter}turn")]
        yield f"dead_stop:{side}", 1.0, [opened(f"{letter}stop")]
        yield f"dead_tail:{side}", 1.0, [opened(f"{letter}tail")]
        yield f"dead_both:{side}", 0.5, [opened(f"{letter}stop", f"{letter}tail")]
        yield f"dead_small:{side}_marker", 0.7, [opened(f"{letter}mark")]
    yield "dead_small:plate", 0.7, [opened("plate")]
    if "U" in system.circuits:
        yield "dead_small:reverse", 0.5, [opened("back")]


# A converter's wires from the vehicle; each is a splice into a lamp's wire, and as likely as one.
INPUTS = {"turn_left": "RfY", "turn_right": "RfG", "stop": "RfX", "in_tail": "RfB"}


def _unfed(one: str) -> Edit:
    """Nothing comes out for this circuit, from a turn input or from stop."""
    return opened(f"Rf{one}", f"boxX{one}")


def _supply(system: System, weak: Ohms) -> Iterator[Member]:
    for name, one in _colours(system):
        yield f"fuse:{name}", 1.0, [_unfed(one)]
    yield "fuse_main:all", 1.0, [both(*(_unfed(one) for one in system.circuits))]
    if system.supply != "spliced":
        yield f"box:{system.supply}", 1.0, [both(*(_unfed(one) for one in system.circuits))]
    if system.supply == "converter":
        for name, wire in INPUTS.items():
            yield f"input_open:{name}", 0.6, [opened(wire)]
            yield f"input_weak:{name}", 0.4, [added(wire, ohm) for ohm in weak]
    # Chafed to the frame: the fuse of that circuit goes, and the wire stays grounded.
    for name, one in _colours(system):
        chafed = both(joined(f"P{one}", "F", 0.02), _unfed(one))
        yield f"chafed:{name}", 0.5, [chafed]


FEEDS = {
    "brown_left": ("wBL",),
    "brown_right": ("wBR",),
    "brown": ("wBL", "wBR"),
    "yellow": ("wYL",),
    "green": ("wGR",),
    "purple": ("wU",),
}
SEPARATE_FEEDS = {
    "black": ("wKL",),
    "brown": ("wBR",),
    "red_left": ("wSL",),
    "red_right": ("wSR",),
    "red": ("wSL", "wSR"),
    "yellow": ("wYL",),
    "green": ("wGR",),
}


def _feed(system: System, weak: Ohms) -> Iterator[Member]:
    for name, wires in (SEPARATE_FEEDS if system.separate else FEEDS).items():
        if name == "purple" and "U" not in system.circuits:
            continue
        yield f"feed_open:{name}", 0.6, [opened(*wires)]
        if len(wires) == 1:
            yield f"feed_weak:{name}", 0.4, [added(wires[0], ohm) for ohm in weak]


def _crossed(system: System, weak: Ohms) -> Iterator[Member]:
    for a, b in combinations(_colours(system), 2):
        weight = SELDOM if "purple" in (a[0], b[0]) else 1.0
        edit = moved(**{f"pin{a[1]}": f"P{b[1]}", f"pin{b[1]}": f"P{a[1]}"})
        yield f"crossed:{a[0]}_{b[0]}", weight, [edit]
    for name, one in _colours(system):
        weight = 0.5 if name == "brown" else SELDOM
        edit = both(moved(**{f"pin{one}": "PW"}), _white_to(f"P{one}"))
        yield f"crossed:white_{name}", weight, [edit]
    for side, letter, feed in sides(system):
        yield f"crossed_lamp:{side}", 0.7, [turned(letter, feed)]
    if "U" in system.circuits:
        edit = moved(pinB="PG", pinG="PB", pinU="PY", pinY="PU")
        yield "crossed:by_colour", 1.0, [edit]


def _white_to(node: str) -> Edit:
    def edit(network: Network) -> None:
        if "pinW" in network:
            network["pinW"] = network["pinW"]._replace(a=node)

    return edit


# By side and circuit the lamp's end of its wire, first where stop and turn are one lamp, then two.
LAMP_ENDS: tuple[dict[tuple[str, str], str], ...] = (
    {("L", "B"): "LB", ("R", "B"): "RB", ("L", "Y"): "LY", ("R", "G"): "RG"},
    {("L", "K"): "LK", ("R", "B"): "RB", ("L", "Y"): "LY", ("R", "G"): "RG"}
    | {("L", "S"): "LX", ("R", "S"): "RX"},
)


def _short(system: System, weak: Ohms) -> Iterator[Member]:
    """Any two live wires, in the harness or where both end at a lamp; white: see ``chafed``."""
    for (name, a), (other, b) in combinations(_colours(system), 2):
        weight = SELDOM if "purple" in (name, other) else 1.0
        ends = [LAMP_ENDS[system.separate].get((side, one)) for side in "LR" for one in (a, b)]
        edits = [joined(f"P{a}", f"P{b}")]
        edits += [joined(x, y) for x, y in (ends[:2], ends[2:]) if x and y]
        yield f"touching:{name}_{other}", weight, edits


def _wrong_bulb(system: System, weak: Ohms) -> Iterator[Member]:
    if system.lamps == "bulbs":
        for side, letter, feed in sides(system):
            yield f"wrong_bulb:{side}", 0.6, [single_contact(letter, feed)]
            yield f"turned_bulb:{side}", 0.4, [turned(letter, feed)]


GROUPS: dict[str, Callable[[System, Ohms], Iterator[Member]]] = {
    "ground_main": _ground_main,
    "ground_lamp": _ground_lamp,
    "pin": _pin,
    "lamp": _lamp,
    "supply": _supply,
    "feed": _feed,
    "crossed": _crossed,
    "short": _short,
    "wrong_bulb": _wrong_bulb,
}


def pairs(faults: tuple[Fault, ...]) -> Iterator[Fault]:
    """All pairs of single faults at different parts, likeliest first; middle variants only."""
    found = [
        (a, b)
        for i, a in enumerate(faults)
        for b in faults[i + 1 :]
        if a.name.split(":")[1] != b.name.split(":")[1]
    ]
    found.sort(key=lambda two: (-two[0].prior * two[1].prior, two[0].name, two[1].name))
    for a, b in found:
        middle = [one.variants[len(one.variants) // 2] for one in (a, b)]
        yield replace(
            a, name=f"{a.name}+{b.name}", prior=a.prior * b.prior, variants=(both(*middle),)
        )
