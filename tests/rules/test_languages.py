"""Every other language says what English says: no words missing, none beside, the same values."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from checks.words import (
    FIRST,
    FOLDERS,
    Words,
    add_folder,
    finished,
    forget,
    languages,
    unlike,
    words,
)
from checks.words.pieces import PLURALS, plural_forms, values_of
from tests.support.effort import few
from tests.support.made_up import LANGUAGE, make


@pytest.fixture
def beside(tmp_path: Path) -> Iterator[Path]:
    """A place for languages that are gone after the test."""
    before = list(FOLDERS)
    add_folder(tmp_path)
    yield tmp_path
    FOLDERS[:] = before
    forget()


@pytest.mark.parametrize("language", [one for one in languages() if one != FIRST])
def test_every_language_here_is_whole(language: str) -> None:
    assert unlike(language) == ()
    assert language in finished()


@pytest.mark.slow
def test_a_made_up_language_is_whole_longer_and_marked(beside: Path) -> None:
    make(beside)
    assert unlike(LANGUAGE) == ()
    assert LANGUAGE in finished()
    said, first = words(LANGUAGE), words(FIRST)
    assert said.say("level-stop") == "⟦Stopp noww⟧"
    plain = [name for name in first.ids() if not isinstance(first.shape(name)[0], dict)]
    longer = sum(len(str(said.shape(name)[0])) for name in plain)
    assert longer > 1.25 * sum(len(str(first.shape(name)[0])) for name in plain)
    assert said.say("app-unsent-count", count=3) != said.say("app-unsent-count", count=1)


SPOILT = [
    ("words are missing", "app.ftl", "level-stop =", "level-halt =", "level-stop: missing"),
    ("a value is another", "mail.ftl", "{ $reply }", "{ $answer }", "value answer is not in en"),
    ("a value is left out", "mail.ftl", "{ $reply }", "", "text-reply: value reply is missing"),
]


@pytest.mark.slow
@pytest.mark.parametrize(("title", "file", "old", "new", "fault"), few(SPOILT, 2))
def test_an_unfinished_language_is_not_offered_and_says_why(
    beside: Path, title: str, file: str, old: str, new: str, fault: str
) -> None:
    path = make(beside) / file
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")
    assert LANGUAGE not in finished(), title
    assert any(fault in one for one in unlike(LANGUAGE)), unlike(LANGUAGE)


@pytest.mark.slow
def test_until_it_is_finished_the_rest_is_said_in_english(beside: Path) -> None:
    folder = make(beside)
    for path in folder.glob("*.ftl"):
        if path.name != "mail.ftl":
            path.unlink()
    said = words(LANGUAGE)
    assert said.say("level-stop") == "Stop now"
    assert said.say("mail-a-trailer").startswith("⟦")
    assert said.has("level-stop")
    assert set(said.ids()) == set(words(FIRST).ids())
    assert said.export(["level-stop"])["say"] == {"level-stop": "Stop now"}
    # Words of its own may lean on words that are not there yet.
    assert "Stop now" in said.say("mail-subject", trailer="A")


@pytest.mark.parametrize(
    ("language", "forms"),
    [("en", {"one", "other"}), ("es", {"one", "other"}), ("pl", {"one", "few", "many", "other"})],
)
def test_plural_forms_are_those_of_everyday_counts(language: str, forms: set[str]) -> None:
    """Unicode CLDR, plural rules for cardinals."""
    assert plural_forms(language) == forms


# ---- one of a thing -----------------------------------------------------------------------------

# What counts never one, or has behind it no name of a thing that is counted.
NOT_ONE = {
    "app-readiness-plot": "no plot is drawn of fewer than two",
    "road-years-plot": "no plot is drawn of fewer than two",
    "road-years-plot-pressure": "no plot is drawn of fewer than two",
    "road-years-plot-tread": "no plot is drawn of fewer than two",
    "cli-accounts-length": "a limit",
    "cli-accounts-long": "a limit",
    "error-text": "a limit",
    "error-too_bracketed": "a limit",
    "error-too_many_records": "a limit",
    "error-photo-job_full": "a limit",
    "error-photo-too_many_pixels": "a limit",
    "error-undo_late": "a limit",
    "form-password-length": "a limit",
    "form-too-long": "a limit",
    "shop-photos-removed": "a limit",
    "shop-recall-figures": "a limit",
    "shop-recall-figures-help": "a limit",
    "shop-take-many": "a limit, and more than that",
    "error-cut_off": "a record has more bytes than one",
    "error-photo-cut_off": "a photo has more bytes than one",
    "error-too_large_record": "more bytes than a limit",
    "error-too_large_photo": "more bytes than a limit",
}
# Values that are names, or numbers with their unit; any other may count something.
TEXTS = {
    *(
        "shop",
        "name",
        "login",
        "file",
        "folder",
        "option",
        "who",
        "trailer",
        "state",
        "why",
        "label",
    ),
    *(
        "value",
        "amount",
        "short",
        "left",
        "distance",
        "wheel",
        "day",
        "time",
        "given",
        "range",
        "id",
    ),
    "unit",
}
AFTER_ONE = re.compile(r"(?<![\d.,])1 (?!más\b|across\b)[^\W\d_]{2,}s\b")


def ones(said: Words, name: str) -> Iterator[str]:
    """The words with one for each value, and with each case of their choices."""
    shape = said.shape(name)
    plain: dict[str, object] = {one: "…" if one in TEXTS else 1 for one in values_of(shape)}
    yield said.say(name, **plain)
    for value, case in chosen(shape):
        yield said.say(name, **plain | {value: int(case) if case.isdigit() else case})


def chosen(pieces: Iterable[Any]) -> Iterator[tuple[str, str]]:
    for piece in pieces:
        if isinstance(piece, dict) and "select" in piece:
            for case, inner in piece["cases"].items():
                yield from () if case in PLURALS else [(piece["select"], case)]
                yield from chosen(inner)


@cache
def plurals_after_one(language: str) -> dict[str, str]:
    """Words with a bare 1 before what ends in s, and what they say: there the noun is a plural."""
    said = words(language)
    counted = (name for name in said.ids() if values_of(said.shape(name)))
    every = ((name, text) for name in counted for text in ones(said, name))
    return {name: text for name, text in every if AFTER_ONE.search(text)}


@pytest.mark.slow
@pytest.mark.parametrize("language", finished())
def test_one_of_a_thing_is_no_plural(language: str) -> None:
    found = plurals_after_one(language)
    assert {name: text for name, text in found.items() if name not in NOT_ONE} == {}


def test_what_is_told_never_to_count_one_would_be_found() -> None:
    assert set(NOT_ONE) == {name for one in finished() for name in plurals_after_one(one)}
