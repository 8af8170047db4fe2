"""A short seeded history of two phones and a server where everything goes wrong, and its judge.

`make faults` plays long ones.
That the invariants see what they are for is shown on states in which something is missing.
"""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.support.fault_world import Broken, Known
from tests.support.faults import left_is_on_the_server, run, saved_is_there, told_as_sent

HISTORIES = {4: 40, 6: 75}  # steps by seed


@pytest.mark.sweep
@pytest.mark.sqlite
@pytest.mark.parametrize("seed", HISTORIES)
def test_nothing_is_lost_doubled_cut_or_overwritten(chromium: Browser, seed: int) -> None:
    counted = run(chromium, seed, HISTORIES[seed])
    assert counted["steps"] == HISTORIES[seed]
    assert counted["records_stored"] > 0
    assert counted["server_kills"] + counted["browser_kills"] > 0


STATE: dict[str, Any] = {
    "drafts": {"d": {"hub_feel@1L": "cold"}},
    "records": [{"id": "r", "hash": "h", "sent": True, "draft": "k", "facts": {"axles": 2}}],
    "outbox": [],
    "photos": [{"id": "p", "hash": "q", "check": "k", "sent": True}],
    "pictures": ["p"],
}
ROWS, PHOTOS = {("phone", "r", "h")}, {("p", "q")}


def known() -> Known:
    answers: Any = {"d": {"hub_feel@1L": {0: {"cold"}}}, "k": {}}
    return Known(answers=answers, records={"r": "h"}, kept={"k": "r"}, photos={"p": "k"})


def judge(state: dict[str, Any], rows: Any = ROWS, photos: Any = PHOTOS) -> None:
    saved_is_there(known(), state)
    left_is_on_the_server(state, "phone", rows, photos)


def test_a_sound_state_is_sound() -> None:
    judge(STATE)


SPOILT: dict[str, Callable[[dict[str, Any]], None]] = {
    "a check lost": lambda s: s["records"].clear(),
    "a check changed": lambda s: s["records"][0].update(hash="x"),
    "neither sent nor waiting": lambda s: s["records"][0].update(sent=False),
    "a draft lost": lambda s: s["drafts"].clear(),
    "a draft back": lambda s: s["drafts"].update(k={}),
    "an answer lost": lambda s: s["drafts"].update(d={}),
    "an answer overwritten": lambda s: s["drafts"].update(d={"hub_feel@1L": "hot"}),
    "a photo lost": lambda s: s["photos"].clear(),
    "a picture lost": lambda s: s["pictures"].clear(),
}


@pytest.mark.parametrize("case", SPOILT)
def test_what_is_lost_on_the_phone_is_seen(case: str) -> None:
    state = copy.deepcopy(STATE)
    SPOILT[case](state)
    with pytest.raises(Broken):
        judge(state)


@pytest.mark.parametrize(
    ("rows", "photos"),
    [
        (set(), PHOTOS),
        ({("phone", "r", "x")}, PHOTOS),
        ({("other", "r", "h")}, PHOTOS),
        (ROWS, set()),
    ],
)
def test_what_is_lost_on_the_server_is_seen(rows: Any, photos: Any) -> None:
    with pytest.raises(Broken):
        judge(STATE, rows, photos)


def test_what_the_phone_was_told_is_stored_is_held_against_the_server() -> None:
    """Only what was answered and waits no more: what is offered again may be lacking."""
    assert told_as_sent(STATE, "phone") == {("phone", "r", "h")}
    assert told_as_sent(STATE | {"outbox": [{"id": "r"}]}, "phone") == set()
    unsent = copy.deepcopy(STATE)
    unsent["records"][0]["sent"] = False
    assert told_as_sent(unsent, "phone") == set()
