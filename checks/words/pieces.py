"""Fluent patterns as the few pieces that the phone says: text, a value, a choice of cases."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Any

from babel import Locale
from fluent.syntax import ast


class Unsaid(ValueError):
    """A pattern that holds more than the phone can say."""


def pieces(pattern: ast.Pattern, others: Mapping[str, ast.Pattern]) -> list[Any]:
    """``pattern`` as a list of text, ``{"value"}`` and ``{"select", "cases"}``.

    Words that it names are put in their place; ``others`` are all of the language. Neighbouring
    texts are one. Raises Unsaid where it holds anything else.
    """
    made: list[Any] = []
    for element in pattern.elements:
        inner = element.expression if isinstance(element, ast.Placeable) else element
        for piece in _pieces(inner, others):
            if isinstance(piece, str) and made and isinstance(made[-1], str):
                made[-1] += piece
            else:
                made.append(piece)
    return made


def _pieces(element: Any, others: Mapping[str, ast.Pattern]) -> list[Any]:
    if isinstance(element, ast.TextElement | ast.StringLiteral | ast.NumberLiteral):
        return [element.value]
    if isinstance(element, ast.Placeable):
        return _pieces(element.expression, others)
    if isinstance(element, ast.VariableReference):
        return [{"value": element.id.name}]
    if isinstance(element, ast.MessageReference | ast.TermReference):
        return pieces(_named(element, others), others)
    if isinstance(element, ast.SelectExpression):
        return [_select(element, others)]
    raise Unsaid(f"{type(element).__name__} is not used here")


def _named(
    element: ast.MessageReference | ast.TermReference, others: Mapping[str, ast.Pattern]
) -> ast.Pattern:
    name = f"-{element.id.name}" if isinstance(element, ast.TermReference) else element.id.name
    if element.attribute:
        name += f".{element.attribute.name}"
    if name not in others:
        raise Unsaid(f"names {name}, which is missing")
    return others[name]


def _select(element: ast.SelectExpression, others: Mapping[str, ast.Pattern]) -> dict[str, Any]:
    if not isinstance(element.selector, ast.VariableReference):
        raise Unsaid("a choice stands on a value, such as $count")
    cases: dict[str, Any] = {}
    for variant in element.variants:
        key = variant.key
        name = key.name if isinstance(key, ast.Identifier) else key.value
        cases["other" if variant.default else str(name)] = pieces(variant.value, others)
    return {"select": element.selector.id.name, "cases": cases}


# ---- what a sentence rests on -----------------------------------------------------------------

PLURALS = frozenset({"zero", "one", "two", "few", "many", "other"})


@cache
def plural_forms(language: str) -> set[str]:
    """The plural forms that counts of everyday size take in a language (Unicode CLDR).

    What only millions or fractions take (``many`` in Spanish) is left to ``other``.
    """
    rule = Locale.parse(language, sep="-").plural_form
    return {str(rule(count)) for count in range(1000)} | {"other"}


def values_of(said: Iterable[Any]) -> set[str]:
    """Names of all values in pieces, those that a choice stands on too."""
    return {name for kind in ("value", "select") for name in _names(said, kind)}


def cases_of(said: Iterable[Any]) -> Iterator[set[str]]:
    """The cases of each choice in pieces."""
    for piece in said:
        if isinstance(piece, dict) and "select" in piece:
            yield set(piece["cases"])
            for inner in piece["cases"].values():
                yield from cases_of(inner)


def _names(said: Iterable[Any], kind: str) -> Iterator[str]:
    for piece in said:
        if not isinstance(piece, dict):
            continue
        if kind in piece:
            yield piece[kind]
        for inner in piece.get("cases", {}).values():
            yield from _names(inner, kind)
