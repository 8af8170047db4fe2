"""Stopping: the way to a stand, what an unbraked trailer adds, and the pull on the chains.

An unbraked trailer is stopped by the vehicle's brakes alone: the same force slows more weight. That
is the careful end; below the grip of the tires a driver can press harder.
"""

from checks.facts import choice, number
from checks.formula import Expr, convert, fact, pick, quantity, table, when
from checks.rules import Finding, Limits, Quantity, onward
from checks.trade.ratings import gross, unbraked

limits = Limits("stopping")

FACTS = [
    choice("road_wet", "dry", "wet"),
    number("chain_angle", "deg", 0, 60, spread=5.0),
    number("chain_slack", "mm", 0, 600, us="in", spread=10.0),
]

MOTION = "Kinematics of even braking"
STATICS = "Statics of two chains"


def braking(speed: Expr, slowing: Expr) -> Expr:
    """Way from the first touch of the brakes, in m of m/s and m/s2."""
    return speed**2 / (2 * slowing)


def snatch(mass: Expr, speed: Expr, stretch: Expr) -> Expr:
    """Pull that takes up a speed within a stretch, in weight: work and energy."""
    return mass * speed**2 / (2 * stretch) / limits("gravity")


def push(slowing: Expr, trailer: Expr, vehicle: Expr) -> Expr:
    """Force of the trailer on the ball, in weight; slowing is the vehicle's alone."""
    return slowing / (1 / trailer + 1 / vehicle)


grip = pick("road_wet", {"dry": limits("grip_dry"), "wet": limits("grip_wet")})
speed = convert(fact("planned_speed"), "km_h", "m_s")
heavier = quantity("weight_ratio")
alone = braking(speed, grip * limits("gravity"))
ENERGY = "Work and energy"

QUANTITIES = [
    Quantity(
        "weight_ratio",
        "ratio",
        when(unbraked, 1 + gross / fact("tow_weight"), 1),
        "Definition",
    ),
    Quantity("reaction_way", "m", speed * limits("reaction"), MOTION),
    Quantity("stop_alone", "m", quantity("reaction_way") + alone, MOTION),
    Quantity("stop_with", "m", quantity("reaction_way") + alone * heavier, MOTION),
    Quantity("stop_added", "m", alone * (heavier - 1), MOTION),
    Quantity("slowing_with", "m_s2", limits("grip_dry") * limits("gravity") / heavier, MOTION),
    Quantity(
        "ball_push",
        "kg",
        when(unbraked, push(grip, gross, fact("tow_weight")), 0),
        "Definition",
    ),
    Quantity("chain_share", "ratio", table("stopping.chain_share", fact("chain_angle")), STATICS),
    Quantity(
        "chain_pull", "kg", gross * limits("chain_slowing") * quantity("chain_share"), STATICS
    ),
    Quantity(
        "snatch_speed",
        "m_s",
        (2 * limits("chain_slowing") * limits("gravity") * convert(fact("chain_slack"), "mm", "m"))
        ** 0.5,
        ENERGY,
    ),
    Quantity(
        "chain_snatch",
        "kg",
        snatch(gross, quantity("snatch_speed"), convert(limits("chain_stretch"), "mm", "m")),
        ENERGY,
    ),
]

MAKER = ("maker",)
FINDINGS = [
    onward(
        Finding(
            "stops_too_slowly",
            "stopping",
            "look",
            unbraked & (quantity("slowing_with") < limits("least_slowing")),
            "49 CFR 393.52(d), combinations",
            "secondary",
            MAKER,
            ("slowing_with",),
        )
    ),
    Finding(
        "chain_pull_over",
        "chain_pull",
        "mend",
        quantity("chain_pull") > quantity("chain_break"),
        STATICS,
        "computed",
        MAKER,
        ("chain_pull", "chain_break"),
    ),
    Finding(
        "chain_snatch_over",
        "chain_pull",
        "look",
        quantity("chain_snatch") > quantity("chain_break"),
        ENERGY,
        "computed",
        MAKER,
        ("snatch_speed", "chain_snatch", "chain_break"),
        optional=True,
        beneath="chain_pull_over",
    ),
]
