"""Days and hours as the shop's clock on the wall has them."""

from __future__ import annotations

from datetime import date, datetime
from functools import cache
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from webapp.shop import session
from webapp.wording import day_text as day_of


def here(moment: datetime) -> datetime:
    """The moment in the shop's time zone; in the server's where the shop has named none."""
    found = session.current()
    return moment.astimezone(zone_of(found["zone"] if found else ""))


@cache
def zone_of(name: str) -> ZoneInfo | None:
    """The zone of a name; None where there is none, which is that of the server."""
    try:
        return ZoneInfo(name) if name else None
    except ZoneInfoNotFoundError:  # a system with another list of zones
        return None


def day_text(when: date) -> str:
    return day_of(here(when) if isinstance(when, datetime) else when)


def clock_text(moment: datetime) -> str:
    """``19:02``."""
    return here(moment).strftime("%H:%M")
