"""Brake laws: every place has weight, standing and section; the loader refuses bad tables."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest

from checks import sources
from checks.brake_law import BrakeLawError, limits_of, read_laws
from checks.explain import explain
from checks.judge import judge, read_case
from checks.rulebook import load
from checks.trade.brake_law import PLACES, READ, RESTATED, UNREAD
from checks.words import words
from tests.support.quantities import work_out

LB = 0.45359237

# A table of its own, gathered from the public pages of the laws before the rules were written, each
# entry with its section and standing. "none" where a law sets no weight.
TABLE = json.loads((Path(__file__).parent / "data" / "brake_laws.json").read_text("utf-8"))
BY_PLACE = {entry["place"]: entry for entry in TABLE}
WEIGHS = {
    "empty": "unladen", "plate": ("GVWR", "plate"), "wheels": "GTM", "carried": "carried",
    "none": "none", "gross": ("gross", "mass with load"),
}  # fmt: skip
# where the table's only ground for a share is an old list, the rule leaves it away
OLD_LIST = ("ny",)
LONGER = ("co", "dc", "in", "or")  # the table names sections on chains or lamps besides


def test_every_place_is_told() -> None:
    assert list(BY_PLACE) == list(read_laws())
    assert len(TABLE) == 69
    assert set(PLACES) == {*READ, *RESTATED, *UNREAD, "other"}


@pytest.mark.parametrize("place", BY_PLACE)
def test_a_place_has_the_weight_of_its_law(place: str) -> None:
    law, told = read_laws()[place], BY_PLACE[place]
    facts = {"state": place, "boat": "no", "living": "no"}
    threshold = work_out("brake_threshold", facts)
    if told["weight"] == "none":
        assert (law["weighs"], "value" in law) == ("none", False)
        assert "sets no weight" in law["test"]
        assert threshold == (math.inf, math.inf)
        return
    sign = {"at": ">=", "above": ">"}[law["from"]]
    assert (sign, law["value"], law["unit"]) == (told["from"], told["weight"], told["unit"])
    in_kg = told["weight"] * (LB if told["unit"] == "lb" else 1)
    assert threshold[0] == pytest.approx(in_kg)


@pytest.mark.parametrize("place", BY_PLACE)
def test_a_place_has_kind_of_weight_section_and_standing_of_its_law(place: str) -> None:
    law, told = read_laws()[place], BY_PLACE[place]
    kinds = WEIGHS[law["weighs"]]
    assert any(kind in told["weighs"] for kind in ([kinds] if isinstance(kinds, str) else kinds))
    assert law["standing"] == told["standing"]
    same = told["source"].startswith(law["source"]) if place in LONGER else None
    assert same or law["source"] == told["source"]
    for key in ("living", "boat", "new"):
        assert law.get(key) == told.get(key), key
    share = None if place in OLD_LIST else told.get("share_percent")
    assert (law["share"] * 100 if "share" in law else None) == share


@pytest.mark.parametrize("place", BY_PLACE)
def test_what_is_held_against_a_law_says_how_sure_it_is(place: str) -> None:
    """Read: the law wants; restated: as others say; not read: probably; each names its section."""
    law = read_laws()[place]
    facts = {
        "state": place, "brakes": "none", "boat": "no", "living": "yes", "weighed": "yes",
        "tongue_by": "scale", "tongue_scale": 0, "gross_weight": 5900, "gross_rating": 5900,
        "unladen_weight": 5800, "tow_weight": 2000, "tow_axles": 2000, "planned_speed": 100,
    }  # fmt: skip
    payload = {"check": "figures", "date": "2026-07-14", "facts": {"axles": 1} | facts}
    found = {one["finding"] for one in judge(payload)["findings"]}
    wanted = {"read": "brakes_required", "secondary": "brakes_required_restated"}
    name = "brakes_required_recalled" if place in UNREAD else wanted.get(law["standing"], "")
    if law["weighs"] == "none":
        name = "brakes_by_test"
    asks = {key for key in found if key.startswith("brakes_")} - {"brakes_sold_new"}
    assert asks == ({name} if place != "ms" else set()), place  # there only the load counts
    steps = explain("brake_threshold", "", read_case(payload, load())[1], load())
    told = [sources.told(step["source"], words().say) for step in steps if "source" in step]
    assert any(law["source"].lower() in source.lower() for source in told)


def test_what_was_not_read_says_so() -> None:
    assert {"ny", "mi", "wv", "yt", "nt", "nu"} == set(UNREAD)
    limits = load().data["limits"]
    for place in ("ny", "mi", "wv"):
        assert limits[f"brake_law.{place}"]["note"].startswith(
            "The law's own text could not be read"
        )


def test_a_law_that_was_read_names_its_section() -> None:
    by_page = ("ct", "pe", "ab")  # the authority's own page was read, not the section
    for place in set(READ) - set(by_page):
        entry = load().data["limits"][f"brake_law.{place}"]
        assert any(c.isdigit() for c in entry["source"]), place


GOOD = {
    "value": 3000, "unit": "lb", "from": "at", "weighs": "gross", "source": "S. 1",
    "standing": "read", "confirmed": "2026-11-25",
}  # fmt: skip


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"source": None}, "source missing"),
        ({"wieghs": "gross"}, "wieghs not known"),
        ({"weighs": "heavy"}, "weighs must be one of"),
        ({"from": "over"}, "from must be one of"),
        ({"unit": "t"}, "unit must be lb or kg"),
        ({"value": None}, "value missing"),
        (
            {"weighs": "none", "value": None, "unit": None, "from": None},
            "test goes with weighs = none",
        ),
        ({"share": 0.4}, "share needs share_"),
    ],
)
def test_a_bad_table_is_refused_by_name(tmp_path: Path, change: dict, message: str) -> None:
    entry = {key: value for key, value in (GOOD | change).items() if value is not None}
    file = tmp_path / "laws.toml"
    file.write_text("[va]\n" + "\n".join(f"{key} = {value!r}" for key, value in entry.items()))
    with pytest.raises(BrakeLawError, match=f"va: .*{message}"):
        read_laws(file)


def test_the_limits_of_a_law_carry_its_source() -> None:
    law = GOOD | {"share": 0.4, "slow": 30, "slow_most": 15000}
    limits = limits_of({"tx": law})
    assert set(limits) == {"tx", "tx_share", "tx_slow", "tx_slow_most"}
    assert limits["tx_slow_most"]["unit"] == "lb"
    assert {entry["source"] for entry in limits.values()} == {"S. 1"}
