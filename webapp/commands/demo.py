"""Fill the data folder with a made-up season: `python -m webapp.commands.demo`.

The records of ``demo.toml`` go in by the same address that phones use, once each: their ids are
drawn from the text itself, so running it again stores nothing new. The shops' side is in
``shop/demo.py``.
"""

from __future__ import annotations

import hmac
import sys
import tomllib
from collections.abc import Iterator
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from typing import Any
from uuid import UUID

import rfc8785
from flask import Flask

from checks import prompt
from webapp import create_app
from webapp.commands.demo_shops import open_shops
from webapp.config import BadSetting
from webapp.wording import say, speaking

SEASON = Path(__file__).with_name("demo.toml")


def fixed_id(made: str, seed: str) -> str:
    """A UUIDv7 of that moment whose other bits come from ``seed`` (RFC 9562, section 5.7)."""
    moment = int(datetime.fromisoformat(made).timestamp() * 1000)
    rest = int.from_bytes(sha256(f"{made} {seed}".encode()).digest()[:10])
    bits = (moment << 80 | rest) & ~(0xF << 76) & ~(0x3 << 62) | 7 << 76 | 2 << 62
    return str(UUID(int=bits))


def season(app: Flask) -> Iterator[dict[str, Any]]:
    """The demo's records, each trailer before its checks."""
    for trailer in tomllib.loads(SEASON.read_text("utf-8"))["trailer"]:
        trailer_id = fixed_id(trailer["made"], trailer["name"])
        body = {"trailer": trailer_id, "typed": {}} | {k: trailer[k] for k in ("name", "facts")}
        yield record("trailer", trailer["made"], body)
        for check in trailer["check"]:
            body = check_body(app, check, trailer["facts"], trailer_id)
            yield record("check", check["made"], body)


def check_body(
    app: Flask, check: dict[str, Any], known: dict[str, Any], trailer_id: str
) -> dict[str, Any]:
    """A check as the phone would have sent it, with its verdict."""
    engine = app.extensions["engine"]
    asked = {"check": check["check"], "date": check["made"][:10], "facts": known | check["facts"]}
    return asked | {
        "typed": check.get("typed", {}),
        "trailer": trailer_id,
        "rulebook": engine.rulebook["hash"],
        "verdict": engine.judge(asked),
    }


def record(kind: str, made: str, body: dict[str, Any]) -> dict[str, Any]:
    # The rulebook's hash is in the seed: a changed rulebook gives another verdict, so another id.
    seed = f"{kind} {body['trailer']} {body.get('rulebook', '')}"
    return {"id": fixed_id(made, seed), "kind": kind, "version": 1, "made": made, "body": body}


def fill(app: Flask) -> list[tuple[dict[str, Any], dict[str, Any]]]:
    """Send every record; return each with its answer. Raises RuntimeError when one is refused."""
    # Only this data folder's owner can tell the demo's device id.
    key = app.config["SECRET_KEY"].encode()
    headers = {"X-Twentymile-Device": hmac.digest(key, b"demo", "sha256").hex()[:32]}
    client = app.test_client()
    answers = []
    for one in season(app):
        digest = sha256(rfc8785.dumps(one)).hexdigest()
        sent = {"record": one, "hash": digest}
        response = client.post("/api/records", json=sent, headers=headers)
        if response.status_code != 200:
            raise RuntimeError(response.text)
        answers.append((one, dict(response.json or {})))
    return answers


def main() -> None:
    said = prompt.spoken()
    with speaking(said.language):
        prompt.parser("webapp.commands.demo", "cli-demo", said).parse_args()
        try:
            app = create_app()
        except BadSetting as error:
            sys.exit(str(error))
        for one, answer in fill(app):
            print(line(one, answer))
        print(*open_shops(app), sep="\n")
        print(say("cli-demo-stored", folder=str(app.config["DATA"])))


def line(one: dict[str, Any], answer: dict[str, Any]) -> str:
    """What was stored: its day, what it is, and its name or its level."""
    if not answer["verdict"]:
        return f"{one['made'][:10]}  {say('cli-demo-trailer')}: {one['body']['name']}"
    about = say(f"level-{answer['verdict']['level']}")
    return f"{one['made'][:10]}  {say('check-' + one['body']['check'])}: {about}"


if __name__ == "__main__":
    main()
