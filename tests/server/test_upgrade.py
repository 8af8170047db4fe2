"""A store of every release that there was is brought on to this one, and every row of it stays.

Each table of that release gets a row in which every column holds something; what a later release
has under the same name holds the same afterwards.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Connection, MetaData, inspect

from tests.support.effort import few
from tests.support.records import check_body, record
from webapp import config
from webapp.storage.migrate import migrate, older
from webapp.storage.store import Store

CHECK = json.dumps(record(body=check_body()))
# Columns whose text has a form: by name, else every text is a word.
FORMED = {
    "record": CHECK,
    "verdict": json.dumps({"level": "look"}),
    "level": "look",
    "phone_level": "look",
    "level_now": "look",
    "zone": "UTC",
    "units": "us",
    "language": "en",
    "check": "run_stop",
    "work": [],
    "device": "d" * 64,
    "device_hash": "d" * 64,
}
MOMENTS = {
    "made", "seen", "expires", "revoked", "replaced", "opened", "finished", "received", "by",
    "told", "dropped", "sent", "since", "until", "at", "touched", "gone", "tried", "asked",
    "removed", "back", "out", "ended", "used", "done", "undone", "taken",
}  # fmt: skip
MOMENT = "2026-07-14T10:00:00.000+00:00"


@pytest.fixture
def store(tmp_path: Path) -> Store:
    settings = config.from_environment({}, {"TWENTYMILE_DATA": str(tmp_path / "data")})
    return Store(settings["DATABASE_URL"], settings["DATA"])


@pytest.mark.slow
@pytest.mark.sqlite
@pytest.mark.parametrize("revision", few(sorted(older()), 4))
def test_every_row_of_every_release_is_there_after_the_upgrade(store: Store, revision: str) -> None:
    migrate(store, revision)
    with store.writing() as connection:
        before = filled(connection)
    assert before
    migrate(store)
    with store.reading() as connection:
        after = rows(connection)
        broken = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
    store.engine.dispose()
    assert broken == []
    for name, row in before.items():
        found = [one for one in after.get(name, []) if kept(row, one)]
        assert found, (name, row, after.get(name))


# When it came, in milliseconds from the taking back of its link, and the shelf it then has.
IN_THE_TRAY = {"after": (1, 7), "at once": (0, 7), "before": (-1, 5)}


@pytest.mark.slow
@pytest.mark.sqlite
@pytest.mark.parametrize("case", IN_THE_TRAY)
def test_what_was_decided_in_the_tray_before_it_had_a_shelf_gets_it(
    store: Store, case: str
) -> None:
    late, shelf = IN_THE_TRAY[case]
    migrate(store, "0016")
    with store.writing() as connection:
        filled(connection)
        revoked = int(datetime.fromisoformat(MOMENT).timestamp() * 1000)
        connection.exec_driver_sql("UPDATE links SET revoked = ?", (MOMENT,))
        line = "UPDATE records SET shelf = 5, received_ms = ?, link_id = (SELECT id FROM links)"
        connection.exec_driver_sql(line, (revoked + late,))
    migrate(store)
    with store.reading() as connection:
        assert connection.exec_driver_sql("SELECT shelf FROM records").scalar() == shelf
    store.engine.dispose()


CARD = {"finding": "reads_below_air", "place": "", "level": "look"}
HOT = {"finding": "too_hot", "place": "1L", "level": "look"}
# Where it stood, what the phone and the server found, and where it then stands.
HELD: dict[str, tuple[int, Any, list[Any], int]] = {
    "by the phone": (2, [CARD, HOT], [CARD], 8),
    "by the server": (2, [CARD], [HOT], 8),
    "by neither": (2, [CARD], [], 2),
    "in a doubt only": (2, ["too_hot"], [], 2),
    "in no list": (2, {"too_hot": HOT}, [], 2),
    "beside Mend": (1, [HOT], [HOT], 1),
    "decided": (5, [HOT], [HOT], 5),
}


@pytest.mark.slow
@pytest.mark.sqlite
@pytest.mark.parametrize("case", HELD)
def test_what_nobody_is_to_drive_on_with_gets_its_shelf(store: Store, case: str) -> None:
    shelf, phone, server, then = HELD[case]
    migrate(store, "0017")
    body = check_body() | {"verdict": {"level": "look", "findings": phone}}
    texts = json.dumps(record(body=body)), json.dumps({"level": "look", "findings": server})
    with store.writing() as connection:
        filled(connection)
        line = "UPDATE records SET shelf = ?, record = ?, verdict = ?"
        connection.exec_driver_sql(line, (shelf, *texts))
    migrate(store)
    with store.reading() as connection:
        assert connection.exec_driver_sql("SELECT shelf FROM records").scalar() == then
    store.engine.dispose()


def kept(row: Mapping[str, Any], now: Mapping[str, Any]) -> bool:
    return all(now[name] == value for name, value in row.items() if name in now)


def filled(connection: Connection) -> dict[str, dict[str, Any]]:
    """One row in each table of the release that the store has; every column of it filled."""
    found, made = MetaData(), dict[str, dict[str, Any]]()
    found.reflect(connection)
    for table in found.sorted_tables:
        if table.name != "alembic_version":
            made[table.name] = {column.name: value(column, made) for column in table.columns}
            connection.execute(table.insert().values(**made[table.name]))
    return {name: one[0] for name, one in rows(connection).items() if name in made}


def value(column: Any, made: Mapping[str, Mapping[str, Any]]) -> Any:
    for key in column.foreign_keys:  # the row it is about, or none where that is the row itself
        return made.get(key.column.table.name, {}).get(key.column.name)
    if column.name in FORMED:
        return FORMED[column.name]
    kind = column.type.python_type
    if kind in (int, float, bool):
        return kind(1)
    if kind is dict:
        return {}
    if column.name in MOMENTS:
        return MOMENT
    return column.name[: getattr(column.type, "length", None) or 40]


def rows(connection: Connection) -> dict[str, list[dict[str, Any]]]:
    return {
        name: [dict(row._mapping) for row in connection.exec_driver_sql(f'SELECT * FROM "{name}"')]
        for name in inspect(connection).get_table_names()
    }
