"""Frame, deck, ramps and tailgate, doors, and what belongs to a boat trailer."""

from checks.trade.signs import practice, sign

FRAME = "49 CFR 393.201(a)-(e); 49 CFR part 396 App. A 9.a; COMAR 11.22.04.08"
CLOSED = "49 CFR 392.9(a)(2)"
FIXED = "Quebec C-24.2 r. 32 s. 101"
HELD = "49 CFR 393.100(b)-(c), load kept from shifting; tie-downs by common practice"

SIGNS = [
    sign("frame_cracked", "frame", "stop", FRAME, "read", "jacking"),
    sign("frame_rusted", "frame", "mend", FRAME, "read", "jacking"),
    sign("crossmember", "frame", "mend", FRAME, "read", "jacking"),
    sign("deck", "frame", "mend", f"{FIXED}; 49 CFR 393.104(b)-(d)", "read"),
    sign("panel_loose", "frame", "mend", FIXED, "read"),
    sign("ramp_open", "ramps", "stop", CLOSED, "read", "crush"),
    practice("ramp_pin", "ramps", "stop", "crush"),
    practice("ramp_torn", "ramps", "mend", "crush"),
    practice("ramp_spring", "ramps", "mend", "crush"),
    sign("door_open", "doors", "stop", CLOSED, "read"),
    practice("door_worn", "doors", "mend"),
    practice("vent_open", "doors", "mend"),
    sign("bow_free", "boat", "stop", HELD, "secondary", "crush"),
    sign("stern_free", "boat", "stop", HELD, "secondary"),
    sign("winch_strap", "boat", "mend", "49 CFR 393.104(b)-(d)", "read", "crush"),
    practice("bunk_loose", "boat", "mend"),
    sign(
        "light_board",
        "boat",
        "mend",
        "49 CFR 393.25(a); Va. Code 46.2-1013(D)",
        "read",
    ),
    practice("drain_plug", "boat", "look"),
]

FACTS = [fact for fact, _ in SIGNS]
FINDINGS = [finding for _, finding in SIGNS]
