"""Plug, wiring and lamps. Width and length decide which lamps a trailer must have."""

from checks.formula import is_
from checks.trade.signs import practice, sign

# 49 CFR 571.108 Table I-b: strictly under 6 ft needs no front side markers; 30 ft and longer needs
# one more each side; 80 in and wider needs clearance and identification lamps.
not_short = is_("length", "6_to_30", "30_or_more")
long_trailer = is_("length", "30_or_more")
wide_trailer = is_("width", "80_or_more")

WORKS = "49 CFR 393.9; 49 CFR part 396 App. A 5"

SIGNS = [
    practice("plug_worn", "plug", "mend"),
    sign("wire_bare", "plug", "mend", "49 CFR 393.28; 49 CFR 570.58(b)", "read"),
    practice("wire_drags", "plug", "mend"),
    practice("wire_joint", "plug", "look"),
    practice("ground_rusty", "plug", "look"),
    sign("lamp_tail", "lamps_rear", "mend", WORKS, "read"),
    sign("lamp_stop", "lamps_rear", "mend", "49 CFR 393.9; 49 CFR 393.25(f)", "read"),
    sign("lamp_left", "lamps_rear", "mend", WORKS, "read"),
    sign("lamp_right", "lamps_rear", "mend", WORKS, "read"),
    sign("lamp_plate", "lamps_rear", "mend", WORKS, "read"),
    sign("reflector", "lamps_rear", "mend", "49 CFR 393.26; 49 CFR part 396 App. A 5", "read"),
    sign("lamp_side", "lamps_side", "mend", "49 CFR 571.108 Table I-b; 49 CFR 393.9", "read"),
    sign(
        "lamp_front_side",
        "lamps_side",
        "mend",
        "49 CFR 571.108 Table I-b, row front side marker lamps",
        "secondary",
        only=not_short,
    ),
    sign(
        "lamp_middle",
        "lamps_side",
        "mend",
        "49 CFR 393.5; 49 CFR 571.108 Table I-b, rows intermediate",
        "read",
        only=long_trailer,
    ),
    sign(
        "lamp_clearance",
        "lamps_side",
        "mend",
        "49 CFR 571.108 Table I-b, rows clearance lamps",
        "read",
        only=wide_trailer,
    ),
    sign(
        "lamp_identification",
        "lamps_side",
        "mend",
        "49 CFR 571.108 S4 and Table I-b, identification lamps",
        "read",
        only=wide_trailer,
    ),
    sign("lamp_hidden", "lamps_side", "mend", "49 CFR 392.33(a); 49 CFR 393.9(b)", "read"),
    sign("lamp_broken", "lamps_side", "mend", "49 CFR 393.25(a), 393.26(a)", "read"),
    practice("lamp_dim", "lamps_side", "look"),
    practice("lamp_glow", "lamps_side", "look"),
]

FACTS = [fact for fact, _ in SIGNS]
FINDINGS = [finding for _, finding in SIGNS]
