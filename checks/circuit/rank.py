"""The likely faults behind what a person saw, in order. ``static/engine/lamps.js`` is its twin."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

TABLE = Path(__file__).with_name("table.json")
SOUND = "sound"
# How likely a sound trailer is beside all faults together, in the hands of one who tests it.
SOUND_PRIOR = 0.3
# Looked at in a moment and with no tool: named first among what no eye can tell apart. Common
# practice, no source.
AT_ONCE = ("plug_out:all", "fuse_main:all")
Reading = Mapping[tuple[str, str], str]


class Likely(NamedTuple):
    """Faults no eye can tell apart from this reading, and their share of all.

    First those of ``AT_ONCE``, then the likeliest.
    """

    faults: tuple[str, ...]
    share: float


@cache
def table() -> dict[str, Any]:
    """The table as it ships."""
    loaded: dict[str, Any] = json.loads(TABLE.read_text(encoding="utf-8"))
    return loaded


def rank(reading: Reading, systems: Sequence[str], made: Mapping[str, Any]) -> list[Likely]:
    """Likely faults in order of prior times match.

    ``reading``: by command and lamp ``good`` (as it should be, dark included), ``dim``, ``dark`` or
    ``bright``; what was not read is left out. ``systems``: the names in the table that are
    possible. Raises ValueError for a system, command, lamp or answer the table does not have.
    """
    shares: dict[str, float] = {}
    groups: dict[tuple[str, ...], float] = {}
    for name in systems:
        one = made["systems"].get(name)
        if one is None:
            raise ValueError(f"no system {name!r}; there is {', '.join(made['systems'])}")
        cells = _cells(reading, made["plugs"][name.split(".")[0]], made["answers"])
        members: dict[int, list[str]] = {}
        for fault, prior, group, numbers in [
            (SOUND, SOUND_PRIOR, -1, [one["sound"]]),
            *one["faults"],
        ]:
            match = sum(_match(made, number, cells) for number in numbers) / len(numbers)
            shares[fault] = shares.get(fault, 0.0) + prior * match
            members.setdefault(group, []).append(fault)
        for names in members.values():
            groups.setdefault(tuple(sorted(names)), 0.0)
    return _ordered(shares, groups)


def _cells(
    reading: Reading, plug: Mapping[str, Sequence[str]], answers: Sequence[str]
) -> list[tuple[int, int]]:
    """Place in a row and number of the answer, in the order of the row."""
    cells = []
    for (command, lamp), answer in reading.items():
        if command not in plug["commands"] or lamp not in plug["lamps"] or answer not in answers:
            raise ValueError(
                f"{command} {lamp} {answer}: not a command, lamp and answer of this plug"
            )
        place = plug["commands"].index(command) * len(plug["lamps"]) + plug["lamps"].index(lamp)
        cells.append((place, answers.index(answer)))
    return sorted(cells)


def _match(made: Mapping[str, Any], number: int, cells: list[tuple[int, int]]) -> float:
    row, codes, result = made["rows"][number], made["codes"], 1.0
    for place, answer in cells:
        result *= codes[row[place]][answer]
    return result


def _ordered(shares: dict[str, float], groups: dict[tuple[str, ...], float]) -> list[Likely]:
    total = sum(shares.values())
    taken: set[str] = set()
    found = []
    for names in sorted(groups, key=lambda g: (-max(shares[n] for n in g), g)):
        fresh = sorted(
            (n for n in names if n not in taken), key=lambda n: (n not in AT_ONCE, -shares[n], n)
        )
        taken.update(fresh)
        if fresh:
            found.append(Likely(tuple(fresh), sum(shares[n] for n in fresh) / total))
    return sorted(found, key=lambda one: (-one.share, one.faults))
