"""Tie-downs: how many an article needs, what they are rated for, and what they hold.

The law asks for a number of tie-downs and for working load limits that add up to half the weight.
Neither looks at angles, so tie-downs that end on the cargo are held against the forward force too.
"""

from checks.facts import Fact, choice, number, yes_no
from checks.formula import (
    Expr,
    convert,
    fact,
    is_,
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

limits = Limits("tiedowns")

KINDS = ("1", "2")
WIDTHS = ("1_75", "2", "3", "4")
CHAINS = ("3_16", "1_4", "5_16", "3_8", "7_16", "1_2")
GRADES = ("g30", "g43", "g70", "g80", "g100", "none")
GRIPS = ("wood", "planed", "metal", "mat")
WIRES = ("1_4", "5_16", "3_8", "7_16", "1_2", "5_8")
COUNT = "49 CFR 393.110(b)-(c); 49 CFR 393.128(b); 49 CFR 393.130(a)-(c)"
TABLES = "49 CFR 393.108(a)-(b), (d)-(e) and tables"
SHARE = "49 CFR 393.106(d)"
FORCES = "49 CFR 393.102(a)(1)"

article = fact("article_weight")
blocked = is_("article_blocked", "yes")


def pounds(term: Expr) -> Expr:
    return convert(term, "lb", "kg")


def feet(name: str) -> Expr:
    return convert(limits(name), "ft", "m")


def used(kind: str) -> Expr:
    return fact(f"tie_{kind}_count") >= 1


def asked(kind: str) -> list[Fact]:
    """What is asked of one kind of tie-down; of the second only where there is one."""
    there = used(kind)

    def of(*what: str) -> Expr:
        return there & is_(f"tie_{kind}_is", *what)

    chained, onto = of("chain"), there & is_(f"tie_{kind}_ends", "to_cargo")
    weaker = there & is_(f"tie_{kind}_weaker", "yes")
    return [
        number(f"tie_{kind}_count", "count", 0, 12),
        choice(f"tie_{kind}_is", "marked", "strap", "chain", "wire", when=there),
        number(f"tie_{kind}_mark", "kg", 20, 12000, us="lb", when=of("marked")),
        choice(f"tie_{kind}_width", *WIDTHS, when=of("strap")),
        choice(f"tie_{kind}_size", *CHAINS, when=chained),
        choice(f"tie_{kind}_grade", *GRADES, when=chained),
        choice(f"tie_{kind}_wire", *WIRES, when=of("wire")),
        yes_no(f"tie_{kind}_weaker", when=there),
        number(f"tie_{kind}_part", "kg", 20, 12000, us="lb", when=weaker),
        choice(f"tie_{kind}_ends", "across", "same_side", "to_cargo", when=there),
        number(f"tie_{kind}_angle", "deg", 0, 90, when=onto),
    ]


FACTS = [
    number("article_weight", "kg", 1, 12000, us="lb"),
    number("article_length", "m", 0.1, 15, us="ft"),
    choice("article_kind", "goods", "machine", "car"),
    yes_no("article_blocked"),
    yes_no("both_ends", when=is_("article_kind", "car")),
    *(one for kind in KINDS for one in asked(kind)),
    choice("deck_grip", *GRIPS, optional=True),
    number("over_pull", "kg", 10, 1000, us="lb", optional=True),
    number("over_angle", "deg", 10, 90, optional=True),
]


def chain_limit(kind: str, grade: str) -> Expr:
    """Chain without a readable mark counts as grade 30."""
    row = "30" if grade == "none" else grade.removeprefix("g")
    return pounds(table(f"ratings.chain_{row}", rank(f"tie_{kind}_size")))


def own_limit(kind: str) -> Expr:
    """Working load limit of the strap, chain or rope itself; its mark beats the tables."""
    return pick(
        f"tie_{kind}_is",
        {
            "marked": fact(f"tie_{kind}_mark"),
            "strap": pounds(table("tiedowns.webbing", rank(f"tie_{kind}_width"))),
            "chain": pick(f"tie_{kind}_grade", {g: chain_limit(kind, g) for g in GRADES}),
            "wire": pounds(table("tiedowns.wire_rope", rank(f"tie_{kind}_wire"))),
        },
    )


def break_factor(kind: str) -> Expr:
    """How many times its working load limit a tie-down bears before it breaks."""
    chain = {g: limit(f"ratings.break_{'43' if g == 'g43' else 'other'}") for g in GRADES}
    return pick(
        f"tie_{kind}_is",
        {
            "marked": limits("break_webbing"),
            "strap": limits("break_webbing"),
            "chain": pick(f"tie_{kind}_grade", chain),
            "wire": limits("break_wire"),
        },
    )


def cosine(degrees: Expr) -> Expr:
    """Bhaskara's approximation, within 0.002 from 0 to 90 degrees, the angle standing once."""
    half_turn = limits("half_turn") ** 2
    return 5 * half_turn / (half_turn + (degrees / limits("one_degree")) ** 2) - 4


def summed(term: dict[str, Expr]) -> Expr:
    """The term of each kind there is, the number of tie-downs taken in."""
    first, second = (fact(f"tie_{k}_count") * term[k] for k in KINDS)
    return when(used("2"), first + second, first)


def further() -> Expr:
    """One for each 10 ft beyond the first, or part of it; the longest article has four."""
    result = Expr(0.0)
    for n in range(1, 5):
        longer = fact("article_length") > feet("one_more") * n
        result = when(longer, limits("count_one") * n, result)
    return result


short = (fact("article_length") <= feet("short")) & (article <= pounds(limits("light")))
plain = when(blocked | short, limits("count_one"), limits("count_two")) + further()
ratings = {k: quantity(f"tie_{k}_limit") for k in KINDS}
counted = {
    k: ratings[k]
    * pick(f"tie_{k}_ends", {"across": 1, "same_side": limits("half"), "to_cargo": limits("half")})
    for k in KINDS
}
breaks = {k: ratings[k] * break_factor(k) for k in KINDS}
# those that end on the cargo pull along the deck; half of them against sliding forward
along = {
    k: when(
        is_(f"tie_{k}_ends", "to_cargo"),
        breaks[k] * limits("half") * cosine(fact(f"tie_{k}_angle")),
        0,
    )
    for k in KINDS
}

# what straps over the top hold by friction alone: they press, the deck grips
over_top = summed({k: when(is_(f"tie_{k}_ends", "across"), 1, 0) for k in KINDS})
pressed = (
    over_top
    * limits("two_legs")
    * fact("over_pull")
    * cosine(limits("quarter_turn") - fact("over_angle"))
    / limits("over_safety")
)

QUANTITIES = [
    Quantity(
        "ties_grip",
        "kg",
        pick("deck_grip", {g: limits(f"grip_{g}") for g in GRIPS}) * (article + pressed),
        "EN 12195-1: friction times weight and what the straps press",
        "secondary",
    ),
    Quantity(
        "ties_needed",
        "count",
        pick(
            "article_kind",
            {
                "goods": plain,
                "machine": largest(
                    plain,
                    when(
                        article >= pounds(limits("heavy")),
                        limits("count_four"),
                        limits("count_one"),
                    ),
                ),
                "car": largest(plain, limits("count_two")),
            },
        ),
        COUNT,
        "read",
    ),
    *(
        Quantity(
            f"tie_{k}_limit",
            "kg",
            when(
                is_(f"tie_{k}_weaker", "yes"),
                smallest(own_limit(k), fact(f"tie_{k}_part")),
                own_limit(k),
            ),
            TABLES,
            "read",
        )
        for k in KINDS
    ),
    Quantity("ties_counted", "kg", summed(counted), SHARE, "read"),
    Quantity("ties_least", "kg", article * limits("aggregate"), SHARE, "read"),
    Quantity("ties_break", "kg", summed(breaks), "Breaking load by kind of tie-down", "secondary"),
    Quantity(
        "ties_forward", "kg", summed(along), "Statics: pull along the deck is the cosine's share"
    ),
    Quantity("force_forward", "kg", article * limits("forward"), FORCES, "read"),
    Quantity("force_other", "kg", article * limits("rear_and_side"), FORCES, "read"),
]

fitted = fact("tie_1_count") + fact("tie_2_count")
across = is_("tie_1_ends", "across") & (~used("2") | is_("tie_2_ends", "across"))
direct = is_("tie_1_ends", "to_cargo") & (~used("2") | is_("tie_2_ends", "to_cargo"))

FINDINGS = [
    Finding(
        "car_one_end", "article", "mend",
        is_("article_kind", "car") & is_("both_ends", "no"),
        "49 CFR 393.128(b)(1), light vehicles", "read", ("crush", "traffic"),
    ),
    Finding(
        "machine_corners", "ties", "look",
        is_("article_kind", "machine") & (fitted < limits("count_four")),
        "49 CFR 393.130(c) asks it from 10,000 lb; below, common practice, no source", "practice",
        ("crush", "traffic"), ("ties_needed",), beneath="ties_few",
    ),
    Finding(
        "ties_few", "ties", "mend", fitted < quantity("ties_needed"), COUNT, "read",
        ("crush", "traffic"), ("ties_needed",),
    ),
    Finding(
        "ties_weak", "ties", "mend", quantity("ties_counted") < quantity("ties_least"),
        f"{SHARE}; {TABLES}", "read", ("maker",), ("ties_counted", "ties_least"),
    ),
    Finding(
        "ties_steep", "ties", "look",
        used("1") & direct & ~blocked & (quantity("ties_forward") < quantity("force_forward")),
        f"{FORCES}; statics", "computed", ("maker",), ("ties_forward", "force_forward"),
        beneath="ties_weak",
    ),
    Finding(
        "ties_slide", "grip", "look",
        used("1") & across & ~blocked & (quantity("ties_grip") < quantity("force_forward")),
        f"EN 12195-1, over-the-top lashing; {FORCES}", "secondary", ("maker", "crush"),
        ("ties_grip", "force_forward"), optional=True,
    ),
]  # fmt: skip
