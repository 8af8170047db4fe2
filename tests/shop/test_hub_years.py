"""The trailer's file draws each hub against its mate and says when one climbs stop by stop."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from flask import Flask

from checks.history import hub_gaps
from tests.support.floor import DAY, NOW, Floor, let_in, shop_floor
from tests.support.records import check_body, record

ROAD = {"axles": 1, "brakes": "none", "air": 20, "run_distance": 40, "run_speed": 90, "parked": 3,
        "hub_method": "thermometer", "hub_spot": "barrel", "hub_size": "bore_27"}  # fmt: skip
LEVEL = [36.5] * 6
CLIMB = [*LEVEL, 40.0, 43.5, 47.0]


def stop(left: float, ago: timedelta, **facts: Any) -> dict[str, Any]:
    made = NOW - ago
    body = check_body(
        check="quick_stop",
        date=made.date().isoformat(),
        facts=ROAD | {"hub_reading@1L": left, "hub_reading@1R": 36.0} | facts,
    )
    return record(made=made.isoformat(), body=body)


@pytest.fixture
def floor(app: Flask) -> Floor:
    return shop_floor(app)


def file_page(floor: Floor, lefts: list[float]) -> str:
    for number, left in enumerate(lefts):
        assert floor.send(stop(left, (len(lefts) - number) * DAY)).status_code == 200
    client = floor.app.test_client()
    let_in(client, floor.app, floor.staff)
    return str(client.get(f"/shop/trailers/{floor.trailer}/file").text)


@pytest.mark.parametrize(
    ("title", "lefts", "climbs"),
    [("a climb", CLIMB, 1), ("level", LEVEL, 0), ("too few", CLIMB[-4:], 0)],
)
def test_a_steady_climb_is_told_beside_its_plot(floor, title, lefts, climbs):
    page = file_page(floor, lefts)
    assert page.count("A steady climb from stop to stop") == 2 * climbs, title  # text and label
    assert "Each hub against its mate" in page


def test_a_single_stop_draws_nothing(floor):
    assert "Each hub against its mate" not in file_page(floor, LEVEL[:1])


def test_work_on_the_hub_begins_the_row_again(floor):
    floor.change("jobs", floor.job, work=["bearings"], finished=NOW - 2 * DAY)
    assert "A steady climb" not in file_page(floor, CLIMB)


GAPS = [
    ("both measured", {}, "1L", True),
    ("seen from the mate", {}, "1R", True),
    ("one not measured", {"hub_reading@1R": None}, "1L", False),
    ("an answer that is none", {"air": "warm"}, "1L", False),
    ("a wheel it does not have", {}, "3L", False),
]


@pytest.mark.parametrize(("title", "facts", "wheel", "known"), GAPS, ids=[g[0] for g in GAPS])
def test_a_stop_says_something_of_a_hub_or_nothing(title, facts, wheel, known):
    body = stop(40.0, DAY, **facts)["body"]
    found = hub_gaps(body).get(wheel)
    assert (found is not None) == known, title
    if found:
        assert (found.middle > 0) == (wheel == "1L")
