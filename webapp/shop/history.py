"""A trailer's file: every check over the years, and how warm each hub ran, drawn by the server."""

from __future__ import annotations

import json
from collections.abc import Iterable
from datetime import datetime
from typing import Any

from flask import Blueprint, render_template, request
from flask.typing import ResponseReturnValue
from sqlalchemy import select

from checks.history import STOPS, hub_gaps
from checks.trend import Climb, Gap, climb
from checks.units import to_unit, units
from webapp.follow_up import schedule
from webapp.follow_up.schedule import WORK
from webapp.shop import inbox, measures, reading, session
from webapp.storage.models import jobs, records, trailers
from webapp.storage.store import store
from webapp.wording import month_text, place_text, say

blueprint = Blueprint("history", __name__, url_prefix="/shop")
Json = dict[str, Any]
PAGE = 200
# Of a plot, in its own units; the text in it is as large as the page's.
WIDE, HIGH, LEFT, BELOW = 320, 120, 44, 20
VAGUE = 50.0  # kelvin: an answer that leaves more open than this tells nothing on a plot
STEPS = {"dF": 20, "K": 10}  # degrees between the lines
HOTTEST = 111.0  # kelvin above the air; what is hotter ends at the edge
DRAG_STEP = 0.5  # N m between the lines
BAND = 0.35  # N m either way: what two sound mates differ by at most stops (docs/trends.md)


@blueprint.get("/trailers/<int:trailer_id>/file")
def show(trailer_id: int) -> ResponseReturnValue:
    with store().reading() as connection:
        trailer = session.own(connection, trailers, trailer_id)
        wanted = inbox.check_rows().where(
            records.c.trailer_key == trailer_id,
            records.c.shop_id == trailer["shop_id"],
            records.c.kind == "check",
        )
        before = request.args.get("before", "")
        if before.isascii() and before.isdigit() and len(before) < 16:
            wanted = wanted.where(records.c.made_ms < int(before))
        latest = wanted.order_by(records.c.made_ms.desc()).limit(PAGE + 1)
        rows = connection.execute(latest).all()
        done = connection.execute(
            select(jobs).where(jobs.c.trailer_id == trailer_id).order_by(jobs.c.opened.desc())
        ).all()
    more = rows[PAGE - 1].made_ms if len(rows) > PAGE else None
    return render_template(
        "shop/history.html",
        trailer=trailer,
        checks=[inbox.line(row) for row in rows[:PAGE]],
        jobs=done,
        more=more,
        plots=plots(rows[:PAGE]),
        degrees=degree_label(),
        drags=drags(rows[:PAGE], [job.finished for job in done if opened_hub(job)]),
        work=schedule.work_words(WORK),
    )


def plots(rows: Iterable[Any]) -> list[Json]:
    """For each wheel that was felt or measured: its name and what to draw, oldest first."""
    readings: dict[str, list[tuple[float, float, float]]] = {}
    axles = 1
    for row in rows:
        body = json.loads(row.record)["body"]
        for wheel, (low, high) in reading.hub_rises(body).items():
            if high - low > VAGUE:
                continue
            axles = max(axles, int(wheel[0]))
            mark = (row.made_ms / 1000, degrees(low), degrees(high))
            readings.setdefault(wheel, []).append(mark)
    marks = [mark for found in readings.values() for mark in found]
    if not marks:
        return []
    frame = Frame(marks, STEPS[measures.unit_of("K")])
    return [
        {"name": place_text(wheel, axles), **frame.drawn(readings[wheel])}
        for wheel in sorted(readings)
    ]


def opened_hub(job: Any) -> bool:
    return job.finished is not None and bool(set(schedule.HUBS_OPEN) & set(job.work))


def drags(rows: Iterable[Any], works: list[datetime]) -> list[Json]:
    """For each wheel how much more drag its hub has than its mate, oldest first, and a climb.

    Work on a hub begins the row again: what was before it is drawn and no longer counts.
    """
    found: dict[str, list[tuple[float, Gap]]] = {}
    axles = 1
    for row in sorted(rows, key=lambda one: one.made_ms):
        body = json.loads(row.record)["body"]
        for wheel, gap in (hub_gaps(body) if body["check"] in STOPS else {}).items():
            axles = max(axles, int(wheel[0]))
            found.setdefault(wheel, []).append((row.made_ms / 1000, gap))
    marks = [(t, g.middle - g.spread, g.middle + g.spread) for v in found.values() for t, g in v]
    if not marks:
        return []
    stamps = [work.timestamp() for work in works]
    frame = Frame(marks, DRAG_STEP)
    return [
        drag(place_text(wheel, axles), frame, found[wheel], stamps)
        for wheel in sorted(found)
        if len(found[wheel]) > 1
    ]


def drag(name: str, frame: Frame, rows: list[tuple[float, Gap]], works: list[float]) -> Json:
    since = max(works, default=0.0)
    seen = climb([gap for when, gap in rows if when > since])
    bars = [(when, gap.middle - gap.spread, gap.middle + gap.spread) for when, gap in rows]
    inside = [when for when in works if frame.first <= when <= frame.last]
    return {
        "name": name,
        **frame.drawn(bars),
        "told": climb_text(seen),
        "climbs": seen is not None,
        "works": [frame.x(when) for when in inside],
        "band": {"y": frame.y(BAND), "height": round(frame.y(-BAND) - frame.y(BAND), 1)},
    }


def climb_text(seen: Climb | None) -> str:
    if seen is None:
        return say("shop-history-level")
    low, high = max(0.0, seen.low), seen.high
    return say("shop-history-climb", low=f"{low:.1f}", high=f"{high:.1f}")


def degree_label() -> str:
    """``°F`` or ``°C``."""
    return str(units()[measures.unit_of("K")]["label"])


def degrees(kelvin: float) -> float:
    """A difference of temperatures in the shop's degrees."""
    return to_unit(kelvin, "K", measures.unit_of("K"))


class Frame:
    """The same days and values for every wheel, so that plots can be held against each other."""

    def __init__(self, marks: list[tuple[float, float, float]], step: float) -> None:
        self.step = step
        times = [when for when, _, _ in marks]
        self.first, self.last = min(times), max(times)
        self.low = step * (min(0.0, *(low for _, low, _ in marks)) // step)
        highest = min(degrees(HOTTEST), max(high for _, _, high in marks))
        self.high = max(self.low + 2 * step, step * (highest // step + 1))

    def x(self, when: float) -> float:
        share = 0.5 if self.last == self.first else (when - self.first) / (self.last - self.first)
        return round(LEFT + 6 + share * (WIDE - LEFT - 12), 1)

    def y(self, degrees: float) -> float:
        inside = min(max(degrees, self.low), self.high)
        return round(
            HIGH - BELOW - (inside - self.low) / (self.high - self.low) * (HIGH - BELOW - 8), 1
        )

    def drawn(self, marks: list[tuple[float, float, float]]) -> Json:
        """Bars from the least to the most a hub can have been, and the lines behind them."""
        count = round((self.high - self.low) / self.step)
        every = -(-count // 4)
        lines = [self.low + self.step * n for n in range(0, count + 1, every)]
        _, least, most = max(marks)
        ends = {"low": f"{least:.0f}", "high": f"{most:.0f}"}
        told = say("shop-history-told", count=len(marks), **ends, unit=degree_label())
        return {
            "bars": [
                {
                    "x": self.x(when),
                    "y": self.y(high),
                    "height": max(2.0, round(self.y(low) - self.y(high), 1)),
                }
                for when, low, high in sorted(marks)
            ],
            "lines": [{"y": self.y(line), "text": f"{line:g}"} for line in lines],
            "first": month(self.first),
            "last": month(self.last),
            "told": told,
            "wide": WIDE,
            "high": HIGH,
            "left": LEFT,
            "floor": HIGH - BELOW,
        }


def month(when: float) -> str:
    return month_text(datetime.fromtimestamp(when).astimezone())
