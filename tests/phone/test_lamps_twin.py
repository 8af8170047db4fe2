"""The phone ranks the faults behind a reading as Python does."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import Any

import pytest
from playwright.sync_api import Page

from checks.circuit.rank import rank, table
from checks.circuit.table import ANSWERS
from checks.circuit.wire import packed
from checks.circuit.wiring import SYSTEMS
from tests.benchmarks.lamp_faults import draw, misread, unread
from tests.support.effort import PART, rounds

RANK = """async ([table, jobs]) => {
    const { rank, nextLook } = await import("/static/engine/lamps.js");
    return jobs.map(([reading, systems]) => ({
        found: rank(reading, systems, table), next: nextLook(reading, systems, table),
    }));
}"""


def jobs() -> list[tuple[list[list[str]], list[str]]]:
    """Readings of made-up faults, whole, misread, in part, and nonsense; one or more systems."""
    rng, made = Random(11), []
    for _ in range(rounds(60)):
        seen = draw(rng)
        system = str(seen.system)
        kinds = [str(s) for s in SYSTEMS if str(s).startswith(f"{system.rpartition('.')[0]}.")]
        for cells in (seen.cells, misread(seen, rng), unread(seen, rng)):
            some = {k: v for k, v in cells.items() if rng.random() < 0.7}
            nonsense = dict.fromkeys(cells, "good") | {k: rng.choice(ANSWERS) for k in some}
            for answers in (cells, some, nonsense):
                systems = rng.choice([[system], kinds])
                made.append(([[*place, answer] for place, answer in answers.items()], systems))
    return made + list(all_dark())


def all_dark() -> Iterator[tuple[list[list[str]], list[str]]]:
    """No lamp lights, and the vehicle's feed is not known."""
    for plug, shape in table()["plugs"].items():
        kinds = [str(one) for one in SYSTEMS if one.plug == plug]
        yield [[c, lamp, "dark"] for c in shape["commands"] for lamp in shape["lamps"]], kinds


UNPACK = """async (sent) => (await import("/static/engine/lamps.js")).unpacked(sent)"""


def test_the_phone_makes_of_what_is_sent_the_table_again(scripts: Page) -> None:
    made = table()
    systems = {
        name: {part: one[part] for part in ("sound", "faults")}
        for name, one in made["systems"].items()
    }
    assert scripts.evaluate(UNPACK, packed(made)) == made | {"systems": systems}


@pytest.mark.sample
def test_both_engines_rank_alike(scripts: Page) -> None:
    sent = jobs()
    theirs: list[dict[str, Any]] = scripts.evaluate(RANK, [table(), sent])
    assert len(sent) == 9 * rounds(60) + len(table()["plugs"])
    assert len({tuple(systems) for _, systems in sent}) > len(SYSTEMS) / 2 / PART
    for (reading, systems), answer in zip(sent, theirs, strict=True):
        ours = rank({(c, lamp): a for c, lamp, a in reading}, systems, table())
        assert [one["faults"] for one in answer["found"]] == [list(one.faults) for one in ours]
        for one, other in zip(answer["found"], ours, strict=True):
            assert one["share"] == pytest.approx(other.share, rel=1e-12)


def test_the_next_look_is_one_not_yet_taken_and_runs_out(scripts: Page) -> None:
    systems = ["flat4.bulbs.frame.spliced"]
    plug = table()["plugs"]["flat4"]
    everything = [[c, lamp, "good"] for c in plug["commands"] for lamp in plug["lamps"]]
    first, after, last = scripts.evaluate(
        RANK, [table(), [([], systems), (everything[:10], systems), (everything, systems)]]
    )
    assert first["next"][0] in plug["commands"]
    assert [*after["next"], "good"] not in everything[:10]
    assert last["next"] is None


@pytest.mark.parametrize(
    ("reading", "systems", "words"),
    [
        ([["tail", "left", "odd"]], ["flat4.bulbs.frame.spliced"], "tail left odd"),
        ([], ["flat9"], "no system flat9"),
    ],
)
def test_what_the_table_does_not_have_is_named(scripts: Page, reading, systems, words) -> None:
    said = scripts.evaluate(
        f"async (a) => {{ try {{ await ({RANK})(a) }} catch (e) {{ return e.message }} }}",
        [table(), [(reading, systems)]],
    )
    assert words in said
