"""Wiring figures: lamp current, volts lost out and back, light left, and a bad ground."""

from checks.facts import Fact, choice, number
from checks.formula import (
    Expr,
    convert,
    fact,
    high,
    is_,
    largest,
    ln,
    pick,
    quantity,
    rank,
    table,
)
from checks.rules import Finding, Limits, Quantity

limits = Limits("wiring")

GAUGES = ("awg_20", "awg_18", "awg_16", "awg_14", "awg_12", "awg_10")
PI = 3.141592653589793
STEPS = 6

bulbs = ~is_("lamps_are", "leds")
leds = ~is_("lamps_are", "bulbs")
wired = is_("return_by", "wire")


def count(name: str, most: int, when: Expr) -> Fact:
    return number(name, "count", 0, most, when=when)


FACTS = [
    choice("lamps_are", "bulbs", "leds", "both"),
    count("bulbs_bright", 12, bulbs),
    count("bulbs_tail", 12, bulbs),
    count("bulbs_small", 30, bulbs),
    count("leds_large", 12, leds),
    count("leds_small", 40, leds),
    number("plug_volts", "V", 9, 16),
    choice("wire_gauge", *GAUGES),
    number("wire_length", "m", 0.3, 30, us="ft", metric="m"),
    choice("return_by", "wire", "frame"),
    choice("return_gauge", *GAUGES, when=wired),
    number("return_length", "m", 0.1, 30, us="ft", metric="m", when=wired),
    choice("ground_by", "volts", "ohms"),
    number("ground_volts", "V", 0, 9, when=is_("ground_by", "volts")),
    number("ground_ohms", "ohm", 0, 20, when=is_("ground_by", "ohms")),
    number("ground_bulbs", "count", 1, 12, when=is_("ground_by", "ohms")),
]

AWG = "ASTM B258 wire diameters, annealed copper"
BULBS = "SAE J573 bulb data; common LED lamp data"
OHM = "Ohm's law with ASTM B258 wire"
DROP = "ABYC E-11: 3 % where it matters, 10 % elsewhere; car wire charts: 10 %"
RERATING = "Standard Handbook for Electrical Engineers, 11th ed., p. 22-8, lamp rerating"


awg_36 = convert(limits("awg_36"), "thou", "mm")


def diameter(gauge: Expr) -> Expr:
    """ASTM B258 diameter of a gauge number."""
    return awg_36 * Expr(92.0) ** ((36 - gauge) / 39)


def area(name: str) -> Expr:
    """Nominal copper area of a gauge answered as a choice."""
    return PI / 4 * diameter(table("wiring.gauge", rank(name))) ** 2


def resistance(length: Expr, copper: Expr, warmth: Expr) -> Expr:
    """Of copper wire of an area at a temperature in degC."""
    rise = 1 + limits("copper_rise") * (warmth - limits("copper_reference"))
    return limits("resistivity") * rise * length / copper


def percent(term: Expr) -> Expr:
    return convert(term, "ratio", "percent")


def settling() -> list[Quantity]:
    """Bulb volts as a share of the supply, from v = V - R I (v / Vd)^p, step by step.

    Each step comes at least twice as near as the one before, and every input pulls all steps the
    same way: six are enough, and ranges stay as narrow as the answers.
    """
    steps, share = [], Expr(1.0)
    for n in range(1, STEPS + 1):
        at_bulb = quantity("plug_ratio") * share
        share = 1 / (1 + quantity("ground_load") * at_bulb ** (limits("current_power") - 1))
        steps.append(Quantity(f"bulb_step_{n}", "ratio", share, RERATING))
        share = quantity(f"bulb_step_{n}")
    return steps


def light(share: str) -> Expr:
    """Light left from a bulb when a share of the supply is lost."""
    return percent(
        largest(1 - convert(quantity(share), "percent", "ratio"), 0.0) ** limits("light_power")
    )


bulb_current = limits("bulb_spread") * (
    fact("bulbs_bright") * limits("amps_bright")
    + fact("bulbs_tail") * limits("amps_tail")
    + fact("bulbs_small") * limits("amps_small")
)
led_current = fact("leds_large") * limits("amps_led_large") + fact("leds_small") * limits(
    "amps_led_small"
)
real_area = limits("copper_share")
allowed_drop = convert(limits("drop_look"), "percent", "ratio") * fact("plug_volts")
lost = quantity("lamp_current") * (quantity("feed_ohms") + quantity("return_ohms"))


def run(length: str, gauge: str) -> Expr:
    return resistance(fact(length), area(gauge) * real_area, limits("wire_warmth"))


QUANTITIES = [
    Quantity(
        "lamp_current",
        "A",
        pick(
            "lamps_are",
            {"bulbs": bulb_current, "leds": led_current, "both": bulb_current + led_current},
        ),
        BULBS,
        "memory",
    ),
    Quantity("wire_area", "mm2", area("wire_gauge"), AWG),
    Quantity("feed_ohms", "ohm", run("wire_length", "wire_gauge"), AWG),
    Quantity(
        "return_ohms",
        "ohm",
        pick(
            "return_by",
            {"wire": run("return_length", "return_gauge"), "frame": limits("frame_ohms")},
        ),
        AWG,
    ),
    Quantity("drop_out", "V", quantity("lamp_current") * quantity("feed_ohms"), OHM),
    Quantity("drop_back", "V", quantity("lamp_current") * quantity("return_ohms"), OHM),
    Quantity("drop_share", "percent", percent(lost / fact("plug_volts")), OHM),
    Quantity(
        "light_left",
        "percent",
        light("drop_share"),
        RERATING,
        "secondary",
    ),
    Quantity(
        "area_needed",
        "mm2",
        quantity("lamp_current")
        * resistance(
            fact("wire_length") + pick("return_by", {"wire": fact("return_length"), "frame": 0.0}),
            real_area,
            limits("wire_warmth"),
        )
        / allowed_drop,
        OHM,
    ),
    Quantity(
        "gauge_needed",
        "awg",
        36 - 39 / ln(Expr(92.0)) * ln((4 / PI * high(quantity("area_needed"))) ** 0.5 / awg_36),
        AWG,
    ),
    Quantity("plug_ratio", "ratio", fact("plug_volts") / limits("design_volts"), RERATING),
    Quantity(
        "ground_load",
        "ratio",
        fact("ground_ohms") * fact("ground_bulbs") * limits("amps_bright") / limits("design_volts"),
        OHM,
    ),
    *settling(),
    Quantity(
        "lamp_volts",
        "V",
        pick(
            "ground_by",
            {
                "volts": fact("plug_volts") - fact("ground_volts"),
                "ohms": fact("plug_volts") * quantity(f"bulb_step_{STEPS}"),
            },
        ),
        RERATING,
    ),
    Quantity(
        "ground_share",
        "percent",
        percent(
            pick(
                "ground_by",
                {
                    "volts": fact("ground_volts") / fact("plug_volts"),
                    "ohms": 1 - quantity(f"bulb_step_{STEPS}"),
                },
            )
        ),
        OHM,
    ),
    Quantity(
        "ground_light",
        "percent",
        light("ground_share"),
        RERATING,
        "secondary",
    ),
]


def over(
    name: str, point: str, level: str, share: str, shows: tuple[str, ...], beneath: str = ""
) -> Finding:
    return Finding(
        name,
        point,
        level,
        quantity(share) > limits(f"drop_{level}"),
        DROP,
        "secondary",
        (),
        shows,
        beneath=beneath,
    )


WIRE = ("drop_share", "light_left", "area_needed", "gauge_needed")
GROUND = ("ground_share", "ground_light")

FINDINGS = [
    Finding(
        "load_heavy",
        "lamp_load",
        "look",
        quantity("lamp_current") > limits("plug_most"),
        "SAE J1239: up to 7.5 A on a running-light circuit",
        "secondary",
        ("maker",),
        ("lamp_current",),
    ),
    over("drop_large", "wiring", "mend", "drop_share", WIRE),
    over("drop_felt", "wiring", "look", "drop_share", WIRE, "drop_large"),
    over("ground_bad", "ground", "mend", "ground_share", GROUND),
    over("ground_poor", "ground", "look", "ground_share", GROUND, "ground_bad"),
]
