"""Days and hours as the shop's clock on the wall has them."""

from __future__ import annotations

from datetime import date, datetime

from babel.dates import format_time

from webapp.clock import noon_of_today, zone_of
from webapp.shop import session
from webapp.wording import day_text as written
from webapp.wording import locale


def here(moment: datetime) -> datetime:
    """The moment in the shop's time zone; in the server's where the shop has named none."""
    found = session.current()
    return moment.astimezone(zone_of(found["zone"] if found else ""))


def day_text(when: date) -> str:
    return written(here(when) if isinstance(when, datetime) else when)


def due_text(by: datetime) -> str:
    """The day that something is due by, which is the same on every clock."""
    return written(by.date())


def over_before() -> datetime:
    """Whatever is due by an earlier moment than this is overdue."""
    return noon_of_today(session.me()["zone"])


def clock_text(moment: datetime) -> str:
    """``7:02 PM``, as the language writes it."""
    told = format_time(here(moment), "short", locale=locale())
    return told.replace("\u202f", "\u00a0")  # the narrow one is in few fonts
