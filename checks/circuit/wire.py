"""The fault table as it is sent to phones; ``static/engine/lamps.js`` unpacks it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import groupby
from typing import Any


def packed(made: Mapping[str, Any]) -> dict[str, Any]:
    """The table by columns: like stands beside like, which a packer makes a quarter smaller.

    ``rows``: for each run of rows as long as one another, the first letter of all, the second, and
    so on. ``faults`` of a system: names, priors and rows, a list each; groups come of the rows.
    What did not show is for the tests alone, and left out.
    """
    return {
        **made,
        "rows": [columns(run) for _, run in groupby(made["rows"], key=len)],
        "systems": {
            name: {
                "sound": one["sound"],
                "faults": list(zip(*((n, p, r) for n, p, _, r in one["faults"]), strict=True)),
            }
            for name, one in made["systems"].items()
        },
    }


def columns(rows: Iterable[str]) -> list[str]:
    return ["".join(letters) for letters in zip(*rows, strict=True)]
