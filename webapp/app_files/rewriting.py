"""What is left out of files, and filled into them, before they go out."""

from __future__ import annotations

import json
import re
from base64 import b64encode
from collections.abc import Callable
from hashlib import sha256

from markupsafe import escape

from checks.words import FIRST, finished, region, words

# Indents, and lines of a script that hold nothing but a comment: a sixth of what goes over the air.
# What is left of them, empty lines, goes too, and lines join: a fault on a phone names the line of
# the file as it is sent. No script may hold a text over several lines. docs/decisions.md says why
# no library makes scripts smaller.
REMARKS = re.compile(rb"^[ \t]*(?://.*$|/\*\*(?:[^*]|\*(?!/))*\*/[ \t]*$)?", re.MULTILINE)

# A remark behind code, where no quote follows that could make it text; the type of an expression.
BEHIND = re.compile(rb"[ \t]+// [^\"'`\n]*$|/\*\* @\w+ [^*\n]*\*/ ", re.MULTILINE)


def without_remarks(script: bytes) -> bytes:
    whole_lines = REMARKS.sub(lambda remark: b"\n" * remark[0].count(b"\n"), script)
    return BEHIND.sub(b"", whole_lines)


EMPTY_LINES = re.compile(rb"\n{2,}")
# Where the next line of a script may follow in the same one, since no statement ends between them;
# a remark would take it along.
GOES_ON = re.compile(
    rb"^((?:(?!//).)*)(?:(?<=[;{,(\[=?:&|])|(?<==>)|(?=\n[.?:&|)\]}]))\n", re.MULTILINE
)


def closed_up(script: bytes) -> bytes:
    """A script as it is sent: without remarks and empty lines, lines joined where they may be."""
    lines = EMPTY_LINES.sub(b"\n", without_remarks(script)).lstrip(b"\n")
    return GOES_ON.sub(rb"\1", lines)


# Of a style sheet what only its writers need: remarks, and space behind a sign that parts.
STYLE_REMARKS = re.compile(rb"/\*.*?\*/\s*|(?<=[{};,:])\s+|^\s+", re.MULTILINE | re.DOTALL)

# What a page has to run before it is drawn stands in it: a file of its own would hold up the
# drawing by one more way there and back.
FIRST_SCRIPT = b'<script src="/static/first.js"></script>'


def with_script(page: bytes, script: bytes) -> tuple[bytes, str]:
    """A page with its first script written into it, and what allows that by its hash (CSP 3)."""
    allowed = b64encode(sha256(script).digest()).decode()
    return page.replace(FIRST_SCRIPT, b"<script>" + script + b"</script>"), f"'sha256-{allowed}'"


# Files with words in them, as {{ their-name }}, and how a text is written there.
WORDED: dict[str, Callable[[str], str]] = {
    ".html": lambda text: str(escape(text)),
    ".webmanifest": lambda text: json.dumps(text)[1:-1],
}
WORD = re.compile(rb"\{\{ ([\w.-]+) \}\}")


def worded(body: bytes, written: Callable[[str], str], language: str = FIRST) -> bytes:
    """A file with its words filled in. Raises KeyError naming those that are missing."""
    said = words(language)
    told = {"language": language, "region": region(language), "languages": " ".join(finished())}

    def text(match: re.Match[bytes]) -> bytes:
        name = match[1].decode()
        return written(told[name] if name in told else said.say(name)).encode()

    return WORD.sub(text, body)
