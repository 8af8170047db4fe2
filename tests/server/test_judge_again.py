"""Kept checks judged by today's rules: what was told stays, and a run that was stopped goes on."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from concurrent.futures import Executor, Future
from typing import Any

import pytest
from flask import Flask

from tests.shop.test_inbox import HOT, desk
from tests.support.floor import Floor, add, run_stop, shop_floor
from tests.support.records import uuid7
from tests.support.serve import ROOT
from webapp.commands import judge_again
from webapp.storage.models import records
from webapp.storage.store import Store
from webapp.wording import speaking

KEPT = ("id", "hash", "record", "verdict", "level", "phone_level", "shelf", "received_ms")


class Here(Executor):
    """Does what it is given at once, in this process."""

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        done: Future[Any] = Future()
        done.set_result(fn(*args, **kwargs))
        return done


@pytest.fixture
def floor(app: Flask, monkeypatch: pytest.MonkeyPatch) -> Floor:
    monkeypatch.setattr(judge_again, "_store", app.extensions["store"])
    monkeypatch.setattr(judge_again, "PART", 2)
    return shop_floor(app)


def judge(store: Store, rules: str = "today") -> list[judge_again.Part]:
    return list(judge_again.again(store, Here(), rules, at_once=1))


def sent(floor: Floor, **facts: Any) -> int:
    """A check that the server has judged; its row."""
    one = run_stop(**facts)
    assert floor.send(one).status_code == 200
    return int(floor.rows("records", id=one["id"])[0]["seq"])


def by_earlier_rules(store: Store, seq: int, **values: Any) -> None:
    with store.writing() as connection:
        connection.execute(records.update().where(records.c.seq == seq).values(**values))


def levels(floor: Floor) -> list[str | None]:
    rows = sorted(floor.rows("records"), key=lambda row: row["seq"])
    return [row["level_now"] for row in rows]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("then", "before", "now"),
    [
        pytest.param("stop", None, None, id="the same level leaves no mark"),
        pytest.param("mend", None, "stop", id="a worse level stands beside the one told"),
        pytest.param("mend", "look", "stop", id="another change of the rules replaces the mark"),
        pytest.param("stop", "mend", None, id="a change that was taken back takes the mark away"),
    ],
)
def test_todays_level_stands_beside_the_one_that_was_told(floor, store, then, before, now):
    seq = sent(floor, **HOT)
    by_earlier_rules(store, seq, level=then, level_now=before)
    (told,) = floor.rows("records")
    judge(store)
    (row,) = floor.rows("records")
    assert row["level_now"] == now
    assert {name: row[name] for name in KEPT} == {name: told[name] for name in KEPT}


@pytest.mark.slow
def test_a_run_that_was_stopped_goes_on_where_it_was(floor, store):
    for _ in range(5):
        by_earlier_rules(store, sent(floor, **HOT), level="mend")
    for part in judge_again.again(store, Here(), "today", at_once=1):
        assert part.judged == 2
        break  # stopped after one part is on disk
    assert levels(floor) == ["stop", "stop", None, None, None]
    assert [part.judged for part in judge(store)] == [2, 1]
    assert levels(floor) == ["stop"] * 5
    assert judge(store) == []


def test_what_came_in_since_is_judged_too(floor, store):
    sent(floor)
    judge(store)
    sent(floor)
    assert [part.judged for part in judge(store)] == [1]


@pytest.mark.slow
def test_other_rules_begin_anew(floor, store):
    sent(floor)
    judge(store)
    assert [part.judged for part in judge(store, "tomorrow")] == [1]
    assert [row["rules"] for row in floor.rows("judgings")] == ["tomorrow"]


def test_what_todays_rules_cannot_read_stays_as_it_was(floor, store):
    seq = sent(floor, **HOT)
    (row,) = floor.rows("records")
    older = json.loads(row["record"])
    older["body"]["facts"]["a_question_of_then"] = "yes"
    by_earlier_rules(store, seq, record=json.dumps(older), level="mend")
    (part,) = judge(store)
    assert (part.judged, part.unreadable, levels(floor)) == (1, 1, [None])


def test_other_records_than_checks_are_passed_over(floor, store):
    row = {"device": "d", "id": uuid7(), "hash": "h", "kind": "trailer", "version": 1}
    add(floor.app, "records", **row, made_ms=0, received_ms=0, record="{}")
    assert [part.judged for part in judge(store)] == [0]


@pytest.mark.slow
def test_a_shop_sees_what_todays_rules_say(floor, store):
    by_earlier_rules(store, sent(floor, **HOT), level="mend")
    (row,) = floor.rows("records")
    address = f"/shop/checks/{row['id']}"
    assert "By today&#39;s rules" not in desk(floor).get(address).text
    judge(store)
    assert "By today&#39;s rules" in desk(floor).get(address).text


@pytest.mark.long
def test_the_command_judges_in_processes_and_says_what_changed(floor, store):
    seqs = [sent(floor, **HOT) for _ in range(3)]
    by_earlier_rules(store, seqs[1], level="mend")
    data = str(floor.app.config["DATA"])
    command = [sys.executable, "-m", "webapp.commands.judge_again", "--processes", "2"]
    environment = {
        "TWENTYMILE_DATA": data,
        "TWENTYMILE_DATABASE_URL": store.engine.url.render_as_string(hide_password=False),
        "LANG": "C",
    }
    done = subprocess.run(
        command, cwd=ROOT, env=environment, capture_output=True, text=True, timeout=120
    )
    assert (done.returncode, done.stderr) == (0, "")
    first, moved, stop = done.stdout.splitlines()
    assert first.endswith("Judged in this run: 3.")
    assert moved == "Mend before towing then, Stop now by today's rules: 1"
    assert floor.rows("records", seq=seqs[1])[0]["id"] in stop
    assert levels(floor) == [None, "stop", None]


@pytest.mark.parametrize("given", ["0", "-1", "two", "1.5", "٣", "1000"])
def test_a_number_of_processes_that_is_none_is_refused_in_words(monkeypatch, given):
    monkeypatch.setattr(sys, "argv", ["judge_again", f"--processes={given}"])
    with pytest.raises(SystemExit, match="give 1 to 999"):
        judge_again.main()


@pytest.mark.slow
def test_a_run_that_is_interrupted_ends_in_words(floor, store, monkeypatch, capsys):
    for _ in range(3):
        sent(floor)
    written = judge_again.written

    def interrupted(*given: Any) -> Any:
        written(*given)
        raise KeyboardInterrupt

    monkeypatch.setattr(judge_again, "written", interrupted)
    assert judge_again.run(store, Here(), 1) is False
    assert "goes on where it was" in capsys.readouterr().out
    monkeypatch.setattr(judge_again, "written", written)
    assert [part.judged for part in judge(store, judge_again.rules_of_today())] == [1]


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_bar_writes_its_numbers_as_the_language_does(monkeypatch, capsys, language):
    # As CLDR writes percents and thousands in the USA, in either language.
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    with speaking(language):
        judge_again.Bar(0, 10).show(5, 1234)
    told = capsys.readouterr().err
    assert "50%, " in told
    assert ": 1,234, " in told
