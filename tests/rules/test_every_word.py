"""Each text of the catalogue, drawn with its values in every case: none of it is English.

Walks, pages, prints and mails are read as a whole elsewhere (test_tongues.py, test_language.py);
what they do not come by is read here, and the phone says the same (test_tongues.py).
"""

from __future__ import annotations

import re

import pytest
from babel import Locale

from checks.rulebook import export_words
from checks.sources import HEAD
from checks.words import FIRST, finished, words
from tests.support.drawn import COUNTS, counted, selected, ways
from tests.support.tongue import FUNCTION_WORDS

OTHERS = finished()[1:]
SPANISH = words("es")
# What reads alike in both languages, with the reason; the list may only shrink.
ALIKE = {
    "error": "cli-args-error",
    "Normal": "fact-braking.choice-normal",
    "No": "every answer that is a no",
    "Twentymile": "the name",
    "VIN": "what is stamped on the plate",
    "SHA": "SHA-256, the name of a hash",
    "min": "minutes, by their sign",
    "mph": "a unit by its sign",
}
STATES = "fact-state.choice-"  # most have one name in both
# English on a tire or a print, quoted as it stands there.
QUOTED = re.compile(r"«[^»]*»|\[[^]]*\]")
SHAPES = re.compile(r"\{\"axles\": 1\}")  # how a file of answers is written


def drawn(name: str, language: str) -> list[tuple[str, str]]:
    """Each way the words read in a language, and how the same reads in English."""
    first, said = words(FIRST), words(language)
    return [(said.say(name, **one), first.say(name, **one)) for one in ways(name, language)]


@pytest.mark.slow
@pytest.mark.parametrize("language", OTHERS)
def test_nothing_reads_as_in_english_but_names_and_signs(language: str) -> None:
    alike = {
        word
        for name in words(language).ids()
        if not name.startswith(STATES)
        for text, english in drawn(name, language)
        if text == english
        for word in re.findall(r"[^\W\d_]{3,}|No", text)
    }
    assert alike == ALIKE.keys()


@pytest.mark.slow
@pytest.mark.parametrize("language", OTHERS)
def test_no_english_is_left_in_any_text_and_no_value_unsaid(language: str) -> None:
    english, unsaid = {}, {}
    for name in words(language).ids():
        for text, _ in drawn(name, language):
            own = SHAPES.sub("", QUOTED.sub("", text))
            if found := FUNCTION_WORDS.search(own):
                english[name] = (found[0], text)
            if re.search(r"[{}$]", own):
                unsaid[name] = text
    assert english == {}
    assert unsaid == {}


@pytest.mark.slow
@pytest.mark.parametrize("language", OTHERS)
def test_every_value_that_english_tells_is_told(language: str) -> None:
    """A text that leaves a value out of one of its cases says less than the English one."""
    mark = re.compile(r"‹\d+›")
    less = {
        name: (text, english)
        for name in words(language).ids()
        for text, english in drawn(name, language)
        if set(mark.findall(text)) != set(mark.findall(english))
    }
    assert less == {}


def test_the_look_finds_english_and_a_text_that_reads_alike() -> None:
    assert FUNCTION_WORDS.search("Deje que the hub se enfríe")
    assert FUNCTION_WORDS.search(words(FIRST).say("level-stop.do"))
    assert not FUNCTION_WORDS.search(SPANISH.say("level-stop.do"))


# ---- counts --------------------------------------------------------------------------------------

COUNTED = sorted(
    name
    for name in SPANISH.ids()
    if any(counted(cases) for one in (FIRST, "es") for _, cases in selected(words(one).shape(name)))
)
ENDS_IN_S = {"más"}  # one more, two more


@pytest.mark.parametrize("name", COUNTED)
def test_a_count_goes_with_its_noun(name: str) -> None:
    """Of one there is one; of none, of two, of twenty-one and of a million there are several."""
    for values in ways(name, "es"):
        text = SPANISH.say(name, **values)
        for count in {one for one in values.values() if isinstance(one, int)}:
            after = rf"(?<![\d,.]){count:,} (?:de )?([^\W\d_]+)"
            nouns = set(re.findall(after, text)) - ENDS_IN_S
            assert not [noun for noun in nouns if noun.endswith("s") is (count == 1)], text


@pytest.mark.parametrize("language", ["en", "es"])
def test_counts_are_those_of_every_plural_form(language: str) -> None:
    """Unicode CLDR."""
    forms = {Locale.parse(language).plural_form(count) for count in COUNTS}
    assert forms == set(Locale.parse(language).plural_form.tags) | {"other"}


def test_a_count_that_went_with_the_wrong_noun_would_be_seen() -> None:
    assert len(COUNTED) > 40
    told = {count: SPANISH.unit("year", str(count)) for count in COUNTS}
    assert told == {0: "años", 1: "año", 2: "años", 21: "años", 1_000_000: "años"}


# ---- where it is shown ---------------------------------------------------------------------------


# No check leads to these, so that no phone has them: `explain` at the command line tells two, and a
# limit of the shop's calendar has the last.
ELSEWHERE = {"quantity-healthy_low", "quantity-wire_area", "source-92"}


def test_the_phone_has_the_words_that_its_rules_say() -> None:
    phone = {name for part in ("first", "later", "figures") for name in export_words(part)["say"]}
    starts = ("finding-", "fact-", "quantity-", "station-", "caution-", "level-", HEAD)
    assert {one for one in SPANISH.ids() if one.startswith(starts)} - phone == ELSEWHERE
