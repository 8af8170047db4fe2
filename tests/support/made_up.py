"""A made-up language: the English words, each about a third longer, every text marked.

What stands on a screen without the mark is no word of the catalogue; what does not fit in it will
not fit in a language with longer words. It is made when it is needed, and never committed.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from fluent.syntax import FluentParser, FluentSerializer, ast

from checks.words import FIRST, HERE

LANGUAGE = "eo"  # a code that browsers and locale data know, for a language nobody speaks here
OPEN, CLOSE = "⟦", "⟧"
WORD = re.compile(r"[^\W\d_]{3,}")
NAME = "Twentymile"  # a name is as long in every language


def longer(text: str) -> str:
    """Every word of three letters or more with its last third said twice."""

    def said(word: str) -> str:
        return word if word == NAME else word + word[-max(1, round(len(word) / 3)) :]

    return WORD.sub(lambda word: said(word[0]), text)


def make(root: Path) -> Path:
    """The language's folder below ``root``, written anew."""
    folder = root / LANGUAGE
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in _files().items():
        (folder / name).write_text(text, "utf-8")
    return folder


@cache
def _files() -> dict[str, str]:
    """What stands in each file, by its name."""
    found = {}
    for path in (HERE / FIRST).glob("*.ftl"):
        resource = FluentParser().parse(path.read_text("utf-8"))
        for entry in resource.body:
            if isinstance(entry, ast.Message | ast.Term):
                for part in (entry, *entry.attributes):
                    _change(part.value)
        found[path.name] = FluentSerializer().serialize(resource)
    return found


def _change(pattern: ast.Pattern | None, mark: bool = True) -> None:
    """Longer words; marks round the whole, or round each case where a choice is all there is.

    A name alone stays as it is.
    """
    if pattern is None or [getattr(one, "value", "") for one in pattern.elements] == [NAME]:
        return
    only = pattern.elements[0] if len(pattern.elements) == 1 else None
    if isinstance(only, ast.Placeable) and isinstance(only.expression, ast.SelectExpression):
        for variant in only.expression.variants:
            _change(variant.value, mark)
        return
    for element in pattern.elements:
        if isinstance(element, ast.TextElement):
            element.value = longer(element.value)
        elif isinstance(element.expression, ast.SelectExpression):
            for variant in element.expression.variants:
                _change(variant.value, mark=False)
    if mark and any(isinstance(one, ast.TextElement) for one in pattern.elements):
        pattern.elements = [ast.TextElement(OPEN), *pattern.elements, ast.TextElement(CLOSE)]
