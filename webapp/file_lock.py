"""Taking turns between the processes of one machine."""

from __future__ import annotations

import fcntl
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def locked(path: Path) -> Iterator[None]:
    """Hold a file lock, against other processes on this machine."""
    with path.open("a") as file:
        fcntl.flock(file, fcntl.LOCK_EX)
        yield
