"""What only some trailers have: sway gear, a pintle, oil in the hubs, rooms, animals, a spare.

A trailer says once what it has; its points are asked only of those. Most are looked at monthly or
once a season, so that a walk before every trip grows by nothing that it can do without.
"""

from checks.facts import made, yes_no
from checks.formula import convert, fact, is_, limit, quantity
from checks.rules import Finding, Quantity
from checks.trade.signs import practice, sign

surge = is_("brakes", "surge")

PINTLE = "49 CFR part 396 App. A 2.b(2), 2.c(1)-(2)"
FIXED = "49 CFR 393.130(b): what folds or lifts is lowered and held, on machines of 10,000 lb"
FLOOR = "49 CFR 393.84, floors"

SIGNS = [
    practice("spread_loose", "spread", "mend", "crush"),
    practice("sway_worn", "spread", "mend", "crush"),
    sign("pintle_worn", "pintle", "stop", PINTLE, "read", "crush"),
    sign("pintle_open", "pintle", "stop", PINTLE, "read", "crush"),
    practice("lockout_stuck", "brake_test", "mend", "rolling", only=surge),
    practice("legs_down", "rooms", "stop", "crush"),
    practice("gas_open", "rooms", "mend", "gas"),
    practice("steps_out", "rooms", "mend"),
    practice("animal_loose", "animals", "stop", "animals"),
    sign("animal_floor", "animals", "mend", FLOOR, "secondary", "animals"),
    sign("attachment_up", "load", "mend", FIXED, "read", "crush"),
    practice("spare_soft", "spare_fit", "look"),
    practice("spare_other", "spare_fit", "look", "jacking"),
]

FACTS = [
    *(yes_no(name) for name in ("spread_gear", "pintle", "oil_hubs", "animals")),
    *(one for one, _ in SIGNS),
    yes_no("oil_low", scope="wheel"),
    made("spare_made", optional=True),
]

QUANTITIES = [
    Quantity(
        "spare_age",
        "year",
        convert(fact("today") - fact("spare_made"), "day", "year"),
        "49 CFR 574.5(b)(3): week and year of making",
    ),
]

FINDINGS = [
    *(finding for _, finding in SIGNS),
    Finding(
        "oil_low",
        "oil_bath",
        "mend",
        is_("oil_low", "yes"),
        "49 CFR 396.5(b)",
        "read",
        ("jacking", "maker"),
    ),
    Finding(
        "spare_old",
        "spare_fit",
        "look",
        quantity("spare_age") >= limit("tires.age_max"),
        "A car maker's manual: out after 10 years, spare included; tire makers say the same",
        "read",
        ("jacking",),
        ("spare_age",),
        optional=True,
    ),
]
