"""The Spanish words read easily, and each thing has one word."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from unicodedata import combining, normalize

import pytest

from checks.rulebook import export
from checks.words import words
from tests.support.readable import (
    FAIRLY_EASY,
    VERY_EASY,
    counts,
    fernandez_huerta,
    inflesz,
    syllables,
)

SAID = words("es")
ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize(
    ("word", "count"),
    [
        ("maza", 2),
        ("cuerda", 2),
        ("aceite", 3),
        ("leer", 2),
        ("roedor", 3),
        ("enfríe", 3),
        ("baúl", 2),
        ("tensión", 2),
        ("ciudad", 2),
        ("enganche", 3),
        ("remolque", 3),
        ("siga", 2),
        ("guía", 2),
        ("muy", 1),
        ("y", 1),
        ("desagüe", 3),
        ("apóyelo", 4),
    ],
)
def test_syllables_are_counted_as_spanish_is_spelt(word: str, count: int) -> None:
    assert syllables(word) == count


@pytest.mark.parametrize(
    ("numbers", "huerta", "szigriszt"),
    [
        ((100, 200, 5), 66.44, 62.235),
        ((100, 200, 10), 76.64, 72.235),
        ((10, 16, 3), 107.44, 103.82),
    ],
)
def test_the_formulas_give_what_they_come_to_by_hand(
    numbers: tuple[int, int, int], huerta: float, szigriszt: float
) -> None:
    assert fernandez_huerta(*numbers) == pytest.approx(huerta, abs=0.01)
    assert inflesz(*numbers) == pytest.approx(szigriszt, abs=0.01)


def test_words_and_sentences_are_counted() -> None:
    text = "No siga. Deje que se enfríe. No toque la maza."
    assert counts([text]) == (10, 16, 3)  # counted by hand
    assert counts(["Mida 1.6 mm (1/16 pulg.). GVWR", "123"]) == (1, 2, 1)


def texts(*starts: str, ends: str = "") -> list[str]:
    """The words whose names begin and end so, each case of a choice for itself."""
    found: list[str] = []
    for name in SAID.ids():
        if name.startswith(starts) and name.endswith(ends):
            found += flat(SAID.shape(name))
    return found


def flat(pieces: list[object]) -> list[str]:
    cases = [one for one in pieces if isinstance(one, dict) and "select" in one]
    if cases:
        return [text for case in cases[0]["cases"].values() for text in flat(case)]
    return [" ".join(one for one in pieces if isinstance(one, str))]


POOLS = [
    ("everything", ("",), "", FAIRLY_EASY),
    ("what to do about a finding", ("finding-",), ".do", VERY_EASY),
    ("findings, titles and reasons too", ("finding-",), "", FAIRLY_EASY),
    ("cautions", ("caution-",), "", VERY_EASY),
    ("the roadside", ("app-roadside", "app-stop", "level-"), "", VERY_EASY),
    ("questions and their help", ("fact-",), "", FAIRLY_EASY),
    ("what a customer is sent", ("text-", "print-"), "", FAIRLY_EASY),
    ("the shop's pages", ("shop-", "form-"), "", FAIRLY_EASY),
    ("what is refused", ("error-",), "", FAIRLY_EASY),
]


@pytest.mark.parametrize(("pool", "starts", "ends", "least"), POOLS)
def test_it_reads_easily(pool: str, starts: tuple[str, ...], ends: str, least: int) -> None:
    numbers = counts(texts(*starts, ends=ends))
    assert numbers[0] >= 100, pool
    assert inflesz(*numbers) >= least, (pool, numbers, inflesz(*numbers))


def test_a_hard_text_would_fail() -> None:
    """An official's sentence, written for this test."""
    hard = (
        "Con independencia de las comprobaciones anteriormente especificadas, el propietario queda "
        "responsabilizado de la verificación reglamentaria del funcionamiento de los dispositivos "
        "de señalización correspondientes al vehículo remolcado."
    )
    assert inflesz(*counts([hard])) < 40


GLOSSARY = tomllib.loads((ROOT / "docs" / "glossary-es.toml").read_text("utf-8"))
TERMS = {name: it for name, it in GLOSSARY.items() if name != "source"}
# Synonyms that would only ever mean the same thing here: none of them stands in the catalogue.
ONE_WORD = {
    "rodamiento": "balero",
    "rulemán": "balero",
    "cojinete": "balero",
    "neumático": "llanta",
    "cubierta de la llanta": "llanta",
    "cubo de rueda": "maza",
    "gata hidráulica": "gato",
    "timón": "lanza",
}
# The words by which somebody may look for a thing; a first mention may name them in brackets.
MAY = ("app-figures-also", "shop-find-work", "shop-take-called")


@pytest.mark.parametrize("other", ONE_WORD)
def test_each_thing_has_one_word(other: str) -> None:
    found = [
        name
        for name in SAID.ids()
        if not name.startswith(MAY)
        and any(
            re.search(rf"\b{other}(?:s|es)?\b", re.sub(r"\([^)]*\)", " ", text).lower())
            for text in flat(SAID.shape(name))
        )
    ]
    assert found == [], f"say {ONE_WORD[other]}"


def test_the_glossary_holds_words_of_the_catalogue_and_texts_that_are_named() -> None:
    said = " ".join(text for name in SAID.ids() for text in flat(SAID.shape(name))).lower()
    gone = [it["es"] for it in TERMS.values() if it["es"].lower() not in said]
    assert gone == []
    assert {it["found"] for it in TERMS.values() if "found" in it} == set(GLOSSARY["source"])


def plain(text: str) -> str:
    """Without case and accents, as a search compares."""
    return "".join(c for c in normalize("NFD", text) if not combining(c)).lower()


def searched() -> list[str]:
    """What the app's search looks through: the names of each topic of the figures."""
    found = []
    for station in export("figures")["stations"]:
        for point in station["points"]:
            names = [f"point-{point['id']}", *(f"quantity-{one}" for one in point.get("shows", ()))]
            found.append(plain(" ".join(SAID.say(name) for name in names)))
    return found


def also() -> dict[str, list[str]]:
    lines = (line.split(": ") for line in plain(SAID.say("app-figures-also")).split("; "))
    return {own: others.split(", ") for own, others in lines}


def test_every_other_word_of_the_glossary_finds_what_the_word_of_the_catalogue_finds() -> None:
    texts, listed, missing, looked = searched(), also(), [], 0
    for term in TERMS.values():
        word = plain(term["es"])
        here = {at for at, text in enumerate(texts) if word in text}
        for other in term.get("also", []) if here else []:
            if len(other) < 3 or plain(other) in word:
                continue
            looked += 1
            owns = [other, *(own for own, others in listed.items() if plain(other) in others)]
            found = {at for at, text in enumerate(texts) if any(plain(o) in text for o in owns)}
            missing += [f"{other} does not find {term['es']}"] if here - found else []
    assert missing == []
    assert looked > 80
    assert {"masa", "rodamiento", "cubo"} <= {one for others in listed.values() for one in others}


def test_no_sentence_ends_in_two_points() -> None:
    """The time of day ends in one of its own: ``4:46 p.m.`` (Unicode CLDR, ``es-US``)."""
    times = ("time", "made")
    found = []
    for name in SAID.ids():
        text = "".join(
            piece if isinstance(piece, str) else "p.m." if piece.get("value") in times else "\0"
            for way in ways(SAID.shape(name))
            for piece in way
        )
        if ".." in text.replace("...", ""):
            found.append(name)
    assert found == []


def ways(pieces: list[Any]) -> Iterator[list[Any]]:
    """Each case of a choice is a way to say it; what stands around one is told with each."""
    choices = [one for one in pieces if isinstance(one, dict) and "select" in one]
    yield [one for one in pieces if one not in choices]
    for one in choices:
        for case in one["cases"].values():
            yield from ways(case)
