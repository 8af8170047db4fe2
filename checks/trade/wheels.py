"""Wheels and running gear: nuts, rims, caps and seals, play on the jack, springs and fenders."""

from checks.facts import choice, number, yes_no
from checks.formula import Expr, convert, fact, is_
from checks.rules import PRACTICE, Finding, Limits, onward

limits = Limits("wheels")

WHEEL = (
    "rim_cracked",
    "rim_bent",
    "holes_oval",
    "rim_welded",
    "rust_streaks",
    "hub_cap_off",
    "seal_leak",
)
GEAR = (
    "spring_broken",
    "ubolt_loose",
    "shackle_worn",
    "equalizer_bad",
    "axle_bent",
    "torsion_bad",
    "tire_rubs",
    "fender_close",
    "fender_loose",
)

braked = ~is_("brakes", "none")
jacked = is_("jacked", "yes")
several_axles = fact("axles") > 1


def gear_when(name: str) -> Expr | None:
    return several_axles if name == "equalizer_bad" else None


FACTS = [
    choice("nuts", "tight", "loose", "missing", scope="wheel"),
    yes_no("jacked"),
    *(yes_no(name, scope="wheel") for name in WHEEL),
    *(yes_no(name, scope="wheel", when=gear_when(name)) for name in GEAR),
    choice("play_wanted", "some", "none", "unsaid", when=~is_("jacked", "no")),
    choice("play", "none", "felt", "seen", "rocks", scope="wheel"),
    choice("spin_sound", "quiet", "rubbing", "rumbling", scope="wheel"),
    choice("brake_drag", "free", "light", "hard", scope="wheel", when=braked),
    number(
        "lining", "in32", 0, 32, us="in32", metric="mm", scope="wheel", when=braked, optional=True
    ),
    yes_no("lining_oily", scope="wheel", when=braked, optional=True),
]

QUEBEC = "Quebec C-24.2 r. 32 s. 121.1"
PLAY = (
    "Makers differ: 0.010 in at most in a trailer manual, 1 to 5 thousandths in TMC RP 618, or none"
)


def seen(
    name: str, point: str, level: str, source: str, *cautions: str, standing: str = "read"
) -> Finding:
    """A finding that is just the fault seen."""
    return Finding(f"wheel_{name}", point, level, is_(name, "yes"), source, standing, cautions)


def wheel(name: str, level: str, source: str, *cautions: str, standing: str = "read") -> Finding:
    return seen(name, "wheel_faults", level, source, *cautions, standing=standing)


def gear(name: str, level: str, source: str, *cautions: str, standing: str = "read") -> Finding:
    return seen(name, "running_gear", level, source, *cautions, standing=standing)


def jack(name: str, level: str, holds: Expr, source: str, standing: str) -> Finding:
    """A finding on the play of a wheel on the jack."""
    return Finding(
        name, "wheel_play", level, jacked & holds, source, standing, ("jacking", "maker")
    )


FINDINGS = [
    Finding(
        "nuts_loose",
        "nuts",
        "stop",
        is_("nuts", "loose", "missing"),
        "49 CFR 393.205(c)",
        "read",
        ("traffic", "jacking", "wheel_work", "maker"),
    ),
    wheel("rim_cracked", "stop", "49 CFR 393.205(a)", "traffic", "jacking"),
    wheel("rim_bent", "mend", "Utah Admin. Code R714-162-8(1)(d)", "jacking"),
    wheel("holes_oval", "stop", "49 CFR 393.205(b)", "traffic", "jacking"),
    wheel("rim_welded", "mend", "49 CFR 570.63(a)", "jacking"),
    onward(wheel("rust_streaks", "look", PRACTICE, "maker", "jacking", standing="practice")),
    wheel("hub_cap_off", "mend", QUEBEC, "jacking"),
    wheel("seal_leak", "mend", "49 CFR 396.5(b)", "jacking"),
    gear("spring_broken", "stop", "49 CFR 393.207(c), (d)", "jacking"),
    gear("ubolt_loose", "stop", "49 CFR 393.207(a); COMAR 11.14.05.03 A(2)", "jacking"),
    gear("shackle_worn", "mend", "COMAR 11.14.05.03 A(2)", "jacking"),
    Finding(
        "wheel_equalizer_bad",
        "running_gear",
        "mend",
        several_axles & is_("equalizer_bad", "yes"),
        "49 CFR 393.207(a)",
        "read",
        ("jacking",),
    ),
    gear("axle_bent", "stop", "COMAR 11.22.04.02; 49 CFR 393.207(b)", "jacking"),
    gear("torsion_bad", "mend", "49 CFR 393.207(e)", "jacking"),
    gear("tire_rubs", "mend", "49 CFR part 396 App. A 10.b(6); COMAR 11.22.04.06", "jacking"),
    gear("fender_close", "look", PRACTICE, "jacking", standing="practice"),
    gear("fender_loose", "mend", "Quebec C-24.2 r. 32 s. 101", "jacking"),
    jack("play_rocks", "stop", is_("play", "rocks"), QUEBEC, "read"),
    jack("play_seen", "mend", is_("play", "seen"), PLAY, "secondary"),
    jack(
        "play_unwanted", "mend", is_("play", "felt") & is_("play_wanted", "none"), PLAY, "secondary"
    ),
    jack(
        "play_felt", "look", is_("play", "felt") & is_("play_wanted", "unsaid"), PLAY, "secondary"
    ),
    onward(
        jack(
            "play_none", "look", is_("play", "none") & is_("play_wanted", "some"), PLAY, "secondary"
        )
    ),
    Finding(
        "spin_rumbles",
        "wheel_play",
        "mend",
        jacked & is_("spin_sound", "rumbling"),
        f"{QUEBEC}; COMAR 11.14.05.03 A(1)",
        "read",
        ("jacking",),
    ),
    Finding(
        "spin_rubs",
        "wheel_play",
        "look",
        jacked & is_("spin_sound", "rubbing"),
        PRACTICE,
        "practice",
        ("jacking",),
    ),
    Finding(
        "brake_drags",
        "wheel_play",
        "mend",
        jacked & braked & is_("brake_drag", "hard"),
        PRACTICE,
        "practice",
        ("jacking", "maker"),
    ),
    Finding(
        "lining_thin",
        "wheel_play",
        "mend",
        jacked & braked & (fact("lining") <= convert(limits("lining_min"), "in", "in32")),
        "49 CFR part 396 App. A 1.a(6)(c); 49 CFR 393.47(d)(2)",
        "read",
        ("jacking", "maker"),
        optional=True,
    ),
    Finding(
        "lining_soaked",
        "wheel_play",
        "mend",
        jacked & braked & is_("lining_oily", "yes"),
        "49 CFR part 396 App. A 1.a(6)(b)",
        "read",
        ("jacking",),
        optional=True,
    ),
]
