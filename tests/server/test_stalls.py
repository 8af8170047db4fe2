"""Connections that stall: what they cost others, and how long they may."""

from __future__ import annotations

import socket
import time
from collections.abc import Iterator
from contextlib import closing

import pytest

from tests.benchmarks.stalls import FORM, HEADER, UPLOAD, asked, measured, seconds_of, stalled
from tests.support.effort import some
from tests.support.serve import serving
from webapp.connections import Waiting
from webapp.network import network_of

pytestmark = pytest.mark.slow

PATIENCE = {
    "TWENTYMILE_HEADER_SECONDS": "1",
    "TWENTYMILE_UPLOAD_SECONDS": "1",
    "TWENTYMILE_REQUEST_SECONDS": "2",
}


@pytest.fixture(scope="module")
def port(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    with serving(tmp_path_factory.mktemp("data")) as address:
        yield int(address.rsplit(":", 1)[1])


@pytest.fixture(scope="module")
def brisk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    """A server that soon loses patience."""
    with serving(tmp_path_factory.mktemp("data"), **PATIENCE) as address:
        yield int(address.rsplit(":", 1)[1])


def test_stalled_connections_hold_nobody_up(port):
    # The benchmark holds the tighter bar; this machine may be busy with other tests.
    with stalled(port):
        health, store = measured(port, 2.0)
    assert health[len(health) // 2] <= 0.05
    assert max(health + store) <= 1.0


def answer_to(port: int, begun: str, dribble: str = "") -> tuple[str, float]:
    """The status line, or "" when it is only closed, and after how many seconds."""
    start = time.perf_counter()
    with closing(socket.create_connection(("127.0.0.1", port), timeout=20)) as connection:
        connection.sendall(begun.encode())
        connection.settimeout(0.2)
        while True:
            try:
                answer = connection.recv(4096).decode()
                break
            except TimeoutError:
                connection.sendall(dribble.encode())
            except ConnectionError:
                answer = ""
                break
    return answer.split("\r\n")[0], time.perf_counter() - start


STALLS = {
    "a head that stops": (HEADER, "", "", 4),
    "a head that dribbles": (HEADER, "x", "", 4),
    "an upload that stops": (UPLOAD, "", "HTTP/1.1 408 REQUEST TIMEOUT", 4),
    "an upload that dribbles": (UPLOAD, " ", "HTTP/1.1 408 REQUEST TIMEOUT", 5),
    "a form that stops": (FORM, "", "HTTP/1.1 408 REQUEST TIMEOUT", 4),
    "a form that dribbles": (FORM, "a", "HTTP/1.1 408 REQUEST TIMEOUT", 5),
    "nothing at all": ("", "", "", 4),
}


@pytest.mark.parametrize("case", some(STALLS, 3))
def test_what_stalls_is_ended(brisk, case):
    begun, dribble, answer, seconds = STALLS[case]
    found, took = answer_to(brisk, begun, dribble)
    assert found == answer
    assert took < seconds


BROKEN_CHUNKS = {
    "no number": "zz\r\nlogin\r\n",
    "cut off": "ff\r\nlogin=a",
    "a whole one": "7\r\nlogin=a\r\n0\r\n\r\n",
}


@pytest.mark.parametrize("case", BROKEN_CHUNKS)
def test_a_form_in_chunks_is_refused(port, case):
    head = FORM.split("Content-Length")[0] + "Transfer-Encoding: chunked\r\n\r\n"
    assert answer_to(port, head + BROKEN_CHUNKS[case])[0] == "HTTP/1.1 400 BAD REQUEST"


def test_an_upload_that_waits_to_be_asked_for_is_asked_for(port):
    body = "x" * 10
    head = FORM.split("Content-Length")[0] + "Expect: 100-continue\r\nContent-Length: 10\r\n\r\n"
    assert answer_to(port, head + body)[0] == "HTTP/1.1 100 Continue"


@pytest.mark.long
def test_past_the_limit_of_an_address_its_oldest_connection_is_closed(tmp_path):
    with serving(tmp_path, TWENTYMILE_CONNECTIONS="4") as address:
        port = int(address.rsplit(":", 1)[1])
        with stalled(port, 10) as held:
            assert seconds_of(lambda: asked(port, "GET", "/healthz")) < 2
            assert sum(is_open(one) for one in held) <= 2 * 4  # in each of two processes


def is_open(connection: socket.socket) -> bool:
    connection.settimeout(0.05)
    try:
        return connection.recv(1) != b""
    except TimeoutError:
        return True
    except ConnectionError:
        return False


class Line:
    """A connection that only knows whether it was closed."""

    closed = False

    def shutdown(self, _how: int) -> None:
        self.closed = True


def test_a_request_that_is_being_answered_is_never_closed_for_another():
    waiting, first, more = Waiting(2), Line(), [Line() for _ in range(3)]
    waiting.add("192.0.2.1", first)
    waiting.remove("192.0.2.1", first)
    for line in more:
        waiting.add("192.0.2.1", line)
    waiting.add("192.0.2.2", Line())
    assert [first.closed, *(line.closed for line in more)] == [False, True, False, False]


PLACES = {
    "192.0.2.1": "192.0.2.1",
    "192.0.2.1:4711": "192.0.2.1",
    "2001:db8::1": "2001:db8::/64",
    "[2001:db8::1]:4711": "2001:db8::/64",
    "[2001:db8::1]": "2001:db8::/64",
    "::ffff:192.0.2.1": "192.0.2.1",
    " 192.0.2.1 ": "192.0.2.1",
    "unknown": "0.0.0.0",
    "_gateway": "0.0.0.0",
    "": "0.0.0.0",
}


@pytest.mark.parametrize("text", PLACES)
def test_an_address_is_one_place_however_a_proxy_writes_it(text):
    assert network_of(text) == PLACES[text]
