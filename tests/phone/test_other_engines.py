"""A person's way through the app in the engines of other phones: Firefox ESR and WebKitGTK."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager
from pathlib import Path

import pytest

from tests.support.serve import ROOT, free_port, serving

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
    port = free_port()
    with ExitStack() as world:
        server = world.enter_context(ExitStack())
        server.enter_context(serving(tmp_path, port=port))
        person = world.enter_context(begun(engine, port))
        assert next_word(person) == "WITHOUT"
        server.close()
        answer(person)
        assert next_word(person) == "WITH"
        server.enter_context(serving(tmp_path, port=port))
        answer(person)
        _, told = person.communicate(timeout=90)
        assert person.returncode == 0, told
    with closing(sqlite3.connect(tmp_path / "twentymile.sqlite3")) as database:
        assert database.execute("SELECT count(*), count(DISTINCT id) FROM records").fetchone() == (
            2,
            2,
        )


@contextmanager
def begun(engine: str, port: int) -> Iterator[subprocess.Popen[str]]:
    command = [*AROUND[engine], str(PYTHON), str(SCRIPT), engine, f"http://127.0.0.1:{port}"]
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
        if line.strip() in ("WITHOUT", "WITH"):
            return line.strip()
    return person.stderr.read()


def answer(person: subprocess.Popen[str]) -> None:
    assert person.stdin is not None
    person.stdin.write("\n")
    person.stdin.flush()
