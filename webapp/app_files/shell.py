"""The app's files as they go out: typed, tagged by their content, compressed once."""

from __future__ import annotations

import json
import re
import threading
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256
from pathlib import Path

import brotli
import deflate
import rfc8785
from flask import Response, g, request
from markupsafe import escape

from checks.circuit.rank import table
from checks.rulebook import beside
from checks.words import FIRST, finished, region, words
from webapp.engine import Engine

TYPES = {
    ".css": "text/css; charset=utf-8",
    ".html": "text/html; charset=utf-8",
    ".ico": "image/x-icon",
    ".jpg": "image/jpeg",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".webmanifest": "application/manifest+json",
    ".woff2": "font/woff2",
}
COMPRESSED = (".css", ".html", ".js", ".json", ".svg", ".txt", ".webmanifest")
WITHIN_PAGES = (".css", ".js", ".json", ".webmanifest")  # no page of their own
TIGHTEST = 12  # libdeflate: a twentieth smaller than zlib's tightest
TAG_LENGTH = 16  # hexadecimal digits: 64 bits tell releases apart
FOR_HOME = "icons/touch-180.png"  # asked for by the system, once, when it is put on a home screen
# These have an address of their own at the root, or none at all.
NOT_BELOW_STATIC = ("index.html", "manifest.webmanifest", "sw.js")
# Not needed to look round and to make a first check: the worker fetches these right after.
LATER = (
    "/lamp-table.json",
    *(
        f"/static/{name}.js"
        for name in (
            "data/due",
            "data/figures",
            "data/language",
            "data/files",
            "data/offering",
            "data/memory",
            "data/past",
            "data/photos",
            "data/presets",
            "data/run",
            "engine/explain",
            "engine/warm",
            "engine/working",
            "parts/working",
            "data/walking",
            "screens/camera",
            "screens/checklist",
            "screens/compare",
            "screens/pause",
            "screens/share",
            "screens/still",
            "parts/plug",
            "parts/sidewall",
            "screens/lamps",
            "screens/road",
            "screens/run",
            "screens/runs",
            "screens/years",
            "engine/lamps",
            "engine/pressure",
            "engine/trend",
            "parts/calendar",
            "parts/chart",
            "parts/figure",
            "parts/drawings/details",
            "parts/drawings/ladder",
            "parts/drawings/line",
            "parts/drawings/shown",
            "parts/drawings/trailer",
            "screens/answers",
            "screens/calling",
            "screens/comfort",
            "screens/history",
            "screens/borrower",
            "screens/due_cards",
            "screens/link",
            "screens/link_reading",
            "screens/pair",
            "screens/photos",
            "screens/settings",
            "screens/figures",
            "screens/trailer",
            "screens/trip",
            "screens/under_way",
            "screens/walk",
        )
    ),
)
LATER_STYLE = "/later.css"
LATER_WORDS = ("road", "later")
MANIFEST = "/manifest.{}.webmanifest"
TOKEN = b"self.__SHELL__"


# Indents, and lines of a script that hold nothing but a comment: a sixth of what goes over the air.
# The line itself stays, so that a fault on a phone names the line of the file here. No script may
# hold a text over several lines. docs/decisions.md says why no library makes scripts smaller.
REMARKS = re.compile(rb"^[ \t]*(?://.*$|/\*\*(?:[^*]|\*(?!/))*\*/[ \t]*$)?", re.MULTILINE)


# A remark behind code, where no quote follows that could make it text; the type of an expression.
BEHIND = re.compile(rb"[ \t]+// [^\"'`\n]*$|/\*\* @type [^*\n]*\*/ ", re.MULTILINE)


def without_remarks(script: bytes) -> bytes:
    whole_lines = REMARKS.sub(lambda remark: b"\n" * remark[0].count(b"\n"), script)
    return BEHIND.sub(b"", whole_lines)


# Style sheets in the order they are joined in, each named for what it dresses; then that for paper,
# which the app fetches later with the verdict that is printed.
SHARED = ("tokens", "base", "page", "buttons", "notes", "signs", "plan", "lists")
ENTRIES = ("pad", "ticks", "working")
STYLES = {
    "app": (
        *SHARED,
        *("dialog", "screen", "front", "asking", "halt", "history", "rows", "hubs"),
        "large_letters",
    ),
    # What dresses only screens that a first visit does without.
    "later": (
        *ENTRIES,
        *("verdict", "stop_now", "compare", "camera", "photos", "link", "figures", "pair"),
        *("road", "lamps", "run", "trip"),
        *("years", "drawings", "walk", "answers", "comfort", "large_letters"),
    ),
    "shop": (
        *SHARED,
        *ENTRIES,
        *(f"shop/{name}" for name in ("frame", "form", "list", "job", "check", "figures", "desk")),
    ),
}
PAPER = "print"
STYLE_REMARKS = re.compile(rb"/\*.*?\*/|^[ \t]+", re.MULTILINE | re.DOTALL)


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


def words_at(language: str, part: str = "first") -> str:
    """Where the words of a part are fetched."""
    return "/words{}.{}.json".format("" if part == "first" else f"-{part}", language)


def later(language: str) -> tuple[str, ...]:
    """What comes right after a first visit in this language."""
    return (*LATER, *(words_at(language, part) for part in LATER_WORDS), LATER_STYLE)


@dataclass(frozen=True)
class Asset:
    """Bytes with the suffix that gives their type."""

    body: bytes
    suffix: str

    @cached_property
    def tag(self) -> str:
        return sha256(self.body).hexdigest()

    @cached_property
    def gzip(self) -> bytes:
        return bytes(deflate.gzip_compress(self.body, TIGHTEST))

    @cached_property
    def br(self) -> bytes:
        return bytes(brotli.compress(self.body, mode=brotli.MODE_TEXT))

    def packing(self) -> str:
        """The best coding that the current request takes, or none."""
        if self.suffix not in COMPRESSED:
            return ""
        return next((c for c in ("br", "gzip") if request.accept_encodings[c] > 0), "")

    def response(self) -> Response:
        """The answer to the current request: whole, compressed, or *not modified*."""
        g.within_page = self.suffix in WITHIN_PAGES and request.path != "/sw.js"
        packing = self.packing()
        body = getattr(self, packing) if packing else self.body
        response = Response(body, content_type=TYPES[self.suffix])
        if packing:
            response.headers["Content-Encoding"] = packing
        if self.suffix in COMPRESSED:
            response.headers["Vary"] = "Accept-Encoding"
        # The worker holds the app; whoever asks past it asks whether anything is new.
        response.headers["Cache-Control"] = "no-cache"
        tag = self.tag[:TAG_LENGTH]
        response.set_etag(f"{tag}-{packing}" if packing else tag)
        response.make_conditional(request)
        g.within_page |= response.status_code == 304  # the browser keeps the headers it has
        return response


class Shell:
    """All files of the app. A changed file is read again; nothing else is."""

    def __init__(self, folder: Path, engine: Engine) -> None:
        self.folder = folder.resolve()
        self.engine = engine
        self._kept: dict[tuple[Path, str], tuple[tuple[int, int], Asset]] = {}
        self._words: dict[tuple[str, str], Asset] = {}
        self._styles: dict[str, tuple[list[str], Asset]] = {}
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
                    body = without_remarks(body)
                elif path.suffix in WORDED:
                    body = worded(body, WORDED[path.suffix], language)
                kept = self._kept[key] = (stamp, Asset(body, path.suffix))
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
            self._words[key] = Asset(rfc8785.dumps(said), ".json")
        return self._words[key]

    @cached_property
    def lamp_table(self) -> Asset:
        """What each lamp shows with each fault."""
        return Asset(rfc8785.dumps(table()), ".json")

    def listed(self, language: str) -> dict[str, Asset]:
        """Every address the app needs without signal in a language, in a fixed order."""
        manifest = self.asset("manifest.webmanifest", language)
        page = self.asset("index.html", language)
        found = {"/": page}
        for path in sorted(self.folder.rglob("*")):
            name = path.relative_to(self.folder).as_posix()
            if name.startswith(("css/", "shop/")) or name in (*NOT_BELOW_STATIC, FOR_HOME):
                continue
            # What the manifest alone names is for the system, once, at install.
            named = f'"/static/{name}"'.encode()
            if not (manifest and named in manifest.body) or (page and named in page.body):
                found[f"/static/{name}"] = self.asset(name)
        found["/app.css"] = self.style("app")
        found[LATER_STYLE] = self.style("later")
        found[MANIFEST.format(language)] = manifest
        found["/rulebook.json"] = self.rulebook
        for part in ("first", *LATER_WORDS):
            found[words_at(language, part)] = self.words(part, language)
        found["/lamp-table.json"] = self.lamp_table
        return {address: asset for address, asset in found.items() if asset is not None}

    def worker(self, language: str) -> Asset | None:
        """``sw.js`` with the app's files in a language and a hash over all of them filled in.

        ``files`` are fetched when it installs, and proven by ``proof``, the SHA-256 over a line
        each of address and SHA-256; ``rest`` (with their tags) right after, ``asked`` (likewise)
        when somebody first opens the figures, or at a later start.
        """
        script = self.asset("sw.js")
        if script is None:
            return None
        listed = self.listed(language)
        asked = {
            "/rulebook-figures.json": self.figures,
            words_at(language, "figures"): self.words("figures", language),
        }
        version = sha256(lines_of(listed | asked) + script.body).hexdigest()[:16]
        rest = {
            name: asset.tag[:TAG_LENGTH]
            for name, asset in listed.items()
            if name in later(language)
        }
        files = [name for name in listed if name not in rest]
        figures = {address: asset.tag[:TAG_LENGTH] for address, asset in asked.items()}
        proof = sha256(lines_of({name: listed[name] for name in files})).hexdigest()
        told = {"version": version, "files": files, "proof": proof, "rest": rest, "asked": figures}
        shell = json.dumps(told).encode()
        return Asset(b"self.SHELL = " + shell + b";\n" + script.body.replace(TOKEN, shell), ".js")


def lines_of(assets: dict[str, Asset]) -> bytes:
    return "".join(f"{address} {asset.tag}\n" for address, asset in assets.items()).encode()
