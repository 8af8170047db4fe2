"""No sentence stands in the server's Python or in its templates: all are words of the catalogue."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from checks.words import words

ROOT = Path(__file__).resolve().parents[2]
TEMPLATES = sorted((ROOT / "webapp" / "templates").rglob("*.html"))
PROMPTS = [ROOT / "checks" / name for name in ("__main__.py", "prompt.py")]
SOURCES = [p for p in sorted((ROOT / "webapp").rglob("*.py")) if "migrations" not in p.parts]
# The made-up shops of the demo are data; the other is a table of names of files.
LEFT_OUT = ("commands/demo_shops.py", "app_files/fetched.py")
# Said to whoever writes the code, or to another program.
PROGRAMS = {
    "a stored time needs its offset",
    "a time needs its offset",
    "an object names a field twice",
    " is not a JSON number",
    "the database does not answer",
    "database does not answer",
    "Permission denied",
    "unable to open",
    "the shop has no email address",
    "img-src 'self' blob:",
}
# Two words of small letters, or one word that ends a sentence.
SENTENCE = re.compile(r"[A-Za-z][a-z']+ [a-z]{2,}|[A-Z][a-z]+ [a-z]|[a-z]{3,}[.?!](\s|$)")
CODE = re.compile(r"[<>{}=]|python -m |\bid\b|^[\w.]*\w$|SELECT |; ")
# Names of things, the same in every language.
CLASSES = {"answer main", "plain noprint", "answer call", "answer call noprint"}
NAMES = {"Twentymile", "SHA-256", "PDF", "CSV"}


def texts(source: str) -> Iterator[str]:
    """The string literals of Python that are no docstring, no log line and no type."""
    tree = ast.parse(source)
    left = {id(node) for one in ast.walk(tree) for node in unsaid(one)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in left:
            yield node.value


def unsaid(node: ast.AST) -> Iterator[ast.AST]:
    """What stands below a docstring, a call of the log, or an assertion."""
    if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef) and node.body:
        first = node.body[0]
        if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
            yield first.value
    if isinstance(node, ast.Call) and re.search(r"\blog(ger)?\b|logging", ast.unparse(node.func)):
        yield from ast.walk(node)
    if isinstance(node, ast.AnnAssign):
        yield from ast.walk(node.annotation)


def sentences(source: str) -> list[str]:
    return [
        text
        for text in texts(source)
        if SENTENCE.search(text) and not CODE.search(text) and text not in PROGRAMS
    ]


QUOTED = r"""(["'])(.*?)\1"""
SHOWN = r"\b(?:alt|aria-label|placeholder|title)="
BEHIND = r"\b(?:value|data-[\w-]+)="  # of these only what looks like words


def letters(template: str) -> list[str]:
    """Text of a template outside Jinja and tags, and its literals inside that look like words."""
    bare = re.sub(r"{#.*?#}", " ", template, flags=re.S)
    inside = re.findall(r"{[{%](.*?)[%}]}", bare, re.S)
    bare = re.sub(r"{[{%].*?[%}]}", " ", bare, flags=re.S)
    shown = [text for _, text in re.findall(SHOWN + QUOTED, bare)]
    behind = [text for _, text in re.findall(BEHIND + QUOTED, bare)]
    bare = re.sub(r"<[^>]*>", " | ", bare)
    literals = [text for part in inside for _, text in re.findall(QUOTED, part)] + behind
    found = [
        *bare.split("|"),
        *shown,
        *(t for t in literals if SENTENCE.search(t) and t not in CLASSES),
    ]
    return [t.strip() for t in found if re.search(r"[A-Za-z]{2}", t) and t.strip() not in NAMES]


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.name)
def test_no_template_holds_words(path: Path) -> None:
    assert [t for t in letters(path.read_text("utf-8")) if t not in ALLOWED] == []


# The mark on a sign, drawn like its shape; the name behind a page's own title.
ALLOWED = {"STOP", "· Twentymile"}


@pytest.mark.parametrize(
    "path",
    [p for p in SOURCES if not p.relative_to(ROOT / "webapp").as_posix().startswith(LEFT_OUT)],
    ids=lambda path: path.relative_to(ROOT / "webapp").as_posix(),
)
def test_no_module_holds_a_sentence(path: Path) -> None:
    assert sentences(path.read_text("utf-8")) == []


USED = re.compile(
    r"""["'](?:shop|form|print|mail|text|calendar|cli)-[\w-]+(?:\.[\w-]+)?(?:["']|(?={))"""
)


def test_every_word_of_the_pages_is_said_somewhere_and_every_word_said_is_there() -> None:
    code = "\n".join(path.read_text("utf-8") for path in [*SOURCES, *PROMPTS, *TEMPLATES])
    said = {text.strip("\"'") for text in USED.findall(code)}
    stems = {name for name in said if name.endswith("-")}  # the rest of the name is a value
    known = words("en").ids()
    assert sorted(name for name in said - stems if name not in known) == []
    ours = [n for n in known if USED.match(f'"{n}"')]
    assert [n for n in ours if n not in said and not any(n.startswith(s) for s in stems)] == []


@pytest.mark.parametrize(
    ("why", "source", "found"),
    [
        ("a message", 'flash("The link is gone.")', 1),
        ("one word with a period", 'flash("Saved.")', 1),
        ("a part of a sentence in braces", 'f"by {day} at the latest"', 1),
        ("a docstring", '"""The link is gone."""', 0),
        ("a line for the log", 'log.error("The link is gone.")', 0),
        ("a name of words", 'say("shop-saved")', 0),
        ("a header", '{"Cache-Control": "no-store"}', 0),
    ],
)
def test_a_sentence_in_python_is_found(why: str, source: str, found: int) -> None:
    assert len(sentences(source)) == found, why


@pytest.mark.parametrize(
    ("why", "template", "found"),
    [
        ("text", "<p>Saved.</p>", 1),
        ("text beside an expression", "<p>{{ n }} trailers</p>", 1),
        ("text in an attribute that is read out", '<img alt="A hub">', 1),
        ("a literal in an expression", '{{ x or "no trailer" }}', 1),
        ("a literal in single quotes", "{{ x or 'no trailer' }}", 1),
        ("an attribute in single quotes", "<img alt='A hub'>", 1),
        ("what a button says", '<input type="submit" value="Save it now">', 1),
        ("what a script says later", '<p data-told="It was saved">{{ x }}</p>', 1),
        ("a code that is sent", '<input type="hidden" name="answer" value="mended">', 0),
        ("words", '<p>{{ say("shop-saved") }}</p>', 0),
        ("a class", '<p class="note quiet">{{ x }}</p>', 0),
        ("a name", "<strong>Twentymile</strong>", 0),
    ],
)
def test_a_sentence_in_a_template_is_found(why: str, template: str, found: int) -> None:
    assert len(letters(template)) == found, why
