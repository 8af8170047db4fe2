"""Days and hours as the shop's clock on the wall has them."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo, available_timezones

from webapp.shop import session
from webapp.wording import day_text as day_of


def here(moment: datetime) -> datetime:
    """The moment in the shop's time zone; in the server's where the shop has named none."""
    found = session.current()
    zone = found["zone"] if found else ""
    return moment.astimezone(ZoneInfo(zone) if zone in available_timezones() else None)


def day_text(when: date) -> str:
    return day_of(here(when) if isinstance(when, datetime) else when)


def clock_text(moment: datetime) -> str:
    """``19:02``."""
    return here(moment).strftime("%H:%M")
