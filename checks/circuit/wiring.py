"""The network of one trailer and the vehicle that pulls it, healthy, under one command.

Node names: ``s..`` the source, ``V..`` the vehicle's side of the plug, ``P..`` the trailer's, then
``B`` brown (tail, marker, plate), ``Y`` yellow (left stop and turn), ``G`` green (right), ``U``
purple (reverse), ``W`` white (ground). The seven round pins of ISO 1724 feed turn lamps of their
own: yellow and green left and right turn, ``S`` red both stop lamps, ``K`` black the left tail,
brown the right tail and the plate. ``L``/``R`` stand for left and right; ``LS`` is the left lamp's
shell, ``F`` where the trailer's grounds come together (frame or junction). ``c..`` are the inputs
of a converter box, of which ``X`` is stop.
Resistances are those of a small trailer, 25 ft of 18 AWG: ASTM B258 for the wire, contacts assumed.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

from checks.circuit.network import GROUND, Branch

SUPPLY = 12.8  # V, design voltage of stop bulbs (SAE J573)
FEED, PIN, WIRE, WHITE, SCREW, STRAY = 0.10, 0.01, 0.16, 0.026, 0.02, 1e6  # ohm
# Amperes and volts of filaments: 1157 stop and tail, 194 marker, 1156 reverse (SAE J573).
STOP, TAIL, SMALL, REVERSE = (2.1, 12.8), (0.59, 14.0), (0.27, 14.0), (2.1, 12.8)
TURN = STOP  # one filament as bright as a stop lamp's, behind amber glass
# The vehicle's own lamps on each circuit, where the trailer's wires are spliced to theirs; one stop
# lamp where there is no more to it. First of vehicles with one lamp for stop and turn, then of two.
OWN: tuple[dict[str, tuple[float, float]], ...] = (
    {"B": (2 * TAIL[0], TAIL[1])},
    {"B": TAIL, "K": TAIL, "S": (2 * STOP[0], STOP[1])},
)
# Start volts and ohms of resistor-fed LED lamps: three in series and a diode.
LED_STOP, LED_TAIL, LED_REVERSE = (7.0, 16.0), (7.0, 150.0), (7.0, 16.0)
# A simple converter loses about 2 V at a stop lamp's current (published circuits: 0.5 to 2.5 V).
BOX = (1.2, 0.3)
BOX_STOP = "EX"  # the source at a converter's stop input, which feeds yellow and green
COLOURS = {
    "brown": "B",
    "black": "K",
    "yellow": "Y",
    "green": "G",
    "red": "S",
    "purple": "U",
    "white": "W",
}
ROUND = "round7"  # the plug with turn lamps of their own
CIRCUITS = {"flat4": "BYG", "blade7": "BYGU", ROUND: "BKYGS"}
# Circuits that are fed, first where stop and turn are one lamp, then where they are two.
COMMANDS = {
    "tail": ("B", "BK"),
    "left": ("Y", "Y"),
    "right": ("G", "G"),
    "brake": ("YG", "S"),
    "tail_left": ("BY", "BKY"),
    "tail_right": ("BG", "BKG"),
    "tail_brake": ("BYG", "BKS"),
    "reverse": ("U", "U"),
}
# What one sees as one light, and the parts that give it.
LAMPS = {
    "left": ("Lstop", "Ltail"),
    "right": ("Rstop", "Rtail"),
    "left_turn": ("Lturn",),
    "right_turn": ("Rturn",),
    "left_marker": ("Lmark",),
    "right_marker": ("Rmark",),
    "plate": ("plate",),
    "reverse": ("back",),
}
Network = dict[str, Branch]


@dataclass(frozen=True)
class System:
    """One kind of trailer and vehicle; every combination of ``CHOICES`` is one."""

    plug: str
    lamps: str
    ground: str
    supply: str

    def __str__(self) -> str:
        return f"{self.plug}.{self.lamps}.{self.ground}.{self.supply}"

    @property
    def circuits(self) -> str:
        return CIRCUITS[self.plug]

    @property
    def separate(self) -> bool:
        """Whether turn lamps are lamps of their own."""
        return self.plug == ROUND

    def fed(self, command: str) -> str:
        """The circuits that have voltage under a command."""
        return COMMANDS[command][self.separate]

    @property
    def commands(self) -> tuple[str, ...]:
        return tuple(c for c in COMMANDS if set(self.fed(c)) <= set(self.circuits))

    @property
    def seen(self) -> tuple[str, ...]:
        """The lamps there are, in reading order."""
        without = {"reverse"} if "U" not in self.circuits else set()
        if not self.separate:
            without |= {"left_turn", "right_turn"}
        return tuple(lamp for lamp in LAMPS if lamp not in without)


CHOICES = {
    "plug": tuple(CIRCUITS),
    "lamps": ("bulbs", "leds"),
    "ground": ("frame", "wire"),
    "supply": ("spliced", "module", "converter"),
}
# A converter makes one lamp of stop and turn; who has both needs none.
SYSTEMS = tuple(
    one
    for one in (System(*choice) for choice in product(*CHOICES.values()))
    if not (one.separate and one.supply == "converter")
)


def healthy(system: System, supply: float = SUPPLY) -> Network:
    """The sound trailer with every circuit fed; ``command`` takes away those switched off."""
    parts = [part for one in system.circuits for part in _circuit(system, one, supply)]
    if system.supply == "converter":
        parts += [Branch(BOX_STOP, "V", "sX", GROUND, supply), _resistor("RfX", "sX", "cX", FEED)]
    parts += _lamps(system) + _grounds(system)
    return {part.name: part for part in parts}


def switched(network: Network, fed: str) -> list[Branch]:
    """What is connected while so many circuits are fed: the sources of the others are not.

    A converter box feeds yellow and green from its stop input, either alone from its turn input.
    """
    off = {one for one in COLOURS.values() if one not in fed}
    if BOX_STOP in network:
        off |= {"Y", "G"} if {"Y", "G"} <= set(fed) else {"X"}
    away = {name for one in off for name in (f"E{one}", f"Rf{one}", f"box{one}")}
    if "X" in off:
        away |= {"boxXY", "boxXG"}
    return [part for name, part in network.items() if name not in away]


def _resistor(name: str, a: str, b: str, ohm: float) -> Branch:
    return Branch(name, "R", a, b, ohm)


def _circuit(system: System, one: str, supply: float) -> list[Branch]:
    """Source, fuse and feed, converter or the vehicle's own lamp, and the plug's contact."""
    parts = [Branch(f"E{one}", "V", f"s{one}", GROUND, supply)]
    if system.supply == "converter":
        parts += [
            _resistor(f"Rf{one}", f"s{one}", f"c{one}", FEED),
            Branch(f"box{one}", "D", f"c{one}", f"V{one}", *BOX),
        ]
        if one in "YG":
            parts.append(Branch(f"boxX{one}", "D", "cX", f"V{one}", *BOX))
    else:
        parts.append(_resistor(f"Rf{one}", f"s{one}", f"V{one}", FEED))
    if system.supply == "spliced":
        own = OWN[system.separate].get(one, STOP)
        parts.append(Branch(f"own{one}", "F", f"V{one}", GROUND, *own))
    parts.append(_resistor(f"stray{one}", f"V{one}", GROUND, STRAY))
    parts.append(_resistor(f"pin{one}", f"V{one}", f"P{one}", PIN))
    return parts


# Wires of the harness: name, contact, lamp's end. Then the lamps: name, feed, bulb and LED.
Pair = tuple[float, float]
COMBINED_WIRES = (
    ("wBL", "PB", "LB"),
    ("wBR", "PB", "RB"),
    ("wYL", "PY", "LY"),
    ("wGR", "PG", "RG"),
)
SEPARATE_WIRES = (
    ("wKL", "PK", "LK"),
    *COMBINED_WIRES[1:],
    ("wSL", "PS", "LX"),
    ("wSR", "PS", "RX"),
)
COMBINED: dict[str, tuple[str, Pair, Pair]] = {
    "Lstop": ("LY", STOP, LED_STOP),
    "Ltail": ("LB", TAIL, LED_TAIL),
    "Rstop": ("RG", STOP, LED_STOP),
    "Rtail": ("RB", TAIL, LED_TAIL),
    "Lmark": ("LB", SMALL, LED_TAIL),
    "Rmark": ("RB", SMALL, LED_TAIL),
    "plate": ("LB", SMALL, LED_TAIL),
}
SEPARATE = COMBINED | {
    "Lstop": ("LX", STOP, LED_STOP),
    "Ltail": ("LK", TAIL, LED_TAIL),
    "Rstop": ("RX", STOP, LED_STOP),
    "Lturn": ("LY", TURN, LED_STOP),
    "Rturn": ("RG", TURN, LED_STOP),
    "Lmark": ("LK", SMALL, LED_TAIL),
    "plate": ("RB", SMALL, LED_TAIL),
}


def _lamps(system: System) -> list[Branch]:
    bulbs = system.lamps == "bulbs"

    def lamp(name: str, feed: str, back: str, bulb: Pair, led: Pair) -> Branch:
        return Branch(name, "F" if bulbs else "D", feed, back, *(bulb if bulbs else led))

    wires, lamps = (SEPARATE_WIRES, SEPARATE) if system.separate else (COMBINED_WIRES, COMBINED)
    parts = [_resistor(name, contact, end, WIRE) for name, contact, end in wires]
    for name, (feed, bulb, led) in lamps.items():
        parts.append(lamp(name, feed, _back(system, name), bulb, led))
    if "U" in system.circuits:
        parts.append(_resistor("wU", "PU", "UU", WIRE))
        parts.append(lamp("back", "UU", "US", REVERSE, LED_REVERSE))
        parts.append(_resistor("gU", "US", "F", SCREW))
    return parts


def _back(system: System, lamp: str) -> str:
    """Where a lamp's current goes: the shell of its cluster, or the frame for the small ones."""
    shell = "RS" if lamp.startswith("R") or (lamp == "plate" and system.separate) else "LS"
    small = lamp in ("Lmark", "Rmark", "plate")
    return "F" if small and system.ground == "frame" else shell


def _grounds(system: System) -> list[Branch]:
    joint = WIRE if system.ground == "wire" else SCREW
    return [
        _resistor("gL", "LS", "F", joint),
        _resistor("gR", "RS", "F", joint),
        _resistor("white", "F", "PW", WHITE),
        _resistor("pinW", "PW", GROUND, PIN),
        _resistor("strayF", "F", GROUND, STRAY),
    ]
