"""The load: what could fall, how it is tied, how it sits, and the weight where it is known."""

from checks.facts import choice, number, yes_no
from checks.formula import fact, is_, quantity
from checks.rules import PRACTICE, Finding, Quantity
from checks.trade.signs import practice, sign

FALLS = "49 CFR 393.100(b); 49 CFR 393.106(c)(1); 49 CFR part 396 App. A 6.a"
weighed = is_("weighed", "yes")

SIGNS = [
    sign("load_loose", "load", "stop", FALLS, "read", "crush"),
    sign("straps_few", "load", "mend", "49 CFR 393.110(b); 49 CFR 393.130(a)-(c)", "read"),
    sign("strap_worn", "load", "mend", "49 CFR 393.104(b)-(d), (f)(1), (f)(4)", "read"),
    sign("strap_slack", "load", "mend", "49 CFR 393.104(f)(3)", "read"),
    sign("load_unflagged", "load", "mend", "49 CFR 393.87(a)", "read"),
    sign(
        "load_high",
        "load",
        "mend",
        "Va. Code 46.2-1105 and 46.2-1110; local law may differ",
        "read",
    ),
    sign("spare_loose", "spare", "stop", f"{FALLS}; 49 CFR 392.9(a)(2)", "read"),
    practice("spare_missing", "spare", "look"),
    practice("jack_missing", "spare", "look"),
    practice("chocks_missing", "spare", "look"),
    sign(
        "load_shifted",
        "load_stop",
        "stop",
        "49 CFR 392.9(b)(2); 49 CFR 393.100(c)",
        "read",
        "traffic",
        "crush",
    ),
    sign("strap_loosened", "load_stop", "mend", "49 CFR 392.9(b)(2)", "read", "traffic"),
    sign("gate_moved", "load_stop", "stop", "49 CFR 392.9(a)(2), (b)(2)", "read", "traffic"),
]

FACTS = [
    *(fact for fact, _ in SIGNS),
    choice("tongue_feel", "level", "light", "heavy"),
    yes_no("weighed"),
    number("gross_weight", "kg", 50, 12000, us="lb", when=weighed, optional=True),
    number("gross_rating", "kg", 50, 12000, us="lb", optional=True),
]

QUANTITIES = [
    Quantity(
        "over_rating",
        "kg",
        fact("gross_weight") - fact("gross_rating"),
        "Definition",
    ),
]

TONGUE = "Public towing guidance: 10 to 15 percent of the loaded weight on the ball"

FINDINGS = [
    *(finding for _, finding in SIGNS),
    Finding(
        "tongue_light",
        "balance",
        "mend",
        is_("tongue_feel", "light"),
        TONGUE,
        "secondary",
        ("crush",),
    ),
    Finding(
        "tongue_heavy",
        "balance",
        "mend",
        is_("tongue_feel", "heavy"),
        TONGUE,
        "secondary",
        ("crush",),
    ),
    Finding(
        "overloaded",
        "weight",
        "stop",
        weighed & (quantity("over_rating") > 0),
        PRACTICE + ": the maker's rating is the limit",
        "practice",
        ("maker",),
        ("over_rating",),
        optional=True,
    ),
]
