"""No request to any address meets a fault of the server, whatever is in it."""

from __future__ import annotations

from collections import Counter

import pytest
from flask import Flask

from tests.support.any_request import AnyRequest
from tests.support.effort import rounds

SEEDS = range(4)
EACH = 313  # rounds(): a quarter in `make test-long`, forty times as many in `make fuzz`


@pytest.mark.slow
@pytest.mark.sample
@pytest.mark.parametrize("seed", SEEDS)
def test_no_request_to_any_address_meets_a_fault(app: Flask, seed: int) -> None:
    asking, met = AnyRequest(app, seed), Counter[int]()
    for _ in range(rounds(EACH)):
        asked, status = asking.ask()
        met[status] += 1
        assert status < 500, asked
    assert met[200] > met.total() / 5  # not all is turned away at the door
    assert met[422] + met[400] > 0
