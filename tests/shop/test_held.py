"""What nobody is to drive on with before something is settled stands where a *Stop now* does."""

from __future__ import annotations

import csv
import io
from datetime import datetime
from typing import Any

import pytest
from flask import Flask

from checks.words import words
from tests.shop.test_inbox import came, desk, listed, read
from tests.shop.test_stop_now import PLACES, shown
from tests.support.floor import Floor, run_stop, sorted_floor
from tests.support.shops import read_link
from webapp.shop.inbox import PAGE
from webapp.shop.print import check as check_print

CARD = {"finding": "reads_below_air", "place": "", "level": "look"}
HOT = {"finding": "too_hot", "place": "1L", "level": "look"}
WORDS = "Do not drive on before this is settled."


@pytest.fixture
def floor(app: Flask) -> Floor:
    return sorted_floor(app)


def held(floor: Floor, *found: Any, level: str = "look", **more: Any) -> str:
    """A check comes in that the phone judged so; its id."""
    one = run_stop()
    one["body"]["verdict"] = {"level": level, "findings": list(found or (CARD, HOT))}
    assert floor.send(one, **more).status_code == 200
    return str(one["id"])


def test_what_sends_on_waits_at_the_shop_too_for_what_nobody_is_to_drive_on_with(
    floor: Floor,
) -> None:
    squeak = {"finding": "has_squeak", "place": "1R", "level": "look"}
    for found, count in (((HOT, squeak), 1), ((CARD, squeak), 0)):
        page = read(floor, f"/shop/checks/{held(floor, *found)}")
        assert "Listen again at a walk." in page
        assert page.count("Once the worse is put right: Listen again") == count


# ---- the inbox ----------------------------------------------------------------------------------


def test_it_stands_above_what_is_only_looked_at_again_and_names_what_holds(floor: Floor) -> None:
    first, then = held(floor), held(floor, CARD)
    page = read(floor)
    assert listed(page) == [first, then]
    assert "Left wheel: Very hot, and not settled yet, and 1 more" in page


def test_it_is_on_the_first_page_however_much_came_in_since(floor: Floor) -> None:
    one = held(floor)
    for _ in range(PAGE + 2):
        came(floor, "look")
    stop = came(floor, "stop")
    page = read(floor)
    assert listed(page)[:2] == [stop, one]
    assert page.index("Decide now") < page.index(one) < page.index("Came back")
    assert WORDS in page


def test_of_mend_and_it_each_stands_in_its_own_place(floor: Floor) -> None:
    mend, one = came(floor, "mend"), held(floor)
    assert listed(read(floor)) == [one, mend]
    beside = held(floor, HOT, level="mend")
    assert listed(read(floor)) == [one, beside, mend]


def test_on_a_link_taken_back_it_stands_first_of_its_level(floor: Floor) -> None:
    stray = floor.another_link(revoked=datetime.now().astimezone())
    one, plain = held(stray), held(stray, CARD)
    page = read(floor)
    assert listed(page) == [one, plain]
    assert page.count(WORDS) == 1
    assert read_link(floor.app.test_client(), floor.secret).json["open"] is None


# ---- where it stands until it is decided --------------------------------------------------------


def test_it_stands_everywhere_until_it_is_decided_and_again_when_that_is_undone(
    floor: Floor,
) -> None:
    record = held(floor)
    assert dict.fromkeys(PLACES, True) == told(floor)
    client = desk(floor)
    client.post(f"/shop/checks/{record}", data={"text": "Drum cooled.", "decided": "y"})
    assert not any(told(floor).values())
    assert listed(read(floor, "/shop/decided")) == [record]
    client.post(f"/shop/checks/{record}/open")
    assert dict.fromkeys(PLACES, True) == told(floor)


def told(floor: Floor) -> dict[str, bool]:
    found = shown(floor, WORDS, "look")
    return {place: found[place] for place in PLACES}


def test_the_server_finds_it_where_the_phone_did_not(floor: Floor) -> None:
    one = run_stop(hub_feel__1L="no_touch", again_feel__1L="no_touch")
    one["body"]["verdict"] = {"level": "nothing", "findings": []}
    assert floor.send(one).status_code == 200
    assert listed(read(floor).partition("Came back")[0]) == [one["id"]]


def drawing(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What is drawn on paper from now on, text by text."""
    drawn: list[str] = []
    told = check_print.Document.told
    monkeypatch.setattr(
        check_print.Document, "told", lambda sheet, text: drawn.append(text) or told(sheet, text)
    )
    return drawn


@pytest.mark.parametrize("decided", [False, True])
def test_the_check_itself_says_it_on_page_and_paper(
    floor: Floor, monkeypatch: pytest.MonkeyPatch, decided: bool
) -> None:
    drawn = drawing(monkeypatch)
    for record, found in ((held(floor), [WORDS]), (held(floor, CARD), [])):
        if decided:
            desk(floor).post(f"/shop/checks/{record}", data={"text": "Cooled.", "decided": "y"})
        drawn.clear()
        page = read(floor, f"/shop/checks/{record}")
        assert desk(floor).get(f"/shop/checks/{record}.pdf").status_code == 200
        assert [one for one in drawn if one == WORDS] == found
        own = page.partition("<h1>")[2].partition('class="columns"')[0]
        beside = own.partition('class="trouble"')[2].partition("</section>")[0]
        assert own.replace(beside, "").count(WORDS) == len(found)


READY = [76, 96]
# What the phone said, what the server saw, and whether a number may stand beside it.
NUMBERED = {
    "held": ("look", (HOT,), {}, False),
    "held by the server": (
        "nothing", (), {"hub_feel__1L": "no_touch", "again_feel__1L": "no_touch"}, False
    ),
    "Stop now of the server's": ("look", (CARD,), {"smoke__1L": "yes"}, False),
    "Mend": ("mend", (), {}, False),
    "looked at again only": ("look", (CARD,), {}, True),
}  # fmt: skip


@pytest.mark.parametrize("title", NUMBERED)
def test_no_readiness_stands_beside_what_holds_driving_on(
    floor: Floor, monkeypatch: pytest.MonkeyPatch, title: str
) -> None:
    level, found, answers, told = NUMBERED[title]
    one = run_stop(**answers)
    one["body"]["verdict"] = {"level": level, "findings": list(found), "readiness": READY}
    assert floor.send(one).status_code == 200
    drawn = drawing(monkeypatch)
    page = read(floor, f"/shop/checks/{one['id']}")
    assert desk(floor).get(f"/shop/checks/{one['id']}.pdf").status_code == 200
    for text in (page, "\n".join(drawn)):
        assert ("Readiness 76 to 96 of 100." in text) == told


SMOKE = {"finding": "has_smoke", "place": "1L", "level": "stop"}
APART = {"finding": "pair_apart", "place": "1", "level": "look"}
GENTLY = {"finding": "pair_warm", "place": "1", "level": "look"}
# What the phone said, its findings, whether the server saw smoke, and whether the driving waits.
SENDING_ON = {
    "beside Stop now": ("stop", (SMOKE, GENTLY), False, True),
    "beside a Stop now of the server's alone": ("look", (GENTLY,), True, True),
    "beside Mend": ("mend", ({**SMOKE, "level": "mend"}, APART), False, True),
    "beside Stop now, nobody sent on": ("stop", (SMOKE, CARD), False, False),
    "alone": ("look", (GENTLY,), False, False),
}


@pytest.mark.parametrize("title", SENDING_ON)
def test_a_milder_finding_sends_nobody_on_beside_what_is_worse(
    floor: Floor, monkeypatch: pytest.MonkeyPatch, title: str
) -> None:
    level, found, smoke, waits = SENDING_ON[title]
    one = run_stop(**({"smoke__1L": "yes"} if smoke else {}))
    one["body"]["verdict"] = {"level": level, "findings": list(found)}
    assert floor.send(one).status_code == 200
    drawn, advice = drawing(monkeypatch), words("en").say(f"finding-{found[-1]['finding']}.do")
    page = read(floor, f"/shop/checks/{one['id']}")
    assert desk(floor).get(f"/shop/checks/{one['id']}.pdf").status_code == 200
    for told in (page, "\n".join(drawn)):
        assert told.count(advice) == 1
        assert told.count(f"Once the worse is put right: {advice}") == waits


def test_a_link_tells_first_what_holds(floor: Floor) -> None:
    held(floor, CARD, HOT)
    found = read_link(floor.app.test_client(), floor.secret).json["open"]
    assert [one["finding"] for one in found["findings"]] == ["too_hot", "reads_below_air"]


def test_it_is_not_lent_before_somebody_has_looked(floor: Floor) -> None:
    held(floor)
    form = {"name": "Bo", "phone": ""}
    answer = desk(floor).post(f"/shop/fleet/{floor.trailer}/out", data=form, follow_redirects=True)
    assert "Do not lend it" in answer.text
    assert floor.rows("outings") == []


def test_the_list_of_those_to_be_looked_at_again_has_it(floor: Floor) -> None:
    held(floor)
    page = read(floor, "/shop/trailers?show=look")
    assert WORDS in page
    assert "Alder Fork 1" in page


@pytest.mark.parametrize("decided", [False, True])
def test_the_table_of_checks_marks_it(floor: Floor, decided: bool) -> None:
    record, plain = held(floor), held(floor, CARD)
    if decided:
        desk(floor).post(f"/shop/checks/{record}", data={"text": "Cooled.", "decided": "y"})
    text = desk(floor).get("/shop/files/checks.csv").data.decode("utf-8-sig")
    found = {row["id"]: row["held"] for row in csv.DictReader(io.StringIO(text))}
    assert found == {record: WORDS, plain: ""}
