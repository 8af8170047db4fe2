"""A kept check is read by the rules and the words that it was made with."""

from __future__ import annotations

import json
from hashlib import sha256
from html import unescape
from pathlib import Path
from typing import Any

import pytest
import rfc8785
from flask import Flask
from sqlalchemy import MetaData, select, update

from checks.rulebook import PARTS, export, export_words
from checks.words import finished
from tests.support.floor import Floor, run_stop
from tests.support.records import record
from tests.support.shops import Shop, add_shop, sign_in
from webapp import config, create_app
from webapp.commands.verify import differing
from webapp.shop.accounts import add_staff
from webapp.storage.migrate import migrate
from webapp.storage.models import records, rulebooks, words
from webapp.storage.releases import canonical, keep
from webapp.storage.store import Store

WARM = {"finding": "smoke_seen", "place": "1L", "level": "stop"}


def rows(app: Flask, table: Any) -> list[Any]:
    with app.extensions["store"].reading() as connection:
        return list(connection.execute(select(table)).mappings())


def sealed(data: dict[str, Any]) -> dict[str, Any]:
    bare = {key: value for key, value in data.items() if key != "hash"}
    return bare | {"hash": sha256(rfc8785.dumps(bare)).hexdigest()}


def older(title: str) -> tuple[dict[str, Any], dict[str, Any]]:
    """Rules and words of a release that is gone: a finding and a question that no more exist."""
    rules = export()
    finding = rules["findings"]["has_smoke"] | {"source": "An older handbook"}
    rules = sealed(rules | {"findings": {"smoke_seen": finding}, "format": 0})
    said = {"finding-smoke_seen": title, "finding-smoke_seen.do": "Pull over."}
    return rules, sealed({"language": "en", "say": said})


def page(floor: Floor, kept: str, suffix: str = "") -> str:
    login = f"dana{kept[-4:]}"
    shop = add_shop(floor.app, f"Pell Street {login}", login)
    with floor.app.extensions["store"].writing() as connection:
        connection.execute(update(records).where(records.c.id == kept).values(shop_id=shop))
    answer = sign_in(floor.app, login).get(f"/shop/checks/{kept}{suffix}")
    assert answer.status_code == 200
    return unescape(answer.text) if not suffix else answer.data


def sent(floor: Floor, rulebook: str) -> str:
    one = run_stop(smoke__1L="yes")
    one["body"] |= {"rulebook": rulebook, "verdict": {"level": "stop", "findings": [WARM]}}
    assert floor.send(one).status_code == 200
    return str(one["id"])


@pytest.mark.slow
def test_a_start_keeps_each_part_of_the_rules_and_its_words_once(app: Flask) -> None:
    assert {row["hash"] for row in rows(app, rulebooks)} == {export(part)["hash"] for part in PARTS}
    said = [export_words(part, one)["hash"] for part in PARTS for one in finished()]
    assert sorted(row["hash"] for row in rows(app, words)) == sorted(said)
    again = create_app({"DATA": app.config["DATA"], "DATABASE_URL": app.config["DATABASE_URL"]})
    assert len(rows(again, rulebooks)) == len(PARTS)


def test_what_is_kept_can_be_proved_by_its_hash(app: Flask) -> None:
    kept = [("rules", row["hash"], row["rules"]) for row in rows(app, rulebooks)]
    kept += [("words", row["hash"], row["text"]) for row in rows(app, words)]
    assert differing(kept) == (len(kept), [])


def test_mended_words_are_kept_beside_those_before_and_the_rules_once(app: Flask) -> None:
    rules, before = older("Smoke")
    _, after = older("Smoke from a hub")
    for said in (before, after, after):
        keep(app.extensions["store"], rules, [said])
    kept = [row for row in rows(app, words) if row["rulebook"] == rules["hash"]]
    assert [row["hash"] for row in kept] == [before["hash"], after["hash"]]
    assert [row["rules"] for row in rows(app, rulebooks) if row["hash"] == rules["hash"]] == [
        canonical(rules)
    ]


def test_a_check_of_an_older_release_opens_in_its_own_words(floor: Floor) -> None:
    rules, said = older("Smoke where the wheel turns")
    keep(floor.app.extensions["store"], rules, [said])
    text = page(floor, sent(floor, rules["hash"]))
    assert "Smoke where the wheel turns (left wheel)" in text
    assert "Pull over." in text
    assert "An older handbook" in text
    assert "The phone judged with another release of the rules." in text


@pytest.mark.slow
def test_an_older_check_can_still_be_printed(floor: Floor) -> None:
    rules, said = older("Smoke where the wheel turns")
    keep(floor.app.extensions["store"], rules, [said])
    assert page(floor, sent(floor, rules["hash"]), ".pdf").startswith(b"%PDF")


def test_of_rules_that_were_never_here_the_finding_is_named_by_its_id(floor: Floor) -> None:
    assert "smoke seen (left wheel)" in page(floor, sent(floor, "1" * 64))


# ---- a database of the release before -----------------------------------------------------------


@pytest.fixture
def old(tmp_path: Path) -> tuple[dict[str, Any], Any]:
    """Settings of a server whose database was left by a release that kept no rules; its check."""
    settings = config.from_environment({"DATA": tmp_path / "data"})
    store = Store(settings["DATABASE_URL"], settings["DATA"])
    migrate(store, "0003")
    metadata = MetaData()
    metadata.reflect(store.engine)
    one = record()
    one["body"] |= {"facts": {"axles": 1, "smoke@1L": "yes"}, "rulebook": "2" * 64}
    one["body"]["verdict"] = {
        "level": "stop",
        "findings": [{"finding": "has_smoke", "place": "1L", "level": "stop"}],
    }
    text = rfc8785.dumps(one)
    with store.writing() as connection:
        tables = metadata.tables
        shop = {"name": "Pell Street Garage", "phone": "", "email": "", "place": ""}
        connection.execute(tables["shops"].insert().values(id=7, **shop))
        connection.execute(
            tables["records"]
            .insert()
            .values(
                device="d" * 64,
                id=one["id"],
                hash=sha256(text).hexdigest(),
                kind="check",
                version=1,
                level="stop",
                made_ms=1_780_000_000_000,
                received_ms=1_780_000_000_000,
                record=text.decode(),
                verdict=json.dumps(one["body"]["verdict"] | {"rulebook": "2" * 64}),
                shop_id=7,
                shelf=0,
            )
        )
    store.engine.dispose()
    return {"DATA": tmp_path / "data", "DATABASE_URL": settings["DATABASE_URL"]}, one


@pytest.mark.slow
@pytest.mark.sqlite
def test_a_database_of_the_release_before_is_carried_over(old: tuple[dict[str, Any], Any]) -> None:
    settings, one = old
    app = create_app(settings)
    kept = rows(app, records)
    assert differing((row["id"], row["hash"], row["record"]) for row in kept) == (1, [])
    assert len(rows(app, rulebooks)) == len(PARTS)
    with app.extensions["store"].writing() as connection:
        add_staff(connection, 7, "dana", "Dana", "wheel bearing grease gun")
    shop = Shop(7, "dana", sign_in(app, "dana"))
    assert one["id"] in shop.client.get("/shop").text
    answer = shop.client.get(f"/shop/checks/{one['id']}")
    assert answer.status_code == 200
    assert "Stop now" in answer.text
    assert shop.client.get(f"/shop/checks/{one['id']}.pdf").data.startswith(b"%PDF")
    assert export()["findings"]["has_smoke"]["level"] == "stop"
