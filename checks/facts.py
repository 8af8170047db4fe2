"""What can be asked, and the range that each answer means.

The facts themselves stand beside the rules that read them, in ``checks/trade/``; here is how one is
described, and how a typed answer becomes a range or a set of choices.
"""

from __future__ import annotations

import difflib
import math
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from functools import cache, cached_property, lru_cache
from pathlib import Path
from typing import Any

from checks.formula import Expr, Value
from checks.interval import Range
from checks.units import range_text, to_unit, units
from checks.words import FIRST, Words, words

SCOPES = ("trailer", "axle", "wheel")
PLACE = re.compile(r"([1-3])([LR]?)\Z")
MM_PER_IN = 25.4
LONGEST_TEXT = 80
MOST_KEPT = 1024  # weeks, and sizes, whose reading is kept
EPOCH = date(2000, 1, 1)  # a tire's making is counted in days from here


class BadInput(ValueError):
    """An input that cannot be used.

    key: the answer or field that is meant, "" for the whole. code: what is wrong with it, as the
    words ``error-CODE`` say. values: what those words need, as text.
    """

    def __init__(self, code: str, key: str = "", **values: Any) -> None:
        super().__init__(code, key, values)
        self.code = code
        self.key = key
        # A range stays one: each language says it in its own words.
        self.values = {n: v if isinstance(v, str) else str(v) for n, v in values.items()}

    def told(self, said: Words) -> str:
        """What is wrong and how to put it right, without the key."""
        return said.say(f"error-{self.code}", **self.values)

    def whole(self, said: Words) -> str:
        """The same with the key in front, where there is one."""
        told = self.told(said)
        return f"{self.key}: {told}" if self.key else told

    def __str__(self) -> str:
        return self.whole(words(FIRST))


@dataclass(frozen=True)
class Fact:
    """One thing that can be asked.

    kind: ``number`` (in ``unit``, from ``low`` to ``high``, read to ``spread`` either way),
    ``choice`` (one of ``choices``), ``made`` (a tire's date code, kept as days since 2000),
    ``size`` (the size on a tire's sidewall, kept as its overall diameter in mm) or ``text`` (kept
    as it is for whoever reads it; to a rule it is 1 where there is one, 0 to 1 where not).
    show: unit offered to a person, by system. when: asked only while this is not *no*. only: by
    choice, offered only while this is not *no*. optional: an open answer does not hold its point
    back. past: a year that has begun on the day of the check.
    """

    id: str
    scope: str = "trailer"
    kind: str = "choice"
    choices: tuple[str, ...] = ()
    unit: str = ""
    low: float = -math.inf
    high: float = math.inf
    spread: float = 0.0
    us: str = ""
    metric: str = ""
    when: Expr | None = None
    only: Mapping[str, Expr] = field(default_factory=dict, hash=False)
    optional: bool = False
    past: bool = False

    @cached_property
    def bits(self) -> dict[str, int]:
        """The bit of each choice."""
        return {c: 1 << i for i, c in enumerate(self.choices)}

    def whole(self) -> Value:
        """The value that stands for 'not answered'."""
        if self.kind == "choice":
            return (1 << len(self.choices)) - 1
        return (float(self.low), float(self.high))


def number(
    id: str, unit: str, low: float, high: float, *, us: str = "", metric: str = "", **more: Any
) -> Fact:
    """A numeric fact; ``us`` and ``metric`` are the units a person is offered."""
    return Fact(
        id,
        kind="number",
        unit=unit,
        low=low,
        high=high,
        us=us or unit,
        metric=metric or unit,
        **more,
    )


def choice(id: str, *choices: str, **more: Any) -> Fact:
    return Fact(id, choices=choices, **more)


def yes_no(id: str, **more: Any) -> Fact:
    return choice(id, "no", "yes", **more)


def made(id: str, **more: Any) -> Fact:
    """A tire's date code. Days since 2000-01-01; codes of three digits are from before 2000."""
    return Fact(id, kind="made", unit="day", low=-10957.0, high=36525.0, **more)


def text(id: str, **more: Any) -> Fact:
    """A few words that are kept and shown, such as a part's number; no rule reads them."""
    return Fact(id, kind="text", unit="count", low=0.0, high=1.0, **more)


def size(id: str, **more: Any) -> Fact:
    """A tire's size as printed on it. Overall diameter in mm, new and unloaded."""
    return Fact(id, kind="size", unit="mm", low=300.0, high=1100.0, **more)


# ---- places ---------------------------------------------------------------------------------


def wheel_order(axles: int) -> list[str]:
    """All wheels in walking order: clockwise from the hitch, right side first."""
    rows = range(1, axles + 1)
    return [f"{n}R" for n in rows] + [f"{n}L" for n in reversed(rows)]


def split_key(key: str, facts: Mapping[str, Fact]) -> tuple[Fact, str]:
    """The fact and place of ``fact``, ``fact@2`` or ``fact@2L``. Raises BadInput."""
    name, _, place = key.partition("@")
    fact = facts.get(name)
    if fact is None:
        near = difflib.get_close_matches(name, facts, 1)
        hint = repr(near[0]) if near else "none"
        raise BadInput("no_fact", key, given=repr(name), near=hint)
    found = PLACE.match(place) if place else None
    scope = ("wheel" if found[2] else "axle") if found else ("trailer" if not place else "")
    if scope != fact.scope:
        example = {"trailer": name, "axle": f"{name}@1", "wheel": f"{name}@1L"}[fact.scope]
        raise BadInput("scope", key, given=repr(name), scope=fact.scope, example=repr(example))
    return fact, place


# ---- answers --------------------------------------------------------------------------------

_WITH_UNIT = re.compile(r"\s*([-+]?[0-9]+(?:[.,][0-9]+)?)\s*([^0-9\s].*?)?\s*\Z")


def read_answer(fact: Fact, key: str, raw: Any, day: date) -> Value:
    """The range or choice set that ``raw`` means. ``None`` is 'not sure'. Raises BadInput."""
    if raw is None:
        return fact.whole()
    if fact.kind == "choice":
        return _read_choice(fact, key, raw)
    if fact.kind == "made":
        return _read_made(fact, key, raw, day)
    if fact.kind == "size":
        return _read_size(fact, key, raw)
    if fact.kind == "text":
        return _read_text(key, raw)
    if fact.past:
        fact = replace(fact, high=min(fact.high, day.year))
    if isinstance(raw, list):
        if len(raw) != 2:
            raise BadInput("range_of_two", key, count=len(raw))
        low, high = (_read_number(fact, key, end) for end in raw)
        if low > high:
            raise BadInput("range_backwards", key, given=raw)
        return (low, high)
    value = _read_number(fact, key, raw)
    return (max(value - fact.spread, fact.low), min(value + fact.spread, fact.high))


def _read_choice(fact: Fact, key: str, raw: Any) -> int:
    wanted = raw if isinstance(raw, list) else [raw]
    offer = ", ".join(fact.choices)
    if not wanted:
        raise BadInput("choice_none", key, offer=offer)
    bits = 0
    for one in wanted:
        if not isinstance(one, str) or one not in fact.bits:
            raise BadInput("choice_unknown", key, given=repr(one), offer=offer)
        bits |= fact.bits[one]
    return bits


def _read_text(key: str, raw: Any) -> Range:
    if not isinstance(raw, str) or not 0 < len(raw.strip(" ")) <= LONGEST_TEXT:
        raise BadInput("text", key, most=LONGEST_TEXT)
    return (1.0, 1.0)


def _read_number(fact: Fact, key: str, raw: Any) -> float:
    unit = fact.unit
    if isinstance(raw, str):
        found = _WITH_UNIT.match(raw)
        if not found and unit == "count":
            raise BadInput("number", key, given=repr(raw), span=_span(fact))
        if not found:
            raise BadInput("number_text", key, given=repr(raw), unit=unit)
        raw, named = float(found[1].replace(",", ".")), found[2]
        unit = _find_unit(fact, key, named) if named else unit
    if not _is_finite(raw):
        raise BadInput("number", key, given=repr(raw), span=_span(fact))
    value = float(raw) if unit == fact.unit else _converted(fact, key, float(raw), unit)
    if not fact.low <= value <= fact.high:
        shown = range_text((value, value), fact.unit)
        raise BadInput("number_outside", key, given=shown, span=_span(fact))
    if fact.unit == "count" and value != int(value):
        raise BadInput("number_whole", key, given=raw)
    return value


def _span(fact: Fact) -> str:
    return range_text((fact.low, fact.high), fact.unit)


def _converted(fact: Fact, key: str, value: float, unit: str) -> float:
    kind, wanted = units()[unit]["dimension"], units()[fact.unit]["dimension"]
    if kind != wanted:
        about = {"own": fact.unit, "wanted": wanted, "label": units()[fact.unit]["label"]}
        raise BadInput("number_dimension", key, unit=unit, kind=kind, **about)
    return to_unit(value, unit, fact.unit)


def _is_finite(raw: Any) -> bool:
    if isinstance(raw, bool) or not isinstance(raw, (int, float)):
        return False
    try:
        return math.isfinite(raw)
    except OverflowError:  # a whole number beyond every float
        return False


def _find_unit(fact: Fact, key: str, named: str) -> str:
    """A unit by id or label; of two with one label, the one of the fact's dimension is meant."""
    named_so = [name for name, u in sorted(units().items()) if named in (name, u["label"])]
    if not named_so:
        known = ", ".join(sorted(units()))
        raise BadInput("unit_unknown", key, given=repr(named), known=known)
    dimension = units()[fact.unit]["dimension"]
    return next((n for n in named_so if units()[n]["dimension"] == dimension), named_so[0])


@lru_cache(maxsize=MOST_KEPT)
def week_start(week: int, year: int) -> date:
    """First day of a date-code week: week 1 is the year's first full Sunday-to-Saturday week.

    Source: 49 CFR 574.5(b)(3), read.
    """
    new_year = date(year, 1, 1)
    first_sunday = new_year + timedelta(days=(6 - new_year.weekday()) % 7)
    return first_sunday + timedelta(weeks=week - 1)


def _read_made(fact: Fact, key: str, raw: Any, day: date) -> Range:
    code = raw.strip() if isinstance(raw, str) else raw
    if not isinstance(code, str) or not re.fullmatch(r"[0-9]{3,4}", code):
        raise BadInput("made_code", key, given=repr(raw))
    week = int(code[:2])
    if not 1 <= week <= 53:
        raise BadInput("made_week", key, given=repr(code), week=week)
    if len(code) == 3:
        return (fact.low, -1.0)
    start = week_start(week, 2000 + int(code[2:]))
    if start > day:
        raise BadInput("made_later", key, given=repr(code), week=week, year=f"20{code[2:]}")
    days = float((start - EPOCH).days)
    return (days, days + 6.0)


@cache
def sizes() -> dict[str, Any]:
    """What a size leaves open, by name: a number or a range, as ``sizes.toml`` explains them."""
    table = tomllib.loads(Path(__file__).with_name("sizes.toml").read_text("utf-8"))
    return {name: entry["value"] for name, entry in table.items()}


_TAIL = r"(?: ?(?:ST|LT|C))?(?:[ (,][ -~]*)?"  # load range, load index and speed symbol may follow
_METRIC = re.compile(
    r"(?:ST|LT|P)? ?([0-9]{3}) ?(?:/ ?([0-9]{2}))? ?Z?[-RDB] ?([0-9]{1,2}(?:\.5)?)" + _TAIL
)
_NUMERIC = re.compile(
    r"(?:ST|LT)? ?([0-9]{1,2}\.[0-9]{2})(?: ?/ ?[0-9]{1,2}\.[0-9]{2})? ?[-RDB] ?"
    r"([0-9]{1,2}(?:\.5)?)" + _TAIL
)
# "480-8" and "480/400-8": no metric tire is 400 mm wide or more, so the dot was left out
_DOTLESS = re.compile(
    r"((?:ST|LT)? ?[4-9])([0-9]{2})( ?/ ?[0-9])?([0-9]{2})?( ?[-RDB] ?[0-9]{1,2}.*)"
)
_FLOTATION = re.compile(
    r"([0-9]{2}(?:\.[0-9]{1,2})?) ?X ?[0-9]{1,2}(?:\.[0-9]{1,2})? ?[-RDB] ?[0-9]{1,2}" + _TAIL
)
_LETTER = re.compile(r"[A-N]R? ?[0-9]{2} ?[-RDB] ?[0-9]{2}" + _TAIL)
LONGEST_SIZE = 40


def _read_size(fact: Fact, key: str, raw: Any) -> Range:
    text = raw if isinstance(raw, str) and len(raw) <= LONGEST_SIZE else ""
    text = re.sub(r"[ \t]+", " ", text).strip(" ").upper().replace("×", "X").replace("–", "-")
    if _LETTER.fullmatch(text):
        raise BadInput("size_letter", key, given=repr(raw))
    across = _diameter(text)
    if across is None:
        raise BadInput("size_unknown", key, given=repr(raw))
    low, high = across
    if low < fact.low or high > fact.high:
        across_text = range_text((low, high), "mm")
        raise BadInput("size_across", key, given=repr(raw), across=across_text)
    return (low, high)


@lru_cache(maxsize=MOST_KEPT)
def _diameter(text: str) -> Range | None:
    """Overall diameter in mm of a size, None for a text that is none."""
    known = sizes()
    dotless = _DOTLESS.fullmatch(text)
    if dotless and bool(dotless[3]) == bool(dotless[4]):
        head, part, other, other_part, tail = dotless.groups()
        text = f"{head}.{part}" + (f"{other}.{other_part}" if other else "") + tail
    found = _METRIC.fullmatch(text)
    if found:
        least, most = known["no_aspect"]
        if found[2]:
            least = most = float(found[2]) / 100
        return _across(float(found[3]), float(found[1]), least, most, known["design"])
    found = _NUMERIC.fullmatch(text)
    if found:
        rim = float(found[2])
        least, most = known["small_rim" if rim <= known["small_to"] else "large_rim"]
        return _across(rim, float(found[1]) * MM_PER_IN, least, most, 0.0)
    found = _FLOTATION.fullmatch(text)
    if found:
        across = float(found[1]) * MM_PER_IN
        return (across - known["design"], across + known["design"])
    return None


def _across(rim: float, width: float, least: float, most: float, spread: float) -> Range:
    """Rim in inches plus two section heights, in mm: the definition of aspect ratio."""
    across = rim * MM_PER_IN
    return (across + 2 * width * least - spread, across + 2 * width * most + spread)


def read_date(raw: Any) -> date:
    """The date of a check, ``YYYY-MM-DD``. Raises BadInput."""
    try:
        if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", raw):  # Python reads other forms too
            raise ValueError
        return date.fromisoformat(raw)
    except (TypeError, ValueError):
        raise BadInput("date", "date", given=repr(raw)) from None
