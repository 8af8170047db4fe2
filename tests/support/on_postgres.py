"""Run tests on a PostgreSQL of their own: `python tests/on_postgres.py [--if-there] [for pytest]`.

Makes a throw-away cluster in a temporary folder, reachable through a socket in it only, and takes
it away again. PostgreSQL refuses to run as root, so then it runs as the user ``postgres``.
"""

from __future__ import annotations

import os
import pwd
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

# Speed over durability: nothing in this cluster outlives the run.
IF_THERE = "--if-there"  # as the first argument: no PostgreSQL is no failure
FAST = ("fsync=off", "synchronous_commit=off", "full_page_writes=off")


def binaries() -> Path | None:
    """The folder with initdb and postgres; the newest, where Debian keeps several."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=version)
    on_path = shutil.which("initdb")
    if found:
        return found[-1].parent
    return Path(on_path).parent if on_path else None


def version(initdb: Path) -> int:
    name = initdb.parent.parent.name
    return int(name) if name.isdigit() else 0


def somebody() -> dict[str, Any]:
    """As whom to run the cluster: oneself, but never root."""
    if os.geteuid() != 0:
        return {}
    try:
        user = pwd.getpwnam("postgres")
    except KeyError:
        sys.exit("PostgreSQL does not run as root and there is no user postgres: make one.")
    return {"user": user.pw_uid, "group": user.pw_gid}


@contextmanager
def cluster(flushed: bool = False) -> Iterator[str]:
    """The address of an empty cluster. ``flushed``: each commit is on disk, as in real use."""
    tools, who = binaries(), somebody()
    if tools is None:
        sys.exit("PostgreSQL's initdb is missing: install it (Debian: apt install postgresql).")
    with tempfile.TemporaryDirectory(prefix="tm-") as folder:
        if who:
            os.chown(folder, who["user"], who["group"])
        data = Path(folder) / "data"
        make = (tools / "initdb", "-D", data, "-U", "tests", "-A", "trust", "-E", "UTF8", "-N")
        subprocess.run(make, cwd=folder, check=True, stdout=subprocess.DEVNULL, **who)
        chosen = ("listen_addresses=", *(() if flushed else FAST))
        settings = [part for setting in chosen for part in ("-c", setting)]
        command = (tools / "postgres", "-D", data, "-k", folder, *settings)
        log = (Path(folder) / "log").open("wb")
        with log, subprocess.Popen(command, cwd=folder, stderr=log, stdout=log, **who) as server:
            try:
                wait_until_ready(tools, folder, server)
                yield f"postgresql://tests@/postgres?host={folder}"
            finally:
                server.terminate()
                server.wait(30)


def wait_until_ready(tools: Path, folder: str, server: Any) -> None:
    asked = (tools / "pg_isready", "-q", "-h", folder)
    for _ in range(300):
        if server.poll() is not None:
            break
        if subprocess.run(asked, check=False).returncode == 0:
            return
        time.sleep(0.1)
    sys.exit(f"PostgreSQL did not start:\n{(Path(folder) / 'log').read_text()}")


def main() -> int:
    given = sys.argv[1:]
    if given[:1] == [IF_THERE]:
        given = given[1:]
        if binaries() is None:
            print("PostgreSQL is not installed here: nothing was tested on it.")
            return 0
    with cluster() as url:
        pytest = (sys.executable, "-m", "pytest", *given)
        environment = os.environ | {"TWENTYMILE_TEST_POSTGRES_URL": url}
        return subprocess.run(pytest, env=environment, check=False).returncode


if __name__ == "__main__":
    sys.exit(main())
