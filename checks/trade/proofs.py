"""What is counted on a walk because nobody can guess it: chains, nuts, lamps, tie-downs."""

from checks.facts import choice, number
from checks.formula import fact, is_, limit, mate
from checks.rules import PRACTICE, Finding

FACTS = [
    choice("chains_hooked", "none", "one", "two", optional=True),
    number("nut_count", "count", 3, 8, scope="wheel", optional=True),
    number("lamps_lit", "count", 0, 6, optional=True),
    number("ties_counted", "count", 0, 6, optional=True),
]

CHAIN = "COMAR 11.22.04.11 F; 49 CFR part 396 App. A 2.e"

FINDINGS = [
    Finding(
        "chains_too_few",
        "chains",
        "stop",
        is_("chains_hooked", "none", "one"),
        CHAIN,
        "read",
        optional=True,
    ),
    Finding(
        "nuts_fewer",
        "nuts_counted",
        "stop",
        fact("nut_count") < mate(fact("nut_count")),
        f"49 CFR 393.205(c) for a missing nut; comparing the two sides: {PRACTICE}",
        "practice",
        ("traffic", "jacking", "maker"),
        optional=True,
    ),
    Finding(
        "lamps_too_few",
        "lamps_rear",
        "mend",
        fact("lamps_lit") < limit("proofs.tail_lamps"),
        "49 CFR 393.11 table: two tail lamps at the rear",
        "read",
        ("traffic",),
        optional=True,
    ),
]
