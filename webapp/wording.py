"""What pages, prints and mails say, in the language of whoever reads; and dates."""

from __future__ import annotations

from datetime import date
from functools import cache
from zoneinfo import available_timezones

from babel.dates import format_date, format_skeleton
from babel.support import LazyProxy

from checks.places import place_name
from checks.words import words

# The region whose order of day and month a language is written in.
REGIONS = {"en": "en_US", "es": "es_US"}


def language() -> str:
    """The language of the current page. There is one so far."""
    return "en"


def say(name: str, /, **values: object) -> str:
    """The words ``name`` with their values; KeyError where they are missing."""
    return words(language()).say(name, **values)


def said(name: str, otherwise: str) -> str:
    """The words ``name``, or what stands for them in a check of another release."""
    return say(name) if words(language()).has(name) else otherwise


def place_text(place: str, axles: int) -> str:
    """``1L`` as the left wheel, on a tandem of axle 1; empty for the trailer as a whole."""
    return place_name(words(language()), place, axles)


def day_text(when: date) -> str:
    """A day as it is written in the language: ``Jul 14, 2026``."""
    return format_date(when, "medium", locale=REGIONS[language()])


@cache
def zones() -> tuple[str, ...]:
    """The time zones there are, by their IANA names; reading them takes half a second."""
    return tuple(sorted(name for name in available_timezones() if "/" in name))


def month_text(when: date) -> str:
    """``Jul 2026``, in the language's own order."""
    return str(format_skeleton("yMMM", when, locale=REGIONS[language()]))


def later(name: str, /, **values: object) -> str:
    """Words that are looked up when they are shown: for what is built once, at start."""
    proxy: str = LazyProxy(say, name, enable_cache=False, **values)  # type: ignore[assignment]
    return proxy
