"""Prints the pages of ``docs/`` that are made from data: ``python docs/generate.py coverage``."""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from checks.rulebook import load  # noqa: E402  (the line above makes it findable)

COVERAGE_HEAD = """# What the walk covers of the yearly federal inspection

49 CFR part 396, Appendix A lists what a yearly inspection of a commercial vehicle looks at. It
binds commercial vehicles only; here it is a yardstick. *Light* says whether an item can occur on a
light trailer. The page is made by `python docs/generate.py coverage` from `checks/coverage.toml`.

| source | item | light | where the walk asks it, or why it does not |
|---|---|---|---|
"""


def read_coverage() -> list[dict[str, Any]]:
    """The items of ``checks/coverage.toml``, in the order of the list."""
    text = (ROOT / "checks" / "coverage.toml").read_text("utf-8")
    items: list[dict[str, Any]] = tomllib.loads(text)["item"]
    return items


def coverage() -> str:
    """The page ``docs/coverage.md``."""
    names = load().data["words"]["point"]
    return COVERAGE_HEAD + "".join(_row(item, names) for item in read_coverage())


def _row(item: dict[str, Any], names: dict[str, str]) -> str:
    source = item["source"].removeprefix("49 CFR part 396 ")
    where = ", ".join(f"{names[p]} (`{p}`)" for p in item.get("points", []))
    return f"| {source} | {item['item']} | {item['light']} | {where or item['why_not']} |\n"


PAGES: dict[str, Callable[[], str]] = {"coverage": coverage}


def main(arguments: list[str]) -> int:
    if len(arguments) != 1 or arguments[0] not in PAGES:
        print(f"Name one page: {', '.join(PAGES)}.", file=sys.stderr)
        return 2
    print(PAGES[arguments[0]](), end="")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
