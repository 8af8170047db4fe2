"""Weights: the load on tongue, axles and tires, and what the ratings leave.

The tongue is known by adding up (a moment balance about the axle line, of two or three axles about
the middle of them), by a bathroom scale, by a scale under a lever, or by three weighings. Every way
leads to the same quantities, so they are judged once.
"""

from collections.abc import Callable
from operator import add
from typing import Any

from checks.facts import Fact, choice, number, yes_no
from checks.formula import (
    Expr,
    between,
    convert,
    fact,
    high,
    is_,
    largest,
    low,
    pick,
    quantity,
    smallest,
    when,
)
from checks.rules import Finding, Limits, Quantity
from checks.trade.load import weighed

limits = Limits("weights")

ITEMS = range(1, 7)
STATICS = "Moment balance about the axle line, trailer level"
SUM = "Definition"
LEVER = "Lever rule; a boat trailer maker's manual has the 1 ft and 2 ft layout, times three"
ADVICE = "Public towing guidance and makers' manuals, which disagree; the more careful is judged by"
RATING = "The maker's rating is the limit; common practice, no source"
TIRES = "49 CFR part 396 App. A 10.b(1); COMAR 11.22.04.06; the maker's rating"
SWAY = "University of Virginia towing advice"

added_up, weighings = is_("tongue_by", "cargo"), is_("tongue_by", "weighings")
no_gross = is_("weighed", "no") & ~weighings
listed = added_up | no_gross
tilts = added_up & is_("tilt", "yes")
alone = fact("axles") < 2


def kg(name: str, low_end: float, high_end: float, when: Expr | None = None, **more: Any) -> Fact:
    return number(name, "kg", low_end, high_end, us="lb", when=when, **more)


def mm(name: str, low_end: float, high_end: float, when: Expr | None = None) -> Fact:
    return number(name, "mm", low_end, high_end, us="in", when=when)


def counts(item: int) -> Expr:
    return fact("cargo_count") >= item


def over_items(fold: Callable[[Expr, Expr], Expr], term: dict[int, Expr]) -> Expr:
    """The terms of the items that count, folded; a term stands alone where it is the last."""
    result = term[ITEMS[-1]]
    for item in reversed(ITEMS[:-1]):
        result = when(counts(item + 1), fold(term[item], result), term[item])
    return when(counts(1), result, 0)


weight = {item: fact(f"cargo_{item}") for item in ITEMS}
ahead = {item: fact(f"cargo_{item}_ahead") for item in ITEMS}

FACTS = [
    choice("tongue_by", "cargo", "scale", "lever", "weighings"),
    kg("empty_weight", 50, 6000, no_gross),
    number("cargo_count", "count", 0, len(ITEMS), when=listed),
    *(kg(f"cargo_{item}", 0, 6000, listed & counts(item)) for item in ITEMS),
    *(mm(f"cargo_{item}_ahead", -9000, 9000, added_up & counts(item)) for item in ITEMS),
    mm("deck_front", 0, 9000, added_up),
    mm("deck_rear", 0, 9000, added_up),
    mm("ball_to_axle", 500, 12000, added_up),
    kg("tongue_empty", 0, 1000, added_up),
    kg("bed_weight", 20, 3000, tilts),
    mm("bed_middle_ahead", -9000, 9000, tilts),
    mm("pivot_ahead", -3000, 9000, tilts),
    kg("tongue_scale", 0, 1000, is_("tongue_by", "scale")),
    kg("lever_reading", 0, 500, is_("tongue_by", "lever")),
    mm("lever_pivot", 50, 3000, is_("tongue_by", "lever")),
    mm("lever_scale", 50, 6000, is_("tongue_by", "lever")),
    kg("weighing_alone", 300, 20000, weighings),
    kg("weighing_hitched", 300, 20000, weighings),
    kg("weighing_all", 300, 30000, weighings),
    kg("scale_step", 0.1, 50, weighings),
    kg("tongue_rating", 20, 2000, optional=True),
    yes_no("equalized", when=~alone),
    kg("axle_rating", 200, 6000),
    yes_no("sways"),
    number("sway_speed", "km_h", 20, 160, us="mph", when=is_("sways", "yes")),
]

lever_arm = fact("lever_scale") / fact("lever_pivot")
moments = {item: weight[item] * ahead[item] for item in ITEMS}
# an item's weight stands once in each of these, so that a rough weight does not widen them twice
on_axles = {item: weight[item] * (1 - ahead[item] / fact("ball_to_axle")) for item in ITEMS}
past_ends = {
    item: largest(ahead[item] - fact("deck_front"), -ahead[item] - fact("deck_rear"))
    for item in ITEMS
}


def total(terms: dict[int, Expr]) -> Expr:
    return over_items(add, terms)


def weighed_gap(later: str, earlier: str) -> Expr:
    """The difference of two weighings, with a step of doubt in each."""
    gap, doubt = fact(later) - fact(earlier), 2 * fact("scale_step")
    return between(gap - doubt, gap + doubt)


def middle(name: str) -> Expr:
    return (low(limits(name)) + high(limits(name))) / 2


def share_of(name: str, whole: Expr) -> Expr:
    return convert(limits(name), "percent", "ratio") * whole


def percent(part: Expr) -> Expr:
    return convert(part, "ratio", "percent")


loaded, tongue, per_axle = (
    quantity("loaded_weight"),
    quantity("tongue_load"),
    quantity("load_per_axle"),
)
still_left = loaded - tongue

WHOLE = [
    Quantity("cargo_weight", "kg", total(weight), SUM),
    Quantity(
        "loaded_weight",
        "kg",
        when(
            weighed,
            fact("gross_weight"),
            when(
                weighings,
                weighed_gap("weighing_all", "weighing_alone"),
                fact("empty_weight") + quantity("cargo_weight"),
            ),
        ),
        SUM,
    ),
    Quantity("payload_left", "kg", fact("gross_rating") - loaded, "Definition"),
    Quantity(
        "past_deck",
        "mm",
        when(added_up, largest(0, over_items(largest, past_ends)), 0),
        "Definition",
    ),
]

TONGUE = [
    Quantity("cargo_on_tongue", "kg", total(moments) / fact("ball_to_axle"), STATICS),
    Quantity(
        "tongue_load",
        "kg",
        pick(
            "tongue_by",
            {
                "cargo": fact("tongue_empty") + quantity("cargo_on_tongue"),
                "scale": fact("tongue_scale"),
                "lever": fact("lever_reading") * (1 + lever_arm),
                "weighings": weighed_gap("weighing_hitched", "weighing_alone"),
            },
        ),
        f"{STATICS}; {LEVER}",
    ),
    Quantity("tongue_share", "percent", percent(tongue / loaded), "Definition"),
    Quantity(
        "tongue_per_inch",
        "kg",
        quantity("cargo_weight") * limits("one_inch") / fact("ball_to_axle"),
        STATICS,
    ),
    Quantity(
        "cargo_middle",
        "mm",
        quantity("cargo_on_tongue") * fact("ball_to_axle") / quantity("cargo_weight"),
        STATICS,
    ),
    Quantity(
        "cargo_best",
        "mm",
        (
            convert(
                pick("boat", {"no": middle("share_usual"), "yes": middle("share_other")}),
                "percent",
                "ratio",
            )
            * loaded
            - fact("tongue_empty")
        )
        * fact("ball_to_axle")
        / quantity("cargo_weight"),
        STATICS,
    ),
    Quantity(
        "tongue_advised",
        "kg",
        pick(
            "boat",
            {"no": share_of("share_usual", loaded), "yes": share_of("share_boat", loaded)},
        ),
        "Public towing guidance: 10 to 15 percent, boats 5 to 7 in a maker's manual",
        "secondary",
    ),
    Quantity(
        "tongue_other", "kg", share_of("share_other", loaded), "University of Virginia", "read"
    ),
    Quantity(
        "tongue_europe",
        "kg",
        smallest(share_of("share_europe", loaded), limits("coupling_europe")),
        "European trailer makers: 4 to 7 percent within the coupling's rating",
        "secondary",
    ),
    Quantity(
        "bed_balance",
        "mm",
        (
            fact("bed_weight") * fact("bed_middle_ahead")
            + quantity("cargo_on_tongue") * fact("ball_to_axle")
        )
        / (fact("bed_weight") + quantity("cargo_weight"))
        - fact("pivot_ahead"),
        "Moment balance of bed and cargo about the pivot",
    ),
]

RESERVES = [
    Quantity(
        "axle_load",
        "kg",
        pick(
            "tongue_by",
            {
                "cargo": when(
                    weighed,
                    still_left,
                    fact("empty_weight") - fact("tongue_empty") + total(on_axles),
                ),
                "scale": still_left,
                "lever": still_left,
                "weighings": weighed_gap("weighing_all", "weighing_hitched"),
            },
        ),
        STATICS,
    ),
    # without an equalizer the level of the frame decides, so any share is possible
    Quantity(
        "load_per_axle",
        "kg",
        when(
            alone | is_("equalized", "yes"),
            quantity("axle_load") / fact("axles"),
            between(0, quantity("axle_load")),
        ),
        "Equalized axles share alike",
    ),
    Quantity(
        "axle_reserve",
        "percent",
        percent(1 - per_axle / fact("axle_rating")),
        "Definition",
    ),
    Quantity(
        "wheel_load", "kg", per_axle * limits("heavier_side"), "One side taken as heavier, 52 to 48"
    ),
    Quantity(
        "tire_reserve",
        "percent",
        percent(1 - quantity("wheel_load") / quantity("tire_rated")),
        "Definition",
    ),
    Quantity(
        "sway_room",
        "km_h",
        fact("sway_speed") - fact("planned_speed"),
        "Definition",
    ),
]

QUANTITIES = [*WHOLE, *TONGUE, *RESERVES]


def past_share(percent_of: Expr) -> Expr:
    """Tongue load less a share of the loaded weight, in kg; every answer stands in it once."""
    part = convert(percent_of, "percent", "ratio")
    by_item = {i: weight[i] * (ahead[i] / fact("ball_to_axle") - part) for i in ITEMS}
    doubt = 2 * fact("scale_step") * (1 + part)
    gaps = (
        fact("weighing_hitched") - part * fact("weighing_all") - (1 - part) * fact("weighing_alone")
    )
    measured = tongue - part * loaded
    added = fact("tongue_empty") - part * fact("empty_weight") + total(by_item)
    return pick(
        "tongue_by",
        {
            "cargo": when(weighed, measured, added),
            "scale": measured,
            "lever": measured,
            "weighings": when(weighed, measured, between(gaps - doubt, gaps + doubt)),
        },
    )


placed = quantity("past_deck") <= 0
rounding = limits("rounding")
# added, not taken away: a difference of two speeds is off by its rounding at the margin
sway_margin = convert(limits("sway_margin"), "mph", "km_h")
floor, ceiling = low(limits("share_other")), high(limits("share_usual"))


# about the pivot, each answer once: of the same sign as how far the middle lies ahead of it
bed_moment = fact("bed_weight") * (fact("bed_middle_ahead") - fact("pivot_ahead")) + total(
    {item: weight[item] * (ahead[item] - fact("pivot_ahead")) for item in ITEMS}
)


def judged(
    name: str,
    point: str,
    level: str,
    holds: Expr,
    source: str,
    standing: str,
    *cautions: str,
    shows: tuple[str, ...] = (),
    optional: bool = False,
    beneath: str = "",
) -> Finding:
    return Finding(name, point, level, holds, source, standing, cautions, shows, optional, beneath)


def over(name: str, point: str, holds: Expr, *shows: str, optional: bool = False) -> Finding:
    return judged(
        name,
        point,
        "stop",
        holds,
        TIRES if name == "wheel_over" else RATING,
        "read" if name == "wheel_over" else "practice",
        "maker",
        "traffic",
        shows=shows,
        optional=optional,
    )


def near(name: str, point: str, holds: Expr, above: str, *shows: str) -> Finding:
    return judged(
        name,
        point,
        "look",
        holds,
        "Trailer trade press: keep 10 to 20 percent in reserve",
        "secondary",
        "maker",
        shows=shows,
        beneath=above,
    )


FINDINGS = [
    over("payload_over", "loaded", quantity("payload_left") < 0, "payload_left", optional=True),
    judged(
        "cargo_past_deck",
        "cargo",
        "look",
        quantity("past_deck") > 0,
        "A load's middle lies over the deck that carries it; common practice, no source",
        "practice",
        shows=("past_deck",),
    ),
    judged(
        "tongue_share_low", "tongue", "mend", placed & (past_share(floor) < -rounding), ADVICE,
        "read", "crush", shows=("tongue_share",),
    ),
    judged(
        "tongue_share_light", "tongue", "look",
        is_("boat", "no") & placed & (past_share(low(limits("share_usual"))) < -rounding), ADVICE,
        "secondary", "crush", shows=("tongue_share",), beneath="tongue_share_low",
    ),
    judged(
        "tongue_share_heavy", "tongue", "look", placed & (past_share(ceiling) > rounding), ADVICE,
        "secondary", "crush", shows=("tongue_share",),
    ),
    judged(
        "tongue_over", "tongue", "mend", placed & (tongue > fact("tongue_rating")),
        "Tongue rating of hitch, ball or coupler, the least of them; practice of makers",
        "practice", "crush", "maker", shows=("tongue_load",), optional=True,
    ),
    judged(
        "bed_tips", "tilt_balance", "mend",
        tilts & (over_items(largest, past_ends) <= 0) & (bed_moment < 0),
        "Moment balance of bed and cargo about the pivot", "computed",
        "crush", shows=("bed_balance",),
    ),
    over("axle_over", "reserves", placed & (quantity("axle_reserve") < 0), "axle_reserve"),
    near(
        "axle_near", "reserves", placed & (quantity("axle_reserve") < limits("reserve_least")),
        "axle_over", "axle_reserve",
    ),
    over("wheel_over", "reserves", placed & (quantity("tire_reserve") < 0), "tire_reserve"),
    near(
        "wheel_near", "reserves", placed & (quantity("tire_reserve") < limits("reserve_least")),
        "wheel_over", "tire_reserve",
    ),
    judged(
        "nose_lifts", "tongue", "mend", is_("tongue_feel", "light"), SWAY, "secondary",
        "crush",
    ),
    judged(
        "sway_close", "sway", "stop",
        is_("sways", "yes")
        & (fact("sway_speed") <= fact("planned_speed") + sway_margin),
        SWAY, "read", "traffic", shows=("sway_room",),
    ),
    judged(
        "sway_seen", "sway", "mend", is_("sways", "yes"), SWAY, "read", "traffic",
        shows=("sway_room",), beneath="sway_close",
    ),
]  # fmt: skip
