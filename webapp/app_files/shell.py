"""All files of the app, and the list of them that its worker goes by."""

from __future__ import annotations

import json
import threading
from functools import cached_property
from hashlib import sha256
from itertools import pairwise, takewhile
from pathlib import Path
from typing import Any, NamedTuple

import rfc8785

from checks.circuit.rank import table
from checks.circuit.wire import packed
from checks.rulebook import beside
from checks.words import FIRST
from webapp.app_files.asset import TAG_LENGTH, TYPES, Asset
from webapp.app_files.fetched import (
    FOR_HOME,
    LAMP_TABLE,
    LATER_SCRIPTS,
    LATER_STYLE,
    LATER_WORDS,
    MANIFEST,
    NOT_BELOW_STATIC,
    PAPER,
    STYLES,
    TOGETHER,
    later,
    words_at,
)
from webapp.app_files.rewriting import (
    STYLE_REMARKS,
    WORDED,
    closed_up,
    with_script,
    worded,
)
from webapp.engine import Engine

TOKEN = b"self.__SHELL__"
NONE_ALIKE, MOST_ALIKE = ord("#"), ord("[") - ord("#")  # no quote, no backslash between
SAME_NAME = {".choice-": "~", ".": "^"}  # how ids of one name go on, the longer first


class Page(NamedTuple):
    """The app's page, and the source by which a content policy allows the script in it."""

    asset: Asset
    allowed: str


class Shell:
    """All files of the app. A changed file is read again; nothing else is."""

    def __init__(self, folder: Path, engine: Engine) -> None:
        self.folder = folder.resolve()
        self.engine = engine
        self._kept: dict[tuple[Path, str], tuple[tuple[int, int], Asset]] = {}
        self._words: dict[tuple[str, str], Asset] = {}
        self._styles: dict[str, tuple[list[str], Asset]] = {}
        self._pages: dict[str, tuple[list[str], Page]] = {}
        self._together: Asset | None = None
        self._lock = threading.Lock()

    def asset(self, name: str, language: str = FIRST) -> Asset | None:
        """A file by its path below the static folder, its words in a language; or None."""
        if "\0" in name:
            return None
        path = (self.folder / name).resolve()
        hidden = any(part.startswith(".") for part in Path(name).parts)
        if hidden or not path.is_relative_to(self.folder):
            return None
        if path.suffix not in TYPES or not path.is_file():
            return None
        stat = path.stat()
        stamp = (stat.st_mtime_ns, stat.st_size)
        key = (path, language if path.suffix in WORDED else "")
        with self._lock:
            kept = self._kept.get(key)
            if kept is None or kept[0] != stamp:
                body = path.read_bytes()
                if path.suffix == ".js":
                    body = closed_up(body)
                elif path.suffix in WORDED:
                    body = worded(body, WORDED[path.suffix], language)
                kept = self._kept[key] = (stamp, Asset(body, path.suffix))
        return kept[1]

    def page(self, language: str) -> Page | None:
        """The app's page in a language with its first script in it; None where it is not here."""
        page, script = self.asset("index.html", language), self.asset("first.js")
        if not page or not script:
            return Page(page, "") if page else None
        tags = [page.tag, script.tag]
        kept = self._pages.get(language)
        if kept is None or kept[0] != tags:
            body, allowed = with_script(page.body, script.body.strip())
            kept = self._pages[language] = (tags, Page(Asset(body, page.suffix), allowed))
        return kept[1]

    def style(self, of: str) -> Asset | None:
        """The style sheets of one of ``STYLES`` as one, or None where they are not all here."""
        sheets = [self.asset(f"css/{name}.css") for name in (*STYLES[of], PAPER)]
        found = [sheet for sheet in sheets if sheet]
        if len(found) < len(sheets):
            return None
        tags = [sheet.tag for sheet in found]
        kept = self._styles.get(of)
        if kept is None or kept[0] != tags:
            *screen, paper = (sheet.body for sheet in found)
            printed = [] if of == "app" else [b"@media print {", paper, b"}"]
            joined = b"\n".join([*screen, *printed])
            kept = self._styles[of] = (tags, Asset(STYLE_REMARKS.sub(b"", joined), ".css"))
        return kept[1]

    @cached_property
    def rulebook(self) -> Asset:
        return Asset(rfc8785.dumps(self.engine.rulebook), ".json")

    @cached_property
    def figures(self) -> Asset:
        """Without what the phone has in the rulebook it opened with."""
        return Asset(rfc8785.dumps(beside(self.engine.rulebook, self.engine.figures)), ".json")

    def words(self, part: str, language: str) -> Asset:
        """The words of a part of the rulebook; KeyError where that language is not spoken."""
        key = (part, language)
        if key not in self._words:
            lacking = "figures_alone" if part == "figures" else part  # the phone has the others
            said = self.engine.words(lacking, language)
            self._words[key] = Asset(rfc8785.dumps(apart(said)), ".json")
        return self._words[key]

    @cached_property
    def lamp_table(self) -> Asset:
        """What each lamp shows with each fault."""
        return Asset(rfc8785.dumps(packed(table())), ".json")

    def listed(self, language: str) -> dict[str, Asset]:
        """Every address the app needs without signal in a language, in a fixed order."""
        manifest = self.asset("manifest.webmanifest", language)
        page = self.page(language)
        found = {"/": page.asset if page else None}
        for path in sorted(self.folder.rglob("*")):
            name = path.relative_to(self.folder).as_posix()
            if name.startswith(("css/", "shop/")) or name in (*NOT_BELOW_STATIC, FOR_HOME):
                continue
            # What the manifest alone names is for the system, once, at install.
            named = f'"/static/{name}"'.encode()
            if not (manifest and named in manifest.body) or (page and named in page.asset.body):
                found[f"/static/{name}"] = self.asset(name)
        found["/app.css"] = self.style("app")
        found[LATER_STYLE] = self.style("later")
        found[MANIFEST.format(language)] = manifest
        found["/rulebook.json"] = self.rulebook
        for part in ("first", *LATER_WORDS):
            found[words_at(language, part)] = self.words(part, language)
        found[LAMP_TABLE] = self.lamp_table
        return {address: asset for address, asset in found.items() if asset is not None}

    def together(self) -> Asset:
        """The scripts that come after a first visit, as one file."""
        found = {address: self.asset(address.removeprefix("/static/")) for address in LATER_SCRIPTS}
        asset = joined([one for one in found.values() if one])
        if self._together is None or self._together.body != asset.body:
            self._together = asset
        return self._together

    def worker(self, language: str) -> Asset | None:
        """``sw.js`` with the app's files in a language and a hash over all of them filled in.

        ``files`` are fetched when it installs, and proven by ``proof``, the SHA-256 over a line
        each of address and SHA-256; ``rest`` (with their tags) right after, and the scripts of
        ``together`` as one; ``asked`` (with tags too) when somebody first opens the figures, or at
        a later start.
        """
        script = self.asset("sw.js")
        if script is None:
            return None
        listed = self.listed(language)
        figures = words_at(language, "figures")
        asked = {"/rulebook-figures.json": self.figures, figures: self.words("figures", language)}
        files = {name: one for name, one in listed.items() if name not in later(language)}
        scripts = [name for name in LATER_SCRIPTS if name in listed]
        rest = {n: one for n, one in listed.items() if n not in files and n not in scripts}
        tag = self.together().tag[:TAG_LENGTH]
        told = {
            "version": sha256(lines_of(listed | asked) + script.body).hexdigest()[:16],
            "files": list(files),
            "proof": sha256(lines_of(files)).hexdigest(),
            "rest": tags_of(rest),
            "together": {"address": TOGETHER, "hash": tag, "files": scripts},
            "asked": tags_of(asked),
        }
        shell = json.dumps(told).encode()
        return Asset(b"self.SHELL = " + shell + b";\n" + script.body.replace(TOKEN, shell), ".js")


def joined(scripts: list[Asset]) -> Asset:
    """Scripts one after the other, behind a line of JSON with the bytes of each.

    What a fault on a phone names is looked up in this file, then.
    """
    bodies = [one.body for one in scripts]
    sizes = json.dumps([len(body) for body in bodies]).encode()
    return Asset(b"\n".join([sizes, b"".join(bodies)]), ".txt")


def tags_of(assets: dict[str, Asset]) -> dict[str, str]:
    return {address: asset.tag[:TAG_LENGTH] for address, asset in assets.items()}


def lines_of(assets: dict[str, Asset]) -> bytes:
    return "".join(f"{address} {asset.tag}\n" for address, asset in assets.items()).encode()


def apart(said: dict[str, Any]) -> dict[str, Any]:
    """Words with their ids in a row beside them, which a packer makes a tenth smaller.

    An id is sent without what it begins with like the one before; its first sign says how many
    letters that is, or that the whole name is (``SAME_NAME``).
    """
    ids = sorted(said["say"])
    row = [_tail(before, one) for before, one in pairwise(["", *ids])]
    return {**said, "ids": " ".join(row), "say": [said["say"][one] for one in ids]}


def _tail(before: str, one: str) -> str:
    """What is sent of an id that follows another."""
    name = before.split(".")[0]
    for on, sign in SAME_NAME.items():
        if one.startswith(name + on):
            return sign + one[len(name + on) :]
    pairs = zip(before, one[:MOST_ALIKE], strict=False)
    alike = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], pairs))
    return chr(NONE_ALIKE + alike) + one[alike:]
