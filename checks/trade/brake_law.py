"""Brakes by law: what the place's law asks of a trailer without brakes, or with surge brakes.

The laws themselves stand in ``checks/brake_law.toml``. Places differ in which weight they mean, in
whether the towing vehicle counts, and in easings; places that set no weight test the whole set.
"""

from functools import reduce
from operator import or_
from typing import Any

from checks.brake_law import read_laws
from checks.facts import choice, number, yes_no
from checks.formula import Expr, convert, exp, fact, is_, largest, limit, pick, quantity, when
from checks.rules import Finding, Limits, Quantity, onward
from checks.trade.brakes import surge
from checks.trade.ratings import gross, on_wheels, pounds, unbraked
from checks.trade.stopping import braking, heavier
from checks.trade.weights import no_gross

ratings, stopping = Limits("ratings"), Limits("stopping")

LAWS = read_laws()
PLACES = (*LAWS, "other")


def where(key: str, *values: Any) -> tuple[str, ...]:
    """The places whose law has a key, or one of these values for it."""
    return tuple(p for p, law in LAWS.items() if key in law and (not values or law[key] in values))


UNREAD = tuple(p for p, law in LAWS.items() if "unread" in law or law["standing"] == "memory")
READ = tuple(p for p in where("standing", "read") if p not in UNREAD)
RESTATED = tuple(p for p in where("standing", "secondary") if p not in UNREAD)
EMPTY, PLATE = (where("weighs", kind) for kind in ("empty", "plate"))
BY_TEST = where("weighs", "none")
ALSO, INSTEAD = (where("share_as", way) for way in ("also", "instead"))


def at(*places: str) -> Expr:
    return is_("state", *places)


def line(place: str, key: str = "") -> Expr:
    """A weight of a place's law, in kg."""
    name = f"{place}_{key}" if key else place
    weight = limit(f"brake_law.{name}")
    return weight if LAWS[place].get("unit") == "kg" else convert(weight, "lb", "kg")


def by_place(term: dict[str, Expr], otherwise: Expr) -> Expr:
    return pick("state", {place: term.get(place, otherwise) for place in PLACES})


FACTS = [
    choice("state", *PLACES),
    yes_no("living", when=at(*where("living"), *where("only"))),
    number("unladen_weight", "kg", 50, 6000, us="lb", when=at(*EMPTY, "ms", "ny") & ~no_gross),
    number("tow_weight", "kg", 500, 15000, us="lb"),
    number("tow_axles", "kg", 500, 15000, us="lb", when=at("nh")),
    number("tow_gvwr", "kg", 500, 15000, us="lb", when=surge, optional=True),
    number("breakaway_minutes", "min", 0, 60, when=~unbraked, optional=True),
]

boat, living = is_("boat", "yes"), is_("living", "yes")
empty = when(no_gross, fact("empty_weight"), fact("unladen_weight"))
boat_line = boat & at(*where("boat"))


def law_weight() -> Expr:
    """The weight that the law of the place speaks of."""
    carried = when(at("ms"), largest(0, gross - empty), gross)
    rest = when(at(*where("weighs", "wheels")), gross - quantity("tongue_load"), carried)
    rest = when(at(*PLATE), fact("gross_rating"), rest)
    return when(boat_line, gross, when(at(*EMPTY), empty, rest))


def threshold(place: str) -> Expr:
    """From which weight: a trailer to live in or a boat trailer may have its own."""
    if place in BY_TEST:  # no weight is enough for brakes by this law
        return largest(line(place), pounds("brakes_other") * exp(ratings("no_weight")))
    result = line(place)
    if "living" in LAWS[place]:
        result = when(living, line(place, "living"), result)
    return when(boat, line(place, "boat"), result) if "boat" in LAWS[place] else result


def share(place: str) -> Expr:
    """The towing vehicle's share that the trailer is held against."""
    of = {"rated_axles": "tow_axles"}.get(LAWS[place]["share_of"], "tow_weight")
    return limit(f"brake_law.{place}_share") * fact(of)


def stop_most(place: str) -> Expr:
    if "stop_m" in LAWS[place]:
        return limit(f"brake_law.{place}_stop_m")
    return convert(limit(f"brake_law.{place}_stop_ft"), "ft", "m")


LAW = "Law of the place named; standing as its limit says"
NO_SHARE = ratings("link_not_known")
stops = (*where("stop_ft"), *where("stop_m"))
from_speed = when(at(*where("stop_m")), stopping("test_metric"), stopping("test_us"))
shared_weight = when(
    at(*where("share_weighs", "wheels")),
    on_wheels,
    when(at(*where("share_weighs", "plate")), fact("gross_rating"), gross),
)
surge_ratio = when(
    fact("gross_rating") <= pounds("surge_light"),
    ratings("surge_ratio"),
    ratings("surge_ratio_heavy"),
)

QUANTITIES = [
    Quantity("law_weight", "kg", law_weight(), "The weight that the law of the place speaks of"),
    Quantity(
        "brake_threshold",
        "kg",
        by_place({p: threshold(p) for p in LAWS}, pounds("brakes_other")),
        LAW,
    ),
    Quantity("share_most", "kg", by_place({p: share(p) for p in where("share")}, NO_SHARE), LAW),
    Quantity(
        "stop_most", "m", by_place({p: stop_most(p) for p in stops}, stopping("no_test")), LAW
    ),
    Quantity(
        "stop_tested",
        "m",
        braking(convert(from_speed, "km_h", "m_s"), stopping("grip_dry") * stopping("gravity"))
        * heavier,
        "Kinematics of even braking, without the reaction",
    ),
    Quantity("surge_most", "kg", surge_ratio * fact("tow_gvwr"), "49 CFR 393.48(d)(1)", "read"),
]

weight, wanted = quantity("law_weight"), quantity("brake_threshold")
bound = reduce(or_, [boat, living]) | ~at(*where("only"))
AT = where("from", "at")
ABOVE = tuple(p for p in where("from", "above") if p not in BY_TEST)
over = (at(*AT) & (weight >= wanted)) | (at(*ABOVE) & (weight > wanted))
slow = reduce(
    or_,
    [
        at(p) & (gross <= line(p, "slow_most"))
        & (fact("planned_speed") <= convert(limit(f"brake_law.{p}_slow"), "mph", "km_h"))
        for p in where("slow")
    ],
)  # fmt: skip
light = reduce(or_, [at(p) & (empty <= line(p, "empty_above")) for p in where("empty_above")])
eased = slow | light | (at(*INSTEAD) & (gross < quantity("share_most")))
heavy = bound & ((over & ~eased) | (at(*ALSO) & (shared_weight > quantity("share_most"))))
federal = (gross > pounds("brakes_other")) | (
    on_wheels > ratings("federal_share") * fact("tow_weight")
)
new_line = reduce(or_, [at(p) & (gross >= line(p, "new")) for p in where("new")])
surge_line = reduce(or_, [at(p) & (gross > line(p, "surge_most")) for p in where("surge_most")])

MAKER = ("maker",)


def law(name: str, level: str, test: Expr, source: str, standing: str, *shows: str,
        beneath: str = "", optional: bool = False,
        cautions: tuple[str, ...] = MAKER) -> Finding:  # fmt: skip
    return Finding(
        name, "brake_law", level, test, source, standing, cautions, shows, optional, beneath
    )


SUMS = ("law_weight", "brake_threshold")
CITED = "State or national law; citation and standing stand with the limit"

FINDINGS = [
    law("brakes_required", "mend", unbraked & at(*READ) & heavy, CITED, "read", *SUMS),
    law(
        "brakes_required_restated", "mend", unbraked & at(*RESTATED) & heavy, CITED, "secondary",
        *SUMS,
    ),
    law(
        "brakes_required_recalled", "look", unbraked & at(*UNREAD) & heavy, CITED, "memory", *SUMS
    ),
    onward(law(
        "brakes_by_test", "look", unbraked & at(*BY_TEST) & federal,
        "Laws that set no weight; how they test stands with the limit", "secondary",
        "brake_threshold", "stop_tested",
    )),
    law(
        "stop_short", "look",
        unbraked & at(*stops) & (quantity("stop_tested") > quantity("stop_most")),
        "Stopping rule of the place named", "secondary", "stop_tested", "stop_most",
        optional=True,
    ),
    law(
        "brakes_sold_new", "look", unbraked & new_line,
        "Ark. Code 27-37-501; La. R.S. 32:341(D); Tenn. Code 55-9-204", "secondary", "law_weight",
        beneath="brakes_required",
    ),
    onward(law(
        "brakes_federal", "look", unbraked & at("other") & federal,
        "49 CFR 393.42(b)(3)-(4)", "read", "loaded_weight",
    )),
    law(
        "surge_not_enough", "look", surge & surge_line,
        "Laws that end surge brakes at a weight; citation stands with the limit", "secondary",
        "loaded_weight",
    ),
    law(
        "surge_too_heavy", "mend",
        surge & (largest(fact("gross_rating"), gross) > quantity("surge_most")),
        "49 CFR 393.48(d)(1)", "read", "surge_most", optional=True,
    ),
    law(
        "breakaway_short", "mend",
        ~unbraked & (fact("breakaway_minutes") < ratings("breakaway_hold")),
        "49 CFR 393.43(d)", "read", optional=True, cautions=("maker", "jacking"),
    ),
]  # fmt: skip
