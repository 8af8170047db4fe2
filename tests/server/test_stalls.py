"""Connections that stall: what they cost others, and how long they may."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from contextlib import closing, suppress
from select import select

import pytest

from tests.benchmarks.stalls import FORM, HEADER, UPLOAD, asked, stalled
from tests.support.effort import some
from tests.support.records import envelope, record
from tests.support.serve import serving
from tests.support.waiting import until
from webapp.connections import Waiting
from webapp.network import network_of

pytestmark = pytest.mark.slow

# Far longer than any test runs: what ends here was not ended by time.
PATIENT = {
    "TWENTYMILE_HEADER_SECONDS": "900",
    "TWENTYMILE_UPLOAD_SECONDS": "900",
    "TWENTYMILE_REQUEST_SECONDS": "900",
}
BRISK = {
    "TWENTYMILE_HEADER_SECONDS": "1",
    "TWENTYMILE_UPLOAD_SECONDS": "1",
    "TWENTYMILE_REQUEST_SECONDS": "2",
}
GIVEN_UP = 60.0  # seconds for an answer that a machine under load has ready in one


@pytest.fixture(scope="module")
def port(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    """A server that never loses patience."""
    with serving(tmp_path_factory.mktemp("data"), **PATIENT) as address:
        yield int(address.rsplit(":", 1)[1])


@pytest.fixture(scope="module")
def brisk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    """A server that soon loses patience."""
    with serving(tmp_path_factory.mktemp("data"), **BRISK) as address:
        yield int(address.rsplit(":", 1)[1])


def test_stalled_connections_hold_nobody_up(port):
    """Others are answered while all of them stall; the benchmark `stalls` tells how soon."""
    with stalled(port) as held:
        for _ in range(8):
            assert asked(port, "GET", "/healthz", patience=GIVEN_UP)
            sent = envelope(record())
            assert asked(port, "POST", "/api/records", sent, patience=GIVEN_UP)
        assert ended(held) == []


def ended(held: list[socket.socket]) -> list[socket.socket]:
    """Those that were answered or closed."""
    return select(held, [], [], 0)[0]


def answer_to(port: int, begun: str, dribble: str = "") -> str:
    """The status line, or "" when it is only closed, or that it was held open."""
    with closing(socket.create_connection(("127.0.0.1", port), timeout=20)) as connection:
        connection.sendall(begun.encode())
        connection.settimeout(0.2)
        for _ in range(int(GIVEN_UP / 0.2)):
            try:
                return connection.recv(4096).decode().split("\r\n")[0]
            except TimeoutError:
                with suppress(ConnectionError):  # the answer may be under way
                    connection.sendall(dribble.encode())
            except ConnectionError:
                return ""
    return "held open"


STALLS = {
    "a head that stops": (HEADER, "", ""),
    "a head that dribbles": (HEADER, "x", ""),
    "an upload that stops": (UPLOAD, "", "HTTP/1.1 408 REQUEST TIMEOUT"),
    "an upload that dribbles": (UPLOAD, " ", "HTTP/1.1 408 REQUEST TIMEOUT"),
    "a form that stops": (FORM, "", "HTTP/1.1 408 REQUEST TIMEOUT"),
    "a form that dribbles": (FORM, "a", "HTTP/1.1 408 REQUEST TIMEOUT"),
    "nothing at all": ("", "", ""),
}


@pytest.mark.parametrize("case", some(STALLS, 3))
def test_what_stalls_is_ended(port, brisk, case):
    begun, dribble, answer = STALLS[case]
    with closing(socket.create_connection(("127.0.0.1", port), timeout=20)) as patient:
        patient.sendall(begun.encode())
        assert answer_to(brisk, begun, dribble) == answer
        assert ended([patient]) == []  # it stalls as long, where more patience is set


BROKEN_CHUNKS = {
    "no number": "zz\r\nlogin\r\n",
    "cut off": "ff\r\nlogin=a",
    "a whole one": "7\r\nlogin=a\r\n0\r\n\r\n",
}


@pytest.mark.parametrize("case", BROKEN_CHUNKS)
def test_a_form_in_chunks_is_refused(port, case):
    head = FORM.split("Content-Length")[0] + "Transfer-Encoding: chunked\r\n\r\n"
    assert answer_to(port, head + BROKEN_CHUNKS[case]) == "HTTP/1.1 400 BAD REQUEST"


def test_an_upload_that_waits_to_be_asked_for_is_asked_for(port):
    body = "x" * 10
    head = FORM.split("Content-Length")[0] + "Expect: 100-continue\r\nContent-Length: 10\r\n\r\n"
    assert answer_to(port, head + body) == "HTTP/1.1 100 Continue"


@pytest.mark.long
def test_past_the_limit_of_an_address_its_oldest_connection_is_closed(tmp_path):
    with serving(tmp_path, TWENTYMILE_CONNECTIONS="4", **PATIENT) as address:
        port = int(address.rsplit(":", 1)[1])
        with stalled(port, 10) as held:
            assert asked(port, "GET", "/healthz", patience=GIVEN_UP)
            most = 2 * 4  # in each of two processes
            until(lambda: len(held) - len(ended(held)) <= most, "the oldest are closed", GIVEN_UP)


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
