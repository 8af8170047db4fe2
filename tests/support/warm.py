"""A process that has read all a server reads before it serves; each server of a test forks from it.

So a start costs a tenth of the three seconds of processor that a cold one takes. Each process of a
run of tests has such a one from its first server on; it ends with that process.
"""

from __future__ import annotations

import os
import subprocess
import sys
from multiprocessing import forkserver
from multiprocessing.context import ForkServerProcess
from pathlib import Path

ROOT = Path(__file__).parents[2]


class Server(ForkServerProcess):
    """gunicorn with these arguments; to whoever started it, it is as one of ``subprocess``."""

    def __init__(self, arguments: list[str], environ: dict[str, str], log: Path) -> None:
        super().__init__()
        self.arguments, self.environ, self.log = arguments, environ, log

    def run(self) -> None:
        with self.log.open("wb") as output:
            os.dup2(output.fileno(), 1)
            os.dup2(output.fileno(), 2)
        os.environ.clear()
        os.environ.update(self.environ)
        os.chdir(ROOT)
        sys.argv = self.arguments[2:]  # after the interpreter and its -m
        from gunicorn.app.wsgiapp import run

        run()

    def poll(self) -> int | None:
        return self.exitcode

    def wait(self, seconds: float) -> None:
        self.join(seconds)
        if self.exitcode is None:
            raise subprocess.TimeoutExpired(self.arguments, seconds)


def started(arguments: list[str], environ: dict[str, str], log: Path) -> Server:
    forkserver.set_forkserver_preload(["tests.support.warmed"])
    server = Server(arguments, environ, log)
    server.daemon = True  # it never outlives who started it
    server.start()
    return server
