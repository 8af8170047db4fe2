"""Every other language says what English says: no words missing, none beside, the same values."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from checks.words import (
    FIRST,
    FOLDERS,
    add_folder,
    finished,
    forget,
    languages,
    unlike,
    words,
)
from checks.words.pieces import plural_forms
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
@pytest.mark.parametrize(("title", "file", "old", "new", "fault"), SPOILT)
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
