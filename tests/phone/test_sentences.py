"""No sentence stands in the app's scripts, its page or its manifest: all are in the catalogue."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from checks.rulebook.export import PAGES
from checks.words import words
from tests.support.browser import STATIC

# A text in quotes; a template's values are taken out before.
TEXT = re.compile(r'"((?:[^"\\\n]|\\.)*)"|\'((?:[^\'\\\n]|\\.)*)\'|`((?:[^`\\]|\\.)*)`')
# Two words with a blank between them, one of them with a capital, or a sign that ends a sentence.
SENTENCE = re.compile(
    r"^[A-Z][a-z]+$|[A-Z][a-z]+ +\w|\w [A-Z][a-z]+|[a-z] [a-z]+[.!?]|[a-z]{2,}: ?$"
)
# Names that browsers, standards and the app's own errors for its developers give.
NAMES = re.compile(r"^(Content-Type|[A-Z]\w*(Error|Event)|Enter|[A-Z]+:.*|tel:|[A-Z][a-z])$")
# What only a developer reads: the engines' own errors, words that are missing.
FOR_DEVELOPERS = ("engine/", "data/words.js")
THROWN = re.compile(r"throw new (?:TypeError|RangeError)\(|new DOMException\(")


def script_lines(path: Path) -> list[str]:
    text = re.sub(r"/\*.*?\*/", "", path.read_text("utf-8"), flags=re.DOTALL)
    return [re.sub(r"(^|\s)//.*$", "", line) for line in text.splitlines()]


def sentences(path: Path) -> list[str]:
    """Texts in a script that read like words for people."""
    found = []
    for line in script_lines(path):
        if THROWN.search(line):
            continue
        for parts in TEXT.findall(line):
            text = re.sub(r"\$\{[^}]*\}", "", "".join(parts)).strip()
            if SENTENCE.search(text) and not NAMES.match(text):
                found.append(text)
    return found


SCRIPTS = [
    path
    for path in sorted(STATIC.rglob("*.js"))
    if not path.relative_to(STATIC).as_posix().startswith(FOR_DEVELOPERS)
]


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.name)
def test_a_script_holds_no_sentence(path: Path) -> None:
    assert sentences(path) == []


PAGE_FILES = ("index.html", "manifest.webmanifest")


@pytest.mark.parametrize("name", PAGE_FILES)
def test_the_page_and_the_manifest_hold_no_sentence(name: str) -> None:
    text = (STATIC / name).read_text("utf-8")
    assert re.findall(r">[^<{]*[A-Za-z][^<{]*<", text) == []
    written = re.findall(r'(?:name|description|content)"?[=:] ?"([^"{]*)"', text)
    assert [one for one in written if SENTENCE.search(one)] == []


IDS = re.compile(r'\b(?:say|has|bold|told)\(\s*"((?:app|place)-[\w.-]+)"')


def test_every_word_that_a_script_names_is_in_the_catalogue() -> None:
    said = words("en")
    named = {name for path in SCRIPTS for name in IDS.findall(path.read_text("utf-8"))}
    assert len(named) > 200
    assert sorted(name for name in named if not said.has(name)) == []


def test_words_that_the_page_alone_says_do_not_go_to_the_phone_once_more() -> None:
    scripts = "".join(path.read_text("utf-8") for path in SCRIPTS)
    brought = "".join((STATIC / name).read_text("utf-8") for name in PAGE_FILES)
    names = {name.partition(".")[0] for name in re.findall(r"{{ (app-[\w.-]+) }}", brought)}
    assert {name for name in names if not re.search(rf"\b{name}\b(?!-)", scripts)} == set(PAGES)


@pytest.mark.parametrize(
    ("why", "line", "found"),
    [
        ("a sentence", 'h("p", {}, "Nothing was lost.")', ["Nothing was lost."]),
        ("one word on a button", 'button("Back", go)', ["Back"]),
        ("a template", "`Added ${n} trailers.`", ["Added  trailers."]),
        ("classes", 'h("p", { class: "answer main" })', []),
        ("a name of words", 'say("app-back")', []),
        ("a remark", '// "Nothing was lost."', []),
        ("an address", '"/static/screens/link.js"', []),
    ],
)
def test_the_test_above_sees(tmp_path: Path, why: str, line: str, found: list[str]) -> None:
    path = tmp_path / "one.js"
    path.write_text(line)
    assert sentences(path) == found, why
