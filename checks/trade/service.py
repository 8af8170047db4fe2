"""Service history: when the bearings were last packed, and what the hubs went through since.

The month of the service is kept with the trailer and asked once; what happened since is asked on a
walk. Without an answer nothing is held back: that the bearings may be due is told as a doubt.
"""

from checks.facts import choice, number, text, yes_no
from checks.formula import Expr, convert, fact, is_, quantity
from checks.rules import PRACTICE, Finding, Limits, Quantity, onward

limits = Limits("service")

GREASES = ("lithium", "lithium_complex", "calcium", "polyurea", "other")

FACTS = [
    number("service_year", "count", 1980, 2100, optional=True, past=True),
    number("service_month", "count", 1, 12, optional=True),
    text("bearing_numbers", optional=True),
    text("seal_numbers", optional=True),
    choice("grease_kind", *GREASES, optional=True),
    number("service_run", "km", 0, 200000, us="mi", optional=True),
    yes_no("dunked", optional=True),
    yes_no("salted", optional=True),
    number("stood_months", "count", 0, 240, optional=True),
]

MANUAL = "A trailer maker's manual: bearings every 12 months or 12,000 miles"
WATER = "Boat trailer and axle makers' manuals: repack after the hubs were under water"

# a month that is named runs from its first day to its last
years = fact("service_year") - limits("first_year")
months = fact("service_month") - limits("within")
served = (years + months / limits("months")) * limits("calendar_year")
age, run = quantity("service_age"), fact("service_run")

QUANTITIES = [
    Quantity(
        "service_age",
        "year",
        convert(fact("today"), "day", "year") - served,
        "Definition",
    )
]


def since(
    name: str, level: str, holds: Expr, source: str, standing: str, *shows: str, beneath: str = ""
) -> Finding:
    """A finding on what the bearings went through; unanswered it never holds a walk back."""
    cautions = ("jacking", "maker")
    return Finding(
        name,
        "service_since",
        level,
        holds,
        source,
        standing,
        cautions,
        shows,
        optional=name != "service_due",
        beneath=beneath,
    )


worn_in = (age > limits("years")) | (run > convert(limits("miles"), "mi", "km"))

FINDINGS = [
    onward(since(
        "service_due", "look", worn_in, MANUAL, "read", "service_age",
        beneath="hubs_dunked",
    )),
    since("hubs_dunked", "look", is_("dunked", "yes"), WATER, "memory"),
    since("hubs_salted", "look", is_("salted", "yes"), PRACTICE, "practice", beneath="hubs_dunked"),
    onward(since(
        "hubs_stood", "look", fact("stood_months") >= limits("stood"), PRACTICE, "practice",
        beneath="service_due",
    )),
]  # fmt: skip
