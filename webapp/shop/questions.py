"""The rulebook's questions as form fields: what a trailer is, and what was found on the bench."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from math import ceil, floor
from typing import Any, TypedDict

from checks.facts import BadInput, wheel_order
from checks.units import to_unit
from checks.words import words
from webapp.engine import engine
from webapp.follow_up.schedule import CHECKS
from webapp.shop import measures
from webapp.shop.numbers import with_unit
from webapp.wording import language, number_text, place_text, say, unit_text

# What was found before the work is written down least often; its questions are folded.
SELDOM = "bench_found"
# These stations describe the trailer itself; their answers last.
PROFILE = ("about", "trailer")
# Weighing is about a load, so about a day.
PASSING = ("weighed",)
MOST_AXLES = 3
MOST_TO_PICK = 12  # a number that could be one of more is typed
Json = dict[str, Any]
ID = re.compile(r"[0-9]{1,10}")  # of a row, as a form names it


def book() -> Json:
    found: Json = engine().whole
    return found


def question(name: str) -> Json:
    """``{"name", "ask", "help", "options": [[id, text]], "unit", "whole"}``; a typed one has no
    options, and is ``whole`` where it counts something."""
    fact, said, head = book()["facts"][name], words(language()), f"fact-{name}"
    told = said.say(f"{head}.help") if said.has(f"{head}.help") else ""
    made = {"name": name, "ask": said.say(head), "help": told, "unit": "", "whole": False}
    made["scope"] = fact["scope"]
    if fact["kind"] == "choice":
        return made | {
            "options": [[one, said.say(f"{head}.choice-{one}")] for one in fact["choices"]]
        }
    if fact["kind"] == "text":
        return made | {"options": []}
    if fact["unit"] == "count":
        numbers = range(round(fact["low"]), round(fact["high"]) + 1)
        listed = [[str(one), str(one)] for one in numbers] if len(numbers) <= MOST_TO_PICK else []
        return made | {"options": listed, "whole": True}
    return made | {"options": [], "unit": unit_text(measures.fact_unit(fact))}


def points(stations: tuple[str, ...]) -> Iterator[Json]:
    for station in book()["stations"]:
        if station["id"] in stations:
            yield from station["points"]


def profile() -> list[Json]:
    """What is asked about a trailer as such."""
    names = dict.fromkeys(
        name
        for point in points(PROFILE)
        for name in point["facts"]
        if point["scope"] == "trailer" and name not in PASSING
    )
    return [question(name) for name in names if book()["facts"][name]["kind"] in ASKED]


ASKED = ("choice", "number", "text")


def bench() -> list[Json]:
    """The points of the bench record, each with its questions."""
    say = words(language()).say
    return [
        {
            "id": p["id"],
            "title": say(f"point-{p['id']}"),
            "seldom": p["id"] == SELDOM,
            "questions": [question(f) for f in p["facts"]],
        }
        for station in book()["stations"]
        for p in station["points"]
        if "bench" in p["checks"] and p["scope"] == "wheel"
    ]


class Wheel(TypedDict):
    """A wheel a form asks about."""

    place: str
    axle: int
    title: str


def wheels() -> list[Wheel]:
    """Every wheel a light trailer may have, in walking order."""
    return [
        {"place": place, "axle": int(place[0]), "title": place_text(place, MOST_AXLES)}
        for place in wheel_order(MOST_AXLES)
    ]


# ---- from the form --------------------------------------------------------------------------


def profile_answers(form: Mapping[str, str]) -> Json:
    """What was answered about the trailer, as facts; what was left open is absent."""
    found: Json = {}
    for one in profile():
        text = form.get(f"fact:{one['name']}", "").strip()
        if not text:
            continue
        fact = book()["facts"][one["name"]]
        if one["whole"]:
            found[one["name"]] = int(text) if is_digits(text) else text
        elif fact["kind"] == "text" or one["options"]:
            found[one["name"]] = text
        else:
            found[one["name"]] = with_unit(text, one["unit"])
    return found


def mistake(error: BadInput) -> str:
    """What is wrong with an answer: the question in words, and how to put the answer right."""
    name = error.key.partition("@")[0]
    fact = book()["facts"].get(name)
    if fact is None:
        return error.told(words(language()))
    if fact["kind"] == "number" and fact["unit"] != "count":
        unit = measures.fact_unit(fact)
        low, high = (to_unit(fact[end], fact["unit"], unit) for end in ("low", "high"))
        limits = {"low": number_text(ceil(low)), "high": number_text(floor(high))}
        told = say("form-number-odd", **limits, unit=unit_text(unit))
    else:
        told = error.told(words(language()))
    return f"{question(name)['ask']} {told}"


def is_digits(text: str) -> bool:
    """Python counts ² and ٣ as digits too; a fact is written with 0 to 9."""
    return text.isascii() and text.isdigit()


def bench_answers(form: Mapping[str, str], axles: int) -> Json:
    """What was found and done, as facts per wheel: a wheel's own answer, else that for all."""
    asked = [question for point in bench() for question in point["questions"]]
    names = [one["name"] for one in asked if one["scope"] == "trailer"]
    found: Json = {name: form[f"all:{name}"] for name in names if form.get(f"all:{name}")}
    for place in wheel_order(axles):
        if form.get(f"skip:{place}"):
            continue
        for one in (one for one in asked if one["scope"] != "trailer"):
            answer = form.get(f"{place}:{one['name']}") or form.get(f"all:{one['name']}")
            if answer:
                found[f"{one['name']}@{place}"] = answer
    return found


# ---- into the form --------------------------------------------------------------------------


def profile_values(facts: Json) -> dict[str, str]:
    return {f"fact:{name}": str(value) for name, value in facts.items()}


def bench_values(facts: Json) -> dict[str, str]:
    """The answers of a stored bench record: what all wheels share, then what differs."""
    by_fact: dict[str, dict[str, str]] = {}
    for key, value in facts.items():
        name, _, place = key.partition("@")
        if place:
            by_fact.setdefault(name, {})[place] = str(value)
    places = wheel_order(int(facts.get("axles", 1)))
    found: dict[str, str] = {}
    opened = {place for answers in by_fact.values() for place in answers}
    found |= {f"skip:{place}": "1" for place in places if place not in opened}
    found |= {f"all:{name}": str(value) for name, value in facts.items() if "@" not in name}
    for name, answers in by_fact.items():
        if len(set(answers.values())) == 1 and set(answers) == opened:
            found[f"all:{name}"] = next(iter(answers.values()))
        else:
            found |= {f"{place}:{name}": value for place, value in answers.items()}
    return found


# ---- names --------------------------------------------------------------------------------


def checks_by_name() -> dict[str, str]:
    return {name: say(f"check-{name}") for name in CHECKS}


# What a person at the first stop has to know before touching anything.
CAUTIONS = ("traffic", "burn", "fire", "maker")


def cautions() -> list[str]:
    return [say(f"caution-{name}") for name in CAUTIONS]
