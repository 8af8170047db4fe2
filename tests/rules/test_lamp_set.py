"""The lamps a trailer must have, against 49 CFR 571.108 Table I-b (2025-10-01 edition)."""

import pytest

from tests.support.quantities import work_out

# width, length, boat: red and amber side markers, clearance lamps, identification lamps
SETS = [
    ("under_80", "under_6", "no", 2, 0, 0, 0),
    ("under_80", "6_to_30", "no", 2, 2, 0, 0),
    ("under_80", "6_to_30", "yes", 2, 2, 0, 0),
    ("under_80", "30_or_more", "no", 2, 4, 0, 0),
    ("80_or_more", "under_6", "no", 2, 0, 4, 3),
    ("80_or_more", "6_to_30", "no", 2, 2, 4, 3),
    ("80_or_more", "6_to_30", "yes", 2, 2, 2, 3),
    ("80_or_more", "30_or_more", "yes", 2, 4, 2, 3),
]


@pytest.mark.parametrize(("width", "length", "boat", "red", "amber", "clearance", "row"), SETS)
def test_the_set_is_that_of_the_table(width, length, boat, red, amber, clearance, row):
    facts = {"width": width, "length": length, "boat": boat}
    wanted = {
        "pair": 2, "plate": 1, "red_side": red, "amber_side": amber, "side": red + amber,
        "clearance": clearance, "identification": row,
    }  # fmt: skip
    for name, number in wanted.items():
        assert work_out(f"need_{name}", facts) == (number, number), name


def test_an_unknown_length_leaves_the_range_open():
    facts = {"width": "under_80", "boat": "no"}
    assert work_out("need_side", facts) == (2, 6)
    assert work_out("need_clearance", facts) == (0, 0)
