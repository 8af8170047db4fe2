"""Everything in one file, and into another server: ``python -m webapp.commands.move out FILE``.

``in FILE`` takes it in on a server that has nothing yet: all of it, or nothing.
"""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from sqlalchemy import select

from checks import prompt
from checks.words import Words
from webapp import create_app
from webapp.config import BadSetting
from webapp.storage import whole
from webapp.storage.models import shops
from webapp.storage.store import Store
from webapp.wording import say, speaking


def parser(said: Words) -> argparse.ArgumentParser:
    made, written = prompt.parser("webapp.commands.move", "cli-move", said), say("cli-written")
    commands = made.add_subparsers(dest="command", required=True, metavar=say("cli-command"))
    out = commands.add_parser("out", help=say("cli-move-out"))
    out.add_argument("file", type=Path, metavar=written)
    out.add_argument("--shop", default="", help=say("cli-move-shop"))
    taken = commands.add_parser("in", help=say("cli-move-in"))
    taken.add_argument("file", type=Path, metavar=written)
    return made


def shop_of(store: Store, name: str) -> int | None:
    """The shop of that name; None for all. Raises ``ValueError`` where there is none."""
    if not name:
        return None
    with store.reading() as connection:
        found = connection.execute(select(shops.c.id).where(shops.c.name == name)).scalar()
    if found is None:
        raise ValueError(say("cli-move-no-shop", name=name))
    return int(found)


def write_out(store: Store, target: Path, shop: str) -> str:
    """Write a file that was not there; nothing of it stays where it cannot be finished."""
    shop_id = shop_of(store, shop)
    handle = os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    try:
        with os.fdopen(handle, "wb") as file:
            told = whole.write(store, file, shop_id)
    except BaseException:
        target.unlink()
        raise
    for photo in told["missing"]:
        print(say("cli-move-missing", photo=photo), file=sys.stderr)
    return counted("cli-move-written", told, target)


def counted(words: str, told: whole.Json, file: Path) -> str:
    rows = sum(one["rows"] for one in told["tables"].values())
    return say(words, rows=str(rows), photos=str(told["photos"]), file=str(file))


def main() -> None:
    said = prompt.spoken()
    with speaking(said.language):
        run(parser(said).parse_args())


def run(given: argparse.Namespace) -> None:
    try:
        store = create_app().extensions["store"]
        if given.command == "out":
            print(write_out(store, given.file, given.shop))
        else:
            with given.file.open("rb") as file:
                print(counted("cli-move-taken", whole.take_in(store, file), given.file))
    except FileExistsError:
        sys.exit(say("cli-move-there", file=str(given.file)))
    except whole.Unusable as error:
        sys.exit(say(f"cli-whole-{error.code.replace('_', '-')}", **error.values))
    except (BadSetting, ValueError, OSError) as error:
        sys.exit(str(error))


if __name__ == "__main__":
    main()
