"""Every class is used where it is defined, and defined where it is used."""

import re
from functools import cache
from pathlib import Path

import pytest

from tests.support.classes import STATIC, TEMPLATES, defined, in_script, in_template
from webapp.app_files.fetched import STYLES

CSS = STATIC / "css"
SCRIPTS = sorted(STATIC.rglob("*.js"))
PAGES = sorted(TEMPLATES.rglob("*.html"))

# Classes that are put together of a word and a value, and which values there are.
PUT_TOGETHER = {
    "after-": ["bearings", "brakes", "loaded", "storage", "tires", "wheels"],
    "axle-": ["2", "3"],
    "d-": ["barrel", "dark", "lamp", "part", "ring", "rim", "rubber", "steel", "tire"],
    "q-": ["brake_done", "brake_found"],
    "": ["stop", "mend", "look", "nothing", "unchecked"],
}
# What nothing dresses, but scripts and tests find by it.
FOUND_BY = {
    "more-below": "tests/support/phone.py",
    "roadside": "static/screens/stop_now.js",
    "whose": "tests/phone/test_run_screen.py",
    "why": "static/first.js",
    "beside": "tests/phone/test_open_beside.py",
    "word": "tests/phone/test_signs_apart.py",
}


@cache
def by_sheet() -> dict[str, set[str]]:
    return {
        path.relative_to(CSS).with_suffix("").as_posix(): defined(path.read_text("utf-8"))
        for path in CSS.rglob("*.css")
    }


def sheet_of(of: str) -> set[str]:
    sheets = (*STYLES["app"], *STYLES["later"]) if of == "app" else STYLES[of]
    return set().union(*(by_sheet()[name] for name in sheets))


def words_in(paths: list[Path]) -> set[str]:
    """Every word that stands in a text of a script or page, wherever."""
    texts = re.compile(r"\"[^\"\n]*\"|'[^'\n]*'|`[^`]*`|=\"[^\"]*\"")
    found = (word for path in paths for word in texts.findall(path.read_text("utf-8")))
    return {name for text in found for name in re.findall(r"[\w-]+", text)}


COMPOSED = {head + end for head, ends in PUT_TOGETHER.items() for end in ends}


@pytest.mark.parametrize("name", sorted(by_sheet()))
def test_every_class_of_a_sheet_is_used(name):
    used = words_in([*SCRIPTS, *PAGES, STATIC / "index.html"])
    assert sorted(by_sheet()[name] - used - COMPOSED) == []


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.relative_to(STATIC).as_posix())
def test_every_class_of_a_script_is_defined(path):
    assert sorted(in_script(path.read_text("utf-8")) - sheet_of("app") - set(FOUND_BY)) == []


def test_every_class_of_the_page_is_defined():
    page = in_template((STATIC / "index.html").read_text("utf-8"))
    assert sorted(page - sheet_of("app") - set(FOUND_BY)) == []


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.name)
def test_every_class_of_a_template_is_defined(path):
    assert sorted(in_template(path.read_text("utf-8")) - sheet_of("shop") - set(FOUND_BY)) == []


@pytest.mark.parametrize("name", FOUND_BY)
def test_what_nothing_dresses_is_found_by_a_test_or_a_script(name):
    assert name not in sheet_of("app")
    text = (Path(__file__).parents[2] / FOUND_BY[name]).read_text("utf-8")
    assert re.search(rf"\.{name}\b", text)


def test_a_missing_and_a_left_over_class_are_seen():
    assert defined(
        "/* .no */ @media (min-width: 1px) { .one .two:has(.three) { color: red } }"
    ) == {
        "one",
        "two",
        "three",
    }
    script = """h("p", { class: on ? "four" : "five" }, say("x", { y }));
      button(say("x", { y }), () => go("#/"), "six seven");
      h("p", { class: `eight ${nine} x${y}` })"""
    assert in_script(script) == {"four", "six", "seven", "eight"}
    assert in_template('<p class="ten {{ level }} x-{{ one }}">') == {"ten"}
