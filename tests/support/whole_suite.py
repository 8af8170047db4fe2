"""The whole browser suite in the made-up language: ``make test-made-up``.

Tests name what they look for, and compare what they read, in English. With TWENTYMILE_MADE_UP
set, servers and browsers of the run speak the made-up language, and this file stands between: what
a test looks for is found in its longer, marked words, and what it reads comes back in English.
Before each tap, and when a browser is put away, the screen is looked at: text that no mark encloses
did not come from the catalogue. Numbers and dates stay as in the USA, so that tests read the same
figures.
"""

from __future__ import annotations

import functools
import os
import re
import tempfile
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

from playwright.sync_api import (
    Browser,
    BrowserContext,
    BrowserType,
    Locator,
    LocatorAssertions,
    Page,
)
from sqlalchemy import ColumnDefault

from checks.words import FIRST, REGIONS, add_folder, words
from tests.support import packed
from tests.support.browser import ORIGIN
from tests.support.made_up import CLOSE, LANGUAGE, OPEN, WORD, longer, make
from tests.support.tongue import SEEN, cases
from webapp.storage.models import shops

ON = bool(os.environ.get("TWENTYMILE_MADE_UP"))
APPLICATION = "tests.support.whole_suite:serve()" if ON else ""
ROOT = Path(__file__).parents[1]
PLAIN = Page.evaluate
FORMATS = """for (const name of ["NumberFormat", "DateTimeFormat", "PluralRules", "ListFormat",
    "RelativeTimeFormat", "DisplayNames", "Collator"]) {
  const own = (tag) => tag === undefined || String(tag).startsWith("LANGUAGE") ? "en-US" : tag;
  Intl[name] = new Proxy(Intl[name], {
    construct: (made, [tag, ...rest]) => new made(own(tag), ...rest),
    apply: (made, self, [tag, ...rest]) => made.call(self, own(tag), ...rest),
  });
  for (const [kind, methods] of [[Date, ["toLocaleString", "toLocaleDateString",
      "toLocaleTimeString"]], [Number, ["toLocaleString"]]])
    for (const method of methods) {
      const plain = kind.prototype[method];
      kind.prototype[method] = function (tag, ...rest) {
        return plain.call(this, own(tag), ...rest);
      };
    }
}""".replace("LANGUAGE", LANGUAGE)


def offer() -> None:
    """Let this process speak the made-up language, with numbers and dates as in the USA."""
    if LANGUAGE not in REGIONS:
        add_folder(make(Path(tempfile.mkdtemp(prefix="made-up-"))).parent)
        # Shops that tests make without a word about it speak it as well.
        shops.c.language.default = ColumnDefault(LANGUAGE)


def serve() -> Any:
    """What gunicorn serves in such a run."""
    offer()
    return packed.serve()


# ---- from English to the longer words, and back --------------------------------------------------


@functools.cache
def shorter() -> dict[str, str]:
    """By each longer word of the catalogue the English one, in the cases that styles make of it."""
    found: dict[str, str] = {}
    for name in words(FIRST).ids():
        for text in cases(words(FIRST).shape(name)):
            for word in WORD.findall(text):
                for form in (word, word.lower(), word.upper(), word.capitalize()):
                    found[longer(form)] = form
    return found


def back(value: Any) -> Any:
    """What was read of a page, as it reads in English; what is no text is left as it is."""
    if isinstance(value, str):
        # Bytes in letters, and JSON: what a script gave is no text of a screen.
        if value[:1] in ("{", "[") or (" " not in value and len(value) > LONGEST):
            return value
        bare = OWN_NAME.sub("", value.translate({ord(OPEN): None, ord(CLOSE): None}))
        return WORD.sub(lambda word: shorter().get(word[0], word[0]), bare)
    if isinstance(value, list):
        return [back(one) for one in value]
    return value  # objects are what the phone keeps, not what a person reads


def as_read(text: str) -> str:
    """What a test read past the browser, from a server or its store, as it reads in English."""
    return str(back(text)) if ON else text


LONGEST = 40  # letters in a word
OWN_NAME = re.compile(r"\bEsperanto\s+")  # offered beside those that there are in English
MARKS = f"[{OPEN}{CLOSE}]*"


def either(text: str, source: bool = False) -> str:
    """A pattern for ``text``, or for the ``source`` of one, in either form of each word."""

    def part(one: str) -> str:
        if WORD.fullmatch(one):
            return f"{MARKS}(?:{longer(one)}|{one}){MARKS}"
        if source:
            return one
        # In the driver's own patterns a bare slash is their end.
        bits = (MARKS.join(map(re.escape, bit)) for bit in re.split(r"\s+", one))
        bits = (bit.replace("/", r"\x2f") for bit in bits)
        return r"\s+".join(f"{MARKS}{bit}{MARKS}" for bit in bits)

    return "".join(part(one) for one in re.split(rf"({WORD.pattern})", text))


def wanted(text: Any, exact: bool = False) -> Any:
    """What a test looks for, for the page to be searched by."""
    if isinstance(text, re.Pattern):
        return re.compile(either(text.pattern, source=True), text.flags & ~re.UNICODE)
    if not isinstance(text, str):
        return text
    made = either(text.strip())
    return re.compile(rf"^\s*{made}\s*$" if exact else made, 0 if exact else re.IGNORECASE)


def css(selector: Any) -> Any:
    """A selector whose texts are found in either form."""
    if not isinstance(selector, str):
        return selector

    def matched(found: re.Match[str]) -> str:
        kind, _, text = found.groups()
        made = either(text).replace("\\", "\\\\").replace("'", "\\'")
        edge = (r"^\\s*", r"\\s*$") if kind == "text-is" else ("", "")
        return (
            f":text-matches('{edge[0]}{made}{edge[1]}')"
            if kind == "text-is"
            # A test's own text, such as a file's name, stays as it is.
            else f":is(:has-text('{longer(text)}'), :has-text('{text}'))"
        )

    selector = re.sub(
        r"\btext=([^/].*?)(?= >> |$)", lambda found: f"text=/{either(found[1])}/i", selector
    )
    return re.sub(r":(text-is|has-text)\((['\"])(.*?)\2\)", matched, selector)


def spoken(script: Any) -> Any:
    """A script whose comparisons with text of the catalogue are with the longer words."""

    def changed(found: re.Match[str]) -> str:
        method, quote, text = found.groups()
        if not any(text.rstrip(" 0123456789") in one for one in of_the_catalogue()):
            return found[0]
        # A mark stands before what begins a text.
        method = "includes" if method == "startsWith" else method
        return f".{method}({quote}{longer(text)}{quote})"

    if not isinstance(script, str):
        return script
    script = script.replace(f".{FIRST}.json", f".{LANGUAGE}.json")
    return re.sub(r"\.(includes|startsWith)\((['\"])([A-Za-z][\w, ]{3,}?)\2\)", changed, script)


# ---- what stands beside the catalogue ------------------------------------------------------------


@functools.cache
def of_the_tests() -> str:
    """All that tests write themselves: names, notes, and what their servers are filled with."""
    files = [*ROOT.rglob("*.py"), *ROOT.rglob("*.json"), ROOT.parent / "webapp/commands/demo.toml"]
    return " ".join(" ".join(one.read_text("utf-8").split()) for one in files)


@functools.cache
def of_the_catalogue() -> frozenset[str]:
    every = (text for name in words(FIRST).ids() for text in cases(words(FIRST).shape(name)))
    return frozenset(part.strip(" .,:;()") for text in every for part in text.split("\0"))


def beside(texts: Iterable[str]) -> list[str]:
    """Texts outside the marks that are neither a test's own nor without words."""
    found, depth = set(), 0
    for text in texts:
        bare = ""
        for letter in text:
            depth += (letter == OPEN) - (letter == CLOSE)
            bare += letter if depth == 0 and letter != CLOSE else "\n"
        found |= {one.strip(" .,:;()·…") for one in bare.split("\n") if depth == 0}
    return sorted(one for one in found if WORD.search(one) and not excused(one))


def excused(text: str) -> bool:
    """Each part written by a test and no text of the catalogue, or the same in every language."""
    if text in of_the_tests() and text not in of_the_catalogue():
        return True
    parts = (one.strip() for one in re.split(r"[,:;()·|\d\n]+", SAME.sub("|", text)))
    return all(
        one in of_the_tests() and one not in of_the_catalogue() for one in parts if WORD.search(one)
    )


# Languages by their own names, the name, the sign, units, hashes and addresses.
SAME = re.compile(
    r"Twentymile|English|español|Esperanto|STOP|\b(?:kPa|psi|min|mph|lbf?|mm|kg|km|AM|PM)\b|[\w-]{22,}|\b[0-9a-f]{12}\b"
    r"|https?://\S+|(?:Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)\w*"
)
seen: dict[str, str] = {}  # what was found beside the catalogue, and where


def taken() -> dict[str, str]:
    """What was found since it was last asked."""
    found = dict(seen)
    seen.clear()
    return found


def look(page: Page) -> None:
    try:
        texts = [text.strip() for text in PLAIN(page, SEEN)]
        at = PLAIN(page, "location.hash || location.pathname")
        if page.url.startswith(ORIGIN):  # where scripts are tried: no screen of the app
            return
    except Exception:  # a page that is gone, or no page of ours, has nothing to look at
        return
    for text in beside(texts):
        seen.setdefault(text, at)


# ---- between the tests and the browser -----------------------------------------------------------

SELECTING = (
    *("locator", "click", "fill", "wait_for_selector", "query_selector", "query_selector_all"),
    *("check", "tap", "is_visible", "press", "set_input_files", "select_option"),
)
READING = ("inner_text", "text_content", "all_inner_texts", "all_text_contents", "get_attribute")


def between(kind: type, name: str, given: Callable[..., Any], came: Callable[[Any], Any]) -> None:
    plain = getattr(kind, name, None)
    if plain is None:
        return

    @functools.wraps(plain)
    def made(self: Any, *args: Any, **named: Any) -> Any:
        args, named = given(self, args, named)
        return came(plain(self, *args, **named))

    setattr(kind, name, made)


def first(change: Callable[[Any], Any]) -> Callable[..., Any]:
    """Change what comes first, and texts that are named."""

    def given(_self: Any, args: tuple[Any, ...], named: dict[str, Any]) -> Any:
        args = (change(args[0]), *args[1:]) if args else args
        return args, named | {
            key: wanted(named[key]) for key in ("has_text", "has_not_text") if key in named
        }

    return given


def looked_for(_self: Any, args: tuple[Any, ...], named: dict[str, Any]) -> Any:
    exact = bool(named.pop("exact", False))
    return (wanted(args[0], exact), *args[1:]), named


def by_role(_self: Any, args: tuple[Any, ...], named: dict[str, Any]) -> Any:
    exact = bool(named.pop("exact", False))
    return args, named | ({"name": wanted(named["name"], exact)} if "name" in named else {})


def tapped(self: Any, args: tuple[Any, ...], named: dict[str, Any]) -> Any:
    look(self.page)
    return args, named


def closing(self: BrowserContext, args: tuple[Any, ...], named: dict[str, Any]) -> Any:
    for page in self.pages:
        look(page)
    return args, named


def opened(_self: Any, args: tuple[Any, ...], named: dict[str, Any]) -> Any:
    return args, named | {"locale": f"{LANGUAGE}-US"}  # its units too


def with_formats(made: Any) -> Any:
    made.add_init_script(FORMATS)
    return made


def same(value: Any) -> Any:
    return value


def untouched(_self: Any, args: tuple[Any, ...], named: dict[str, Any]) -> Any:
    return args, named


def stand_between() -> None:
    """Put all this round the browser's driver, for as long as this process lives."""
    offer()
    REGIONS[LANGUAGE] = LANGUAGE
    between(Locator, "click", tapped, same)
    between(BrowserContext, "close", closing, same)
    between(Browser, "new_context", opened, with_formats)
    between(Browser, "new_page", opened, with_formats)
    between(BrowserType, "launch_persistent_context", opened, with_formats)
    for kind in (Page, Locator):
        for name in SELECTING:
            between(
                kind, name, first(css) if kind is Page or name == "locator" else untouched, same
            )
        for name in ("get_by_text", "get_by_label", "get_by_placeholder", "get_by_title"):
            between(kind, name, looked_for, same)
        between(kind, "get_by_role", by_role, same)
        for name in READING:
            between(kind, name, first(css) if kind is Page else untouched, back)
        for name in ("evaluate", "evaluate_all"):
            between(kind, name, first(spoken), back)
        between(kind, "input_value", untouched, back)
    between(Locator, "filter", first(same), same)
    between(Page, "eval_on_selector_all", first(css), back)
    between(Page, "title", untouched, back)
    for name in ("to_contain_text", "to_have_text", "not_to_contain_text"):
        between(LocatorAssertions, name, first(wanted), same)
