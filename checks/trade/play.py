"""End play of a wheel bearing from how far the nut was turned back, or from rock at the tire."""

from checks.facts import choice, number
from checks.formula import Expr, convert, fact, is_, pick, quantity, rank, table
from checks.rules import Finding, Limits, Quantity
from checks.trade.hubs import by_size, sized

limits = Limits("play")

THREADS = ("t3_4", "t7_8", "t1", "t1_1_4", "t1_1_2", "m20")

# the bench asks no play_how: there both ways stand open
turn_asked = ~is_("play_how", "rocked", "dial")

FACTS = [
    choice("play_how", "turned", "rocked", "dial"),
    choice("spindle_thread", *THREADS, optional=True, when=turn_asked),
    choice("cross_holes", "one", "two", optional=True, when=turn_asked),
    number(
        "turned_back",
        "deg",
        0,
        720,
        us="slot",
        metric="deg",
        spread=5.0,
        optional=True,
        when=turn_asked,
    ),
    number(
        "rock_edge",
        "mm",
        0,
        40,
        us="in32",
        metric="mm",
        optional=True,
        when=is_("play_how", "rocked"),
    ),
    number(
        "play_dial",
        "thou",
        0,
        200,
        us="thou",
        metric="mm",
        optional=True,
        when=~is_("play_how", "turned", "rocked"),
    ),
]

THREAD = "Thread geometry, ASME B1.1"
ROCK = "Geometry of the bearing pair; tan of the half angle is 0.389 / K"
RANGES = "TMC RP 618: 1 to 5 thousandths; a small-trailer manual: 1 to 10"


def moved(angle: Expr) -> Expr:
    """Thousandths of an inch that the nut moves along the spindle."""
    pitch = table("play.pitch", rank("spindle_thread"))
    return convert(pitch * angle / limits("turn"), "mm", "thou")


def lever(radius: Expr, k: Expr, spread: Expr) -> Expr:
    """How much more the tire edge rocks than the bearing plays, per unit of end play."""
    return 2 * limits("k_constant") / k * radius / spread


pin_angle = pick("cross_holes", {n: limits(f"pin_{n}") for n in ("one", "two")})
tire_radius = by_size(lambda s: sized("tire_diameter", s)) / 2
dial = fact("play_dial")
rock = convert(fact("rock_edge"), "mm", "thou")

QUANTITIES = [
    Quantity(
        "pin_step",
        "thou",
        moved(pin_angle),
        THREAD,
    ),
    Quantity("turned_play", "thou", moved(fact("turned_back")), THREAD),
    Quantity(
        "rock_lever",
        "ratio",
        lever(tire_radius, limits("bearing_k"), limits("spread")) + limits("slide"),
        ROCK,
    ),
    Quantity(
        "end_play",
        "thou",
        pick(
            "play_how",
            {
                "turned": quantity("turned_play"),
                "rocked": rock / quantity("rock_lever"),
                "dial": dial,
            },
        ),
        THREAD,
    ),
    Quantity(
        "edge_play",
        "thou",
        pick(
            "play_how",
            {
                "turned": quantity("turned_play") * quantity("rock_lever"),
                "rocked": rock,
                "dial": dial * quantity("rock_lever"),
            },
        ),
        ROCK,
    ),
]


def rule(name: str, point: str, level: str, holds: Expr, shows: str, beneath: str = "") -> Finding:
    return Finding(
        name,
        point,
        level,
        holds,
        RANGES,
        "secondary",
        ("jacking", "maker"),
        (shows,),
        optional=point == "bench_play",
        beneath=beneath,
    )


play, by_nut = quantity("end_play"), quantity("turned_play")
# from finger-tight back to the next slot can be a whole pin position: that is the advice itself;
# held against turns, not thousandths, since it is so on every thread
one_slot = pin_angle * limits("slot_read")
past_slot = (by_nut > limits("mend")) & (fact("turned_back") > one_slot)
past_dial = (~is_("play_how", "turned")) & (play > limits("mend"))

FINDINGS = [
    rule(
        "play_slack",
        "bearing_play",
        "mend",
        (is_("play_how", "turned") & past_slot) | past_dial,
        "end_play",
    ),
    rule("play_disputed", "bearing_play", "look", play > limits("look"), "end_play", "play_slack"),
    rule("play_short", "bearing_play", "look", play < limits("tight"), "end_play"),
    rule(
        "bench_slack",
        "bench_play",
        "mend",
        past_slot | (dial > limits("mend")),
        "turned_play",
    ),
    rule(
        "bench_disputed",
        "bench_play",
        "look",
        (by_nut > limits("look")) | (dial > limits("look")),
        "turned_play",
        "bench_slack",
    ),
    rule(
        "bench_short",
        "bench_play",
        "look",
        (by_nut < limits("tight")) | (dial < limits("tight")),
        "turned_play",
    ),
]
