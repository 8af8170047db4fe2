"""How often the judgement is right: sound and faulty hubs from the heat model, felt and measured.

``python -m tests.benchmarks.judgement`` prints the tables of docs/judgement.md; ``--write``
writes them.
Seeded, so that the same rulebook gives the same tables.
"""

from __future__ import annotations

import argparse
import math
import random
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from checks.judge import LEVELS, judge
from tests.benchmarks.hub_model import HUBS, Draw, rise_at_stop

PAGE = Path(__file__).parents[2] / "docs" / "judgement.md"
FEELS = ("cold", "cool", "slight", "warm", "hot", "very_hot", "no_touch")
EDGES = (25, 34, 38, 43, 51, 60)  # touch map, degC: ISO 13732-1, ASTM C1055, perception thresholds
COOLING_S = (16.3 * 60, 44.6 * 60)  # from a breeze to still air
MPH = 0.44704
Answers = Callable[[random.Random, float], dict[str, Any]]


@dataclass(frozen=True)
class Stop:
    """One stop on a single unbraked axle: what is true of it, drawn from the model's spread."""

    size: str
    air: float
    mph: float
    miles: float
    parked: float
    left: float  # rise over the air, K
    right: float


def draw_stop(rng: random.Random, air: float, extra: float) -> Stop:
    """Two mates share flow and build; load, friction and seal differ; ``extra`` N m on the left."""
    size = rng.choice(sorted(HUBS))
    mph, miles, parked = rng.uniform(40, 70), rng.uniform(18, 30), rng.uniform(1, 5)
    shared = Draw(
        friction=math.exp(rng.uniform(math.log(0.4), math.log(2.2))),
        seal=rng.uniform(0.03, 0.4),
        outboard_speed=rng.uniform(0.25, 0.8),
        inboard_speed=rng.uniform(0.15, 0.55),
        conductance=rng.uniform(0.8, 1.2),
        capacity=rng.uniform(0.8, 1.25),
        tire_heat=rng.uniform(0, 2),
    )
    cooling = rng.uniform(*COOLING_S)
    rises = []
    for drag in (extra, 0.0):
        own = replace(
            shared,
            friction=shared.friction * max(0.2, rng.gauss(1, 0.2)),
            seal=shared.seal * max(0.2, rng.gauss(1, 0.3)),
            extra_drag=drag,
        )
        hub = replace(HUBS[size], load=HUBS[size].load * rng.uniform(0.9, 1.1))
        rises.append(rise_at_stop(hub, mph * MPH, air, miles * 1609.344, parked * 60, cooling, own))
    return Stop(size, air, mph, miles, parked, *rises)


def felt(rng: random.Random, celsius: float, air: float) -> str:
    """The word a hand gives: edges shift by the hand (3 degC cool, 5 hot) and by cold (5 to 10)."""
    cool, hot = rng.uniform(-3, 3), rng.uniform(-5, 5)
    cold_hand = rng.uniform(0, 10) * min(max((15 - air) / 15, 0), 1)
    edges = [e + (hot if e >= 43 else cool - cold_hand) for e in EDGES]
    return FEELS[sum(celsius >= edge for edge in edges)]


def answers(rng: random.Random, stop: Stop, by: str) -> dict[str, Any]:
    """What the person enters: rounded, with the error of display, odometer and thermometer."""
    facts: dict[str, Any] = {
        "axles": 1, "brakes": "none", "sun": "no", "hub_method": by, "hub_spot": "barrel",
        "air": round(stop.air + rng.uniform(-1, 1)), "run_distance": f"{round(stop.miles)} mi",
        "run_speed": f"{5 * round(stop.mph / 5)} mph", "parked": round(stop.parked),
    }  # fmt: skip
    hand = rng.getrandbits(64)
    for side, rise in (("L", stop.left), ("R", stop.right)):
        for sign in ("smoke", "leaning", "grinding", "hot_smell", "thrown_grease"):
            facts[f"{sign}@1{side}"] = "no"
        metal = stop.air + rise
        if by == "hand":
            # one person has one pair of hands: the same shift of the edges on both sides
            facts[f"hub_feel@1{side}"] = felt(random.Random(hand), metal, stop.air)
        else:
            facts[f"hub_reading@1{side}"] = round(metal + rng.gauss(0, 0.7), 1)
    if by == "hand":
        facts["pair_feel@1"] = compared(rng, stop.left - stop.right)
    return facts


def compared(rng: random.Random, gap: float) -> str:
    """Left against right by hand: 3 degC is just felt, 8 is clear, give or take 1 (assumed)."""
    size = abs(gap) + rng.gauss(0, 1)
    if size < 3:
        return "alike"
    side = "left" if gap > 0 else "right"
    return f"{side}_{'clearly' if size >= 8 else 'slightly'}"


def shares(seed: int, air: tuple[float, float], extra: float, by: str, runs: int) -> Counter[str]:
    """Verdict levels over ``runs`` stops; ``told`` counts doubts that were put in words."""
    rng = random.Random(f"{seed} {air} {extra} {by}")
    counts: Counter[str] = Counter()
    for _ in range(runs):
        stop = draw_stop(rng, rng.uniform(*air), extra)
        verdict = judge(
            {"check": "quick_stop", "date": "2026-07-14", "facts": answers(rng, stop, by)}
        )
        counts[verdict["level"]] += 1
        if verdict["level"] == "nothing" and verdict["cannot_tell"]:
            counts["told"] += 1
    return counts


def tire_answers(rng: random.Random, short: float) -> dict[str, Any]:
    """A cold tire ``short`` psi under its 50 psi label, read with the gauge it was filled with.

    A gauge's own bias cancels; what is left is half a psi from reading to reading (assumed, no
    source), and rounding to a whole psi.
    """
    filled = round(50 - short + rng.gauss(0, 0.5))
    return {
        "axles": 1, "tire_warmth": "cold", "pressure_label": "figure", "tire_marked@1": "50 psi",
        "tire_max@1": "65 psi", "pressure@1L": f"{filled} psi", "pressure@1R": "50 psi",
    }  # fmt: skip


def tongue_answers(rng: random.Random, share: float) -> dict[str, Any]:
    """Three weighings of a 3000 lb trailer on a public scale that shows steps of 20 lb."""
    car, trailer = rng.uniform(4000, 6000), rng.uniform(2500, 3500)

    def shown(pounds: float) -> float:
        return 20 * round(pounds / 20)

    return {
        "axles": 1, "boat": "no", "tongue_by": "weighings", "tongue_feel": "level",
        "weighing_alone": f"{shown(car)} lb", "scale_step": "20 lb",
        "weighing_hitched": f"{shown(car + share * trailer)} lb",
        "weighing_all": f"{shown(car + trailer)} lb",
    }  # fmt: skip


def point_shares(check: str, point: str, make: Answers, true: float, runs: int) -> Counter[str]:
    """Levels of one point over ``runs`` checks whose truth is ``true``."""
    rng = random.Random(f"{point} {true}")
    counts: Counter[str] = Counter()
    for _ in range(runs):
        verdict = judge({"check": check, "date": "2026-07-14", "facts": make(rng, true)})
        levels = [p["level"] for p in verdict["points"] if p["point"] == point]
        counts[min(levels, key=LEVELS.index)] += 1
    return counts


def celsius(f: float) -> float:
    return (f - 32) / 1.8


def percent(part: int, runs: int) -> str:
    return f"{100 * part / runs:.1f} %"


def row(title: str, counts: Counter[str], runs: int) -> str:
    levels = ("nothing", "look", "mend", "stop")
    cells = [percent(counts[level], runs) for level in levels]
    return "| " + " | ".join([title, *cells, percent(counts["told"], runs)]) + " |"


HEAD = (
    "| stop | Nothing found | Look again | Mend | Stop now | Nothing found, doubt told |\n"
    "|---|---|---|---|---|---|"
)
AIRS = [(14, 32), (32, 50), (50, 70), (70, 90), (90, 104)]


def tables(runs: int) -> str:
    """Markdown of all tables."""
    parts = []
    for title, extra in [("Sound hubs", 0.0), ("One hub with 1 N m of extra drag", 1.0),
                         ("One hub with 2 N m of extra drag", 2.0),
                         ("One hub with 5 N m of extra drag", 5.0)]:  # fmt: skip
        parts += [f"## {title}\n", HEAD]
        for by in ("thermometer", "hand"):
            for low, high in AIRS:
                counts = shares(1, (celsius(low), celsius(high)), extra, by, runs)
                parts.append(row(f"{by}, {low} to {high} °F", counts, runs))
        parts.append("")
    parts += ["## Tire pressure by gauge\n", INTRO_TIRES, HEAD]
    for short in (-2.0, 0.0, 1.0, 2.0, 5.0, 10.0, 30.0):
        counts = point_shares("tires", "tire_pressure", tire_answers, short, runs)
        parts.append(row(f"{short:g} psi short of 50", counts, runs))
    parts += ["", "## Share at the tongue by three weighings\n", INTRO_TONGUE, HEAD]
    for share in (0.03, 0.08, 0.09, 0.10, 0.11, 0.12, 0.13, 0.14, 0.17):
        counts = point_shares("figures", "tongue", tongue_answers, share, runs)
        parts.append(row(f"{share:.0%} of the weight", counts, runs))
    return "\n".join([*parts, ""])


INTRO = """# How often the judgement is right

Not measured on real hubs: simulated. Sound and faulty hubs are drawn from an independent heat
model (`tests/benchmarks/hub_model.py`), turned into what a hand or a contact thermometer would
report, and judged as a *hubs only* stop on a single unbraked axle, 18 to 30 miles at 40 to 70
mph, one to five minutes parked. Spread of the model: friction 0.4 to 2.2 times nominal, seal drag
0.03 to 0.4 N m, local air speed 0.25 to 0.8 and 0.15 to 0.55 of road speed, conductance ±20 %,
heat capacity −20/+25 %, tire heat up to 2 °C; mates differ in load (±10 %), bearing friction (20
%) and seal drag (30 %). A hand's words shift by 3 °C at the cool edges and 5 °C at the hot ones,
and a cold hand by up to 10 °C more; a thermometer errs by 0.7 °C. How well a hand compares two
hubs is assumed, no source.

"Doubt told" is the share where nothing was found and the verdict says that a hand cannot rule a
fault out here, and what to do instead: compare again, use a thermometer, stop again soon.

`python -m tests.benchmarks.judgement --write` makes this page again; {runs} stops a row, seeded.

"""


INTRO_TIRES = """A cold tire on one wheel, its mate at the label's 50 psi, read with the gauge
it was filled with: half a psi from reading to reading (assumed, no source), rounded to a whole psi.
"""
INTRO_TONGUE = """A trailer of about 3000 lb on a public scale that shows steps of 20 lb. The
advice is 10 to 15 percent; what two steps of the scale leave open is passed over in silence.
"""


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=1000)
    parser.add_argument("--write", action="store_true", help="write docs/judgement.md")
    args = parser.parse_args()
    text = INTRO.format(runs=args.runs) + tables(args.runs)
    if args.write:
        PAGE.write_text(text, "utf-8")
    print(text)


if __name__ == "__main__":
    main()
