"""Reads the case tables and checks what a verdict must say."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from checks.facts import BadInput
from checks.judge import LEVELS, judge

FOLDER = Path(__file__).with_name("cases")


def all_cases() -> list[dict[str, Any]]:
    """Every case of every table, with its base folded in and ``table`` added."""
    bases = json.loads((FOLDER / "base.json").read_text("utf-8"))
    result = []
    for path in sorted(FOLDER.glob("*.json")):
        if path.name == "base.json":
            continue
        for case in json.loads(path.read_text("utf-8")):
            base = bases[case["base"]] if "base" in case else {"facts": {}}
            result.append(
                base | case | {"facts": base["facts"] | case["facts"], "table": path.stem}
            )
    return result


def payload(case: dict[str, Any]) -> dict[str, Any]:
    return {key: case[key] for key in ("check", "date", "facts")}


def outcome(case: dict[str, Any]) -> dict[str, Any]:
    """The verdict of a case, or ``{"error": message}``."""
    try:
        return judge(payload(case))
    except BadInput as error:
        return {"error": str(error)}


KNOWN = {
    "level", "at_least", "level_at", "finding", "no_finding", "cannot_tell", "point", "next_first",
    "error",
}  # fmt: skip


def differences(expect: dict[str, Any], verdict: dict[str, Any]) -> list[str]:
    """What a verdict says otherwise than expected; empty where all is well."""
    unknown = set(expect) - KNOWN
    assert not unknown, f"unknown expectation {unknown}"
    assert expect, "a case must expect something"
    if "error" in expect or "error" in verdict:
        wanted, message = expect.get("error"), verdict.get("error")
        same = wanted is not None and message is not None and wanted in message
        return [] if same else [f"error: wanted {wanted!r}, got {message!r}"]
    found = {f["finding"] for f in verdict["findings"]}
    points = {f"{p['point']}@{p['place']}".rstrip("@"): p["level"] for p in verdict["points"]}
    wrong = []
    if "level" in expect and verdict["level"] != expect["level"]:
        wrong.append(f"level: wanted {expect['level']}, got {verdict['level']}, found {found}")
    if "at_least" in expect:
        worst = LEVELS.index(expect["at_least"])
        if LEVELS.index(verdict["level"]) > worst:
            wrong.append(f"level: wanted at least {expect['at_least']}, got {verdict['level']}")
    for place, level in expect.get("level_at", {}).items():
        if verdict["places"].get(place) != level:
            wrong.append(f"place {place}: wanted {level}, got {verdict['places'].get(place)}")
    for point, level in expect.get("point", {}).items():
        if points.get(point) != level:
            wrong.append(f"point {point}: wanted {level}, got {points.get(point)}")
    wrong += [f"missing finding {f}" for f in expect.get("finding", []) if f not in found]
    wrong += [f"unwanted finding {f}" for f in expect.get("no_finding", []) if f in found]
    unsettled = {c["finding"] for c in verdict["cannot_tell"]}
    wrong += [f"{f} is told" for f in expect.get("cannot_tell", []) if f not in unsettled]
    first = verdict["next"][0]["fact"] if verdict["next"] else None
    if "next_first" in expect and first != expect["next_first"]:
        wrong.append(f"next: wanted {expect['next_first']}, got {first}")
    return wrong
