"""What was put in and by which figures: numbers of parts, torque, the spindle."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Connection, select

from webapp.shop import bench, questions
from webapp.shop.forms import tidy
from webapp.storage.models import jobs
from webapp.wording import say

Json = dict[str, Any]
PARTS = ("bearing_inner", "bearing_outer", "seal", "tire", "torque", "spindle")
LONGEST = 60
LOOKED_BACK = 20  # jobs


def label(name: str) -> str:
    return say(f"form-part-{name.replace('_', '-')}")


def labels() -> dict[str, str]:
    return {name: label(name) for name in PARTS}


def read(sent: Mapping[str, str]) -> tuple[dict[str, str], dict[str, str]]:
    """What was written, and by field what is too long."""
    found = {name: tidy(sent.get(f"part:{name}")) for name in PARTS}
    odd = {
        f"part:{name}": f"{label(name)}: {say('form-too-long', most=str(LONGEST))}"
        for name, text in found.items()
        if len(text) > LONGEST
    }
    return {name: text for name, text in found.items() if text}, odd


def last_time(connection: Connection, trailer: Json | None, job: Json | None) -> dict[str, str]:
    """What the trailer's earlier jobs say of each part, the newest that says anything."""
    if trailer is None:
        return {}
    earlier = select(jobs.c.parts).where(jobs.c.trailer_id == trailer["id"])
    if job is not None:
        earlier = earlier.where(jobs.c.id != job["id"])
    found: dict[str, str] = {}
    for parts in connection.execute(
        earlier.order_by(jobs.c.id.desc()).limit(LOOKED_BACK)
    ).scalars():
        found = parts | found
    return found


def last_bench(connection: Connection, trailer: Json | None, job: Json | None) -> dict[str, str]:
    """By point of the bench record what the trailer's last one says, in a few words."""
    if trailer is None:
        return {}
    mine = select(jobs.c.record_id).where(
        jobs.c.trailer_id == trailer["id"], jobs.c.record_id.is_not(None)
    )
    if job is not None:
        mine = mine.where(jobs.c.id != job["id"])
    record_id = connection.execute(mine.order_by(jobs.c.id.desc()).limit(1)).scalar()
    record = bench.stored(connection, trailer["shop_id"], record_id)
    facts = {} if record is None else record["facts"]
    found = {point["id"]: answers(point, facts) for point in questions.bench()}
    return {point: text for point, text in found.items() if text}


def answers(point: Json, facts: Json) -> str:
    told: dict[str, None] = {}
    for one in point["questions"]:
        options = dict(one["options"])
        for key, value in facts.items():
            if key.partition("@")[0] == one["name"] and value in options:
                told[options[value]] = None
    return ", ".join(told)
