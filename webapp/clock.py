"""The time: read here and nowhere else, or passed in."""

from __future__ import annotations

from datetime import UTC, datetime


def now() -> datetime:
    return datetime.now(UTC)


def local_now() -> datetime:
    """The moment with this machine's offset: a bench record has the shop's own date."""
    return now().astimezone()


def moment(text: str) -> datetime:
    """A time with its offset, as ISO 8601 writes it. Raises ``ValueError`` without an offset."""
    time = datetime.fromisoformat(text)
    if time.tzinfo is None or "T" not in text:
        raise ValueError("a time needs its offset")
    return time
