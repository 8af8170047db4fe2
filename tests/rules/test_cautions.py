"""What could hurt stands beside what it belongs to; what is a yardstick is not told as law.

Common practice of the trade, no source, but where a line names one. Commercial rules: 49 CFR 390.5
has them bind commercial motor vehicles.
"""

from __future__ import annotations

import re

import pytest

from checks.rulebook import load
from checks.rules import Finding
from checks.words import words

BOOK = load()
SAY = words("en").say
HAS = words("en").has
STOPS = {"run_stop", "quick_stop"}
CHECKS_OF = {p.id: set(p.checks) for station in BOOK.stations for p in station.points}
AT_STOP = [f for f in BOOK.findings.values() if CHECKS_OF[f.point] & STOPS]

# What a person can only do with the wheel off the ground, as the advice words it.
LIFTS = re.compile(
    r"on the jack|on a stand|jacked|wheel off|taken off|the spare\b|new tire"
    r"|tires? (of|made|marked)|[Rr]eplace (the|both) (tire|wheel)|[Rr]epack|drum|lining|spring"
    r"|[Uu]-bolt|turns? freely|turn each wheel|[Bb]ack the nut|Back off the adjustment|seal"
    r"|bearing|studs?\b|\b[Jj]ack(s|ed)?\b|\b[Ll]ift(?! test)|off the ground"
)
# What reads like one of those and is not: it only names the part, or plans for another day.
ONLY_NAMED = {
    "spare_loose", "rating_tires_over", "wheel_over", "wheel_near", "ramp_spring", "tread_low",
    "pressure_uneven", "jack_down", "jack_missing", "legs_down", "chain_off", "animal_floor",
}  # fmt: skip


@pytest.mark.parametrize("name", BOOK.findings)
def test_advice_that_means_lifting_has_its_caution(name: str) -> None:
    told = SAY(f"finding-{name}.do")
    if name in ONLY_NAMED or not LIFTS.search(told):
        return
    assert {"jacking", "wheel_work"} & set(BOOK.findings[name].cautions), told


# Work on a wheel, as the advice at a stop words it.
WORK = re.compile(
    r"nut\b(?!s\b)|nuts, springs|jack|turns? freely|stand\b|spare|[Rr]epack|opened|bearing"
    r"|brake and|dragging brake|play\b|Take the wheel off"
)


@pytest.mark.parametrize("finding", AT_STOP, ids=lambda f: f.id)
def test_work_on_a_wheel_beside_the_road_has_a_stand_and_a_new_pin(finding: Finding) -> None:
    told = SAY(f"finding-{finding.id}.do")
    if WORK.search(told) and finding.id not in ("too_rough", "torque_late_stop", "torque_due_stop"):
        assert "wheel_work" in finding.cautions, told


def test_what_is_said_of_work_on_a_wheel() -> None:
    told = SAY("caution-wheel_work")
    for part in ("away from traffic", "chocked", "on a stand", "new pin"):
        assert part in told


TOUCH = re.compile(
    r"\b(touch it|hold the back|lay (your|a) hand|feel (the|it|both|again))", re.IGNORECASE
)


@pytest.mark.parametrize("name", ["has_smoke", "has_leaning", "has_flames"])
def test_nothing_beside_a_smoking_or_leaning_wheel_tells_to_touch_it(name: str) -> None:
    told = [SAY(f"finding-{name}.do"), SAY(f"finding-{name}.why")]
    told += [SAY(f"caution-{caution}") for caution in BOOK.findings[name].cautions]
    for sentence in told:
        assert not TOUCH.search(sentence), sentence


# ---- yardsticks -----------------------------------------------------------------------------

COMMERCIAL = re.compile(r"49 CFR (part )?39[0-9]")
AS_LAW = re.compile(r"\b(law|legal|rule|required|must hold|allowed)\b")
YARDSTICK = re.compile(
    r"yardstick|check (yours|your state|what your state)|commercial|[Ll]ocal law|law of"
)


def names_law(name: str) -> bool:
    told = " ".join(SAY(f"finding-{name}{part}") for part in ("", ".do", ".why"))
    return bool(AS_LAW.search(told))


@pytest.mark.parametrize(
    "name", [f.id for f in BOOK.findings.values() if COMMERCIAL.search(f.source)]
)
def test_a_commercial_rule_is_told_as_a_yardstick(name: str) -> None:
    told = " ".join(SAY(f"finding-{name}{part}") for part in ("", ".do", ".why"))
    if names_law(name):
        assert YARDSTICK.search(told), told


# Each sentence that could hurt, and what has to stand in it, or must not.
SAID = [
    ("tongue_heavy.do", "never below 10 percent", "until the vehicle stands level"),
    ("tongue_heavy.why", "Some squat is usual", ""),
    ("nuts_loose.do", "Take the wheel off first and look: studs", ""),
    ("tire_looks_low.do", "fit the spare", "Fill it"),
    ("sway_seen.do", "trailer brakes alone by hand", ""),
    ("sway_close.do", "trailer brakes alone by hand", ""),
    ("surge_too_heavy.why", "yardstick: check what your state says", ""),
    ("breakaway_short.why", "Commercial sets", ""),
    ("breakaway_battery.why", "Commercial sets", ""),
    ("breakaway_off.why", "commercial sets: check what your state asks", ""),
    ("tread_gone.why", "commercial trailers", ""),
    ("few_tail.why", "most states follow it: check yours", ""),
    ("few_identification.why", "check yours", ""),
    ("straps_few.why", "yardstick", ""),
    ("ties_few.why", "yardstick", ""),
    ("height_marker_off.do", "15 in or more above the ground", ""),
    ("brakes_required_recalled.why", "could not be read", ""),
    ("brakes_required_restated.do", "Look up the section", ""),
    ("play_felt.why", "", "none that can be felt"),
]  # fmt: skip


@pytest.mark.parametrize(("part", "wanted", "never"), SAID, ids=[one[0] for one in SAID])
def test_a_sentence_that_could_hurt(part: str, wanted: str, never: str) -> None:
    told = SAY(f"finding-{part}")
    assert wanted in told
    assert not never or never not in told


def test_the_breakaway_test_is_done_on_stands() -> None:
    assert "on stands" in SAY("fact-breakaway_minutes.help")
    assert "jacking" in BOOK.findings["breakaway_short"].cautions


# A finding, what its source has to name, and what it must not.
CITED = [
    ("bow_free", "393.100(b)-(c)", "393.128"),
    ("stern_free", "393.100(b)-(c)", "393.128"),
    ("payload_over", "maker's rating", "393.75"),
    ("axle_over", "maker's rating", "393.75"),
    ("rating_axles_over", "maker's rating", "393.75"),
    ("rating_tires_over", "393.75(g)", ""),
    ("wheel_over", "COMAR 11.22.04.06", ""),
]


@pytest.mark.parametrize(("name", "wanted", "never"), CITED, ids=[one[0] for one in CITED])
def test_a_citation_fits_what_it_stands_for(name: str, wanted: str, never: str) -> None:
    source = BOOK.findings[name].source
    assert wanted in source
    assert not never or never not in source


# ---- doubts ---------------------------------------------------------------------------------

DOUBTS = [name for name in BOOK.findings if HAS(f"finding-{name}.doubt")]


@pytest.mark.parametrize("name", DOUBTS)
def test_a_doubt_says_what_it_could_be_and_what_would_tell(name: str) -> None:
    told = SAY(f"finding-{name}.doubt")
    assert told.startswith("Could ")
    assert ". To know: " in told
    assert told.endswith((".", "?"))


def test_a_doubt_without_words_of_its_own_has_the_same_form() -> None:
    assert len(DOUBTS) > 60
    assert SAY("app-doubt", what="Tire bulging").startswith("Could be: Tire bulging. To know: ")
    assert SAY("app-doubt-open", what="Tire bulging") == "Could be: Tire bulging."
    assert SAY("app-would-settle", questions="What?").startswith("To know: ")
