"""Classes as style sheets define them, and as scripts, pages and templates use them."""

import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
STATIC = ROOT / "static"
TEMPLATES = ROOT / "webapp" / "templates"

REMARK = re.compile(r"/\*.*?\*/", re.DOTALL)
CLASS = re.compile(r"\.([A-Za-z][\w-]*)")
ATTRIBUTE = re.compile(r'\bclass="([^"]*)"')
EXPRESSION = re.compile(r"\{\{.*?\}\}|\{%.*?%\}|\$\{.*?\}", re.DOTALL)
# In scripts a class stands as a prop, or as the kind of a button or link.
PROP = re.compile(r"\bclass: (?:\w+\([^()]*\) \? |[\w.!= ]+ \? )?([\"`])([^\"`]*)\1")
PRESSED = re.compile(r"\b(?:button|link|anchor)\(")
LITERAL = re.compile(r"\"([^\"]*)\"|`([^`]*)`")


def defined(text: str) -> set[str]:
    """The classes in the selectors of a style sheet."""
    bare = REMARK.sub("", text)
    selectors = re.findall(r"([^{};]+)\{", bare)
    return {
        name for one in selectors if not one.strip().startswith("@") for name in CLASS.findall(one)
    }


def in_template(text: str) -> set[str]:
    """The classes that stand whole in the attributes of a template or page."""
    return {name for one in ATTRIBUTE.findall(text) for name in whole(one)}


def in_script(text: str) -> set[str]:
    """The classes that stand whole in the props and kinds of a script."""
    found = {name for _, one in PROP.findall(text) for name in whole(one)}
    for start in PRESSED.finditer(text):
        given = list(arguments(text, start.end()))
        for plain, templated in LITERAL.findall(given[2]) if len(given) > 2 else []:
            found |= whole(plain or templated)
    return found


def whole(text: str) -> set[str]:
    """The names in a class text, without those that are put together."""
    return {name for name in EXPRESSION.sub("\0", text).split() if "\0" not in name}


def arguments(text: str, at: int) -> Iterator[str]:
    """The arguments of a call whose opening bracket ends at ``at``."""
    depth, quote, start = 0, "", at
    for i in range(at, len(text)):
        letter = text[i]
        if quote:
            quote = "" if letter == quote and text[i - 1] != "\\" else quote
        elif letter in "\"`'":
            quote = letter
        elif letter in "([{":
            depth += 1
        elif letter in ")]}" and depth == 0:
            yield text[start:i]
            return
        elif letter in ")]}":
            depth -= 1
        elif letter == "," and depth == 0:
            yield text[start:i]
            start = i + 1
