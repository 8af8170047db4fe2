"""A person's way through the app in the engines of other phones: Firefox ESR and WebKitGTK."""

from __future__ import annotations

import json
import os
import shutil
import sqlite3
import subprocess
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager
from pathlib import Path
from typing import Any

import pytest

from tests.phone import test_store, test_twin
from tests.phone.test_shell import rename_app
from tests.support import cases
from tests.support.browser import STATIC
from tests.support.floor import let_in, shop_floor
from tests.support.serve import ROOT, free_port, serving
from webapp import create_app

PYTHON = ROOT / ".venv" / "engines" / "bin" / "python"
SCRIPT = ROOT / "tests" / "support" / "other_engine.py"
NEEDS = {
    "firefox": ("firefox-esr",),
    "webkit": ("WebKitWebDriver", "xvfb-run", "dbus-run-session"),
}
# WebKitGTK needs a display and a session bus, and in a container no sandbox of its own.
AROUND = {"firefox": (), "webkit": ("xvfb-run", "-a", "dbus-run-session", "--")}
PLAIN = {"WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS": "1", "WEBKIT_DISABLE_COMPOSITING_MODE": "1"}

pytestmark = [pytest.mark.slow, pytest.mark.sweep]


@pytest.fixture(params=NEEDS)
def engine(request: pytest.FixtureRequest) -> str:
    name = str(request.param)
    missing = [one for one in NEEDS[name] if not shutil.which(one)]
    if missing or not PYTHON.exists():
        pytest.skip(f"{name} cannot be driven here: make engines ({', '.join(missing)})")
    return name


@pytest.mark.timeout(280)
def test_a_stop_is_kept_and_sent_with_and_without_signal(engine: str, tmp_path: Path) -> None:
    out_of_signal(engine, tmp_path, "stop")
    with closing(sqlite3.connect(tmp_path / "twentymile.sqlite3")) as database:
        assert database.execute("SELECT count(*), count(DISTINCT id) FROM records").fetchone() == (
            2,
            2,
        )


@pytest.mark.timeout(280)
def test_tires_with_a_photo_a_walk_a_link_and_the_next_release(engine: str, tmp_path: Path) -> None:
    port, files, data = free_port(), tmp_path / "files", tmp_path / "data"
    shutil.copytree(STATIC, files)
    app = create_app({"DATA": data})
    floor = shop_floor(app)
    with ExitStack() as world:
        server = world.enter_context(ExitStack())
        server.enter_context(serving(data, port=port, files=files))
        person = world.enter_context(begun(engine, port, "checks", floor.secret))
        assert next_word(person) == "NEXT"
        server.close()
        rename_app(files, "Twentymile next")
        server.enter_context(serving(data, port=port, files=files))
        answer(person)
        _, told = person.communicate(timeout=90)
        assert person.returncode == 0, told
    assert len(floor.rows("records")) == 3
    assert [row["link_id"] for row in floor.rows("records", shop_id=floor.shop)] == [floor.link]
    (photo,) = floor.rows("photos")
    assert photo["record_id"] in {row["id"] for row in floor.rows("records")}


FOUND = {"halt": "Smoke", "hot": "oo hot", "late": "Came back"}


@pytest.mark.timeout(280)
@pytest.mark.parametrize("way", FOUND)
def test_what_a_links_stop_found_reaches_the_inbox(engine: str, tmp_path: Path, way: str) -> None:
    app = create_app({"DATA": tmp_path})
    floor = shop_floor(app)
    with closing(sqlite3.connect(tmp_path / "twentymile.sqlite3")) as database, database:
        database.execute("""UPDATE due SET "check" = 'quick_stop'""")
    out_of_signal(engine, tmp_path, way, floor.secret)
    client = app.test_client()
    let_in(client, app, floor.staff)
    assert FOUND[way] in client.get("/shop").text


@pytest.mark.timeout(280)
def test_a_run_is_loud_outlives_its_server_and_tells_its_check(engine: str, tmp_path: Path) -> None:
    port = free_port()
    with ExitStack() as world:
        server = world.enter_context(ExitStack())
        server.enter_context(serving(tmp_path, port=port))
        person = world.enter_context(begun(engine, port, "run"))
        assert next_word(person) == "WITHOUT"
        server.close()
        answer(person)
        _, told = person.communicate(timeout=120)
        assert person.returncode == 0, told


@pytest.mark.timeout(280)
def test_the_engine_judges_and_the_store_is_brought_on_as_in_chromium(
    engine: str, tmp_path: Path
) -> None:
    payloads = [cases.payload(one) for one in cases.all_cases()[::5]]
    payloads += test_twin.random_payloads(50)
    stores = [test_store.made(version) for version in test_store.RELEASED]
    given = {"said": test_twin.said(), "book": test_twin.served(), "payloads": payloads}
    found = in_suite(engine, tmp_path, given | {"stores": stores})
    assert len(found["verdicts"]) > 100
    for payload, verdict in zip(payloads, found["verdicts"], strict=True):
        assert test_twin.without_hint(test_twin.judged(payload)) == verdict, payload
    for made, kept in zip(stores, found["stores"], strict=True):
        assert kept == made["items"]


# In one page: the engine's verdicts, then stores of earlier releases, made, opened and read.
SUITE = """const engine = async (name) => import(`/static/engine/${name}.js`);
const input = JSON.parse(%s, %s);
const judged = async () => { %s };
const make = %s, read = %s;
const stores = [];
const found = { verdicts: await judged().catch(String), stores };
for (const made of input.stores) {
  await new Promise((done) => { indexedDB.deleteDatabase("twentymile").onsuccess = done; });
  await make(made);
  stores.push(await read(Object.keys(made.kinds)).catch(String));
}
const out = document.createElement("pre");
out.textContent = JSON.stringify(found, %s);
out.id = "out";
document.body.append(out);
"""


def in_suite(engine: str, folder: Path, given: Any) -> Any:
    """What an engine makes of what is given, in a page without the app."""
    port, files, data = free_port(), folder / "files", folder / "data"
    shutil.copytree(STATIC, files)
    data.mkdir()
    text = json.dumps(test_twin.portable(given))
    parts = (text, test_twin.IN, test_twin.JUDGE, test_store.MAKE, test_store.READ, test_twin.OUT)
    (files / "shop" / "suite.js").write_text(SUITE % parts, "utf-8")
    with serving(data, port=port, files=files), begun(engine, port, "suite") as person:
        said, told = person.communicate(timeout=200)
    assert person.returncode == 0, told
    return json.loads(next(line for line in said.splitlines() if line.startswith("{")))


def out_of_signal(engine: str, data: Path, *way: str) -> None:
    """One way of a person, in the middle of which the server is gone for a while."""
    port = free_port()
    with ExitStack() as world:
        server = world.enter_context(ExitStack())
        server.enter_context(serving(data, port=port))
        person = world.enter_context(begun(engine, port, *way))
        assert next_word(person) == "WITHOUT"
        server.close()
        answer(person)
        assert next_word(person) == "WITH"
        server.enter_context(serving(data, port=port))
        answer(person)
        _, told = person.communicate(timeout=120)
        assert person.returncode == 0, told


@contextmanager
def begun(engine: str, port: int, *way: str) -> Iterator[subprocess.Popen[str]]:
    address = f"http://127.0.0.1:{port}"
    command = [*AROUND[engine], str(PYTHON), str(SCRIPT), engine, address, *way]
    with subprocess.Popen(
        command,
        env=os.environ | PLAIN,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as process:
        try:
            yield process
        finally:
            process.kill()


def next_word(person: subprocess.Popen[str]) -> str:
    """What the script waits for; what it said instead fails the test."""
    assert person.stdout is not None
    assert person.stderr is not None
    for line in person.stdout:  # a desktop's services write there too
        if line.strip() in ("WITHOUT", "WITH", "NEXT"):
            return line.strip()
    return person.stderr.read()


def answer(person: subprocess.Popen[str]) -> None:
    assert person.stdin is not None
    person.stdin.write("\n")
    person.stdin.flush()
