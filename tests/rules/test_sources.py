"""Of a source what is cited stays as it is printed, and the rest is in the reader's language."""

from __future__ import annotations

import re

import pytest

from checks.rulebook import export, load
from checks.rulebook.export import SOURCED
from checks.rules import PRACTICE
from checks.sources import HEAD, KEYED, Piece, keyed, ours, pieces, told
from checks.words import finished, words
from tests.support.tongue import FUNCTION_WORDS

BOOK = load().data
SOURCES = sorted({one["source"] for kind in SOURCED for one in BOOK[kind].values()} - {PRACTICE})
PARTS = sorted({part for source in SOURCES for part in source.split("; ")})
# A law or a standard by its number: no word but those that such numbers are written with.
NUMBERED = re.compile(
    r"(?:\b(?:Admin|CFR|Code|Codified|Laws|Mass|Mun|Public|Act|Reg|Regs|Rev|Stat|Table|Tables|"
    r"Trans|Transp|Veh|and|part|tables)\b|\b[A-Z][a-z]{1,3}\b|\b[A-Z]+\b|\b[a-z]{1,3}\b|[^a-z])+"
)
# Names of texts and of who wrote them, which nothing else would find.
TITLES = {
    "Churchill and Bernstein 1977",
    "Connecticut DMV, trailer inspection requirements",
    "Daws, Tire Society 2009",
    "Government of Alberta, equipment for trailers",
    "Government of Alberta, equipment for trailers (Alta. Reg. 122/2009)",
    "Government of Prince Edward Island, passenger car trailer registration",
    "Highway Safety Code s. 245",
    "Idaho Code 49-933(3)-(4)",
    "Incropera, 6th ed., eq. 7.54",
    "Minn. Stat. 169.67 subd. 3(a)-(b)",
    "Motor Vehicles Act regulations",
    "Motor Vehicles Regulations (C.O. 1978/120)",
    "North American out-of-service criteria, hubs",
    "North American out-of-service criteria, tires",
    "Quebec C-24.2 r. 32 s. 101",
    "Quebec C-24.2 r. 32 s. 121.1",
    "Queensland government travel page",
    "Road Traffic (Construction, Equipment and Use of Vehicles) Regulations 1963 as amended",
    "SAE J429 Grade 8, 120 ksi",
    "Shigley, Mechanical Engineering Design: T = K D F",
    "RSMo 307.170(3), (6)",
    "University of Virginia",
    "Vehicle Standards Bulletin 1",
    "Vehicle inspection manual, general trailers 8-1",
    "docs/scoring.md",
}


def test_each_part_of_a_source_is_cited_or_in_the_catalogue() -> None:
    printed = [part for part in PARTS if part.lower() not in ours()]
    assert [one for one in printed if one not in TITLES and not NUMBERED.fullmatch(one)] == []
    assert sorted(TITLES - set(printed)) == []


def test_no_words_of_sources_are_left_over() -> None:
    assert sorted(ours().keys() - {part.lower() for part in PARTS}) == []


@pytest.mark.parametrize("language", finished())
def test_what_is_cited_is_the_same_in_every_language(language: str) -> None:
    first, said = words(), words(language)
    for number in ours().values():
        there = first.say(HEAD + number)
        cited = [one.text for one in pieces(there, said.say) if one.cited]
        assert [one for one in cited if not all(p in there for p in one.split(", "))] == [], number


def test_what_is_not_cited_is_not_english() -> None:
    said = words("es")
    for number in ours().values():
        own = "".join(one.text for one in pieces(f"{{{number}}}", said.say) if not one.cited)
        assert not FUNCTION_WORDS.search(own), own


def test_in_english_a_source_reads_as_its_file_has_it() -> None:
    for source in SOURCES:
        assert told(keyed(source), words().say).lower() == source.lower()


@pytest.mark.parametrize("part", ["walk", "figures"])
def test_the_phones_rules_name_words_of_ours_by_number_and_its_words_have_them(part: str) -> None:
    book = export(part)
    given = {one["source"] for kind in SOURCED for one in book[kind].values()}
    numbers = {number for source in given for number in KEYED.findall(source)}
    assert not [source for source in given if source.lower() in ours() and source != PRACTICE]
    assert len(numbers) > 100
    assert numbers <= set(ours().values())


TOLD = [
    ("a law alone", "49 CFR 393.9", [("49 CFR 393.9", True)]),
    (
        "a law and our words",
        "49 CFR 393.102(a)(1); statics",
        [("49 CFR 393.102(a)(1)", True), ("; ", False), ("estática", False)],
    ),
    (
        "cited within our words",
        "49 CFR 393.11 table: two tail lamps at the rear",
        [("49 CFR 393.11", True), (", tabla: dos luces traseras", False)],
    ),
    ("an older release's own", "A book of that time", [("A book of that time", True)]),
]


@pytest.mark.parametrize(("why", "source", "wanted"), TOLD)
def test_a_source_is_told_in_pieces(why: str, source: str, wanted: list[Piece]) -> None:
    assert pieces(source, words("es").say) == wanted, why
    assert pieces(keyed(source), words("es").say) == wanted, why
