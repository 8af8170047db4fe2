"""The phone and the shop's page read the same rows out of the same kept checks."""

from __future__ import annotations

import json
import math
from random import Random
from typing import Any

import pytest
from playwright.sync_api import Page

from checks.history import DAY, Kept, hub_rows, marks_of, miles_of, pressure_of, tread_of
from checks.rulebook import export
from tests.support.effort import PART, rounds

BEGIN = 1_750_000_000_000
WHEELS = ("1L", "1R", "2L", "2R")
# The rulebook comes from Python: the page serves files only.
READ = """async ([data, text]) => {
    const at = (path) => import(`/static/${path}.js`);
    const [{ load }, p, { shownOf }] = await Promise.all(["engine/judge", "data/past", "engine/trend"].map(at));
    const book = load(data, { say: () => "", has: () => false });
    const plain = (name, value) => value === Infinity ? "inf" : value;
    return JSON.stringify(JSON.parse(text).map(({ checks, runs }) => {
        const miles = p.milesOf(checks, runs);
        return { far: miles(checks.at(-1).at), wheels: ["1L", "1R", "2L", "2R"].map((wheel) => {
            const hub = p.hubOf(book, checks, wheel), { points, loss } = p.pressureOf(book, checks, wheel);
            return { hub: hub.points.map(({ at, row }) => [at, row, Object.values(shownOf(row))]), marks: p.marksOf(checks, wheel),
                loss: [points, loss], tread: p.treadOf(book, checks, miles, wheel, 2) };
        }) };
    }), plain);
}"""  # noqa: E501


def stop(rng: Random, axles: int) -> dict[str, Any]:
    common = {"axles": axles, "air": rng.randint(-5, 30), "run_distance": rng.randint(20, 60)}
    if rng.random() < 0.5:
        hubs = {f"hub_reading@{w}": rng.randint(25, 70) for w in WHEELS[: 2 * axles]}
        how = {"hub_method": "thermometer", "hub_spot": "barrel", "parked": 3, "run_speed": 90}
    else:
        hubs = {f"hub_feel@{w}": rng.choice(["cool", "warm", "hot"]) for w in WHEELS[: 2 * axles]}
        how = {"hub_method": "hand", "pair_feel@1": rng.choice(["alike", "left_slightly"])}
    return {"check": "quick_stop", "facts": common | how | hubs}


def tires(rng: Random, axles: int, wear: float) -> dict[str, Any]:
    facts: dict[str, Any] = {"axles": axles, "tread_by": "gauge"}
    facts["tire_warmth"] = rng.choice(["cold", "cold", "warm"])
    for wheel in WHEELS[: 2 * axles]:
        facts[f"pressure@{wheel}"] = rng.choice([None, 450 - round(30 * wear), [400, 450]])
        facts[f"tread@{wheel}"] = rng.choice([9 - round(6 * wear), [2, 9], None])
        facts[f"tire_made@{wheel}"] = rng.choice(["1024", "1024", "1025"])
    return {"check": "tires", "facts": facts}


def odd(rng: Random) -> dict[str, Any]:
    """Answers of another release, and a bench record."""
    junk = {"axles": 1, "tread@1L": "much", "pressure@1L": "soft", "hub_reading@1L": []}
    bench = {"check": "bench", "facts": {"axles": 1}}
    return rng.choice([bench, {"check": "tires", "facts": junk}])


def histories() -> list[dict[str, Any]]:
    rng, made = Random(12), []
    for _ in range(rounds(60)):
        axles, at, checks = rng.choice([1, 2]), float(BEGIN), []
        for number in range(rng.randint(2, 12)):
            at += rng.randint(1, 60) * DAY
            kinds = [stop(rng, axles), tires(rng, axles, number / 12), odd(rng)]
            one = rng.choices(kinds, [4, 4, 1])[0]
            checks.append(one | {"at": at, "date": "2026-07-14"})
        ends = ["2025-08-01T10:00:00+02:00", "2025-11-11T23:30:00-05:00"]
        runs = [{"ended": end, "km": rng.uniform(0, 300)} for end in ends]
        made.append({"checks": checks, "runs": runs})
    return made


def close(ours: Any, theirs: Any) -> bool:
    if ours is None or theirs is None:
        return ours is theirs
    if isinstance(ours, str):
        return bool(ours == theirs)
    if isinstance(ours, (list, tuple)):
        return len(ours) == len(theirs) and all(map(close, ours, theirs))
    return math.isclose(ours, float(theirs), rel_tol=1e-9, abs_tol=1e-9)


@pytest.mark.sample
def test_the_shop_and_the_phone_read_the_same_rows(scripts: Page) -> None:
    sent = histories()
    answers = json.loads(scripts.evaluate(READ, [export(), json.dumps(sent)]))
    seen = {"hub": 0, "tires": 0, "bench": 0, "loss": 0, "wear": 0, "reached": 0}
    for one, theirs in zip(sent, answers, strict=True):
        checks = [Kept(check["at"], check) for check in one["checks"]]
        miles, hubs = miles_of(checks, one["runs"]), hub_rows(checks)
        assert close(miles(checks[-1].at), theirs["far"])
        for wheel, other in zip(WHEELS, theirs["wheels"], strict=True):
            marks = marks_of(checks, wheel)
            assert close(marks, [[mark["at"], mark["kind"]] for mark in other["marks"]])
            hub = [(at, row, (*row.shown, row.rough)) for at, row in hubs.get(wheel, [])]
            assert close(hub, other["hub"])
            assert close(pressure_of(checks, wheel), other["loss"])
            wear, tread = tread_of(checks, miles, wheel, 2), other["tread"]
            assert close(wear, [tread["points"], tread["wear"], tread["reached"]])
            seen["hub"] += bool(other["hub"])
            seen["loss"] += bool(other["loss"][1])
            for kind in ("tires", "bench"):
                seen[kind] += any(mark.kind == kind for mark in marks)
            for key in ("wear", "reached"):
                seen[key] += bool(tread[key])
    assert min(seen.values()) > 10 / PART, seen
