"""The figures on the phone: fetched late, kept for good, the same text as the engine writes."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

from checks.explain import explain
from checks.judge import read_case
from checks.rulebook import load
from tests.phone.test_shell import check_for_update, given, release, rename_app, spoilt  # noqa: F401
from tests.phone.test_years import HISTORY, KEEP, TRAILER
from tests.support.browser import STATIC
from tests.support.effort import few
from tests.support.phone import HELD, Phone, installed, phone
from tests.support.whole_suite import as_read

PART = "/rulebook-figures.json"
# The worker has taken up every message that the page sent before.
WORKER_HEARD = """async () => {
  const { active } = await navigator.serviceWorker.ready;
  await new Promise((heard) => {
    navigator.serviceWorker.addEventListener("message", heard, { once: true });
    active.postMessage("complete");
  });
}"""
TONGUE = {
    "boat": "no",
    "tongue_by": "scale",
    "weighed": "yes",
    "tongue_feel": "level",
    "tongue_scale": "70",
    "gross_weight": "900",
}
WIRE = {
    "lamps_are": "bulbs",
    "bulbs_bright": "2",
    "bulbs_tail": "4",
    "bulbs_small": "0",
    "wire_length": "8",
    "plug_volts": "12.6",
    "wire_gauge": "awg_16",
}


@pytest.fixture(scope="module")
def one(
    chromium: Browser, server: str, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Phone]:
    """A phone in metric units on its second start, without signal since it holds the figures."""
    with phone(chromium, tmp_path_factory.mktemp("phone"), server) as here:
        here.install()
        here.open("#/settings")
        here.tap_at("button[value=metric]")
        here.wait_for("document.querySelector('[value=metric]').ariaPressed === 'true'")
        here.page.reload()
        here.wait_for(f"({HELD})()")
        here.offline(True)
        here.page.reload()
        yield here


@pytest.mark.long
def test_the_figures_come_with_the_second_start_and_not_with_the_first(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    with phone(chromium, tmp_path, server) as fresh:
        asked: list[str] = []
        fresh.context.on("request", lambda request: asked.append(request.url))
        fresh.install()
        fresh.page.get_by_text("Ready to work without signal").wait_for()
        fresh.page.evaluate(WORKER_HEARD)
        assert not fresh.page.evaluate(HELD)
        assert not [url for url in asked if url.endswith(PART)]
        fresh.page.reload()
        fresh.wait_for(f"({HELD})()")


@pytest.mark.long
def test_without_signal_before_they_came_the_phone_says_so(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    with phone(chromium, tmp_path, server) as fresh:
        fresh.install()
        fresh.page.get_by_text("Ready to work without signal").wait_for()
        fresh.offline(True)
        fresh.tap("Figures")
        fresh.page.get_by_text("there is no signal").wait_for()
        fresh.offline(False)
        fresh.tap("Try again")
        fresh.page.wait_for_selector(".topic")
        fresh.wait_for(f"({HELD})()")


def open_topic(one: Phone, point: str) -> None:
    one.open("#/figures")
    one.page.wait_for_selector(".topic")
    one.settle()
    one.tap_at(f"a[href$='/{point}']")
    one.settle()


def answer_all(one: Phone, point: str, answers: dict[str, str]) -> None:
    """Go through a topic's questions; what is not among ``answers`` is skipped."""
    open_topic(one, point)
    one.tap_at(".foot a.main")
    one.settle()
    for _ in range(30):
        parts = one.where.split("/")
        if len(parts) < 5:
            return
        key = parts[4]
        if key not in answers:
            one.choose(".skip")
        elif one.page.locator(".pad").count():
            one.keys(answers[key])
            one.choose(".pad .main")
        else:
            one.choose(f".answers button[value='{answers[key]}']")
    raise AssertionError(f"still asking: {one.question}")


def shown(one: Phone) -> dict[str, str]:
    """Every figure that stands on the screen, by its name."""
    return dict(
        one.page.eval_on_selector_all(
            ".result",
            "all => all.map(e => [e.dataset.figure,"
            " e.querySelector('ol > li:last-child > strong').textContent])",
        )
    )


def by_python(one: Phone, names: list[str]) -> dict[str, str]:
    """The same figures from the draft's own facts, as the engine in Python writes them."""
    facts: Any = one.stored("drafts")[-1]["facts"]
    _, case = read_case({"check": "figures", "date": "2026-07-14", "facts": facts}, load())
    split = [name.partition("@") for name in names]
    return {
        name + at + place: str(explain(name, place, case, load())[-1]["text"])
        for name, at, place in split
    }


@pytest.mark.long
def test_the_tongue_weight_reads_as_in_python(one: Phone) -> None:
    answer_all(one, "tongue", TONGUE)
    found = shown(one)
    assert {"tongue_load", "tongue_share", "tongue_advised"} <= set(found)
    assert found == by_python(one, list(found))
    assert found["tongue_load"] == "70 kg"
    assert "Tongue on the light side" in one.page.inner_text(".card")
    assert "safe" not in one.page.inner_text("main").lower()


@pytest.mark.long
def test_a_result_is_there_again_after_a_reload(one: Phone) -> None:
    answer_all_once(one)
    before = shown(one)
    assert before
    one.page.reload()
    one.page.wait_for_selector(".result")
    assert shown(one) == before


def answer_all_once(one: Phone) -> None:
    open_topic(one, "tongue")
    if not shown(one):
        answer_all(one, "tongue", TONGUE)


@pytest.mark.long
def test_the_wire_reads_as_in_python(one: Phone) -> None:
    answer_all(one, "wiring", WIRE)
    found = shown(one)
    assert found["drop_out"].endswith(" V")
    assert found == by_python(one, list(found))
    assert "needs: " in one.page.inner_text("main")


@pytest.mark.parametrize("typed", ["-5", "99999999"])
def test_a_weight_that_cannot_be_is_turned_away_where_it_stands(one: Phone, typed: str) -> None:
    answer_all_once(one)
    one.tap_at("a[href$='/tongue_scale']")
    one.settle()
    one.page.fill(".display", typed)
    one.tap("Next")
    one.page.wait_for_selector(".trouble")
    assert "cannot be right here" in one.page.inner_text(".trouble")
    assert "kg" in one.page.inner_text(".trouble")
    assert one.page.input_value(".display") == typed


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("ST20575R15", "is not a tire size"),
        ("H78-15", "old letter size"),
        ("", "Type the size"),
        ("20.5x", "is not a tire size"),
    ],
)
def test_a_wrong_size_is_turned_away_where_it_stands(one: Phone, typed: str, says: str) -> None:
    at_size(one)
    one.page.fill(".display", typed)
    one.tap("Next")
    one.page.wait_for_selector(".trouble")
    assert says in one.page.inner_text(".trouble")
    assert one.page.input_value(".display") == typed


@pytest.mark.long
def test_a_size_is_typed_with_the_thumb_alone(one: Phone) -> None:
    at_size(one)
    one.page.fill(".display", "")
    for key in ("ST", "2", "0", "5", "/", "7", "5", "R", "1", "5"):
        one.tap_at(f".key:text-is('{key}')")
    assert one.page.input_value(".display") == "ST205/75R15"
    one.choose(".pad .main")
    facts: Any = one.stored("drafts")[-1]["facts"]
    assert facts["tire_size@1"] == "ST205/75R15"


def at_size(one: Phone) -> None:
    open_topic(one, "tire_figure")
    one.tap_at("a.change[href$='/axles']")
    one.settle()
    one.choose(".answers button[value='1']")
    open_topic(one, "tire_figure")
    one.tap_at("a.change[href*='/tire_size']")
    one.settle()


@pytest.mark.long
def test_a_kept_draft_is_shown_again_by_its_own_part(one: Phone) -> None:
    answer_all_once(one)
    before = shown(one)
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    one.settle()
    assert before.items() <= shown(one).items()
    record: Any = one.stored("records")[-1]["record"]
    assert record["body"]["check"] == "figures"
    assert one.stored("drafts") == []
    kept: Any = {book["hash"]: book["data"] for book in one.stored("rulebooks")}
    assert "tongue" in json.dumps(kept[record["body"]["rulebook"]]["stations"])
    one.open("#/history")
    one.page.wait_for_selector(".entryrow")
    one.page.reload()
    one.tap_at(".entryrow")
    one.page.wait_for_selector(".result")
    assert before.items() <= shown(one).items()


@pytest.mark.long
def test_a_new_version_fetches_the_figures_before_the_old_one_goes(
    chromium: Browser,
    release: tuple[str, Path],  # noqa: F811
    tmp_path: Path,
) -> None:
    address, folder = release
    with phone(chromium, tmp_path / "phone", address) as fresh:
        fresh.install()
        fresh.page.reload()
        fresh.wait_for(f"({HELD})()")
        rename_app(folder, "Next")
        assert check_for_update(fresh) == "waiting"
        holding = f"""async () => (await Promise.all((await caches.keys()).map(
            async (name) => (await caches.open(name)).match("{PART}")))).filter(Boolean).length"""
        assert fresh.page.evaluate(holding) == 2


def test_no_script_holds_a_text_over_several_lines() -> None:
    """Scripts go out without indents, which would change such a text."""
    for path in STATIC.rglob("*.js"):
        for line in path.read_text("utf-8").splitlines():
            assert line.count("`") % 2 == 0, f"{path.name}: {line}"


@pytest.mark.english  # types words of the catalogue
def test_a_figure_is_found_by_its_name_or_by_what_it_works_out(one: Phone) -> None:
    one.open("#/figures")
    one.page.wait_for_selector(".topic")
    every = one.page.locator(".topic:visible").count()
    for typed, title in (("stopping", "Stopping distance"), ("PUSH ON THE BALL", "Stopping dist")):
        one.page.fill("#find-figure", typed)
        assert 0 < one.page.locator(".topic:visible").count() < every
        assert one.page.locator(".topic:visible", has_text=title).count() == 1
    one.page.fill("#find-figure", "zzz")
    assert one.page.locator(".topic:visible").count() == 0
    assert one.page.get_by_text("No figure is called that").is_visible()
    one.page.fill("#find-figure", "")
    assert one.page.locator(".topic:visible").count() == every


@pytest.mark.parametrize("by", few(["the phone's own Back", "the screen's Back"], 1))
def test_back_leads_from_a_question_to_its_figure_and_to_the_list(one: Phone, by: str) -> None:
    def back() -> None:
        before = one.where
        if by == "the screen's Back":
            one.tap_at(".bar .back")
        else:
            one.page.go_back()
        one.wait_for(f"location.hash !== {before!r}")
        one.settle()

    one.open("#/")
    one.settle()
    one.tap_at("a[href='#/figures']")
    one.page.wait_for_selector(".topic")
    one.settle()
    one.tap_at("a[href$='/ratings']")
    one.settle()
    figure = one.where
    one.tap_at("a.change, .foot a.main")
    one.wait_for(f"location.hash !== {figure!r}")
    one.settle()
    back()
    assert one.where == figure
    back()
    assert one.where == figure.rpartition("/")[0]
    assert one.page.locator(".topic").count() > 10
    back()
    assert one.page.locator("button.big").count() == 3


@pytest.mark.long
def test_the_weakest_link_is_told_first_in_a_sentence(one: Phone) -> None:
    answers = {"weighed": "yes", "gross_weight": "900", "hitch_rating": "1000"}
    answer_all(one, "ratings", answers | {"ball_rating": "1500"})
    assert one.page.inner_text(".lead .told") == "The weakest link is the hitch: 1,000 kg."
    assert "The ball could bear 6" in one.page.inner_text("main")


# Answers of a trailer to every figure: the tables' own, and what they leave out.
BASES = ("figures_weights", "tire_figures", "figures_coupling", "figures_tiedowns")
FURTHER: Any = {
    "axles": 1,
    "brakes": "electric",
    "magnet_count": 2,
    "magnet_amps": 6,
    "air": 20,
    "braking": "normal",
    "sun": "no",
    "hub_size": "bore_25",
    "hub_method": "thermometer",
    "hub_spot": "barrel",
    "run_distance": 30,
    "run_speed": 90,
    "parked": 3,
    "hub_reading@1L": 60,
    "hub_reading@1R": 45,
    "wheel_rating": 800,
    "combined_rating": 4500,
    "equalized": "yes",
    "sways": "yes",
    "sway_speed": 100,
    "lamps_are": "bulbs",
    "bulbs_bright": 2,
    "bulbs_tail": 4,
    "bulbs_small": 2,
    "wire_length": 8,
    "plug_volts": 12.6,
    "wire_gauge": "awg_16",
    "return_by": "wire",
    "return_gauge": "awg_16",
    "return_length": 8,
    "ground_by": "volts",
    "ground_volts": 1.5,
    "width": "under_80",
    "length": "6_to_30",
    "tilt": "yes",
    "tongue_by": "cargo",
    "bed_weight": 200,
    "bed_middle_ahead": 400,
    "pivot_ahead": 100,
    "stud": "s1_2",
    "torque_from": "none",
    "torque_used": 120,
    "thread_state": "dry",
    "since_wheel": 20,
    "torqued_at": 0,
    "play_how": "turned",
    "spindle_thread": "t1",
    "cross_holes": "one",
    "turned_back": 30,
    "deck_grip": "wood",
    "over_pull": 300,
    "over_angle": 70,
    "tie_2_count": 2,
    "tie_2_is": "strap",
    "tie_2_width": "2",
    "tie_2_ends": "across",
    "tie_2_weaker": "no",
}
SAID = """async ([facts, date, system]) => {
    const { Figures } = await import("/static/data/figures.js");
    const { sentenceOf } = await import("/static/parts/figure.js");
    const { valueText } = await import("/static/parts/numbers.js");
    const { fetchBook, laterWords } = await import("/static/data/queries.js");
    await laterWords();
    const book = await fetchBook(["/rulebook-figures.json", "/words-figures.en.json"]);
    const draft = { check: "figures", date, facts, typed: {}, skipped: [], known: [] };
    const text = (range, unit) => valueText(book, range, unit, system);
    const figures = new Figures(book, draft, text);
    return figures.all.flatMap((point) => figures.results(point).map((one) => {
        const { value, unit } = one.steps.at(-1);
        return { name: one.name, open: one.missing.length, value, unit,
            ends: value.map((end) => text([Math.abs(end), Math.abs(end)], unit)),
            said: sentenceOf(figures, one) };
    }));
}"""


def bases() -> dict[str, Any]:
    tables = json.loads((Path(__file__).parents[1] / "cases" / "base.json").read_text("utf-8"))
    return {name: tables[name]["facts"] for name in BASES}


def every_answer() -> dict[str, Any]:
    found: dict[str, Any] = {}
    for facts in bases().values():
        found |= {key: raw for key, raw in facts.items() if key not in found}
    return found | FURTHER


@pytest.mark.parametrize("system", ["us", "metric"])
def test_each_figure_is_said_in_a_sentence_with_its_value_and_unit(one: Phone, system: str) -> None:
    sets = [*bases().values(), every_answer(), every_answer() | FURTHER]
    told: set[str] = set()
    for facts in sets:
        for row in one.page.evaluate(SAID, [facts, "2026-07-14", system]):
            said = as_read(row["said"]).replace(",", "")
            if row["open"] or not all(isinstance(end, int | float) for end in row["value"]):
                assert "can't be told" in said or "sets no" in said, row
            elif "can't be told from" not in said:
                assert said.endswith((".", ". (LEDs differ).")), row
                assert holds(said, [as_read(end) for end in row["ends"]]), row
                told.add(row["name"])
    every = {q for s in load().stations for p in s.points if "figures" in p.checks for q in p.shows}
    assert told >= every, sorted(every - told)


def holds(said: str, ends: list[str]) -> bool:
    """Whether a sentence has a number of these, as whole from a hundred on, and its unit."""
    numbers = [float(one) for one in re.findall(r"-?\d+(?:\.\d+)?", said)]
    if " needs no " in said:
        return ends == ["0", "0"]
    unit, found = ends[-1].split(" ", 1)[1:], False
    for end in ends:
        worth = float(end.split(" ")[0])
        slack = 0.5 if worth >= 100 else 0
        found |= any(abs(one - worth) <= slack for one in numbers)
    return found and all(one in said for one in unit)


def test_a_figure_that_cannot_be_told_says_what_is_missing(one: Phone) -> None:
    rows = one.page.evaluate(SAID, [{"axles": 1}, "2026-07-14", "us"])
    waiting = [as_read(row["said"]) for row in rows if row["open"]]
    assert len(waiting) > 50
    for said in waiting:
        assert ": can't be told yet. It needs: " in said
    unsure = dict.fromkeys(every_answer()) | {"axles": 1}
    rows = one.page.evaluate(SAID, [unsure, "2026-07-14", "us"])
    sentences = [as_read(row["said"]) for row in rows]
    untold = [said for said in sentences if ": can't be told from these answers" in said]
    assert untold
    for said in untold:
        assert "Not known: " in said


@pytest.mark.long
def test_what_stands_on_plates_is_confirmed_in_one_tap(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    with installed(chromium, server) as own:
        own.page.reload()
        own.wait_for(f"({HELD})()")
        own.page.evaluate(KEEP, HISTORY[:1])
        own.open("#/")
        own.page.reload()
        own.page.select_option("#which", TRAILER)
        given = {"hitch_rating": "3500", "ball_rating": "2000"}
        answer_all(own, "ratings", given | {"weighed": "yes", "gross_weight": "1800"})
        own.tap("Keep and send")
        own.page.wait_for_selector(".kept")
        open_topic(own, "ratings")
        own.tap_at(".foot a.main")
        own.settle()
        still = own.page.locator(".page.still")
        own.repeat(lambda: own.choose(".skip"), lambda: still.count() > 0)
        text = own.page.inner_text("main")
        assert "2000 lb" in text
        assert "1800 lb" not in text  # what was weighed is weighed anew
        own.tap("Yes, all as before")
        own.page.wait_for_selector(".lead")
        assert own.page.inner_text(".lead").startswith("The weakest link is the ball: 2,000 lb.")
        assert not own.faults


@pytest.mark.long
def test_worked_out_again_it_begins_with_the_plates_and_never_with_what_was_weighed(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    with installed(chromium, server) as own:
        given = {"hitch_rating": "3500", "ball_rating": "2000"}
        answer_all(own, "ratings", given | {"weighed": "yes", "gross_weight": "1800"})
        own.tap("Keep and send")
        own.page.wait_for_selector(".kept")
        own.settle()
        own.tap("Work it out again")
        own.wait_for("location.hash.startsWith('#/figures/')")
        own.settle()
        facts: Any = own.stored("drafts")[-1]["facts"]
        assert {"hitch_rating", "ball_rating"} <= set(facts)
        assert "gross_weight" not in facts
