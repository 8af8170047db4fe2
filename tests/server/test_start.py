"""Settings, the data folder, migrations and the command that serves."""

from __future__ import annotations

import os
import stat
import sys
from contextlib import closing
from hashlib import sha256
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from gunicorn.app.wsgiapp import WSGIApplication
from sqlalchemy import inspect, select, text

import webapp.storage.store
from tests.support.command import run
from tests.support.serve import ROOT
from webapp import config, create_app, workers
from webapp.__main__ import announcement, gunicorn_arguments, main
from webapp.commands import backup, verify
from webapp.storage.migrate import alembic_config, migrate
from webapp.storage.models import metadata, records, sort_key
from webapp.storage.store import Store

POSTGRES = os.environ.get("TWENTYMILE_TEST_POSTGRES_URL", "")
DATABASES = [
    "sqlite",
    pytest.param(
        "postgres",
        marks=pytest.mark.skipif(
            not POSTGRES, reason="TWENTYMILE_TEST_POSTGRES_URL names no empty database"
        ),
    ),
]


def read(tmp_path: Path, **environment: str) -> dict[str, Any]:
    return config.from_environment({}, {"TWENTYMILE_DATA": str(tmp_path / "data")} | environment)


ROW = {
    "device": "d",
    "id": "i",
    "hash": "h",
    "kind": "photo",
    "version": 1,
    "made_ms": 2**41,
    "received_ms": 2**41,
    "record": "{}",
    "verdict": None,
}


@pytest.fixture(params=DATABASES)
def store(request: pytest.FixtureRequest, tmp_path: Path) -> Store:
    """An empty database."""
    if request.param == "sqlite":
        return Store(f"sqlite:///{tmp_path / 'a.sqlite3'}", tmp_path)
    found = Store(config.database_url(POSTGRES, tmp_path), tmp_path)
    with found.writing() as connection:
        metadata.drop_all(connection)
        connection.execute(text("DROP TABLE IF EXISTS alembic_version"))
    return found


# ---- settings ---------------------------------------------------------------------------------

BAD_SETTINGS = {
    "a switch in words": ("TWENTYMILE_HTTPS", "yes", "use 1 or 0"),
    "a switch out of range": ("TWENTYMILE_HTTPS", "2", "use 1 or 0"),
    "a negative count": ("TWENTYMILE_PROXIES", "-1", "whole number"),
    "a count in words": ("TWENTYMILE_UPLOAD_SECONDS", "soon", "whole number"),
    "an unknown database": ("TWENTYMILE_DATABASE_URL", "mysql://host/db", "postgresql://"),
    "a folder below a file": ("TWENTYMILE_DATA", __file__ + "/data", "cannot be made"),
}


@pytest.mark.parametrize("case", BAD_SETTINGS)
def test_a_bad_setting_is_refused_by_its_name(tmp_path, case):
    name, value, words = BAD_SETTINGS[case]
    with pytest.raises(config.BadSetting, match=words) as refused:
        read(tmp_path, **{name: value})
    assert name in str(refused.value)


@pytest.mark.parametrize("given", ["", "  "])
def test_an_empty_setting_means_its_default(tmp_path, given):
    assert read(tmp_path, TWENTYMILE_UPLOAD_SECONDS=given)["UPLOAD_SECONDS"] == 30


@pytest.mark.parametrize(
    ("given", "meant"),
    [
        ("postgres://u@h/d", "postgresql+psycopg://u@h/d"),
        ("postgresql://u@h/d", "postgresql+psycopg://u@h/d"),
        ("postgresql+psycopg://u@h/d", "postgresql+psycopg://u@h/d"),
        ("sqlite:////srv/a.sqlite3", "sqlite:////srv/a.sqlite3"),
    ],
)
def test_a_database_address_gets_its_driver(tmp_path, given, meant):
    assert read(tmp_path, TWENTYMILE_DATABASE_URL=given)["DATABASE_URL"] == meant


def test_the_secret_is_made_once_for_the_owner_only_and_kept(tmp_path):
    first = read(tmp_path)["SECRET_KEY"]
    path = tmp_path / "data" / "secret_key"
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert len(first) == 64
    assert read(tmp_path)["SECRET_KEY"] == first


def test_a_given_secret_is_used_and_not_written_down(tmp_path):
    assert read(tmp_path, SECRET_KEY="given")["SECRET_KEY"] == "given"
    assert not (tmp_path / "data" / "secret_key").exists()


def test_an_emptied_secret_is_refused(tmp_path):
    read(tmp_path)
    (tmp_path / "data" / "secret_key").write_text("\n")
    with pytest.raises(config.BadSetting, match="secret_key"):
        read(tmp_path)


def test_every_setting_is_in_the_operations_page():
    page = (ROOT / "docs" / "operations.md").read_text()
    names = [setting.name for setting in config.SETTINGS] + ["HOST", "PORT"]
    assert [name for name in names if f"| `{name}` |" not in page] == []


# ---- database ---------------------------------------------------------------------------------


@pytest.mark.slow
def test_migrations_from_empty_make_the_tables_that_the_code_uses(store):
    migrate(store)
    with store.engine.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), metadata) == []
        assert inspect(connection).has_table("records")
    store.engine.dispose()


def test_migrating_again_keeps_what_is_stored(store):
    migrate(store)
    store.add(ROW)
    migrate(store)
    found = store.find("d", "i")
    assert found is not None
    assert ROW.items() <= found.items()
    assert store.add(ROW | {"hash": "other"})["hash"] == "h"
    assert store.find("d", "j") is None
    store.engine.dispose()


def test_records_from_before_there_were_shops_are_kept(store):
    migrate(store, "0001")
    with store.writing() as connection:
        columns = ", ".join(ROW)
        values = ", ".join(f":{name}" for name in ROW)
        connection.execute(text(f"INSERT INTO records ({columns}) VALUES ({values})"), ROW)
    migrate(store)
    assert (ROW | {"shop_id": None, "due_id": None}).items() <= (store.find("d", "i") or {}).items()
    store.engine.dispose()


def test_the_migrations_have_one_head(store):
    script = ScriptDirectory(str(ROOT / "webapp" / "storage" / "migrations"))
    assert len(script.get_heads()) == 1, script.get_heads()


def test_names_from_before_there_was_a_search_sort_like_new_ones(store):
    migrate(store, "0006")
    shop = "INSERT INTO shops (id, name, phone, email, place) VALUES (1, 'Pell', '', '', '')"
    customer = "INSERT INTO customers (id, shop_id, name, phone, email) VALUES (1, 1, :n, '', '')"
    trailer = (
        "INSERT INTO trailers (id, shop_id, customer_id, name, facts, record_id)"
        " VALUES (1, 1, 1, :n, '{}', 'x')"
    )
    with store.writing() as connection:
        for line in (shop, customer, trailer):
            connection.execute(text(line), {"n": "Ädalen BOAT"} if ":n" in line else {})
    migrate(store)
    with store.reading() as connection:
        for name in ("customers", "trailers"):
            row = connection.execute(text(f"SELECT name, sort_name FROM {name}")).one()
            assert tuple(row) == ("Ädalen BOAT", "adalen boat")
            assert sort_key(row.name) == row.sort_name
    store.engine.dispose()


RELEASED = (  # what a shop had in the tables of 0009
    "INSERT INTO shops (id, name, phone, email, place, zone) VALUES (1, 'Pell', '', '', '', '')",
    "INSERT INTO staff (id, shop_id, login, name, password_hash, epoch)"
    " VALUES (1, 1, 'dana', 'Dana', 'x', 0)",
    "INSERT INTO trailers (id, shop_id, name, facts, record_id, touched, sort_name, plate, vin)"
    " VALUES (1, 1, 'Boat', '{}', 'x', '', 'boat', '', '')",
    "INSERT INTO jobs (id, shop_id, trailer_id, opened, work, note, form, parts)"
    " VALUES (1, 1, 1, '2026-07-14T10:00:00.000+00:00', '[]', '', 'f', '{}')",
    """INSERT INTO due (id, shop_id, trailer_id, job_id, "check", what)"""
    " VALUES (1, 1, 1, 1, 'run_stop', 'Hubs')",
    "INSERT INTO photos (id, record_id, point, place, sha256, received_sha256, length, width,"
    " height, shop_id, device_hash, path, received)"
    " VALUES ('p', 'r', 'a', '', 'x', 'x', 1, 1, 1, 1, 'd', 'p', '2026-07-14T10:00:00.000+00:00')",
    "INSERT INTO mails (id, shop_id, record_id, made, tries, error)"
    " VALUES (1, 1, 'r', '2026-07-14T10:00:00.000+00:00', 0, '')",
)


@pytest.mark.slow
def test_a_store_of_the_release_before_keeps_its_rows_and_mails_no_more_than_it_did(store):
    migrate(store, "0009")
    with store.writing() as connection:
        for line in RELEASED:
            connection.execute(text(line))
    migrate(store)
    with store.reading() as connection:
        shop = connection.execute(select(metadata.tables["shops"])).one()
        assert (shop.units, shop.mail_mend, shop.mail_overdue) == ("us", False, False)
        assert connection.execute(select(metadata.tables["photos"])).one().job_id is None
        assert connection.execute(select(metadata.tables["mails"])).one().kind == "stop"
        assert connection.execute(select(metadata.tables["due"])).one().told is None
        assert connection.execute(select(metadata.tables["jobs"])).one().form == "f"
    store.engine.dispose()


def test_a_failed_write_leaves_nothing(store):
    migrate(store)

    def write_and_fail() -> None:
        with store.writing() as connection:
            connection.execute(records.insert().values(**ROW))
            raise RuntimeError

    with pytest.raises(RuntimeError):
        write_and_fail()
    assert store.find("d", "i") is None
    store.engine.dispose()


@pytest.mark.slow
def test_a_record_that_another_host_stores_in_between_is_found(store, monkeypatch):
    migrate(store)
    store.add(ROW)
    # The first look, inside the transaction, comes too early to see the other host's row.
    monkeypatch.setattr(webapp.storage.store, "found_in", late(webapp.storage.store.found_in))
    assert store.add(ROW | {"hash": "other"})["hash"] == "h"
    store.engine.dispose()


def late(look: Any) -> Any:
    """``look``, but blind the first time."""
    calls: list[Any] = []

    def blind_once(*arguments: Any) -> Any:
        calls.append(arguments)
        return look(*arguments) if len(calls) > 1 else {}

    return blind_once


@pytest.mark.slow
@pytest.mark.parametrize(("hashes", "status"), [([], 0), (["right"], 0), (["right", "wrong"], 1)])
def test_a_record_that_no_longer_fits_its_hash_is_named(tmp_path, hashes, status):
    data = tmp_path / "data"
    store = create_app({"DATA": data}).extensions["store"]
    for number, kind in enumerate(hashes):
        digest = sha256(b"{}" if kind == "right" else b"[]").hexdigest()
        store.add(ROW | {"id": f"{kind} {number}", "hash": digest})
    store.engine.dispose()
    done = run(verify.main, TWENTYMILE_DATA=str(data))
    assert done.returncode == status
    counted = (
        f"Records read: {len(hashes)}. Not as they were: {status}.\n"
        "Photos read: 0. Not as they were: 0.\n"
    )
    assert done.stdout == counted
    assert ("wrong 1" in done.stderr) == (status == 1)


@pytest.mark.slow
@pytest.mark.sqlite
def test_a_backup_holds_what_is_stored_and_can_take_the_databases_place(tmp_path):
    data, target = tmp_path / "data", tmp_path / "copy.sqlite3"
    store = create_app({"DATA": data}).extensions["store"]
    store.add(ROW | {"hash": sha256(b"{}").hexdigest()})
    done = run(backup.main, str(target), TWENTYMILE_DATA=str(data))
    assert done.stdout == f"One record, proved by its hash, is in {target}\n"
    assert stat.S_IMODE(target.stat().st_mode) == 0o600
    assert [path.name for path in tmp_path.glob("copy*")] == ["copy.sqlite3"]
    store.engine.dispose()
    restored = create_app({"DATA": tmp_path / "new", "DATABASE_URL": f"sqlite:///{target}"})
    assert restored.extensions["store"].find("d", "i")["record"] == "{}"


@pytest.mark.slow
@pytest.mark.sqlite
def test_a_backup_that_is_not_whole_is_refused_and_removed(tmp_path):
    data, target = tmp_path / "data", tmp_path / "copy.sqlite3"
    create_app({"DATA": data}).extensions["store"].add(ROW)
    done = run(backup.main, str(target), TWENTYMILE_DATA=str(data))
    assert (done.returncode, target.exists()) == (1, False)
    assert "A record does not fit its hash: i." in done.stderr


NO_BACKUPS = {
    "a file that exists": ("sqlite", __file__, "is there already: name a new file"),
    "a folder that does not": ("sqlite", "/nowhere/copy", "There is no folder"),
    "an empty data folder": ("none", "copy", "There is no database"),
    "another database": ("postgresql://h/d", "copy", "pg_dump"),
}


@pytest.mark.parametrize("case", NO_BACKUPS)
def test_a_backup_says_what_is_in_its_way(tmp_path, case):
    database, target, words = NO_BACKUPS[case]
    url = f"sqlite:///{tmp_path / database}" if ":" not in database else database
    (tmp_path / "sqlite").touch()
    done = run(
        backup.main,
        str(tmp_path / target),
        TWENTYMILE_DATA=str(tmp_path),
        TWENTYMILE_DATABASE_URL=url,
    )
    assert done.returncode == 1
    assert words in done.stderr


def test_sqlite_flushes_each_commit_and_holds_foreign_keys(tmp_path):
    store = Store(f"sqlite:///{tmp_path / 'a.sqlite3'}", tmp_path)
    with closing(store.engine.raw_connection()) as connection:
        pragmas = {
            name: connection.execute(f"PRAGMA {name}").fetchone()[0]  # type: ignore[attr-defined]
            for name in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
        }
    full = 2
    assert pragmas == {
        "journal_mode": "wal",
        "synchronous": full,
        "foreign_keys": 1,
        "busy_timeout": 10000,
    }
    store.engine.dispose()


@pytest.mark.sqlite
def test_the_server_says_that_it_lives_and_whether_it_can_work(app, client):
    assert client.get("/readyz").json == {
        "status": "ok",
        "database": "ok",
        "tables": "ok",
        "disk": "ok",
    }
    app.extensions["store"].engine.dispose()
    (app.config["DATA"] / "twentymile.sqlite3").unlink()
    (app.config["DATA"] / "twentymile.sqlite3").mkdir()
    assert client.get("/healthz").status_code == 200
    response = client.get("/readyz")
    assert (response.status_code, response.json["database"]) == (503, "silent")


def test_a_database_of_another_release_is_not_ready(app, client):
    with app.extensions["store"].writing() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '0001'"))
    response = client.get("/readyz")
    assert (response.status_code, response.json["tables"]) == (503, "other_release")


@pytest.mark.parametrize(("free", "status"), [(99_999_999, 503), (100_000_000, 200)])
def test_a_disk_that_is_nearly_full_is_not_ready(client, monkeypatch, free, status):
    monkeypatch.setattr("shutil.disk_usage", lambda _: SimpleNamespace(free=free))
    assert client.get("/readyz").status_code == status


@pytest.mark.slow
def test_what_the_server_did_is_counted_where_that_is_switched_on(tmp_path):
    quiet = create_app({"DATA": tmp_path / "quiet"}).test_client()
    assert quiet.get("/metrics").status_code == 404
    counted = create_app({"DATA": tmp_path / "counted", "METRICS": True}).test_client()
    counted.get("/shop/checks/0198c7a0-0000-7000-8000-000000000001")
    counted.open("/", method="SOMEBODY")
    text = counted.get("/metrics").text
    assert 'page="/shop/checks/<uuid:record>"' in text
    assert "0198c7a0" not in text
    assert "SOMEBODY" not in text
    assert "twentymile_mails_waiting 0" in text
    assert "twentymile_disk_free_bytes" in text


# ---- the command ------------------------------------------------------------------------------


@pytest.mark.parametrize("port", ["0", "65536", "eighty", "-1", "²", ""])
def test_a_bad_port_is_refused_in_words(tmp_path, port):
    done = run(main, PORT=port, TWENTYMILE_DATA=str(tmp_path))
    assert done.returncode == 1
    assert done.stderr == f"PORT is {port!r}: use a number from 1 to 65535.\n"


@pytest.mark.slow
def test_a_taken_port_is_named(server, tmp_path):
    port = server.rsplit(":", 1)[1]
    done = run(main, HOST="127.0.0.1", PORT=port, TWENTYMILE_DATA=str(tmp_path))
    assert done.returncode == 1
    assert f"PORT {port}" in done.stderr
    assert "choose another" in done.stderr


def test_the_command_prints_where_it_can_be_reached():
    everywhere = announcement("0.0.0.0", "8020", "data")
    assert "http://localhost:8020/" in everywhere
    assert "HTTPS" in everywhere
    assert "webapp.commands.accounts add" in everywhere
    assert "http://127.0.0.1:8021/" in announcement("127.0.0.1", "8021", "data")


def test_rules_are_read_and_judged_with_before_there_are_processes(monkeypatch) -> None:
    """Else each process reads them for itself, and its first checks wait for that."""
    judged: list[str] = []
    monkeypatch.setattr(workers, "judge", lambda payload: judged.append(payload["check"]))
    monkeypatch.setattr(workers.gc, "freeze", lambda: judged.append("shared"))
    monkeypatch.setattr(sys, "argv", ["gunicorn", *gunicorn_arguments("127.0.0.1", "8020")[3:]])
    WSGIApplication().cfg.on_starting(None)
    assert judged == [*workers.FIRST, "shared"]


def test_the_migrations_are_one_line_without_forks() -> None:
    """Two with the same parent would leave a database at one of them."""
    script = ScriptDirectory.from_config(alembic_config(None))
    assert len(script.get_heads()) == 1
    assert len(script.get_bases()) == 1
