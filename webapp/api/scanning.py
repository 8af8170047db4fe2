"""Where a JSON value (RFC 8259) ends, found without building it.

Python's parser makes half a gigabyte of twenty megabytes, and lets no other thread work meanwhile.
Here each step is short, and nothing is kept but which brackets are open.
"""

from __future__ import annotations

import re

GAP = rb"[ \t\n\r]*+"
SPACE = re.compile(GAP)
PLAIN, ESCAPE = rb'[^"\\\x00-\x1f]*+', rb'\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})'
# A text is gone through in pieces of so many escapes: between two of them others get their turn.
PIECE = re.compile(rb"%b(?:%b%b){0,9999}+" % (PLAIN, ESCAPE, PLAIN))
NUMBER = rb"-?(?:0|[1-9][0-9]*+)(?:\.[0-9]++)?+(?:[eE][+-]?[0-9]++)?+"
BARE = re.compile(rb"true|false|null|%b" % NUMBER)
# Most values are short; a run of them, each with the comma behind it, is passed in one go.
SHORT = rb'"[^"\\\x00-\x1f]{0,99}+"'
ITEM = rb"(?:true|false|null|%b|%b)%b,%b" % (NUMBER, SHORT, GAP, GAP)
RUNS = {
    b"]": re.compile(rb"(?:%b){0,999}+" % ITEM),
    b"}": re.compile(rb"(?:%b%b:%b%b){0,999}+" % (SHORT, GAP, GAP, ITEM)),
}
CLOSES = {b"{": b"}", b"[": b"]"}
DEEPEST = 500  # what is deeper than a rulebook by far was written to do harm


def end_of(body: bytes, at: int) -> int:
    """The place behind the value that begins at ``at``. Raises ``ValueError`` with the place where
    it is none."""
    found: list[bytes] = []  # what is open, by what closes it
    while True:
        begins = body[at : at + 1]
        if begins in CLOSES:
            found.append(CLOSES[begins])
            at = past_space(body, at + 1)
            if body[at : at + 1] != found[-1]:
                at = next_value(body, at, found[-1])
                unless(len(found) > DEEPEST, at)
                continue
        else:
            at = past_text(body, at) if begins == b'"' else past(BARE, body, at)
        at = past_space(body, at) if found else at
        while found and body[at : at + 1] == found[-1]:
            found.pop()
            at = past_space(body, at + 1) if found else at + 1
        if not found:
            return at
        unless(body[at : at + 1] != b",", at)
        at = next_value(body, past_space(body, at + 1), found[-1])


def next_value(body: bytes, at: int, closes: bytes) -> int:
    """A value of the list or object that is open; in an object behind its name and colon."""
    at = past(RUNS[closes], body, at)
    if closes == b"]":
        return at
    unless(body[at : at + 1] != b'"', at)
    at = past_space(body, past_text(body, at))
    unless(body[at : at + 1] != b":", at)
    return past_space(body, at + 1)


def past_text(body: bytes, at: int) -> int:
    at += 1
    while body[at : at + 1] != b'"':
        end = past(PIECE, body, at)
        unless(end == at, at)
        at = end
    return at + 1


def past_space(body: bytes, at: int) -> int:
    return past(SPACE, body, at)


def past(what: re.Pattern[bytes], body: bytes, at: int) -> int:
    found = what.match(body, at)
    if found is None:
        raise ValueError(at)
    return found.end()


def unless(wrong: bool, at: int) -> None:
    if wrong:
        raise ValueError(at)
