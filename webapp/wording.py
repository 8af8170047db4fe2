"""What pages, prints and mails say, in the language of whoever reads; and dates."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import date
from functools import cache
from zoneinfo import available_timezones

from babel import Locale
from babel.dates import format_date, format_skeleton
from babel.numbers import format_decimal, format_percent
from babel.support import LazyProxy
from flask import g, has_request_context, request

from checks.places import place_name, sign_of
from checks.words import FIRST, finished, region, words

# The phone's own choice, kept by it: nobody is known by it.
COOKIE = "language"
_chosen: ContextVar[str] = ContextVar("language")


def language() -> str:
    """The language to write in: the one that was set, or else that of whoever sent the request."""
    if chosen := _chosen.get(""):
        return chosen
    if not has_request_context():
        return FIRST
    if "language" not in g:
        g.language = asked_for()
    return str(g.language)


def asked_for() -> str:
    """What the phone was set to, what a link names, or the best of what the browser reads."""
    named = (request.cookies.get(COOKIE), request.args.get("language"))
    best = request.accept_languages.best_match(finished(), FIRST)
    return next((one for one in named if one in finished()), best) or FIRST


def speak(wanted: str) -> None:
    """Answer the current request in this language, where it is offered."""
    if wanted in finished():
        g.language = wanted


@contextmanager
def speaking(wanted: str) -> Iterator[None]:
    """Write in this language for a while; where it is not offered nothing changes."""
    token = _chosen.set(wanted if wanted in finished() else _chosen.get(""))
    try:
        yield
    finally:
        _chosen.reset(token)


def say_to(reader: str, name: str, /, **values: object) -> str:
    """The words ``name`` in the reader's own language, or in that of the page where it is empty."""
    with speaking(reader):
        return say(name, **values)


def own_name(of: str) -> str:
    """What a language calls itself: ``English``, ``español``."""
    return Locale.parse(of, sep="-").get_language_name() or of


def region_of_page() -> str:
    """The BCP 47 tag that dates and numbers of the page are written by."""
    return region(language())


def locale() -> str:
    """The same as Babel names it."""
    return region_of_page().replace("-", "_")


def say(name: str, /, **values: object) -> str:
    """The words ``name`` with their values; KeyError where they are missing."""
    return words(language()).say(name, **values)


def said(name: str, otherwise: str) -> str:
    """The words ``name``, or what stands for them in a check of another release."""
    return say(name) if words(language()).has(name) else otherwise


def finding_title(
    finding: str, place: str, otherwise: str, said: Callable[[str, str], str] = said
) -> str:
    """What was found, by the words of ``said``: at a wheel, or at one that nobody has told."""
    sign = sign_of(finding, place)
    seen = said(f"fact-{sign}", "") if sign else ""
    if seen:
        return say("app-stop-now-unplaced", sign=seen)
    return said(f"finding-{finding}", otherwise)


def unit_text(unit: str, number: str = "") -> str:
    """What stands after a number of this unit: ``°F``, ``years``."""
    return words(language()).unit(unit, number)


def place_text(place: str, axles: int) -> str:
    """``1L`` as the left wheel, on a tandem of axle 1; empty for the trailer as a whole."""
    return place_name(words(language()), place, axles)


def day_text(when: date) -> str:
    """A day as it is written in the language: ``Jul 14, 2026``."""
    return format_date(when, "medium", locale=locale())


def number_text(value: float, digits: int = 0) -> str:
    """A number with so many decimals, as it is written in the language: ``1,234.5``."""
    return format_decimal(value, f"#,##0.{'0' * digits}".rstrip("."), locale=locale())


def percent_text(share: float) -> str:
    """A part of one in percent, as it is written in the language: ``57%``."""
    return format_percent(share, locale=locale())


@cache
def zones() -> tuple[str, ...]:
    """The time zones there are, by their IANA names; reading them takes half a second."""
    return tuple(sorted(name for name in available_timezones() if "/" in name))


def month_text(when: date) -> str:
    """``Jul 2026``, in the language's own order."""
    return str(format_skeleton("yMMM", when, locale=locale()))


def later(name: str, /, **values: object) -> str:
    """Words that are looked up when they are shown: for what is built once, at start."""
    proxy: str = LazyProxy(say, name, enable_cache=False, **values)  # type: ignore[assignment]
    return proxy
