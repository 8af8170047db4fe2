"""Runs a command of the app in this process: what it prints, and how it ends."""

from __future__ import annotations

import sys
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from io import StringIO
from unittest.mock import patch


@dataclass(frozen=True)
class Done:
    returncode: int
    stdout: str
    stderr: str


def run(
    main: Callable[[], int | None], *arguments: str, given: str = "", **environment: str
) -> Done:
    """``main`` as from a shell, with these words after its name, on its input, and around it."""
    out, err, code = StringIO(), StringIO(), 0
    with (
        patch.object(sys, "argv", ["command", *arguments]),
        patch.object(sys, "stdin", StringIO(given)),
        patch.dict("os.environ", environment),
        redirect_stdout(out),
        redirect_stderr(err),
    ):
        try:
            code = main() or 0
        except SystemExit as end:
            code = end.code if isinstance(end.code, int) else int(end.code is not None)
            if isinstance(end.code, str):
                print(end.code, file=err)
    return Done(code, out.getvalue(), err.getvalue())
