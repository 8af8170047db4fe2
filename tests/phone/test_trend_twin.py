"""The phone reads rows of readings as Python does."""

from __future__ import annotations

import json
import math
from random import Random
from typing import Any

import pytest
from playwright.sync_api import Page

from checks.trend import FELT, Gap, at_value, climb, gap, refills, since, slopes
from tests.support.effort import PART, rounds

RUN = """async (text) => {
    const t = await import("/static/engine/trend.js");
    const plain = (name, value) => value === Infinity ? "inf" : value;
    return JSON.stringify(JSON.parse(text).map(({ points, rows, gaps }) => ({
        slopes: t.slopes(points), at: t.atValue(points, 2), refills: t.refills(points),
        since: t.since(points, [5]), climb: t.climb(rows), gaps: gaps.map((g) => t.gap(...g)),
    })), plain);
}"""


def row(rng: Random, middle: float) -> Gap:
    half = rng.choice([0.0, 0.01, rng.uniform(0.05, 0.4)])
    return Gap(middle - half, middle + half, rng.uniform(0.05, 0.15), rng.uniform(0.1, 0.3))


def jobs() -> list[dict[str, Any]]:
    rng, made = Random(4), []
    for _ in range(rounds(400)):
        start, slope = rng.uniform(4, 12), rng.uniform(-0.6, 0.2)
        points = []
        for _ in range(rng.randint(0, 6)):
            at = float(rng.randint(0, 12))
            middle = start + slope * at + rng.gauss(0, 0.3)
            points.append((at, middle - rng.uniform(0, 1), middle + rng.uniform(0, 1)))
        growth = rng.choice([0, 0, 0.25])
        rows = [
            row(rng, rng.gauss(0, 0.1) + growth * max(0, i - 6)) for i in range(rng.randint(0, 14))
        ]
        gaps = []
        for _ in range(3):
            low = rng.uniform(10, 60)
            own, mate = (low, low + rng.uniform(0, 9)), (low - 3, low + rng.uniform(-3, 25))
            gaps.append(
                (own, mate, rng.uniform(8, 25), rng.uniform(1, 2), rng.choice([None, *FELT]))
            )
        made.append({"points": points, "rows": rows, "gaps": gaps})
    return made


def close(ours: Any, theirs: Any) -> bool:
    if ours is None or theirs is None:
        return ours is theirs
    if isinstance(ours, (list, tuple)):
        return len(ours) == len(theirs) and all(map(close, ours, theirs))
    return math.isclose(ours, float(theirs), rel_tol=1e-9, abs_tol=1e-9)


@pytest.mark.sample
def test_both_engines_read_rows_alike(scripts: Page) -> None:
    sent = jobs()
    seen = {"climb": 0, "at": 0, "refills": 0}
    for job, theirs in zip(sent, json.loads(scripts.evaluate(RUN, json.dumps(sent))), strict=True):
        found = climb(job["rows"])
        other = theirs["climb"]
        assert close(found, other and [other["shown"], other["low"], other["high"]])
        assert close(slopes(job["points"]), theirs["slopes"])
        assert close(at_value(job["points"], 2), theirs["at"])
        assert close(refills(job["points"]), theirs["refills"])
        assert close(since(job["points"], [5]), theirs["since"])
        assert close([gap(*one) for one in job["gaps"]], theirs["gaps"])
        for key in seen:
            seen[key] += bool(theirs[key])
    assert min(seen.values()) > 20 / PART, seen
