"""What the files of the rulebook say before any of it is compiled, and what is wrong in it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from checks.facts import Fact
from checks.rules import Finding, Quantity
from checks.words import Words

# The kinds of check by the part of the rulebook that judges them: a first visit fetches one part.
PARTS = {
    "walk": (
        *("walkaround", "run_stop", "quick_stop", "nuts_stop", "load_stop"),
        *("tires", "bench"),
    ),
    "figures": ("figures",),
}
PART_OF = {check: part for part, checks in PARTS.items() for check in checks}
CHECKS = tuple(PART_OF)


class RulebookError(ValueError):
    """Faults in the rulebook itself, one a line, each with file and entry."""


@dataclass
class Definitions:
    """All entries by id, as the files have them; ``files`` names the file of ``fact ID`` etc."""

    words: Words
    facts: dict[str, Fact] = field(default_factory=dict)
    quantities: dict[str, Quantity] = field(default_factory=dict)
    findings: dict[str, Finding] = field(default_factory=dict)
    limits: dict[str, dict[str, Any]] = field(default_factory=dict)
    stations: list[dict[str, Any]] = field(default_factory=list)
    zones: list[dict[str, Any]] = field(default_factory=list)
    proofs: list[dict[str, Any]] = field(default_factory=list)
    dangers: list[list[str]] = field(default_factory=list)
    depths: dict[str, list[str]] = field(default_factory=dict)
    files: dict[str, str] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)

    def fault(self, file: str, entry: str, message: str) -> None:
        self.faults.append(f"{file}, {entry}: {message}" if entry else f"{file}: {message}")

    def need(self, holds: bool, entry: str, message: str) -> None:
        """Note a fault of ``entry``, such as ``fact axles``, where ``holds`` is not so."""
        if not holds:
            self.fault(self.files[entry], entry, message)
