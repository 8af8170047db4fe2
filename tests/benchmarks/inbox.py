"""The inbox with a thousand and with a hundred thousand checks: `python -m tests.benchmarks.inbox`.

Prints how long the first page, a later page and a trailer's file take, and the ratio between the
two sizes. With indexes that fit, the ratio stays near one.
"""

from __future__ import annotations

import platform
import secrets
import tempfile
import time
from pathlib import Path
from typing import Any

from tests.support.floor import NOW, Floor, add, let_in, run_stop, shop_floor
from tests.support.records import uuid7
from webapp import create_app
from webapp.follow_up.shelves import DECIDED, HELD, SHELVES
from webapp.storage.models import due, records

SIZES = (1_000, 100_000)
RUNS = 40
TRAILERS = 200


def filled(folder: Path, count: int) -> Floor:
    """A shop with ``count`` checks, of which most were decided; twenty wait as Stop now, and ten
    with which nobody is to drive on yet."""
    app = create_app({"DATA": folder / "data"})
    app.config["WTF_CSRF_ENABLED"] = False
    floor = shop_floor(app)
    trailers = [floor.trailer, *(another_trailer(floor, n) for n in range(TRAILERS - 1))]
    floor.send(run_stop())
    sample = dict(floor.rows("records")[0])
    with app.extensions["store"].writing() as connection:
        for start in range(0, count, 1000):
            rows = [
                row(sample, start + n, trailers[(start + n) % TRAILERS])
                for n in range(min(1000, count - start))
            ]
            connection.execute(records.insert(), rows)
            connection.execute(due.insert(), [done_due(floor, one) for one in rows])
    return floor


def another_trailer(floor: Floor, number: int) -> int:
    facts: dict[str, Any] = {"axles": 1}
    names = {"name": f"Trailer {number}", "facts": facts, "record_id": uuid7()}
    return add(floor.app, "trailers", shop_id=floor.shop, customer_id=floor.customer, **names)


def row(sample: dict[str, Any], number: int, trailer: int) -> dict[str, Any]:
    levels = list(SHELVES.values())
    waiting = SHELVES["stop"] if number % 3 else HELD
    shelf = waiting if number < 30 else DECIDED if number % 3 else levels[1 + number % 4]
    made = sample["made_ms"] - number * 60_000
    own = {"id": uuid7(), "device": secrets.token_hex(32), "seq": None, "trailer_key": trailer}
    changed = sample | own | {"shelf": shelf, "made_ms": made, "due_id": None}
    return {key: value for key, value in changed.items() if key != "seq"}


def done_due(floor: Floor, one: dict[str, Any]) -> dict[str, Any]:
    names = {"shop_id": floor.shop, "trailer_id": one["trailer_key"], "job_id": floor.job}
    return names | {"check": "run_stop", "what": "Hubs", "by": NOW, "record_id": one["id"]}


def middle(client: Any, address: str, runs: int = RUNS) -> float:
    """Milliseconds, the median over all runs."""
    found = []
    for _ in range(runs):
        start = time.perf_counter()
        answer = client.get(address)
        if answer.status_code != 200:
            raise RuntimeError(f"{address}: {answer.status_code}")
        found.append((time.perf_counter() - start) * 1e3)
    return sorted(found)[runs // 2]


def measured(count: int) -> dict[str, float]:
    with tempfile.TemporaryDirectory() as folder:
        floor = filled(Path(folder), count)
        client = floor.app.test_client()
        let_in(client, floor.app, floor.staff)
        shelf = SHELVES["nothing"]
        pages = {
            "inbox, first page": "/shop",
            "inbox, a page far down": f"/shop?after={shelf}.{count // 2}",
            "what was decided": "/shop/decided",
            "one check": f"/shop/checks/{floor.rows('records', shelf=0)[0]['id']}",
        }
        found = {name: middle(client, address) for name, address in pages.items()}
        floor.app.extensions["store"].engine.dispose()
        return found


def main() -> None:
    few, many = (measured(count) for count in SIZES)
    print(f"Python {platform.python_version()}, {platform.machine()}, SQLite, median of {RUNS}")
    print(f"| {'page':24} | {SIZES[0]:>9,} checks | {SIZES[1]:>9,} checks | ratio |")
    print(f"|{'-' * 26}|{'-' * 17}:|{'-' * 17}:|------:|")
    for name, quick in few.items():
        slow = many[name]
        print(f"| {name:24} | {quick:13.1f} ms | {slow:13.1f} ms | {slow / quick:5.2f} |")


if __name__ == "__main__":
    main()
