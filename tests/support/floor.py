"""A shop with a finished job and its link, put straight into the tables, and checks sent to it."""

from __future__ import annotations

import secrets
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from typing import Any

from flask import Flask
from sqlalchemy import select

from tests.support.records import HEADERS, check_body, envelope, record, uuid7
from webapp.follow_up import upkeep
from webapp.storage import finds, models

NOW = datetime.now(UTC)
DAY = timedelta(days=1)
OTHER_PHONE = {"X-Twentymile-Device": "f" * 32}


@dataclass(frozen=True)
class Floor:
    """One shop, one customer's trailer, one job with its link, one due check."""

    app: Flask
    shop: int
    staff: int
    customer: int
    trailer: int
    trailer_id: str
    job: int
    due: int
    link: int
    secret: str

    def send(self, one: dict[str, Any] | None = None, **more: Any) -> Any:
        """Send a check as the phone does; ``headers`` for another phone."""
        headers = more.pop("headers", HEADERS)
        body = envelope(one or record()) | {"link": self.secret} | more
        body = {key: value for key, value in body.items() if value is not None}
        return self.app.test_client().post("/api/records", json=body, headers=headers)

    def change(self, table: str, row: int, **values: Any) -> None:
        one = models.metadata.tables[table]
        with self.app.extensions["store"].writing() as connection:
            connection.execute(one.update().where(one.c.id == row).values(**values))
            if table in ("jobs", "trailers", "records"):
                upkeep.renew(connection, self.trailer)

    def rows(self, table: str, **wanted: Any) -> list[Any]:
        one = models.metadata.tables[table]
        where = [one.c[name] == value for name, value in wanted.items()]
        with self.app.extensions["store"].reading() as connection:
            return list(connection.execute(select(one).where(*where)).mappings())

    def another_link(self, **changes: Any) -> Floor:
        secret, link = add_link(self.app, self, **changes)
        return replace(self, secret=secret, link=link)


def add(app: Flask, table: str, **values: Any) -> int:
    with app.extensions["store"].writing() as connection:
        done = connection.execute(models.metadata.tables[table].insert().values(**values))
        return int(done.inserted_primary_key[0])


def let_in(client: Any, app: Flask, staff: int) -> None:
    """Sign a member of staff in without a form."""
    token, now = secrets.token_urlsafe(32), datetime.now(UTC)
    row = {"staff_id": staff, "made": now, "seen": now, "browser": ""}
    add(app, "sessions", token_hash=sha256(token.encode()).hexdigest(), **row)
    with client.session_transaction() as session:
        session["session"], session["epoch"] = token, 0


def add_link(app: Flask, floor: Any, **changes: Any) -> tuple[str, int]:
    secret = secrets.token_urlsafe(32)
    values = {
        "shop_id": floor.shop,
        "trailer_id": floor.trailer,
        "customer_id": floor.customer,
        "job_id": floor.job,
        "kind": "job",
        "token_hash": sha256(secret.encode()).hexdigest(),
        "made": NOW - DAY,
        "expires": NOW + 60 * DAY,
    } | changes
    return secret, add(app, "links", **values)


def sorted_floor(app: Flask) -> Floor:
    """The floor with what is found by search and lists brought up to its rows."""
    made = shop_floor(app)
    with app.extensions["store"].writing() as connection:
        finds.renew_all(connection)
    return made


def shop_floor(app: Flask, name: str = "Pell Street Garage") -> Floor:
    shop = add(app, "shops", name=name, phone="555 0142", email="desk@pell.example", place="")
    staff = add(
        app, "staff", shop_id=shop, login=name.lower(), name="Ines", password_hash="x", epoch=0
    )
    customer = add(
        app, "customers", shop_id=shop, name="Alder Fork Tool Library", phone="", email=""
    )
    trailer_id = uuid7()
    trailer = add(
        app,
        "trailers",
        shop_id=shop,
        customer_id=customer,
        name="Alder Fork 1",
        facts={"axles": 1},
        record_id=trailer_id,
    )
    job = add(
        app,
        "jobs",
        shop_id=shop,
        trailer_id=trailer,
        customer_id=customer,
        staff_id=staff,
        opened=NOW - 2 * DAY,
        finished=NOW - DAY,
        work=[],
        note="",
        form=uuid7(),
    )
    due = add_due(app, shop, trailer, job, at_km=32.0)
    floor = Floor(app, shop, staff, customer, trailer, trailer_id, job, due, 0, "")
    return floor.another_link()


def add_due(app: Flask, shop: int, trailer: int, job: int | None, **changes: Any) -> int:
    values = {"check": "load_stop", "what": "Feel the hubs", "by": NOW + 14 * DAY} | changes
    return add(app, "due", shop_id=shop, trailer_id=trailer, job_id=job, **values)


def run_stop(miles: float | None = 20, made: datetime | None = None, **facts: Any) -> Any:
    """A run stop's record; ``facts`` use ``__`` for the sign before a place.

    It answers what the floor's due check asks, and next to nothing else.
    """
    answers = {"axles": 1, "brakes": "none", "load_shifted": "no"}
    answers |= {k.replace("__", "@"): v for k, v in facts.items()}
    if miles is not None:
        answers["run_distance"] = f"{miles} mi"
    made = made or datetime.now(UTC)
    return record(
        made=made.isoformat(),
        body=check_body(facts=answers, date=made.date().isoformat()),
    )
