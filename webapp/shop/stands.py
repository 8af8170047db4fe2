"""What a trailer stands at: its worst undecided verdict, else that of its newest check."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from hashlib import sha256
from typing import Any, TypedDict

from sqlalchemy import Connection, select

from webapp.clock import made_at
from webapp.follow_up import undecided
from webapp.follow_up.shelves import DECIDED, HELD, STRAY
from webapp.follow_up.verdicts import Found
from webapp.shop import reading, session
from webapp.storage.models import records, trailers
from webapp.storage.store import AnyRow
from webapp.wording import say, speaking

NAMED = 3  # findings in a text; more would be cut into several messages


class Sign(TypedDict):
    """What a list shows of a trailer; ``open`` is *Stop now* or *Mend* that nobody has decided, or
    ``held``: not to be driven on with yet. ``more`` is how many such checks there are beside it."""

    level: str
    held: bool
    open: bool
    decided: bool
    more: int


class Stand(Sign):
    """A trailer's sign with the check that it comes from (``body`` as the phone or bench made it)
    and what was found, in words and as it is; ``others`` are the undecided checks beside it."""

    id: str
    check: str
    made: datetime
    found: list[str]
    findings: list[Found]
    body: dict[str, Any]
    others: list[Stand]


def of(connection: Connection, trailer: Mapping[str, Any]) -> Stand | None:
    """What the trailer stands at, with all that nobody has decided; None without a check."""
    rows = rows_of(connection, trailer["shop_id"], [trailer["id"]]).get(trailer["id"])
    return together(rows) if rows else None


def signs(connection: Connection, shop_id: int, shown: Iterable[int]) -> dict[int, Sign]:
    """By trailer: what a list shows, no check read."""
    found = rows_of(connection, shop_id, list(shown))
    return {trailer: sign_of(rows) for trailer, rows in found.items()}


def open_ones(connection: Connection, shop_id: int, shown: Iterable[int]) -> dict[int, Stand]:
    """By trailer all that nobody has decided."""
    found = rows_of(connection, shop_id, list(shown))
    return {trailer: together(rows) for trailer, rows in found.items() if sign_of(rows)["open"]}


def rows_of(connection: Connection, shop_id: int, shown: list[int]) -> dict[int, list[AnyRow]]:
    """By trailer what is undecided, the worst first; where nothing is, its newest check."""
    last = newest(connection, shown)
    return {trailer: [row] for trailer, row in last.items()} | undecided.of_each(
        connection, shop_id, shown
    )


def newest(connection: Connection, shown: Iterable[int]) -> dict[int, AnyRow]:
    """By trailer the row of the check that was made last; copies that other phones sent of it are
    no one's to decide, and stay out of sight."""
    last = (
        select(records.c.seq)
        .where(
            records.c.trailer_key == trailers.c.id,
            records.c.shop_id == trailers.c.shop_id,
            records.c.kind == "check",
            records.c.level.is_not(None),
            records.c.shelf.is_(None) | records.c.shelf.not_in(STRAY),
        )
        .order_by(records.c.made_ms.desc())
        .limit(1)
        .scalar_subquery()
    )
    wanted = select(last).where(trailers.c.id.in_(list(shown)))
    rows = connection.execute(select(records).where(records.c.seq.in_(wanted))).all()
    return {row.trailer_key: row for row in rows}


def sign_of(rows: list[AnyRow]) -> Sign:
    """The worse level of the phone's and the server's of the first, and whether it is decided."""
    shelf = undecided.shelf(rows[0])
    return {
        "level": undecided.level(rows[0]),
        "held": shelf == HELD,
        "open": shelf in undecided.BAD,
        "decided": shelf == DECIDED,
        "more": len(rows) - 1,
    }


def together(rows: list[AnyRow]) -> Stand:
    """Rows of ``records`` that are checks, as what their trailer stands at."""
    return told(rows[0]) | {"more": len(rows) - 1, "others": [told(row) for row in rows[1:]]}


def told(row: AnyRow) -> Stand:
    one, sign = json.loads(row.record), sign_of([row])
    findings = undecided.findings(row, sign["level"])
    return Stand(
        **sign,
        id=row.id,
        check=one["body"]["check"],
        made=made_at(one["made"], row.made_ms, row.clock_s),
        found=reading.found_words(findings, one["body"]),
        findings=findings,
        body=one["body"],
        others=[],
    )


def each(stand: Stand | None) -> list[Stand]:
    return [stand, *stand["others"]] if stand else []


def these(shown: Iterable[Mapping[str, Any]]) -> str:
    """What stands for just those checks: a tick says that they were looked at, and no others."""
    return sha256(" ".join(sorted(one["id"] for one in shown)).encode()).hexdigest()


def covers(looked: str, shown: Sequence[Mapping[str, Any]]) -> bool:
    """Whether whoever ticked had all of them before them."""
    return not shown or looked == these(shown)


def in_words(stand: Stand) -> str:
    """All of it in one cell: ``Stop now: Left wheel: Smoke at this wheel; Mend: ...``."""
    told = (
        ": ".join([level_text(one["level"], one["held"]), *one["found"]]) for one in each(stand)
    )
    return "; ".join(told)


def level_text(level: str, held: bool) -> str:
    """A level in words: ``Look again: Do not drive on before this is settled``."""
    return ": ".join([say(f"level-{level}"), *([say("shop-held")] if held else [])])


def warning(reader: str, stand: Stand | None, trailer: str) -> str:
    """What stands before every text to whoever has the trailer, in the reader's language."""
    if not stand:  # a page has none of a trailer that is fine
        return ""
    with speaking(reader):
        told = f"{say('text-still-open', trailer=trailer)} {found_text(stand)}".strip()
    return f"{session.me()['shop_name']}: {told}"


def found_to(reader: str, stand: Stand) -> str:
    """What was found, in the reader's language."""
    with speaking(reader):
        return found_text(stand)


def found_text(stand: Stand) -> str:
    """What was found on all of them, the worst first and each once, as far as a text has room; for
    every *Stop now* it has."""
    told = [
        (text, one["level"])
        for one in each(stand)
        for text in reading.found_words(one["findings"], one["body"])
    ]
    found = list(dict.fromkeys(text for text, _ in told))
    room = max(NAMED, len({text for text, level in told if level == "stop"}))
    named, rest = found[:room], len(found[room:])
    if rest:
        named.append(say("shop-open-more", count=rest))
    return say("shop-text-found", found="; ".join(named)) if found else ""
