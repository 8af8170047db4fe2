"""Reads the rulebook's files into definitions, and makes the rulebook of them."""

from __future__ import annotations

import importlib
import pkgutil
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import checks.trade
from checks.brake_law import BrakeLawError, limits_of, read_laws
from checks.rulebook.check import compiled
from checks.rulebook.definitions import Definitions, RulebookError
from checks.rulebook.export import as_data, first_words, is_later, split, words_of
from checks.rulebook.model import Rulebook
from checks.rules import STANDINGS
from checks.units import units
from checks.words import FIRST, Words, read_words, words

HERE = Path(__file__).parent.parent
KINDS = {"FACTS": "fact", "QUANTITIES": "quantity", "FINDINGS": "finding"}


@cache
def load() -> Rulebook:
    """The rulebook of this release. Raises RulebookError with every fault in its files."""
    defs = read()
    book = compiled(defs)
    if defs.faults:
        raise RulebookError("\n".join(defs.faults))
    book.data = as_data(defs, book.stations)
    book.parts = split(book.data)
    return book


def export(part: str = "walk") -> dict[str, Any]:
    """A part of the rulebook as JSON data, ``hash`` included."""
    return load().parts[part]


@cache
def export_words(part: str = "walk", language: str = FIRST) -> dict[str, Any]:
    """The words that the phone needs with a part, ``hash`` included. KeyError: no such language.

    Parts ``first`` and ``later`` are what the phone fetches of the walk, and of the app's screens:
    what a first visit needs, and the rest, which names the hash of both together as ``whole``.
    Part ``figures_alone`` is what those two lack of the figures' words, and names the hash of all.
    """
    said = words(language)
    if part in ("first", "later", "figures_alone"):
        return _words_in_three(said)[part]
    return said.export(words_of(part, load().parts[part], _phone_ids(said)))


# Where the words stand that an input is refused with, and those of them for the command line alone.
INPUTS, PROMPT = (
    "inputs.ftl",
    tuple(f"error-{code}" for code in ("file", "json", "no_quantity", "quantity_place")),
)


def _phone_ids(said: Words) -> list[str]:
    """What the phone may say: of errors those of its own engine, since the server says its own."""

    def its_own(name: str) -> bool:
        return said.file_of(name).endswith(INPUTS) and name.partition(".")[0] not in PROMPT

    return [n for n in said.ids() if not n.startswith("error-") or its_own(n)]


def _words_in_three(said: Words) -> dict[str, dict[str, Any]]:
    walk, figures = load().parts["walk"], load().parts["figures"]
    names = _phone_ids(said)
    first = set(first_words(walk, names))
    late = {name for name in words_of("later", walk, names) if is_later(name)}
    late |= set(words_of("walk", walk, names)) - first
    alone = set(words_of("figures", figures, names)) - first - late
    return {
        "first": said.export(first),
        "later": _joining(said, late, first),
        "figures_alone": _joining(said, alone, first | late),
    }


def _joining(said: Words, names: set[str], to: set[str]) -> dict[str, Any]:
    """Words that come beside others: the hash proves what is kept, and that is all together."""
    part = said.export(names)
    del part["hash"]
    return part | {"whole": said.export(names | to)["hash"]}


def read() -> Definitions:
    """All definitions, with the faults that show while reading."""
    said = read_words(FIRST)
    defs = Definitions(said, faults=[f"words/{fault}" for fault in said.faults])
    for name in sorted(m.name for m in pkgutil.iter_modules(checks.trade.__path__)):
        _read_trade(name, defs)
    for path in sorted((HERE / "limits").glob("*.toml")):
        _take_limits(f"limits/{path.name}", path.stem, _toml(path, defs), defs)
    try:
        _take_limits("brake_law.toml", "brake_law", limits_of(read_laws()), defs)
    except BrakeLawError as error:
        defs.faults.append(str(error))
    walk = _toml(HERE / "walk.toml", defs)
    defs.stations = walk.get("station", [])
    defs.zones, defs.depths = walk.get("zone", []), walk.get("depth", {})
    defs.proofs, defs.dangers = walk.get("proof", []), walk.get("danger", [])
    return defs


def _read_trade(name: str, defs: Definitions) -> None:
    file = f"trade/{name}.py"
    try:
        module = importlib.import_module(f"checks.trade.{name}")
    except Exception as error:  # whatever a rule in the making can raise is a fault of its file
        defs.fault(file, "", f"cannot be read ({type(error).__name__}: {error})")
        return
    entries: dict[str, dict[str, Any]] = {
        "fact": defs.facts,
        "quantity": defs.quantities,
        "finding": defs.findings,
    }
    for listed, kind in KINDS.items():
        for item in getattr(module, listed, []):
            entry = f"{kind} {item.id}"
            if item.id in entries[kind]:
                defs.fault(file, entry, f"stands in {defs.files[entry]} too")
                continue
            entries[kind][item.id] = item
            defs.files[entry] = file


def _toml(path: Path, defs: Definitions) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text("utf-8"))
    except tomllib.TOMLDecodeError as error:
        defs.fault(path.relative_to(HERE).as_posix(), "", f"is not TOML ({error})")
        return {}


# ---- limits ---------------------------------------------------------------------------------

LIMIT_KEYS = {"value", "unit", "source", "standing", "confirmed", "note", "why"}
UNREAD = ("memory", "practice")  # standings that say in a line why no better source is given


def _take_limits(file: str, stem: str, entries: dict[str, Any], defs: Definitions) -> None:
    """The entries of one file, checked, as ``stem.entry``."""
    for name, entry in entries.items():
        for fault in _limit_faults(entry):
            defs.fault(file, name, fault)
        if isinstance(entry, dict) and _is_number(entry.get("value")):
            kept = entry | {"confirmed": str(entry.get("confirmed"))}
            defs.limits[f"{stem}.{name}"] = kept  # a faulty one is told once, not by its readers


def _is_number(value: Any) -> bool:
    """Whether it is a number, a pair of them, or a table."""
    if isinstance(value, list):
        return bool(value) and all(map(_is_number, value))
    return isinstance(value, int | float) and not isinstance(value, bool)


def _limit_faults(entry: Any) -> list[str]:
    if not isinstance(entry, dict):
        return ["must be a table with value, unit, source, standing and confirmed"]
    found = [f"unknown key {key}" for key in sorted(set(entry) - LIMIT_KEYS)]
    needed = LIMIT_KEYS - ({"note"} if entry.get("standing") in UNREAD else {"note", "why"})
    found += [f"{key} missing" for key in sorted(needed - set(entry))]
    if not _is_number(entry.get("value", 0)):
        found.append("value must be a number, or a list of numbers")
    if entry.get("standing", STANDINGS[0]) not in STANDINGS:
        found.append(f"standing must be one of {', '.join(STANDINGS)}")
    for unit in filter(None, str(entry.get("unit", "")).split(" by ")):
        if unit not in units():
            found.append(f"unit {unit!r} is not in units.toml")
    if not str(entry.get("source", "-")).strip():
        found.append("source is empty")
    return found
