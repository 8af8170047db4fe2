"""The rows that ship with the rules: what each lamp shows under each command with each fault.

A row is a string, command by command and within it lamp by lamp, of codes: what a person would
call that light, and how near it is to what they would call it otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from checks.circuit.faults import PAIRS, Fault, broken, pairs, singles
from checks.circuit.light import black_body, led
from checks.circuit.network import Solution, solve
from checks.circuit.wiring import (
    LAMPS,
    SUPPLY,
    SYSTEMS,
    Network,
    System,
    healthy,
    switched,
)

# Mean spherical candela at rated voltage (SAE J573): 1157 stop and tail, 194, 1156.
CANDELA = {"stop": 32.0, "tail": 3.0, "turn": 32.0, "mark": 2.0, "plate": 2.0, "back": 32.0}
# cd: under the first no eye sees it, from the second everyone does; between is night only.
UNSEEN, SEEN, PLAIN = 0.003, 0.03, 0.3
# Shares of the healthy light. Half is plainly dim (drivers notice 25 percent at best, and two sound
# bulbs differ by a third); stop is at least three times tail (SAE J586), so 2.5 times is brighter.
SURELY_DIM, DIM, SURELY_GOOD, BRIGHTER = 0.35, 0.5, 0.7, 2.5
# cd of a stop lamp that burns when it should not: more like a tail, or like a stop.
LIKE_TAIL, MIDDLE, LIKE_STOP = 2.0, 4.0, 8.0

ANSWERS = ("good", "dim", "dark", "bright")
SURE, LIKELY, OTHER, SLIP = 0.94, 0.6, 0.36, 0.02
# For each code what people say of such a light: the likeliest answer, and the next one.
CODES = {
    "k": ("dark", ""),
    "e": ("dark", "dim"),
    "f": ("dim", "dark"),
    "d": ("dim", ""),
    "c": ("dim", "good"),
    "a": ("good", "dim"),
    "g": ("good", ""),
    "x": ("bright", ""),
    "n": ("good", ""),
    "o": ("good", "dim"),
    "p": ("dim", "good"),
    "q": ("dim", ""),
    "s": ("dim", "bright"),
    "t": ("bright", "dim"),
    "r": ("bright", ""),
    "z": ("bright", "dim"),
}


def candela(solved: Solution, lamp: str) -> float:
    """Light of what one sees as one lamp, cd."""
    total = 0.0
    for one in solved.branches:
        if one.name not in LAMPS[lamp]:
            continue
        full = CANDELA[one.name.lstrip("LR")]
        if one.kind == "F":
            total += full * black_body(solved.across(one.name) / one.q)
        else:
            total += full * led(solved.amperes[one.name], (SUPPLY - one.p) / one.q)
    return total


def lights(system: System, network: Network) -> list[float]:
    """Candela of every lamp under every command, in the order of a row."""
    return [
        candela(solved, lamp)
        for command in system.commands
        for solved in [solve(switched(network, system.fed(command)))]
        for lamp in system.seen
    ]


def code(cd: float, sound: float, small: bool) -> str:
    """The code of a light that would be ``sound`` candela on a healthy trailer."""
    if sound < UNSEEN:
        return _not_wanted(cd, small)
    if cd < UNSEEN:
        return "k"
    if cd < SEEN:
        return "e"
    share = cd / sound
    if share < DIM and cd < PLAIN:
        return "f"
    for limit, letter in ((SURELY_DIM, "d"), (DIM, "c"), (SURELY_GOOD, "a"), (BRIGHTER, "g")):
        if share < limit:
            return letter
    return "x"


def _not_wanted(cd: float, small: bool) -> str:
    steps = [(UNSEEN, "n"), (SEEN, "o"), (PLAIN, "p")]
    if not small:
        steps += [(LIKE_TAIL, "q"), (MIDDLE, "s"), (LIKE_STOP, "t")]
    for limit, letter in steps:
        if cd < limit:
            return letter
    return "z" if small else "r"


def coded(system: System, cds: list[float], sound: list[float]) -> str:
    """A row of codes."""
    small = [lamp not in ("left", "right") for lamp in system.seen] * len(system.commands)
    return "".join(map(code, cds, sound, small))


def said(row: str) -> str:
    """What a careful eye says of a row, one letter a light: initials of ``ANSWERS``, A for dark."""
    return "".join({"good": "G", "dim": "D", "dark": "A", "bright": "B"}[CODES[c][0]] for c in row)


def rows(system: System, fault: Fault, network: Network, sound: list[float]) -> list[str]:
    """One row a variant, without repeats."""
    found = (coded(system, lights(system, broken(network, v)), sound) for v in fault.variants)
    return list(dict.fromkeys(found))


def system_table(system: System) -> dict[str, Any]:
    """Faults that show, each with prior, group and rows; those of a group look alike."""
    network = healthy(system)
    sound = lights(system, network)
    well = coded(system, sound, sound)
    faults = singles(system)
    found = {one.name: (one, rows(system, one, network, sound)) for one in faults}
    listed = list(found.values())
    listed += _pairs(system, faults, network, sound, {n: set(r) for n, (_, r) in found.items()})
    groups: dict[tuple[str, ...], int] = {}
    result = []
    for fault, patterns in listed:
        shown = [row for row in patterns if said(row) != said(well)]
        if shown:
            alike = tuple(sorted({said(row) for row in shown}))
            group = groups.setdefault(alike, len(groups))
            prior = fault.prior * len(shown) / len(patterns)  # a judgement: two digits say it all
            result.append([fault.name, float(f"{prior:.2g}"), group, shown])
    return {"sound": well, "faults": result, "unseen": _unseen(listed, well)}


def _unseen(listed: list[tuple[Fault, list[str]]], well: str) -> list[str]:
    return [f.name for f, patterns in listed if {said(row) for row in patterns} == {said(well)}]


def _pairs(
    system: System,
    faults: tuple[Fault, ...],
    network: Network,
    sound: list[float],
    alone: dict[str, set[str]],
) -> Iterator[tuple[Fault, list[str]]]:
    """The likeliest pairs that look different from both of their parts."""
    taken = 0
    for pair in pairs(faults):
        patterns = rows(system, pair, network, sound)
        a, b = pair.name.split("+")
        if set(patterns) & (alone[a] | alone[b]):
            continue
        yield pair, patterns
        taken += 1
        if taken == PAIRS:
            return


def likelihoods() -> dict[str, list[float]]:
    """For each code the chance of each of ``ANSWERS``."""
    result = {}
    for letter, (first, second) in CODES.items():
        shares = dict.fromkeys(ANSWERS, SLIP)
        shares[first] = LIKELY if second else SURE
        if second:
            shares[second] = OTHER
        result[letter] = [shares[answer] for answer in ANSWERS]
    return result


def make() -> dict[str, Any]:
    """The whole table: rows by number, each kept once."""
    numbers: dict[str, int] = {}

    def number(row: str) -> int:
        return numbers.setdefault(row, len(numbers))

    systems = {}
    for system in SYSTEMS:
        one = system_table(system)
        systems[str(system)] = {
            "sound": number(one["sound"]),
            "faults": [[n, p, g, [number(r) for r in shown]] for n, p, g, shown in one["faults"]],
            "unseen": one["unseen"],
        }
    shapes = {s.plug: {"commands": s.commands, "lamps": s.seen} for s in SYSTEMS}
    return {
        "format": 1,
        "answers": ANSWERS,
        "codes": likelihoods(),
        "plugs": shapes,
        "rows": list(numbers),
        "systems": systems,
    }
