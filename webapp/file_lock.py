"""Taking turns between the processes of one machine."""

from __future__ import annotations

import fcntl
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def locked(path: Path) -> Iterator[None]:
    """Hold a file lock, against other processes on this machine."""
    with open(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600), "a") as file:
        fcntl.flock(file, fcntl.LOCK_EX)
        yield
