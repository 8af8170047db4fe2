"""The trailer's file draws each hub against its mate and says when one climbs stop by stop."""

from __future__ import annotations

import re
from datetime import timedelta
from typing import Any

import pytest

from checks.history import hub_gaps
from checks.trend import BEFORE
from tests.support.floor import DAY, NOW, Floor, let_in, run_stop
from tests.support.records import check_body, record
from webapp.shop.plots import Reading, Row, Sign, plots, step_for
from webapp.shop.print.check import Document

ROAD = {"axles": 1, "brakes": "none", "air": 20, "run_distance": 40, "run_speed": 90, "parked": 3,
        "hub_method": "thermometer", "hub_spot": "barrel", "hub_size": "bore_27"}  # fmt: skip
LEVEL = [36.5] * 6
CLIMB = [*LEVEL, 40.0, 43.5, 47.0]


def stop(left: float, ago: timedelta, **facts: Any) -> dict[str, Any]:
    made = NOW - ago
    body = check_body(
        check="quick_stop",
        date=made.date().isoformat(),
        facts=ROAD | {"hub_reading@1L": left, "hub_reading@1R": 36.0} | facts,
    )
    return record(made=made.isoformat(), body=body)


def file_page(floor: Floor, lefts: list[float]) -> str:
    for number, left in enumerate(lefts):
        assert floor.send(stop(left, (len(lefts) - number) * DAY)).status_code == 200
    client = floor.app.test_client()
    let_in(client, floor.app, floor.staff)
    return str(client.get(f"/shop/trailers/{floor.trailer}/file").text)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("title", "lefts", "climbs"),
    [("a climb", CLIMB, 1), ("level", LEVEL, 0), ("too few", CLIMB[-4:], 0)],
)
def test_a_steady_climb_is_told_beside_its_plot(floor, title, lefts, climbs):
    page = file_page(floor, lefts)
    assert page.count("A steady climb from stop to stop") == 2 * climbs, title  # text and label
    assert "Each hub against its mate" in page


@pytest.mark.slow
def test_a_single_stop_draws_nothing(floor):
    assert "Each hub against its mate" not in file_page(floor, LEVEL[:1])


def test_work_on_the_hub_begins_the_row_again(floor):
    floor.change("jobs", floor.job, work=["bearings"], finished=NOW - 2 * DAY)
    assert "A steady climb" not in file_page(floor, CLIMB)


GAPS = [
    ("both measured", {}, "1L", True),
    ("seen from the mate", {}, "1R", True),
    ("one not measured", {"hub_reading@1R": None}, "1L", False),
    ("an answer that is none", {"air": "warm"}, "1L", False),
    ("a wheel it does not have", {}, "3L", False),
]


@pytest.mark.parametrize(("title", "facts", "wheel", "known"), GAPS, ids=[g[0] for g in GAPS])
def test_a_stop_says_something_of_a_hub_or_nothing(title, facts, wheel, known):
    body = stop(40.0, DAY, **facts)["body"]
    found = hub_gaps(body).get(wheel)
    assert (found is not None) == known, title
    if found:
        assert (found.middle > 0) == (wheel == "1L")


# ---- tires, and all of it on paper -------------------------------------------------------------


def tires(ago: int, pressure: Any, tread: Any, **facts: Any) -> dict[str, Any]:
    made = NOW - ago * DAY
    wheel = {"pressure@1L": pressure, "tread@1L": tread, "tire_made@1L": "1024"}
    common = {"axles": 1, "brakes": "none", "tread_by": "gauge", "tire_warmth": "cold"}
    body = check_body(check="tires", date=made.date().isoformat(), facts=common | wheel | facts)
    return record(made=made.isoformat(), body=body)


WORN = [tires(240, 450, 9), tires(120, 430, 7), tires(1, 410, 5)]


def with_tires(floor: Floor, kept: list[dict[str, Any]]) -> str:
    for one in kept:
        assert floor.send(one).status_code == 200
    return file_page(floor, [])


def plot(page: str, name: str, number: int) -> str:
    """The drawing of that number below the heading ``name``."""
    return page.split(f"<h2>{name}</h2>")[1].split('<svg class="plot"')[number].split("</svg>")[0]


@pytest.mark.slow
def test_loss_wear_and_the_day_of_the_bars_stand_beside_their_plots(floor):
    page = with_tires(floor, WORN)
    # 40 kPa in 239 days, 6.9 more or less by the gauge: 33.1 to 46.9 kPa in 7.85 months.
    assert "Loses 0.6 to 0.9 psi a month" in page
    assert re.search(r"down to the wear bars between \w+ \d+, 20\d\d and", page)
    assert plot(page, "Tread", 1).count("<circle") == 3
    assert "<rect" not in plot(page, "Tread", 1)


def test_wear_is_told_by_the_distance_known_to_be_driven(floor):
    far = [stop(36.5, days * DAY, run_distance=800) for days in (200, 100)]
    page = with_tires(floor, [*WORN, *far])
    assert re.search(r"Wears [\d.]+ to [\d.]+ /32 in per 1,000 miles", page)
    floor.change("shops", floor.shop, units="metric")
    page = file_page(floor, [])
    assert re.search(r"Wears [\d.]+ to [\d.]+ mm per 1,000 km", page)
    assert re.search(r"Loses \d+ to \d+ kPa a month", page)


def test_a_rough_answer_is_a_bar_and_new_tires_are_marked(floor):
    rough = tires(60, [400, 450], [2, 6])
    new = tires(0, 450, 10, **{"tire_made@1L": "1026"})
    page = with_tires(floor, [*WORN, rough, new])
    for name in ("Pressure, cold", "Tread"):
        drawn = plot(page, name, 1)
        assert drawn.count("<circle") == 4, name
        assert drawn.count('class="bar rough"') == 1, name
        assert drawn.count('class="mark tires"') == 1, name


def test_a_row_too_short_says_so_and_a_long_one_that_none_climbs(floor):
    page = file_page(floor, LEVEL[:BEFORE])
    assert "since the last bearing work are needed" in page
    assert "No steady climb seen" not in page
    assert "No steady climb seen" in file_page(floor, LEVEL)


def test_work_on_a_hub_stands_in_its_plot_once_a_day(floor):
    floor.change("jobs", floor.job, work=["bearings"], finished=NOW - 2 * DAY)
    drawn = plot(file_page(floor, CLIMB), "Each hub against its mate", 1)
    assert drawn.count('class="mark"') == 1
    assert drawn.count('class="band"') == 1


def test_what_happened_on_the_day_of_the_last_reading_is_marked():
    at = 1_793_333_333_333.0
    rows = [Reading(at - 5 * 86_400_000, 1, 2), Reading(at / 86_400_000 * 86_400_000 - 0.1, 1, 2)]
    (drawn,) = plots([Row("Left wheel", "", rows, [Sign(at, "tires", "T")])], "psi")
    assert len(drawn.marks) == 1
    assert drawn.marks[0][0] == drawn.dots[-1][0]


STEPS = [(0.9, 0.2), (1.0, 0.2), (1.01, 0.5), (4, 1.0), (60, 20.0), (0.0, 2e-7)]


@pytest.mark.parametrize(("span", "step"), STEPS)
def test_lines_stand_at_round_values_and_are_few(span, step):
    assert step_for(span) == pytest.approx(step)


def paper(floor: Floor, trailer: int) -> Any:
    client = floor.app.test_client()
    let_in(client, floor.app, floor.staff)
    return client.get(f"/shop/trailers/{trailer}/years.pdf")


@pytest.fixture
def written(monkeypatch):
    """What is written on paper, whose drawing is left unpacked."""
    texts, told, begin = [], Document.told, Document.add_page

    def unpacked(self: Document) -> None:
        self.set_compression(False)
        begin(self)

    monkeypatch.setattr(Document, "told", lambda self, text: texts.append(text) or told(self, text))
    monkeypatch.setattr(Document, "add_page", unpacked)
    return texts


@pytest.mark.slow
def test_the_plots_go_on_paper_without_any_colour(floor, written):
    with_tires(floor, WORN)
    file_page(floor, CLIMB)
    answer = paper(floor, floor.trailer)
    assert answer.mimetype == "application/pdf"
    for words in ("Each hub against its mate", "Tread", "Left wheel", "N·m"):
        assert words in written, words
    for words in ("A steady climb from stop to stop", "psi a month", "wear bars between"):
        assert any(words in text for text in written), words
    colours = set(re.findall(rb"([\d.]+) ([\d.]+) ([\d.]+) (?:rg|RG)\b", answer.data))
    assert all(len(set(one)) == 1 for one in colours), colours  # greys at the most
    assert colours or b"0.8824 g" in answer.data  # the band


def test_a_trailer_without_readings_gives_a_page_that_says_so(floor, written):
    assert paper(floor, floor.trailer).status_code == 200
    assert "None" in " ".join(written)


def test_another_shops_trailer_is_not_printed(floor):
    assert paper(floor, floor.trailer + 1).status_code == 404


@pytest.mark.long
def test_what_the_pages_plot_is_there_on_paper(chromium, floor):
    """Marks of the plots and of what came back, with the styles that a printer gets."""
    pages = [file_page(floor, CLIMB)]
    floor.change("jobs", floor.job, finished=NOW - 2 * DAY, work=["bearings"])
    floor.send(run_stop(smoke__1L="yes"))
    client = floor.app.test_client()
    let_in(client, floor.app, floor.staff)
    pages.append(client.get("/shop/comebacks").text)
    style = f"<style>{client.get('/shop.css').text}</style>"
    paper = chromium.new_page()
    paper.emulate_media(media="print")
    for html, marks in zip(pages, ("svg .bar, svg .dot", "svg .bar"), strict=True):
        paper.set_content(html.replace('<link rel="stylesheet" href="/shop.css">', style))
        drawn = paper.locator(marks)
        assert drawn.count() > 0
        assert [one for one in drawn.all() if not one.is_visible()] == []
        assert {one.evaluate(BLACK) for one in drawn.all()} <= {"rgb(0, 0, 0)"}
    paper.close()


BLACK = """one => { const { fill, stroke } = getComputedStyle(one);
  return fill === "none" ? stroke : fill; }"""
