"""The pages on security and faults name tests that exist; no requirement of the yardstick is left
out."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "security.md").read_text("utf-8")
FAULTS = (ROOT / "docs" / "faults.md").read_text("utf-8")

# Requirements of levels 1 and 2 of the OWASP Application Security Verification Standard 5.0.0,
# by their numbers in its table of requirements (read).
ASKED = """
1.1.1-2 1.2.1-9 1.3.1-11 1.4.1-3 1.5.1-2 2.1.1-3 2.2.1-3 2.3.1-4 2.4.1 3.2.1-2 3.3.1-4 3.4.1-6
3.5.1-5 3.7.1-2 4.1.1-3 4.2.1 4.3.1-2 4.4.1-4 5.1.1 5.2.1-3 5.3.1-2 5.4.1-3 6.1.1-3 6.2.1-12
6.3.1-4 6.4.1-4 6.5.1-5 6.6.1-3 6.8.1-4 7.1.1-3 7.2.1-4 7.3.1-2 7.4.1-5 7.5.1-2 7.6.1-2 8.1.1-2
8.2.1-3 8.3.1 8.4.1 9.1.1-3 9.2.1-4 10.1.1-2 10.2.1-2 10.3.1-4 10.4.1-11 10.5.1-5 10.6.1-2
10.7.1-3 11.1.1-2 11.2.1-3 11.3.1-3 11.4.1-4 11.5.1 11.6.1 12.1.1-3 12.2.1-2 12.3.1-4 13.1.1
13.2.1-5 13.3.1-2 13.4.1-5 14.1.1-2 14.2.1-4 14.3.1-3 15.1.1-3 15.2.1-3 15.3.1-7 16.1.1 16.2.1-5
16.3.1-4 16.4.1-3 16.5.1-3 17.1.1 17.2.1-4 17.3.1-2
"""
ROW = re.compile(r"^\| ([\d., -]+) \| (.+) \| (.+) \|$", re.MULTILINE)


def spread(text: str) -> Iterator[str]:
    """``1.2.6-8, 1.4.1`` as single numbers."""
    for span in re.split(r"[,\s]+", text.strip()):
        section, first, last = re.fullmatch(r"(\d+\.\d+)\.(\d+)(?:-(\d+))?", span).groups()
        yield from (f"{section}.{n}" for n in range(int(first), int(last or first) + 1))


def test_each_requirement_of_the_yardstick_is_answered_once():
    answered = [number for row in ROW.finditer(PAGE) for number in spread(row[1])]
    assert sorted(answered) == sorted(set(answered))
    assert set(answered) == set(spread(ASKED))


@pytest.mark.parametrize("page", [PAGE, FAULTS], ids=["security", "faults"])
def test_each_test_that_is_named_is_there(page):
    there = {
        name
        for path in (ROOT / "tests").rglob("test_*.py")
        for name in re.findall(r"^def (test_\w+)", path.read_text("utf-8"), re.MULTILINE)
    }
    named = set(re.findall(r"`(test_\w+)`", page))
    assert len(named) > 40
    assert named - there == set()


# What makes code of text, or a page of it.
RUNS = re.compile(
    r"\beval\(|\bnew Function\(|\.(inner|outer)HTML\b|insertAdjacentHTML|document\.write"
    r"|set(Timeout|Interval)\(\s*[\"'`]"
)


@pytest.mark.parametrize(
    ("line", "seen"),
    [
        ("box.innerHTML = name;", True),
        ("setTimeout('go()', 5);", True),
        ("setTimeout(go, 5);", False),
        ("box.textContent = name;", False),
    ],
)
def test_what_runs_text_is_seen(line, seen):
    assert bool(RUNS.search(line)) is seen


def test_no_script_runs_text():
    met = [
        f"{path.relative_to(ROOT)}: {found[0]}"
        for path in sorted((ROOT / "static").rglob("*.js"))
        for found in RUNS.finditer(path.read_text("utf-8"))
    ]
    assert met == []
