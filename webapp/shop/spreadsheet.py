"""A table as somebody's spreadsheet wrote it: its encoding, its separator, its head, its rows."""

from __future__ import annotations

import csv
from collections.abc import Iterable
from dataclasses import dataclass

from webapp.shop.forms import tidy
from webapp.shop.tables import FORMULA
from webapp.wording import say

MOST_ROWS = 5000
SEPARATORS = (",", ";", "\t")
MARKS = {b"\xef\xbb\xbf": "utf-8-sig", b"\xff\xfe": "utf-16", b"\xfe\xff": "utf-16"}


class Unreadable(ValueError):
    """A file that no rows can be read from; the message says why and what to do."""


@dataclass(frozen=True)
class Spreadsheet:
    """``rows`` have a value for each of ``columns``, which are named as ours are; ``numbers`` are
    those of their lines in the file. ``unknown`` are heads that name nothing of ours."""

    columns: list[str]
    rows: list[dict[str, str]]
    numbers: list[int]
    unknown: list[str]


def decoded(body: bytes) -> str:
    """The text of a file. Raises ``Unreadable``.

    UTF-8 and UTF-16 are known by their mark or by being whole; what is neither is Windows-1252,
    which spreadsheets still write, and which holds Latin-1 but for control characters.
    """
    if not body.strip():
        raise Unreadable(say("shop-take-empty"))
    mark = next((one for one in MARKS if body.startswith(one)), b"")
    try:
        text = body.decode(MARKS.get(mark, "utf-8"))
    except UnicodeDecodeError:
        text = body.decode("latin-1" if mark else "cp1252", errors="replace")
    if body.startswith(b"PK") or "\0" in text:
        raise Unreadable(say("shop-take-no-text"))
    return text


def separator(text: str) -> str:
    """What stands between the heads most often, outside of quotes."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    bare = "".join(first.split('"')[::2])
    return max(SEPARATORS, key=bare.count)


def read(text: str, names: dict[str, str], needed: str) -> Spreadsheet:
    """The rows of a table. ``names`` has our column for each head that is understood.

    Raises ``Unreadable`` where the column ``needed`` is missing or stands there twice, or where
    there are too many rows.
    """
    try:
        lines = list(numbered(text))
    except csv.Error as error:
        raise Unreadable(say("shop-take-torn", why=str(error))) from None
    heads = [names.get(plain(head), "") for head in lines[0][1]] if lines else []
    columns = [head for head in heads if head]
    if needed not in columns:
        raise Unreadable(say("shop-take-no-column", name=needed))
    twice = next((head for head in columns if columns.count(head) > 1), "")
    if twice:
        raise Unreadable(say("shop-take-column-twice", name=twice))
    found = [(number, row) for number, row in lines[1:] if any(cell.strip() for cell in row)]
    if not found:
        raise Unreadable(say("shop-take-no-rows"))
    if len(found) > MOST_ROWS:
        raise Unreadable(say("shop-take-many", most=str(MOST_ROWS), rows=str(len(found))))
    unknown = [tidy(own) for own, head in zip(lines[0][1], heads, strict=True) if not head]
    rows = [
        {head: bare(cell) for head, cell in zip(heads, row, strict=False) if head}
        for _, row in found
    ]
    whole = [dict.fromkeys(columns, "") | row for row in rows]
    return Spreadsheet(
        columns, whole, [number for number, _ in found], [one for one in unknown if one]
    )


def numbered(text: str) -> Iterable[tuple[int, list[str]]]:
    """Each row with the line of the file that it begins in."""
    lines = csv.reader(text.splitlines(keepends=True), delimiter=separator(text))
    begins = 1
    for row in lines:
        if row or begins > 1:
            yield begins, row
        begins = lines.line_num + 1


def plain(head: str) -> str:
    """A head as it is compared: without case, marks and spaces."""
    return "".join(x for x in head.casefold() if x.isalnum())


def bare(cell: str) -> str:
    """A cell without the apostrophe that our own tables put in front of what begins a formula."""
    text = tidy(cell)
    return text[1:] if text[:1] == "'" and text[1:].startswith(FORMULA) else text
