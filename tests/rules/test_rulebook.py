"""The loader names every fault of the rulebook's files at once, each with file and entry."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from checks.rulebook import load
from tests.support.effort import some

ROOT = Path(__file__).resolve().parents[2]

# A newcomer's rule, in the four files that it takes: what is added to each, at its end.
RULE = {
    "trade/dust.py": """
from checks.facts import number
from checks.formula import fact, high, limit
from checks.rules import Finding

FACTS = [number("dust", "mm", 0, 50, us="in", metric="mm")]
FINDINGS = [
    Finding("dusty", "dust_cap", "look", fact("dust") > limit("dust.most"), "Made up", "practice")
]
""",
    "limits/dust.toml": """
[most]
value = 5
unit = "mm"
source = "Made up"
standing = "practice"
confirmed = 2026-07-14
why = "Nobody weighs dust"
""",
    "words/en/dust.ftl": """
fact-dust = Dust on the cap?
finding-dusty = Dusty cap
    .do = Wipe it.
    .why = Dust hides a leak.
point-dust_cap = Dust cap
station-dust = At the caps
""",
    "walk.toml": """
[[station]]
id = "dust"

[[station.point]]
id = "dust_cap"
scope = "trailer"
checks = ["tires"]
facts = ["dust"]
weight = 1
""",
}


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """The rulebook's folder, to be spoiled."""
    shutil.copytree(
        ROOT / "checks", tmp_path / "checks", ignore=shutil.ignore_patterns("__pycache__")
    )
    return tmp_path / "checks"


def listed(copy: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-B", "-m", "checks", "list"],
        cwd=copy.parent,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


def faults(copy: Path) -> list[str]:
    done = listed(copy)
    assert done.returncode == 2, done.stdout[-300:] + done.stderr
    return done.stderr.splitlines()


def add_rule(copy: Path, without: str = "") -> None:
    for name, text in RULE.items():
        if name != without:
            with (copy / name).open("a", encoding="utf-8") as file:
                file.write(text)


def spoil(copy: Path, name: str, old: str, new: str) -> None:
    path = copy / name
    text = path.read_text("utf-8")
    assert old in text, f"{old!r} is not in {name}"
    path.write_text(text.replace(old, new, 1), "utf-8")


PROOF = '[[proof]]\nplace = "hitch"\nzone = "roof"\nfact = "latch"'

MADE_UP = '"Made up", "practice"'
UNTOLD = 'practice"\nconfirmed = 2026-07-14\nwhy'

# The file of the newcomer's rule that is changed, what in it, and what is then said of it.
FAULTS = {
    "a fact that no point asks": (
        *("walk.toml", 'facts = ["dust"]', "facts = []"),
        "trade/dust.py, fact dust: no point asks it; name it in walk.toml",
    ),
    "a proof of a zone that is not there": (
        *("walk.toml", "[[station]]", f"{PROOF}\n[[station]]"),
        "walk.toml, proof hitch.roof: no drawing has it",
    ),
    "a finding that no point shows": (
        *("trade/dust.py", '"dust_cap"', '"dust_top"'),
        "trade/dust.py, finding dusty: no point shows it; walk.toml has no point 'dust_top'",
    ),
    "words that nobody uses": (
        *("words/en/dust.ftl", "fact-dust =", "fact-rust = Rust?\nfact-dust ="),
        "words/en/dust.ftl, fact-rust: nobody uses it; name it in FACTS of trade/dust.py, or take",
    ),
    "an attribute that nobody uses": (
        *("words/en/dust.ftl", "    .do =", "    .then = Rest.\n    .do ="),
        "words/en/dust.ftl, finding-dusty.then: nobody uses it",
    ),
    "words with a value that nobody gives": (
        *("words/en/dust.ftl", "Wipe it.", "Wipe it { $times } times."),
        "words/en/dust.ftl, finding-dusty.do: nobody gives it times; say it without",
    ),
    "a finding that is a number": (
        *("trade/dust.py", 'fact("dust") >', 'fact("dust") +'),
        "trade/dust.py, finding dusty: comes to a number: compare it with something",
    ),
    "an alarm that is a number": (
        *("trade/dust.py", MADE_UP, f'{MADE_UP}, alarm=fact("dust"), card="dusty"'),
        "trade/dust.py, finding dusty: alarm: comes to a number: compare it with something",
    ),
    "an alarm that asks what nobody asks": (
        *("trade/dust.py", MADE_UP, f'{MADE_UP}, alarm=fact("mud") > 1, card="dusty"'),
        "trade/dust.py, finding dusty: alarm: unknown fact 'mud'",
    ),
    "what makes it moot is a number": (
        *("trade/dust.py", MADE_UP, f'{MADE_UP}, moot=fact("dust")'),
        "trade/dust.py, finding dusty: moot: comes to a number: compare it with something",
    ),
    "an alarm without a card": (
        *("trade/dust.py", MADE_UP, f'{MADE_UP}, alarm=fact("dust") > 1'),
        "trade/dust.py, finding dusty: alarm: no card ''",
    ),
    "a question without words": (
        *("words/en/dust.ftl", "fact-dust = Dust on the cap?\n", ""),
        "words/en/dust.ftl, fact-dust: missing; fact dust needs it",
    ),
    "a finding that says not what to do": (
        *("words/en/dust.ftl", "    .do = Wipe it.\n", ""),
        "words/en/dust.ftl, finding-dusty.do: missing; finding dusty needs it",
    ),
    "a point without words": (
        *("words/en/dust.ftl", "point-dust_cap = Dust cap\n", ""),
        "words/en/dust.ftl, point-dust_cap: missing; point dust_cap needs it",
    ),
    "a station without words": (
        *("words/en/dust.ftl", "station-dust = At the caps\n", ""),
        "words/en/dust.ftl, station-dust: missing; station dust needs it",
    ),
    "words of a point that is not there": (
        *("words/en/dust.ftl", "fact-dust =", "point-rust = Rust\nfact-dust ="),
        "words/en/dust.ftl, point-rust: nobody uses it; walk.toml has no point 'rust'",
    ),
    "words that stand twice": (
        *("words/en/dust.ftl", "fact-dust =", "fact-axles = How many?\nfact-dust ="),
        "words/en/trailer.ftl, fact-axles: stands in en/dust.ftl too",
    ),
    "words that are no Fluent": (
        *("words/en/dust.ftl", "station-dust =", "{ broken\nstation-dust ="),
        "words/en/dust.ftl, line ",
    ),
    "words that name others which are missing": (
        *("words/en/dust.ftl", "= Wipe it.", "= { wipe-it }"),
        "words/en/dust.ftl, finding-dusty.do: names wipe-it, which is missing",
    ),
    "a choice that is offered only to some, and is none": (
        *("trade/dust.py", 'metric="mm")', 'metric="mm", only={"much": fact("axles") > 1})'),
        "trade/dust.py, fact dust: has no choice 'much'",
    ),
    "a limit that is missing": (
        *("trade/dust.py", '"dust.most"', '"dust.least"'),
        "trade/dust.py, finding dusty: unknown limit 'dust.least'; "
        "give it in limits/dust.toml as [least]",
    ),
    "a limit that is no number": (
        *("limits/dust.toml", "value = 5", 'value = "much"'),
        "limits/dust.toml, most: value must be a number, or a list of numbers",
    ),
    "a limit without a source": (
        *("limits/dust.toml", 'source = "Made up"\n', ""),
        "limits/dust.toml, most: source missing",
    ),
    "a limit from practice that does not say why": (
        *("limits/dust.toml", 'why = "Nobody weighs dust"\n', ""),
        "limits/dust.toml, most: why missing",
    ),
    "a limit from memory that does not say why": (
        *("limits/dust.toml", UNTOLD, UNTOLD.replace("practice", "memory").replace("why", "note")),
        "limits/dust.toml, most: why missing",
    ),
    "a limit with an empty source": (
        *("limits/dust.toml", '"Made up"', '" "'),
        "limits/dust.toml, most: source is empty",
    ),
    "a limit of an unknown unit": (
        *("limits/dust.toml", '"mm"', '"furlong"'),
        "limits/dust.toml, most: unit 'furlong' is not in units.toml",
    ),
    "a limit of an unknown standing": (
        *("limits/dust.toml", '"practice"', '"hearsay"'),
        "limits/dust.toml, most: standing must be one of read, secondary, computed",
    ),
    "limits that are no TOML": (
        *("limits/dust.toml", "value = 5", "value = "),
        "limits/dust.toml: is not TOML",
    ),
    "a finding without a source": (
        *("trade/dust.py", '"Made up"', '""'),
        "trade/dust.py, finding dusty: has no source",
    ),
    "a finding of an unknown level": (
        *("trade/dust.py", '"look"', '"nothing"'),
        "trade/dust.py, finding dusty: level must be one of stop, mend, look",
    ),
    "a finding beneath one that there is not": (
        *("trade/dust.py", '"practice")', '"practice", beneath="mud")'),
        "trade/dust.py, finding dusty: beneath unknown finding 'mud'",
    ),
    "a finding that shows what there is not": (
        *("trade/dust.py", '"practice")', '"practice", shows=("mud",))'),
        "trade/dust.py, finding dusty: shows unknown quantity 'mud'",
    ),
    "a caution without words": (
        *("trade/dust.py", '"practice")', '"practice", ("sneeze",))'),
        "words/en/dust.ftl, caution-sneeze: missing; finding dusty needs it",
    ),
    "a finding that a further answer could undo": (
        *("trade/dust.py", 'fact("dust") >', 'high(fact("dust")) >'),
        "trade/dust.py, finding dusty: 'high' stands over a fact",
    ),
    "a fact of an unknown unit": (
        *("trade/dust.py", '"dust", "mm"', '"dust", "furlong"'),
        "trade/dust.py",
    ),
    "an id given twice": (
        *("trade/dust.py", 'number("dust"', 'number("axles"'),
        "trade/trailer.py, fact axles: stands in trade/dust.py too",
    ),
    "a trade file that is no Python": (
        *("trade/dust.py", "FACTS = [", "FACTS = [["),
        "trade/dust.py: cannot be read (SyntaxError",
    ),
    "a danger that is no finding": (
        *("walk.toml", '["has_flames"],', '["has_flame"],'),
        "walk.toml, danger: unknown finding 'has_flame'",
    ),
    "a finding in two dangers": (
        *("walk.toml", '["has_flames"],', '["has_flames", "has_smoke"],'),
        "walk.toml, danger: has_smoke stands there twice",
    ),
    "a point with a key too many": (
        *("walk.toml", 'id = "dust_cap"', 'id = "dust_cap"\ncolour = "red"'),
        "walk.toml, point dust_cap: unknown key colour",
    ),
    "a point without a weight": (
        *("walk.toml", 'facts = ["dust"]\nweight = 1', 'facts = ["dust"]'),
        "walk.toml, point dust_cap: weight missing",
    ),
    "a point of an unknown kind of check": (
        *("walk.toml", '["tires"]\nfacts = ["dust"]', '["tyres"]\nfacts = ["dust"]'),
        "walk.toml, point dust_cap: unknown check 'tyres'; must be one of walkaround, run_stop",
    ),
    "a point that asks what there is not": (
        *("walk.toml", 'facts = ["dust"]', 'facts = ["dust", "mud"]'),
        "walk.toml, point dust_cap: unknown fact 'mud'; no file of trade has it in FACTS",
    ),
    "a point that applies by what there is not": (
        *("walk.toml", 'facts = ["dust"]', 'facts = ["dust"]\napplies = { boat = ["maybe"] }'),
        "walk.toml, point dust_cap: applies: fact 'boat' has no choice 'maybe'",
    ),
}  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("case", some(FAULTS, 5))
def test_a_fault_is_named_with_file_and_entry(copy, case):
    name, old, new, told = FAULTS[case]
    add_rule(copy)
    spoil(copy, name, old, new)
    assert [line for line in faults(copy) if line.startswith(told)]


# What is left out, and what is then said.
LEFT_OUT = {
    "limits/dust.toml": "trade/dust.py, finding dusty: unknown limit 'dust.most'; "
    "give it in limits/dust.toml as [most]",
    "words/en/dust.ftl": "words/en/dust.ftl, fact-dust: missing; fact dust needs it",
    "walk.toml": "trade/dust.py, fact dust: no point asks it; name it in walk.toml",
    "trade/dust.py": "walk.toml, point dust_cap: unknown fact 'dust'; "
    "no file of trade has it in FACTS",
}


@pytest.mark.slow
@pytest.mark.parametrize("name", LEFT_OUT)
def test_a_file_of_the_rule_left_out_is_named(copy, name):
    add_rule(copy, without=name)
    assert LEFT_OUT[name] in faults(copy)


@pytest.mark.slow
def test_a_newcomers_rule_loads_from_four_files_and_is_told_what_its_second_language_lacks(copy):
    add_rule(copy)
    done = listed(copy)
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["findings"]["dusty"]["point"] == "dust_cap"
    assert done.stderr.startswith("es is not offered until these 6 entries are put right")
    assert "words/es/dust.ftl, finding-dusty.do: missing" in done.stderr.splitlines()


@pytest.mark.slow
def test_all_faults_are_told_at_once_and_each_once(copy):
    add_rule(copy)
    spoil(copy, "limits/dust.toml", 'source = "Made up"\n', "")
    for case in ("a limit that is missing", "a finding without a source", "words that nobody uses"):
        spoil(copy, *FAULTS[case][:3])
    told = faults(copy)
    assert len(told) == 4
    assert len(set(told)) == 4


@pytest.mark.long
def test_one_space_in_a_word_changes_no_rules(copy):
    before = json.loads(listed(copy).stdout)["hashes"]
    spoil(copy, "words/en/app.ftl", "Stop now", "Stop  now")
    assert (
        json.loads(listed(copy).stdout)["hashes"]
        == before
        == {name: part["hash"] for name, part in load().parts.items()}
    )
