"""The command line: verdicts, workings and lists; wrong input ends with 2 and one clear message."""

from __future__ import annotations

import io
import json
import re

import pytest

from checks.__main__ import main
from checks.rulebook import RulebookError, load
from tests.support.tongue import english_of

STOP = {
    "check": "quick_stop", "date": "2026-07-14",
    "facts": {
        "axles": 1, "brakes": "none", "air": "68 degF", "run_distance": "20 mi", "parked": 3,
        "run_speed": "55 mph", "hub_method": "thermometer", "hub_spot": "barrel",
        "hub_reading@1L": "190 degF", "hub_reading@1R": 30,
    },
}  # fmt: skip


@pytest.fixture
def given(monkeypatch):
    def give(text):
        monkeypatch.setattr(
            "sys.stdin", io.StringIO(text if isinstance(text, str) else json.dumps(text))
        )

    return give


def test_judge_prints_the_verdict_with_words(given, capsys):
    given(STOP)
    assert main(["judge", "-"]) == 0
    verdict = json.loads(capsys.readouterr().out)
    assert verdict["level"] == "stop"
    assert verdict["word"] == "Stop now"
    first = verdict["findings"][0]
    assert first["finding"] == "hub_too_hot"
    assert first["title"]
    assert first["do"]
    assert first["source"]


def test_judge_reads_a_file(tmp_path, capsys):
    path = tmp_path / "stop.json"
    path.write_text(json.dumps(STOP), "utf-8")
    assert main(["judge", str(path)]) == 0
    assert json.loads(capsys.readouterr().out)["level"] == "stop"


def test_explain_prints_every_step_with_its_numbers(given, capsys):
    given(STOP)
    assert main(["explain", "hub_rise@1L", "-"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].endswith("(left wheel) = 87.7778 °C")
    sum_of = "87.7778 °C − 19 to 21 °C = 66.7778 to 68.7778 °C"
    assert lines[-1].startswith(f"hub above the air (left wheel) = {sum_of}   [")


def test_explained_sums_can_be_followed_by_hand(given, capsys):
    """55 mph, 20 miles, so 1309 s on the road: the worked value of the heat model."""
    given(STOP)
    assert main(["explain", "run_time", "-"]) == 0
    assert "= 1309.09 s" in capsys.readouterr().out


def test_numbers_of_a_working_are_said_in_the_terminals_language(given, capsys, monkeypatch):
    monkeypatch.setenv("LC_ALL", "es_US.UTF-8")
    facts = {"axles": 1, "tire_made@1L": "2520"}
    given({"check": "walkaround", "date": "2026-07-14", "facts": facts})
    assert main(["explain", "tire_age@1L", "-"]) == 0
    assert "= 6.04517 a 6.0616 años " in capsys.readouterr().out.splitlines()[-1]


def test_a_working_is_in_the_terminals_language_but_for_its_sources(given, capsys, monkeypatch):
    """What files call a limit stands behind its word, so that it can be looked up there."""
    monkeypatch.setenv("LC_ALL", "es_US.UTF-8")
    given(STOP)
    assert main(["explain", "extra_drag@1L", "-"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) > 100
    assert any(line.startswith("Límite hubs.cooling_time = 16.3 a 44.6 min   [") for line in lines)
    own = [re.sub(r"^Límite \S+|\[[^\[]*; ", "", line) for line in lines]
    assert english_of(own, "es") == []
    ids = {name for name in load().facts | load().quantities if "_" in name}
    asked = re.compile("|".join(rf"\b{name.replace('_', '[_ ]')}\b" for name in ids))
    assert [line for line in own if asked.search(line)] == []


def test_list_has_facts_quantities_limits_and_findings(capsys):
    assert main(["list"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert {"facts", "quantities", "limits", "findings"} <= set(data)
    for limit in data["limits"].values():
        assert limit["unit"]
        assert limit["source"]
        assert limit["standing"]


BAD = [
    ("not json", "-: not JSON at line 1, column 1"),
    (STOP | {"check": "glance"}, "check: 'glance' is not a kind of check; use one of: walkaround"),
    (STOP | {"date": "14 July"}, "date: '14 July' is not a date; write it like 2026-07-14"),
    (STOP | {"facts": []}, "facts: must be an object"),
    (STOP | {"wheels": 2}, "wheels: not known here"),
    (STOP | {"facts": {"air": "warm"}}, "air: 'warm' is not a number; write one like 12"),
    (STOP | {"facts": {"air": 90}}, "air: 90 °C cannot be right here; it must lie within"),
    (STOP | {"facts": {"hub_feel@1L": 3}}, "3 is not an answer here; use one of: cold"),
    (STOP | {"facts": {"hub_feel@9L": "cold"}}, "hub_feel@9L: 'hub_feel' is asked per wheel"),
    (STOP | {"facts": {"pressure@1L": "900 psi"}}, "pressure@1L: "),
    (STOP | {"facts": {"tire_made@1L": "5423"}}, "tire_made@1L: '5423' would be week 54"),
    (STOP | {"facts": {"tire_made@1L": "5026"}}, "which is yet to come"),
    (STOP | {"facts": {"tire_made@1L": 2523}}, "tire_made@1L: 2523 is not a date code"),
    ([], "The input must be an object"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "message"), BAD, ids=[m for _, m in BAD])
def test_wrong_input_ends_with_two_and_says_what_would_be_right(given, capsys, text, message):
    given(text)
    assert main(["judge", "-"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith(message) or message in err
    assert err.count("\n") == 1


@pytest.mark.parametrize(
    ("quantity", "message"),
    [
        ("hub_raise@1L", "hub_raise: there is no such quantity"),
        ("hub_rise", "hub_rise: worked out per wheel; place must be one of ['1R', '1L']"),
        ("hub_rise@3L", "place must be one of"),
    ],
)
def test_wrong_quantity_ends_with_two(given, capsys, quantity, message):
    given(STOP)
    assert main(["explain", quantity, "-"]) == 2
    assert message in capsys.readouterr().err


def test_a_missing_file_ends_with_two(capsys):
    assert main(["judge", "no-such-file.json"]) == 2
    assert "no-such-file.json: cannot be read" in capsys.readouterr().err


def test_faults_of_the_rulebook_are_printed_without_a_traceback(monkeypatch, capsys):
    def faulty() -> None:
        raise RulebookError("limits/a.toml, b: source missing\nwalk.toml, point c: weight missing")

    monkeypatch.setattr("checks.__main__.load", faulty)
    assert main(["list"]) == 2
    assert capsys.readouterr().err.splitlines() == [
        "limits/a.toml, b: source missing",
        "walk.toml, point c: weight missing",
    ]
