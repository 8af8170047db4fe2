"""One full check, three axles and everything answered, judged in Python.

``python -m tests.benchmarks.judging`` prints milliseconds, best and median; the budget is 1.
"""

from __future__ import annotations

import statistics
import timeit
from typing import Any

from checks.facts import Fact
from checks.judge import asked, judge, read_case
from checks.rulebook import load

DAY = "2026-07-14"


def plain_answer(fact: Fact) -> Any:
    """A middling answer: the first choice, or the middle of the range."""
    if fact.kind == "choice":
        return fact.choices[0]
    if fact.kind == "made":
        return "2523"
    if fact.kind == "size":
        return "ST205/75R15"
    if fact.kind == "text":
        return "L68149"
    middle = (fact.low + (2024 if fact.past else fact.high)) / 2
    return int(middle) if fact.unit == "count" else middle


def full(check: str) -> dict[str, Any]:
    """A check of three braked axles with every question answered that is asked."""
    book = load()
    facts: dict[str, Any] = {"axles": 3, "brakes": "electric"}
    while True:
        _, case = read_case({"check": check, "date": DAY, "facts": facts}, book)
        keys = [key for visit in asked(check, case, book) for key in visit.keys]
        new = {f"{f}@{p}".rstrip("@"): plain_answer(book.facts[f]) for f, p in keys}
        if set(new) <= set(facts):
            return {"check": check, "date": DAY, "facts": facts}
        facts = new | facts


def main() -> None:
    print("| check, three axles | answers | best, ms | median, ms |\n|---|---|---|---|")
    for check in ("run_stop", "walkaround", "tires"):
        payload = full(check)
        judge(payload)
        times = timeit.repeat(lambda p=payload: judge(p), number=20, repeat=25)  # type: ignore[misc]
        spent = [t / 20 * 1000 for t in times]
        best, middle = min(spent), statistics.median(spent)
        print(f"| {check} | {len(payload['facts'])} | {best:.2f} | {middle:.2f} |")


if __name__ == "__main__":
    main()
