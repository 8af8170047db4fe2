"""The product's locks carry all that it needs, also what a package wants for one extra alone."""

from __future__ import annotations

import re
import subprocess
import sys

import pytest

from tests.support.effort import few
from tests.support.serve import ROOT

# What no lock names is hidden, as it is missing where the lock alone was installed.
START = """
import re, sys
from importlib.metadata import packages_distributions
kept = set(sys.argv[1:])
plain = lambda name: re.sub(r"[-_.]+", "-", name).lower()
hidden = {top for top, of in packages_distributions().items() if not kept & {*map(plain, of)}}
class Hide:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in hidden:
            raise ModuleNotFoundError(f"No module named {name!r}", name=name)
sys.meta_path.insert(0, Hide())
import webapp, webapp.connections, webapp.commands.demo, webapp.commands.mail
"""


@pytest.mark.slow
@pytest.mark.parametrize("name", few(["requirements.lock", "requirements-postgres.lock"], 1))
def test_the_server_starts_with_what_its_lock_names(name: str) -> None:
    named = re.findall(r"^([a-z][\w-]*)==", (ROOT / name).read_text("utf-8"), re.MULTILINE)
    assert {"flask", "gunicorn", "gevent"} <= set(named)
    command = [sys.executable, "-c", START, *named]
    told = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert told.returncode == 0, told.stderr
