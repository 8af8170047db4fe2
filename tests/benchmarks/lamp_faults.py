"""How often the fault finder names a made-up fault of a made-up trailer: ``docs/lamps.md``.

The trailers are not those of the table: supply, contacts, wires, the fault's own resistance, and
the current and light of each lamp are drawn anew within what is usual.
"""

from __future__ import annotations

import argparse
import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from random import Random

from checks.circuit.faults import WEAK, Fault, broken, singles
from checks.circuit.network import Branch
from checks.circuit.rank import Likely, rank, table
from checks.circuit.table import ANSWERS, CODES, coded, lights, said
from checks.circuit.wiring import SYSTEMS, Network, System, healthy

SEED, RUNS = 20, 1500


@dataclass(frozen=True)
class Seen:
    """What a careful eye saw: an answer for each command and lamp, and the fault behind it."""

    system: System
    fault: str
    cells: dict[tuple[str, str], str]
    sound: bool


def _drawn(part: Branch, rng: Random) -> Branch:
    if part.kind == "R" and not part.name.startswith("stray"):
        return part._replace(p=part.p * 2 ** rng.uniform(-1, 1))
    if part.kind == "F":  # amperes within 10 percent (SAE J573)
        return part._replace(p=part.p * rng.uniform(0.9, 1.1))
    if part.kind == "D" and not part.name.startswith("box"):
        return part._replace(q=part.q * rng.uniform(0.9, 1.1))
    return part


def drawn(system: System, rng: Random) -> Network:
    """A sound trailer of this kind as it might stand in a yard."""
    parts = healthy(system, rng.uniform(12.2, 13.8))
    return {name: _drawn(part, rng) for name, part in parts.items()}


def draw(rng: Random) -> Seen:
    """A system at random, a fault by its prior, and how it looks."""
    system = rng.choice(SYSTEMS)
    low, high = math.log(WEAK[system.lamps][0]), math.log(WEAK[system.lamps][-1])
    faults = singles(system, [math.exp(rng.uniform(low, high))])
    fault: Fault = rng.choices(faults, [one.prior for one in faults])[0]
    network = broken(drawn(system, rng), rng.choice(fault.variants))
    spread = [rng.uniform(0.8, 1.2) for _ in system.seen] * len(system.commands)
    cds = [cd * light for cd, light in zip(lights(system, network), spread, strict=True)]
    row = coded(system, cds, lights(system, healthy(system)))
    places = [(c, lamp) for c in system.commands for lamp in system.seen]
    cells = {place: CODES[code][0] for place, code in zip(places, row, strict=True)}
    return Seen(system, fault.name, cells, set(cells.values()) == {"good"})


def misread(seen: Seen, rng: Random) -> dict[tuple[str, str], str]:
    """One light of one lamp called something else."""
    cells = dict(seen.cells)
    place = rng.choice(list(cells))
    cells[place] = rng.choice([a for a in ANSWERS if a != cells[place]])
    return cells


def unread(seen: Seen, rng: Random) -> dict[tuple[str, str], str]:
    """One lamp not looked at, under any command."""
    lamp = rng.choice(seen.system.seen)
    return {place: answer for place, answer in seen.cells.items() if place[1] != lamp}


def stands(found: list[Likely], fault: str) -> tuple[int, int]:
    """Place of the fault among the entries, and among single causes; from 1. Not there: last."""
    causes = [name for one in found for name in one.faults]
    if fault not in causes:
        return len(found) + 1, len(causes) + 1
    entry = next(i for i, one in enumerate(found, 1) if fault in one.faults)
    return entry, causes.index(fault) + 1


def alike(runs: int = RUNS, seed: int = SEED) -> tuple[float, int]:
    """How many causes stand tied in the first entry of a perfect reading: mean, and the most."""
    rng, sizes = Random(seed), []
    while len(sizes) < runs:
        seen = draw(rng)
        if not seen.sound:
            sizes.append(len(rank(seen.cells, [str(seen.system)], table())[0].faults))
    return sum(sizes) / runs, max(sizes)


def measure(runs: int = RUNS, seed: int = SEED) -> tuple[dict[str, dict[str, float]], int]:
    """For each way of reading the shares found, and how many faults did not show at all."""
    rng, hidden, counts, total = Random(seed), 0, Counter[tuple[str, str]](), 0
    while total < runs:
        seen = draw(rng)
        if seen.sound:
            hidden += 1
            continue
        total += 1
        ways = {"all": seen.cells, "one wrong": misread(seen, rng), "one not": unread(seen, rng)}
        for way, cells in ways.items():
            entry, cause = stands(rank(cells, [str(seen.system)], table()), seen.fault)
            counts[way, "first"] += entry == 1
            counts[way, "third"] += entry <= 3
            counts[way, "cause first"] += cause == 1
            counts[way, "cause third"] += cause <= 3
    keys = ("first", "third", "cause first", "cause third")
    ways_of = ("all", "one wrong", "one not")
    return {w: {k: counts[w, k] / total for k in keys} for w in ways_of}, hidden


PAGE = Path(__file__).parents[2] / "docs" / "lamps.md"
INTRO = """# The lamp fault finder

What a lamp shows under each command is worked out, not looked up: plug, wires, filaments or LED
lamps, grounds and the vehicle's own lamps are one network (`checks/circuit/`), solved for every
fault below. The solver agrees with 32 networks worked in 50-digit arithmetic and with scipy to
1e-9 V (`tests/rules/test_circuit_network.py`).

- Filament: current rises as volts to the power 0.55, a twelfth of the lit resistance when cold
  (rerating rule, Standard Handbook for Electrical Engineers, 11th ed., reported second hand).
- Light: black body at 2600 K times the 0.42 power, as the eye weighs it. The usual 3.4 power law
  gives 17 times too much at a quarter of the voltage.
- LED lamp: nothing under its start voltage, then as its current.
- Wires: 25 ft of 18 AWG (ASTM B258). Contacts, screws and weak joints: assumed, no source.
- Priors: judgement after counting what 28 published texts put first. Not data.
- Nobody has yet held the finder against real trailers: all shares are of made-up ones.

`python -m checks.circuit` makes the table (`checks/circuit/table.json`) again;
`python -m tests.benchmarks.lamp_faults --write` this page.

## How often it is right

{runs} made-up faults that show, seeded: system at random, fault by its prior, supply 12.2 to
13.8 V, contacts and wires half to double, bulbs within 10 percent in current and 20 in light.
Faults whose rows are the same under every command are tied by nature: no eye and no order can tell
them apart, so they stand together as one entry, with one look each that does. An entry holds only
such faults, {mean:.1f} of them on average and {most} at most where it comes first. *Entry first* is
"first or tied first"; *cause first* is what is left when ties are broken: a plug not pushed home
and the vehicle's own fuse first, which need no tool, then by what is common alone.

| reading | entry first | entry in first three | cause first | cause in first three |
|---|---|---|---|---|
"""
WAYS = {"all": "perfect", "one wrong": "one light called wrongly", "one not": "one lamp not read"}
HIDDEN = """
{hidden} more faults did not show at all, so no eye could find them.

## What each fault shows

`.` as it should be, `d` dim or lit dimly when it should not, `-` dark, `B` bright when it should
not. First line of each fault: a vehicle whose lamps are spliced to the plug; second: one with a box
or module of its own for the trailer; last, what only a converter box can have. A fault that may be
stronger or weaker is shown at its middle. Shown are bulbs, grounded by the frame; the other
{others} kinds of trailer and vehicle are in the table alone.
"""
ROWS = """
### {title}

Lamps in each group: {lamps}.

| fault | vehicle | {commands} |
|---|---|{lines}
"""
TITLES = {
    "flat4": "Four-flat plug: one lamp for stop and turn",
    "round7": "Seven round pins (ISO 1724): amber turn lamps, a stop feed of its own",
}


def page(runs: int) -> str:
    """The page with both tables."""
    shares, hidden = measure(runs)
    mean, most = alike(runs)
    text = INTRO.format(runs=runs, mean=mean, most=most)
    for way, row in shares.items():
        cells = " | ".join(f"{100 * share:.1f} %" for share in row.values())
        text += f"| {WAYS[way]} | {cells} |\n"
    text += HIDDEN.format(hidden=hidden, others=len(SYSTEMS) - 2 * len(TITLES))
    return text + "".join(_part(name, title) for name, title in TITLES.items())


def _part(name: str, title: str) -> str:
    plug = table()["plugs"][name]
    commands = " | ".join(one.replace("_", " + ") for one in plug["commands"])
    lamps = ", ".join(one.replace("_", " ") for one in plug["lamps"])
    lines = "---|" * len(plug["commands"])
    head = ROWS.format(title=title, lamps=lamps, commands=commands, lines=lines)
    return head + "\n".join(_lines(name, len(plug["lamps"]))) + "\n"


def _lines(plug: str, lamps: int) -> Iterator[str]:
    made, shown = table(), [f"{plug}.bulbs.frame.{supply}" for supply in ("spliced", "module")]
    kept = [{f[0]: f[3] for f in made["systems"][name]["faults"]} for name in shown]
    box = f"{plug}.bulbs.frame.converter"
    if box in made["systems"]:
        own = [f for f in made["systems"][box]["faults"] if f[0].startswith(("input_", "box:"))]
        kept, shown = [*kept, {f[0]: f[3] for f in own}], [*shown, box]
    for fault in dict.fromkeys(name for one in kept for name in one):
        for name, one in zip(shown, kept, strict=True):
            numbers = one.get(fault)
            if numbers and "+" not in fault:
                row = said(made["rows"][numbers[len(numbers) // 2]]).translate(LETTERS)
                cells = [row[i : i + lamps] for i in range(0, len(row), lamps)]
                yield f"| {fault} | {name.split('.')[3]} | `" + "` | `".join(cells) + "` |"


LETTERS = str.maketrans("GDA", ".d-")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=RUNS)
    parser.add_argument("--write", action="store_true", help="write docs/lamps.md")
    args = parser.parse_args()
    text = page(args.runs)
    if args.write:
        PAGE.write_text(text, "utf-8")
    print(text)


if __name__ == "__main__":
    main()
