"""Prints the pages of ``docs/`` that are made from data: ``python docs/generate.py coverage``."""

from __future__ import annotations

import sys
import tomllib
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "docs")]

# the line above makes these findable
from formulas import infix  # noqa: E402

from checks.facts import LONGEST_TEXT, Fact  # noqa: E402
from checks.rulebook import load  # noqa: E402
from checks.units import range_text  # noqa: E402
from checks.words import words  # noqa: E402

say = words("en").say

COVERAGE_HEAD = """# What the walk covers of the yearly federal inspection

49 CFR part 396, Appendix A lists what a yearly inspection of a commercial vehicle looks at. It
binds commercial vehicles only; here it is a yardstick. *Light* says whether an item can occur on a
light trailer. The page is made by `python docs/generate.py coverage` from `checks/coverage.toml`.

| source | item | light | where the walk asks it, or why it does not |
|---|---|---|---|
"""


def read_coverage() -> list[dict[str, Any]]:
    """The items of ``checks/coverage.toml``, in the order of the list."""
    text = (ROOT / "checks" / "coverage.toml").read_text("utf-8")
    items: list[dict[str, Any]] = tomllib.loads(text)["item"]
    return items


def coverage() -> str:
    """The page ``docs/coverage.md``."""
    return COVERAGE_HEAD + "".join(map(_row, read_coverage()))


def _row(item: dict[str, Any]) -> str:
    source = item["source"].removeprefix("49 CFR part 396 ")
    where = ", ".join(f"{say(f'point-{p}')} (`{p}`)" for p in item.get("points", []))
    return f"| {source} | {item['item']} | {item['light']} | {where or item['why_not']} |\n"


FACTS_HEAD = """# What can be answered

The ids that go into a file of answers, for the command line and `POST /api/records`. A fact per
axle is written `id@1`, a fact per wheel `id@1L` (axle from the front, L or R). A number stands in
the unit given, or is text with a unit (`"68 degF"`), or a range `[low, high]`. A choice is one of
the ids listed, or a list of those still possible. `null` is *not sure*. Kinds of check:
`walkaround`, `run_stop`, `quick_stop`, `tires`, `bench`, `figures`. This page is made from the
rulebook.
"""


def facts() -> str:
    """The page ``docs/facts.md``: every fact by station and point, in walking order."""
    book, parts = load(), [FACTS_HEAD]
    seen = set()
    for station in book.stations:
        parts.append(f"\n## {say(f'station-{station.id}')}\n")
        for point in station.points:
            if not point.facts:
                continue
            checks = ", ".join(f"`{c}`" for c in point.checks)
            parts.append(f"\n### {say(f'point-{point.id}')}\n\nAsked in {checks}.\n")
            parts.append("\n| fact | question | per | answer |\n|---|---|---|---|\n")
            for name in point.facts:
                again = " (see above)" if name in seen else ""
                seen.add(name)
                parts.append(_fact_row(name, again))
    return "".join(parts)


def _fact_row(name: str, again: str) -> str:
    fact = load().facts[name]
    ask = say(f"fact-{name}")
    optional = ", optional" if fact.optional else ""
    return f"| `{name}` | {ask}{again} | {fact.scope} | {_answer(fact)}{optional} |\n"


def _answer(fact: Fact) -> str:
    if fact.kind == "choice":
        return ", ".join(f"`{c}`" for c in fact.choices)
    if fact.kind == "made":
        return 'date code as text, such as `"2523"`'
    if fact.kind == "size":
        return 'size as text, such as `"ST205/75R15"`'
    if fact.kind == "text":
        return f"text, up to {LONGEST_TEXT} characters"
    return f"number in `{fact.unit}`, {range_text((fact.low, fact.high), fact.unit)}"


SOURCES_HEAD = """# Where every number comes from

Standing: *read* means that the source's own text was read; *secondary* that another publication
reports it; *computed* that it was worked out here or with the library named; *memory* that it is
recalled and wants confirming; *practice* that it is common practice, without a source. Of the
{all} limits {memory} are from memory and {practice} are practice; each says why no better source
stands there. This page is made from the rulebook.
"""


def sources() -> str:
    """The page ``docs/sources.md``: limits, quantities and findings with source and standing."""
    data = load().data
    counts = Counter(entry["standing"] for entry in data["limits"].values())
    head = SOURCES_HEAD.format(all=counts.total(), **counts)
    parts = [head, "\n## Limits\n\n| limit | value | source | standing | confirmed |\n"]
    parts.append("|---|---|---|---|---|\n")
    for name, entry in data["limits"].items():
        note = f" ({entry['note']})" if entry.get("note") else ""
        note += f". Why no better one: {entry['why']}" if entry.get("why") else ""
        parts.append(
            f"| `{name}` | {_value(entry)} | {entry['source']}{note} | {entry['standing']} "
            f"| {entry['confirmed']} |\n"
        )
    for title in ("quantities", "findings"):
        parts.append(f"\n## {title.capitalize()}\n\n| id | what | source | standing |\n")
        parts.append("|---|---|---|---|\n")
        for name, entry in data[title].items():
            parts.append(
                f"| `{name}` | {_what(title, name)} | {entry['source']} | {entry['standing']} |\n"
            )
    return "".join(parts)


def _value(entry: dict[str, Any]) -> str:
    value, unit = entry["value"], entry["unit"]
    if isinstance(value, list) and isinstance(value[0], list):
        return f"table, {len(value)} rows, {unit}"
    text = f"{value[0]:g} to {value[1]:g}" if isinstance(value, list) else f"{value:g}"
    return f"{text} {unit}"


def _what(title: str, name: str) -> str:
    if title == "findings":
        return f"{say(f'finding-{name}')}: {load().findings[name].level}"
    return (
        f"{say(f'quantity-{name}')}: {infix(load().quantities[name].formula.tree)[:400]}".replace(
            "|", "\\|"
        )
    )


STOPS_ES_HEAD = """# Stop sentences in Spanish, translated twice and back

A warning read in a second language must keep its force. So each *Stop now* sentence, each caution
and each step at the roadside was translated twice, the second time from the English alone, without
sight of the first; then the one that is used was put back into English by a reader who had not seen
the original. Where the versions differed in sense or force, the last column says what was settled.
What was settled was not put back again. Some of the first texts that the second was laid beside
were written by the same hand; where the second and the way back are of that hand too, the row says
so. All of it was done by software, not by a native-speaking mechanic:
have one read it before you rely on it in a shop. This page is made by
`python docs/generate.py stops-es` from `docs/stops-es.toml`; a test asks for a new reading when a
sentence changes.

| id | English | Spanish | second translation | back into English | settled |
|---|---|---|---|---|---|
"""


def read_stops_es() -> dict[str, dict[str, str]]:
    """The sentences of ``docs/stops-es.toml`` by id: ``es``, ``second``, ``back``, ``settled``."""
    return tomllib.loads((ROOT / "docs" / "stops-es.toml").read_text("utf-8"))


def stops_es() -> str:
    """The page ``docs/stops-es.md``: each warning in Spanish, its second version, the way back."""
    rows = (
        (f"`{name}`", say(name), it["es"], it["second"], it["back"], it.get("settled", ""))
        for name, it in read_stops_es().items()
    )
    return STOPS_ES_HEAD + "".join(f"| {' | '.join(row)} |\n" for row in rows)


GLOSSARY_HEAD = """# Trade words in English and Spanish

The Spanish of the product is the trade's own as it is read in the USA and Mexico: one word for each
thing, and the search of the app finds the others. *Found in* names a published Spanish text of an
agency, a law or a driver's manual in which the word was read; the rest is common practice, no
source. No native-speaking mechanic has gone through it yet. The page is made by
`python docs/generate.py glossary-es` from `docs/glossary-es.toml`.

| English | Spanish | also | found in |
|---|---|---|---|
"""


def read_glossary() -> tuple[dict[str, dict[str, Any]], dict[str, dict[str, str]]]:
    """The terms of ``docs/glossary-es.toml``, and the texts they were found in, by their ids."""
    read = tomllib.loads((ROOT / "docs" / "glossary-es.toml").read_text("utf-8"))
    texts = read.pop("source")
    return read, texts


def glossary_es() -> str:
    """The page ``docs/glossary-es.md``."""
    terms, texts = read_glossary()

    def row(it: dict[str, Any]) -> str:
        found = texts[it["found"]]["name"] if "found" in it else "common practice, no source"
        return f"| {it['en']} | {it['es']} | {', '.join(it.get('also', ()))} | {found} |\n"

    listed = "".join(row(it) for it in sorted(terms.values(), key=lambda it: it["en"].casefold()))
    where = "".join(f"- {it['name']}: <{it['where']}>\n" for it in texts.values())
    return f"{GLOSSARY_HEAD}{listed}\n## Texts\n\n{where}"


PAGES: dict[str, Callable[[], str]] = {
    "coverage": coverage,
    "facts": facts,
    "glossary-es": glossary_es,
    "sources": sources,
    "stops-es": stops_es,
}


def main(arguments: list[str]) -> int:
    if len(arguments) != 1 or arguments[0] not in PAGES:
        print(f"Name one page: {', '.join(PAGES)}.", file=sys.stderr)
        return 2
    print(PAGES[arguments[0]](), end="")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
