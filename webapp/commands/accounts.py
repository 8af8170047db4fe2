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

from webapp import create_app, passwords
from webapp.config import BadSetting
from webapp.follow_up.rate_limit import LOGIN, forgive
from webapp.shop.accounts import add_staff, plain_login, set_password
from webapp.shop.forms import tidy
from webapp.storage.models import shops, staff
from webapp.storage.store import Store


class Refused(ValueError):
    """What stands in the way, in words."""


def parser() -> argparse.ArgumentParser:
    made = argparse.ArgumentParser(prog="python -m webapp.commands.accounts", description=__doc__)
    commands = made.add_subparsers(dest="command", required=True)
    add = commands.add_parser("add", help="add a shop with its first account")
    add.add_argument("shop", help="name of the shop, as customers know it")
    add.add_argument("--login", required=True, help="what to sign in with")
    add.add_argument("--name", default="", help="name of the person; the login when left out")
    add.add_argument("--phone", default="", help="the shop's phone, shown to customers")
    add.add_argument("--email", default="", help="where bad news is sent")
    add.add_argument("--place", default="", help="the shop's address, shown to customers")
    password = commands.add_parser("password", help="give an account a new password")
    password.add_argument("--login", required=True)
    codes = commands.add_parser("codes-off", help="turn off the one-time codes of an account")
    codes.add_argument("--login", required=True)
    return made


def ask_password(*about: str) -> str:
    """The password from the prompt, or from the first line of standard input.

    Raises Refused where a guesser who knows the words of ``about`` would soon have it.
    """
    if not sys.stdin.isatty():
        given = sys.stdin.readline().rstrip("\r\n")
    else:
        given = getpass.getpass("Password: ")
        if given != getpass.getpass("Again: "):
            raise Refused("the two passwords differ")
    if not passwords.LEAST <= len(given) <= passwords.MOST:
        raise Refused(f"the password needs {passwords.LEAST} to {passwords.MOST} characters")
    if passwords.is_guessable(given, *about):
        raise Refused("that password is soon guessed: take four words that have nothing in common")
    return given


def add_shop(store: Store, given: argparse.Namespace, password: str) -> None:
    names = {key: tidy(getattr(given, key)) for key in ("phone", "email", "place")}
    shop, login = tidy(given.shop), plain_login(given.login)
    if not shop or not login:
        raise Refused("the shop and the login each need a name")
    for text, most in ((shop, 80), (login, 60), (given.name, 80), (names["phone"], 40)):
        if len(text) > most:
            raise Refused(f"{text[:20]}... is too long: use {most} characters at most")
    try:
        with store.writing() as connection:
            if connection.execute(select(shops).where(shops.c.name == shop)).first():
                raise Refused(f"{shop} is here already: its staff add each other under /shop/staff")
            done = connection.execute(shops.insert().values(name=shop, **names))
            shop_id = done.inserted_primary_key[0]  # type: ignore[index]
            add_staff(connection, shop_id, login, tidy(given.name) or login, password)
    except IntegrityError:
        raise Refused(f"the login {login} is taken: choose another") from None


def renew_password(store: Store, login: str, password: str) -> None:
    with store.writing() as connection:
        here = (staff.c.login == login, staff.c.gone.is_(None))
        row = connection.execute(select(staff).where(*here)).first()
        if row is None:
            raise Refused(f"there is no login {login}")
        set_password(connection, row.id, password)
    forgive(store, LOGIN, login)


def codes_off(store: Store, login: str) -> None:
    """For whoever has lost the phone that makes their codes."""
    with store.writing() as connection:
        mine = update(staff).where(staff.c.login == login, staff.c.gone.is_(None))
        if connection.execute(mine.values(code_seed=None, code_step=None)).rowcount == 0:
            raise Refused(f"there is no login {login}")


def main() -> None:
    given = parser().parse_args()
    try:
        store = create_app().extensions["store"]
        if given.command == "codes-off":
            codes_off(store, plain_login(given.login))
            print(f"{plain_login(given.login)} signs in by password alone from now on")
            return
        password = ask_password(given.login, getattr(given, "shop", ""))
        if given.command == "add":
            add_shop(store, given, password)
            print(f"{tidy(given.shop)} is added. Sign in as {plain_login(given.login)} at /shop")
        else:
            renew_password(store, plain_login(given.login), password)
            print(f"{plain_login(given.login)} has a new password and is signed out everywhere")
    except (BadSetting, Refused) as error:
        sys.exit(f"Nothing was changed: {error}.")


if __name__ == "__main__":
    main()
