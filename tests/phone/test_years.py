"""Each hub, pressure and tread over the years, from checks kept on a phone without signal."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.support.phone import Phone, installed

KEEP = """async (bodies) => {
    const at = (path) => import(`/static/${path}.js`);
    const [{ load }, { openStore, keeping }, { uuid7, hashOf }, { say, has }] = await Promise.all(
        ["engine/judge", "data/store", "data/records", "data/words"].map(at));
    const data = await (await fetch("/rulebook.json")).json(), book = load(data, { say, has });
    const { store } = await openStore(() => {});
    const ids = [];
    for (const { kind, made, body } of bodies) {
        const whole = kind === "check" ? { typed: {}, rulebook: data.hash, ...body,
            verdict: book.judge({ check: body.check, date: body.date, facts: body.facts }) } : body;
        const record = { id: uuid7(Date.parse(made)), kind, version: 1, made, body: whole };
        await store.commit(keeping({ id: record.id, record, hash: await hashOf(record) }));
        ids.push(record.id);
    }
    return ids;
}"""
TRAILER = "01a20ffc-9810-78dc-aa9d-2ee114d62568"
ROAD = {"axles": 1, "brakes": "none", "air": 20, "run_distance": 40, "run_speed": 90, "parked": 3,
        "hub_method": "thermometer", "hub_spot": "barrel", "hub_size": "bore_27"}  # fmt: skip


def check(day: str, kind: str, facts: dict[str, Any]) -> dict[str, Any]:
    body = {"check": kind, "date": day, "trailer": TRAILER, "facts": facts}
    return {"kind": "check", "made": f"{day}T10:00:00+00:00", "body": body}


def stop(day: str, left: float, right: float = 36.0) -> dict[str, Any]:
    return check(day, "quick_stop", ROAD | {"hub_reading@1L": left, "hub_reading@1R": right})


def tires(day: str, pressure: float, tread: float, **facts: Any) -> dict[str, Any]:
    wheel = {"pressure@1L": pressure, "tread@1L": tread}
    common = {"axles": 1, "brakes": "none", "tread_by": "gauge", "tire_warmth": "cold"}
    return check(day, "tires", common | wheel | facts)


HISTORY = [
    {"kind": "trailer", "made": "2025-01-01T10:00:00+00:00",
     "body": {"trailer": TRAILER, "name": "Alder Fork 3", "facts": {"axles": 1, "brakes": "none"},
              "typed": {}}},
    check("2025-01-10", "bench", {"axles": 1, "brakes": "none"}),
    *(stop(f"2025-{month:02d}-10", 36.5) for month in range(2, 8)),
    *(stop(f"2025-{month:02d}-10", 36.5 + 3.5 * (month - 7)) for month in range(8, 11)),
    tires("2025-01-15", 450, 9), tires("2025-05-15", 430, 7), tires("2025-09-15", 410, 5),
]  # fmt: skip


@pytest.fixture(scope="module")
def kept(chromium: Browser, server: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    with installed(chromium, server) as here:
        ids = here.page.evaluate(KEEP, HISTORY)
        here.offline(True)
        yield here, ids
        assert not here.faults


def test_a_steady_climb_is_a_finding_of_its_own_before_a_single_stop_is_bad(
    kept: tuple[Phone, list[str]],
) -> None:
    one, ids = kept
    one.open(f"#/check/{ids[10]}")
    assert one.page.get_by_text("Mend before towing").count() == 0
    one.page.get_by_text("Left wheel: a steady climb").wait_for()
    one.open(f"#/years/{TRAILER}")
    one.page.get_by_text("Left wheel: a steady climb").wait_for()
    assert one.page.get_by_text("Right wheel: a steady climb").count() == 0


DRAFT = """async ([trailer, facts]) => {
    const { openStore } = await import("/static/data/store.js");
    const { store } = await openStore(() => {});
    const draft = { id: "climbing", check: "quick_stop", trailer, date: "2025-11-10",
        started: "2025-11-10T10:00:00+00:00", facts, typed: {}, seen: [] };
    await store.commit([["drafts", draft]]);
}"""


def test_a_climb_is_told_before_the_stop_that_shows_it_is_kept(
    kept: tuple[Phone, list[str]],
) -> None:
    one, _ = kept
    facts = ROAD | {"hub_reading@1L": 50.5, "hub_reading@1R": 36.0}
    one.page.evaluate(DRAFT, [TRAILER, facts])
    one.open("#/sofar/climbing")
    one.page.get_by_text("Left wheel: a steady climb").wait_for()


def test_bench_work_is_marked_and_measured_readings_are_dots(
    kept: tuple[Phone, list[str]],
) -> None:
    one, _ = kept
    one.open(f"#/years/{TRAILER}")
    plot = one.page.get_by_role("img", name="Left wheel against its mate")
    plot.wait_for()
    assert plot.locator("circle").count() == 9
    assert plot.locator(".mark.bench").count() == 1
    assert plot.locator(".band").count() == 1
    one.page.emulate_media(media="print")
    assert all(dot.is_visible() for dot in plot.locator("circle").all())
    one.page.emulate_media(media="screen")


def test_loss_wear_and_the_day_of_the_bars_are_ranges(kept: tuple[Phone, list[str]]) -> None:
    """From 65.3 to 59.5 psi in eight months; from 9 to 5 of 32 in eight, 3 to go."""
    one, _ = kept
    one.open(f"#/years/{TRAILER}")
    one.page.get_by_text("psi a month").first.wait_for()
    loss = one.page.get_by_text("psi a month").first.inner_text()
    low, high = (float(one) for one in re.findall(r"\d\.\d", loss))
    assert low < 5.8 / 8 < high
    bars = one.page.get_by_text("down to the wear bars between").first.inner_text()
    assert "2026" in bars
    assert one.page.get_by_text("per 1,000 miles").count() == 1


def test_bench_work_begins_the_row_again(kept: tuple[Phone, list[str]]) -> None:
    one, _ = kept
    one.offline(False)
    one.page.evaluate(KEEP, [check("2025-11-01", "bench", {"axles": 1, "brakes": "none"})])
    one.page.reload()
    one.page.get_by_text("since the last bearing work are needed").first.wait_for()
    assert one.page.get_by_text("a steady climb").count() == 0


def test_the_history_of_a_wheel_tells_pressure_tread_and_heat(
    kept: tuple[Phone, list[str]],
) -> None:
    one, _ = kept
    one.open(f"#/trailer/{TRAILER}")
    one.settle()
    one.page.locator("summary", has_text="Left wheel").click()
    entries = one.page.locator("details[open] li").all_inner_texts()
    tires = next(text for text in entries if "May 15, 2025" in text)
    stop = next(text for text in entries if "Mar 10, 2025" in text)
    assert re.search(r"62(\.\d)? psi, 7/32 in", tires), tires  # 430 kPa
    assert re.search(r"98(\.\d)? °F", stop), stop  # 36.5 °C


OTHER = "01a20ffc-9810-78dc-aa9d-2ee114d62569"


def test_a_stop_now_of_a_wheel_stands_above_its_readings(
    kept: tuple[Phone, list[str]],
) -> None:
    one, _ = kept
    days = {"2025-03-10": 36.5, "2025-04-10": 70.0, "2025-05-10": 36.5}
    checks = [stop(day, left) for day, left in days.items()]
    ids = one.page.evaluate(KEEP, [as_of(body, OTHER) for body in checks])
    one.open(f"#/years/{OTHER}")
    one.page.get_by_role("img", name="Left wheel against its mate").wait_for()
    (line,) = one.page.locator(".entryrow").all()
    assert "Stop now" in line.inner_text()
    assert "Apr 10, 2025" in line.inner_text()
    assert line.get_attribute("href") == f"#/check/{ids[1]}"


def test_how_a_mend_ended_is_taken_back_on_its_verdict(kept: tuple[Phone, list[str]]) -> None:
    one, _ = kept
    (check,) = one.page.evaluate(KEEP, [as_of(stop("2025-06-10", 60.0), OTHER)])
    one.open(f"#/check/{check}")
    one.tap("It was wrong")
    one.page.get_by_text("You said: It was wrong").wait_for()
    one.tap("Take that back")
    one.page.get_by_role("button", name="It was wrong").wait_for()
    assert not one.page.get_by_text("You said: It was wrong").count()


def as_of(record: dict[str, Any], trailer: str) -> dict[str, Any]:
    return record | {"body": record["body"] | {"trailer": trailer}}
