"""Every command speaks the language of the terminal, or the one it is told, argparse included."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from checks.__main__ import main as judging
from checks.prompt import PLACES
from checks.words import words
from tests.support.command import Done, run
from tests.support.tongue import english_of
from webapp import __main__ as start
from webapp.commands import accounts, backup, demo, judge_again, mail, move, verify
from webapp.wording import speaking

Main = Callable[[], int | None]
COMMANDS: dict[str, Main] = {
    "checks": judging,
    "accounts": accounts.main,
    "backup": backup.main,
    "demo": demo.main,
    "judge_again": judge_again.main,
    "mail": mail.main,
    "move": move.main,
    "verify": verify.main,
}
# What argparse says by itself, as far as it can be told from a word of a command.
ENGLISH = sorted(text for text in map(str.strip, PLACES) if "%" not in text)
SPANISH = words("es").say


def in_english(done: Done) -> list[str]:
    lines = [" ".join(part.split()) for part in re.split(r"\n\s*\n|  +", done.stdout + done.stderr)]
    left = english_of(lines, "es")
    return left + [one for one in ENGLISH if any(one in line for line in lines)]


@pytest.mark.parametrize("command", COMMANDS)
def test_help_is_in_the_terminals_language(command: str) -> None:
    done = run(COMMANDS[command], "--help", LC_ALL="es_US.UTF-8")
    assert done.returncode == 0
    assert done.stdout.startswith(f"{SPANISH('cli-args-usage')} python -m ")
    assert SPANISH("cli-args-help") in done.stdout
    assert in_english(done) == []


@pytest.mark.parametrize(
    ("command", "below"),
    [
        ("accounts", "add"),
        ("accounts", "password"),
        ("accounts", "codes-off"),
        ("move", "in"),
        ("move", "out"),
        ("checks", "judge"),
        ("checks", "explain"),
    ],
)
def test_help_of_a_part_is_in_the_language_that_was_asked_for(command: str, below: str) -> None:
    done = run(COMMANDS[command], "--language", "es", below, "--help", LC_ALL="en_US.UTF-8")
    assert SPANISH("cli-args-options") in done.stdout
    assert in_english(done) == []


# The command, what is wrong with what stands after it, and the words that say so.
WRONG = [
    ("accounts", "no command at all", (), "cli-args-required", {"names": "ORDEN"}),
    ("accounts", "a login is missing", ("add", "A"), "cli-args-required", {"names": "--login"}),
    ("accounts", "an option without its word", ("add", "A", "--login"), "cli-args-one", {}),
    (
        "accounts",
        "an option there is not",
        ("password", "--login", "a", "--colour", "red"),
        "cli-args-unknown",
        {"names": "--colour red"},
    ),
    ("accounts", "half an option", ("add", "A", "--p", "1"), "cli-args-ambiguous", None),
    ("accounts", "a command there is not", ("remove",), "cli-args-choice", None),
    ("checks", "a language there is not", ("--language", "xx", "list"), "cli-args-choice", None),
    ("checks", "a language without its code", ("list", "--language"), "cli-args-unknown", None),
    ("backup", "nothing is named", (), "cli-backup-which", {}),
    ("backup", "a file and --done", ("a", "--done"), "cli-backup-which", {}),
    ("backup", "a word after --done", ("--done=yes",), "cli-args-none", {"value": "'yes'"}),
    ("verify", "a word it does not know", ("a",), "cli-args-unknown", {"names": "a"}),
    ("move", "a file is missing", ("out",), "cli-args-required", {"names": "ARCHIVO"}),
]


@pytest.mark.parametrize(("command", "why", "given", "name", "values"), WRONG)
def test_a_wrong_command_line_is_told_in_the_terminals_language(
    command: str, why: str, given: tuple[str, ...], name: str, values: dict[str, str] | None
) -> None:
    done = run(COMMANDS[command], *given, LC_ALL="es_MX.UTF-8")
    assert done.returncode == 2, why
    assert done.stderr.startswith(SPANISH("cli-args-usage"))
    if values is not None:
        assert SPANISH(name, **values) in done.stderr
    assert in_english(done) == []


@pytest.mark.slow
@pytest.mark.parametrize(
    ("terminal", "asked", "language"),
    [
        ("es_US.UTF-8", (), "es"),
        ("en_US.UTF-8", (), "en"),
        ("C", (), "en"),
        ("pl_PL.UTF-8", (), "en"),
        ("en_US.UTF-8", ("--language", "es"), "es"),
        ("es_US.UTF-8", ("--language=en",), "en"),
    ],
)
def test_a_command_does_its_work_in_one_language(
    tmp_path: Path, terminal: str, asked: tuple[str, ...], language: str
) -> None:
    data = {"LC_ALL": terminal, "TWENTYMILE_DATA": str(tmp_path)}
    assert run(verify.main, *asked, **data).stdout.splitlines() == [
        words(language).say("cli-verify-records", count=0, differ=0),
        words(language).say("cli-verify-photos", count=0, differ=0),
    ]
    copy = tmp_path / "copy"
    done = run(backup.main, *asked, str(copy), **data)
    assert done.stdout.strip() == words(language).say("cli-backup-made", count=0, file=str(copy))
    done = run(backup.main, *asked, str(copy), **data)
    there = words(language).say("cli-backup-there", path=str(copy))
    assert done.stderr.strip() == words(language).say("cli-backup-none", why=there)


def test_a_bad_setting_is_told_in_the_terminals_language(tmp_path: Path) -> None:
    bad = {"TWENTYMILE_HTTPS": "yes", "TWENTYMILE_DATA": str(tmp_path), "LC_ALL": "es"}
    done = run(verify.main, **bad)
    how = SPANISH("cli-set-switch")
    wanted = SPANISH("cli-set", name="TWENTYMILE_HTTPS", value="'yes'", how=how)
    assert done.stderr.strip() == wanted
    assert run(start.main, **bad, PORT="high").stderr.strip() == SPANISH(
        "cli-start-port", port="'high'"
    )


def test_the_start_says_where_it_is_in_the_terminals_language() -> None:
    with speaking("es"):
        told = start.announcement("0.0.0.0", "8020", "data")
    assert SPANISH("cli-start-https") in told
    assert english_of(told.splitlines(), "es") == []


def test_what_argparse_says_in_english_would_be_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(vars(argparse), "_", str)
    left = in_english(Done(0, argparse.ArgumentParser(prog="plain").format_help(), ""))
    assert {"options:", "show this help message and exit"} <= set(left)
