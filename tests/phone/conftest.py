"""What several tests of the phone use: the app's scripts, a phone with the app, a shop's desk."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.support.browser import engine_page
from tests.support.desk import Desk
from tests.support.phone import Phone, installed, phone
from tests.support.serve import ONE, serving
from tests.support.shops import Shop, add_shop, sign_in
from webapp import create_app


@pytest.fixture(scope="module")
def scripts(chromium: Browser) -> Iterator[Page]:
    """An empty page that can import the app's modules."""
    page = engine_page(chromium)
    yield page
    page.context.close()


@pytest.fixture
def one(chromium: Browser, server: str) -> Iterator[Phone]:
    """A phone that holds the app, with nothing done on it yet."""
    with installed(chromium, server) as it:
        yield it


@pytest.fixture
def fresh(chromium: Browser, server: str, tmp_path: Path) -> Iterator[Phone]:
    """A phone that has not opened the app yet."""
    with phone(chromium, tmp_path, server) as one:
        yield one


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    data = tmp_path_factory.mktemp("server")
    with serving(data, ONE) as address:
        app = create_app({"DATA": data})
        shop = Shop(add_shop(app, "Pell Street Garage", "dana"), "dana", sign_in(app, "dana"))
        yield Desk(address, app, shop)
