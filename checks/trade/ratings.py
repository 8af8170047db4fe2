"""The weakest link from vehicle to tire, and safety chains, ball and coupler by class.

Every link is judged against the loaded weight, and those that are not known are passed over. What
stands on the wheels is the weight less what the ball carries, so the axles and tires together are
called too weak only where they would be with the ball carrying the most of the usual share.
"""

from functools import reduce
from operator import or_

from checks.facts import Fact, choice, number
from checks.formula import (
    Expr,
    convert,
    fact,
    is_,
    known,
    largest,
    limit,
    pick,
    quantity,
    rank,
    smallest,
    table,
    when,
)
from checks.rules import Finding, Limits, Quantity
from checks.trade.coupling import diameter
from checks.trade.weights import past_share, rounding

limits = Limits("ratings")

GRADES = ("30", "43", "70", "80", "100")
gross = quantity("loaded_weight")
unbraked = is_("brakes", "none")


def rating(name: str, high: float = 12000) -> Fact:
    return number(name, "kg", 200, high, us="lb", optional=True)


FACTS = [
    *(rating(f"{name}_rating") for name in ("tow", "hitch", "ball", "coupler")),
    rating("combined_rating", 30000),
    rating("wheel_rating", 3000),
    rating("rear_axle_rating", 6000),
    rating("rear_axle_weight", 8000),
    choice("chain_size", "3_16", "1_4", "5_16", "3_8", "7_16", "1_2"),
    choice("chain_grade", *(f"g{grade}" for grade in GRADES)),
    number("chains_fitted", "count", 1, 2),
]


def pounds(name: str) -> Expr:
    return convert(limits(name), "lb", "kg")


def by_class(first: Expr, second: Expr, rest: Expr) -> Expr:
    """One term per coupling class, by the loaded weight; ``rest`` for class 3 and above."""
    return when(gross <= pounds("class_1"), first, when(gross <= pounds("class_2"), second, rest))


def chain_break(grade: str) -> Expr:
    """Breaking load of one chain: its working load times the factor of its grade."""
    times = limits("break_43" if grade == "43" else "break_other")
    return convert(table(f"ratings.chain_{grade}", rank("chain_size")), "lb", "kg") * times


chain = quantity("chain_break")
on_wheels = gross * limits("wheel_share")
axles_carry = fact("axles") * fact("axle_rating")
tires_carry = 2 * fact("axles") * quantity("tire_rated")
# link: what it bears, what it is held against, what must be answered for it to count
LINKS = {
    "vehicle": (fact("tow_rating"), gross, known("tow_rating")),
    "hitch": (fact("hitch_rating"), gross, known("hitch_rating")),
    "ball": (fact("ball_rating"), gross, known("ball_rating")),
    "coupler": (fact("coupler_rating"), gross, known("coupler_rating")),
    "chains": (
        chain * fact("chains_fitted"),
        gross,
        known("chain_size") & known("chain_grade"),
    ),
    "combined": (
        fact("combined_rating"),
        gross + fact("tow_weight"),
        known("combined_rating") & known("tow_weight"),
    ),
    "axles": (axles_carry, on_wheels, known("axles") & known("axle_rating")),
    "wheels": (
        2 * fact("axles") * fact("wheel_rating"),
        on_wheels,
        known("axles") & known("wheel_rating"),
    ),
    "tires": (
        tires_carry,
        on_wheels,
        known("axles") & known("tire_family") & (known("tire_rating") | known("load_index")),
    ),
}
# the weakest link takes one chain alone, since two rarely share a pull
ALONE = {name: chain if name == "chains" else bears for name, (bears, _, _) in LINKS.items()}
# what the combined rating leaves for the trailer
ALONE["combined"] = fact("combined_rating") - fact("tow_weight")
ALONE["frame"] = fact("gross_rating")
COUNTS = {name: counts for name, (_, _, counts) in LINKS.items()} | {"frame": known("gross_rating")}


def weakest() -> Expr:
    """The least of the links that are known, any load where none is."""
    absent = limits("link_not_known")
    arms = [when(counts, quantity(f"link_{name}"), absent) for name, counts in COUNTS.items()]
    return when(reduce(or_, COUNTS.values()), smallest(*arms), limits("unknown"))


BEARS = "Definition"
LESS = "Definition"
CLASSES = "SAE J684 classes as carried by COMAR 11.13.08.10"
CHAIN = "49 CFR 393.108 chain table; breaking load by grade, welded chain makers"
QUANTITIES = [
    *(Quantity(f"link_{name}", "kg", bears, BEARS) for name, bears in ALONE.items()),
    Quantity("weakest_link", "kg", weakest(), "Definition"),
    *(
        Quantity(f"margin_{name}", "kg", bears - against, LESS)
        for name, (bears, against, _) in LINKS.items()
    ),
    Quantity(
        "chain_break", "kg", pick("chain_grade", {f"g{g}": chain_break(g) for g in GRADES}), CHAIN
    ),
    Quantity(
        "chain_least",
        "kg",
        by_class(pounds("class_1"), pounds("class_2"), largest(pounds("class_3"), gross)),
        "SAE J684: least breaking load of each chain",
        "secondary",
    ),
    Quantity(
        "ball_least",
        "mm",
        when(gross <= pounds("class_1"), limit("coupling.ball_1_7_8"), limit("coupling.ball_2")),
        CLASSES,
        "read",
    ),
    Quantity(
        "tongue_most",
        "kg",
        # the 300 lb of class 2 are 15 percent of its lightest trailer, so they never count
        largest(pounds("tongue_class_1"), limits("tongue_share") * gross),
        "SAE J684 guidance as restated in a public newsletter",
        "secondary",
    ),
]

MAKER = ("maker",)
OVER = "The maker's rating is the limit; common practice, no source"
WHEELS = "49 CFR 393.75(g); 49 CFR part 396 App. A 10.b(1); the maker's rating"
GROUND = {
    "chains": ("49 CFR 393.70(d)(3), breaking strength of both together", "read"),
    "tires": (WHEELS, "read"),
}


def link(name: str) -> Finding:
    """The loaded weight is more than this link bears."""
    source, standing = GROUND.get(name, (OVER, "practice"))
    bears, against, _ = LINKS[name]
    point = "chain_strength" if name == "chains" else "ratings"
    shows = (f"margin_{name}",)
    over = against > bears
    return Finding(
        f"rating_{name}_over", point, "stop", over, source, standing, MAKER, shows, name != "chains"
    )


def weak(name: str, point: str, level: str, test: Expr, source: str, standing: str, *shows: str,
         beneath: str = "", optional: bool = False) -> Finding:  # fmt: skip
    return Finding(name, point, level, test, source, standing, MAKER, shows, optional, beneath)


def below_class(part: str) -> Expr:
    return diameter(f"{part}_size") < quantity("ball_least") - limits("metric_ball")


FINDINGS = [
    *(link(name) for name in LINKS),
    weak(
        "rear_axle_over", "ratings", "stop", fact("rear_axle_weight") > fact("rear_axle_rating"),
        OVER, "practice", optional=True,
    ),
    weak(
        "chain_weak", "chain_strength", "mend", chain < quantity("chain_least"),
        "SAE J684 (2005), least breaking load of each chain", "secondary",
        "chain_break", "chain_least", beneath="rating_chains_over",
    ),
    weak(
        "ball_below_class", "ball_class", "mend", below_class("ball"), CLASSES, "read",
        "ball_least",
    ),
    weak(
        "coupler_below_class", "ball_class", "mend", below_class("coupler"), CLASSES, "read",
        "ball_least",
    ),
    weak(
        "tongue_over_class", "ball_class", "look",
        (quantity("tongue_load") > pounds("tongue_class_1"))
        & (past_share(convert(limits("tongue_share"), "ratio", "percent")) > rounding),
        "SAE J684 guidance as restated in a public newsletter", "secondary",
        "tongue_load", "tongue_most", optional=True,
    ),
]  # fmt: skip
