"""The network of one trailer and the vehicle that pulls it, healthy, under one command.

Node names: ``s..`` the source, ``V..`` the vehicle's side of the plug, ``P..`` the trailer's, then
``B`` brown (tail, marker, plate), ``Y`` yellow (left stop and turn), ``G`` green (right), ``U``
purple (reverse), ``W`` white (ground). ``L``/``R`` stand for left and right; ``LS`` is the left
lamp's shell, ``F`` where the trailer's grounds come together (frame or junction).
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
# Start volts and ohms of resistor-fed LED lamps: three in series and a diode.
LED_STOP, LED_TAIL, LED_REVERSE = (7.0, 16.0), (7.0, 150.0), (7.0, 16.0)
# A simple converter loses about 2 V at a stop lamp's current (published circuits: 0.5 to 2.5 V).
BOX = (1.2, 0.3)
COLOURS = {"brown": "B", "yellow": "Y", "green": "G", "purple": "U", "white": "W"}
CIRCUITS = {"flat4": "BYG", "blade7": "BYGU"}
COMMANDS = {
    "tail": "B",
    "left": "Y",
    "right": "G",
    "brake": "YG",
    "tail_left": "BY",
    "tail_right": "BG",
    "tail_brake": "BYG",
    "reverse": "U",
}
# What one sees as one light, and the parts that give it.
LAMPS = {
    "left": ("Lstop", "Ltail"),
    "right": ("Rstop", "Rtail"),
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
    def commands(self) -> tuple[str, ...]:
        return tuple(c for c, on in COMMANDS.items() if set(on) <= set(self.circuits))

    @property
    def seen(self) -> tuple[str, ...]:
        """The lamps there are, in reading order."""
        return tuple(lamp for lamp in LAMPS if lamp != "reverse" or "U" in self.circuits)


CHOICES = {
    "plug": ("flat4", "blade7"),
    "lamps": ("bulbs", "leds"),
    "ground": ("frame", "wire"),
    "supply": ("spliced", "module", "converter"),
}
SYSTEMS = tuple(System(*choice) for choice in product(*CHOICES.values()))


def healthy(system: System, supply: float = SUPPLY) -> Network:
    """The sound trailer with every circuit fed; ``command`` takes away those switched off."""
    parts = [part for one in system.circuits for part in _circuit(system, one, supply)]
    parts += _lamps(system) + _grounds(system)
    return {part.name: part for part in parts}


def switched(network: Network, command: str) -> list[Branch]:
    """What is connected under a command: the sources of the other circuits are not."""
    off = set("BYGU") - set(COMMANDS[command])
    away = {name for one in off for name in (f"E{one}", f"Rf{one}", f"box{one}")}
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
    else:
        parts.append(_resistor(f"Rf{one}", f"s{one}", f"V{one}", FEED))
    if system.supply == "spliced":
        own = (2 * TAIL[0], TAIL[1]) if one == "B" else STOP
        parts.append(Branch(f"own{one}", "F", f"V{one}", GROUND, *own))
    parts.append(_resistor(f"stray{one}", f"V{one}", GROUND, STRAY))
    parts.append(_resistor(f"pin{one}", f"V{one}", f"P{one}", PIN))
    return parts


def _lamps(system: System) -> list[Branch]:
    bulbs = system.lamps == "bulbs"

    def lamp(
        name: str, feed: str, back: str, bulb: tuple[float, float], led: tuple[float, float]
    ) -> Branch:
        return Branch(name, "F" if bulbs else "D", feed, back, *(bulb if bulbs else led))

    left, right = ("LS", "RS") if system.ground == "wire" else ("F", "F")
    parts = [
        _resistor("wBL", "PB", "LB", WIRE),
        _resistor("wBR", "PB", "RB", WIRE),
        _resistor("wYL", "PY", "LY", WIRE),
        _resistor("wGR", "PG", "RG", WIRE),
        lamp("Lstop", "LY", "LS", STOP, LED_STOP),
        lamp("Ltail", "LB", "LS", TAIL, LED_TAIL),
        lamp("Rstop", "RG", "RS", STOP, LED_STOP),
        lamp("Rtail", "RB", "RS", TAIL, LED_TAIL),
        lamp("Lmark", "LB", left, SMALL, LED_TAIL),
        lamp("Rmark", "RB", right, SMALL, LED_TAIL),
        lamp("plate", "LB", left, SMALL, LED_TAIL),
    ]
    if "U" in system.circuits:
        parts.append(_resistor("wU", "PU", "UU", WIRE))
        parts.append(lamp("back", "UU", "US", REVERSE, LED_REVERSE))
        parts.append(_resistor("gU", "US", "F", SCREW))
    return parts


def _grounds(system: System) -> list[Branch]:
    joint = WIRE if system.ground == "wire" else SCREW
    return [
        _resistor("gL", "LS", "F", joint),
        _resistor("gR", "RS", "F", joint),
        _resistor("white", "F", "PW", WHITE),
        _resistor("pinW", "PW", GROUND, PIN),
        _resistor("strayF", "F", GROUND, STRAY),
    ]
