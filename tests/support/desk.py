"""A shop with a server of its own, and how its link is opened on a phone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import select, update

from tests.support.phone import Phone
from tests.support.shops import Shop, finished_job
from tests.support.whole_suite import as_read
from webapp.security import digest
from webapp.storage.models import due, links, records

JOB_SHOWN = "document.body.dataset.shown?.startsWith('#/job/')"


@dataclass
class Desk:
    """The shop's side: its server, its database and one of its staff."""

    address: str
    app: Any
    shop: Shop

    def job(self, **changes: str) -> str:
        """The secret of the link of a finished job."""
        return finished_job(self.shop, **changes)[1]

    def link(self, secret: str) -> Any:
        with self.app.extensions["store"].reading() as connection:
            found = connection.execute(select(links).where(links.c.token_hash == digest(secret)))
            return found.one()

    def change_link(self, secret: str, **values: Any) -> None:
        row = self.link(secret)
        with self.app.extensions["store"].writing() as connection:
            connection.execute(update(links).where(links.c.id == row.id).values(**values))

    def settled(self, secret: str) -> list[tuple[str, bool]]:
        """The job's due checks in the order of miles, and whether each came back."""
        wanted = select(due).where(due.c.job_id == self.link(secret).job_id)
        with self.app.extensions["store"].reading() as connection:
            rows = connection.execute(wanted.order_by(due.c.id)).all()
        rows = sorted(rows, key=lambda row: (row.at_km is None, row.at_km or 0))
        return [(as_read(row.what), row.record_id is not None) for row in rows]

    def arrived(self, record: Any) -> int:
        wanted = select(records.c.id).where(records.c.id == record, records.c.link_id.is_not(None))
        with self.app.extensions["store"].reading() as connection:
            return len(connection.execute(wanted).all())


def arrive(one: Phone, secret: str) -> None:
    """Open the link as from a message; wait until the phone holds the whole app."""
    one.taps += 1
    one.page.goto(f"{one.address}/#/from/{secret}")
    one.wait_for(JOB_SHOWN)
    one.wait_for("navigator.serviceWorker.controller !== null")


def hold(one: Phone) -> None:
    """Wait until the worker has all that works without signal."""
    one.open()
    one.page.get_by_text("Ready to work without signal").wait_for()
