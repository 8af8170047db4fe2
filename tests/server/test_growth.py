"""What a phone's request costs does not grow with what is stored: every row is found by an index.

The statements of each way are asked of SQLite's own planner (sqlite.org/eqp.html: ``SCAN`` goes
through a whole table or index, ``SEARCH`` through a part of it).
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from sqlalchemy import event

from tests.support.floor import Floor, run_stop
from tests.support.photo_files import camera_file, scene
from tests.support.records import HEADERS, envelope, record, uuid7

# These hold a row or so for each shop, however long it is there.
SMALL = {"shops", "staff"}


def photo(floor: Floor) -> Any:
    body = camera_file(scene(90, 60), 6)
    told = {"Photo": uuid7(), "Record": uuid7(), "Point": "check"}
    told |= {"Sha256": hashlib.sha256(body).hexdigest(), "Link": floor.secret}
    headers = HEADERS | {f"X-Twentymile-{name}": text for name, text in told.items()}
    client = floor.app.test_client()
    return client.post("/api/photos", data=body, headers=headers, content_type="image/jpeg")


def several(floor: Floor) -> Any:
    body = {"records": [envelope(record()) for _ in range(5)]}
    return floor.app.test_client().post("/api/records/several", json=body, headers=HEADERS)


def held(floor: Floor) -> Any:
    body = {"records": [uuid7()], "photos": [uuid7()]}
    return floor.app.test_client().post("/api/held", json=body, headers=HEADERS)


def read(floor: Floor) -> Any:
    body = {"secret": floor.secret}
    return floor.app.test_client().post("/api/links/read", json=body, headers=HEADERS)


WAYS: dict[str, Callable[[Floor], Any]] = {
    "one check": lambda floor: floor.send(record(), link=None),
    "five checks": several,
    "a check on a link that answers what is due": lambda floor: floor.send(
        run_stop(20), due=floor.due
    ),
    "a photo on a link": photo,
    "what the server has": held,
    "a link is read": read,
}


@pytest.mark.slow
@pytest.mark.sqlite
@pytest.mark.parametrize("way", WAYS)
def test_what_a_phone_sends_is_found_by_an_index(floor: Floor, way: str) -> None:
    with planned(floor) as walks:
        answer = WAYS[way](floor)
    assert answer.status_code == 200, answer.text
    assert walks == []


@pytest.mark.sqlite
def test_a_walk_through_a_table_is_seen(floor: Floor) -> None:
    with planned(floor) as walks, floor.app.extensions["store"].reading() as connection:
        connection.exec_driver_sql("SELECT seq FROM records WHERE id = ?", ("x",))
    assert [plan for plan, _ in walks] != []


@contextmanager
def planned(floor: Floor) -> Iterator[list[tuple[str, str]]]:
    """The plans, of what is run meanwhile, that go through a whole table; and their statements."""
    engine, walks = floor.app.extensions["store"].engine, list[tuple[str, str]]()

    def look(cursor: Any, statement: str, given: Any, many: bool) -> None:
        if not re.match(r"(SELECT|UPDATE|DELETE)\b", statement):
            return
        about = cursor.connection.execute(
            f"EXPLAIN QUERY PLAN {statement}", given[0] if many else given
        )
        for *_, plan in about.fetchall():
            walked = re.match(r"SCAN (\w+)", plan)
            if walked and walked[1] not in SMALL:
                walks.append((plan, statement))

    @event.listens_for(engine, "before_cursor_execute")
    def before(_: Any, cursor: Any, statement: str, given: Any, __: Any, many: bool) -> None:
        look(cursor, statement, given, many)

    try:
        yield walks
    finally:
        event.remove(engine, "before_cursor_execute", before)
