"""Search and lists of a small and a large shop: `python -m tests.benchmarks.lists`.

A thousand trailers with a thousand checks against 30,000 with a million, on SQLite and, where it is
installed, on PostgreSQL. Both shops are asked in turn, so that what else the machine does falls on
both. Prints how long each page takes and the ratio; it should be two at most.
"""

from __future__ import annotations

import json
import platform
import sys
import tempfile
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from statistics import median
from typing import Any

from sqlalchemy import insert, text

from tests.benchmarks.inbox import middle
from tests.support.floor import DAY, NOW, Floor, let_in, run_stop, shop_floor
from tests.support.on_postgres import binaries, cluster
from tests.support.records import uuid7
from webapp import create_app
from webapp.follow_up import upkeep
from webapp.follow_up.shelves import DECIDED, HELD, SHELVES
from webapp.storage import finds
from webapp.storage.models import customers, due, jobs, links, outings, records, trailers

SIZES = ((1_000, 1_000), (30_000, 1_000_000))  # trailers, checks
UNDECIDED = 300  # wait in the inbox of a shop of either size
LENT = 10  # every tenth trailer is the shop's own and lent
RUNS = 15
MOST = 2.0
CHUNK = 5_000
NAMES = ("boat", "hauler", "utility", "tilt bed", "stock", "dump", "flatbed", "cargo")
MAKERS = ("Green", "Red", "Long", "Old", "Wide", "Short", "Blue")


def filled(app: Any, many: int, checks: int) -> Floor:
    floor = shop_floor(app)
    floor.send(run_stop())
    sample = dict(floor.rows("records")[0])
    with app.extensions["store"].writing() as connection:
        for start in range(0, many, CHUNK):
            people(connection, floor, start, min(CHUNK, many - start))
        for start in range(0, checks, CHUNK):
            rows = [
                check(floor, sample, start + n, many) for n in range(min(CHUNK, checks - start))
            ]
            connection.execute(insert(records), rows)
        connection.execute(insert(due), [owed(floor, n, many) for n in range(UNDECIDED)])
        upkeep.renew_all(connection)
    if floor.app.extensions["store"].engine.dialect.name == "postgresql":
        with app.extensions["store"].engine.connect() as connection:
            connection.execution_options(isolation_level="AUTOCOMMIT").execute(text("ANALYZE"))
    return floor


def people(connection: Any, floor: Floor, start: int, count: int) -> None:
    """Customers, a trailer and a finished job of each, and the words they are found by."""
    at = range(start + 10, start + 10 + count)
    whose = {"shop_id": floor.shop}
    owner = [whose | {"id": n, "name": f"Owner {n}", "phone": phone(n), "email": ""} for n in at]
    connection.execute(insert(customers), owner)
    trailer = [
        whose
        | {"id": n, "customer_id": None if n % LENT == 0 else n, "name": name_of(n)}
        | {"facts": {"service_year": 2022} if n % 4 else {}, "plate": f"TM {n}"}
        | {"record_id": uuid7(), "touched": NOW - n * DAY / 1000}
        for n in at
    ]
    connection.execute(insert(trailers), trailer)
    done = {"opened": NOW - DAY, "work": [], "note": "", "staff_id": floor.staff}
    job = [
        whose
        | done
        | {"id": n, "trailer_id": n, "customer_id": n, "form": uuid7()}
        | {"finished": NOW - n * DAY / 1000, "work_order": f"WO-{n}", "work": work_of(n)}
        for n in at
    ]
    connection.execute(insert(jobs), job)
    lend(connection, floor, [n for n in at if n % LENT == 0])
    words = [
        whose | {"kind": kind, "row_id": n, "word": word}
        for n in at
        for kind, found in words_of(n)
        for word in found
    ]
    connection.execute(insert(finds.finds), words)


def lend(connection: Any, floor: Floor, at: list[int]) -> None:
    """A code of the desk on each, and every third is out."""
    whose = {"shop_id": floor.shop}
    code = {"kind": "standing", "made": NOW, "expires": NOW + 365 * DAY}
    codes = [whose | code | {"trailer_id": n, "token_hash": f"{n:064x}"} for n in at]
    connection.execute(insert(links), codes)
    gone = {"what": "out", "made": NOW - DAY, "name": "Noor Vance", "phone": "555 0199"}
    connection.execute(insert(outings), [whose | gone | {"trailer_id": n} for n in at[::3]])


def work_of(n: int) -> list[str]:
    return [name for name, every in (("bearings", 3), ("storage", 7)) if n % every == 0]


def words_of(n: int) -> list[tuple[str, set[str]]]:
    owner = finds.words_in(f"Owner {n}") | finds.ends_of(phone(n))
    trailer = finds.words_in(name_of(n), f"TM {n}") | owner
    return [("customer", owner), ("trailer", trailer), ("job", finds.words_in(f"WO-{n}"))]


def phone(n: int) -> str:
    return f"555 {n:07d}"


def name_of(n: int) -> str:
    return f"{MAKERS[n % 7]} {NAMES[n % 8]} {n}"


def check(floor: Floor, sample: dict[str, Any], n: int, many: int) -> dict[str, Any]:
    """Most were decided; those hold little, so that a million fit on a disk."""
    own = {"id": uuid7(), "device": f"{n:064x}", "trailer_key": 10 + n * 7919 % many}
    made = {"made_ms": sample["made_ms"] - n * 60_000, "due_id": None, "link_id": None}
    kept = sample | own | made
    del kept["seq"]
    if n < UNDECIDED:
        shelf = SHELVES["stop"] if n < 20 else HELD if n < 30 else SHELVES["mend"]
        return kept | {"shelf": shelf, "level": "stop"}
    level = "mend" if n % 50 == 0 else "nothing"
    told = NOTHING if level == "nothing" else MEND
    small = {"record": AGED if n % 20 == 0 else SMALL, "verdict": json.dumps(told)}
    return kept | small | {"shelf": DECIDED, "level": level, "far_km": n % 90 if n % 5 else None}


NOTHING = {"level": "nothing", "findings": [], "cannot_tell": []}
MEND = NOTHING | {"level": "mend", "points": [{"point": "nuts", "place": "1L", "level": "mend"}]}
BODY = {"check": "run_stop", "facts": {}, "verdict": NOTHING, "typed": {}, "rulebook": ""}
SMALL = json.dumps({"made": NOW.isoformat(), "body": BODY | {"date": "2026-07-14"}})
AGED = SMALL.replace('"facts": {}', '"facts": {"tire_made@1L": "2519"}')


def owed(floor: Floor, n: int, many: int) -> dict[str, Any]:
    names = {"shop_id": floor.shop, "trailer_id": 10 + n * 31 % many, "job_id": None}
    return names | {"check": "run_stop", "what": "Hubs", "by": NOW - DAY, "at_km": None}


def pages(many: int) -> dict[str, str]:
    last = many - 100
    return {
        "inbox": "/shop",
        "trailers, last worked on": "/shop/trailers",
        "trailers, far down": f"/shop/trailers?after={last}",
        "trailers by name, far down": f"/shop/trailers?sort=name&after={last}",
        "trailers to be stopped": "/shop/trailers?show=stop",
        "trailers overdue": "/shop/trailers?show=overdue",
        "customers": "/shop/customers",
        "customers, far down": f"/shop/customers?after={last}",
        "jobs": "/shop/jobs",
        "jobs, far down": f"/shop/jobs?after={last}",
        "find a name": f"/shop/find?q=owner+{last}",
        "find what many have": "/shop/find?q=green+boat",
        "find a phone's end": f"/shop/find?q={last:07d}",
        "find a plate": f"/shop/find?q=TM{last}",
        "find a work order": f"/shop/find?q=WO-{last}",
        "lending desk": "/shop/fleet",
        "lending desk, far down": f"/shop/fleet?after={many // 140 * 70 + 30}",
        "codes to print": "/shop/fleet/codes",
        "ask back": "/shop/recall",
        "ask back, far down": f"/shop/recall?after=repack.0.{last - last % 4 + 1}",
        "what came back": "/shop/comebacks",
        "a new job's form": "/shop/jobs/new",
        "one trailer": "/shop/trailers/20",
        "one customer": "/shop/customers/33",
        "to forget a customer": "/shop/customers/33/delete",
        "table of the stored": "/shop/recall/stored.csv",
    }


def measured(name: str) -> dict[str, tuple[float, float]]:
    """By page the median of either shop, in milliseconds."""
    with ExitStack() as stack:
        shops = [(stack.enter_context(asked(name, *size)), pages(size[0])) for size in SIZES]
        found: dict[str, tuple[list[float], list[float]]] = {page: ([], []) for page in shops[0][1]}
        for turn in range(RUNS + 1):
            for page, both in found.items():
                for times, (client, addresses) in zip(both, shops, strict=True):
                    took = middle(client, addresses[page], 1)
                    if turn:  # the first is not counted
                        times.append(took)
    return {page: (median(small), median(large)) for page, (small, large) in found.items()}


@contextmanager
def asked(name: str, many: int, checks: int) -> Iterator[Any]:
    """Somebody at a desk of a shop of that size."""
    with database(name) as url, tempfile.TemporaryDirectory() as folder:
        app = create_app({"DATA": Path(folder) / "data", "DATABASE_URL": url})
        floor = filled(app, many, checks)
        client = app.test_client()
        let_in(client, app, floor.staff)
        yield client
        app.extensions["store"].engine.dispose()


@contextmanager
def database(name: str) -> Iterator[str]:
    if name == "SQLite":
        yield ""
        return
    with cluster() as url:
        yield url


def main() -> int:
    worst = 0.0
    for name in ("SQLite", "PostgreSQL") if binaries() else ("SQLite",):
        found = measured(name)
        print(f"Python {platform.python_version()}, {platform.machine()}, {name}, median of {RUNS}")
        print(f"| {'page':26} | {SIZES[0][0]:>8,} trailers | {SIZES[1][0]:>8,} trailers | ratio |")
        print(f"|{'-' * 28}|{'-' * 18}:|{'-' * 18}:|------:|")
        for page, (quick, slow) in found.items():
            worst = max(worst, slow / quick)
            print(f"| {page:26} | {quick:14.1f} ms | {slow:14.1f} ms | {slow / quick:5.2f} |")
    print(f"Largest ratio {worst:.2f}, asked for: {MOST} at most.")
    return int(worst > MOST)


if __name__ == "__main__":
    sys.exit(main())
