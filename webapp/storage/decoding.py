"""A picture decoded within limits and written anew. Runs as a process of its own.

`images.py` starts this file and talks to it in frames over standard input and output, so that a
picture made to take for ever ends this process and nothing else. The file needs Pillow alone.
"""

from __future__ import annotations

import json
import re
import resource
import signal
import sys
from dataclasses import dataclass
from hashlib import sha256
from io import BytesIO
from typing import Any

from PIL import Image, ImageOps, UnidentifiedImageError

# A JPEG with one scan is decoded in small, row by row; all others lie in memory whole.
PIXELS, PIXELS_WHOLE = 40_000_000, 8_000_000
SIDE = 20_000  # shrinking a longer side takes more memory than the picture
EDGE = 2000  # the app sends 1600; more shows no more of a hub
# Cameras write 1 and programs up to about 12 (from memory); each one is gone through anew.
SCANS = 32
SECONDS = 1.0  # of processor time, for one picture
MEMORY = 160 * 1024 * 1024
FORMATS = ("JPEG", "PNG", "WEBP")
# Of a JPEG, those markers that a segment with its length follows (ITU-T T.81, B.1.1.3).
MARKER = re.compile(rb"\xff([^\x00\x01\xd0-\xd9\xff])")
PNG_END = b"\0\0\0\0IEND\xaeB`\x82"


class BadPicture(ValueError):
    """A picture that is not taken: the words ``error-photo-CODE`` say why, with ``values``."""

    def __init__(self, code: str, **values: str) -> None:
        super().__init__(code)
        self.code, self.values = code, values


@dataclass(frozen=True)
class Picture:
    """An upright JPEG without metadata; sizes in pixels."""

    data: bytes
    width: int
    height: int

    @property
    def sha256(self) -> str:
        return sha256(self.data).hexdigest()


def cleaned(body: bytes) -> Picture:
    """The picture in ``body``, decoded to its last row and encoded anew. Raises BadPicture."""
    if not body:
        raise BadPicture("empty")
    try:
        return encoded(decoded(body))
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise too_many_pixels(PIXELS) from None
    except MemoryError:
        raise too_costly() from None
    except BadPicture:
        raise
    # Mangled files make Pillow raise whatever its parsers meet; none of it is our fault.
    except Exception:
        raise BadPicture("not_whole") from None


def decoded(body: bytes) -> Image.Image:
    image = opened(body)
    scans = jpeg_scans(body) if image.format == "JPEG" else 0
    most = PIXELS if scans == 1 else PIXELS_WHOLE
    if image.width * image.height > most or max(image.size) > SIDE:
        raise too_many_pixels(most)
    if scans > SCANS:
        raise too_costly()
    # Large JPEGs are decoded at a half or a quarter, which saves most of the memory.
    image.draft("RGB", (EDGE, EDGE))
    image.load()  # verify() would pass a JPEG cut in half
    if not ends_with_picture(body, image.format or ""):
        raise BadPicture(
            "tail",
        )
    return ImageOps.exif_transpose(image)


def opened(body: bytes) -> Image.Image:
    try:
        return Image.open(BytesIO(body), formats=FORMATS)
    except UnidentifiedImageError:
        raise BadPicture(
            "not_a_photo",
        ) from None


def ends_with_picture(body: bytes, kind: str) -> bool:
    """No bytes may follow: a page behind a photo opens as a page in some viewers."""
    if kind == "PNG":
        return body.endswith(PNG_END)
    if kind == "WEBP":
        size = int.from_bytes(body[4:8], "little") + 8
        return len(body) in (size, size + size % 2)
    return body.endswith(b"\xff\xd9")


def encoded(image: Image.Image) -> Picture:
    image.thumbnail((EDGE, EDGE))
    # A new image carries no comment or profile along; what was see-through becomes white.
    flat = Image.new("RGB", image.size, "white")
    if image.has_transparency_data:
        image = image.convert("RGBA")
        flat.paste(image, mask=image.getchannel("A"))
    else:
        flat.paste(image.convert("RGB"))
    out = BytesIO()
    flat.save(out, "JPEG", quality=85)
    return Picture(out.getvalue(), flat.width, flat.height)


def jpeg_scans(body: bytes) -> int:
    """How many scans follow each other: markers FFDA (ITU-T T.81, table B.1)."""
    scans, at = 0, 2
    while (found := MARKER.search(body, at)) is not None:
        scans += found[1] == b"\xda"
        # What a segment holds, such as a small picture for lists, is not looked into.
        at = found.end() + int.from_bytes(body[found.end() : found.end() + 2], "big")
    return scans


def too_many_pixels(most: int) -> BadPicture:
    return BadPicture(
        "too_many_pixels",
        most=f"{most / 1e6:g}",
        side=str(SIDE),
    )


def too_costly() -> BadPicture:
    return BadPicture("too_costly")


# ---- as a process -------------------------------------------------------------------------------


def serve() -> None:
    """Answer each picture on standard input until it ends."""
    limit_memory()
    while len(length := sys.stdin.buffer.read(4)) == 4:
        body = sys.stdin.buffer.read(int.from_bytes(length, "big"))
        # Once the time is up the signal ends this process, whatever the decoder is doing.
        signal.setitimer(signal.ITIMER_PROF, SECONDS)
        head, data = answer(body)
        signal.setitimer(signal.ITIMER_PROF, 0)
        text = json.dumps(head).encode()
        for part in (text, data):
            sys.stdout.buffer.write(len(part).to_bytes(4, "big") + part)
        sys.stdout.buffer.flush()


def limit_memory() -> None:
    resource.setrlimit(resource.RLIMIT_DATA, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))


def answer(body: bytes) -> tuple[dict[str, Any], bytes]:
    try:
        kept = cleaned(body)
    except BadPicture as error:
        return {"bad": [error.code, error.values]}, b""
    return {"width": kept.width, "height": kept.height}, kept.data


if __name__ == "__main__":
    serve()
