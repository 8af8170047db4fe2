"""The fault table as it is sent to phones; ``static/engine/lamps.js`` unpacks it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby, pairwise
from typing import Any


def packed(made: Mapping[str, Any]) -> dict[str, Any]:
    """The table by columns: like stands beside like, which a packer makes a quarter smaller.

    ``rows``: for each run of rows as long as one another, the first letter of all, the second, and
    so on. ``faults`` of a system: names with ``;`` between, priors, and rows, each as the step from
    the row before and one alone without its list; groups come of the rows. What did not show is for
    the tests alone, and left out.
    """
    return {
        **made,
        "rows": [columns(run) for _, run in groupby(made["rows"], key=len)],
        "systems": {
            name: {
                "sound": one["sound"],
                "faults": [
                    ";".join(fault for fault, *_ in one["faults"]),
                    [prior for _, prior, *_ in one["faults"]],
                    list(steps(numbers for *_, numbers in one["faults"])),
                ],
            }
            for name, one in made["systems"].items()
        },
    }


def columns(rows: Iterable[str]) -> list[str]:
    return ["".join(letters) for letters in zip(*rows, strict=True)]


def steps(rows: Iterable[list[int]]) -> Iterator[int | list[int]]:
    """Each row's number less the one before it, through all lists; what stands alone as itself."""
    last = 0
    for numbers in rows:
        found = [number - before for before, number in pairwise([last, *numbers])]
        last = numbers[-1]
        yield found[0] if len(found) == 1 else found
