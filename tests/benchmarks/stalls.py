"""What stalled connections cost everybody else: `python -m tests.benchmarks.stalls`.

Opens uploads, forms and headers that stop half-way, all at once, and then asks for `/healthz` and
stores checks on connections of their own. Compares workers, on SQLite and, where it is installed,
on PostgreSQL. The bar: `/healthz` 50 ms at the median and 250 ms at worst, a check within a second.
"""

from __future__ import annotations

import argparse
import http.client
import json
import socket
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, contextmanager, nullcontext
from pathlib import Path
from typing import Any

from tests.support.on_postgres import binaries, cluster
from tests.support.photo_files import camera_file, headers, scene
from tests.support.records import DEVICE, HEADERS, envelope, record
from tests.support.serve import serving

# What each kind of worker is started with instead of what `make run` has.
THREADS = ("--workers", "2", "--worker-class", "gthread", "--threads", "16")
EVENTS = ("--workers", "2", "--worker-class", "gevent")
WORKERS: dict[str, tuple[str, ...]] = {"gthread": THREADS, "gevent": EVENTS, "ours": ()}
EACH = 64
GIVEN_UP = 10.0  # seconds after which nobody waits any longer
HEALTHY_MEDIAN, HEALTHY_WORST, STORED_WORST = 0.050, 0.250, 1.0

UPLOAD = (
    "POST /api/records HTTP/1.1\r\nHost: localhost\r\n"
    f"X-Twentymile-Device: {DEVICE}\r\nContent-Type: application/json\r\n"
    'Content-Length: 4000\r\n\r\n{"record": '
)
FORM = (
    "POST /shop/sign-in HTTP/1.1\r\nHost: localhost\r\n"
    "Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 4000\r\n\r\nlogin=da"
)
HEADER = "GET /healthz HTTP/1.1\r\nHost: localhost\r\nAccept: text/"


@contextmanager
def stalled(port: int, each: int = EACH) -> Iterator[list[socket.socket]]:
    """So many uploads, forms and headers that stop half-way, held open."""
    with ExitStack() as held:
        found = []
        for _ in range(each):
            for begun in (UPLOAD, FORM, HEADER):
                one = held.enter_context(socket.create_connection(("127.0.0.1", port), timeout=30))
                one.sendall(begun.encode())
                found.append(one)
        yield found


def seconds_of(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def asked(port: int, method: str, path: str, body: Any = None, patience: float = GIVEN_UP) -> bool:
    """Whether a request on a connection of its own is answered, with 200, within ``patience``."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=patience)
    headers = HEADERS | {"Content-Type": "application/json"}
    try:
        connection.request(method, path, None if body is None else json.dumps(body), headers)
        answer = connection.getresponse()
        text = answer.read().decode()
    except TimeoutError:
        return False
    finally:
        connection.close()
    if answer.status != 200:
        raise RuntimeError(f"{path}: {answer.status} {text}")
    return True


def measured(port: int, seconds: float) -> tuple[list[float], list[float]]:
    """Seconds that `/healthz` took, and that storing a check took, shortest first."""
    health, store = [], []
    end = time.perf_counter() + seconds
    while time.perf_counter() < end:
        health.append(seconds_of(lambda: asked(port, "GET", "/healthz")))
        if len(health) % 10 > 1:
            continue
        sent = envelope(record())
        store.append(seconds_of(lambda sent=sent: asked(port, "POST", "/api/records", sent)))
    return sorted(health), sorted(store)


@contextmanager
def photos_coming(port: int) -> Iterator[None]:
    """Two phones that send one large photo after another meanwhile."""
    body, done = camera_file(scene(3000, 2250)), threading.Event()

    def send() -> None:
        while not done.is_set():
            connection = http.client.HTTPConnection("127.0.0.1", port, timeout=GIVEN_UP)
            connection.request("POST", "/api/photos", body, headers(body))
            connection.getresponse().read()
            connection.close()

    with ThreadPoolExecutor(2) as pool:
        senders = [pool.submit(send) for _ in range(2)]
        yield
        done.set()
        for one in senders:
            one.result()


def within(health: list[float], store: list[float]) -> bool:
    median = health[len(health) // 2]
    return median <= HEALTHY_MEDIAN and health[-1] <= HEALTHY_WORST and store[-1] <= STORED_WORST


def row(worker: str, database: str, url: str, seconds: float, photos: bool) -> tuple[str, bool]:
    settings = {"TWENTYMILE_DATABASE_URL": url} if url else {}
    with (
        tempfile.TemporaryDirectory() as folder,
        serving(Path(folder), WORKERS[worker], **settings) as address,
    ):
        port = int(address.rsplit(":", 1)[1])
        measured(port, 0.5)  # loads the rules in each process
        with stalled(port), photos_coming(port) if photos else nullcontext():
            health, store = measured(port, seconds)
    numbers = (health[len(health) // 2], health[-1], store[len(store) // 2], store[-1])
    cells = " | ".join(f"{number * 1e3:9.1f}" for number in numbers)
    good = within(health, store)
    return f"| {worker:8} | {database:10} | {cells} | {'yes' if good else 'no':6} |", good


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--workers", default=",".join(WORKERS), help="which to compare")
    parser.add_argument("--seconds", type=float, default=8.0, help="how long to measure each")
    parser.add_argument("--photos", action="store_true", help="with large photos coming in, too")
    given = parser.parse_args()
    print(f"{EACH} stalled uploads, {EACH} forms and {EACH} headers at once; times in ms")
    print("| worker   | database   | healthz   | at worst  | store     | at worst  | in bar |")
    print("|----------|------------|----------:|----------:|----------:|----------:|--------|")
    good = True
    with ExitStack() as stack:
        databases = {"SQLite": ""}
        if binaries() is not None:
            databases["PostgreSQL"] = stack.enter_context(cluster())
        for worker in given.workers.split(","):
            for database, url in databases.items():
                text, within_bar = row(worker, database, url, given.seconds, given.photos)
                good = good and (within_bar or worker != "ours")
                print(text, flush=True)
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
