"""Hub heat at a stop: the compact heat model, what a hand can tell, and patterns over the wheels.

A healthy hub warms towards a steady rise over the air that grows with speed and with stiff cold
grease, and cools again while parked. The spread of healthy hubs is a limit; the spread of the
answers comes in through the facts. ``healthy_high`` is the most that a sound hub may show, so a
reading above it is a sign whatever the hub.
"""

from collections.abc import Callable

from checks.facts import Fact, choice, number, yes_no
from checks.formula import (
    Expr,
    between,
    convert,
    each,
    exp,
    fact,
    high,
    is_,
    known,
    low,
    mate,
    pick,
    quantity,
    rank,
    table,
    when,
)
from checks.rules import FIRE, PRACTICE, SIGN, SMOKE, Finding, Limits, Quantity, onward

limits = Limits("hubs")

SIZES = ("bore_25", "bore_27", "bore_32", "bore_35")
FEELS = ("cold", "cool", "slight", "warm", "hot", "very_hot", "no_touch")
TOO_HOT = ("very_hot", "no_touch")  # more than a hand bears for long

SPOTS = ("barrel", "wheel", "cap", "drum")
EASED = ("not_yet", "yes")
BRAKING = ("hardly", "normal", "hard")

by_hand = is_("hub_method", "hand")
by_thermometer = is_("hub_method", "thermometer")
unbraked = is_("brakes", "none")
several = fact("axles") >= limits("several_axles")
# nobody is sent to touch a wheel that burns, smokes or comes off
untouchable = is_(FIRE, "yes") | is_(SMOKE, "yes") | is_("leaning", "yes")
seems_hot = ~untouchable & (
    (by_hand & is_("hub_feel", "hot", "very_hot", "no_touch"))
    | (by_thermometer & (quantity("hub_rise") > quantity("healthy_high")))
)

# said before a thermometer was fetched, it counts until that has read
told_too_hot = known("hub_feel") & is_("hub_feel", *TOO_HOT)
no_hand_near = each("any", "axle", untouchable)
# and until then nothing is doubted to be cold
hot_to_hand = is_("hub_feel", *TOO_HOT) & ~known("hub_reading")
# what a hand bears for seconds at most is not felt again to compare it; it is the warmer one
jerk_near = each("any", "axle", is_("hub_feel", "very_hot", "no_touch"))
own_brake = ~(several & is_("axle_braked", "no"))
# what already forbids driving on to read again
in_trouble = is_("smoke", "yes") | is_("leaning", "yes") | is_("grinding", "yes")
in_trouble = in_trouble | is_("hot_smell", "yes") | is_("thrown_grease", "yes")
stands_still = each("any", "all", is_("flames", "yes") | is_("tire_flat", "yes"))
all_read = each("all", "all", known("hub_reading") | untouchable)
braked_now = ~unbraked & is_("braking", "normal", "hard")
hard_braking = ~unbraked & is_("braking", "hard")
on_drum = ~unbraked & is_("hub_spot", "drum")
# sound drums of one axle differ after any braking: comparing them tells nothing
drums_differ = on_drum & braked_now & own_brake
# what brakes may hide is settled by a reading elsewhere, or by one more after an easy stretch
# a drum too hot for the hand says nothing of its hub; the barrel beside it does
hot_drum = by_hand & on_drum & ~hard_braking & is_("hub_feel", "very_hot", "no_touch")
barrel_tells = on_drum | (is_("hub_spot", "cap") & braked_now)
elsewhere = by_thermometer & barrel_tells
reading_gap = fact("hub_reading") - mate(fact("hub_reading"))
gap_wide = reading_gap > quantity("sound_gap") * limits("gap_mend")
brake_doubt = quantity("brakes_hide") > 0
clearly = is_("pair_feel", "left_clearly", "right_clearly")
told_apart = clearly | jerk_near


def steps_from_mate(name: str) -> Expr:
    """By how many words a hand calls this hub warmer than its mate."""
    return rank(name) - mate(rank(name))


feel_step = steps_from_mate("hub_feel")
felt_apart = feel_step >= limits("steps_mend") + limits("steps_brakes")
felt_apart = in_trouble | felt_apart
# after hard braking sound mates too are clearly apart where the words bear it out, in cold air more
# of them: a question first
borne_out = (fact("air") >= limits("mild")) & (feel_step >= limits("one_step"))
hard_apart = told_apart & ((feel_step >= limits("steps_look")) | borne_out)
hard_apart = by_hand & hard_braking & ~on_drum & hard_apart
hard_apart = hard_apart & ~each("any", "all", felt_apart)
mates_doubt = quantity("mates_hide") > 0
any_doubt = brake_doubt | each("any", "all", mates_doubt)
# asked once those miles are told, not before: what is hot now is not to be felt again now
easy_over = ~untouchable & any_doubt & known("driven_easy") & is_("driven_easy", "yes")
unread = by_thermometer & ~no_hand_near & each("any", "axle", ~known("hub_reading"))


def reading(name: str, most: float, only: Expr, *, optional: bool = False) -> Fact:
    """What a thermometer shows at a wheel, asked while ``only`` is not *no*."""
    return number(
        name, "degC", -45, most, us="degF", metric="degC", scope="wheel", when=only,
        optional=optional,
    )  # fmt: skip


FACTS = [
    number("air", "degC", -45, 55, us="degF", metric="degC", spread=1.0),
    number("run_distance", "km", 0, 3000, us="mi", metric="km"),
    number("run_speed", "km_h", 8, 145, us="mph", metric="km_h"),
    number("parked", "min", 0, 600),
    yes_no("sun", when=by_thermometer, optional=True),
    choice("braking", *BRAKING, when=~unbraked),
    yes_no("axle_braked", scope="axle", when=~unbraked & several, optional=True),
    yes_no("recent_work", optional=True),
    choice("hub_method", "hand", "thermometer"),
    choice("hub_spot", *SPOTS, only={"drum": ~unbraked}),
    yes_no("flames", scope="wheel", optional=True),
    yes_no("smoke", scope="wheel"),
    yes_no("leaning", scope="wheel"),
    yes_no("grinding", scope="wheel"),
    yes_no("hot_smell", scope="wheel"),
    yes_no("thrown_grease", scope="wheel"),
    yes_no("cap_wet", scope="wheel", optional=True),
    yes_no("squeak", scope="wheel", optional=True),
    yes_no("tire_flat", scope="wheel", optional=True),
    choice("hub_feel", *FEELS, scope="wheel", when=(by_hand | told_too_hot) & ~untouchable),
    reading("hub_reading", 400, by_thermometer & ~untouchable),
    choice("turns", "free", "drags", "rough", scope="wheel", when=seems_hot, optional=True),
    reading(
        "drum_reading",
        600,
        seems_hot & by_thermometer & ~unbraked & ~is_("hub_spot", "drum"),
        optional=True,
    ),
    choice(
        "pair_feel",
        "alike",
        "left_slightly",
        "left_clearly",
        "right_slightly",
        "right_clearly",
        scope="axle",
        when=by_hand & ~no_hand_near & ~jerk_near & ~drums_differ,
    ),
    # who cannot read a temperature may still know the gap
    choice("gap_side", "alike", "left", "right", scope="axle", when=unread, optional=True),
    number(
        "gap_size",
        "K",
        0,
        200,
        us="dF",
        metric="K",
        scope="axle",
        when=unread & known("gap_side") & ~is_("gap_side", "alike"),
        optional=True,
    ),
    # settling questions: brake heat soaks away on an easy stretch, a bearing's own heat stays
    reading(
        "barrel_reading",
        400,
        ~untouchable & all_read & elsewhere,
        optional=True,
    ),
    choice("barrel_feel", *FEELS, scope="wheel", when=~untouchable & hot_drum, optional=True),
    choice(
        "driven_easy",
        *EASED,
        when=(by_hand | all_read) & any_doubt & ~stands_still,
        optional=True,
    ),
    reading("again_reading", 400, by_thermometer & easy_over, optional=True),
    choice("again_feel", *FEELS, scope="wheel", when=by_hand & easy_over, optional=True),
    choice("rock", "none", "felt", "rocks", scope="wheel", when=~untouchable),
    choice(
        "lining_look",
        "good",
        "thin",
        "oily",
        "hidden",
        scope="wheel",
        when=~unbraked & ~untouchable,
        optional=True,
    ),
    reading("tire_reading", 200, by_thermometer & ~untouchable, optional=True),
    yes_no("vibration"),
    yes_no("knock"),
    yes_no("swayed"),
    yes_no("brakes_weak", when=~unbraked),
    yes_no("brakes_dragged", when=~unbraked),
    yes_no("hub_warmer"),
    yes_no("tires_hot"),
    yes_no("hitch_pin_out"),
]


def by_size(part: Callable[[str], Expr]) -> Expr:
    """One term per bearing bore; inside it the limits of one hub stay together."""
    return pick("hub_size", {size: part(size) for size in SIZES})


def sized(name: str, size: str) -> Expr:
    return limits(f"{name}_{size}")


MODEL = "Heat model of light trailer hubs: lumped capacity after Incropera, 6th ed., section 5.1"

speed_ratio = fact("run_speed") / limits("reference_speed")


def model(name: str, unit: str, formula: Expr, *, scope: str = "trailer") -> Quantity:
    return Quantity(name, unit, formula, MODEL, scope=scope)


def left_after(cooling: Expr) -> Expr:
    """Share of the rise that is left after the time parked."""
    return exp(-convert(fact("parked"), "min", "s") / convert(cooling, "min", "s"))


def healthy(high_end: bool) -> Expr:
    """Rise over the air that a sound hub shows now in the shade; the most of it, or the least."""
    far = low if high_end else high
    cooling = limits("cooling_usual") if high_end else low(limits("cooling_time"))
    stiffness = table("hubs.cold_grease", fact("air"))
    warm_up = quantity("run_time") * quantity("airflow") / far(limits("time_spread"))
    reached = by_size(
        lambda size: (
            sized("rise_high" if high_end else "rise_low", size)
            * (1 - exp(-warm_up * sized("conductance", size) / sized("heat_capacity", size)))
        )
    )
    return reached * speed_ratio ** limits("rise_exponent") * stiffness * left_after(cooling)


def in_sun(end: Callable[[Expr], Expr]) -> Expr:
    """What the sun on parked metal adds, at most or at least."""
    return when(by_thermometer & is_("sun", "yes"), end(limits("sun")), 0.0)


def at_spot(name: str) -> Expr:
    """A share of what the hub shows by the place: the model speaks of the barrel, and a drum's own
    heat is reckoned apart."""
    shares = {s: limits(f"{name}_{s}") if s in ("wheel", "cap") else 1.0 for s in SPOTS}
    return pick("hub_spot", shares)


def middle_of(ends: Expr) -> Expr:
    return (low(ends) + high(ends)) / 2


at_spot_middle = pick(
    "hub_spot",
    {s: middle_of(limits(f"spot_{s}")) if s in ("wheel", "cap") else 1.0 for s in SPOTS},
)


def by_braking(name: str) -> Expr:
    """A limit by how much was braked; nothing at a wheel without a brake."""
    braked = pick("braking", {c: limits(f"{name}_{c}") for c in BRAKING})
    here = when(several & is_("axle_braked", "no"), 0.0, braked)
    return when(unbraked, 0.0, here)


def by_brakes(name: str) -> Expr:
    """The same, more of it on the drum itself."""
    return when(is_("hub_spot", "drum"), by_braking(f"{name}_drum"), by_braking(name))


usual_share = when(elsewhere, 1.0, at_spot("usual"))
usual_brakes = when(elsewhere, by_braking("brake_usual"), by_brakes("brake_usual"))
usual_brakes = usual_brakes * left_after(limits("cooling_usual"))
barrel_rise = fact("barrel_reading") - fact("air")


# what a thermometer shows after hard braking, over what most sound wheels stay below
hard_usual = limits("brake_usual_hard") * left_after(limits("cooling_usual"))
surface_rise = fact("hub_reading") - fact("air")
at_wheel = surface_rise / (quantity("healthy_high") * limits("usual_wheel") + hard_usual)
at_barrel = when(is_("hub_spot", "barrel"), surface_rise, barrel_rise)
at_barrel = at_barrel / (quantity("healthy_high") + hard_usual)

cool_gap = limits("gap_look") * at_spot_middle * left_after(limits("cooling_usual"))


# what gives a hub away behind brake heat: nobody is sent on to read it again, or to feel it
read_apart = reading_gap > quantity("hard_gap") * limits("gap_mend")
read_apart = in_trouble | (quantity("hard_share") > 1) | read_apart
in_doubt = by_thermometer & each("any", "all", quantity("hard_share") > limits("doubt_hard"))
in_doubt = in_doubt & ~each("any", "all", read_apart)
# in heat a hand can touch no hub for long, after easy miles neither: asking would tell nothing
hand_tells = limits("touch_jerk") - fact("air") > quantity("easy_usual")
hand_tells = hand_tells & each("any", "all", is_("hub_feel", "very_hot", "no_touch"))
in_doubt = in_doubt | (by_hand & hand_tells & ~each("any", "all", felt_apart))


def middle(feel: str) -> Expr:
    """The temperature that a word usually stands for."""
    if feel == "no_touch":  # the word is open upwards: a hand that jerks back
        return limits("touch_jerk")
    return middle_of(limits(f"touch_{feel}"))


def usually(name: str) -> Expr:
    """The temperature that the word a hand gave usually stands for."""
    words = pick(name, {word: middle(word) for word in FEELS})
    return words - table("hubs.cold_hand", fact("air")) / 2


def felt(name: str) -> Expr:
    """The temperatures that the word a hand gave may stand for; a cold hand gives it sooner."""
    return pick(
        name,
        {
            word: between(
                limits(f"touch_{word}") - table("hubs.cold_hand", fact("air")),
                limits(f"touch_{word}") + limits("hand_edge"),
            )
            for word in FEELS
        },
    )


QUANTITIES = [
    model(
        "run_time",
        "s",
        convert(fact("run_distance"), "km", "m") / convert(fact("run_speed"), "km_h", "m_s"),
    ),
    model("airflow", "ratio", speed_ratio ** limits("conductance_exponent")),
    model(
        "heating_time",
        "s",
        by_size(lambda size: sized("heat_capacity", size) / sized("conductance", size))
        / quantity("airflow"),
    ),
    model("healthy_shade", "K", healthy(True)),
    model("healthy_high", "K", quantity("healthy_shade") + in_sun(high)),
    model("healthy_low", "K", healthy(False) + in_sun(low)),
    model(
        "drag_rise",
        "K",
        limits("one_newton_metre")
        * convert(fact("run_speed"), "km_h", "m_s")
        / limits("rolling")
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
                "hand": felt("hub_feel"),
                "thermometer": fact("hub_reading"),
            },
        ),
        scope="wheel",
    ),
    model(
        "hub_rise",
        "K",
        (quantity("hub_surface") - fact("air")) / at_spot("spot"),
        scope="wheel",
    ),
    model(
        "usual_rise",
        "K",
        usually("hub_feel") - fact("air"),
        scope="wheel",
    ),
    model("brake_heat", "K", by_brakes("brake_heat"), scope="wheel"),
    # where brakes hide the hub, at a drum or a cap, what the barrel shows
    model(
        "shown_rise",
        "K",
        when(elsewhere, barrel_rise, quantity("hub_surface") - fact("air")),
        scope="wheel",
    ),
    # 1 where heat after hard braking could be a sound hub's and a bad one's, else 0
    model("brakes_hide", "ratio", when(hard_braking & in_doubt, 1, 0)),
    # 1 where heat after hard braking may be what parts a hub from its cooler mate, else 0
    model("mates_hide", "ratio", when(hard_apart, 1, 0), scope="wheel"),
    model(
        "hard_share",
        "ratio",
        when(is_("hub_spot", "wheel"), at_wheel, at_barrel),
        scope="wheel",
    ),
    model(
        "easy_usual",
        "K",
        (
            quantity("healthy_high") / left_after(limits("cooling_usual")) * limits("easy_share")
            + limits("easy_usual")
        )
        * when(by_hand, limits("hand_margin"), 1.0),
    ),
    model(
        "easy_most",
        "K",
        quantity("healthy_high") / left_after(limits("cooling_usual")) * limits("beyond_sound")
        + limits("easy_most"),
    ),
    # of a word what it usually stands for
    model(
        "again_rise",
        "K",
        pick(
            "hub_method",
            {"hand": usually("again_feel"), "thermometer": fact("again_reading")},
        )
        - fact("air"),
        scope="wheel",
    ),
    # what most sound wheels stay below, at this place and after this braking: where one look more
    # is worth it; brakes added something between nothing and this, so they may hide a fault
    model(
        "sound_usual",
        "K",
        quantity("healthy_high") * usual_share + between(0, usual_brakes),
        scope="wheel",
    ),
    # what brakes added lies between nothing and the most: they may hide a hub in trouble
    model(
        "sound_most",
        "K",
        quantity("healthy_high") + between(0, quantity("brake_heat")),
        scope="wheel",
    ),
    model(
        "clear_excess",
        "K",
        quantity("healthy_high") * limits("beyond_sound") + between(0, quantity("brake_heat")),
        scope="wheel",
    ),
    model(
        "mate_difference",
        "K",
        quantity("hub_surface") - mate(quantity("hub_surface")),
        scope="wheel",
    ),
    model(
        "sound_gap",
        "K",
        cool_gap + by_brakes("brake_gap"),
        scope="wheel",
    ),
    model(
        "hard_gap",
        "K",
        cool_gap
        + when(is_("hub_spot", "drum"), limits("brake_gap_drum_hard"), limits("brake_gap_hard")),
        scope="wheel",
    ),
]

EASY = (
    "Random runs of the heat model: on the road brake heat goes within a quarter of an hour; "
    "a bearing's own heat stays"
)
BURN = "ECMA-287 limits for touching bare metal, as quoted in a thermal-design article; ISO 13732-1"
COLD = "US DOT infrared screening of 3,769 wheels: cold ones were nine times as common as hot ones"
PAIRS = "Heat model of light trailer hubs: sound mates differ by under 5 °C in 95 of 100 cases"

RIG = (
    "Pickup and camper readings with drum and hub side by side; a brake's heat reaches the hub late"
)
OUT_OF_SERVICE = "North American out-of-service criteria, hubs"
LINING = "49 CFR part 396 App. A 1.a(6)"
TIRES = (
    "Published readings of trailer tires, 23 to 47 °F over the air; a monitor's first alarm, 167 °F"
)

rise = quantity("hub_rise")
sound_most = quantity("sound_most")
frost = fact("air") < limits("frost")
slightly = is_("pair_feel", "left_slightly", "right_slightly")
worked_on = is_("recent_work", "yes")
# one word apart is a sign in frost, if the hands say so too
touchy = frost & ~hard_braking & ~drums_differ
touchy = touchy & (told_apart | (~braked_now & slightly))
no_touch = by_hand & is_("hub_feel", "no_touch")
# of the hubs that a hand calls cold in frost a thermometer finds hardly one much too warm; that it
# may be warmer than it should be is told. At a cap, or long
# parked, a cold one says less
felt_cold = by_hand & is_("hub_feel", "cold") & ~is_("hub_spot", "cap")
felt_cold = felt_cold & (fact("parked") <= limits("soon_parked"))
more_steps = when(hard_braking | (on_drum & braked_now), limits("steps_brakes"), 0.0)
steps_look, steps_mend = (limits(f"steps_{level}") + more_steps for level in ("look", "mend"))
words = rank("hub_feel")
left_over = each("max", "left", words) - each("max", "right", words)


def against_words(warm: str, other_over: Expr) -> Expr:
    """Truth that the comparison calls that side warmer, and the words the other one."""
    slight = is_("pair_feel", f"{warm}_slightly") & (other_over >= limits("steps_look"))
    return slight | (is_("pair_feel", f"{warm}_clearly") & (other_over >= limits("one_step")))


words_apart = each("max", "axle", words) - each("min", "axle", words)


def beside_others(number: Expr) -> Expr:
    """How far a wheel stands above the middle of all other wheels."""
    return number - each("median", "others", number)


def stands_out(sense: int) -> Expr:
    """Truth that a wheel is warmer (1) or colder (-1) than the others by more than sound ones."""
    return (by_hand & (sense * beside_others(rank("hub_feel")) >= steps_look)) | (
        by_thermometer & (sense * beside_others(fact("hub_reading")) > quantity("sound_gap"))
    )


far_from_mate = (by_hand & (feel_step >= steps_mend)) | (by_thermometer & gap_wide)
warmer_than_mate = (
    by_hand & ((feel_step >= steps_look) | (touchy & (feel_step >= limits("one_step"))))
) | (by_thermometer & (reading_gap > quantity("sound_gap")))
has_brake = is_("axle_braked", "yes")
cold_brake = braked_now & stands_out(-1) & (~several | has_brake | mate(warmer_than_mate))
# of two wheels, one hotter than ordinary stops leave it, the hot one is the lead
mate_hot = by_hand & ~hard_braking & mate(is_("hub_feel", "very_hot", "no_touch"))
cold_brake = cold_brake & (several | ~mate_hot)


def surely(truth: Expr) -> Expr:
    """Truth that nothing still open could make it a *no*; for alarms alone."""
    return low(when(truth, 1, 0)) > 0


# while nobody knows which of the two it is, both are looked at
unlike_mate = warmer_than_mate & ~surely(mate(cold_brake))
# what the hands say twice waits for no answer about braking: hard, it is a question still; nor does
# a gap that only brakes explain
felt_unlike = by_hand & clearly & ~surely(drums_differ)
unlike_mate = unlike_mate | (felt_unlike & (feel_step >= limits("steps_look")))
far_apart = limits("gap_look") * limits("gap_mend")
read_unlike = by_thermometer & ~surely(drums_differ)
unlike_mate = unlike_mate | (read_unlike & (reading_gap > far_apart))
# said once, only braking or the drum could explain it, and neither is told
told_unlike = felt_unlike & ~surely(hard_braking & own_brake)
told_unlike = told_unlike & ~surely(words_apart >= limits("steps_look"))
# of three warm wheels and one with a brake that stayed cold the cold one is the lead
mate_is_the_odd_one = several & mate(braked_now & has_brake & stands_out(-1)) & ~stands_out(1)

# brakes had cooled, and so had the hub
cooled = by_thermometer & brake_doubt & is_("driven_easy", "yes")
cooled = cooled & (quantity("again_rise") <= quantity("easy_usual"))
warm = (quantity("shown_rise") > quantity("sound_usual")) & ~cooled
# two mates that both come near are rarer among sound ones than one that goes beyond; with more
# axles there is another pair to compare with
near = quantity("shown_rise") > quantity("sound_usual") * limits("pair_near")
hidden = ~unbraked | is_("hub_spot", "cap")
pair_warm = ~several & by_thermometer & hidden & ~hard_braking & each("all", "axle", near)
# below great heat two sound mates are seldom both so hot; behind hard braking and on drums often
too_hot_pair = by_hand & ~hard_braking & ~on_drum & (fact("air") <= limits("hand_heat"))
too_hot_pair = too_hot_pair & each("all", "axle", is_("hub_feel", "very_hot", "no_touch"))
brake_middle = limits("brake_middle")
# a word is wider than what the sun adds
hand_limit = quantity("healthy_shade") * limits("hand_margin")
hand_limit = hand_limit + quantity("brake_heat") * brake_middle
# wherever it was felt: even on a drum
usual_drum = by_braking("brake_heat_drum") * limits("drum_middle")
hand_warm = by_hand & (quantity("usual_rise") / at_spot_middle > hand_limit)
# the barrel beside a hot drum, felt too
barrel_limit = quantity("healthy_shade") * limits("hand_margin")
barrel_limit = barrel_limit + by_braking("brake_heat") * brake_middle
barrel_usually = usually("barrel_feel") - fact("air")
barrel_warm = hot_drum & (barrel_usually > barrel_limit)
hot_here = (by_thermometer & warm) | hand_warm

# whatever else is still open, wherever and however it was told
too_hot_here = is_("hub_feel", *TOO_HOT) | is_("again_feel", *TOO_HOT)
too_hot_here = too_hot_here | (fact("hub_reading") >= limits("burn"))

# where no other question settles whether a hub a hand cannot bear is much too warm, the jack does
jack_tells = by_hand & is_("hub_feel", *TOO_HOT) & ~hot_drum & ~brake_doubt
jack_tells = jack_tells & ~too_hot_pair & (rise > quantity("clear_excess"))

HOT = ("burn", "traffic", "wheel_work")
WHEEL_OFF = ("traffic", "jacking", "wheel_work")
WORKING = ("hub_rise", "sound_most", "drag_rise", "extra_drag", "hub_at_cruise")
USUAL = ("shown_rise", "sound_usual", *WORKING[2:])


def sign(
    name: str, level: str, source: str, standing: str, *cautions: str, optional: bool = False
) -> Finding:
    """A finding that is just the sign seen."""
    seen = is_(name, "yes")
    return Finding(
        f"{SIGN}{name}", "hub_signs", level, seen, source, standing, cautions, optional=optional
    )


def on_the_way(name: str, level: str, *, only: Expr | None = None) -> Finding:
    """A finding that is just what the driver noticed."""
    noticed = is_(name, "yes")
    condition = noticed if only is None else only & noticed
    return Finding(
        f"way_{name}",
        "on_the_way",
        level,
        condition,
        PRACTICE,
        "practice",
        ("traffic", "wheel_work"),
    )


def heat(
    name: str,
    level: str,
    condition: Expr,
    *cautions: str,
    source: str = MODEL,
    standing: str = "computed",
    beneath: str = "",
    shows: tuple[str, ...] = WORKING,
    alarm: Expr | None = None,
    card: str = "",
    holds: bool = False,
) -> Finding:
    """A finding on one hub's heat. Its doubt is told; what a hand can tell has its own rule."""
    all_cautions = (*HOT, *cautions)
    return Finding(
        name, "hub_heat", level, condition, source, standing, all_cautions, shows,
        beneath=beneath, told_only=True, alarm=alarm, card=card, holds=holds,
    )  # fmt: skip


def apart(
    name: str,
    level: str,
    condition: Expr,
    beneath: str,
    alarm: Expr | None = None,
    card: str = "",
    told_only: bool = True,
) -> Finding:
    """A finding on a hub against its mate."""
    return Finding(
        name, "hub_heat", level, condition & ~mate_is_the_odd_one, PAIRS, "computed", HOT,
        ("mate_difference", "sound_gap"), beneath=beneath, told_only=told_only, alarm=alarm,
        card=card,
    )  # fmt: skip


def drum(name: str, level: str, condition: Expr) -> Finding:
    """A finding on a warm hub against its own drum."""
    here = by_thermometer & ~unbraked & warm & condition
    return Finding(
        name, "hub_turns", level, here, RIG, "secondary", HOT, ("shown_rise", "sound_usual"),
        optional=True,
    )  # fmt: skip


def by_feel(name: str, level: str, condition: Expr, source: str, standing: str) -> Finding:
    """A finding of the hands on a standing wheel, or of the eye through the inspection hole."""
    braked = name.startswith("lining")
    return Finding(
        name, "wheel_hands", level, condition, source, standing, WHEEL_OFF, optional=braked
    )


def tire(name: str, level: str, condition: Expr, beneath: str) -> Finding:
    """A finding on a tire's reading."""
    return Finding(
        name, "tire_degrees", level, by_thermometer & condition, TIRES, "secondary", HOT,
        optional=True, beneath=beneath,
    )  # fmt: skip


def gap(name: str, level: str, times: Expr | float, beneath: str) -> Finding:
    """A finding on a gap between mates that was told without their temperatures."""
    over = fact("gap_size") > each("max", "axle", quantity("sound_gap")) * times
    return Finding(
        name, "hub_pair", level, by_thermometer & is_("gap_side", "left", "right") & over,
        PAIRS, "computed", HOT, optional=True, beneath=beneath,
        alarm=read_unlike & is_("gap_side", "left", "right") & (fact("gap_size") > far_apart),
        card="mates_apart",
    )  # fmt: skip


def pattern(
    name: str,
    condition: Expr,
    source: str = MODEL,
    standing: str = "computed",
    cautions: tuple[str, ...] = (),
    shows: tuple[str, ...] = (),
    moot: Expr | None = None,
) -> Finding:
    """A finding on all hubs together."""
    return Finding(
        name, "hub_pattern", "look", condition, source, standing, cautions, shows, moot=moot
    )


again = quantity("again_rise")
usual_again = quantity("easy_usual")
near_again = again > usual_again * limits("easy_near")
# a hand that cannot touch says no more than that
jerks_again = by_hand & is_("again_feel", "no_touch") & (again > usual_again)
both_near = ~several & each("all", "axle", near_again)
far_again = by_hand & (steps_from_mate("again_feel") >= limits("steps_mend"))
# one word apart and not compared by hand: the sides may be as near as those of sound brakes
hardly_apart = jerk_near & (feel_step < limits("steps_look"))
apart_steps = when(hardly_apart, limits("steps_look"), limits("one_step"))
apart_again = mates_doubt & (steps_from_mate("again_feel") >= apart_steps)
barrel_most = quantity("healthy_high") * limits("beyond_sound") + by_braking("brake_heat")
# the least that a barrel has which a hand cannot touch
barrel_least = low(limits("touch_no_touch")) - table("hubs.cold_hand", fact("air")) - fact("air")


def settled(name: str, level: str, condition: Expr, beneath: str) -> Finding:
    """A finding on the reading after an easy stretch; until it is there its doubt counts."""
    here = (brake_doubt | mates_doubt) & is_("driven_easy", "yes") & condition
    return Finding(
        name, "hub_heat", level, here, EASY, "computed", HOT, ("again_rise", "easy_usual"),
        beneath=beneath,
    )  # fmt: skip


FINDINGS = [
    # away from it, wherever it stands: neither is told to take it off the road
    sign("flames", "stop", PRACTICE, "practice", "fire", optional=True),
    sign("smoke", "stop", OUT_OF_SERVICE, "memory", "fire", "burn", "wheel_work"),
    sign("leaning", "stop", "49 CFR 396.7(a)", "read", *WHEEL_OFF),
    sign(
        "grinding",
        "stop",
        "Quebec C-24.2 r. 32 s. 121.1",
        "read",
        *WHEEL_OFF,
    ),
    sign(
        "tire_flat",
        "stop",
        "49 CFR 393.75(a)",
        "read",
        *WHEEL_OFF,
        optional=True,
    ),
    sign("hot_smell", "mend", PRACTICE, "practice", *HOT),
    sign("thrown_grease", "mend", "49 CFR 396.5(b)", "read", *HOT),
    sign("cap_wet", "mend", "49 CFR 396.5(b)", "read", *HOT, optional=True),
    onward(sign("squeak", "look", PRACTICE, "practice", *WHEEL_OFF, optional=True)),
    on_the_way("vibration", "look"),
    on_the_way("knock", "look"),
    on_the_way("swayed", "mend"),
    on_the_way("brakes_weak", "mend", only=~unbraked),
    on_the_way("brakes_dragged", "mend", only=~unbraked),
    onward(on_the_way("hub_warmer", "look")),
    onward(on_the_way("tires_hot", "look")),
    on_the_way("hitch_pin_out", "stop"),
    heat(
        "hub_too_hot",
        "stop",
        (no_touch & far_from_mate)
        | (
            ~cooled
            & (no_touch | (by_thermometer & (fact("hub_reading") >= limits("burn"))))
            & (rise > quantity("clear_excess"))
        ),
        "fire",
        source=BURN,
        standing="secondary",
        alarm=too_hot_here,
        card="too_hot",
    ),
    heat(
        "hub_far_too_warm",
        "stop",
        ~cooled & ~felt_cold & (rise > sound_most + quantity("drag_rise") * limits("drag_stop")),
        beneath="hub_too_hot",
    ),
    heat(
        "hub_much_too_warm",
        "mend",
        ~cooled & ~felt_cold & (rise > quantity("clear_excess")),
        beneath="hub_far_too_warm",
    ),
    heat(
        "hub_no_touch",
        "look",
        no_touch & (quantity("usual_rise") > quantity("healthy_shade") + usual_drum),
        "fire",
        beneath="hub_much_too_warm",
        holds=True,
    ),
    settled(
        "hub_stays_hot",
        "stop",
        again > quantity("easy_most") + quantity("drag_rise") * limits("drag_stop"),
        "hub_far_too_warm",
    ),
    settled(
        "hub_stays_warm",
        "mend",
        (again > quantity("easy_most")) | jerks_again | far_again,
        "hub_stays_hot",
    ),
    onward(
        settled(
            "hub_warm_again",
            "look",
            (again > usual_again) | both_near | apart_again,
            "hub_stays_warm",
        )
    ),
    Finding(
        "barrel_too_hot",
        "hub_heat",
        "stop",
        hot_drum & is_("barrel_feel", "no_touch") & (barrel_least > barrel_most),
        BURN,
        "secondary",
        (*HOT, "fire"),
        beneath="hub_too_hot",
    ),
    Finding(
        "barrel_too_warm",
        "hub_heat",
        "mend",
        (elsewhere & (barrel_rise > barrel_most)) | (hot_drum & (barrel_usually > barrel_most)),
        MODEL,
        "computed",
        HOT,
        USUAL,
        beneath="barrel_too_hot",
    ),
    heat("hub_warm_by_hand", "look", hand_warm | barrel_warm, beneath="hub_no_touch"),
    onward(heat("hub_too_warm", "look", warm, beneath="hub_warm_by_hand", shows=USUAL)),
    apart(
        "hub_far_from_mate",
        "mend",
        far_from_mate,
        "hub_much_too_warm",
    ),
    onward(
        apart(
            "hub_warmer_than_mate",
            "look",
            warmer_than_mate,
            "hub_far_from_mate",
            alarm=unlike_mate,  # whose fault it is the other axles tell
            card="mates_apart",
            told_only=False,
        )
    ),
    Finding(
        "brake_cold",
        "hub_cold",
        "look",
        cold_brake,
        COLD,
        "read",
        ("traffic",),
        ("hub_surface",),
        told_only=True,
        moot=too_hot_here,
    ),
    Finding(
        "reads_below_air",
        "hub_cold",
        "look",
        by_thermometer & (fact("hub_reading") < fact("air") - limits("below_air")),
        "Bare metal mirrors its surroundings to an infrared gun; Stefan-Boltzmann law",
        "computed",
        (),
        ("hub_surface",),
        told_only=True,
        moot=hot_to_hand,
    ),
    Finding(
        "hot_wheel_rough",
        "hub_turns",
        "stop",
        is_("turns", "rough"),
        "Quebec C-24.2 r. 32 s. 121.1",
        "read",
        WHEEL_OFF,
        optional=True,
    ),
    Finding(
        "hot_wheel_drags",
        "hub_heat",
        "mend",
        is_("turns", "drags"),
        PRACTICE,
        "practice",
        WHEEL_OFF,
        optional=True,
        beneath="hot_wheel_held",
    ),
    Finding(
        "hot_wheel_held",
        "hub_heat",
        "mend",
        jack_tells & is_("turns", "drags"),
        PRACTICE,
        "practice",
        WHEEL_OFF,
    ),
    drum("heat_from_hub", "mend", fact("drum_reading") <= fact("hub_reading")),
    onward(
        drum(
            "heat_from_brake",
            "look",
            fact("drum_reading") > fact("hub_reading") + limits("drum_beyond"),
        )
    ),
    by_feel("rock_much", "stop", is_("rock", "rocks"), "Quebec C-24.2 r. 32 s. 121.1", "read"),
    by_feel("rock_felt", "look", is_("rock", "felt"), PRACTICE, "practice"),
    by_feel("lining_thin_here", "mend", is_("lining_look", "thin"), LINING, "read"),
    by_feel("lining_oily_here", "mend", is_("lining_look", "oily"), LINING, "read"),
    tire("tire_reads_hot", "mend", fact("tire_reading") >= limits("tire_hot"), ""),
    onward(
        tire(
            "tire_reads_warm",
            "look",
            fact("tire_reading") - fact("air") > limits("tire_rise"),
            "tire_reads_hot",
        )
    ),
    tire(
        "tire_reads_apart",
        "look",
        fact("tire_reading") - mate(fact("tire_reading")) > limits("tire_gap"),
        "tire_reads_hot",
    ),
    gap("gap_told_far", "mend", limits("gap_mend"), ""),
    gap("gap_told", "look", 1.0, "gap_told_far"),
    onward(
        Finding(
            "pair_after_work",
            "hub_after_work",
            "look",
            by_hand & worked_on & (slightly | clearly | (words_apart >= limits("one_step"))),
            PRACTICE,
            "practice",
            HOT,
            optional=True,
        )
    ),
    Finding(
        "pair_against_words",
        "hub_pair",
        "look",
        by_hand & (against_words("left", -left_over) | against_words("right", left_over)),
        PRACTICE,
        "practice",
        HOT,
        optional=True,
    ),
    onward(
        Finding(
            "pair_apart",
            "hub_pair",
            "look",
            by_hand & clearly & ~drums_differ & ~(hard_braking & own_brake),
            PAIRS,
            "computed",
            HOT,
            optional=True,  # where one of the two smokes or leans, the pair is not felt
            beneath="pair_against_words",
            alarm=told_unlike,
            card="mates_apart",
        )
    ),
    onward(
        Finding(
            "pair_warm",
            "hub_pair",
            "look",
            pair_warm | too_hot_pair,
            MODEL,
            "computed",
            HOT,
            ("shown_rise", "sound_usual"),
            optional=True,
        )
    ),
    Finding(
        "side_hot",
        "hub_heat",
        "look",
        several & each("all", "side", hot_here & ~mate(hot_here)),
        PRACTICE,
        "practice",
        HOT,
        ("hub_rise", "sound_most"),
        optional=True,
    ),
    Finding(
        "axle_hot",
        "hub_pair",
        "look",
        several
        & each("all", "axle", hot_here)
        & (each("count", "all", hot_here) <= limits("wheels_of_an_axle")),
        PRACTICE,
        "practice",
        HOT,
        optional=True,
    ),
    pattern("all_hot", unbraked & each("all", "all", hot_here), PRACTICE, "practice", HOT),
    pattern("all_hot_brakes", ~unbraked & each("all", "all", hot_here), PRACTICE, "practice", HOT),
    pattern(
        "brakes_all_cold",
        hard_braking & (each("max", "all", rise) < limits("unworked")),
        COLD,
        "read",
        ("traffic",),
        moot=each("any", "all", too_hot_here),
    ),
    onward(
        pattern(
            "brake_heat_hides",
            any_doubt & is_("driven_easy", "not_yet"),
            EASY,
            cautions=HOT,
        )
    ),
    onward(
        pattern(
            "stop_too_early",
            fact("run_distance") < limits("least_distance"),
            shows=("run_time", "heating_time"),
        )
    ),
    onward(pattern("stop_too_late", fact("parked") > limits("longest_parked"))),
]
