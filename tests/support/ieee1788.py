"""The cases of ``tests/cases/ieee1788.itl``: operation, operands, and what IEEE 1788 has."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from pathlib import Path

from checks.interval import WHOLE, Range

FILE = Path(__file__).parents[1] / "cases" / "ieee1788.itl"
LINE = re.compile(r"\s*(\w+)((?: \[[^]]*\])+) = (\[[^]]*\]);")


@dataclass(frozen=True)
class Case:
    operation: str
    operands: tuple[Range, ...]
    result: Range | None  # None is the empty set


def read() -> list[Case]:
    """Every case of the file. Raises ValueError on a line that is none."""
    cases = []
    for block in re.findall(r"testcase \w+ \{\n(.*?)\n\}", FILE.read_text("utf-8"), re.S):
        for line in block.split("\n"):
            if not line.strip() or line.lstrip().startswith("//"):
                continue
            found = LINE.fullmatch(line)
            if not found:
                raise ValueError(f"not a case: {line}")
            operands = tuple(map(_range, re.findall(r"\[[^]]*\]", found[2])))
            result = None if found[3] == "[empty]" else _range(found[3])
            cases.append(Case(found[1], operands, result))
    return cases


def _range(text: str) -> Range:
    if text == "[entire]":
        return WHOLE
    ends = [_number(end.strip()) for end in text.strip("[]").split(",")]
    return (ends[0], ends[-1])


def _number(text: str) -> float:
    return float.fromhex(text) if "0x" in text.lower() else float(text)


def close(ours: float, theirs: float) -> bool:
    """Are two ends at most two steps of a float apart?"""
    for _ in range(3):
        if ours == theirs:
            return True
        ours = math.nextafter(ours, theirs)
    return False
