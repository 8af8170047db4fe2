"""gunicorn's worker: an event loop takes requests in, threads answer them.

A connection that stalls waits in the loop, where it costs a few kilobytes; a thread is only taken
once a request has arrived whole. So neither stalled senders hold up others, nor does a database
that flushes to disk, or a photo that is decoded, hold up the loop (`docs/decisions.md`).
"""

from __future__ import annotations

import logging
import tempfile
from collections import OrderedDict, defaultdict
from collections.abc import Callable, Iterable, Iterator
from contextlib import AbstractContextManager, contextmanager, suppress
from typing import Any

import gevent
from gevent import socket
from gevent.threadpool import ThreadPool
from gunicorn.workers.ggevent import GeventWorker
from werkzeug.exceptions import RequestTimeout

from webapp import sizes
from webapp.network import network_of

# Fewer than the database pool has connections, so that none has to wait for another.
THREADS = 12
PIECE = 64 * 1024
END_SECONDS = 0.2  # how soon an ending worker lets go of idle connections

Environ = dict[str, Any]


class Waiting:
    """Connections whose request has not arrived, by where they are from, oldest first.

    Past ``most`` from one address its oldest is closed: whoever holds many loses them, and a
    person behind the same address still gets in.
    """

    def __init__(self, most: int) -> None:
        self.most = most  # 0: no limit, as behind a proxy, where all come from one address
        self.held: defaultdict[str, OrderedDict[int, Any]] = defaultdict(OrderedDict)

    def add(self, place: str, client: Any) -> None:
        mine = self.held[place]
        mine[id(client)] = client
        if self.most and len(mine) > self.most:
            close_quietly(mine.popitem(last=False)[1])

    def remove(self, place: str, client: Any) -> None:
        mine = self.held[place]
        mine.pop(id(client), None)
        if not mine:
            del self.held[place]


def close_quietly(client: Any) -> None:
    with suppress(OSError):  # it may have gone already
        client.shutdown(socket.SHUT_RDWR)


def nameless(line: logging.LogRecord) -> bool:
    """gunicorn's own line of what cannot be read or answered, without the address it came from and
    what stood in it, which may hold a secret."""
    words = str(line.msg).split()
    if words[:1] in (["Invalid"], ["Error"]):
        line.msg, line.args = " ".join(words[:2]), ()
    return True


class TooSlow:
    """A body that did not arrive in time: whoever reads it ends with 408."""

    def read(self, *_: Any) -> bytes:
        raise RequestTimeout()

    readline = readlines = __iter__ = read


class Worker(GeventWorker):  # type: ignore[misc]
    """As gunicorn's own worker on gevent, but nothing is patched and nothing runs in the loop."""

    sockets: list[Any]
    wsgi: Any
    alive: bool

    def patch(self) -> None:
        # The sockets alone are gevent's. Database drivers, locks and files stay as they are:
        # they run in real threads.
        self.sockets = [
            socket.socket(s.FAMILY, socket.SOCK_STREAM, fileno=s.sock.detach())
            for s in self.sockets
        ]

    def load_wsgi(self) -> None:
        super().load_wsgi()
        self.log.error_log.addFilter(nameless)
        self.application = self.wsgi
        config = getattr(self.application, "config", {})
        self.header_seconds = config.get("HEADER_SECONDS", 10)
        self.quiet_seconds = config.get("UPLOAD_SECONDS", 30)
        self.request_seconds = config.get("REQUEST_SECONDS", 300)
        behind_proxy = config.get("PROXIES", 0) > 0
        self.waiting = Waiting(0 if behind_proxy else config.get("CONNECTIONS", 0))
        self.threads = ThreadPool(THREADS)
        self.idle: set[Any] = set()
        self.wsgi = self.answer

    def run(self) -> None:
        gevent.spawn(self.let_go)
        super().run()

    def let_go(self) -> None:
        """At the end, close what is open but asks nothing: a browser would keep it for seconds."""
        while self.alive:
            gevent.sleep(END_SECONDS)
        for client in list(self.idle):
            close_quietly(client)

    def timeout_ctx(self) -> AbstractContextManager[object]:
        limit: AbstractContextManager[object] = gevent.Timeout(self.header_seconds, False)
        return limit

    def handle(self, listener: Any, client: Any, addr: Any) -> None:
        place = place_of(addr)
        self.waiting.add(place, client)
        self.idle.add(client)
        try:
            super().handle(listener, client, addr)
        finally:
            self.idle.discard(client)
            self.waiting.remove(place, client)

    def answer(self, environ: Environ, start_response: Callable[..., Any]) -> list[bytes]:
        """Take the body in, here; then let a thread work on the request."""
        client, place = environ["gunicorn.socket"], network_of(environ.get("REMOTE_ADDR"))
        self.idle.discard(client)
        with self.arrived(environ, client) as body:
            self.waiting.remove(place, client)
            environ["wsgi.input"] = body
            try:
                client.settimeout(self.request_seconds)  # from here on it is the answer that waits
                found: list[bytes] = self.threads.apply(
                    run, (self.application, environ, start_response)
                )
                return found
            finally:
                self.waiting.add(place, client)
                self.idle.add(client)

    @contextmanager
    def arrived(self, environ: Environ, client: Any) -> Iterator[Any]:
        """The body, or as much of it as there is to read; on disk when it is large."""
        sent = environ["wsgi.input"]
        length = announced(environ)
        if length is None:
            # Nothing here takes a body of untold length; the connection ends with the answer.
            sent.failed, environ["wsgi.input_terminated"] = True, False
            length = 0
        most = sizes.most(environ["PATH_INFO"])
        with tempfile.SpooledTemporaryFile(sizes.RECORD) as body:
            try:
                self.take_in(sent, client, body, length, most)
            except TimeoutError:
                sent.failed = True
                yield TooSlow()
                return
            body.seek(0)
            yield body

    def take_in(self, sent: Any, client: Any, body: Any, length: int, most: int) -> None:
        """Read ``length`` bytes into ``body``. Raises ``TimeoutError``.

        What is too large is read for a while and dropped, so that its sender sees the answer.
        """
        kept = length <= most
        left = length if kept else min(length, sizes.DRAINED)
        sent.failed = not kept
        client.settimeout(self.quiet_seconds)
        with gevent.Timeout(self.request_seconds, TimeoutError):
            while left and (piece := sent.read(min(left, PIECE))):
                left -= len(piece)
                if kept:
                    body.write(piece)
        sent.failed = sent.failed or left > 0


def run(
    application: Callable[..., Iterable[bytes]],
    environ: Environ,
    start_response: Callable[..., Any],
) -> list[bytes]:
    found = application(environ, start_response)
    try:
        return [b"".join(found)]
    finally:
        close = getattr(found, "close", None)
        if close is not None:
            close()


def announced(environ: Environ) -> int | None:
    """How long the body is; None when it is sent in chunks."""
    if "HTTP_TRANSFER_ENCODING" in environ:
        return None
    text = environ.get("CONTENT_LENGTH") or "0"
    return int(text)  # gunicorn has read it as a number already


def place_of(address: Any) -> str:
    return network_of(address[0]) if isinstance(address, tuple) else network_of(None)
