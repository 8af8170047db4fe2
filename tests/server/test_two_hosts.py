"""Two hosts on one PostgreSQL: the same answers from both, while one of them is killed."""

from __future__ import annotations

import json
import os
import threading
import urllib.error
import urllib.request
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import create_engine, text

from tests.conftest import POSTGRES
from tests.support.faults import Server
from tests.support.records import HEADERS, check_body, envelope, record
from webapp.config import database_url

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not POSTGRES, reason="two hosts share a PostgreSQL: make test-postgres"),
]
PHONES, EACH = 4, 20
TRIES = 20


@pytest.fixture
def hosts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[list[Server]]:
    """Two servers with a folder each and nothing in common but the database and its key."""
    monkeypatch.setenv("SECRET_KEY", "0" * 64)
    both = []
    for name in ("one", "other"):
        (tmp_path / name).mkdir()
        both.append(Server(tmp_path / name, tmp_path / f"{name}-files"))
    for server in both:
        server.start()
    yield both
    for server in both:
        server.kill()


def answer_of(server: Server, sent: dict[str, Any]) -> dict[str, Any]:
    """Raises OSError where there is no answer, or one that is no acknowledgement."""
    asked = urllib.request.Request(
        f"http://127.0.0.1:{server.port}/api/records",
        json.dumps(sent).encode(),
        HEADERS | {"Content-Type": "application/json"},
    )
    try:
        with urllib.request.urlopen(asked, timeout=10) as answer:
            found: dict[str, Any] = json.load(answer)
            return found
    except urllib.error.HTTPError as error:
        raise OSError(error.read()) from None


class Phone:
    """Sends each check until a host acknowledges it; turns to the other one where none does."""

    def __init__(self, hosts: list[Server], first: int, some_sent: threading.Event) -> None:
        self.hosts, self.at, self.some_sent = hosts, first, some_sent
        self.turned = 0
        self.checks = [envelope(record(body=check_body(facts={"axles": 2}))) for _ in range(EACH)]

    def send_all(self) -> dict[str, Any]:
        answers = {}
        for count, one in enumerate(self.checks):
            answers[one["record"]["id"]] = self.send(one)
            if count == EACH // 4:
                self.some_sent.set()
        return answers

    def send(self, one: dict[str, Any]) -> dict[str, Any]:
        for _ in range(TRIES):
            try:
                return answer_of(self.hosts[self.at], one)
            except OSError:
                self.turned += 1
                self.at = 1 - self.at
        raise AssertionError("neither host took it")


def test_two_hosts_on_one_database_answer_alike_while_one_is_killed(hosts: list[Server]) -> None:
    under_way = threading.Event()
    phones = [Phone(hosts, number % 2, under_way) for number in range(PHONES)]
    with ThreadPoolExecutor(PHONES) as pool:
        sending = [pool.submit(phone.send_all) for phone in phones]
        assert under_way.wait(60)
        hosts[0].kill()
        answers = {key: one for share in sending for key, one in share.result().items()}
    assert any(phone.turned for phone in phones)  # it was killed while it was needed
    assert stored() == sorted(answers)
    hosts[0].start()
    for phone in phones:
        for one in phone.checks:
            for host in hosts:
                assert answer_of(host, one) == answers[one["record"]["id"]]
    assert stored() == sorted(answers)


def stored() -> list[str]:
    """The ids of all records, each as often as it is there."""
    engine = create_engine(database_url(os.environ["TWENTYMILE_DATABASE_URL"], Path()))
    with engine.connect() as connection:
        found = sorted(connection.execute(text("SELECT id FROM records")).scalars())
    engine.dispose()
    return found
