"""How often a climbing hub is seen early, and a sound one left in peace.

``--write`` writes docs/trends.md and its section of docs/judgement.md.

Histories of one axle over the seasons, from the independent heat model of ``hub_model.py``: hubs
stay what they are from stop to stop; weather, road, load, hand or thermometer change.
"""

from __future__ import annotations

import argparse
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path
from random import Random
from typing import Any

from checks import trend
from checks.history import hub_gaps
from checks.judge import judge
from checks.trend import Gap, climb
from tests.benchmarks.hub_model import HUBS, Draw, rise_at_stop
from tests.benchmarks.judgement import COOLING_S, MPH, Setting, Stop, answers

STOPS = 20
STEP = 0.25  # N m a stop
PAGE = Path(__file__).parents[2] / "docs" / "trends.md"
HEAD = "## A climb over the years"  # of the section in docs/judgement.md


@dataclass(frozen=True)
class Pair:
    """Two mates for years: what they share, and what is each one's own."""

    size: str
    shared: Draw
    own: tuple[tuple[float, float], tuple[float, float]]  # factors on friction and seal


def draw_pair(rng: Random) -> Pair:
    """The same spread as ``judgement.draw_stop``, kept from stop to stop."""
    shared = Draw(
        friction=math.exp(rng.uniform(math.log(0.4), math.log(2.2))),
        seal=rng.uniform(0.03, 0.4),
        outboard_speed=rng.uniform(0.25, 0.8),
        inboard_speed=rng.uniform(0.15, 0.55),
        conductance=rng.uniform(0.8, 1.2),
        capacity=rng.uniform(0.8, 1.25),
    )
    own = [(max(0.2, rng.gauss(1, 0.2)), max(0.2, rng.gauss(1, 0.3))) for _ in range(2)]
    return Pair(rng.choice(sorted(HUBS)), shared, (own[0], own[1]))


def draw_stop(rng: Random, pair: Pair, air: float, extra: float) -> Stop:
    """One stop of the pair in air of so many degC, ``extra`` N m on the left."""
    mph, miles, parked = rng.uniform(40, 70), rng.uniform(18, 30), rng.uniform(1, 5)
    cooling, tire = rng.uniform(*COOLING_S), rng.uniform(0, 2)
    rises = []
    for (friction, seal), drag in zip(pair.own, (extra, 0.0), strict=True):
        draw = replace(
            pair.shared,
            friction=pair.shared.friction * friction,
            seal=pair.shared.seal * seal,
            tire_heat=tire,
            extra_drag=drag,
        )
        hub = replace(HUBS[pair.size], load=HUBS[pair.size].load * rng.uniform(0.9, 1.1))
        rises.append(
            rise_at_stop(hub, mph * MPH, air, miles * 1609.344, parked * 60, cooling, draw)
        )
    both = (rises[0], rises[1])
    return Stop(pair.size, air, mph, miles, parked, both, both)


def weather(day: date, rng: Random) -> float:
    """degC: 13 on average, 14 either way over the year, 5 from day to day (assumed)."""
    turn = math.cos(2 * math.pi * (day.timetuple().tm_yday - 200) / 365.25)
    return min(40.0, max(-10.0, 13 + 14 * turn + rng.gauss(0, 5)))


def history(rng: Random, grows_from: int, by: str = "mixed") -> Iterator[dict[str, Any]]:
    """Answers of stop after stop, some weeks apart; the left hub grows worse from a stop on."""
    pair, day = draw_pair(rng), date(2024, 1, 1) + timedelta(rng.randrange(365))
    number = 0
    while True:
        day += timedelta(rng.randint(7, 60))
        extra = max(0, number - grows_from + 1) * STEP
        stop = draw_stop(rng, pair, weather(day, rng), extra)
        how = rng.choice(["hand", "thermometer"]) if by == "mixed" else by
        setting = Setting((stop.air, stop.air), by=how)
        yield answers(rng, stop, setting) | {"hub_size": pair.size}
        number += 1


def row(facts: dict[str, Any]) -> Gap | None:
    """The left wheel against the right at one stop, as the shop's page has it."""
    return hub_gaps({"check": "quick_stop", "date": "2026-07-14", "facts": facts}).get("1L")


def rows(facts: list[dict[str, Any]]) -> list[Gap]:
    """The left wheel against the right, stop by stop, where it can be said."""
    return [found for one in facts if (found := row(one)) is not None]


def false_alarm(rng: Random) -> bool:
    """Whether 20 sound stops raise an alarm on either wheel."""
    stops = history(rng, grows_from=STOPS)
    row = rows([next(stops) for _ in range(STOPS)])
    return bool(climb(row) or climb([one.seen_from_mate() for one in row]))


def level(facts: dict[str, Any], wheel: str = "1L") -> str:
    verdict = judge({"check": "quick_stop", "date": "2026-07-14", "facts": facts})
    return str(verdict["places"][wheel])


def noticed(rng: Random, by: str = "mixed", most: int = 16) -> tuple[int, int, int]:
    """Stop of the growth, from 1, at which the climb, a Look again and a Mend show first."""
    sound = rng.randint(6, 12)
    stops = history(rng, sound, by)
    facts = [next(stops) for _ in range(sound + most)]
    found = climb(rows(facts))
    levels = [level(one) for one in facts[sound:]]
    look = next((i for i, one in enumerate(levels, 1) if one in ("look", "mend", "stop")), most + 1)
    mend = next((i for i, one in enumerate(levels, 1) if one in ("mend", "stop")), most + 1)
    return (found.shown - sound + 1 if found else most + 1), look, mend


INTRO = """# Trends: each hub, tire and tread over the years

`checks/trend.py` looks at a row of readings where the verdict looks at one. Nothing here was
measured on real hubs: histories are simulated, seeded, from the independent heat model behind
`docs/judgement.md`.

## The scale of a hub

How much more drag a hub has than its mate, in newton metres. What both share (weather, speed,
load, miles, minutes parked, the hand that felt them) drops out; how warm one newton metre makes a
hub at that stop comes from the rulebook's own sums (`drag_rise`, `share_reached`, `share_left`). By
hand the comparison of the two sides counts: alike is under 3.5 K, slightly 2.5 to 9, clearly 7.5 to
17 (assumed, no source). A hub whose mate grows worse at the same pace does not show.

## The rule

After every stop the readings so far are held against two accounts: a lasting difference between
the mates, and the same with a climb of {steps} N m a stop over the last 1 to {recent} stops. How
likely a reading is under each comes from its whole range, widened by noise: {kelvin} K between
two surfaces (two thermometers' worth, whatever the drag) and {flat} N m. A word by hand is such a
range, so one that a sound difference just reaches speaks for no climb. The lasting difference is
taken to lie within {mates} of a sound hub's drag of zero (one sigma); a single reading weighs no
more than one to 1000. Where the climb is likelier by a factor of e^{alarm}, it is *a steady
climb*: a finding of the history, level Look again (a ratio of likelihoods with unknown onset, as
in control charts). Noise and alarm were set on 1,200 simulated sound histories of other seeds
than this page's. Bearing work begins the row again.

## How often it is right

Sound: {runs} histories of 20 stops, a week to two months apart, in weather that turns with the
seasons; each stop at random by hand or by thermometer. An alarm on either wheel is false.
Climbing: six to twelve sound stops, then a quarter newton metre more at every stop.
The verdict of a single stop is that of `checks.judge`. Its Look again, which compares the two
sides of that one stop, is nearly as quick as the climb; its Mend is what sends a trailer to a shop.

| | |
|---|---|
"""
SECTION = """
{head}

Stop after stop each hub is held against its mate (`docs/trends.md` says how). {runs} sound
histories of 20 stops over the seasons, each stop at random by hand or by thermometer, and {climbs}
in which one hub has 0.25 N m more at every stop: how often an alarm is false, and how often the
climb shows two stops or more before the verdict of a single stop says *Mend*.
`python -m tests.benchmarks.trends --write` makes this section again; seeded.

| | |
|---|---|
"""
LOSSES = """
## Pressure and tread

No fit: the range of all straight lines through every reading's range (checked against linear
programming). Loss per month and wear per 1,000 miles are the flattest and the steepest such line;
the day the tread reaches its bars is from the first to the last day any of them does. Where no
straight line passes through all readings, none is given. A reading surely above the last is a
refill or a new tire, and begins the row again.

`python -m tests.benchmarks.trends --write` makes this page again.
"""


def page(runs: int, lines: Iterable[str]) -> str:
    """The page with its table."""
    return intro(runs) + "".join(lines) + LOSSES


def section(runs: int, lines: Sequence[str]) -> str:
    """What docs/judgement.md says of it: false alarms, and climbs by hand or thermometer."""
    shown = [line for line in lines if "Mend |" in line or "false" in line]
    return SECTION.format(head=HEAD, runs=runs, climbs=runs // 3) + "".join(shown)


def beside(text: str, added: str) -> str:
    """A page with the section put in place of the one it had, or at its end."""
    before, _, after = text.partition(f"\n{HEAD}")
    rest = after.partition("\n## ")
    return before + added + (f"\n## {rest[2]}" if rest[1] else "")


def intro(runs: int) -> str:
    return INTRO.format(
        runs=runs,
        recent=trend.RECENT,
        mates=trend.MATES,
        flat=trend.FLAT,
        kelvin=trend.KELVIN,
        steps=" or ".join(map(str, trend.STEPS)),
        alarm=trend.ALARM,
    )


def measured(runs: int) -> Iterator[str]:
    """The lines of the table."""
    rng = Random(20)
    alarms = sum(false_alarm(rng) for _ in range(runs))
    yield f"| sound histories with a false alarm | {100 * alarms / runs:.1f} % |\n"
    for by, words in (("mixed", "hand or thermometer"), ("thermometer", "thermometer")):
        found = [noticed(rng, by) for _ in range(runs // 3)]
        for title, column in (("Mend", 2), ("Look again", 1)):
            share = sum(one[column] - one[0] >= 2 for one in found) / len(found)
            yield f"| {words}: climb seen two stops or more before {title} | {share:.0%} |\n"
        middles = [sorted(column)[len(found) // 2] for column in zip(*found, strict=True)]
        yield f"| {words}: stop of climb, Look again, Mend, median | {middles} |\n"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=900)
    parser.add_argument("--write", action="store_true", help="write both pages")
    args = parser.parse_args()
    lines = list(measured(args.runs))
    if args.write:
        PAGE.write_text(page(args.runs, lines), "utf-8")
        judgement = PAGE.with_name("judgement.md")
        text = beside(judgement.read_text("utf-8"), section(args.runs, lines))
        judgement.write_text(text, "utf-8")
    print("".join(lines))


if __name__ == "__main__":
    main()
