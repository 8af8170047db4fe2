"""The one catalogue of words, for rules, app, shop, prints, mails and command line.

A folder a language, in it Fluent files (``fluent.syntax``) by subject. Words are named by the id
of a message, or by ``id.attribute``. ``docs/decisions.md`` says why Fluent.
"""

from __future__ import annotations

import hashlib
import os
import re
from collections import ChainMap
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import rfc8785
from babel import Locale
from fluent.runtime import FluentBundle
from fluent.syntax import FluentParser, ast

from checks.interval import Range
from checks.units import ANY, NONE, RangeText, range_text, units, with_label
from checks.words.pieces import (
    PLURALS,
    Unsaid,
    cases_of,
    pieces,
    plural_forms,
    values_of,
)

HERE = Path(__file__).parent
FIRST = "en"  # the language that the others are held against
FOLDERS = [HERE]
LONGEST = 2500  # characters of a value; the library refuses longer ones (MAX_PART_LENGTH)
# Whose dates and numbers a language is written with, where it is not the first its code brings to
# mind: readers here write 1,234.5 in Spanish, too.
REGIONS = {"en": "en-US", "es": "es-US"}
ENDS = {ANY: "app-end-any", NONE: "app-end-none"}
Json = dict[str, Any]


class WordsError(ValueError):
    """Faults in the files of words, one a line, each with file and entry."""


class Words:
    """The words of one language, read from a folder; ``faults`` are what stands wrong in it.

    What is missing in it is said in the words of ``behind``, where there are such.
    """

    def __init__(self, language: str, folder: Path, behind: Words | None = None) -> None:
        self.language = language
        self.behind = behind
        self.faults: list[str] = []
        self.files: dict[str, str] = {}
        self._patterns: dict[str, ast.Pattern] = {}
        self._plain: dict[str, str] = {}
        self._bundle = FluentBundle([region(language)], use_isolating=False)
        self._plural = Locale.parse(language, sep="-").plural_form
        self._resources: list[ast.Resource] = []
        for path in sorted(folder.glob("*.ftl")):
            self._read(f"{language}/{path.name}", path.read_text("utf-8"))
        for resource in behind._resources if behind else ():
            self._bundle.add_resource(resource)  # what stands already is kept
        for name, pattern in self._patterns.items():
            self._check(name, pattern)

    def say(self, name: str, /, **values: Any) -> str:
        """The words ``name``, with ``values`` in their places.

        Raises KeyError naming the words that are missing, or the value that they need.
        """
        if not values and name in self._plain:
            return self._plain[name]
        if name not in self._patterns:
            if self.behind:
                return self.behind.say(name, **values)
            raise KeyError(f"words {name!r} are missing in {self.language}")
        head, _, attribute = name.partition(".")
        message = self._bundle.get_message(head)
        pattern = message.attributes[attribute] if attribute else message.value
        short = {key: clipped(self._own(value)) for key, value in values.items()}
        text, errors = self._bundle.format_pattern(pattern, short)  # type: ignore[arg-type]
        if errors:
            raise KeyError(f"words {name!r}: {errors[0]}")
        return str(text)

    def _own(self, value: Any) -> Any:
        """A range of the rules in this language's words."""
        return self._range(value) if isinstance(value, RangeText) else value

    def range_text(self, value: Range, unit: str) -> str:
        """A range with its unit in this language: ``60 a 80 °F``."""
        return self._range(range_text(value, unit))

    def _range(self, span: RangeText) -> str:
        low, high = (self.say(ENDS[end]) if end in ENDS else end for end in (span.low, span.high))
        both = low if low == high else self.say("app-from-to", **{"from": low, "to": high})
        return with_label(both, self.unit(span.unit, high))

    def with_unit(self, number: str, unit: str) -> str:
        """The text of a number with its unit in this language."""
        return with_label(number, self.unit(unit, number))

    def unit(self, name: str, number: str = "") -> str:
        """What stands after a number: words where there are such, or the same sign everywhere.

        number: its text, by which a word has its plural form. One with decimals takes ``other``,
        unless a case names it: ``1.0 years``, but ``1.0 año`` (Unicode CLDR).
        """
        own = f"unit-{name}"
        if not self.has(own):
            return str(units()[name]["label"])
        (said,) = self.shape(own)
        if isinstance(said, str):
            return said
        cases = said["cases"]
        whole = re.fullmatch(r"-?\d+", number) is not None
        form = str(self._plural(int(number))) if whole else "other"
        return str(cases.get(number, cases.get(form, cases["other"]))[0])

    def has(self, name: str) -> bool:
        return name in self._patterns or (self.behind is not None and self.behind.has(name))

    def ids(self) -> list[str]:
        """Every name that can be said, attributes as ``id.attribute``."""
        return list(dict.fromkeys((*(self.behind.ids() if self.behind else ()), *self._patterns)))

    def own_ids(self) -> list[str]:
        """The names that this language has words of its own for."""
        return list(self._patterns)

    def file_of(self, name: str) -> str:
        """``LANGUAGE/FILE`` where the words ``name`` stand."""
        head = name.partition(".")[0]
        if head not in self.files and self.behind:
            return self.behind.file_of(head)
        return self.files[head]

    def shape(self, name: str) -> list[Any]:
        """The words ``name`` as pieces: text, values, cases."""
        return self._pieces(name)

    def export(self, names: Iterable[str]) -> Json:
        """The words ``names`` as the phone reads them, with a hash over all else in it."""
        said = {name: self._exported(name) for name in sorted(names)}
        data: Json = {"language": self.language, "say": said}
        return data | {"hash": hashlib.sha256(rfc8785.dumps(data)).hexdigest()}

    def _exported(self, name: str) -> str | list[Any]:
        if name not in self._patterns and self.behind:
            return self.behind._exported(name)
        return self._plain.get(name) or self._pieces(name)

    def _pieces(self, name: str) -> list[Any]:
        return pieces(self._patterns[name], self._all())

    def _all(self) -> Mapping[str, ast.Pattern]:
        return ChainMap(self._patterns, self.behind._patterns if self.behind else {})

    def _read(self, file: str, text: str) -> None:
        resource = FluentParser().parse(text)
        for entry in resource.body:
            if isinstance(entry, ast.Junk):
                line = text.count("\n", 0, entry.span.start if entry.span else 0) + 1
                told = entry.annotations[0].message if entry.annotations else "cannot be read"
                self.faults.append(f"{file}, line {line}: {told}")
            elif isinstance(entry, ast.Message | ast.Term):
                self._take(file, entry)
        self._resources.append(resource)
        self._bundle.add_resource(resource)

    def _take(self, file: str, entry: ast.Message | ast.Term) -> None:
        head = f"-{entry.id.name}" if isinstance(entry, ast.Term) else entry.id.name
        if head in self.files:
            self.faults.append(f"{file}, {head}: stands in {self.files[head]} too")
            return
        self.files[head] = file
        if entry.value:
            self._patterns[head] = entry.value
        for attribute in entry.attributes:
            name = f"{head}.{attribute.id.name}"
            if name in self._patterns:
                self.faults.append(f"{file}, {name}: stands twice")
            self._patterns[name] = attribute.value

    def _check(self, name: str, pattern: ast.Pattern) -> None:
        """Refuse what the phone cannot say; keep what is plain text."""
        try:
            made = pieces(pattern, self._all())
        except (Unsaid, RecursionError) as error:
            self.faults.append(f"{self.files[name.partition('.')[0]]}, {name}: {error}")
            return
        if len(made) == 1 and isinstance(made[0], str):
            self._plain[name] = made[0]


def clipped(value: Any) -> Any:
    """A text no longer than the library takes in the place of a value."""
    long = isinstance(value, str) and len(value) > LONGEST
    return f"{value[: LONGEST - 1]}…" if long else value


@cache
def words(language: str = "en") -> Words:
    """The words of a language. Raises KeyError for one there is not, WordsError for faults."""
    found = read_words(language)
    if found.faults:
        raise WordsError("\n".join(f"words/{fault}" for fault in found.faults))
    return found


@cache
def read_words(language: str) -> Words:
    """The words of a language, faults and all. Raises KeyError for one there is not."""
    folder = next((path for path in _folders() if path.name == language), None)
    if folder is None:
        raise KeyError(f"there are no words in language {language!r}")
    return Words(language, folder, words(FIRST) if language != FIRST else None)


def region(language: str) -> str:
    """The BCP 47 tag that dates and numbers of a language are written by."""
    return REGIONS.get(language, language)


def of_terminal() -> str:
    """The language that the terminal is set to, as POSIX names it: ``es_US.UTF-8``."""
    named = (os.environ.get(name) for name in ("LC_ALL", "LC_MESSAGES", "LANG"))
    wanted = next((one for one in named if one), FIRST).partition("_")[0]
    return wanted if wanted in finished() else FIRST


def languages() -> list[str]:
    """The languages there are, finished or not, by their BCP 47 codes."""
    return sorted(path.name for path in _folders())


@cache
def finished() -> tuple[str, ...]:
    """The languages that leave nothing to say in another: those to offer, the first one first."""

    def whole(language: str) -> bool:
        try:
            return not unlike(language)
        except WordsError:
            return False

    return (FIRST, *(one for one in languages() if one != FIRST and whole(one)))


@cache
def unlike(language: str) -> tuple[str, ...]:
    """What a language has not, has beside, or says with other values than the first, a line each.

    Raises WordsError for faults in its files.
    """
    mine, first = words(language), words(FIRST)
    own, wanted = set(mine.own_ids()), set(first.ids())
    found = [
        f"{language}/{first.file_of(name).partition('/')[2]}, {name}: missing"
        for name in first.ids()
        if name not in own
    ]
    found += [f"{mine.file_of(name)}, {name}: not in {FIRST}" for name in sorted(own - wanted)]
    for name in sorted(own & wanted):
        file, there = mine.file_of(name), first.file_of(name)
        if file.partition("/")[2] != there.partition("/")[2]:
            found.append(f"{file}, {name}: stands in {there} in {FIRST}")
        found += [f"{file}, {name}: {why}" for why in _differs(mine, first, name)]
    return tuple(found)


def _differs(mine: Words, first: Words, name: str) -> Iterator[str]:
    """Other values than in the first language; a plural form that is never used, or missing."""
    ours, theirs = mine.shape(name), first.shape(name)
    left, right = values_of(ours), values_of(theirs)
    yield from (f"value {value} is not in {FIRST}" for value in sorted(left - right))
    yield from (f"value {value} is missing" for value in sorted(right - left))
    forms = plural_forms(mine.language)
    for cases in cases_of(ours):
        if odd := cases & PLURALS - forms:
            yield f"{mine.language} has no plural form {', '.join(sorted(odd))}"
        if cases & PLURALS - {"other"} and (less := forms - cases):
            yield f"plural form {', '.join(sorted(less))} is missing"


def _folders() -> Iterator[Path]:
    return (one for root in FOLDERS for one in root.iterdir() if any(one.glob("*.ftl")))


def add_folder(root: Path) -> None:
    """Look for languages in this folder, too: one with a folder for each."""
    if root not in FOLDERS:
        FOLDERS.append(root)
        forget()


def forget() -> None:
    """Read the files anew when they are next asked for."""
    for cached in (words, read_words, unlike, finished):
        cached.cache_clear()
