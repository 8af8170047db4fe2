"""The drawings: each explains something that is asked, names its parts, and stands in the table."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

from checks.rulebook import load
from checks.words import words
from tests.phone.test_walk import begin
from tests.support.browser import STATIC
from tests.support.phone import Phone, installed

TABLE = STATIC.parent / "docs" / "drawings.md"

# What each drawing explains, and how many parts are numbered at most, on one axle and on two.
TOLD = """async () => {
  const { SUBJECTS } = await import("/static/parts/drawings/shown.js");
  const plates = (draw, build) => draw("", build).querySelectorAll(".d-plate").length;
  const all = Object.entries(SUBJECTS).map(([name, { draw, facts }]) => [name, { facts,
    plates: Math.max(plates(draw, { axles: 1, brakes: "surge" }), plates(draw, { axles: 2 })) }]);
  return Object.fromEntries(all);
}"""


@pytest.fixture(scope="module")
def one(
    chromium: Browser, server: str, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Phone]:
    with installed(chromium, server) as it:
        yield it


@pytest.fixture(scope="module")
def told(one: Phone) -> dict[str, dict[str, Any]]:
    return dict(one.page.evaluate(TOLD))


@pytest.mark.long
def test_each_drawing_explains_something_that_is_asked(told: dict[str, dict[str, Any]]) -> None:
    asked = {fact for s in load().stations for point in s.points for fact in point.facts}
    assert {name: set(one["facts"]) - asked for name, one in told.items()} == {
        name: set() for name in told
    }


@pytest.mark.parametrize("language", ["en", "es"])
def test_each_numbered_part_has_its_name_and_each_name_its_number(
    told: dict[str, dict[str, Any]], language: str
) -> None:
    ids = set(words(language).ids())
    for name, one in told.items():
        parts = {id for id in ids if id.startswith(f"drawing-{name}.part-")}
        assert parts == {f"drawing-{name}.part-{n + 1}" for n in range(one["plates"])}, name
        assert {f"drawing-{name}", f"drawing-{name}.help"} <= ids


def test_each_drawing_of_a_single_thing_is_shown_somewhere(told: dict[str, dict[str, Any]]) -> None:
    drawn = re.findall(
        r"^export (?:const|function) (\w+)",
        (STATIC / "parts/drawings/details.js").read_text("utf-8"),
        re.MULTILINE,
    )
    shown = re.findall(
        r"draw: details\.(\w+)", (STATIC / "parts/drawings/shown.js").read_text("utf-8")
    )
    assert sorted(drawn) == sorted(shown)


def test_the_table_names_what_each_drawing_was_checked_against(
    told: dict[str, dict[str, Any]],
) -> None:
    rows = [line.split("|")[1:-1] for line in TABLE.read_text("utf-8").splitlines() if "|" in line]
    table = {
        cells[0].strip().strip("`"): [cell.strip() for cell in cells[1:]] for cells in rows[2:]
    }
    places = re.search(
        r"const PLACES = \{(.*?)\}", (STATIC / "parts/drawings/trailer.js").read_text("utf-8")
    )
    assert places
    assert set(table) == {*told, *re.findall(r"\w+", places[1]), "touch_ladder", "plan"}
    assert all(all(cells) for cells in table.values())


@pytest.mark.long
def test_a_question_has_the_way_to_its_drawing_without_signal(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    with installed(chromium, server) as it:
        it.offline(True)
        begin(it)
        it.tap("Safety chains: Something")
        it.tap_at(".noun")
        it.page.wait_for_selector("dialog.explained .drawing")
        assert it.page.locator("dialog li").count() == 3


def test_a_saved_trailer_is_drawn_as_it_is(one: Phone) -> None:
    side = """async (facts) => {
      const { buildOf, placeDrawing } = await import("/static/parts/drawings/trailer.js");
      return placeDrawing("side", buildOf(facts)).parts.flat(3).filter(Boolean)
        .map((part) => part.outerHTML).join("");
    }"""
    plain = one.page.evaluate(side, {"axles": 1})
    kinds = [
        {"axles": 2},
        {"axles": 1, "brakes": "surge"},
        {"axles": 1, "brakes": "electric"},
        *({"axles": 1, name: "yes"} for name in ("boat", "tilt", "ramps", "enclosed")),
    ]
    drawn = [one.page.evaluate(side, facts) for facts in kinds]
    assert len({plain, *drawn}) == len(kinds) + 1


@pytest.mark.parametrize("axles", [1, 2, 3])
def test_the_pivot_of_a_tilt_bed_is_not_behind_a_wheel(one: Phone, axles: int) -> None:
    seen = """async (axles) => {
      const { buildOf, placeDrawing } = await import("/static/parts/drawings/trailer.js");
      const { drawing } = await import("/static/parts/drawings/line.js");
      const shown = (facts) => {
        const { width, height, parts } = placeDrawing("side", buildOf({ axles, ...facts }));
        const it = drawing("", width, height, parts);
        document.querySelector(".page").replaceChildren(it);
        return [...it.querySelectorAll("*")];
      };
      const plain = new Set(shown({}).map((part) => part.outerHTML));
      const [pivot, ...more] = shown({ tilt: "yes" }).filter((part) =>
        !part.children.length && !plain.has(part.outerHTML));
      pivot.scrollIntoView();
      const { x, y, width, height } = pivot.getBoundingClientRect();
      const over = [[.3, .2], [.5, .2], [.7, .2], [.5, .6]].map(([right, down]) =>
        document.elementFromPoint(x + width * right, y + height * down));
      return [more.length, over.every((part) => part === pivot)];
    }"""
    assert one.page.evaluate(seen, axles) == [0, True]
