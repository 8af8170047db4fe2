"""The rules and words that a kept check was made with, where this server still has them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection

from webapp import wording
from webapp.engine import engine
from webapp.storage import releases

Json = dict[str, Any]


@dataclass(frozen=True)
class Release:
    """Rules, and what was said with them; today's words stand in for what is not kept."""

    rules: Json
    words: Mapping[str, Any] = field(default_factory=dict)

    def said(self, name: str, otherwise: str) -> str:
        kept = self.words.get(name)
        return kept if isinstance(kept, str) else wording.said(name, otherwise)


def today(check: str = "walkaround") -> Release:
    return Release(engine().part_for(check))


def of(connection: Connection, check: str, rulebook: str) -> Release:
    """The release whose rules have this hash, or today's where they were never kept here."""
    now = today(check)
    if now.rules["hash"] == rulebook:
        return now
    rules = releases.rules_of(connection, rulebook)
    if rules is None:
        return now
    return Release(rules, releases.words_of(connection, rulebook, wording.language()))
