"""Shelves of the inbox: where a check stands there, worst first."""

from __future__ import annotations

# In the order they are shown; a decided check moves to the last.
SHELVES = {"stop": 0, "mend": 1, "look": 2, "nothing": 3, "unchecked": 4}
DECIDED = 5
TRAY = 6  # came on a link that was taken back: the shop sees it, and it paints no trailer
TRAY_DECIDED = 7  # nor does it once somebody has decided it
HELD = 8  # at *Look again*, and not to be driven on with before something is settled
STRAY = (TRAY, TRAY_DECIDED)
DONE = (DECIDED, TRAY_DECIDED)


def level_of(shelf: int) -> str:
    return "look" if shelf == HELD else next(at for at, one in SHELVES.items() if one == shelf)


def shelf_of(phone: str | None, server: str) -> int:
    """By the worse of what the phone and the server said."""
    return min(SHELVES[level] for level in (phone, server) if level is not None)
