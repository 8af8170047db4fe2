"""Brake laws: every place has weight, standing and section; the loader refuses bad tables."""

from __future__ import annotations

from pathlib import Path

import pytest

from checks.brake_law import BrakeLawError, limits_of, read_laws
from checks.rulebook import load
from checks.trade.brake_law import PLACES, READ, RESTATED, UNREAD
from tests.support.sums import work_out

LB = 0.45359237

# Copied a second time by hand from the texts and digests that each entry cites; "+" is from the
# weight up, ">" only above it; no number where the law sets none.
TOLD = """
al >3000 lb, ak >5000 lb, az +3000 lb, ar +3000 lb, ca +3000 lb, co +3000 lb, ct +3000 lb,
de >4000 lb, dc >3000 lb, fl >3000 lb, ga +3000 lb, hi >3000 lb, id +1500 lb, il >3000 lb,
in +3000 lb, ia +3000 lb, ks none, ky none, la +3000 lb, me +3000 lb, md >3000 lb, ma >10000 lb,
mi +3000 lb, mn +3000 lb, ms >2000 lb, mo none, mt >3000 lb, ne +3000 lb, nv +1500 lb, nh +3000 lb,
nj >3000 lb, nm +3000 lb, ny >3000 lb, nc +4000 lb, nd none, oh +2000 lb, ok +3000 lb, or none,
pa >3000 lb, ri +4000 lb, sc >3000 lb, sd >3000 lb, tn +3000 lb, tx >4500 lb, ut none, vt >3000 lb,
va +3000 lb, wa >3000 lb, wv +3000 lb, wi +3000 lb, wy none, ab >910 kg, bc >1400 kg, sk +1360 kg,
mb >910 kg, on +1360 kg, qc >1300 kg, nb +1500 kg, ns >1800 kg, pe >1500 kg, nl >4500 kg,
yt >910 kg, nt >1360 kg, nu >1360 kg, uk >750 kg, ie >750 kg, eu >750 kg, au >750 kg, nz >2000 kg
"""
PAIRS = [entry.strip().split(" ", 1) for entry in TOLD.replace("\n", " ").split(",")]


def test_every_place_is_told() -> None:
    assert [place for place, _ in PAIRS] == list(read_laws())
    assert len(PAIRS) == 69
    assert set(PLACES) == {*READ, *RESTATED, *UNREAD, "other"}


@pytest.mark.parametrize(("place", "told"), PAIRS)
def test_a_place_has_the_weight_of_its_law(place: str, told: str) -> None:
    law = read_laws()[place]
    if told == "none":
        assert law["weighs"] == "none"
        assert "sets no weight" in law["test"]
        return
    number, unit = told[1:].split()
    assert (law["from"], law["value"], law["unit"]) == (
        {"+": "at", ">": "above"}[told[0]], int(number), unit,
    )  # fmt: skip
    facts = {"state": place, "boat": "no", "living": "no"}
    in_kg = int(number) * (LB if unit == "lb" else 1)
    assert work_out("brake_threshold", facts)[0] == pytest.approx(in_kg)


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
        ({"weighs": "none"}, "test goes with weighs = none"),
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
