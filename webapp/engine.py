"""The way to the rules engine; tests may put a stand-in here."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from typing import Any

from flask import current_app

Json = dict[str, Any]


class Engine:
    """Rulebook and judge, loaded when first asked for."""

    def __init__(self, rulebook: Json | None = None, judge: Callable[[Json], Json] | None = None):
        self._rulebook = rulebook
        self._judge = judge

    @cached_property
    def rulebook(self) -> Json:
        if self._rulebook is not None:
            return self._rulebook
        from checks.rulebook import export

        return export()

    @cached_property
    def figures(self) -> Json:
        """The part of the rulebook with the figures, which a first visit leaves out."""
        if self._rulebook is not None:
            return self._rulebook
        from checks.rulebook import export

        return export("figures")

    @cached_property
    def whole(self) -> Json:
        """The rulebook before it is cut into parts, for the shop's pages; it has no hash."""
        if self._rulebook is not None:
            return self._rulebook
        from checks.rulebook import load

        return load().data

    def words(self, part: str, language: str) -> Json:
        """The words that the phone needs with a part. KeyError: no such language."""
        from checks.rulebook import export_words

        return export_words(part, language)

    def part_for(self, check: str) -> Json:
        """The part of the rulebook that judges a kind of check."""
        return self.figures if check == "figures" else self.rulebook

    def parts(self) -> list[tuple[Json, list[Json]]]:
        """Each part with its words in every language; none of a stand-in's."""
        if self._rulebook is not None:
            return []
        from checks.rulebook import PARTS, export
        from checks.words import finished

        return [(export(part), [self.words(part, one) for one in finished()]) for part in PARTS]

    def hash_for(self, check: str) -> str:
        """Hash of the part that judges a kind of check."""
        return str(self.part_for(check)["hash"])

    def judge(self, payload: Json) -> Json:
        """Raises ``checks.facts.BadInput`` naming what cannot be judged."""
        if self._judge is not None:
            return self._judge(payload)
        from checks.judge import judge

        return judge(payload)

    def far_km(self, payload: Json) -> float | None:
        """How far a check says it was driven, at the least; None when it does not say."""
        from checks.facts import BadInput
        from checks.judge import read_case
        from checks.rulebook import load

        book = load()
        try:
            _, case = read_case({k: payload.get(k) for k in ("check", "date", "facts")}, book)
        except BadInput:
            return None
        far = case.facts.get(("run_distance", ""))
        return None if far is None or far == book.facts["run_distance"].whole() else float(far[0])


def engine() -> Engine:
    """The engine of the running application."""
    kept: Engine = current_app.extensions["engine"]
    return kept
