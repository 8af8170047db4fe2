"""The one catalogue of words, for rules, app, shop, prints, mails and command line.

A folder a language, in it Fluent files (``fluent.syntax``) by subject. Words are named by the id
of a message, or by ``id.attribute``. ``docs/decisions.md`` says why Fluent.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import rfc8785
from fluent.runtime import FluentBundle
from fluent.syntax import FluentParser, ast

from checks.words.pieces import Unsaid, pieces

HERE = Path(__file__).parent
Json = dict[str, Any]


class WordsError(ValueError):
    """Faults in the files of words, one a line, each with file and entry."""


class Words:
    """The words of one language, read from a folder; ``faults`` are what stands wrong in it."""

    def __init__(self, language: str, folder: Path) -> None:
        self.language = language
        self.faults: list[str] = []
        self.files: dict[str, str] = {}
        self._patterns: dict[str, ast.Pattern] = {}
        self._plain: dict[str, str] = {}
        self._bundle = FluentBundle([language], use_isolating=False)
        for path in sorted(folder.glob("*.ftl")):
            self._read(f"{language}/{path.name}", path.read_text("utf-8"))
        for name, pattern in self._patterns.items():
            self._check(name, pattern)

    def say(self, name: str, /, **values: Any) -> str:
        """The words ``name``, with ``values`` in their places.

        Raises KeyError naming the words that are missing, or the value that they need.
        """
        if not values and name in self._plain:
            return self._plain[name]
        if name not in self._patterns:
            raise KeyError(f"words {name!r} are missing in {self.language}")
        head, _, attribute = name.partition(".")
        message = self._bundle.get_message(head)
        pattern = message.attributes[attribute] if attribute else message.value
        text, errors = self._bundle.format_pattern(pattern, values)  # type: ignore[arg-type]
        if errors:
            raise KeyError(f"words {name!r}: {errors[0]}")
        return str(text)

    def has(self, name: str) -> bool:
        return name in self._patterns

    def ids(self) -> list[str]:
        """Every name that can be said, attributes as ``id.attribute``."""
        return list(self._patterns)

    def export(self, names: Iterable[str]) -> Json:
        """The words ``names`` as the phone reads them, with a hash over all else in it."""
        said = {name: self._plain.get(name) or self._pieces(name) for name in sorted(names)}
        data: Json = {"language": self.language, "say": said}
        return data | {"hash": hashlib.sha256(rfc8785.dumps(data)).hexdigest()}

    def _pieces(self, name: str) -> list[Any]:
        return pieces(self._patterns[name], self._patterns)

    def _read(self, file: str, text: str) -> None:
        resource = FluentParser().parse(text)
        for entry in resource.body:
            if isinstance(entry, ast.Junk):
                line = text.count("\n", 0, entry.span.start if entry.span else 0) + 1
                told = entry.annotations[0].message if entry.annotations else "cannot be read"
                self.faults.append(f"{file}, line {line}: {told}")
            elif isinstance(entry, ast.Message | ast.Term):
                self._take(file, entry)
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
            made = pieces(pattern, self._patterns)
        except (Unsaid, RecursionError) as error:
            self.faults.append(f"{self.files[name.partition('.')[0]]}, {name}: {error}")
            return
        if len(made) == 1 and isinstance(made[0], str):
            self._plain[name] = made[0]


@cache
def words(language: str = "en") -> Words:
    """The words of a language. Raises KeyError for one there is not, WordsError for faults."""
    found = read_words(language)
    if found.faults:
        raise WordsError("\n".join(f"words/{fault}" for fault in found.faults))
    return found


def read_words(language: str) -> Words:
    """The words of a language, faults and all. Raises KeyError for one there is not."""
    if language not in languages():
        raise KeyError(f"there are no words in language {language!r}")
    return Words(language, HERE / language)


def languages() -> list[str]:
    """The languages there are, by their BCP 47 codes."""
    return sorted(path.name for path in _folders())


def _folders() -> Iterator[Path]:
    return (path for path in HERE.iterdir() if any(path.glob("*.ftl")))
