"""The way between phones and a server: requests and answers go wrong on it as they are told to."""

from __future__ import annotations

import http.client
import threading
import time
from collections import Counter, deque
from collections.abc import Callable
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

# What happens to a request to the API; those to the app's own files pass, or find nobody.
FAULTS = (
    "none",
    "never arrives",
    "answer is lost",
    "comes late",
    "comes twice",
    "comes again later",
    "body is cut",
    "answer is cut",
    "a network's page answers",
    "a proxy says 404",
    "a proxy says 403 in JSON",
    "a proxy says 502",
    "server dies before",
    "server dies within",
    "server dies after",
)
STRANGERS = {
    "a network's page answers": (200, "text/html", b"<html>sign in to this network</html>"),
    "a proxy says 404": (404, "text/html", b"<html>404 Not Found</html>"),
    "a proxy says 403 in JSON": (403, "application/json", b'{"error": {"code": "forbidden"}}'),
    "a proxy says 502": (502, "text/html", b"<html>502 Bad Gateway</html>"),
}
LATE, LATER = 0.4, 1.2  # seconds
HOPS = {"connection", "keep-alive", "transfer-encoding", "content-length", "host"}
Answer = tuple[int, list[tuple[str, str]], bytes]


class Air:
    """A proxy on a port of its own. ``faults`` are taken one a request, oldest first."""

    def __init__(self, server_port: int, kill: Callable[[], None]) -> None:
        self.server_port, self.kill = server_port, kill
        self.faults: deque[tuple[str, float]] = deque()  # and how long after it began, in seconds
        self.seen: Counter[str] = Counter()
        self.lock = threading.Lock()
        air = self

        class Handler(BaseHTTPRequestHandler):
            protocol_version = "HTTP/1.0"

            def do_GET(self) -> None:
                air.carry(self, "none", 0)

            def do_POST(self) -> None:
                air.carry(self, *air.next_fault())

            def log_message(self, *_: Any) -> None:
                pass

        self.proxy = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        self.address = f"http://127.0.0.1:{self.proxy.server_port}"
        threading.Thread(target=self.proxy.serve_forever, args=(0.01,), daemon=True).start()

    def close(self) -> None:
        self.proxy.shutdown()
        self.proxy.server_close()

    def next_fault(self) -> tuple[str, float]:
        with self.lock:
            fault = self.faults.popleft() if self.faults else ("none", 0.0)
            self.seen[fault[0]] += 1
        return fault

    def carry(self, one: BaseHTTPRequestHandler, fault: str, after: float) -> None:
        body = one.rfile.read(int(one.headers.get("Content-Length") or 0))
        if fault in STRANGERS:
            status, kind, said = STRANGERS[fault]
            answer(one, (status, [("Content-Type", kind)], said))
            return
        found = self.led_through(one, body, fault, after)
        if found is None or fault in ("answer is lost", "server dies after"):
            one.close_connection = True
            return
        answer(one, found, cut=fault == "answer is cut")

    def led_through(
        self, one: BaseHTTPRequestHandler, body: bytes, fault: str, after: float
    ) -> Answer | None:
        if fault == "never arrives":
            return None
        if fault == "server dies before":
            self.kill()
        if fault == "comes late":
            time.sleep(LATE)
        if fault == "server dies within":
            threading.Timer(after, self.kill).start()
        sent = body[: len(body) * 2 // 3] if fault == "body is cut" else body
        found = self.asked(one, sent, len(body))
        if fault == "comes twice":
            found = self.asked(one, body, len(body))
        if fault == "comes again later":  # behind what is sent after it
            threading.Timer(LATER, self.asked, (one, body, len(body))).start()
        if fault == "server dies after":
            self.kill()
        return found

    def asked(self, one: BaseHTTPRequestHandler, body: bytes, length: int) -> Answer | None:
        """The server's answer; None when there was none. A body may be shorter than announced."""
        line = http.client.HTTPConnection("127.0.0.1", self.server_port, timeout=15)
        try:
            line.putrequest(one.command, one.path, skip_host=True, skip_accept_encoding=True)
            for name, value in one.headers.items():
                if name.lower() not in HOPS or name.lower() == "host":
                    line.putheader(name, value)
            line.putheader("Connection", "close")
            line.putheader("Content-Length", str(length))
            line.endheaders()
            line.send(body)
            if len(body) < length:
                line.sock.shutdown(1)  # no more comes: half of the line is closed
            reply = line.getresponse()
            return reply.status, reply.getheaders(), reply.read()
        except (OSError, http.client.HTTPException):
            return None
        finally:
            line.close()


def answer(one: BaseHTTPRequestHandler, found: Answer, cut: bool = False) -> None:
    status, headers, body = found
    try:
        one.send_response_only(status)
        for name, value in headers:
            if name.lower() not in HOPS:
                one.send_header(name, value)
        one.send_header("Content-Length", str(len(body)))
        one.end_headers()
        one.wfile.write(body[: len(body) // 2] if cut else body)
    except OSError:  # the phone has hung up
        pass
    one.close_connection = True
