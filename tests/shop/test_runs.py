"""A run that ended on a shop's link: taken in once, and shown on the trailer's page."""

from __future__ import annotations

from typing import Any

import pytest

from tests.support.floor import Floor, let_in
from tests.support.records import envelope, error_of, record, uuid7

BEGAN, ENDED = "2026-07-14T08:00:00+02:00", "2026-07-14T10:00:00+02:00"


def stop(name: str, what: list[str], reached: bool, done: bool, km: float) -> dict[str, Any]:
    return {
        "id": name,
        "what": what,
        "km": km,
        "reached": BEGAN if reached else None,
        "done": ENDED if done else None,
        "check": None,
    }


def run(**changes: Any) -> dict[str, Any]:
    body = {
        "run": uuid7(),
        "trailer": uuid7(),
        "began": BEGAN,
        "ended": ENDED,
        "by": "time",
        "km": 64.4,
        "minutes": 48.0,
        "speed": 80,
        "work": ["wheels_off"],
        "legs": [{"name": "out", "km": 0, "minutes": 0}],
        "stops": [
            stop("out:10", ["nuts"], True, True, 16.1),
            stop("out:20", ["hubs"], True, False, 32.2),
            stop("out:50", ["hubs", "load"], False, False, 80.5),
        ],
    } | changes
    return record(kind="run", body=body)


def trailer_page(floor: Floor) -> str:
    client = floor.app.test_client()
    let_in(client, floor.app, floor.staff)
    return str(client.get(f"/shop/trailers/{floor.trailer}").text)


def test_a_run_on_a_link_stands_on_the_trailers_page(floor):
    assert floor.send(run()).status_code == 200
    page = trailer_page(floor)
    assert "40 mi, looked at 0 of 2" in page
    assert "Stopped, nothing answered: wheel nuts" in page  # said to be looked at, by no check
    assert "Still due: hubs" in page
    assert "Not reached: hubs, load (50 mi)" in page


def test_a_run_sent_twice_stands_there_once(floor):
    one = run()
    floor.send(one)
    floor.send(one)
    assert trailer_page(floor).count("looked at 0 of 2") == 1


@pytest.mark.slow
def test_a_run_without_a_link_is_kept_and_shown_to_no_shop(floor):
    assert floor.send(run(), link=None).status_code == 200
    assert len(floor.rows("records", kind="run")) == 1
    assert "looked at" not in trailer_page(floor)


def test_a_run_is_no_check_and_settles_nothing(floor):
    floor.send(run(), due=floor.due)
    (row,) = floor.rows("records", kind="run")
    assert (row["level"], row["verdict"], row["shelf"]) == (None, None, None)
    assert floor.rows("due")[0]["record_id"] is None


# Wheels and axles of a stop made sooner because a check found something there, and what is told.
SOONER = [
    ("a wheel of one axle", ["1L"], {"axles": 1}, "Still due: hubs: Left wheel<"),
    ("a wheel of two axles", ["2R"], {"axles": 2}, "Still due: hubs: Right wheel, axle 2<"),
    ("two wheels", ["1L", "1R"], {"axles": 1}, "Still due: hubs: Left wheel; Right wheel<"),
    ("axles not said", ["1L"], {}, "Still due: hubs: Left wheel<"),
    ("no wheel", [], {"axles": 1}, "Still due: hubs<"),
]


@pytest.mark.parametrize(
    ("title", "places", "more", "told"), SOONER, ids=[one[0] for one in SOONER]
)
def test_a_stop_made_sooner_names_its_wheels(floor, title, places, more, told):
    sooner = stop("again:1", ["hubs"], True, False, 48.3) | {"places": places} | more
    assert floor.send(run(stops=[sooner])).status_code == 200
    assert told in trailer_page(floor)


WRONG = [
    ("a place on earth", {"fix": {"latitude": 45.4, "longitude": -75.7}}, "record.body.fix"),
    ("miles below nothing", {"km": -1}, "record.body.km"),
    ("miles as words", {"km": "far"}, "record.body.km"),
    ("miles round the earth twice", {"km": 200_000}, "record.body.km"),
    ("no stops", {"stops": None}, "record.body.stops"),
    ("a stop of words", {"stops": ["hubs"]}, "record.body.stops.0"),
    (
        "a wheel no trailer has",
        {"stops": [stop("again:1", ["hubs"], True, False, 48.3) | {"places": ["left"]}]},
        "record.body.stops.0.places.0",
    ),
    (
        "no axle at all",
        {"stops": [stop("again:1", ["hubs"], True, False, 48.3) | {"axles": 0}]},
        "record.body.stops.0.axles",
    ),
    ("counted by guess", {"by": "guess"}, "record.body.by"),
]


@pytest.mark.parametrize(("title", "changes", "field"), WRONG, ids=[one[0] for one in WRONG])
def test_a_run_of_another_shape_is_refused(floor, title, changes, field):
    answer = floor.app.test_client().post(
        "/api/records",
        json=envelope(run(**changes)),
        headers={"X-Twentymile-Device": "00112233445566778899aabbccddeeff"},
    )
    assert error_of(answer, 422)["field"] == field, title


def test_a_stop_of_another_release_is_shown_by_its_own_name(floor):
    odd = [stop("out:5", ["<b>winch</b>"], True, False, 8.0)]
    floor.send(run(stops=odd))
    assert "&lt;b&gt;winch&lt;/b&gt;" in trailer_page(floor)
