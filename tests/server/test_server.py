"""The real server: gunicorn's workers, sockets that break, and several starting at once."""

from __future__ import annotations

import json
import re
import socket
import sqlite3
import threading
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, closing
from pathlib import Path

import pytest

from tests.support.records import DEVICE, envelope, record
from tests.support.serve import ROOT, serving
from tests.support.waiting import until
from webapp.api.records import LIMIT

# What is stored is read from the file, past the server.
pytestmark = [pytest.mark.sqlite, pytest.mark.slow]  # real servers


@pytest.fixture(scope="module")
def data(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("data")


@pytest.fixture(scope="module")
def port(data: Path) -> Iterator[int]:
    with serving(data, cold=True, TWENTYMILE_UPLOAD_SECONDS="1") as address:
        yield int(address.rsplit(":", 1)[1])


def stored(data: Path) -> int:
    with closing(sqlite3.connect(data / "twentymile.sqlite3")) as connection:
        return int(connection.execute("SELECT count(*) FROM records").fetchone()[0])


def photo(**body: str) -> bytes:
    """An envelope whose kind needs no judging."""
    return json.dumps(envelope(record(kind="photo", body=body))).encode()


def talk(
    port: int, body: bytes, length: int | None, hang_up: bool = True, more: bytes = b""
) -> tuple[int, str]:
    """Send headers that promise ``length`` bytes, then ``body``; return status and answer."""
    head = [
        "POST /api/records HTTP/1.1",
        "Host: localhost",
        "Connection: close",
        f"X-Twentymile-Device: {DEVICE}",
        "Content-Type: application/json",
    ]
    head += ["Transfer-Encoding: chunked"] if length is None else [f"Content-Length: {length}"]
    with socket.create_connection(("127.0.0.1", port), timeout=20) as connection:
        connection.sendall("\r\n".join(head).encode() + b"\r\n\r\n" + body + more)
        if hang_up:
            connection.shutdown(socket.SHUT_WR)
        answer = b"".join(iter(lambda: connection.recv(65536), b"")).decode()
    found = re.match(r"HTTP/1\.1 (\d+)", answer)
    assert found, answer
    return int(found[1]), answer


def test_a_whole_upload_is_stored(port, data):
    before = stored(data)
    body = photo(note="whole")
    assert talk(port, body, len(body))[0] == 200
    assert stored(data) == before + 1


@pytest.mark.parametrize("missing", [1, 50])
def test_a_cut_upload_is_refused_and_not_stored(port, data, missing):
    before = stored(data)
    body = photo(note="cut")
    status, answer = talk(port, body[:-missing], len(body))
    assert status == 400
    assert '"cut_off"' in answer
    assert stored(data) == before


def test_an_upload_that_is_cut_where_json_looks_whole_is_refused(port, data):
    before = stored(data)
    body = photo(note="whole to the eye")
    status, answer = talk(port, body, len(body) + 1)
    assert (status, '"cut_off"' in answer) == (400, True)
    assert stored(data) == before


def test_a_stalled_upload_is_given_up(port, data):
    before = stored(data)
    body = photo(note="stalled")
    status, answer = talk(port, body[:-1], len(body), hang_up=False)
    assert (status, '"too_slow"' in answer) == (408, True)
    assert stored(data) == before


def test_a_body_of_untold_length_is_refused(port):
    body = photo(note="chunks")
    chunked = b"%x\r\n%b\r\n0\r\n\r\n" % (len(body), body)
    status, answer = talk(port, chunked, None)
    assert (status, '"length_missing"' in answer) == (411, True)


def test_the_sender_of_a_body_that_is_too_large_sees_the_answer(port):
    body = photo(note="x" * 4 * LIMIT)
    status, answer = talk(port, body, len(body), hang_up=False)
    assert (status, '"too_large"' in answer) == (413, True)


def test_one_record_sent_by_many_at_once_is_stored_once(port, data):
    before = stored(data)
    body = photo(note="many")
    with ThreadPoolExecutor(8) as pool:
        answers = list(pool.map(lambda _: talk(port, body, len(body)), range(24)))
    assert {status for status, _ in answers} == {200}
    assert len({answer.rsplit("\r\n\r\n", 1)[1] for _, answer in answers}) == 1
    assert stored(data) == before + 1


@pytest.mark.long
def test_many_records_sent_at_once_are_all_stored(port, data):
    before = stored(data)
    bodies = [photo(note=str(number)) for number in range(40)]
    with ThreadPoolExecutor(8) as pool:
        answers = list(pool.map(lambda body: talk(port, body, len(body))[0], bodies))
    assert answers == [200] * 40
    assert stored(data) == before + 40


@pytest.mark.long
def test_servers_that_start_at_once_on_an_empty_folder_share_one_database(tmp_path):
    keys: list[str] = []

    def start() -> None:
        with serving(tmp_path):
            keys.append((tmp_path / "secret_key").read_text())

    threads = [threading.Thread(target=start) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(keys) == 2
    assert len(set(keys)) == 1
    newest = max(
        path.name[:4] for path in (ROOT / "webapp/storage/migrations/versions").glob("0*.py")
    )
    with closing(sqlite3.connect(tmp_path / "twentymile.sqlite3")) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchall() == [
            (newest,)
        ]


@pytest.mark.long
def test_an_open_connection_that_asks_nothing_does_not_hold_up_the_end(tmp_path):
    # Work under way would be given longer than the support waits for the server's end.
    longer = ("--graceful-timeout", "250")
    with serving(tmp_path, longer, TWENTYMILE_HEADER_SECONDS="600") as address:
        idle = socket.create_connection(("127.0.0.1", int(address.rsplit(":", 1)[1])))
        idle.sendall(b"GET /healthz HTTP/1.1\r\nHost: localhost\r\n\r\n")
        assert b"200" in idle.recv(100)
    idle.close()


@pytest.mark.long
def test_an_upload_under_way_is_stored_though_the_server_is_ending(tmp_path):
    body = photo(note="late")
    head = f"POST /api/records HTTP/1.1\r\nHost: localhost\r\nX-Twentymile-Device: {DEVICE}\r\n"
    head += f"Content-Type: application/json\r\nContent-Length: {len(body)}\r\n\r\n"
    with ThreadPoolExecutor() as pool, ExitStack() as server:
        port = int(server.enter_context(serving(tmp_path)).rsplit(":", 1)[1])
        with socket.create_connection(("127.0.0.1", port), timeout=20) as sender:
            sender.sendall(head.encode() + body[:-9])
            ending = pool.submit(server.close)
            until(lambda: refused(port), "it takes no more connections")
            sender.sendall(body[-9:])
            assert b" 200 " in sender.recv(100)
            ending.result()
    assert stored(tmp_path) == 1


def refused(port: int) -> bool:
    try:
        socket.create_connection(("127.0.0.1", port), timeout=1).close()
    except OSError:
        return True
    return False
