"""The time: read here and nowhere else, or passed in."""

from __future__ import annotations

from datetime import UTC, datetime, time
from functools import cache
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError


def now() -> datetime:
    return datetime.now(UTC)


def local_now() -> datetime:
    """The moment with this machine's offset: a bench record has the shop's own date."""
    return now().astimezone()


def moment(text: str) -> datetime:
    """A time with its offset, as ISO 8601 writes it. Raises ``ValueError`` without an offset."""
    found = datetime.fromisoformat(text)
    if found.tzinfo is None or "T" not in text:
        raise ValueError("a time needs its offset")
    return found


def made_at(told: str, made_ms: int, clock_s: int | None) -> datetime:
    """When a record was made: as the phone ``told`` it, or by this server's clock (``made_ms``,
    milliseconds since 1970) where the phone's was ``clock_s`` seconds ahead of it."""
    made = moment(told)
    return made if clock_s is None else datetime.fromtimestamp(made_ms / 1000, made.tzinfo)


@cache
def zone_of(name: str) -> ZoneInfo | None:
    """The zone of a name; None where there is none, which is that of the server."""
    try:
        return ZoneInfo(name) if name else None
    except ZoneInfoNotFoundError:  # a system with another list of zones
        return None


def noon_of_today(zone: str) -> datetime:
    """What is due by a day is kept as that day's noon in UTC: before this one, the day is over."""
    return datetime.combine(now().astimezone(zone_of(zone)).date(), time(12), UTC)
