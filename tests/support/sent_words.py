"""The words of the app as they travel, by their ids again: written apart from the server's code."""

from __future__ import annotations

from typing import Any


def by_id(sent: dict[str, Any]) -> dict[str, Any]:
    """``say`` of a words file; a first sign ``#`` is no letter like the id before, ``$`` one.

    ``^do`` is the same name with ``.do``, ``~no`` with ``.choice-no``.
    """
    ids = [""]
    for tail in sent["ids"].split(" "):
        name = ids[-1].split(".")[0]
        known = {"^": f"{name}.", "~": f"{name}.choice-"}
        before = known.get(tail[0]) or ids[-1][: ord(tail[0]) - ord("#")]
        ids.append(before + tail[1:])
    return dict(zip(ids[1:], sent["say"], strict=True))
