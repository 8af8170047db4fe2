"""The lamps and reflectors that width, length and use ask for, counted and measured."""

from checks.facts import number, yes_no
from checks.formula import Expr, fact, is_, pick, quantity, when
from checks.rules import Finding, Limits, Quantity
from checks.trade.lamps import long_trailer, not_short, wide_trailer

limits = Limits("lamp_set")

TABLE = "49 CFR 571.108 Table I-b"


REAR = ("tail", "stop", "turn", "rear_reflector")
HEIGHTS = ("tail", "turn", "reflector", "marker")

FACTS = [
    *(number(f"count_{name}", "count", 0, 20) for name in (*REAR, "plate_lamp")),
    *(number(f"count_{name}", "count", 0, 40) for name in ("side_lamp", "side_reflector")),
    *(
        number(f"count_{name}", "count", 0, 20, when=wide_trailer)
        for name in ("clearance", "identification")
    ),
    yes_no("amber_rear"),
    *(number(f"height_{n}", "in", 0, 160, us="in", metric="mm", optional=True) for n in HEIGHTS),
]


def need(name: str, formula: Expr, standing: str = "secondary") -> Quantity:
    return Quantity(f"need_{name}", "count", formula, TABLE, standing)


QUANTITIES = [
    need("pair", limits("pair")),
    need("plate", limits("one")),
    need("red_side", limits("pair")),
    need(
        "amber_side", when(not_short, limits("pair"), 0.0) + when(long_trailer, limits("pair"), 0.0)
    ),
    need("side", quantity("need_red_side") + quantity("need_amber_side")),
    need(
        "clearance",
        when(wide_trailer, pick("boat", {"no": limits("four"), "yes": limits("pair")}), 0.0),
        "read",
    ),
    need("identification", when(wide_trailer, limits("three"), 0.0), "read"),
]


def few(name: str, needed: str, point: str, only: Expr | None = None) -> Finding:
    short = fact(f"count_{name}") < quantity(f"need_{needed}")
    return Finding(
        f"few_{name}",
        point,
        "mend",
        short if only is None else only & short,
        f"{TABLE}; 49 CFR 393.9, 393.11",
        "secondary",
        (),
        (f"need_{needed}",),
    )


def outside(name: str, wrong: Expr) -> Finding:
    return Finding(
        f"height_{name}_off", "lamp_heights", "mend", wrong, TABLE, "secondary", optional=True
    )


def height(name: str, top: str) -> Expr:
    at = fact(f"height_{name}")
    return (at < limits("low")) | (at > limits(top))


marker = fact("height_marker")

FINDINGS = [
    *(few(name, "pair", "lamp_rear_count") for name in REAR),
    few("plate_lamp", "plate", "lamp_rear_count"),
    few("side_lamp", "side", "lamp_side_count"),
    few("side_reflector", "side", "lamp_side_count"),
    few("clearance", "clearance", "lamp_side_count", wide_trailer),
    few("identification", "identification", "lamp_side_count", wide_trailer),
    Finding(
        "amber_rear",
        "lamp_heights",
        "mend",
        is_("amber_rear", "yes"),
        "49 CFR 393.11(c)",
        "read",
    ),
    outside("tail", height("tail", "tail_high")),
    outside("turn", height("turn", "turn_high")),
    outside("reflector", height("reflector", "reflector_high")),
    outside(
        "marker", (marker < limits("low")) | (wide_trailer & (marker > limits("marker_high_wide")))
    ),
]
