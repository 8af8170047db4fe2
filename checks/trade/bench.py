"""The bench record: what was found in a hub, what was fitted, and whether the two agree."""

from checks.facts import choice, number, yes_no
from checks.formula import Expr, fact, is_
from checks.rules import PRACTICE, Finding, Limits, onward

limits = Limits("bench")

FACTS = [
    choice("grease_found", "clean", "dark", "dry", "milky", "metal", scope="wheel"),
    choice("race_found", "clean", "line", "pitted", "heat", "rust", scope="wheel"),
    choice("rollers_found", "clean", "pitted", "heat", "rust", "cage", scope="wheel"),
    choice("seal_found", "sound", "leaking", "torn", scope="wheel"),
    choice("spindle_found", "smooth", "worn", "heat", scope="wheel"),
    choice("bearing_done", "reused", "bearing_only", "pair", scope="wheel"),
    choice("seal_done", "new", "reused", "none", scope="wheel"),
    choice("pin_done", "new", "reused", "none", scope="wheel"),
    choice("play_left", "none", "slight", "clear", scope="wheel"),
    choice("turns_after", "free", "drags", "binds", scope="wheel", optional=True),
    yes_no("grease_same", scope="wheel", optional=True),
    yes_no("refit_torqued", scope="wheel", optional=True),
    number("refit_torque", "N_m", 0, 1000, us="lb_ft", optional=True),
    choice("brake_found", "sound", "thin", "oiled", "loose", "drum", scope="wheel"),
    choice("brake_done", "left", "mended", scope="wheel"),
]

damaged = (
    is_("race_found", "line", "pitted", "heat", "rust")
    | is_("rollers_found", "pitted", "heat", "rust", "cage")
    | is_("grease_found", "milky", "metal")
)
spoiled_grease = is_("grease_found", "dry", "milky")
brake_bad = is_("brake_found", "thin", "oiled", "loose", "drum")
no_play, preload = is_("play_left", "none"), is_("play_wanted", "none")
WORK = ("jacking",)


def rule(name: str, point: str, level: str, when: Expr, *cautions: str) -> Finding:
    """A finding that rests on common practice."""
    return Finding(name, point, level, when, PRACTICE, "practice", (*WORK, *cautions))


def done(name: str, level: str, when: Expr, *cautions: str) -> Finding:
    """A finding on what may be left out of the record."""
    finding = rule(name, "bench_fitted", level, when, *cautions)
    finding.optional = True
    return finding


FINDINGS = [
    Finding(
        "refit_low",
        "bench_play",
        "look",
        fact("refit_torque") < limits("refit_least"),
        PRACTICE,
        "practice",
        ("maker",),
        optional=True,
    ),
    rule("bearing_kept", "bench_fitted", "mend", damaged & is_("bearing_done", "reused")),
    rule("race_kept", "bench_fitted", "mend", is_("bearing_done", "bearing_only")),
    rule("seal_kept", "bench_fitted", "mend", is_("seal_done", "reused", "none")),
    rule("pin_missing", "bench_fitted", "stop", is_("pin_done", "none")),
    rule("pin_kept", "bench_fitted", "mend", is_("pin_done", "reused")),
    rule("nut_tight", "bench_fitted", "mend", no_play & is_("play_wanted", "some"), "maker"),
    rule(
        "nut_tight_perhaps", "bench_fitted", "look", no_play & is_("play_wanted", "unsaid"), "maker"
    ),
    rule(
        "nut_loose_perhaps", "bench_fitted", "look", preload & is_("play_left", "slight"), "maker"
    ),
    rule("nut_slack", "bench_fitted", "mend", is_("play_left", "clear"), "maker"),
    done("wheel_binds", "mend", is_("turns_after", "binds"), "maker"),
    onward(done("wheel_drags", "look", is_("turns_after", "drags"), "maker")),
    done("grease_mixed", "look", is_("grease_same", "no"), "maker"),
    done("refit_slack", "stop", is_("refit_torqued", "no"), "maker"),
    rule("brake_left", "bench_brake", "mend", brake_bad & is_("brake_done", "left"), "maker"),
    rule("spindle_worn", "bench_found", "mend", is_("spindle_found", "worn"), "maker"),
    rule("spindle_heat", "bench_found", "stop", is_("spindle_found", "heat"), "maker"),
    rule("grease_lost", "bench_found", "look", spoiled_grease & is_("seal_found", "sound")),
]
