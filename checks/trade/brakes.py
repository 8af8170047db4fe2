"""Breakaway gear, brake fluid, and the slow roll: only on trailers that have them."""

from checks.facts import choice, number
from checks.formula import Expr, convert, fact, is_, quantity
from checks.rules import Finding, Limits, Quantity
from checks.trade.signs import practice, sign

limits = Limits("brakes")

electric = is_("brakes", "electric")
surge = is_("brakes", "surge")
powered = is_("brakes", "electric", "hydraulic")

BREAKAWAY = "49 CFR 393.43(d); 49 CFR part 396 App. A 1.i(2)"
FLUID = "49 CFR part 396 App. A 1.j(1)-(9)"
HOSE = "49 CFR 393.45(b), (d); 49 CFR part 396 App. A 1.d-1.e"
ROLLING = ("rolling",)

SIGNS = [
    sign("breakaway_off", "breakaway", "mend", BREAKAWAY, "read"),
    practice("breakaway_cable", "breakaway", "mend"),
    sign("breakaway_battery", "breakaway", "mend", BREAKAWAY, "read", only=powered),
    sign("fluid_low", "fluid", "mend", FLUID, "secondary", "maker"),
    sign("fluid_leak", "fluid", "stop", FLUID, "read", "maker", "jacking"),
    sign("hose_worn", "fluid", "mend", HOSE, "read", "maker", "jacking"),
    practice("actuator", "fluid", "mend", "crush", only=surge),
    practice("roll_noise", "roll", "mend", *ROLLING, "jacking"),
    practice("roll_wobble", "roll", "stop", *ROLLING, "jacking"),
    sign("roll_sway", "roll", "mend", "49 CFR 393.70(a)", "read", *ROLLING, "jacking"),
    sign("mirrors", "roll", "mend", "49 CFR 392.7(a); 49 CFR 392.9(a)(3)", "read"),
    sign("no_brakes", "brake_test", "stop", "49 CFR 393.48(a)", "read", *ROLLING, "jacking"),
    sign(
        "brake_pulls",
        "brake_test",
        "mend",
        "49 CFR 393.48(a); 49 CFR 570.59(a)(1)",
        "read",
        *ROLLING,
        "jacking",
        beneath="no_brakes",
    ),
    practice("brake_stays_on", "brake_test", "mend", *ROLLING, "jacking"),
    sign(
        "controller",
        "brake_test",
        "mend",
        "49 CFR 570.58(a)",
        "read",
        *ROLLING,
        only=electric,
        beneath="no_brakes",
    ),
]

FACTS = [
    *(fact for fact, _ in SIGNS),
    choice("pin_pull", "held", "not_held", optional=True),
    number("magnet_count", "count", 2, 6, optional=True),
    number("magnet_most", "A", 0.5, 10, optional=True),
    number("magnet_amps", "A", 0, 60, optional=True),
]

QUANTITIES = [
    Quantity(
        "amps_each",
        "A",
        fact("magnet_amps") / fact("magnet_count"),
        "49 CFR 570.58(a): average current of each brake",
        "read",
    ),
]


def of_rated(change: Expr) -> Expr:
    """The maker's rated current of a magnet, changed by a share of it."""
    return fact("magnet_most") * (1 + convert(change, "percent", "ratio"))


def current(name: str, holds: Expr) -> Finding:
    return Finding(
        name,
        "magnets",
        "mend",
        electric & holds,
        "49 CFR 570.58(a)(1)",
        "read",
        ("maker", "jacking"),
        ("amps_each",),
        optional=True,
    )


FINDINGS = [
    *(finding for _, finding in SIGNS),
    current("magnets_low", quantity("amps_each") < of_rated(-limits("magnet_under"))),
    current("magnets_high", quantity("amps_each") > of_rated(limits("magnet_over"))),
    Finding(
        "breakaway_dead",
        "breakaway",
        "mend",
        is_("pin_pull", "not_held"),
        BREAKAWAY,
        "read",
        ROLLING,
        optional=True,
    ),
]
