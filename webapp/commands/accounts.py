"""Accounts of shops: ``python -m webapp.commands.accounts add "Pell Street Garage" --login dana``.

The password is asked at the prompt, or read from the first line of standard input. It is never an
argument: those are seen by everybody on the machine.
"""

from __future__ import annotations

import argparse
import getpass
import sys

from sqlalchemy import select, update
from sqlalchemy.exc import IntegrityError

from checks import prompt
from checks.words import Words
from webapp import create_app, passwords
from webapp.config import BadSetting
from webapp.follow_up.rate_limit import LOGIN, forgive
from webapp.shop.accounts import add_staff, plain_login, set_password
from webapp.shop.forms import tidy
from webapp.storage.models import shops, staff
from webapp.storage.store import Store
from webapp.wording import say, speaking


class Refused(ValueError):
    """What stands in the way, in words."""


def parser(said: Words) -> argparse.ArgumentParser:
    made = prompt.parser("webapp.commands.accounts", "cli-accounts", said)
    commands = made.add_subparsers(dest="command", required=True, metavar=say("cli-command"))
    add = commands.add_parser("add", help=say("cli-accounts-add"))
    add.add_argument("shop", help=say("cli-accounts-shop"))
    add.add_argument("--login", required=True, help=say("cli-accounts-login"))
    for name in ("name", "phone", "email", "place"):
        add.add_argument(f"--{name}", default="", help=say(f"cli-accounts-{name}"))
    for name in ("password", "codes-off"):
        one = commands.add_parser(name, help=say(f"cli-accounts-{name}"))
        one.add_argument("--login", required=True, help=say("cli-accounts-login"))
    return made


def ask_password(*about: str) -> str:
    """The password from the prompt, or from the first line of standard input.

    Raises Refused where a guesser who knows the words of ``about`` would soon have it.
    """
    if not sys.stdin.isatty():
        given = sys.stdin.readline().rstrip("\r\n")
    else:
        given = getpass.getpass(f"{say('cli-accounts-ask')} ")
        if given != getpass.getpass(f"{say('cli-accounts-again')} "):
            raise Refused(say("cli-accounts-differ"))
    least, most = passwords.LEAST, passwords.MOST
    if not least <= len(given) <= most:
        raise Refused(say("cli-accounts-length", least=least, most=most))
    if passwords.is_guessable(given, *about):
        raise Refused(say("cli-accounts-guessed"))
    return given


def add_shop(store: Store, given: argparse.Namespace, password: str) -> None:
    names = {key: tidy(getattr(given, key)) for key in ("phone", "email", "place")}
    shop, login = tidy(given.shop), plain_login(given.login)
    if not shop or not login:
        raise Refused(say("cli-accounts-nameless"))
    for text, most in ((shop, 80), (login, 60), (given.name, 80), (names["phone"], 40)):
        if len(text) > most:
            raise Refused(say("cli-accounts-long", text=text[:20], most=most))
    try:
        with store.writing() as connection:
            if connection.execute(select(shops).where(shops.c.name == shop)).first():
                raise Refused(say("cli-accounts-here", shop=shop))
            done = connection.execute(shops.insert().values(name=shop, **names))
            shop_id = done.inserted_primary_key[0]  # type: ignore[index]
            add_staff(connection, shop_id, login, tidy(given.name) or login, password)
    except IntegrityError:
        raise Refused(say("cli-accounts-taken", login=login)) from None


def renew_password(store: Store, login: str, password: str) -> None:
    with store.writing() as connection:
        here = (staff.c.login == login, staff.c.gone.is_(None))
        row = connection.execute(select(staff).where(*here)).first()
        if row is None:
            raise Refused(say("cli-accounts-unknown", login=login))
        set_password(connection, row.id, password)
    forgive(store, LOGIN, login)


def codes_off(store: Store, login: str) -> None:
    """For whoever has lost the phone that makes their codes."""
    with store.writing() as connection:
        mine = update(staff).where(staff.c.login == login, staff.c.gone.is_(None))
        if connection.execute(mine.values(code_seed=None, code_step=None)).rowcount == 0:
            raise Refused(say("cli-accounts-unknown", login=login))


def main() -> None:
    said = prompt.spoken()
    with speaking(said.language):
        given = parser(said).parse_args()
        try:
            print(done(create_app().extensions["store"], given))
        except (BadSetting, Refused) as error:
            sys.exit(say("cli-nothing-changed", why=str(error)))


def done(store: Store, given: argparse.Namespace) -> str:
    """Do what was asked, and say so."""
    login = plain_login(given.login)
    if given.command == "codes-off":
        codes_off(store, login)
        return say("cli-accounts-no-codes", login=login)
    password = ask_password(given.login, getattr(given, "shop", ""))
    if given.command == "add":
        add_shop(store, given, password)
        return say("cli-accounts-added", shop=tidy(given.shop), login=login)
    renew_password(store, login, password)
    return say("cli-accounts-renewed", login=login)


if __name__ == "__main__":
    main()
