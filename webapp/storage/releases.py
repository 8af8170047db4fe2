"""Rules and words of every release that served here, once per hash, to read kept checks by."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

import rfc8785
from sqlalchemy import Connection, select
from sqlalchemy.exc import IntegrityError

from webapp.storage.models import rulebooks, words
from webapp.storage.store import Store

Json = dict[str, Any]


def keep(store: Store, rules: Json, said: Iterable[Json]) -> None:
    """Keep a part of the rulebook and its words in each language, unless they are here.

    Both are as phones get them, with the ``hash`` over all else in them.
    """
    said = list(said)
    with store.reading() as connection:
        if not missing(connection, rules, said):
            return
    try:
        with store.writing() as connection:
            insert(connection, rules, missing(connection, rules, said))
    except IntegrityError:  # another host has just kept them
        return


def missing(connection: Connection, rules: Json, said: list[Json]) -> list[Json]:
    """The words that are not kept yet with these rules; they come with the rules or after them."""
    here = select(words.c.hash).where(words.c.rulebook == rules["hash"])
    kept = set(connection.execute(here).scalars())
    return [one for one in said if one["hash"] not in kept]


def insert(connection: Connection, rules: Json, said: list[Json]) -> None:
    wanted = select(rulebooks.c.hash).where(rulebooks.c.hash == rules["hash"])
    if connection.execute(wanted).first() is None:
        connection.execute(rulebooks.insert().values(hash=rules["hash"], rules=canonical(rules)))
    for one in said:
        connection.execute(
            words.insert().values(
                hash=one["hash"],
                rulebook=rules["hash"],
                language=one["language"],
                text=canonical(one),
            )
        )


def canonical(whole: Json) -> str:
    """What the hash is over, as RFC 8785 writes it."""
    return rfc8785.dumps({k: v for k, v in whole.items() if k != "hash"}).decode()


def rules_of(connection: Connection, rulebook: str) -> Json | None:
    """The rules with this hash, or None where no release here has had them."""
    wanted = select(rulebooks.c.rules).where(rulebooks.c.hash == rulebook)
    found = connection.execute(wanted).scalar()
    return None if found is None else dict(json.loads(found))


def words_of(connection: Connection, rulebook: str, language: str) -> Json:
    """What was last said with these rules, by name; empty where nothing is kept."""
    wanted = (
        select(words.c.text)
        .where(words.c.rulebook == rulebook, words.c.language == language)
        .order_by(words.c.seq.desc())
        .limit(1)
    )
    found = connection.execute(wanted).scalar()
    return {} if found is None else dict(json.loads(found)["say"])
