"""Fixtures that several test files use; each is a noun."""

from __future__ import annotations

import gc
import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from shutil import copy
from tempfile import TemporaryDirectory
from uuid import uuid4

import pytest
from flask import Flask
from flask.testing import FlaskClient
from jinja2.bccache import Bucket, BytecodeCache
from playwright.sync_api import Browser
from sqlalchemy import Engine, create_engine, event, make_url
from werkzeug.routing import Rule

from tests.support import (
    effort,  # noqa: F401  (sets how hard hypothesis tries)
    packed,
    whole_suite,
)
from tests.support.browser import AGAINST_POLICY, launched
from tests.support.serve import serving
from webapp import create_app
from webapp.config import database_url
from webapp.shop import accounts
from webapp.storage import store
from webapp.storage.migrate import migrate

if whole_suite.ON:
    whole_suite.stand_between()
POSTGRES = os.environ.get("TWENTYMILE_TEST_POSTGRES_URL", "")


def pytest_configure(config: pytest.Config) -> None:
    """The first process of a run makes the folder in which all of them share what is packed."""
    if packed.FOLDER not in os.environ:
        folder, patch = TemporaryDirectory(), pytest.MonkeyPatch()
        config.add_cleanup(folder.cleanup)
        patch.setenv(packed.FOLDER, folder.name)
        config.add_cleanup(patch.undo)
    packed.share()


def pytest_collection() -> None:
    """What is collected stays: to look through it for what may go takes a seventh of the time."""
    gc.disable()


def pytest_collection_finish() -> None:
    gc.freeze()
    gc.enable()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Marks what opens a browser, from the fixtures it uses; such files come first.

    They take longest, and two processes share the files out: the last ones should be short.
    """
    for item in items:
        if "chromium" in getattr(item, "fixturenames", ()):
            item.add_marker("browser")
    with_browser = {item.path for item in items if item.get_closest_marker("browser")}
    items.sort(key=lambda item: item.path not in with_browser)
    leave_few(items)


SLOW, NOT_PLAIN = ("slow", "browser"), ("long", "sample", "sweep")


def leave_few(items: list[pytest.Item]) -> None:
    """Of a table with slow cases ``make test`` takes the first; the others are long."""
    tables = set()
    for item in items:
        slow, left = (any(map(item.get_closest_marker, marks)) for marks in (SLOW, NOT_PLAIN))
        if slow and not left:
            table = item.nodeid.partition("[")[0]
            if table in tables:
                item.add_marker("long")
            tables.add(table)


@pytest.fixture(autouse=True)
def database(
    request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch, layout: str
) -> Iterator[None]:
    """With TWENTYMILE_TEST_POSTGRES_URL set, each test has a PostgreSQL database of its own."""
    if not POSTGRES or request.node.get_closest_marker("sqlite"):
        yield
        return
    engines: list[Engine] = []
    make = store.make_engine
    monkeypatch.setattr(store, "make_engine", lambda url: engines.append(make(url)) or engines[-1])
    with fresh_database(layout) as url:
        monkeypatch.setenv("TWENTYMILE_DATABASE_URL", url)
        yield
        for engine in engines:
            engine.dispose()


@pytest.fixture(scope="session")
def layout(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The name of a database with all tables and no rows, to copy; on SQLite there is none."""
    if not POSTGRES:
        yield ""
        return
    folder = tmp_path_factory.mktemp("layout")
    with fresh_database("template0") as url:
        made = store.Store(database_url(url, folder), folder)
        migrate(made)
        made.engine.dispose()
        yield str(made.engine.url.database)


@contextmanager
def fresh_database(template: str) -> Iterator[str]:
    """The address of a copy of ``template``, dropped afterwards."""
    name, here = f"t_{uuid4().hex}", make_url(database_url(POSTGRES, Path()))
    server = create_engine(here, isolation_level="AUTOCOMMIT")
    with server.connect() as connection:
        connection.exec_driver_sql(f"CREATE DATABASE {name} TEMPLATE {template} STRATEGY file_copy")
        yield here.set(database=name).render_as_string(hide_password=False)
        connection.exec_driver_sql(f"DROP DATABASE {name} WITH (FORCE)")
    server.dispose()


@pytest.fixture(autouse=True)
def content_policy() -> Iterator[None]:
    """No page may do what its content policy forbids, in any test with a browser."""
    AGAINST_POLICY.clear()
    yield
    assert AGAINST_POLICY == []


@pytest.fixture(autouse=True, scope="session")
def cheap_passwords() -> Iterator[None]:
    """The kind of hash that the shop keeps, at a hundredth of its cost: a sign-in takes no time."""
    make = accounts.generate_password_hash
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            accounts, "generate_password_hash", lambda word, method: make(word, f"{method}:256:8:1")
        )
        yield


class Compiled(BytecodeCache):
    """Compiled templates, kept for as long as the tests run: each test has an app of its own."""

    def __init__(self) -> None:
        self.kept: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        if code := self.kept.get(f"{bucket.key} {bucket.checksum}"):
            bucket.bytecode_from_string(code)

    def dump_bytecode(self, bucket: Bucket) -> None:
        self.kept[f"{bucket.key} {bucket.checksum}"] = bucket.bytecode_to_string()


@pytest.fixture(autouse=True, scope="session")
def templates_compiled_once() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Flask, "jinja_options", {"bytecode_cache": Compiled()})
        yield


@pytest.fixture(autouse=True, scope="session")
def routes_compiled_once() -> Iterator[None]:
    """Of an app it takes longest to compile what builds its addresses, and each test has an app."""
    make = Rule._compile_builder
    made: dict[tuple[object, ...], Callable[..., tuple[str, str]]] = {}

    def compile_builder(rule: Rule, append_unknown: bool = True) -> Callable[..., tuple[str, str]]:
        key = (*rule._trace, append_unknown, *sorted((rule.defaults or {}).items()))
        if key not in made:
            made[key] = make(rule, append_unknown)
        return made[key]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Rule, "_compile_builder", compile_builder)
        yield


@pytest.fixture(autouse=True, scope="session")
def statements_compiled_once() -> Iterator[None]:
    """A statement is compiled for its dialect, and each test has an engine with one of its own."""
    make, known, compiled = store.make_engine, {}, {}

    def make_engine(url: str) -> Engine:
        engine = make(url)
        engine.dialect = known.setdefault(engine.dialect.name, engine.dialect)
        engine.update_execution_options(compiled_cache=compiled)
        return engine

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(store, "make_engine", make_engine)
        yield


@pytest.fixture(scope="session")
def tables(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A SQLite database as the first start leaves it, to copy."""
    folder = tmp_path_factory.mktemp("tables")
    create_app({"DATA": folder}).extensions["store"].engine.dispose()
    return folder / "twentymile.sqlite3"


NewApp = Callable[..., Flask]


@pytest.fixture(scope="session")
def new_app(tables: Path) -> NewApp:
    """Makes the application on a folder without records, with settings of its own."""

    def made(folder: Path, **settings: object) -> Flask:
        if POSTGRES:
            return create_app({"DATA": folder, **settings})
        folder.mkdir(exist_ok=True)
        copy(tables, folder)
        app = create_app({"DATA": folder, **settings})
        without_flushing(app.extensions["store"].engine)
        return app

    return made


@pytest.fixture
def app(tmp_path: Path, new_app: NewApp) -> Flask:
    """The application on a data folder without records."""
    return new_app(tmp_path / "data", TESTING=False)


def without_flushing(engine: Engine) -> None:
    """No power cut comes in a test: what is written need not have reached the disk."""
    event.listen(engine, "connect", lambda one, _: one.execute("PRAGMA synchronous=OFF"))
    engine.dispose()


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    return app.test_client()


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a real gunicorn with its workers, on a free port and an empty data folder."""
    with serving(tmp_path_factory.mktemp("data")) as address:
        yield address


@pytest.fixture(autouse=whole_suite.ON)
def nothing_beside_the_catalogue() -> Iterator[None]:
    """In the made-up language: no screen of the test showed text that no mark encloses."""
    yield
    assert whole_suite.taken() == {}


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """One browser for the whole run; each test opens a context of its own in it."""
    with launched() as browser:
        yield browser
