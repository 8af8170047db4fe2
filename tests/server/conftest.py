"""What several tests of the server use: its store, and a shop's work in it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from flask import Flask

from tests.support.floor import Floor, shop_floor
from webapp.storage.store import Store


@pytest.fixture
def store(app: Flask) -> Iterator[Store]:
    kept: Store = app.extensions["store"]
    yield kept
    kept.engine.dispose()


@pytest.fixture
def floor(app: Flask) -> Floor:
    return shop_floor(app)
