"""How often something may be tried. Counted in the database, for all processes and hosts."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import ColumnElement, Connection, RowMapping, delete, select, update
from sqlalchemy.exc import IntegrityError

from webapp.clock import now
from webapp.security import digest
from webapp.storage.models import tries
from webapp.storage.store import Store


@dataclass(frozen=True)
class Patience:
    """After ``free`` tries each further one closes the door, twice as long every time."""

    what: str
    free: int
    first: timedelta
    longest: timedelta
    # What nobody has tried for this long is forgotten.
    memory: timedelta = timedelta(days=1)

    def closed_for(self, count: int) -> timedelta | None:
        if count < self.free:
            return None
        times = 1 << min(count - self.free, 20)
        return min(self.first * times, self.longest)


# One login from one place; then one login from wherever, which browsers that are known pass by.
LOGIN = Patience("login", 5, timedelta(minutes=1), timedelta(hours=1))
ANYWHERE = Patience("anywhere", 100, timedelta(minutes=1), timedelta(hours=1))
ADDRESS = Patience("address", 20, timedelta(minutes=1), timedelta(hours=1))
# One staff member's one-time codes: a million of them, of which three fit at any time.
CODE = Patience("code", 5, timedelta(minutes=1), timedelta(hours=1))
# Bundles from one place: with these it cannot take all the room there is for a day.
PAIR = Patience("pair", 20, timedelta(minutes=1), timedelta(hours=1))
LINK = Patience("link", 60, timedelta(minutes=1), timedelta(hours=1))


def from_here(login: str, place: str) -> str:
    """A login as it is tried from one place: guesses made elsewhere do not shut its owner out."""
    return f"{login}\n{place}"


def closed_until(store: Store, patience: Patience, who: str) -> datetime | None:
    """When ``who`` may try again, or None for now. Changes nothing."""
    with store.reading() as connection:
        row = find(connection, patience, who)
    return still_closed(patience, row, now())


def still_closed(patience: Patience, row: RowMapping | None, moment: datetime) -> datetime | None:
    """Until when the door is shut. Shut for longer than it ever is means that the clock was wrong
    then, or has been put back since: it counts no more."""
    until: datetime | None = None if row is None else row["until"]
    if until is None or not moment < until <= moment + patience.longest:
        return None
    return until


def count(store: Store, patience: Patience, who: str) -> datetime | None:
    """Count one try. Until when ``who`` was shut out already, or None: the try may be made.

    Counting comes before looking, so that tries sent all at once count too.
    """
    try:
        with store.writing() as connection:
            return count_in(connection, patience, who)
    except IntegrityError:  # another host has just counted the first one
        with store.writing() as connection:
            return count_in(connection, patience, who)


def count_in(connection: Connection, patience: Patience, who: str) -> datetime | None:
    moment = now()
    row = find(connection, patience, who)
    until = still_closed(patience, row, moment)
    if until is not None:
        return until
    if row is None:
        forget_old(connection, patience, moment)
    fresh = row is None or abs(moment - row["since"]) > patience.memory
    number = 1 if row is None or fresh else row["count"] + 1
    wait = patience.closed_for(number)
    until = None if wait is None else moment + wait
    values = {"count": number, "since": moment, "until": until}
    if row is None:
        names = {"what": patience.what, "who": digest(who)}
        connection.execute(tries.insert().values(**names, **values))
    else:
        connection.execute(update(tries).where(tries.c.id == row.id).values(**values))
    return None


def forgive(store: Store, patience: Patience, who: str) -> None:
    """Whoever got in was not guessing."""
    with store.writing() as connection:
        connection.execute(delete(tries).where(*named(patience, who)))


def take_back(store: Store, patience: Patience, who: str) -> None:
    """One try was no guess; those before it still count."""
    with store.writing() as connection:
        mine = update(tries).where(*named(patience, who), tries.c.count > 0)
        connection.execute(mine.values(count=tries.c.count - 1, until=None))


def find(connection: Connection, patience: Patience, who: str) -> RowMapping | None:
    mine = select(tries).where(*named(patience, who)).with_for_update()
    return connection.execute(mine).mappings().first()


def named(patience: Patience, who: str) -> tuple[ColumnElement[bool], ColumnElement[bool]]:
    return tries.c.what == patience.what, tries.c.who == digest(who)


def forget_old(connection: Connection, patience: Patience, moment: datetime) -> None:
    old = (tries.c.what == patience.what, tries.c.since < moment - patience.memory)
    connection.execute(delete(tries).where(*old))
