"""Tires: damage, tread, age, pressure, and whether the two on an axle match.

Pressures are judged cold. A warm reading is turned into the range that the cold pressure may have:
the flat correction of 49 CFR 393.75(i)(2) and the gas law at constant volume, whichever reaches
further. A range too wide to decide is a reason to measure again cold.
"""

from collections.abc import Callable

from checks.facts import choice, made, number, yes_no
from checks.formula import (
    Expr,
    between,
    convert,
    fact,
    high,
    is_,
    largest,
    limit,
    low,
    mate,
    pick,
    quantity,
    smallest,
)
from checks.rules import PRACTICE, Finding, Limits, Quantity, onward

limits = Limits("tires")

DAMAGE = (
    "cord_shows",
    "bulge",
    "cut_to_cord",
    "air_leak",
    "deep_cracks",
    "stuck_object",
    "not_for_road",
)
WEAR = (
    "fine_cracks",
    "flat_spot",
    "worn_edges",
    "worn_centre",
    "worn_side",
    "worn_cupped",
    "valve_bad",
    "valve_cap_off",
)

by_gauge = is_("tread_by", "gauge")
by_bars = is_("tread_by", "bars")
label_says = is_("pressure_label", "figure")

FACTS = [
    choice("tread_by", "bars", "gauge"),
    choice("tire_warmth", "cold", "some", "hour"),
    choice("pressure_label", "figure", "no_label"),
    *(yes_no(name, scope="wheel") for name in (*DAMAGE, *WEAR)),
    choice("wear_bars", "clear", "near", "level", "below", scope="wheel", when=by_bars),
    number("tread", "in32", 0, 32, us="in32", metric="mm", scope="wheel", when=by_gauge),
    number("tire_marked", "kPa", 100, 1000, us="psi", metric="kPa", scope="axle", when=label_says),
    number("tire_max", "kPa", 100, 1000, us="psi", metric="kPa", scope="axle"),
    number("pressure", "kPa", 0, 1100, us="psi", metric="kPa", scope="wheel"),
    made("tire_made", scope="wheel"),
    choice("inner_seen", "yes", "no", scope="axle"),
    choice("size_match", "same", "other_size", "radial_bias", scope="axle"),
    choice("range_match", "as_label", "differ", "below_label", scope="axle"),
    choice("tire_look", "fine", "low", "damaged", scope="wheel"),
]

GAS = "Gas law at constant volume; 49 CFR 393.75(i)(2), Table 1"
MARYLAND = "COMAR 11.22.04.06"
PLACARD = "49 CFR 393.75(i)(1); label of 49 CFR 571.110 S4.3.5"


def warmed_ends(name: str) -> tuple[Expr, Expr]:
    """Least and most the cold pressure can be when the air is warmer by the limit ``name``."""
    rise, cold = limit(name), limits("cold_air")
    most = high(rise) / (low(cold) + high(rise))
    least = low(rise) / (high(cold) + low(rise))

    def cooled(share: Expr) -> Expr:
        return fact("pressure") * (1 - share) - limits("atmosphere") * share

    flat_off = fact("pressure") - convert(limits("warm_correction"), "psi", "kPa")
    return smallest(flat_off, cooled(most)), largest(flat_off, cooled(least))


def by_warmth(cold_one: Expr, of_ends: Callable[[Expr, Expr], Expr]) -> Expr:
    ends = {warmth: warmed_ends(f"tires.warmed_{warmth}") for warmth in ("some", "hour")}
    return pick("tire_warmth", {"cold": cold_one} | {w: of_ends(*e) for w, e in ends.items()})


QUANTITIES = [
    Quantity(
        "tire_age",
        "year",
        convert(fact("today") - fact("tire_made"), "day", "year"),
        "49 CFR 574.5(b)(3): week and year of making",
        scope="wheel",
    ),
    Quantity("pressure_cold", "kPa", by_warmth(fact("pressure"), between), GAS, scope="wheel"),
    Quantity(
        "pressure_likely",
        "kPa",
        by_warmth(fact("pressure"), lambda least, most: (least + most) / 2),
        "Definition",
        scope="wheel",
    ),
    Quantity(
        "air_short", "kPa", fact("tire_marked") - quantity("pressure_cold"), PLACARD, scope="wheel"
    ),
    Quantity(
        "flat_below",
        "kPa",
        fact("tire_max") * limits("flat_share"),
        "North American out-of-service criteria, tires",
        scope="axle",
    ),
    Quantity(
        "pressure_gap",
        "kPa",
        mate(fact("pressure")) - fact("pressure"),
        "Definition",
        scope="wheel",
    ),
]

rounding = limits("label_rounding")


def below(bar: Expr) -> Expr:
    """Cold pressure below a bar; a warm reading only doubts where its middle lies below as well."""
    return (quantity("pressure_cold") + rounding < bar) & (
        quantity("pressure_likely") + rounding < bar
    )


def above(bar: Expr) -> Expr:
    return (quantity("pressure_cold") > bar + rounding) & (
        quantity("pressure_likely") > bar + rounding
    )


def seen(
    name: str, point: str, level: str, source: str, standing: str, *cautions: str, beneath: str = ""
) -> Finding:
    """A finding that is just the sign seen."""
    when_seen = is_(name, "yes")
    return Finding(
        f"tire_{name}", point, level, when_seen, source, standing, cautions, beneath=beneath
    )


def damage(name: str, level: str, source: str, *cautions: str, beneath: str = "") -> Finding:
    return seen(name, "tire_damage", level, source, "read", *cautions, beneath=beneath)


def worn(
    name: str,
    *cautions: str,
    level: str = "look",
    source: str = PRACTICE,
    standing: str = "practice",
) -> Finding:
    return seen(name, "tire_wear", level, source, standing, *cautions)


FINDINGS = [
    damage(
        "cord_shows", "stop", "49 CFR 393.75(a)(1); part 396 App. A 10.b(3)", "traffic", "jacking"
    ),
    damage("bulge", "stop", "49 CFR 393.75(a)(2); 49 CFR 570.62(c)", "traffic", "jacking"),
    damage(
        "cut_to_cord", "stop", "49 CFR 393.75(a)(4); part 396 App. A 10.b(5)", "traffic", "jacking"
    ),
    damage(
        "air_leak", "stop", "49 CFR 393.75(a)(3); part 396 App. A 10.b(2)", "traffic", "jacking"
    ),
    seen("deep_cracks", "tire_damage", "mend", PRACTICE, "practice", "jacking"),
    seen("stuck_object", "tire_damage", "mend", PRACTICE, "practice", "jacking"),
    damage("not_for_road", "mend", "49 CFR part 396 App. A 10.b(7)", "jacking"),
    worn("fine_cracks", "jacking"),
    onward(worn("flat_spot", "jacking")),
    worn("worn_edges"),
    worn("worn_centre"),
    worn("worn_side", "jacking"),
    worn("worn_cupped", "jacking"),
    worn("valve_bad", "jacking", level="mend", source=MARYLAND, standing="read"),
    worn("valve_cap_off"),
    Finding(
        "tread_gone",
        "tread",
        "stop",
        (by_gauge & (fact("tread") < limits("tread_min"))) | (by_bars & is_("wear_bars", "below")),
        "49 CFR 393.75(c); part 396 App. A 10.b(8)",
        "read",
        ("maker", "jacking"),
    ),
    Finding(
        "tread_at_limit",
        "tread",
        "look",
        (by_gauge & (fact("tread") <= limits("tread_min")))
        | (by_bars & is_("wear_bars", "level", "below")),
        "49 CFR 393.75(c); wear bars 49 CFR 571.119 S6.4",
        "read",
        ("maker", "jacking"),
        beneath="tread_gone",
    ),
    Finding(
        "tread_low",
        "tread",
        "look",
        (by_gauge & (fact("tread") <= limits("tread_near")))
        | (by_bars & is_("wear_bars", "near", "level", "below")),
        PRACTICE,
        "practice",
        beneath="tread_at_limit",
    ),
    Finding(
        "tire_flat",
        "tire_pressure",
        "stop",
        fact("pressure") <= quantity("flat_below"),
        "North American out-of-service criteria, tires; 49 CFR 393.75(a)(3)",
        "secondary",
        ("traffic", "jacking"),
        ("flat_below",),
    ),
    Finding(
        "pressure_low",
        "tire_pressure",
        "mend",
        label_says & below(fact("tire_marked")),
        PLACARD,
        "read",
        ("maker",),
        ("pressure_cold", "air_short"),
        beneath="tire_flat",
    ),
    Finding(
        "pressure_no_label",
        "tire_pressure",
        "look",
        ~label_says & below(fact("tire_max") * limits("no_label_share")),
        PRACTICE,
        "practice",
        ("maker",),
        ("pressure_cold",),
        beneath="tire_flat",
    ),
    Finding(
        "pressure_high",
        "tire_pressure",
        "look",
        above(fact("tire_max")),
        "Greatest pressure marked on the tire: 49 CFR 571.119 S6.5(d), 571.139 S5.5",
        "read",
        ("maker",),
        ("pressure_cold",),
    ),
    Finding(
        "pressure_uneven",
        "tire_pressure",
        "look",
        quantity("pressure_gap") > limits("uneven"),
        PRACTICE,
        "practice",
        (),
        ("pressure_gap",),
        beneath="pressure_low",
    ),
    Finding(
        "label_above_max",
        "tire_pair",
        "look",
        label_says & (fact("tire_marked") > fact("tire_max") + rounding),
        "Label 49 CFR 571.110 S4.3.5 against the tire's own marking, 571.119 S6.5(d)",
        "read",
        ("maker", "jacking"),
    ),
    Finding(
        "tire_before_2000",
        "tire_age",
        "mend",
        fact("tire_made") < limits("four_digits"),
        "64 FR 36807: three-digit codes ended with 1999; NHTSA and industry guidance on tire aging",
        "secondary",
        ("jacking",),
        ("tire_age",),
    ),
    Finding(
        "tire_too_old",
        "tire_age",
        "mend",
        quantity("tire_age") >= limits("age_max"),
        "A car maker's manual: out after 10 years, spare included; tire makers say the same",
        "read",
        ("jacking",),
        ("tire_age",),
        beneath="tire_before_2000",
    ),
    Finding(
        "tire_old",
        "tire_age",
        "look",
        quantity("tire_age") >= limits("age_review"),
        "Vehicle and trailer maker guidance as restated in public texts; NHTSA consumer advice",
        "secondary",
        ("jacking",),
        ("tire_age",),
        beneath="tire_too_old",
    ),
    Finding(
        "inner_unseen",
        "tire_pair",
        "look",
        is_("inner_seen", "no"),
        PRACTICE,
        "practice",
        ("jacking",),
    ),
    Finding(
        "sizes_differ",
        "tire_pair",
        "mend",
        is_("size_match", "other_size"),
        MARYLAND,
        "read",
        ("maker", "jacking"),
    ),
    Finding(
        "radial_with_bias",
        "tire_pair",
        "mend",
        is_("size_match", "radial_bias"),
        MARYLAND,
        "read",
        ("maker", "jacking"),
    ),
    Finding(
        "ranges_differ",
        "tire_pair",
        "look",
        is_("range_match", "differ"),
        PRACTICE,
        "practice",
        ("jacking",),
    ),
    Finding(
        "range_below_label",
        "tire_pair",
        "mend",
        is_("range_match", "below_label"),
        "49 CFR 571.110 S4.2.2.1; part 396 App. A 10.b(1)",
        "read",
        ("maker", "jacking"),
    ),
    Finding(
        "tire_looks_low",
        "tire_glance",
        "mend",
        is_("tire_look", "low"),
        "49 CFR 393.75(a)(3) and (i)(1)",
        "read",
        ("traffic", "jacking", "wheel_work"),
    ),
    Finding(
        "tire_looks_damaged",
        "tire_glance",
        "stop",
        is_("tire_look", "damaged"),
        "49 CFR 393.75(a)",
        "read",
        ("traffic", "jacking", "wheel_work"),
    ),
]
