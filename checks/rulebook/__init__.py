"""Reads the rulebook from its files, checks it, compiles it, and exports it."""

from checks.rulebook.definitions import CHECKS, PART_OF, PARTS, RulebookError
from checks.rulebook.export import beside
from checks.rulebook.load import export, export_words, load
from checks.rulebook.model import Point, Question, Rulebook, Station

__all__ = [
    "CHECKS",
    "PARTS",
    "PART_OF",
    "Point",
    "Question",
    "Rulebook",
    "RulebookError",
    "Station",
    "beside",
    "export",
    "export_words",
    "load",
]
