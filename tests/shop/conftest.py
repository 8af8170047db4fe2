"""What several tests of the shop use: a shop, alone or with a customer, a trailer and a job."""

from __future__ import annotations

import pytest
from flask import Flask

from tests.support.floor import Floor, shop_floor
from tests.support.shops import Shop, a_shop


@pytest.fixture
def shop(app: Flask) -> Shop:
    return a_shop(app)


@pytest.fixture
def floor(app: Flask) -> Floor:
    return shop_floor(app)
