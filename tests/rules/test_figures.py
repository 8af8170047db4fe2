"""Each figure that a person can have worked out is told in a sentence with its value and unit."""

from __future__ import annotations

import pytest

from checks.rulebook import load
from checks.words import words

SAY = words("en")
FIGURES = sorted(
    {q for station in load().stations for point in station.points for q in point.shows}
)
VALUES = {"value": "<value>", "amount": "<amount>", "short": "<short>", "left": "<left>"}


def said(name: str, side: str, count: int = 7) -> str:
    return SAY.say(f"quantity-{name}.says", side=side, count=count, links="<links>", **VALUES)


@pytest.mark.parametrize("name", FIGURES)
def test_a_figure_has_a_sentence_with_its_value(name: str) -> None:
    text = said(name, "over")
    assert text.endswith(".")
    assert text.count(" ") >= 3
    assert "<value>" in text


@pytest.mark.parametrize(
    "name", [name for name in FIGURES if said(name, "over") != said(name, "under")]
)
def test_a_figure_that_turns_says_how_far_on_which_side(name: str) -> None:
    """A shortage is told as one, without a minus, and a range over both sides as both."""
    short, both = said(name, "under"), said(name, "either")
    assert "<amount>" in short or name == "edge_play"
    assert "<value>" not in short
    assert "<value>" not in both
    assert "<left>" in both


@pytest.mark.parametrize("name", [n for n in FIGURES if said(n, "over", 0) != said(n, "over", 1)])
def test_a_count_agrees_with_its_noun(name: str) -> None:
    one, two = said(name, "over", 1), said(name, "over", 2)
    assert said(name, "over", 0).startswith("It needs no ")
    assert one == two.replace("lamps in a row, rear centre", "lamp at the rear centre").replace(
        "lamps", "lamp"
    ).replace("markers", "marker").replace("tie-downs", "tie-down")
