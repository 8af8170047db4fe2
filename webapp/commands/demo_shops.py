"""The demo's two shops: a garage that finishes jobs, and a library that lends trailers.

Everything goes in by the pages and addresses that people and phones use, once: where the garage is
already there, nothing is touched.
"""

from __future__ import annotations

import re
import secrets
from collections.abc import Iterator
from datetime import UTC, datetime
from hashlib import sha256
from typing import Any

import rfc8785
from flask import Flask
from sqlalchemy import select
from uuid_utils import uuid7

from webapp.follow_up import schedule
from webapp.shop.accounts import add_staff
from webapp.shop.job_form import line_values
from webapp.storage.models import shops
from webapp.wording import say

Json = dict[str, Any]
GARAGE, LIBRARY = "Pell Street Garage", "Alder Fork Tool Library"
STAFF = {GARAGE: {"dana": "Dana", "marek": "Marek"}, LIBRARY: {"ines": "Ines"}}
TOKEN = re.compile(r'name="csrf_token"[^>]*value="([^"]+)"')
SECRET = re.compile(r"/#/from/([A-Za-z0-9_-]{43})")

SOUND = {
    "all:grease_found": "dark",
    "all:race_found": "clean",
    "all:rollers_found": "clean",
    "all:seal_found": "leaking",
    "all:spindle_found": "smooth",
    "all:bearing_done": "pair",
    "all:seal_done": "new",
    "all:pin_done": "new",
    "all:play_wanted": "some",
    "all:play_left": "slight",
}
WHEELS = ("1L", "1R", "2L", "2R")
SIGNS = ("smoke", "leaning", "grinding", "hot_smell", "thrown_grease")
JOBS: list[Json] = [
    {
        "form": {
            "trailer_name": "Green boat trailer",
            "fact:axles": "1",
            "fact:brakes": "surge",
            "fact:boat": "yes",
            "customer_name": "Ada Lund",
            "customer_phone": "555 0143",
            "work:bearings": "1",
            "note": "New bearings, races and seals on both hubs.",
            "all:brake_found": "sound",
            "all:brake_done": "left",
        },
        "check": "quick_stop",
        "facts": {
            "air": "64 degF",
            "run_distance": "21 mi",
            "hub_method": "hand",
            "hub_feel@1L": "cool",
            "hub_feel@1R": "hot",
            "smoke@1R": "yes",
        },
    },
    {
        "form": {
            "trailer_name": "Car hauler",
            "fact:axles": "2",
            "fact:brakes": "electric",
            "fact:ramps": "yes",
            "customer_name": "Teo Marsh",
            "customer_phone": "555 0177",
            "work:bearings": "1",
            "work:loaded": "1",
            "note": "All four hubs, new pins.",
            "all:brake_found": "sound",
            "all:brake_done": "left",
        },
        "check": "quick_stop",
        "facts": {
            "air": "64 degF",
            "run_distance": "20 mi",
            "hub_method": "hand",
            **{f"hub_feel@{place}": "cool" for place in WHEELS},
            **{f"{name}@{place}": "no" for name in SIGNS for place in WHEELS},
        },
    },
]


def open_shops(app: Flask) -> list[str]:
    """Add the shops and their work; lines to print, with the logins, or that all was there."""
    store = app.extensions["store"]
    with store.writing() as connection:
        if connection.execute(select(shops).where(shops.c.name == GARAGE)).first():
            renew = "python -m webapp.commands.accounts password --login dana"
            return [say("cli-demo-here", shop=GARAGE, command=renew)]
        passwords = {}
        for name, people in STAFF.items():
            contact = {"phone": "555 0199", "email": "", "place": "Pell Street 4, Alder Fork"}
            done = connection.execute(shops.insert().values(name=name, **contact))
            shop_id = int(done.inserted_primary_key[0])
            for login, person in people.items():
                # Drawn anew: a password that stands in the source opens every demo there is.
                passwords[login] = secrets.token_urlsafe(9)
                add_staff(connection, shop_id, login, person, passwords[login])
    fill_garage(app, passwords["dana"])
    fill_library(app, passwords["ines"])
    return [
        say("cli-demo-login", shop=name, login=login, password=passwords[login])
        for name, people in STAFF.items()
        for login in people
    ]


def fill_garage(app: Flask, password: str) -> None:
    staff = Staff(app, "dana", password)
    for job in JOBS:
        secret = staff.finish_job(job["form"])
        Customer(app).answer(secret, job["check"], job["facts"])
    staff.finish_job({"trailer_name": "Small utility", "fact:axles": "1", "work:wheels": "1"})


def fill_library(app: Flask, password: str) -> None:
    staff = Staff(app, "ines", password)
    trailer = {"name": "Alder Fork 1, small utility", "fact:axles": "1", "fact:brakes": "none"}
    page = staff.send("/shop/trailers/new", trailer)
    secret = SECRET.search(staff.see(staff.send(f"{page}/standing", {})))
    Customer(app).answer(found(secret), "walkaround", {"nuts@1L": "tight", "nuts@1R": "loose"})


def found(match: re.Match[str] | None) -> str:
    if match is None:
        raise RuntimeError("the page does not show what the demo looks for")
    return match[1]


class Staff:
    """Somebody of a shop in a browser."""

    def __init__(self, app: Flask, login: str, password: str) -> None:
        self.app, self.client = app, app.test_client()
        self.send("/shop/sign-in", {"login": login, "password": password})

    def see(self, path: str) -> str:
        return str(self.client.get(path, headers={"Accept": "text/html"}).text)

    def send(self, path: str, fields: Json) -> str:
        """Fill in the form at ``path``, and return where it leads."""
        token = found(TOKEN.search(self.see(path)))
        answer = self.client.post(path, data=fields | {"csrf_token": token})
        if answer.status_code != 302:
            raise RuntimeError(f"{path}: {answer.text}")
        return str(answer.location)

    def finish_job(self, fields: Json) -> str:
        """Finish a job with the checks that are proposed for it; the secret of its link."""
        limits = self.app.extensions["engine"].whole["limits"]
        lines = line_values(schedule.proposed(limits, datetime.now(UTC).date()))
        work = SOUND if "work:bearings" in fields else {}
        page = self.send("/shop/jobs/new", lines | work | fields | {"finish": "1"})
        return found(SECRET.search(self.see(page)))


class Customer:
    """A phone that was given a link."""

    def __init__(self, app: Flask) -> None:
        self.app, self.client = app, app.test_client()
        self.headers = {"X-Twentymile-Device": secrets.token_hex(16)}

    def post(self, path: str, sent: Json) -> Json:
        answer = self.client.post(path, json=sent, headers=self.headers)
        if answer.status_code != 200 or answer.json is None:
            raise RuntimeError(answer.text)
        return dict(answer.json)

    def answer(self, secret: str, check: str, facts: Json) -> None:
        """Open the link, make the check it asks for, and send it."""
        link = self.post("/api/links/read", {"secret": secret})
        self.post("/api/links/opened", {"secret": secret})
        one = self.record(link["trailer"], check, facts)
        sent: Json = {"record": one, "hash": sha256(rfc8785.dumps(one)).hexdigest()}
        due = next(iter(self.waiting(link, check)), None)
        self.post("/api/records", sent | {"link": secret} | ({"due": due} if due else {}))

    def waiting(self, link: Json, check: str) -> Iterator[int]:
        return (line["id"] for line in link["due"] if line["check"] == check and not line["done"])

    def record(self, trailer: Json, check: str, facts: Json) -> Json:
        engine, made = self.app.extensions["engine"], datetime.now(UTC)
        asked = {"check": check, "date": made.date().isoformat(), "facts": trailer["facts"] | facts}
        body = asked | {
            "typed": {},
            "trailer": trailer["id"],
            "rulebook": engine.hash_for(check),
            "verdict": engine.judge(asked),
        }
        moment = made.isoformat(timespec="seconds")
        return {
            "id": str(uuid7()),
            "kind": "check",
            "version": 1,
            "made": moment,
            "body": body,
        }
