"""The working of a quantity: every answer, limit and sum that leads to it, in order.

Branches that the answers rule out are left away, so that what remains can be followed with a pocket
calculator. The twin is ``static/engine/explain.js``.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from checks.facts import BadInput
from checks.formula import Case, Tree, children, compile_tree, mate_of, place_for
from checks.interval import NO, YES, Range
from checks.rulebook import Rulebook
from checks.sources import keyed
from checks.words import FIRST, Words, words
from checks.working import Writer, deciding

Text = Callable[[Range, str], str]


def explain(
    name: str,
    place: str,
    case: Case,
    book: Rulebook,
    text: Text | None = None,
    said: Words | None = None,
) -> list[dict[str, Any]]:
    """Steps that lead to quantity ``name`` at ``place``, the last one its result.

    Each step has kind (fact, limit, quantity), id, place, label, value ``[low, high]`` or the
    choices still possible, text for a person, and unit; facts also answered, limits and quantities
    source (``checks.sources.keyed``) and standing, quantities sum, which is the formula with its
    numbers put in.
    text: a range and its unit as the reader wants them. Raises BadInput for an unknown quantity or
    a place that the trailer does not have.
    """
    if name not in book.quantities:
        raise BadInput("no_quantity", name)
    scope = book.quantities[name].scope
    places = {"trailer": [""], "axle": sorted({w[0] for w in case.wheels}), "wheel": case.wheels}
    if place not in places[scope]:
        raise BadInput("quantity_place", name, scope=scope, places=places[scope])
    steps: dict[tuple[str, str, str], dict[str, Any]] = {}
    _quantity(name, _writer(case, place, book, text, said), steps)
    return list(steps.values())


def decided_by(
    finding: str,
    place: str,
    case: Case,
    book: Rulebook,
    text: Text | None = None,
    said: Words | None = None,
) -> list[str]:
    """The comparisons that make a finding hold at a place, a sentence each; [] where none does."""
    tree = prune(book.findings[finding].when.tree, case, place, book)
    return list(dict.fromkeys(deciding(tree, _writer(case, place, book, text, said))))


def _writer(
    case: Case, place: str, book: Rulebook, text: Text | None, said: Words | None
) -> Writer:
    said = said or words(FIRST)
    return Writer(case, place, book, said, text or said.range_text)


def _quantity(name: str, w: Writer, steps: Any) -> None:
    item = w.book.quantities[name]
    at = place_for(item.scope, w.place)
    key = ("quantity", name, at)
    if key in steps:
        return
    here = replace(w, place=at)
    tree = prune(item.formula.tree, w.case, at, w.book)
    _inputs(tree, here, steps)
    value = w.book.worth(name, w.case, at)
    steps[key] = _step("quantity", name, at, value, item.unit, w.said) | {
        "sum": here.sum(tree),
        "source": keyed(item.source),
        "standing": item.standing,
    }


def prune(tree: Tree, case: Case, place: str, book: Rulebook) -> Tree:
    """The tree without the branches that the answers rule out."""
    if not isinstance(tree, list):
        return tree
    op = tree[0]
    if op == "pick":
        possible = compile_tree(["rank", tree[1]], book.context)(case, place)
        if possible[0] == possible[1]:
            choice = book.context.choices[tree[1]][int(possible[0])]
            return prune(tree[2][choice], case, place, book)
        return [*tree[:2], {k: prune(v, case, place, book) for k, v in tree[2].items()}]
    if op == "if":
        truth = compile_tree(tree[1], book.context)(case, place)
        if truth in (YES, NO):
            return prune(tree[2 if truth == YES else 3], case, place, book)
    if op == "mate":
        return [op, prune(tree[1], case, mate_of(place), book)]
    if op == "each":
        return tree
    return _plain([op, *(prune(t, case, place, book) for t in tree[1:])])


# What a sum may be taken with and stays as it is: on its right, and on either side.
IDLE = {"+": 0, "-": 0, "*": 1, "/": 1}


def _plain(tree: list[Any]) -> Tree:
    """A sum without a written term of nothing or a written factor of one."""
    op = tree[0]
    if op in IDLE and tree[2] == IDLE[op]:
        return tree[1]
    return tree[2] if op in ("+", "*") and tree[1] == IDLE[op] else tree


def _inputs(tree: Tree, w: Writer, steps: Any) -> None:
    if not isinstance(tree, list):
        return
    op = tree[0]
    if op == "quantity":
        _quantity(tree[1], w, steps)
    elif op in ("fact", "is", "rank", "known", "pick"):
        _fact(tree[1], w, steps)
    places = [w.place]
    if op == "mate":
        places = [mate_of(w.place)]
    elif op == "each":
        places = w.case.wheels
    for part in children(tree):
        for at in places:
            _inputs(part, replace(w, place=at), steps)
    if op in ("limit", "table"):
        _limit(tree[1], w, steps)


def _fact(name: str, w: Writer, steps: Any) -> None:
    if name == "today":
        return
    fact = w.book.facts[name]
    at = place_for(fact.scope, w.place)
    value = w.case.facts.get((name, at), fact.whole())
    if fact.kind == "choice":
        names = [c for i, c in enumerate(fact.choices) if value >> i & 1]
        either = f" {w.said.say('working-or')} "
        text = either.join(w.said.say(f"fact-{name}.choice-{c}") for c in names)
        step = _shell("fact", name, at) | {"value": names, "text": text}
    else:
        step = _step("fact", name, at, value, fact.unit, w.said)
    if fact.kind == "made":
        step["text"] = w.dates(value)
    step["answered"] = value != fact.whole()
    if not step["answered"]:
        step["text"] = w.said.say("working-open")
    steps[("fact", name, at)] = step


def _limit(name: str, w: Writer, steps: Any) -> None:
    entry = w.book.data["limits"][name]
    step = _shell("limit", name, "") | {"unit": entry["unit"]}
    value = entry["value"]
    if isinstance(value, list) and isinstance(value[0], list):
        step |= {"value": value, "text": w.said.say("working-table")}
    else:
        ends = value if isinstance(value, list) else [value, value]
        step |= {"value": ends, "text": w.said.range_text((ends[0], ends[1]), entry["unit"])}
    who = {"source": keyed(entry["source"]), "standing": entry["standing"]}
    steps[("limit", name, "")] = step | who


def _shell(kind: str, name: str, place: str) -> dict[str, Any]:
    return {"kind": kind, "id": name, "place": place, "label": label(name)}


def _step(kind: str, name: str, place: str, value: Range, unit: str, said: Words) -> dict[str, Any]:
    return _shell(kind, name, place) | {
        "value": [value[0], value[1]],
        "text": said.range_text(value, unit),
        "unit": unit,
    }


def label(name: str) -> str:
    """An id as words: the part after the dot, underscores as spaces."""
    return name.rpartition(".")[2].replace("_", " ")
