"""Shops, their staff and their work, for the tests."""

from __future__ import annotations

import html
import re
from dataclasses import dataclass
from typing import Any

from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import select

from tests.support.records import HEADERS
from webapp.commands.demo_shops import SECRET, TOKEN
from webapp.shop.accounts import add_staff
from webapp.storage.models import metadata, shops, staff

PASSWORD = "wheel bearing grease gun"

# A job as it is filled in: hubs done on a single axle, new pair, nut just felt.
JOB = {
    "trailer_name": "Green boat trailer",
    "fact:axles": "1",
    "fact:brakes": "none",
    "customer_name": "Ada Lund",
    "customer_phone": "555 0100",
    "work:bearings": "1",
    "note": "New bearings and seals, both sides.",
    "all:grease_found": "dark",
    "all:race_found": "line",
    "all:rollers_found": "clean",
    "all:seal_found": "leaking",
    "all:spindle_found": "smooth",
    "all:bearing_done": "pair",
    "all:seal_done": "new",
    "all:pin_done": "new",
    "all:play_wanted": "some",
    "all:play_left": "slight",
}


@dataclass
class Shop:
    """One shop with a member of staff signed in at ``client``."""

    id: int
    login: str
    client: FlaskClient

    def post(self, path: str, data: dict[str, str] | None = None, page: str = "") -> Any:
        """Send a form of ``page`` (by default the one at ``path``) with what its fields hold."""
        fields = fields_of(self.client.get(page or path).text)
        return self.answered(self.client.post(path, data=fields | (data or {})))

    def answered(self, answer: Any) -> Any:
        """An answer to a form as its reader meets it: a refusal stands at an address of its own."""
        return self.client.get(answer.location) if answer.status_code == 303 else answer

    def press(self, path: str, page: str) -> Any:
        """A button that stands alone on ``page``."""
        token = TOKEN.search(self.client.get(page).text)
        assert token, page
        return self.client.post(path, data={"csrf_token": token[1]})


def add_shop(app: Flask, name: str, login: str) -> int:
    with app.extensions["store"].writing() as connection:
        names = {"phone": "555 0199", "email": "", "place": ""}
        done = connection.execute(shops.insert().values(name=name, **names))
        shop_id = int(done.inserted_primary_key[0])
        add_staff(connection, shop_id, login, login.title(), PASSWORD)
    return shop_id


def sign_in(app: Flask, login: str, password: str = PASSWORD, **more: Any) -> FlaskClient:
    client = app.test_client()
    page = client.get("/shop/sign-in", **more)
    data = {"csrf_token": TOKEN.search(page.text)[1], "login": login, "password": password}
    answer = client.post("/shop/sign-in", data=data, **more)
    assert answer.status_code == 302, answer.text
    return client


def followed(client: Any, answer: Any, **where: Any) -> Any:
    """What is seen of an answer: a refusal stands at an address of its own."""
    return client.get(answer.location, **where) if answer.status_code == 303 else answer


def a_shop(app: Flask, name: str = "Pell Street Garage", login: str = "dana") -> Shop:
    shop_id = add_shop(app, name, login)
    return Shop(shop_id, login, sign_in(app, login))


def ticked(page: str, name: str) -> dict[str, str]:
    """What a browser sends of a choice that somebody has ticked; nothing where it is not asked."""
    found = re.search(rf'<input type="checkbox" name="{name}" value="([^"]*)"', page)
    return {name: found[1]} if found else {}


def fields_of(page: str) -> dict[str, str]:
    """What a browser would send of the form with most fields, untouched."""
    forms = re.findall(r"<form[^>]*>(.*?)</form>", page, re.S)
    form = max(forms, key=len, default="")
    found: dict[str, str] = {}
    area = r'<textarea[^>]*name="([^"]+)"[^>]*>(.*?)</textarea>'
    for tag in re.findall(r"<input[^>]*>", form):
        attributes = dict(re.findall(r'([\w-]+)="([^"]*)"', tag))
        ticked = attributes.get("type") not in ("radio", "checkbox") or " checked" in tag
        if ticked and "name" in attributes:
            found[attributes["name"]] = attributes.get("value", "")
    for name, inner in re.findall(r'<select[^>]*name="([^"]+)"[^>]*>(.*?)</select>', form, re.S):
        chosen = re.search(r'selected value="([^"]*)"|value="([^"]*)" selected', inner)
        found[name] = chosen[1] or chosen[2] or "" if chosen else ""
    for name, inner in re.findall(area, form, re.S):
        found[name] = inner.strip()
    return {name: html.unescape(value) for name, value in found.items()}


def finished_job(shop: Shop, **changes: str) -> tuple[str, str]:
    """A finished job: the address of its page and the secret of its link."""
    answer = shop.post("/shop/jobs/new", JOB | {"finish": "1"} | changes)
    assert answer.status_code == 302, answer.text
    page = shop.client.get(answer.location)
    return answer.location, SECRET.search(page.text)[1]


def read_link(client: FlaskClient, secret: Any, what: str = "read") -> Any:
    return client.post(f"/api/links/{what}", json={"secret": secret}, headers=HEADERS)


def dump(app: Flask) -> dict[str, list[tuple[Any, ...]]]:
    """Every row of every table."""
    with app.extensions["store"].reading() as connection:
        return {
            table.name: [tuple(row) for row in connection.execute(select(table)).all()]
            for table in metadata.sorted_tables
        }


def staff_row(app: Flask, login: str) -> Any:
    with app.extensions["store"].reading() as connection:
        return connection.execute(select(staff).where(staff.c.login == login)).one()
