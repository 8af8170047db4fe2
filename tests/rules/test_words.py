"""The catalogue of words: what it says, what it refuses, and what the phone gets of it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from checks.facts import BadInput
from checks.judge import judge
from checks.places import place_name
from checks.rulebook import PARTS, export, export_words, load
from checks.units import range_text, units
from checks.words import HERE, Words, languages, words
from tests.support.tongue import english_of

TEXT = """
plain = A word
    .more = Said with it
held = See { plain }: { plain.more }
-brand = Ours
branded = { -brand }
counted = { $count ->
    [0] nothing
    [one] { $count } thing
   *[other] { $count } things
}
"""


@pytest.fixture
def said(tmp_path: Path) -> Words:
    (tmp_path / "a.ftl").write_text(TEXT, "utf-8")
    return Words("en", tmp_path)


@pytest.mark.parametrize(
    ("name", "values", "text"),
    [
        ("plain", {}, "A word"),
        ("plain.more", {}, "Said with it"),
        ("held", {}, "See A word: Said with it"),
        ("branded", {}, "Ours"),
        ("counted", {"count": 0}, "nothing"),
        ("counted", {"count": 1}, "1 thing"),
        ("counted", {"count": 2}, "2 things"),
        ("counted", {"count": 1000}, "1,000 things"),
    ],
)
def test_words_are_said_with_their_values(said, name, values, text):
    assert said.say(name, **values) == text


@pytest.mark.parametrize(
    ("name", "named"), [("nothing", "nothing"), ("plain.less", "plain.less"), ("counted", "count")]
)
def test_what_is_missing_is_named(said, name, named):
    with pytest.raises(KeyError, match=re.escape(named)):
        said.say(name)


def test_the_phone_gets_text_values_and_cases(said):
    assert said.export(["held", "counted", "plain"])["say"] == {
        "counted": [
            {
                "select": "count",
                "cases": {
                    "0": ["nothing"],
                    "one": [{"value": "count"}, " thing"],
                    "other": [{"value": "count"}, " things"],
                },
            }
        ],
        "held": "See A word: Said with it",
        "plain": "A word",
    }


# What is written, and the fault that is told.
REFUSED = {
    "a function": ("a = { NUMBER($n) }", "a.ftl, a: FunctionReference is not used here"),
    "a choice on a function": (
        "a = { NUMBER($n) ->\n   *[x] y\n }",
        "a.ftl, a: a choice stands on",
    ),
    "words that name themselves": ("a = { b }\nb = { a }", "a.ftl, a: maximum recursion"),
    "words that name none": ("a = { c }", "a.ftl, a: names c, which is missing"),
    "an id given twice": ("a = x\na = y", "a.ftl, a: stands in en/a.ftl too"),
    "an attribute given twice": ("a = x\n    .b = y\n    .b = z", "a.ftl, a.b: stands twice"),
    "what is no Fluent": ("a = x\n= y", "a.ftl, line 2: "),
}


@pytest.mark.parametrize("case", REFUSED)
def test_a_fault_in_the_words_is_named(tmp_path, case):
    text, told = REFUSED[case]
    (tmp_path / "a.ftl").write_text(text + "\n", "utf-8")
    assert any(fault.startswith(f"en/{told}") for fault in Words("en", tmp_path).faults)


def test_a_language_there_is_not_is_named():
    assert "en" in languages()
    with pytest.raises(KeyError, match="tlh"):
        words("tlh")


@pytest.mark.parametrize(("length", "kept"), [(2500, 2500), (2501, 2500), (6000, 2500)])
def test_a_value_without_end_is_clipped_and_hides_no_words(length, kept):
    said = words("en").say("error-not_canonical", reason="#" * length)
    assert said.count("#") + said.count("…") == kept
    assert said.startswith("The record has no canonical form: #")


@pytest.mark.parametrize(
    ("language", "ends", "unit", "text"),
    [
        ("en", (60, 80), "degF", "60 to 80 °F"),
        ("es", (60, 80), "degF", "60 a 80 °F"),
        ("es", (-10, 0), "degC", "-10 a 0 °C"),
        ("es", (3, 3), "in32", "3/32 in"),
        ("en", (5, 6.5), "year", "5.0 to 6.5 years"),
        ("es", (5, 6.5), "year", "5.0 a 6.5 años"),
        ("es", (2, 2), "day", "2 días"),
        ("es", (1, 1), "day", "1 día"),
        ("es", (0, 1), "step", "0 a 1 paso"),
        ("es", (1, 1), "year", "1.0 año"),
        ("es", (1, 1.5), "year", "1.0 a 1.5 años"),
        ("es", (1, 1), "slot", "1.0 ranura"),
        ("en", (1, 1), "day", "1 day"),
        ("en", (1, 1), "year", "1.0 years"),
        ("es", (1, 2), "step", "1 a 2 pasos"),
        ("es", (1.5, 1.5), "slot", "1.5 ranuras"),
        ("es", (2, 3), "thou", "2.0 a 3.0 milésimas"),
        ("es", (3, 3), "count", "3"),
        ("en", (3, 1e9), "step", "3 to any steps"),
        ("es", (3, 1e9), "step", "3 a sin límite pasos"),
        ("es", (-1e9, 5), "degC", "sin límite a 5 °C"),
        ("en", (-1e9, 1e9), "degC", "none to any °C"),
        ("es", (-1e9, 1e9), "degC", "sin límite °C"),
    ],
)
def test_a_range_is_said_in_the_readers_language(language, ends, unit, text):
    """Its plural forms: Unicode CLDR."""
    assert words(language).range_text(ends, unit) == text
    told = words(language).say("app-pad-outside", given="3", range=range_text(ends, unit))
    assert text in told


# Names of units and of measures that people write alike in both languages.
SIGNS = {"palmgren"}


@pytest.mark.parametrize("unit", units())
def test_a_unit_whose_label_is_english_is_said_in_every_language(unit):
    label = units()[unit]["label"]
    assert words("en").unit(unit) == label, "what may be typed is what is shown"
    is_word = unit not in SIGNS and re.search(r"[a-z]{4}|per ", label) is not None
    assert words("en").has(f"unit-{unit}") is is_word


@pytest.mark.parametrize(
    ("place", "axles", "name"),
    [
        ("", 1, ""),
        ("", 2, ""),
        ("1L", 1, "Left wheel"),
        ("1R", 1, "Right wheel"),
        ("1L", 2, "Left wheel, axle 1"),
        ("2R", 3, "Right wheel, axle 2"),
        ("1", 1, "Left and right"),
        ("2", 2, "Axle 2, left and right"),
    ],
)
def test_a_place_has_one_name(place, axles, name):
    assert place_name(words("en"), place, axles) == name


@pytest.mark.parametrize("part", PARTS)
def test_a_part_comes_with_all_the_words_it_needs_and_none_of_the_pages(part):
    book, said = export(part), export_words(part)["say"]
    needed = {f"fact-{name}" for name in book["facts"]}
    needed |= {f"finding-{name}.do" for name in book["findings"]}
    needed |= {f"point-{p['id']}" for s in book["stations"] for p in s["points"]}
    assert needed <= set(said)
    assert not [name for name in said if name.startswith(("shop-", "print-", "mail-", "cli-"))]
    assert "words" not in book


@pytest.mark.slow
def test_the_figures_words_come_beside_those_of_the_walk_and_leave_none_out():
    first, later, alone = (export_words(part) for part in ("first", "later", "figures_alone"))
    assert not alone["say"].keys() & (first["say"] | later["say"]).keys()
    together = first["say"] | later["say"] | alone["say"]
    assert export_words("figures")["say"].items() <= together.items()
    assert alone["whole"] == words("en").export(together)["hash"]


def test_what_a_stops_answer_is_refused_with_is_said_from_the_first_visit_on():
    """Of a stop that asks for numbers alone; sizes, dates and texts are asked with later words."""
    scripts = (HERE.parents[1] / "static" / "engine").glob("*.js")
    codes = {
        f"error-{code}"
        for path in scripts
        if path.name != "explain.js"
        for code in re.findall(r'new BadInput\(\s*"(\w+)"', path.read_text("utf-8"))
    }
    first, later = (export_words(part)["say"] for part in ("first", "later"))
    assert len(codes) > 20
    at_first = {name for name in first if name.startswith("error-")}
    typed = ("error-number", "error-range", "error-unit")
    assert at_first == {name for name in codes if name.startswith(typed)}
    assert codes - at_first == {name for name in later if name.startswith("error-")}
    asked = {fact["kind"] for name, fact in load().data["facts"].items() if f"fact-{name}" in first}
    assert asked <= {"number", "choice"}


def test_every_code_of_a_refusal_has_its_words_and_every_such_word_a_code():
    checks = HERE.parent
    source = "".join(p.read_text("utf-8") for p in [*checks.glob("*.py"), *checks.glob("*/*.py")])
    codes = set(re.findall(r'raise BadInput\(\s*"(\w+)"', source))
    files = words("en").files
    assert {f"error-{code}" for code in codes} == {
        name for name, file in files.items() if file == "en/inputs.ftl"
    }


def test_a_refusal_names_key_and_code_apart_from_its_sentence():
    error = BadInput("axle", "hub_feel@2L", axle=2, axles=1)
    assert (error.key, error.code) == ("hub_feel@2L", "axle")
    assert error.told(words("en")) == "there is no axle 2 on a trailer with 1."
    assert str(error) == "hub_feel@2L: there is no axle 2 on a trailer with 1."


OUTSIDE = [
    ("axles", 7, "7 no puede ser aquí; debe ser de 1 a 3."),
    ("axles", "two", "'two' no es un número; escriba uno de 1 a 3."),
    ("air", "warm", "'warm' no es un número; escriba uno como 12 o '12 degC'."),
    ("air", "900 degF", "482 °C no puede ser aquí; debe ser de "),
]


@pytest.mark.parametrize(("fact", "raw", "told"), OUTSIDE)
def test_a_refusal_is_told_whole_in_the_readers_language(fact, raw, told):
    with pytest.raises(BadInput) as refused:
        judge({"check": "walkaround", "date": "2026-07-14", "facts": {fact: raw}})
    text = refused.value.told(words("es"))
    assert text.startswith(told)
    assert english_of([text], "es") == []
