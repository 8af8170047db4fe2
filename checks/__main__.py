"""Command line: ``python -m checks judge FILE | explain QUANTITY FILE | list``."""

from __future__ import annotations

import argparse
import json
import sys
from functools import partial
from pathlib import Path
from typing import Any

from checks import prompt, sources
from checks.explain import explain
from checks.facts import BadInput
from checks.interval import Range
from checks.judge import judge, read_case
from checks.places import place_name, sign_of
from checks.prompt import spoken
from checks.rulebook import RulebookError, load
from checks.rules import PRACTICE
from checks.words import Words, WordsError, finished, languages, unlike

MOST_TOLD = 20  # lines of what a language lacks


def main(argv: list[str] | None = None) -> int:
    """Run one command; 0 on success, 2 on wrong input with one message on standard error."""
    try:
        said = _spoken(argv)
        args = _parser(said).parse_args(argv)
        args.run(args)
    except BadInput as error:
        print(error.whole(said), file=sys.stderr)
        return 2
    except RulebookError as error:
        print(error, file=sys.stderr)
        return 2
    return 0


def _spoken(argv: list[str] | None) -> Words:
    try:
        return spoken(argv)
    except WordsError as error:
        load()  # tells the faults of the words with all others
        raise RulebookError(str(error)) from None


def _parser(said: Words) -> argparse.ArgumentParser:
    say, parser = said.say, prompt.parser("checks", "cli-about", said)
    parser.set_defaults(said=said)
    commands = parser.add_subparsers(required=True, metavar=say("cli-command"))
    judging = commands.add_parser("judge", help=say("cli-judge"))
    judging.add_argument("file", help=say("cli-file"))
    judging.set_defaults(run=_judge)
    explaining = commands.add_parser("explain", help=say("cli-explain"))
    explaining.add_argument("quantity", help=say("cli-quantity"))
    explaining.add_argument("file", help=say("cli-file"))
    explaining.set_defaults(run=_explain)
    listing = commands.add_parser("list", help=say("cli-list"))
    listing.set_defaults(run=_list)
    return parser


def _read(name: str) -> Any:
    try:
        text = sys.stdin.read() if name == "-" else Path(name).read_text("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise BadInput("file", name, reason=error) from None
    try:
        return json.loads(text)
    except json.JSONDecodeError as error:
        at = {"line": error.lineno, "column": error.colno}
        raise BadInput("json", name, reason=error.msg, **at) from None


def _judge(args: argparse.Namespace) -> None:
    verdict = judge(_read(args.file))
    say = args.said.say
    verdict["word"] = say(f"level-{verdict['level']}")
    for entry in (*verdict["findings"], *verdict["cannot_tell"]):
        name = f"finding-{entry['finding']}"
        sign = sign_of(entry["finding"], entry["place"])
        unplaced = sign and say("app-stop-now-unplaced", sign=say(f"fact-{sign}"))
        title = unplaced or say(name)
        entry |= {"title": title, "do": say(f"{name}.do"), "why": say(f"{name}.why")}
        item = load().findings[entry["finding"]]
        entry |= {"source": sources.told(item.source, say), "standing": item.standing}
    for entry in verdict["next"]:
        entry["ask"] = say(f"fact-{entry['fact']}")
    print(json.dumps(verdict, indent=2, ensure_ascii=False))


def _explain(args: argparse.Namespace) -> None:
    book, said = load(), args.said
    _, case = read_case(_read(args.file), book)
    name, _, place = args.quantity.partition("@")
    axles = len({wheel[0] for wheel in case.wheels})
    for step in explain(name, place, case, book, partial(_span, said), said):
        print(_line(step, axles, said))


def _line(step: dict[str, Any], axles: int, said: Words) -> str:
    """What it is called, its sum with the numbers put in, what it comes to, and who says so."""
    value = _value(step, said)
    parts = [_title(step, axles, said), step.get("sum", value), value]
    told = " = ".join(dict.fromkeys(parts))
    if "source" not in step:
        return told
    source = step["source"]
    who = "" if source == PRACTICE else f"{sources.told(source, said.say)}; "
    return f"{told}   [{who}{said.say('standing-' + step['standing'])}]"


def _title(step: dict[str, Any], axles: int, said: Words) -> str:
    if step["kind"] == "limit":
        return f"{said.say('working-limit')} {step['id']}"  # as the files of limits name it
    name, where = said.say(f"{step['kind']}-{step['id']}"), place_name(said, step["place"], axles)
    return f"{name} ({where.lower()})" if where else name


def _value(step: dict[str, Any], said: Words) -> str:
    value = step["value"]
    if isinstance(value[0], list):
        return f"{step['text']} {value}"
    if not step.get("answered", True) or isinstance(value[0], str):
        return str(step["text"])
    return _span(said, value, step["unit"])


def _span(said: Words, ends: Range, unit: str) -> str:
    """A range to six digits, so that a sum can be followed by hand."""
    low, high = (f"{end:.6g}" for end in ends)
    span = low if low == high else said.say("app-from-to", **{"from": low, "to": high})
    return said.with_unit(span, unit)


def _list(args: argparse.Namespace) -> None:
    data = load().data
    wanted = {k: data[k] for k in ("facts", "quantities", "limits", "findings")}
    wanted["hashes"] = {name: part["hash"] for name, part in load().parts.items()}
    print(json.dumps(wanted, indent=2, ensure_ascii=False))
    for language in sorted(set(languages()) - set(finished())):
        told = _lacking(language)
        print(args.said.say("cli-unfinished", language=language, count=len(told)), file=sys.stderr)
        print(*told[:MOST_TOLD], sep="\n", file=sys.stderr)


def _lacking(language: str) -> tuple[str, ...]:
    """Why a language is not offered, a line each, with file and entry."""
    try:
        return tuple(f"words/{line}" for line in unlike(language))
    except WordsError as error:
        return tuple(f"words/{line}" for line in str(error).splitlines())


if __name__ == "__main__":
    sys.exit(main())
