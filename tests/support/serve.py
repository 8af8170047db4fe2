"""A real server for tests and benchmarks, on a free port and a data folder of its own."""

from __future__ import annotations

import os
import socket
import subprocess
import time
import urllib.error
import urllib.request
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from tests.support import packed, warm, whole_suite
from webapp.__main__ import gunicorn_arguments

ROOT = Path(__file__).parents[2]
ONE = ("--workers", "1")  # for what is not about several: each process takes two seconds to start
END = 60  # seconds in which a server has ended: it lets requests end for 20


@contextmanager
def serving(
    data: Path,
    instead: Sequence[str] = (),
    port: int = 0,
    files: Path | None = None,
    cold: bool = False,
    **environment: str,
) -> Iterator[str]:
    """Serve ``data`` as `make run` does; what the server printed is in the error if it fails.

    Options in ``instead`` win over those of `make run`; ``port`` 0 is any that is free; ``files``
    stand in the place of the app's own. In a run of tests it forks from a process that has read
    what it reads (``tests.support.warm``), unless it is to start ``cold``.
    """
    port = port or free_port()
    *arguments, application = gunicorn_arguments("127.0.0.1", str(port))
    if packed.FOLDER in os.environ:
        application = "tests.support.packed:serve()"
    if files:
        application = f"tests.support.on_files:serve('{files}')"
    log = data / "server.log"
    start = started if cold or packed.FOLDER not in os.environ else warm.started
    process = start(
        [*arguments, *instead, whole_suite.APPLICATION or application],
        os.environ | {"TWENTYMILE_DATA": str(data)} | environment,
        log,
    )
    try:
        wait_until_healthy(f"http://127.0.0.1:{port}", process, log)
        yield f"http://127.0.0.1:{port}"
    finally:
        process.terminate()
        try:
            process.wait(END)
        except subprocess.TimeoutExpired:
            process.kill()
            raise


def started(arguments: list[str], environ: dict[str, str], log: Path) -> subprocess.Popen[bytes]:
    with log.open("wb") as output:
        return subprocess.Popen(arguments, cwd=ROOT, env=environ, stdout=output, stderr=output)


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def wait_until_healthy(
    address: str, process: subprocess.Popen[bytes] | warm.Server, log: Path, patience: float = 60
) -> None:
    deadline = time.monotonic() + patience
    while time.monotonic() < deadline and process.poll() is None:
        try:
            with urllib.request.urlopen(f"{address}/healthz", timeout=2):
                return
        except (urllib.error.URLError, ConnectionError, TimeoutError):
            time.sleep(0.05)
    raise RuntimeError(f"the server did not start:\n{log.read_text()}")
