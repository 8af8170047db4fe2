"""Tells the shop by mail of what came in: `python -m webapp.commands.mail` sends.

`make run` starts the same loop when TWENTYMILE_SMTP_URL is set. A mail is only ever sent on from
the table ``mails``, so a mail server that is down holds nothing up and loses nothing.
"""

from __future__ import annotations

import json
import logging
import smtplib
import ssl
import sys
import threading
import time
from datetime import datetime, timedelta
from email.message import EmailMessage
from email.utils import format_datetime
from typing import Any
from urllib.parse import unquote, urlsplit

from flask import Flask
from sqlalchemy import Connection, select, update

from checks import prompt
from webapp.clock import now
from webapp.follow_up import news, undecided
from webapp.follow_up.answered import axles_of
from webapp.follow_up.schedule import what_due
from webapp.follow_up.verdicts import is_held
from webapp.mail_address import is_mail_address
from webapp.storage.models import mails, records, shops, trailers
from webapp.storage.store import AnyRow
from webapp.wording import finding_title, place_text, say, speaking

PAUSE = 15.0  # seconds between looks into the table
TIME_OUT = 20
LISTED = 30  # in one mail
BESIDE = 5  # of what else is undecided of a trailer
# Minutes until the next try; the last one is repeated until a day has passed.
WAITS = (1, 5, 15, 60)
GIVE_UP = timedelta(days=1)
# While one process sends a mail, the others leave it alone for this long.
CLAIM = timedelta(minutes=5)
log = logging.getLogger("webapp.commands.mail")


def start(app: Flask) -> None:
    """Send in the background for as long as this process lives, when a mail server is set."""
    if app.config["SMTP_URL"]:
        threading.Thread(target=go_on, args=(app,), name="mail", daemon=True).start()


def go_on(app: Flask) -> None:
    while True:
        try:
            send_waiting(app)
        except Exception:  # the database may be away for a while; the mails are in it
            log.exception("mail has to wait")
        time.sleep(PAUSE)


def send_waiting(app: Flask) -> int:
    """Send what is due now; how many went out."""
    sent = 0
    with app.extensions["store"].writing() as connection:
        news.overdue_came(connection)
    with app.app_context():
        while (mail := claimed(app)) is not None:
            sent += send_one(app, mail)
    return sent


def claimed(app: Flask) -> AnyRow | None:
    """The next mail that is due, kept from other processes for a while; or None."""
    moment = now()
    with app.extensions["store"].writing() as connection:
        waiting = (mails.c.sent.is_(None), mails.c.next_try <= moment)
        row = connection.execute(select(mails).where(*waiting).order_by(mails.c.id)).first()
        if row is None:
            return None
        # On PostgreSQL two may have read the row: only one still finds it as it was.
        mine = update(mails).where(mails.c.id == row.id, mails.c.next_try == row.next_try)
        done = connection.execute(mine.values(next_try=moment + CLAIM, tries=row.tries + 1))
    return row if done.rowcount == 1 else claimed(app)


def send_one(app: Flask, mail: AnyRow) -> bool:
    store, error = app.extensions["store"], ""
    with store.reading() as connection:
        message = written(connection, mail, app.config)
    if message is None:
        error = "the shop has no email address"
    elif not message["Subject"]:
        log.info("mail %s has nothing to tell any more", mail.id)
    else:
        try:
            deliver(app.config["SMTP_URL"], message)
        except (OSError, smtplib.SMTPException) as fault:
            error = f"{type(fault).__name__}: {fault}"[:500]
            # What the mail server said may name who the mail is for.
            log.warning("mail %s has to wait: %s", mail.id, type(fault).__name__)
    values: dict[str, Any] = {"error": error}
    values |= {"next_try": next_try(mail)} if error else {"sent": now(), "next_try": None}
    with store.writing() as connection:
        connection.execute(update(mails).where(mails.c.id == mail.id).values(**values))
    return not error


def next_try(mail: AnyRow) -> datetime | None:
    """When to try once more; None after a day, when the mail would tell nobody anything new."""
    wait = timedelta(minutes=WAITS[min(mail.tries, len(WAITS) - 1)])
    return now() + wait if now() + wait <= mail.made + GIVE_UP else None


def written(connection: Connection, mail: AnyRow, config: Any) -> EmailMessage | None:
    """The mail: which trailer, what was found, and where to read on; nothing of the customer."""
    shop = connection.execute(select(shops).where(shops.c.id == mail.shop_id)).one()
    if not is_mail_address(shop.email):
        return None
    message = EmailMessage()
    message["From"] = config["MAIL_FROM"] or shop.email
    message["To"] = shop.email
    message["Date"] = format_datetime(now())
    message["Message-ID"] = f"<{mail.kind}-{mail.id}-{mail.record_id}@twentymile>"
    fill = one_check if mail.kind in news.MORE else gathered
    with speaking(shop.language):
        fill(connection, mail, message, config["ADDRESS"])
    return message


def one_check(connection: Connection, mail: AnyRow, message: EmailMessage, address: str) -> None:
    check = connection.execute(
        select(records, trailers.c.name.label("trailer_name"))
        .outerjoin(trailers, records.c.trailer_key == trailers.c.id)
        .where(records.c.shop_id == mail.shop_id, records.c.id == mail.record_id)
    ).first()
    trailer = named(check)
    held = mail.kind == "held"
    message["Subject"] = say("mail-subject-held" if held else "mail-subject", trailer=trailer)
    where = f"{address}/shop/checks/{mail.record_id}" if address else say("mail-inbox")
    body = say("mail-body-held" if held else "mail-body", trailer=trailer)
    lines = [body, *found(check, "look" if held else "stop")]
    lines += beside(connection, mail.shop_id, [check] if check else []).values()
    lines += [say("mail-decide", where=where)]
    message.set_content("\n\n".join(lines) + "\n")


def named(row: Any) -> str:
    """The trailer's name; a line break in it would end the header, or the mail."""
    return " ".join(((row and row.trailer_name) or say("mail-a-trailer")).split())


def gathered(connection: Connection, mail: AnyRow, message: EmailMessage, address: str) -> None:
    """Several checks, or all that is overdue; without a subject when nothing is left to tell."""
    if mail.kind == "overdue":
        rows = news.overdue(connection, mail.shop_id)
        whose = [row.trailer_id for row in rows]
        lines = [f"{named(row)}: {what_due(row.what)}" for row in rows]
        lines = told_once(lines, whose, still_open(connection, mail.shop_id, whose[:LISTED]))
    else:
        rows = news.gathered(connection, mail)
        lines = ["\n".join([named(row), *found(row, news.LEVELS[mail.kind])]) for row in rows]
        whose = [row.trailer_key for row in rows]
        lines = told_once(lines, whose, beside(connection, mail.shop_id, rows))
    if not lines:
        return
    count, where = len(lines), f"{address}/shop" if address else say("mail-inbox")
    message["Subject"] = say(f"mail-subject-{mail.kind}", count=count)
    if count > LISTED:
        lines = [*lines[:LISTED], say("mail-more", count=count - LISTED)]
    lines += [say("mail-read", where=where)]
    message.set_content("\n\n".join(lines) + "\n")


def still_open(connection: Connection, shop_id: int, whose: list[int]) -> dict[int, str]:
    """By trailer what nobody has decided of it, one line each."""
    found_there = undecided.of_each(connection, shop_id, set(whose))
    return {trailer: "\n".join(undecided_lines(rows)) for trailer, rows in found_there.items()}


def beside(connection: Connection, shop_id: int, checks: list[AnyRow]) -> dict[int, str]:
    """By trailer of the checks what else nobody has decided of it, one line each."""
    keys = {row.trailer_key for row in checks if row.trailer_key is not None}
    named_here, found_there = {row.seq for row in checks}, {}
    for trailer, rows in undecided.of_each(connection, shop_id, keys).items():
        if others := [row for row in rows if row.seq not in named_here]:
            found_there[trailer] = "\n".join([say("mail-also"), *undecided_lines(others)])
    return found_there


def told_once(lines: list[str], whose: list[int], also: dict[int, str]) -> list[str]:
    """The lines, and behind the first of each trailer what stands beside it."""
    left = dict(also)
    told = (left.pop(trailer, "") for trailer in whose)
    return ["\n".join(filter(None, pair)) for pair in zip(lines, told, strict=True)]


def undecided_lines(rows: list[AnyRow]) -> list[str]:
    """The worst of them, and how many more."""
    lines = [undecided_line(row) for row in rows[:BESIDE]]
    return lines if len(rows) <= BESIDE else [*lines, say("mail-more", count=len(rows) - BESIDE)]


def undecided_line(row: AnyRow) -> str:
    level = undecided.level(row)
    found_there = ", ".join(found(row, level)).replace("\n", ", ")
    held = say("shop-held") if is_held(row._mapping) else ""
    return ": ".join(filter(None, [say(f"level-{level}"), held, found_there]))


def found(check: Any, level: str = "stop") -> list[str]:
    """What was found of that level, and at which wheel, in one line each."""
    if check is None:
        return []
    facts, bad = json.loads(check.record)["body"]["facts"], undecided.findings(check, level)
    named = (int(one["place"][0]) for one in bad if one["place"])
    axles, lines = max([axles_of(facts), *named]), []
    for one in bad:
        title = finding_title(one["finding"], one["place"], one["finding"])
        place = place_text(one["place"], axles)
        lines.append(f"{title} ({place})" if place else title)
    return ["\n".join(lines)] if lines else []


def deliver(url: str, message: EmailMessage) -> None:
    """Hand the mail to the server at ``smtp://`` (with STARTTLS where offered) or ``smtps://``."""
    at = urlsplit(url)
    kind = smtplib.SMTP_SSL if at.scheme == "smtps" else smtplib.SMTP
    options: dict[str, Any] = {"timeout": TIME_OUT}
    if at.scheme == "smtps":
        options["context"] = ssl.create_default_context()
    with kind(
        at.hostname or "", at.port or (465 if at.scheme == "smtps" else 25), **options
    ) as server:
        server.ehlo()
        if at.scheme == "smtp" and server.has_extn("starttls"):
            server.starttls(context=ssl.create_default_context())
            server.ehlo()
        if at.username:
            server.login(unquote(at.username), unquote(at.password or ""))
        server.send_message(message)


def main() -> None:
    from webapp import create_app
    from webapp.config import BadSetting

    said = prompt.spoken()
    with speaking(said.language):
        prompt.parser("webapp.commands.mail", "cli-mail", said).parse_args()
        try:
            app = create_app()
        except BadSetting as error:
            sys.exit(str(error))
        if not app.config["SMTP_URL"]:
            sys.exit(say("cli-mail-no-server"))
    go_on(app)


if __name__ == "__main__":
    main()
