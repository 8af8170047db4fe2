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
from tests.benchmarks.hub_model import HUBS, Draw, rise_at_stop, steady

PAGE = Path(__file__).parents[2] / "docs" / "judgement.md"
FEELS = ("cold", "cool", "slight", "warm", "hot", "very_hot", "no_touch")
EDGES = (25, 34, 38, 43, 51, 60)  # touch map, degC: ISO 13732-1, ASTM C1055, perception thresholds
COOLING_S = (16.3 * 60, 44.6 * 60)  # from a breeze to still air
MPH = 0.44704
Answers = Callable[[random.Random, float], dict[str, Any]]


@dataclass(frozen=True)
class Setting:
    """What a row of stops has in common.

    air in degC; extra drag in N m on the left and right hub; braking ``""`` for a trailer without
    brakes; spot where it is felt or measured; parked in minutes.
    """

    air: tuple[float, float]
    extra: tuple[float, float] = (0.0, 0.0)
    by: str = "thermometer"
    braking: str = ""
    spot: str = "barrel"
    parked: tuple[float, float] = (1.0, 5.0)


@dataclass(frozen=True)
class Stop:
    """One stop of a single axle: what is true of it, drawn from the model's spread.

    Rises over the air in K, left and right: hubs of the barrels, drums of the drums, again of the
    barrels after one more easy stretch.
    """

    size: str
    air: float
    mph: float
    miles: float
    parked: float
    hubs: tuple[float, float]
    drums: tuple[float, float]
    again: tuple[float, float] = (0.0, 0.0)


def draw_stop(rng: random.Random, setting: Setting) -> Stop:
    """Two mates share flow and build; load, friction, seal and brake differ."""
    size, air = rng.choice(sorted(HUBS)), rng.uniform(*setting.air)
    mph, miles = rng.uniform(40, 70), rng.uniform(18, 30)
    parked = rng.uniform(*setting.parked)
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
    hubs, drums, again = [], [], []
    brake = braked(rng, setting.braking) if setting.braking else (0.0, 0.0)
    for drag in setting.extra:
        own = replace(
            shared,
            friction=shared.friction * max(0.2, rng.gauss(1, 0.2)),
            seal=shared.seal * max(0.2, rng.gauss(1, 0.3)),
            extra_drag=drag,
        )
        hub = replace(HUBS[size], load=HUBS[size].load * rng.uniform(0.9, 1.1))
        rise = rise_at_stop(hub, mph * MPH, air, miles * 1609.344, parked * 60, cooling, own)
        side = max(0.0, rng.gauss(1, BRAKE_BALANCE)) * math.exp(-parked * 60 / cooling)
        added = (brake[0] * side, brake[1] * side)
        hubs.append(rise + added[0])
        drums.append(rise + added[1])
        easy, wait = rng.uniform(*EASY_MILES), rng.uniform(1, 5) * 60
        warm = rise_at_stop(hub, mph * MPH, air, (miles + easy) * 1609.344, wait, cooling, own)
        once_more = braked(rng, "hardly")[0] if setting.braking else 0.0
        left = left_over(rng, added, easy / mph * 60)
        again.append(warm + (left + once_more) * math.exp(-wait / cooling))
    pairs = [(one[0], one[1]) for one in (hubs, drums, again)]
    return Stop(size, air, mph, miles, parked, *pairs)


EASY_MILES = (20, 28)  # the question asks for 20 or more


def left_over(rng: random.Random, added: tuple[float, float], minutes: float) -> float:
    """Brake heat still in the hub barrel after ``minutes`` on the road without braking, K.

    Drum and hub as two masses: the drum cools to the air (13 minutes fitted for truck wheels,
    quicker where smaller), and goes on warming the hub, in the share that it showed at the stop.
    """
    hub, drum = added
    share = hub / drum if drum else 0.0
    hub_time, drum_time = rng.uniform(6, 11), rng.uniform(7, 14)
    step = minutes / 60
    for _ in range(60):
        hub, drum = hub + step / hub_time * (share * drum - hub), drum * (1 - step / drum_time)
    return hub


STOPS = {"hardly": (0.1, 0.4), "normal": (0.5, 2.0), "hard": (3.0, 8.0)}  # full stops, assumed
BRAKE_BALANCE = 0.15  # left against right, assumed


def braked(rng: random.Random, braking: str) -> tuple[float, float]:
    """What brakes add to hub barrel and drum, K.

    One full stop from 55 mph with 1,750 lb on a wheel puts 19 to 38 K into drum and hub by energy;
    the trailer's brakes do half to all of it, and some is lost before the stop. A fifth to two
    fifths of a drum's rise shows at the bearing: 10 of 50 °F where a camper's hub was measured
    with and without its brakes, a quarter where a pickup's was.
    """
    drum = rng.uniform(*STOPS[braking]) * rng.uniform(19, 38) * rng.uniform(0.5, 1)
    drum *= rng.uniform(0.5, 0.9)
    return drum * rng.uniform(0.2, 0.4), drum


def felt(rng: random.Random, celsius: float, air: float) -> str:
    """The word a hand gives: edges shift by the hand (3 degC cool, 5 hot) and by cold (5 to 10)."""
    cool, hot = rng.uniform(-3, 3), rng.uniform(-5, 5)
    cold_hand = rng.uniform(0, 10) * min(max((15 - air) / 15, 0), 1)
    edges = [e + (hot if e >= 43 else cool - cold_hand) for e in EDGES]
    return FEELS[sum(celsius >= edge for edge in edges)]


SHOWN = {"barrel": (1.0, 1.0), "wheel": (0.8, 1.0), "cap": (0.46, 1.0), "drum": (1.0, 1.0)}


def surfaces(rng: random.Random, stop: Stop, spot: str) -> list[float]:
    """Temperature of the place that is felt or measured, left and right, degC; caps of one axle
    show the same share of the hub's rise but for a tenth (assumed)."""
    share = rng.uniform(*SHOWN[spot])
    rises = stop.drums if spot == "drum" else stop.hubs
    least = SHOWN[spot][0]
    shares = [min(1.0, max(least, share * rng.uniform(0.95, 1.05))) for _ in rises]
    return [stop.air + rise * part for rise, part in zip(rises, shares, strict=True)]


def answers(rng: random.Random, stop: Stop, setting: Setting) -> dict[str, Any]:
    """What the person enters: rounded, with the error of display, odometer and thermometer."""
    facts: dict[str, Any] = {
        "axles": 1, "brakes": "none", "sun": "no", "hub_method": setting.by,
        "hub_spot": setting.spot, "air": round(stop.air + rng.uniform(-1, 1)),
        "run_distance": f"{round(stop.miles)} mi", "run_speed": f"{5 * round(stop.mph / 5)} mph",
        "parked": round(stop.parked),
    }  # fmt: skip
    if setting.braking:
        facts |= {"brakes": "electric", "braking": setting.braking}
    hand = rng.getrandbits(64)
    metal = surfaces(rng, stop, setting.spot)
    for side, celsius in zip("LR", metal, strict=True):
        for sign in ("smoke", "leaning", "grinding", "hot_smell", "thrown_grease"):
            facts[f"{sign}@1{side}"] = "no"
        if setting.by == "hand":
            # one person has one pair of hands: the same shift of the edges on both sides
            facts[f"hub_feel@1{side}"] = felt(random.Random(hand), celsius, stop.air)
        else:
            facts[f"hub_reading@1{side}"] = round(celsius + rng.gauss(0, 0.7), 1)
    if setting.by == "hand":
        facts["pair_feel@1"] = compared(rng, metal[0] - metal[1])
    return facts


def compared(rng: random.Random, gap: float) -> str:
    """Left against right by hand: 3 degC is just felt, 8 is clear, give or take 1 (assumed)."""
    size = abs(gap) + rng.gauss(0, 1)
    if size < 3:
        return "alike"
    side = "left" if gap > 0 else "right"
    return f"{side}_{'clearly' if size >= 8 else 'slightly'}"


SETTLING = ("barrel_reading", "barrel_feel", "driven_easy", "again_reading", "again_feel", "turns")


def settled(rng: random.Random, stop: Stop, facts: dict[str, Any], verdict: Any) -> dict[str, Any]:
    """The answers with those to the settling questions that a verdict asks, all of them true."""
    wanted = {(one["fact"], one["place"]) for one in verdict["next"] if one["fact"] in SETTLING}
    more: dict[str, Any] = {}
    for name, place in sorted(wanted):
        if name == "driven_easy":
            more[name] = "yes"
            continue
        if name == "turns":  # how well a hand tells 2 N m on the jack is not known: not at all
            more[f"{name}@{place}"] = "free"
            continue
        if name in ("barrel_feel", "again_feel"):  # the same hands on both sides
            rises = stop.hubs if name == "barrel_feel" else stop.again
            metal = stop.air + rises["LR".index(place[1])]
            more[f"{name}@{place}"] = felt(random.Random(str(stop)), metal, stop.air)
            continue
        rises = stop.hubs if name == "barrel_reading" else stop.again
        shown = stop.air + rises["LR".index(place[1])] + rng.gauss(0, 0.7)
        more[f"{name}@{place}"] = round(shown, 1)
    return facts | more


def shares(seed: int, setting: Setting, runs: int) -> Counter[str]:
    """Verdict levels over ``runs`` stops, settling questions answered.

    ``told`` counts doubts that were put in words beside *nothing found*, ``bare`` what raised the
    level without a card, ``asked`` stops with a settling question, ``passed`` those whose level
    was not raised while it was open.
    """
    rng = random.Random(f"{seed} {setting}")
    counts: Counter[str] = Counter()
    for _ in range(runs):
        stop = draw_stop(rng, setting)
        facts, asked = answers(rng, stop, setting), 0
        while True:
            verdict = judge({"check": "quick_stop", "date": "2026-07-14", "facts": facts})
            after = settled(rng, stop, facts, verdict)
            if after == facts:
                break
            asked += 1
            counts["passed"] += verdict["level"] not in ("stop", "mend", "look")
            facts = after
        counts["asked"] += asked > 0
        counts[verdict["level"]] += 1
        if verdict["level"] == "nothing" and verdict["cannot_tell"]:
            counts["told"] += 1
        if verdict["level"] in ("stop", "mend", "look") and not verdict["findings"]:
            counts["bare"] += 1
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
        "axles": 1, "boat": "no", "weighed": "no", "tongue_by": "weighings", "tongue_feel": "level",
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
    more = [percent(counts[name], runs) for name in ("told", "asked")]
    return "| " + " | ".join([title, *cells, *more]) + " |"


HEAD = (
    "| stop | Nothing found | Look again | Mend | Stop now | Nothing found, doubt told | Asked |\n"
    "|---|---|---|---|---|---|---|"
)
AIRS = [(14, 32), (32, 50), (50, 70), (70, 90), (90, 104), (104, 125)]
FAULTS = [
    ("Sound hubs", (0.0, 0.0)),
    ("One hub with 1 N m of extra drag", (1.0, 0.0)),
    ("One hub with 2 N m of extra drag", (2.0, 0.0)),
    ("One hub with 5 N m of extra drag", (5.0, 0.0)),
    ("Both hubs with 1 N m of extra drag", (1.0, 1.0)),
    ("Both hubs with 2 N m of extra drag", (2.0, 2.0)),
    ("Both hubs with 5 N m of extra drag", (5.0, 5.0)),
]


def degrees(low: float, high: float) -> tuple[float, float]:
    """A span of degF in degC."""
    return celsius(low), celsius(high)


def settings(extra: tuple[float, float], by: str) -> list[tuple[str, Setting]]:
    """Every row of a table, titled."""
    rows = []
    for braking in ("", "normal", "hard"):
        braked_by = f", {braking} braking" if braking else ""
        for low, high in AIRS:
            title = f"{by}{braked_by}, {low} to {high} °F"
            rows.append((title, Setting(degrees(low, high), extra, by, braking)))
    mild, title = degrees(50, 90), f"{by}, 50 to 90 °F"
    rows += [
        (f"{title}, at the {spot}", Setting(mild, extra, by, spot=spot))
        for spot in ("wheel", "cap")
    ]
    rows += [
        (f"{title}, at the drum, {braking} braking", Setting(mild, extra, by, braking, "drum"))
        for braking in ("normal", "hard")
    ]
    for braking in ("", "normal", "hard"):
        braked_by = f", {braking} braking" if braking else ""
        parked = Setting(mild, extra, by, braking, parked=(10, 25))
        rows.append((f"{title}, parked 10 to 25 minutes{braked_by}", parked))
    return rows


Counts = dict[tuple[str, str], Counter[str]]  # by fault and title of the row
METHODS = ("thermometer", "hand")


MILD = ("thermometer, 50 to 70 °F", "thermometer, 70 to 90 °F")
SOUND, PAIR = FAULTS[0][0], "Both hubs with 2 N m of extra drag"


def runs_of(fault: str, runs: int) -> int:
    """Stops a row: the tables that must hold get all, the others a quarter."""
    return runs if fault in (SOUND, PAIR) else runs // 4


SEEDS = {"thermometer": 7, "hand": 31}


def count_all(runs: int) -> Counts:
    """Every row of the tables of hubs."""
    return {
        (fault, title): shares(SEEDS[by], setting, runs_of(fault, runs))
        for fault, extra in FAULTS
        for by in METHODS
        for title, setting in settings(extra, by)
    }


HOT = ("90 to 104", "104 to 125")  # °F; by hand one in five may be *Look again* there


def raised(counts: Counter[str]) -> int:
    return counts["look"] + counts["mend"] + counts["stop"]


def promises(counts: Counts, runs: int) -> str:
    """Markdown: what must hold, and the row that comes nearest to breaking it."""

    def worst(
        fault: str, method: str, take: Callable[[Counter[str]], int], hot: bool | None
    ) -> str:
        rows = {
            title: take(one)
            for (name, title), one in counts.items()
            if name == fault
            and title.startswith(method)
            and (hot is None or hot == any(air in title for air in HOT))
        }
        title = max(rows, key=lambda name: rows[name])
        return f"{percent(rows[title], runs)} | {title}"

    def bare(one: Counter[str]) -> int:
        return one["nothing"] - one["told"]

    lines = [
        ("Sound hubs by thermometer, *Look again* or worse", "5 %",
         worst(SOUND, "thermometer", raised, None)),
        ("Sound hubs by hand to 90 °F, *Look again* or worse", "10 %",
         worst(SOUND, "hand", raised, False)),
        ("Sound hubs by hand above 90 °F, *Look again* or worse", "20 %",
         worst(SOUND, "hand", raised, True)),
        ("Sound hubs, *Stop now*", "0.5 %", worst(SOUND, "", lambda one: one["stop"], None)),
        ("Sound hubs without brakes by thermometer, 50 to 90 °F, anything but *Nothing found*",
         "2 %", f"{percent(max(runs - counts[SOUND, t]['nothing'] for t in MILD), runs)} | "
         + " and ".join(MILD)),
        ("Both hubs with 2 N m by thermometer, *Nothing found*", "5 %",
         worst(PAIR, "thermometer", lambda one: one["nothing"], None)),
        ("Both hubs with 2 N m by hand, *Nothing found* without its doubt on the page", "0 %",
         worst(PAIR, "hand", bare, None)),
        ("A settling question open, yet not *Look again* or worse", "0 %",
         worst(PAIR, "", lambda one: one["passed"], None)),
    ]  # fmt: skip
    head = ["| what | at most | the row that comes nearest | |", "|---|---|---|---|"]
    return "\n".join([*head, *(f"| {what} | {most} | {row} |" for what, most, row in lines), ""])


def tables(counts: Counts, runs: int) -> str:
    """Markdown of all tables."""
    parts = ["## What must hold\n", promises(counts, runs)]
    for fault, extra in FAULTS:
        parts += [f"## {fault}\n", HEAD]
        titles = [title for by in METHODS for title, _ in settings(extra, by)]
        here = runs_of(fault, runs)
        parts += [row(title, counts[fault, title], here) for title in titles]
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


def fahrenheit_rise(size: str, mph: float, air: float, miles: float, extra: float = 0.0) -> float:
    """Rise over the air in degF of a nominal hub after ``miles``, not parked; ``air`` in degF."""
    speed, draw = mph * MPH, Draw(extra_drag=extra)
    rise = rise_at_stop(HUBS[size], speed, celsius(air), miles * 1609.344, 0, 1e9, draw)
    return 1.8 * rise


def minutes(size: str, mph: float) -> float:
    """Time constant of a nominal hub on the road at 68 degF."""
    return steady(HUBS[size], mph * MPH, 20.0)["tau"] / 60


def span(values: list[float], places: int = 0) -> str:
    low, high = (f"{end:.{places}f}" for end in (min(values), max(values)))
    return low if low == high else f"{low} to {high}"


def against_measured() -> str:
    """Markdown: published readings beside the model, each with its figures worked out here."""
    sizes = sorted(HUBS)
    owner = [fahrenheit_rise(size, 70, 71, 16) for size in sizes]
    apart = [fahrenheit_rise(size, 55, 73, 50) for size in sizes]
    drag = [fahrenheit_rise(size, 55, 77, 50, 1.0) - fahrenheit_rise(size, 55, 77, 50)
            for size in ("bore_27", "bore_32")]  # fmt: skip
    rail = [fahrenheit_rise("bore_35", 47, air, 50) for air in (10, 20)]
    tau = [minutes(size, 55) for size in sizes]
    factor = span([18 / rise for rise in owner], 2)
    rows = [
        ("Owner's trailer, 70 mph, 16 miles, air 71 °F, hub by pyrometer", "18 °F over the air",
         f"{span(owner)} °F", factor),
        ("Camper, brakes disconnected, both hubs (air not told)", "90 °F on both sides",
         f"{span(apart)} °F over the air: air of {span([90 - r for r in apart])} °F", "fits"),
        ("Camper, brakes working, the cooler side against brakes off", "10 °F more",
         f"brakes may add {1.8 * 9:.0f} °F after normal braking", "inside"),
        ("Camper, brakes working, the hotter side against brakes off", "50 °F more",
         f"{50 / max(drag):.1f} to {50 / min(drag):.1f} N m of drag: judged *Look again* or worse",
         "a fault"),
        ("Truck wheels at 55 mph, cooling law fitted to grades", "13.3 min",
         f"{span(tau, 1)} min", span([13.3 / t for t in tau], 2)),
        ("Chiller motor bearing after its start, one exponential", "14.6 min",
         f"{span(tau, 1)} min", span([14.6 / t for t in tau], 2)),
        ("Railway bearing 30 miles before it burnt off, 47 mph, winter night",
         "38 °F over the air", f"{span(rail)} °F for a sound light hub", "looks sound"),
        ("The same bearing 11 miles on", "103 °F over the air", "Mend or worse", "a fault"),
    ]  # fmt: skip
    lines = ["| reading | measured | model | measured over model |", "|---|---|---|---|"]
    return "\n".join([*lines, *("| " + " | ".join(row) + " |" for row in rows), ""])


OVERLAPS = [
    ("no brakes, 14 to 32 °F", Setting(degrees(14, 32))),
    ("no brakes, 50 to 90 °F", Setting(degrees(50, 90))),
    ("no brakes, 50 to 90 °F, at the cap", Setting(degrees(50, 90), spot="cap")),
    ("normal braking, 14 to 32 °F", Setting(degrees(14, 32), braking="normal")),
    ("normal braking, 50 to 90 °F", Setting(degrees(50, 90), braking="normal")),
    ("hard braking, 14 to 32 °F", Setting(degrees(14, 32), braking="hard")),
    ("hard braking, 50 to 90 °F", Setting(degrees(50, 90), braking="hard")),
    ("hard braking, 104 to 125 °F", Setting(degrees(104, 125), braking="hard")),
    (
        "normal braking, 50 to 90 °F, at the drum",
        Setting(degrees(50, 90), braking="normal", spot="drum"),
    ),
    (
        "hard braking, 50 to 90 °F, at the drum",
        Setting(degrees(50, 90), braking="hard", spot="drum"),
    ),
]
READINGS: dict[str, Callable[[list[float]], float]] = {
    "hotter": max, "cooler": min, "mean": lambda rises: sum(rises) / len(rises)
}  # fmt: skip


def rises_of(setting: Setting, runs: int) -> list[list[float]]:
    """Rise over the air of both places, K, over ``runs`` stops."""
    rng = random.Random(f"overlap {setting}")
    stops = (draw_stop(rng, setting) for _ in range(runs))
    return [[c - stop.air for c in surfaces(rng, stop, setting.spot)] for stop in stops]


def best_cut(setting: Setting, runs: int) -> tuple[str, float, float]:
    """Reading, cut in K and share missed of the reading that tells pairs at fault best."""
    sound = rises_of(setting, runs)
    faulty = rises_of(replace(setting, extra=(2.0, 2.0)), runs)
    found = []
    for name, take in READINGS.items():
        cut = sorted(map(take, sound))[int(0.95 * runs)]
        found.append((sum(take(rises) <= cut for rises in faulty) / runs, cut, name))
    missed, cut, name = min(found)
    return name, cut, missed


def blind(runs: int) -> str:
    """Markdown: where sound and faulty pairs overlap too far for any rule on heat."""
    lines = [
        "| stop | best reading | cut over the air | pairs at fault below it |",
        "|---|---|---|---|",
    ]
    for title, setting in OVERLAPS:
        name, cut, missed = best_cut(setting, runs)
        lines.append(f"| {title} | {name} | {1.8 * cut:.0f} °F | {100 * missed:.1f} % |")
    return "\n".join(lines)


INTRO = """# How often the judgement is right

Not measured on real hubs: simulated. Sound and faulty hubs are drawn from an independent heat model
(`tests/benchmarks/hub_model.py`), turned into what a hand or a contact thermometer would report,
and judged as a *hubs only* stop of a single axle, 18 to 30 miles at 40 to 70 mph, one to five
minutes parked unless a row says more. Spread of the model: friction 0.4 to 2.2 times nominal, seal
drag 0.03 to 0.4 N m, local air speed 0.25 to 0.8 and 0.15 to 0.55 of road speed, conductance ±20 %,
heat capacity −20/+25 %, tire heat up to 2 °C; mates differ in load (±10 %), bearing friction (20 %)
and seal drag (30 %). Brakes: half a stop to two full stops are normal, three to eight hard; left
and right differ by 15 %. A hand's words shift by 3 °C at the cool edges and 5 °C at the hot ones,
and a cold hand by up to 10 °C more; a thermometer errs by 0.7 °C. How well a hand compares two
hubs, how often people brake and how brakes differ are assumed, no source.

"Doubt told" is the share where nothing was found and the verdict says that a fault cannot be ruled
out here, and what would tell: wait and feel again, a thermometer, the wheel on the jack. "Asked" is
the share of stops with a settling question; every row shows where the stop ends once it is answered
truly. While it is open the level is *Look again* at least, with a card: that was so in every stop
of every row.

Settling questions. By thermometer at a drum, and at a cap after braking, the hub barrel is to be
read too; by hand at a drum that is very hot or cannot be touched after ordinary stops it is to be
felt. After hard braking, where a reading at the barrel could as well be a hub with 2 N m too much,
or where a hub is very hot to the hand or cannot be touched, or one side is clearly warmer to the
hand and the words bear it out, every hub is to be read or felt again
after 20 miles with the brakes hardly used: brake heat goes on the way, a bearing's own heat stays.
For its heat alone that is asked by hand only where the air leaves a hand something to tell.
Waiting at the stop would not tell: hub and bearing heat leave the same metal at one pace, and a
drum goes on warming its hub.
Where a hub that a hand cannot bear could be much too warm, and neither barrel nor easy miles settle
it, the wheel on the jack is to be turned. How well a hand tells 2 N m there is not known, so here
every wheel turns freely: no fault is found by that answer.
Simulated 20 to 28 miles on; drum and hub as two masses, the drum cooling in 7 to 14 minutes, the
hub in 6 to 11, linked so that the hub shows the share it showed at the stop, a few light stops on
the way. A reading beyond what 19 in 20 sound wheels show, a smell, grinding, mates far apart: then
nobody is sent on to read again.

What stands out: a pair with 1 N m too much passes often, most of all in frost and behind brakes. A
pair with 2 N m passes in at most one stop in twenty by thermometer, whatever the braking and the
place, once the settling question is answered. Until then heat cannot part them: see *What heat
alone can tell*. By hand after hard braking few such pairs pass on a mild day, a quarter in frost
and after long parking, and nearly all above 104 °F, where what a hand tells ends at what it can
touch: no rule on words can part them, and what passes says so on its page, with what would tell.
Heat never clears a hub alone.

Which doubt counts. *Look again* is what 19 in 20 sound wheels stay below: the most of a sound hub,
and what brakes usually add after so much braking. Behind brakes and at a cap two mates of a single
axle that both come to 87 in 100 of it count too, since two sound ones seldom do at once; so do two
that are both very hot to the hand in air up to 95 °F. *Mend* and
*Stop now* need what no sound wheel showed: the brakes' most counts as theirs. A doubt that a person
can settle with a thermometer counts until it is settled. One that nobody can settle here is told
and leaves the level alone; were it to count, most braked stops would end in *Look again*, and
nobody would look any more.

`python -m tests.benchmarks.judgement --write` makes this page again; {runs} stops a row
where something must hold, sound hubs and both with 2 N m, a quarter of that elsewhere; seeded. No
limit was chosen on these seeds, and sound hubs are held to their bounds on another one too.

## Beside what was measured

No instrumented test of a light trailer's hubs with load, air, speed and distance was found. These
are the published readings that can be laid beside the nominal model (an owner's report, a campers'
magazine's forum, a road-grade model's constants, a motor maker's manual, a safety board's report as
a trade magazine has it). The one complete reading lies {factor} times the model, well inside the
factor of 1.6 either way that the model claims; none says that the band of sound hubs is too narrow,
so it stands, and brakes got a little more room than they had. A bearing about to fail was once
inside the band: passing a stop does not clear a hub.

{measured}
## What heat alone can tell

How many pairs with 2 N m too much on both hubs stay below the cut that 19 in 20 sound pairs stay
below, for the best of three readings of a stop: its hotter hub, its cooler hub, the mean of both.
The cut is drawn from the same simulation and knows air and braking, so no rule on two readings of
one stop can do much better at that price.

{blind}

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
    owner = [18 / fahrenheit_rise(size, 70, 71, 16) for size in sorted(HUBS)]
    head = INTRO.format(
        runs=args.runs, measured=against_measured(), factor=span(owner, 2), blind=blind(args.runs)
    )
    text = head + tables(count_all(args.runs), args.runs)
    if args.write:
        # What tests/benchmarks/trends.py wrote there stays.
        _, mark, years = PAGE.read_text("utf-8").partition("\n## A climb over the years")
        PAGE.write_text(text + mark + years, "utf-8")
    print(text)


if __name__ == "__main__":
    main()
