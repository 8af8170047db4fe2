"""What all commands have in common: their language, and the words of argparse in it."""

from __future__ import annotations

import argparse
from collections.abc import Callable

from checks.words import Words, finished, of_terminal, words

# What argparse says of a wrong command line and under --help: the words in its place, and the
# names that its own placeholders have in them.
PLACES = {
    "usage: ": ("cli-args-usage", {}),
    "options": ("cli-args-options", {}),
    "positional arguments": ("cli-args-positional", {}),
    "show this help message and exit": ("cli-args-help", {}),
    "%(prog)s: error: %(message)s\n": (
        "cli-args-error",
        {"prog": "%(prog)s", "message": "%(message)s"},
    ),
    "argument %(argument_name)s: %(message)s": (
        "cli-args-argument",
        {"name": "%(argument_name)s", "message": "%(message)s"},
    ),
    "the following arguments are required: %s": ("cli-args-required", {"names": "%s"}),
    "unrecognized arguments: %s": ("cli-args-unknown", {"names": "%s"}),
    "invalid choice: %(value)r (choose from %(choices)s)": (
        "cli-args-choice",
        {"value": "%(value)r", "choices": "%(choices)s"},
    ),
    "ambiguous option: %(option)s could match %(matches)s": (
        "cli-args-ambiguous",
        {"option": "%(option)s", "matches": "%(matches)s"},
    ),
    "expected one argument": ("cli-args-one", {}),
    "ignored explicit argument %r": ("cli-args-none", {"value": "%r"}),
}


def spoken(argv: list[str] | None = None) -> Words:
    """The words of ``--language``, wherever it stands, or else of the terminal."""
    early = argparse.ArgumentParser(add_help=False, exit_on_error=False)
    early.add_argument("--language", default=of_terminal())
    try:
        wanted = early.parse_known_args(argv)[0].language
    except argparse.ArgumentError:  # told by the whole parser, which knows every option
        wanted = of_terminal()
    return words(wanted if wanted in finished() else of_terminal())


def parser(prog: str, about: str, said: Words) -> argparse.ArgumentParser:
    """A parser of ``python -m PROG`` that explains itself by the words ``about``."""
    # argparse reads its words by these names each time it speaks; the other way to reach them is
    # a compiled gettext file, a second catalogue beside the one there is.
    vars(argparse)["_"] = own_words(said)
    made = argparse.ArgumentParser(prog=f"python -m {prog}", description=said.say(about))
    made.add_argument(
        "--language",
        choices=finished(),
        help=said.say("cli-language"),
        metavar=said.say("cli-code"),
    )
    return made


def own_words(said: Words) -> Callable[[str], str]:
    """What argparse says in its own words, by its English."""

    def of(text: str) -> str:
        if text not in PLACES:
            return text
        name, values = PLACES[text]
        return said.say(name, **values) + text[len(text.rstrip()) :]

    return of
