"""Tire figures: size, load and speed tires are made for, air through weather and height, matching.

A tire carries its marked load at its marked pressure; with less air it carries less, by a power of
the pressure. The power of trailer tires is fitted to their printed load tables; of other kinds only
its span is known, so the answer is a range. At a stop the warmth of a sidewall is read together
with its pressure: a soft tire heats because it bends, a firm one because it comes apart inside.
"""

from checks.facts import choice, number, size
from checks.formula import (
    Expr,
    absolute,
    convert,
    each,
    exp,
    fact,
    is_,
    limit,
    ln,
    mate,
    pick,
    quantity,
    rank,
    smallest,
    table,
    when,
)
from checks.rules import PRACTICE, Finding, Limits, Quantity, onward
from checks.trade.tires import GAS

limits = Limits("tire_figures")

PI = 3.141592653589793
FAMILIES = ("st", "lt", "passenger", "other")
RANGES = ("b", "c", "d", "e", "f", "g")
# slowest first, so that a rank grows with the speed; H stands where its speed is
SYMBOLS = (
    *(f"a{n}" for n in range(1, 9)),
    *"bcdefgjklmnpqrstuhvwy",
)
WARMER = ("like", "warmer", "much")

by_load = is_("rating_by", "load")
by_index = is_("rating_by", "index")
much = is_("side_heat", "much") | is_("inner_heat", "much")
warm = is_("side_heat", "warmer", "much") | is_("inner_heat", "warmer", "much")

FACTS = [
    size("tire_size", scope="axle", optional=True),
    choice("load_range", *RANGES, scope="axle"),
    choice("tire_family", *FAMILIES),
    choice("rating_by", "load", "index"),
    number("tire_rating", "kg", 90, 2500, us="lb", when=by_load),
    number("load_index", "count", 50, 130, when=by_index),
    number("tire_load", "kg", 20, 3000, us="lb", scope="axle"),
    choice("speed_symbol", *SYMBOLS, "none"),
    number("planned_speed", "km_h", 8, 160, us="mph"),
    number("fill_pressure", "kPa", 50, 1000, us="psi"),
    number("fill_air", "degC", -45, 55, us="degF", spread=1.0),
    number("fill_height", "m", -150, 4500, us="ft", spread=15.0),
    number("height_now", "m", -150, 4500, us="ft", spread=15.0),
    choice("round_by", "tape", "across"),
    number(
        "tire_round",
        "mm",
        900,
        3500,
        us="in",
        scope="wheel",
        spread=1.5,
        when=is_("round_by", "tape"),
    ),
    number(
        "tire_height",
        "mm",
        290,
        1100,
        us="in",
        scope="wheel",
        spread=1.5,
        when=is_("round_by", "across"),
    ),
    number("track", "mm", 700, 2600, us="in", spread=5.0, optional=True),
    choice("side_heat", *WARMER, scope="wheel", optional=True),
    choice("inner_heat", *WARMER, scope="wheel", optional=True),
    choice("side_pressure", "low", "normal", "high", scope="wheel", when=warm, optional=True),
]

SHARE = "Power law fitted to printed trailer tire load tables; Daws, Tire Society 2009"
RATED = "49 CFR 571.110 S4.2.2.2; ISO 4000-1 load index table"
ATMOSPHERE = "US Standard Atmosphere 1976, troposphere"
GEOMETRY = "Geometry"


def air_at(height: Expr) -> Expr:
    """Pressure of the standard air in kPa at a height in metres below 11 km."""
    left = 1 - height / limits("lapse_height")
    return limit("tires.atmosphere") * left ** limits("lapse_power")


def carried(rated: Expr, full: Expr, pressure: Expr, power: Expr) -> Expr:
    """Load at a pressure; never more than the rating, however hard the tire is pumped."""
    return rated * exp(power * ln(smallest(pressure / full, 1)))


def pressure_for(load: Expr, rated: Expr, full: Expr, power: Expr) -> Expr:
    return full * exp(ln(load / rated) / power)


power = pick("tire_family", {f: limits("power_st" if f == "st" else "power") for f in FAMILIES})
index = fact("load_index")
derate = pick(
    "tire_family", {f: limits("passenger_divisor") if f == "passenger" else 1.0 for f in FAMILIES}
)
rated = pick(
    "rating_by", {"load": fact("tire_rating"), "index": table("tire_figures.load_index", index)}
)
carries = quantity("tire_carries")

girth = quantity("tire_girth")

QUANTITIES = [
    Quantity("overall_diameter", "mm", fact("tire_size"), "Definition", scope="axle"),
    Quantity(
        "tire_revs",
        "count",
        convert(limits("mile"), "mi", "mm") / (PI * fact("tire_size") * limits("loaded")),
        GEOMETRY,
        scope="axle",
    ),
    Quantity(
        "size_gap",
        "mm",
        each("max", "all", fact("tire_size")) - each("min", "all", fact("tire_size")),
        GEOMETRY,
    ),
    Quantity(
        "range_pressure",
        "kPa",
        convert(table("tire_figures.range_pressure", rank("load_range")), "psi", "kPa"),
        "Load range chart of ST metric tires",
        scope="axle",
    ),
    Quantity("tire_rated", "kg", rated / derate, RATED),
    Quantity(
        "tire_carries",
        "kg",
        carried(quantity("tire_rated"), fact("tire_max"), quantity("pressure_cold"), power),
        SHARE,
        scope="wheel",
    ),
    Quantity(
        "tire_in_hand",
        "percent",
        convert(1 - fact("tire_load") / carries, "ratio", "percent"),
        SHARE,
        scope="wheel",
    ),
    Quantity(
        "pressure_needed",
        "kPa",
        pressure_for(fact("tire_load"), quantity("tire_rated"), fact("tire_max"), power),
        SHARE,
        scope="axle",
    ),
    Quantity(
        "tire_speed",
        "km_h",
        when(
            is_("speed_symbol", "none"),
            limits("speed_unmarked"),
            table("tire_figures.speed_symbol", rank("speed_symbol")),
        ),
        "ISO 4000-1 speed symbol table; 65 mph where an ST tire has none",
    ),
    Quantity("air_then", "kPa", air_at(fact("fill_height")), ATMOSPHERE),
    Quantity("air_here", "kPa", air_at(fact("height_now")), ATMOSPHERE),
    Quantity(
        "pressure_expected",
        "kPa",
        (fact("fill_pressure") + quantity("air_then"))
        * convert(fact("air"), "degC", "kelvin")
        / convert(fact("fill_air"), "degC", "kelvin")
        - quantity("air_here"),
        "Gas law at constant volume; " + ATMOSPHERE,
    ),
    Quantity(
        "tire_girth",
        "mm",
        pick("round_by", {"tape": fact("tire_round"), "across": fact("tire_height") * PI}),
        GEOMETRY,
        scope="wheel",
    ),
    Quantity("tire_across", "mm", girth / PI, GEOMETRY, scope="wheel"),
    Quantity("round_gap", "mm", absolute(girth - mate(girth)), GEOMETRY, scope="wheel"),
    Quantity("tandem_gap", "mm", each("max", "all", girth) - each("min", "all", girth), GEOMETRY),
    Quantity("lean_height", "mm", quantity("round_gap") / (2 * PI), GEOMETRY, scope="wheel"),
    Quantity(
        "lean_angle",
        "deg",
        quantity("lean_height") / fact("track") * limits("degrees"),
        GEOMETRY + ", small angle",
        scope="wheel",
    ),
]

OVER = "49 CFR 393.75(g); COMAR 11.22.04.06; 49 CFR part 396 App. A 10.b(1)"
DUALS = "Dual tire matching practice, trade press"
HOT = ("burn", "traffic", "bleed", "jacking", "wheel_work")


def found(
    name: str,
    point: str,
    level: str,
    test: Expr,
    source: str,
    standing: str,
    *shows: str,
    cautions: tuple[str, ...] = ("maker",),
    beneath: str = "",
    optional: bool = False,
) -> Finding:
    return Finding(name, point, level, test, source, standing, cautions, shows, optional, beneath)


FINDINGS = [
    found(
        "range_misleads",
        "tire_figure",
        "look",
        absolute(fact("tire_max") - quantity("range_pressure")) > limits("range_gap"),
        "Load range chart of ST metric tires against the sidewall",
        "secondary",
        "range_pressure",
    ),
    found(
        "sizes_apart",
        "tire_figure",
        "mend",
        (fact("axles") >= 2) & (quantity("size_gap") > limits("diameter_gap")),
        DUALS,
        "secondary",
        "size_gap",
        cautions=("maker", "jacking"),
        optional=True,
    ),
    found(
        "tire_overloaded",
        "tire_carry",
        "stop",
        fact("tire_load") > carries,
        OVER,
        "read",
        "tire_carries",
        "tire_in_hand",
        "pressure_needed",
    ),
    found(
        "tire_no_reserve",
        "tire_carry",
        "look",
        fact("tire_load") > carries * (1 - limits("reserve")),
        PRACTICE,
        "practice",
        "tire_in_hand",
        beneath="tire_overloaded",
    ),
    found(
        "too_fast_for_tire",
        "tire_speed",
        "mend",
        fact("planned_speed") > quantity("tire_speed"),
        "49 CFR 393.75(f); ISO 4000-1 speed symbol table",
        "secondary",
        "tire_speed",
    ),
    found(
        "air_lost",
        "tire_weather",
        "look",
        quantity("pressure_cold") + limits("air_lost") < quantity("pressure_expected"),
        GAS,
        "computed",
        "pressure_expected",
        "pressure_cold",
        optional=True,
    ),
    found(
        "rounds_apart",
        "tire_match",
        "look",
        quantity("round_gap") > limits("round_gap"),
        DUALS,
        "secondary",
        "round_gap",
        "lean_height",
        cautions=("maker", "jacking"),
    ),
    found(
        "tandem_apart",
        "tandem_match",
        "look",
        (fact("axles") >= 2) & (quantity("tandem_gap") > limits("round_gap")),
        DUALS,
        "secondary",
        "tandem_gap",
        cautions=("maker", "jacking"),
    ),
    found(
        "tire_coming_apart",
        "tire_heat",
        "stop",
        much & is_("side_pressure", "normal", "high"),
        PRACTICE,
        "practice",
        cautions=HOT,
        optional=True,
    ),
    found(
        "tire_soft_hot",
        "tire_heat",
        "mend",
        warm & is_("side_pressure", "low"),
        "49 CFR 393.75(i)(1)",
        "read",
        cautions=HOT,
        optional=True,
    ),
    found(
        "tire_much_hotter",
        "tire_heat",
        "mend",
        much,
        PRACTICE,
        "practice",
        cautions=HOT,
        beneath="tire_coming_apart",
        optional=True,
    ),
    onward(
        found(
            "tire_warmer",
            "tire_heat",
            "look",
            warm,
            PRACTICE,
            "practice",
            cautions=HOT,
            beneath="tire_much_hotter",
            optional=True,
        )
    ),
]
