"""One file as it goes out: typed, tagged by its content, compressed once."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256

import brotli
import deflate
from flask import Response, g, request

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
# What brotli may take the bytes for, in blocks of which size, and how far back it may look: none is
# the smallest for every file.
TEXT, FONT = brotli.MODE_TEXT, brotli.MODE_FONT
GUESSES = ((TEXT, 16, 22), (TEXT, 17, 20), (TEXT, 17, 16), (FONT, 0, 18))
TIGHTEST = 12  # libdeflate: a twentieth smaller than zlib's tightest
TAG_LENGTH = 16  # hexadecimal digits: 64 bits tell releases apart


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
        packed = (
            brotli.compress(self.body, kind, lgblock=size, lgwin=back)
            for kind, size, back in GUESSES
        )
        return bytes(min(packed, key=len))

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
        # The worker holds the app; whoever asks past it asks whether anything is new. A page asks
        # for its picture twice, though, once for the window's tab.
        response.headers["Cache-Control"] = "max-age=600" if self.suffix == ".svg" else "no-cache"
        tag = self.tag[:TAG_LENGTH]
        response.set_etag(f"{tag}-{packing}" if packing else tag)
        response.make_conditional(request)
        g.within_page |= response.status_code == 304  # the browser keeps the headers it has
        return response
