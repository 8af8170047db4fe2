"""Tie-downs against the printed rules and tables of 49 CFR 393, and against statics."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checks.formula import Expr
from checks.judge import judge
from checks.trade.tiedowns import cosine
from tests.support.quantities import evaluate, work_out

LB = 0.45359237
DAY = "2026-07-14"
# two 2 in straps over a 2000 lb crate, 6 ft long
CRATE: dict[str, Any] = {
    "article_weight": "2000 lb", "article_length": "6 ft", "article_kind": "goods",
    "article_blocked": "no", "tie_1_count": 2, "tie_1_is": "strap", "tie_1_width": "2",
    "tie_1_weaker": "no", "tie_1_ends": "across", "tie_2_count": 0,
}  # fmt: skip


def pounds(name: str, facts: dict[str, Any]) -> tuple[float, float]:
    low, high = work_out(name, facts)
    return (low / LB, high / LB)


def found(facts: dict[str, Any]) -> set[str]:
    verdict = judge({"check": "figures", "date": DAY, "facts": facts})
    return {entry["finding"] for entry in verdict["findings"]}


# 49 CFR 393.110(b)(1)-(3) and (c) as printed, row by row: pounds, feet, blocked, least number
PRINTED = [
    (1100, 5, "no", 1), (1101, 5, "no", 2), (1100, 5.01, "no", 2), (9000, 10, "no", 2),
    (100, 10.01, "no", 3), (100, 20, "no", 3), (100, 20.01, "no", 4), (100, 30, "no", 4),
    (100, 40, "no", 5), (9000, 5, "yes", 1), (9000, 10, "yes", 1), (9000, 10.01, "yes", 2),
    (9000, 20.01, "yes", 3),
]  # fmt: skip


@pytest.mark.parametrize(("weight", "length", "blocked", "least"), PRINTED)
def test_least_number_is_the_printed_one(weight, length, blocked, least):
    facts = {
        "article_weight": f"{weight} lb", "article_length": f"{length} ft",
        "article_kind": "goods", "article_blocked": blocked,
    }  # fmt: skip
    assert work_out("ties_needed", facts) == (least, least)


@settings(max_examples=60, deadline=None)
@given(st.floats(1.6, 12.1), st.sampled_from(["no", "yes"]))
def test_least_number_of_a_long_article_is_a_ceiling(metres, blocked):
    facts = {
        "article_weight": 600, "article_length": metres, "article_kind": "goods",
        "article_blocked": blocked,
    }  # fmt: skip
    tens = math.ceil(metres / 3.048 - 1e-12)
    wanted = tens if blocked == "yes" else max(2, 1 + tens)
    assert work_out("ties_needed", facts) == (wanted, wanted)


@pytest.mark.parametrize(
    ("kind", "weight", "least"),
    [("machine", 9999, 2), ("machine", 10000, 4), ("car", 1000, 2), ("goods", 10000, 2)],
)
def test_heavy_machines_need_four_and_cars_two(kind, weight, least):
    """49 CFR 393.130(a)-(c): 10,000 lb or more; 393.128(b): at least two."""
    facts = {
        "article_weight": f"{weight} lb", "article_length": "8 ft", "article_kind": kind,
        "article_blocked": "no",
    }  # fmt: skip
    assert work_out("ties_needed", facts) == (least, least)


# 49 CFR 393.108, tables as reprinted, working load limits in lb
CHAIN = {
    "1_4": {"g30": 1300, "g43": 2600, "g70": 3150, "g80": 3500, "g100": 4300},
    "5_16": {"g30": 1900, "g43": 3900, "g70": 4700, "g80": 4500, "g100": 5700},
    "3_8": {"g30": 2650, "g43": 5400, "g70": 6600, "g80": 7100, "g100": 8800},
    "7_16": {"g30": 3700, "g43": 7200, "g70": 8750},
    "1_2": {"g30": 4500, "g43": 9200, "g70": 11300, "g80": 12000, "g100": 15000},
}
WEBBING = {"1_75": 1750, "2": 2000, "3": 3000, "4": 4000}
WIRE = {"1_4": 1400, "5_16": 2100, "3_8": 3000, "7_16": 4100, "1_2": 5300, "5_8": 8300}
PRINTED_CHAIN = [(s, g, v) for s, row in CHAIN.items() for g, v in row.items()]


@pytest.mark.parametrize("kind", ["1", "2"])
@pytest.mark.parametrize(("size", "grade", "limit"), PRINTED_CHAIN)
def test_chain_limit_is_the_printed_one(size, grade, limit, kind):
    facts = {
        f"tie_{kind}_count": 1, f"tie_{kind}_is": "chain", f"tie_{kind}_size": size,
        f"tie_{kind}_grade": grade, f"tie_{kind}_weaker": "no",
    }  # fmt: skip
    assert pounds(f"tie_{kind}_limit", facts) == pytest.approx((limit, limit))


@pytest.mark.parametrize("size", CHAIN)
def test_chain_without_a_mark_is_grade_30(size):
    """49 CFR 393.108(d)."""
    facts = {"tie_1_is": "chain", "tie_1_size": size, "tie_1_grade": "none", "tie_1_weaker": "no"}
    limit = CHAIN[size]["g30"]
    assert pounds("tie_1_limit", facts) == pytest.approx((limit, limit))


@pytest.mark.parametrize(
    ("what", "of", "size", "limit"),
    [("strap", "width", s, v) for s, v in WEBBING.items()]
    + [("wire", "wire", s, v) for s, v in WIRE.items()],
)
def test_strap_and_wire_limits_are_the_printed_ones(what, of, size, limit):
    facts = {"tie_1_is": what, f"tie_1_{of}": size, "tie_1_weaker": "no"}
    assert pounds("tie_1_limit", facts) == pytest.approx((limit, limit))


@pytest.mark.parametrize(("part", "limit"), [(1500, 1500), (2000, 2000), (9000, 2000)])
def test_the_weakest_part_sets_the_limit(part, limit):
    """49 CFR 393.108(a)."""
    facts = CRATE | {"tie_1_weaker": "yes", "tie_1_part": f"{part} lb"}
    assert pounds("tie_1_limit", facts) == pytest.approx((limit, limit))


@pytest.mark.parametrize(
    ("ends", "counted"), [("across", 4000), ("same_side", 2000), ("to_cargo", 2000)]
)
def test_half_or_whole_counts_by_where_the_ends_go(ends, counted):
    """49 CFR 393.106(d)(1)-(3), two 2000 lb straps."""
    assert pounds("ties_counted", CRATE | {"tie_1_ends": ends}) == pytest.approx((counted, counted))


def test_two_kinds_add_up():
    """Two 2 in straps across (4000) and one 1/4 in chain of grade 70 to the cargo (1575)."""
    facts = CRATE | {
        "tie_2_count": 1, "tie_2_is": "chain", "tie_2_size": "1_4", "tie_2_grade": "g70",
        "tie_2_weaker": "no", "tie_2_ends": "to_cargo", "tie_2_angle": 0,
    }  # fmt: skip
    assert pounds("ties_counted", facts) == pytest.approx((5575, 5575))
    assert pounds("ties_break", facts) == pytest.approx((2 * 6000 + 12600,) * 2)


def test_forces_are_the_printed_shares_of_the_weight():
    """49 CFR 393.102(a)(1): 0.8 g forward, 0.5 g rearward and sideways."""
    assert pounds("force_forward", CRATE) == pytest.approx((1600, 1600))
    assert pounds("force_other", CRATE) == pytest.approx((1000, 1000))
    assert pounds("ties_least", CRATE) == pytest.approx((1000, 1000))


@pytest.mark.parametrize("degrees", [0, 15, 30, 45, 60, 75, 90])
def test_working_share_of_an_angle_is_its_cosine(degrees):
    share = evaluate(cosine(Expr(["*", ["limit", "tiedowns.one_degree"], float(degrees)])))[0]
    assert share == pytest.approx(math.cos(math.radians(degrees)), abs=0.002)


@pytest.mark.parametrize(
    ("angle", "steep"), [(0, False), (45, False), (67, False), (68.5, True), (90, True)]
)
def test_steep_tie_downs_hold_too_little_forward(angle, steep):
    """Statics: half of four straps that break at 5250 lb, by the cosine, against 0.8 of 5000 lb.

    cos(67.6 degrees) is 4000 / 10500.
    """
    facts = CRATE | {
        "article_weight": "5000 lb", "tie_1_count": 4, "tie_1_width": "1_75",
        "tie_1_ends": "to_cargo", "tie_1_angle": angle,
    }  # fmt: skip
    pull = 10500 * math.cos(math.radians(angle))
    assert pounds("ties_forward", facts)[0] == pytest.approx(pull, abs=20)
    assert ("ties_steep" in found(facts)) == steep


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@given(st.floats(50, 5000), st.floats(0, 2000), st.integers(1, 6))
def test_heavier_is_never_tied_better(weight, more, count):
    bad = {"ties_few", "ties_weak", "ties_steep"}
    facts = CRATE | {"tie_1_count": count}
    lighter, heavier = (
        len(found(facts | {"article_weight": w}) & bad) for w in (weight, weight + more)
    )
    assert lighter <= heavier


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@given(st.integers(0, 11), st.floats(50, 9000), st.sampled_from(["across", "same_side"]))
def test_one_more_tie_down_is_never_worse(count, weight, ends):
    fewer, more = (
        found(CRATE | {"tie_1_count": n, "article_weight": weight, "tie_1_ends": ends})
        & {"ties_few", "ties_weak"}
        for n in (count, count + 1)
    )
    assert more <= fewer
