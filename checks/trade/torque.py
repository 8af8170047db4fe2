"""Wheel nuts: the torque they ask for, the clamp it makes, and when to torque them again."""

from typing import Any

from checks.facts import Fact, choice, number
from checks.formula import Expr, convert, fact, is_, limit, pick, quantity, rank, table
from checks.formula import when as choose
from checks.rules import Finding, Limits, Quantity

limits = Limits("torque")

STUDS = ("s7_16", "s1_2", "s9_16", "s5_8", "m10", "m12", "m14")
STATES = ("dry", "plated", "oiled", "antiseize", "rusty")
PI = 3.141592653589793


def torque(name: str, **more: Any) -> Fact:
    return number(name, "N_m", 10, 900, us="lb_ft", metric="N_m", **more)


lately = ~is_("recent_work", "no")

FACTS = [
    choice("stud", *STUDS),
    choice("torque_from", "figure", "range", "none"),
    torque("torque_maker", when=~is_("torque_from", "none")),
    torque("torque_top", when=is_("torque_from", "range")),
    torque("torque_used"),
    choice("thread_state", *STATES, optional=True),
    number("since_wheel", "km", 0, 50000, us="mi", metric="km", optional=True, when=lately),
    number("torqued_at", "km", 0, 50000, us="mi", metric="km", optional=True, when=lately),
    choice("nut_turned", "none", "settled", "eighth", "half", "damaged"),
]

PAGES = "Trailer wheel and owner pages; they disagree by wheel type"
SHIGLEY = "Shigley, Mechanical Engineering Design: T = K D F"
STRESS = "ASME B1.1 tensile stress area"
SCHEDULE = "Axle service manuals as quoted in trade pages"


def by_stud(name: str) -> Expr:
    return table(f"torque.{name}", rank("stud"))


def published(name: str) -> Expr:
    return convert(by_stud(name), "lb_ft", "N_m")


def clamp(turning: Expr, factor: Expr, diameter: Expr) -> Expr:
    """Force in N that a torque in N_m puts into a bolt of a diameter in mm."""
    return convert(turning, "N_m", "N_mm") / (factor * diameter)


def stress_area(diameter: Expr, pitch: Expr, depth: Expr) -> Expr:
    return PI / 4 * (diameter - depth * pitch) ** 2


since, done = fact("since_wheel"), fact("torqued_at")
FIRST, SECOND, THIRD = (limit(f"follow_up.nuts_{n}") for n in ("first", "second", "third"))


def mark(miles: Expr) -> Expr:
    """Where a mile mark begins, in km."""
    return convert(miles - limits("near"), "mi", "km")


def missed(step: Expr, by: Expr) -> Expr:
    """Truth that the nuts were not torqued at a step and the wheel has run to ``by``."""
    return (done < mark(step)) & (since >= mark(by))


maker, top = fact("torque_maker"), fact("torque_top")
nut_factor = pick("thread_state", {s: limits(f"nut_{s}") for s in STATES})

QUANTITIES = [
    Quantity("torque_least", "N_m", published("least"), PAGES, "secondary"),
    Quantity("torque_most", "N_m", published("most"), PAGES, "secondary"),
    Quantity(
        "torque_low_end",
        "N_m",
        pick("torque_from", {"figure": maker, "range": maker, "none": published("least")}),
        PAGES,
        "secondary",
    ),
    Quantity(
        "torque_high_end",
        "N_m",
        pick("torque_from", {"figure": maker, "range": top, "none": published("most")}),
        PAGES,
        "secondary",
    ),
    Quantity(
        "stud_area",
        "mm2",
        stress_area(by_stud("diameter"), by_stud("pitch"), by_stud("depth")),
        STRESS,
    ),
    Quantity(
        "clamp_force", "N", clamp(fact("torque_used"), nut_factor, by_stud("diameter")), SHIGLEY
    ),
    Quantity("clamp_spread", "N", quantity("clamp_force") * limits("scatter"), SHIGLEY),
    Quantity(
        "stud_share",
        "percent",
        convert(
            quantity("clamp_force") / quantity("stud_area") / limits("proof"), "ratio", "percent"
        ),
        SHIGLEY,
    ),
    Quantity(
        "torque_next",
        "km",
        convert(
            choose(
                done < mark(FIRST),
                FIRST,
                choose(done < mark(SECOND), SECOND, THIRD),
            ),
            "mi",
            "km",
        ),
        SCHEDULE,
        "secondary",
    ),
]

tolerance = convert(limits("wrench"), "percent", "ratio")
used = fact("torque_used")
due = missed(FIRST, FIRST) | missed(SECOND, SECOND) | missed(THIRD, THIRD)
# late by the later of the two published schedules too
late = missed(FIRST, limits("other_first")) | missed(THIRD, limits("other_second"))
ENDS = ("torque_low_end", "torque_high_end")


def rule(name: str, level: str, holds: Expr, source: str, **more: Any) -> Finding:
    cautions = ("maker", "jacking")
    return Finding(name, "torque", level, holds, source, "secondary", cautions, **more)


def again(
    name: str, point: str, level: str, holds: Expr, beneath: str = "", *, optional: bool = True
) -> Finding:
    return Finding(
        name,
        point,
        level,
        holds,
        SCHEDULE,
        "secondary",
        ("traffic", "maker"),
        ("torque_next",),
        optional=optional,
        beneath=beneath,
    )


def turned(name: str, level: str, *choices: str) -> Finding:
    return Finding(
        name,
        "retorque",
        level,
        is_("nut_turned", *choices),
        "Common practice, no source; 49 CFR 393.205",
        "practice",
        ("maker", "jacking", "wheel_work"),
    )


FINDINGS = [
    rule(
        "torque_short",
        "mend",
        used < quantity("torque_low_end") * (1 - tolerance),
        PAGES,
        shows=ENDS,
    ),
    rule(
        "torque_over",
        "mend",
        used > quantity("torque_high_end") * (1 + tolerance),
        PAGES,
        shows=ENDS,
    ),
    rule(
        "torque_unsure",
        "look",
        is_("torque_from", "none")
        & ((used < published("agreed_least")) | (used > published("agreed_most"))),
        PAGES,
        shows=("torque_least", "torque_most"),
    ),
    rule(
        "threads_wrong",
        "look",
        is_("thread_state", "oiled", "antiseize", "rusty"),
        SHIGLEY,
        shows=("clamp_force", "clamp_spread"),
        optional=True,
    ),
    rule(
        "stud_high",
        "look",
        quantity("stud_share") > limits("share_look"),
        f"{SHIGLEY}; SAE J429",
        shows=("stud_share",),
        optional=True,
    ),
    again("torque_late", "retorque", "mend", late),
    again("torque_due", "retorque", "look", due, "torque_late"),
    again("torque_late_stop", "run_more", "mend", lately & late),
    again("torque_due_stop", "run_more", "look", lately & due, "torque_late_stop", optional=False),
    turned("nut_ran", "stop", "half", "damaged"),
    turned("nut_moved", "mend", "eighth"),
]
