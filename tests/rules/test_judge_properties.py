"""What must hold for every verdict, whatever the answers."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checks.facts import Fact, wheel_order
from checks.interval import MAYBE
from checks.judge import CHECKS, STAND_INS, asked, judge, level_of, read_case
from checks.rulebook import load
from checks.words import words
from tests.support import cases
from tests.support.cases import PAST, SIZES
from tests.support.effort import PART, effort

BOOK = load()
SAID = words("en")
DAY = "2026-07-14"
SLOW = effort(60)


def answer(fact: Fact) -> st.SearchStrategy[Any]:
    """A raw answer, a vague one or none."""
    if fact.kind == "choice":
        one = st.sampled_from(fact.choices)
        return one | st.lists(one, min_size=1, unique=True) | st.none()
    if fact.kind == "made":
        return st.sampled_from(["0120", "5219", "2523", "0116", "4805", "318"]) | st.none()
    if fact.kind == "text":
        return st.sampled_from(["L68149", "12192TB"]) | st.none()
    if fact.kind == "size":
        return st.sampled_from(SIZES) | st.none()
    if fact.unit == "count":
        return st.integers(int(fact.low), PAST if fact.past else int(fact.high))
    ends = st.floats(fact.low, fact.high, allow_nan=False)
    return ends | st.tuples(ends, ends).map(sorted) | st.none()


@st.composite
def payloads(draw: st.DrawFn) -> dict[str, Any]:
    check = draw(st.sampled_from(CHECKS))
    axles = draw(st.integers(1, 3))
    wheels = wheel_order(axles)
    places = {"trailer": [""], "axle": sorted({w[0] for w in wheels}), "wheel": wheels}
    names = sorted(
        {f for s in BOOK.stations for p in s.points if check in p.checks for f in p.facts}
    )
    keys = [(f, p) for f in names for p in places[BOOK.facts[f].scope] if f != "axles"]
    chosen = draw(st.lists(st.sampled_from(keys), unique=True, max_size=40)) if keys else []
    facts: dict[str, Any] = {"axles": axles}
    for name, place in chosen:
        facts[f"{name}@{place}".rstrip("@")] = draw(answer(BOOK.facts[name]))
    return {"check": check, "date": DAY, "facts": facts}


def truths(payload: dict[str, Any]) -> dict[tuple[str, str], int]:
    """The truth of every finding at every place that is asked about."""
    check, case = read_case(payload, BOOK)
    return {
        (finding.id, visit.place): finding.test(case, visit.place)
        for visit in asked(check, case, BOOK)
        for finding in visit.point.findings
    }


def narrowed(draw: st.DrawFn, fact: Fact, raw: Any) -> Any:
    """An answer that lies within ``raw``."""
    if fact.kind == "choice":
        options = fact.choices if raw is None else raw if isinstance(raw, list) else [raw]
        return draw(st.sampled_from(list(options)))
    if raw is None:
        return draw(answer(fact))
    if isinstance(raw, list):
        return draw(st.floats(raw[0], raw[1]).map(lambda x: [x, x]))
    return raw


@pytest.mark.sample
@SLOW
@given(payloads())
def test_the_level_alone_is_that_of_the_verdict(payload):
    assert level_of(payload) == judge(payload)["level"]


@pytest.mark.slow
def test_the_level_alone_is_that_of_the_verdict_in_every_case():
    for case in cases.all_cases()[::PART]:
        if "error" not in case["expect"]:
            payload = cases.payload(case)
            assert level_of(payload) == judge(payload)["level"], case["case"]


@pytest.mark.sample
@SLOW
@given(payloads(), st.data())
def test_more_answers_never_turn_a_yes_or_a_no(payload, data):
    before = truths(payload)
    facts = dict(payload["facts"])
    for key, raw in payload["facts"].items():
        if key != "axles":
            facts[key] = narrowed(data.draw, BOOK.facts[key.partition("@")[0]], raw)
    after = truths(payload | {"facts": facts})
    for key, truth in before.items():
        if key in after and truth != MAYBE:
            assert after[key] == truth, key


@pytest.mark.sample
@SLOW
@given(payloads())
def test_readiness_and_coverage_stay_within_their_bounds(payload):
    verdict = judge(payload)
    if verdict["readiness"] is None:
        # sums describe a trailer more than they judge it, so few of their points count
        assert verdict["level"] in ("stop", "mend") or payload["check"] == "figures"
    else:
        assert verdict["level"] not in ("stop", "mend")
        low, high = verdict["readiness"]
        assert 0 <= low <= high <= 100
    assert 0 <= verdict["coverage"]["answered"] <= verdict["coverage"]["asked"]


@pytest.mark.sample
@SLOW
@given(payloads())
def test_a_missing_answer_never_counts_as_a_pass(payload):
    """A point with nothing answered, or with an open finding, is never 'nothing found'."""
    verdict = judge(payload)
    for point in verdict["points"]:
        opens = [
            c for c in verdict["cannot_tell"]
            if c["why"] == "open" and c["place"] == point["place"]
            and BOOK.findings[c["finding"]].point == point["point"]
        ]  # fmt: skip
        if opens:
            assert point["level"] != "nothing"
    if verdict["level"] == "nothing":
        assert all(p["level"] == "nothing" for p in verdict["points"])


@pytest.mark.sample
@SLOW
@given(payloads())
def test_what_is_next_is_open_and_asked(payload):
    verdict = judge(payload)
    check, case = read_case(payload, BOOK)
    keys = {key for visit in asked(check, case, BOOK) for key in visit.keys}
    for entry in verdict["next"]:
        key = (entry["fact"], entry["place"])
        assert key in keys
        assert case.facts.get(key, BOOK.context.whole[key[0]]) == BOOK.context.whole[key[0]]


FOUND = ("stop", "mend", "look")


@st.composite
def stops(draw: st.DrawFn) -> dict[str, Any]:
    """A quick stop with most of its answers, coarse ones among them."""
    axles = draw(st.integers(1, 2))
    wheels = wheel_order(axles)
    places = {"trailer": [""], "axle": sorted({w[0] for w in wheels}), "wheel": wheels}
    facts: dict[str, Any] = {"axles": axles}
    points = [p for s in BOOK.stations for p in s.points if "quick_stop" in p.checks]
    for name in dict.fromkeys(f for point in points for f in point.facts if f != "axles"):
        for place in places[BOOK.facts[name].scope]:
            if draw(st.integers(0, 9)):
                facts[f"{name}@{place}".rstrip("@")] = draw(answer(BOOK.facts[name]))
    return facts


@pytest.mark.sample
@SLOW
@given(payloads())
def test_no_level_without_a_card(payload):
    """Whatever is answered: a point that is worse than nothing found shows a finding as bad."""
    verdict = judge(payload)
    shown = {(BOOK.findings[f["finding"]].point, f["place"], f["level"]) for f in
             verdict["findings"] if f["finding"] not in STAND_INS}  # fmt: skip
    rough = {f["place"] for f in verdict["findings"] if f["finding"] in STAND_INS}
    for one in verdict["points"]:
        if one["level"] in FOUND:
            carded = (one["point"], one["place"], one["level"]) in shown
            assert carded or (one["level"] == "look" and one["place"] in rough), one
    for entry in verdict["findings"]:
        assert SAID.has(f"finding-{entry['finding']}.do"), entry


@pytest.mark.sample
@SLOW
@given(stops())
def test_a_doubt_of_danger_at_a_hub_says_how_to_settle_it(facts):
    """What coarse answers leave open at a hub is told in words that name a way to know."""
    verdict = judge({"check": "quick_stop", "date": DAY, "facts": facts})
    for entry in verdict["cannot_tell"]:
        at_hub = BOOK.findings[entry["finding"]].point in ("hub_heat", "hub_pair", "hub_cold")
        if entry["why"] == "vague" and entry["level"] in ("stop", "mend") and at_hub:
            assert "To know:" in SAID.say(f"finding-{entry['finding']}.doubt"), entry


@pytest.mark.parametrize("check", CHECKS)
def test_nothing_answered_is_not_checked(check):
    verdict = judge({"check": check, "date": DAY, "facts": {}})
    assert verdict["level"] == "unchecked"
    assert verdict["findings"] == []
    assert verdict["readiness"] in ([0, 100], None if check == "figures" else [0, 100])


# ---- monotone where nature is ---------------------------------------------------------------

BASE_STOP = {
    "axles": 1, "brakes": "none", "air": 20, "run_distance": "20 mi", "run_speed": "55 mph",
    "parked": 3, "hub_method": "thermometer", "hub_spot": "barrel", "sun": "no",
}  # fmt: skip


SEVERITY = ("stop", "mend", "look", "unchecked", "nothing")  # as a whole verdict weighs them


def level_at(payload: dict[str, Any], place: str, points: set[str]) -> int:
    """Worst level, 0 the worst, of these points at a place."""
    found = [
        SEVERITY.index(p["level"])
        for p in judge(payload)["points"]
        if p["place"] == place and p["point"] in points
    ]
    return min(found)


@pytest.mark.sample
@SLOW
@given(
    st.floats(-30, 200), st.floats(0, 150), st.floats(-30, 200), st.floats(-20, 45),
    st.sampled_from(["barrel", "wheel", "cap", "drum"]),
    st.fixed_dictionaries({"brakes": st.sampled_from(["none", "electric"])}, optional={
        "braking": st.sampled_from(["hardly", "normal", "hard"]),
        "driven_easy": st.sampled_from(["not_yet", "yes"]),
        "hub_size": st.sampled_from(["bore_25", "bore_35"]),
    }),
)  # fmt: skip
def test_hotter_is_never_judged_milder(reading, more, other, air, spot, brakes):
    if spot == "drum" and brakes["brakes"] == "none":
        spot = "barrel"
    facts = BASE_STOP | {"air": air, "hub_spot": spot, "hub_reading@1R": other} | brakes
    levels = [
        level_at(
            {"check": "quick_stop", "date": DAY, "facts": facts | {"hub_reading@1L": r}},
            "1L",
            {"hub_heat"},
        )
        for r in (reading, reading + more)
    ]
    assert levels[1] <= levels[0]


WORDS = BOOK.facts["hub_feel"].choices
RUN = ("air", "run_distance", "run_speed", "parked", "sun", "recent_work", "hub_size", "hub_spot")
AROUND = (*RUN, "brakes", "braking", "axle_braked", "pair_feel", "hub_feel", "barrel_feel", "turns",
          "driven_easy", "again_feel")  # fmt: skip


@st.composite
def stops_by_hand(draw: st.DrawFn) -> dict[str, Any]:
    """A stop by hand with any other answers, vague ones and none among them."""
    axles = draw(st.integers(1, 3))
    wheels = wheel_order(axles)
    places = {"trailer": [""], "axle": sorted({w[0] for w in wheels}), "wheel": wheels}
    facts: dict[str, Any] = {"axles": axles, "hub_method": "hand"}
    for name in AROUND:
        fact = BOOK.facts[name]
        for place in places[fact.scope]:
            if draw(st.booleans()):
                facts[f"{name}@{place}".rstrip("@")] = draw(answer(fact))
    return facts


@pytest.mark.slow
@pytest.mark.sample
@SLOW
@given(stops_by_hand())
def test_a_hotter_word_is_never_judged_milder(facts):
    """Whatever else is answered. Only a cold brake is judged elsewhere, by being cold."""
    levels = [
        level_at(
            {"check": "quick_stop", "date": DAY, "facts": facts | {"hub_feel@1L": word}},
            "1L",
            {"hub_heat"},
        )
        for word in WORDS
    ]
    assert levels == sorted(levels, reverse=True)


@pytest.mark.sample
@SLOW
@given(st.integers(1, 52), st.integers(0, 25), st.integers(1, 20))
def test_older_is_never_judged_younger(week, year, years):
    assert date.fromisoformat(DAY).year >= 2000 + year
    made = [f"{week:02d}{y:02d}" for y in (max(year - years, 0), year)]
    older, younger = (
        level_at(
            {"check": "tires", "date": DAY, "facts": {"tire_made@1L": code}}, "1L", {"tire_age"}
        )
        for code in made
    )
    assert older <= younger


@pytest.mark.sample
@SLOW
@given(st.floats(0, 20), st.floats(0, 12))
def test_less_tread_is_never_better(tread, less):
    facts = {"tread_by": "gauge"}
    worn, fuller = (
        level_at({"check": "tires", "date": DAY, "facts": facts | {"tread@1L": t}}, "1L", {"tread"})
        for t in (max(tread - less, 0), tread)
    )
    assert worn <= fuller


@pytest.mark.sample
@SLOW
@given(st.floats(200, 4000), st.floats(0, 500), st.floats(200, 4000))
def test_heavier_is_never_judged_lighter(weight, more, rating):
    levels = [
        level_at(
            {"check": "walkaround", "date": DAY,
             "facts": {"weighed": "yes", "gross_weight": w, "gross_rating": rating}},
            "", {"weight"},
        )
        for w in (weight, weight + more)
    ]  # fmt: skip
    assert levels[1] <= levels[0]
