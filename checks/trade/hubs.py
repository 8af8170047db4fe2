"""Hub heat at a stop: the compact heat model, what a hand can tell, and patterns over the wheels.

A healthy hub warms towards a steady rise over the air that grows with speed and with stiff cold
grease, and cools again while parked. The spread of healthy hubs is a limit; the spread of the
answers comes in through the facts. ``healthy_high`` is the most that a sound hub may show, so a
reading above it is a sign whatever the hub.
"""

from collections.abc import Callable

from checks.facts import choice, number, yes_no
from checks.formula import (
    Expr,
    between,
    convert,
    each,
    exp,
    fact,
    high,
    is_,
    limit,
    low,
    mate,
    pick,
    quantity,
    rank,
    table,
    when,
)
from checks.rules import Finding, Quantity

SIZES = ("bore_25", "bore_27", "bore_32", "bore_35")
FEELS = ("cold", "cool", "slight", "warm", "hot", "very_hot", "no_touch")

by_hand = is_("hub_method", "hand")
by_thermometer = is_("hub_method", "thermometer")
unbraked = is_("brakes", "none")

FACTS = [
    number("air", "degC", -45, 55, us="degF", metric="degC", spread=1.0),
    number("run_distance", "km", 0, 3000, us="mi", metric="km"),
    number("run_speed", "km_h", 8, 145, us="mph", metric="km_h"),
    number("parked", "min", 0, 600),
    choice("load_state", "empty", "part", "full", optional=True),
    yes_no("sun", optional=True),
    choice("braking", "hardly", "normal", "hard", when=~unbraked),
    yes_no("recent_work", optional=True),
    choice("hub_method", "hand", "thermometer"),
    choice("hub_spot", "barrel", "wheel", "cap", "drum"),
    yes_no("smoke", scope="wheel"),
    yes_no("leaning", scope="wheel"),
    yes_no("grinding", scope="wheel"),
    yes_no("hot_smell", scope="wheel"),
    yes_no("thrown_grease", scope="wheel"),
    choice("hub_feel", *FEELS, scope="wheel", when=by_hand),
    number(
        "hub_reading",
        "degC",
        -45,
        400,
        us="degF",
        metric="degC",
        scope="wheel",
        when=by_thermometer,
    ),
    choice(
        "pair_feel",
        "alike",
        "left_slightly",
        "left_clearly",
        "right_slightly",
        "right_clearly",
        scope="axle",
        when=by_hand,
    ),
]


def by_size(part: Callable[[str], Expr]) -> Expr:
    """One term per bearing bore; inside it the limits of one hub stay together."""
    return pick("hub_size", {size: part(size) for size in SIZES})


def sized(name: str, size: str) -> Expr:
    return limit(f"hubs.{name}_{size}")


MODEL = "Heat model of light trailer hubs: lumped capacity after Incropera, 6th ed., section 5.1"

speed_ratio = fact("run_speed") / limit("hubs.reference_speed")


def model(name: str, unit: str, formula: Expr, *, scope: str = "trailer") -> Quantity:
    return Quantity(name, unit, formula, MODEL, scope=scope)


def healthy(high_end: bool) -> Expr:
    """Rise over the air that a sound hub shows now; the most of it, or the least."""
    end, far = (high, low) if high_end else (low, high)
    stiffness = table("hubs.cold_grease", fact("air"))
    warm_up = quantity("run_time") * quantity("airflow") / far(limit("hubs.time_spread"))
    left = exp(
        -convert(fact("parked"), "min", "s") / convert(end(limit("hubs.cooling_time")), "min", "s")
    )
    reached = by_size(
        lambda size: (
            sized("rise_high" if high_end else "rise_low", size)
            * (1 - exp(-warm_up * sized("conductance", size) / sized("heat_capacity", size)))
        )
    )
    warmed = reached * speed_ratio ** limit("hubs.rise_exponent") * stiffness * left
    return warmed + when(is_("sun", "yes"), end(limit("hubs.sun")), 0.0)


brake_heat = pick(
    "brakes",
    {"none": 0.0}
    | dict.fromkeys(
        ("surge", "electric", "hydraulic"),
        pick(
            "braking",
            {c: limit(f"hubs.brake_heat_{c}") for c in ("hardly", "normal", "hard")},
        ),
    ),
)

QUANTITIES = [
    model(
        "run_time",
        "s",
        convert(fact("run_distance"), "km", "m") / convert(fact("run_speed"), "km_h", "m_s"),
    ),
    model("airflow", "ratio", speed_ratio ** limit("hubs.conductance_exponent")),
    model(
        "heating_time",
        "s",
        by_size(lambda size: sized("heat_capacity", size) / sized("conductance", size))
        / quantity("airflow"),
    ),
    model("healthy_high", "K", healthy(True)),
    model("healthy_low", "K", healthy(False)),
    model(
        "drag_rise",
        "K",
        limit("hubs.one_newton_metre")
        * convert(fact("run_speed"), "km_h", "m_s")
        / limit("hubs.rolling")
        / quantity("airflow")
        * by_size(
            lambda size: (
                2 / (convert(sized("tire_diameter", size), "in", "m") * sized("conductance", size))
            )
        ),
    ),
    model(
        "hub_surface",
        "degC",
        pick(
            "hub_method",
            {
                "hand": pick(
                    "hub_feel",
                    {
                        f: between(
                            limit(f"hubs.touch_{f}") - table("hubs.cold_hand", fact("air")),
                            limit(f"hubs.touch_{f}"),
                        )
                        for f in FEELS
                    },
                ),
                "thermometer": fact("hub_reading"),
            },
        ),
        scope="wheel",
    ),
    model(
        "hub_rise",
        "K",
        (quantity("hub_surface") - fact("air"))
        / pick(
            "hub_spot", {s: limit(f"hubs.spot_{s}") for s in ("barrel", "wheel", "cap", "drum")}
        ),
        scope="wheel",
    ),
    model(
        "mate_difference",
        "K",
        quantity("hub_surface") - mate(quantity("hub_surface")),
        scope="wheel",
    ),
]

PRACTICE = "Common practice, no source"
BURN = "ECMA-287 limits for touching bare metal, as quoted in a thermal-design article; ISO 13732-1"
PAIRS = "Heat model of light trailer hubs: sound mates differ by under 5 °C in 95 of 100 cases"

rise = quantity("hub_rise")
allowed = quantity("healthy_high") + brake_heat
drum = is_("hub_spot", "drum") & ~unbraked
feel_step = rank("hub_feel") - mate(rank("hub_feel"))
reading_gap = fact("hub_reading") - mate(fact("hub_reading"))
sun_gap = when(is_("sun", "yes"), limit("hubs.sun_one_side"), 0.0)
frost = fact("air") < limit("hubs.frost")
touchy = frost | is_("recent_work", "yes")
braked_now = ~unbraked & is_("braking", "normal", "hard")
cooler = each("median", "others", rank("hub_feel")) - rank("hub_feel")
cooler_reading = each("median", "others", fact("hub_reading")) - fact("hub_reading")

warm = rise > quantity("healthy_high")
several = fact("axles") >= limit("hubs.several_axles")

HOT = ("burn", "traffic")
WORKING = ("hub_rise", "healthy_high", "drag_rise", "extra_drag", "hub_at_cruise")


def sign(name: str, level: str, source: str, standing: str, *cautions: str) -> Finding:
    """A finding that is just the sign seen."""
    return Finding(f"has_{name}", "hub_signs", level, is_(name, "yes"), source, standing, cautions)


FINDINGS = [
    sign("smoke", "stop", "North American out-of-service criteria, hubs", "memory", *HOT, "fire"),
    sign("leaning", "stop", "49 CFR 396.7(a)", "read", "traffic", "jacking"),
    sign("grinding", "stop", "Quebec C-24.2 r. 32 s. 121.1", "read", "traffic", "jacking"),
    sign("hot_smell", "mend", PRACTICE, "practice", *HOT),
    sign("thrown_grease", "mend", "49 CFR 396.5(b)", "read", *HOT),
    Finding(
        "hub_too_hot",
        "hub_heat",
        "stop",
        ~drum
        & (
            (by_hand & is_("hub_feel", "no_touch"))
            | (by_thermometer & (fact("hub_reading") >= limit("hubs.burn")))
        ),
        BURN,
        "secondary",
        (*HOT, "fire"),
        ("hub_surface",),
    ),
    Finding(
        "hub_far_too_warm",
        "hub_heat",
        "stop",
        rise > allowed + quantity("drag_rise") * limit("hubs.drag_stop"),
        MODEL,
        "computed",
        HOT,
        WORKING,
        beneath="hub_too_hot",
    ),
    Finding(
        "hub_much_too_warm",
        "hub_heat",
        "mend",
        rise > allowed + quantity("drag_rise") * limit("hubs.drag_mend"),
        MODEL,
        "computed",
        HOT,
        WORKING,
        beneath="hub_far_too_warm",
    ),
    Finding(
        "hub_too_warm",
        "hub_heat",
        "look",
        rise > allowed,
        MODEL,
        "computed",
        HOT,
        WORKING,
        beneath="hub_much_too_warm",
    ),
    Finding(
        "hub_far_from_mate",
        "hub_heat",
        "mend",
        (by_hand & (feel_step >= limit("hubs.steps_mend")))
        | (by_thermometer & (reading_gap > limit("hubs.gap_mend") + sun_gap)),
        PAIRS,
        "computed",
        HOT,
        ("mate_difference",),
        beneath="hub_much_too_warm",
    ),
    Finding(
        "hub_warmer_than_mate",
        "hub_heat",
        "look",
        (
            by_hand
            & (
                (feel_step >= limit("hubs.steps_look"))
                | (touchy & (feel_step >= limit("hubs.steps_look_frost")))
            )
        )
        | (by_thermometer & (reading_gap > limit("hubs.gap_look") + sun_gap)),
        PAIRS,
        "computed",
        HOT,
        ("mate_difference",),
        beneath="hub_far_from_mate",
    ),
    Finding(
        "brake_cold",
        "hub_heat",
        "look",
        braked_now
        & (
            (by_hand & (cooler >= limit("hubs.steps_look")))
            | (by_thermometer & (cooler_reading > limit("hubs.gap_look") + sun_gap))
        ),
        PRACTICE,
        "practice",
        ("traffic",),
        ("hub_surface",),
    ),
    Finding(
        "pair_apart",
        "hub_pair",
        "look",
        by_hand
        & (
            is_("pair_feel", "left_clearly", "right_clearly")
            | (touchy & is_("pair_feel", "left_slightly", "right_slightly"))
        ),
        PAIRS,
        "computed",
        HOT,
    ),
    Finding(
        "side_hot",
        "hub_heat",
        "look",
        several & each("all", "side", warm & ~mate(warm)),
        PRACTICE,
        "practice",
        HOT,
        ("hub_rise", "healthy_high"),
        optional=True,
    ),
    Finding(
        "axle_hot",
        "hub_pair",
        "look",
        several
        & each("all", "axle", warm)
        & (each("count", "all", warm) <= limit("hubs.wheels_of_an_axle")),
        PRACTICE,
        "practice",
        HOT,
        ("healthy_high",),
        optional=True,
    ),
    Finding(
        "all_hot",
        "hub_pattern",
        "look",
        each("all", "all", warm),
        PRACTICE,
        "practice",
        HOT,
        ("healthy_high",),
    ),
    Finding(
        "stop_too_early",
        "hub_pattern",
        "look",
        fact("run_distance") < limit("hubs.least_distance"),
        MODEL,
        "computed",
        (),
        ("run_time", "heating_time"),
    ),
    Finding(
        "stop_too_late",
        "hub_pattern",
        "look",
        fact("parked") > limit("hubs.longest_parked"),
        MODEL,
        "computed",
    ),
]
