"""The hitch: ball, coupler, lift test, tilt pivot and safety chains."""

from checks.facts import choice
from checks.formula import Expr, is_, limit, pick, quantity
from checks.rules import PRACTICE, Finding, Quantity
from checks.trade.signs import practice, sign

BALLS = ("1_7_8", "50_mm", "2", "2_5_16")
HITCH = "COMAR 11.22.04.11 E"
COUPLER = "COMAR 11.22.04.11 D-E"
CHAIN = "COMAR 11.22.04.11 F; 49 CFR part 396 App. A 2.e"
SIZES = "Ball and coupler sizes must match: a smaller ball can pull out; common practice, no source"

SIGNS = [
    sign("ball_loose", "ball", "stop", HITCH, "read", "traffic"),
    sign("hitch_pin_missing", "ball", "stop", "49 CFR 393.70(c)(4)", "read", "traffic"),
    sign("ball_worn", "ball", "stop", HITCH, "read", "traffic"),
    sign("hitch_cracked", "ball", "stop", HITCH, "read", "traffic"),
    sign("latch_worn", "coupler", "mend", HITCH, "read", "crush"),
    sign("coupler_cracked", "coupler", "stop", COUPLER, "read", "crush"),
    sign("coupler_bolt", "coupler", "stop", "COMAR 11.22.04.11 D", "read", "crush"),
    practice("jack_down", "coupler", "mend", "crush"),
    sign("tilt_pin", "tilt_lock", "stop", "49 CFR 393.70(c)", "read", "crush"),
    practice("tilt_latch", "tilt_lock", "stop", "crush"),
    practice("tilt_wiring", "tilt_lock", "mend", "crush"),
    sign("chain_missing", "chains", "stop", CHAIN, "read", beneath="chains_too_few"),
    sign("chain_worn", "chains", "mend", "49 CFR part 396 App. A 2.e(3)-(4)", "read"),
    sign("chain_anchor", "chains", "mend", "49 CFR 393.70(d)(1)", "read"),
    practice("chain_hook", "chains", "mend"),
    sign(
        "chain_uncrossed",
        "chains",
        "mend",
        "Government of Alberta, equipment for trailers; 49 CFR 393.71(h)(10)(ii)",
        "read",
    ),
    sign("chain_length", "chains", "mend", "49 CFR 393.70(d)(2), (d)(4)", "read"),
    sign("latch_moved", "coupling_stop", "stop", "49 CFR 393.70(c)(4)", "read", "traffic"),
    sign("chain_off", "coupling_stop", "stop", CHAIN, "read", "traffic"),
    practice("plug_off", "coupling_stop", "mend", "traffic"),
]

FACTS = [
    choice("ball_size", *BALLS),
    choice("coupler_size", *BALLS),
    choice("latch", "no", "yes"),
    choice("lift_test", "rises", "slack", "comes_off"),
    *(fact for fact, _ in SIGNS),
]


def diameter(name: str) -> Expr:
    """The nominal ball diameter that a stamp stands for, in millimetres."""
    return pick(name, {size: limit(f"coupling.ball_{size}") for size in BALLS})


QUANTITIES = [
    Quantity(
        "ball_gap",
        "mm",
        diameter("coupler_size") - diameter("ball_size"),
        "Definition",
    ),
]

FINDINGS = [
    Finding(
        "ball_too_small",
        "ball",
        "stop",
        quantity("ball_gap") > 0,
        SIZES,
        "practice",
        ("traffic",),
        ("ball_gap",),
    ),
    Finding(
        "ball_too_large",
        "ball",
        "mend",
        quantity("ball_gap") < 0,
        SIZES,
        "practice",
        (),
        ("ball_gap",),
    ),
    Finding(
        "latch_open",
        "latch",
        "stop",
        is_("latch", "no"),
        "49 CFR 393.70(c)(4); COMAR 11.22.04.11 E",
        "read",
        ("crush",),
    ),
    Finding(
        "lifts_off", "lift", "stop", is_("lift_test", "comes_off"), PRACTICE, "practice", ("crush",)
    ),
    Finding(
        "lift_slack",
        "lift",
        "mend",
        is_("lift_test", "slack"),
        "49 CFR 393.70(c)(3)",
        "read",
        ("crush",),
    ),
    *(finding for _, finding in SIGNS),
]
