"""Pictures as phones, cameras and worse senders make them, for the tests that send some."""

from __future__ import annotations

import struct
import zlib
from io import BytesIO
from typing import Any

from PIL import Image

# A quarter of the picture in each colour, so that any turn or mirroring shows.
CORNERS = {"red": (0, 0), "lime": (1, 0), "blue": (0, 1), "yellow": (1, 1)}
COLOURS = {"red": (255, 0, 0), "lime": (0, 255, 0), "blue": (0, 0, 255), "yellow": (255, 255, 0)}
# How the upright picture has to be turned so that EXIF orientation n says how to turn it back
# (EXIF 2.32, tag 0x0112: where the stored row 0 and column 0 belong).
STORED = {
    1: None,
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_90,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_270,
}


def quarters(width: int = 160, height: int = 80) -> Image.Image:
    image = Image.new("RGB", (width, height))
    for name, (x, y) in CORNERS.items():
        box = (x * width // 2, y * height // 2, (x + 1) * width // 2, (y + 1) * height // 2)
        image.paste(COLOURS[name], box)
    return image


def photo(kind: str = "JPEG", image: Image.Image | None = None, **options: Any) -> bytes:
    out = BytesIO()
    (image or quarters()).save(out, kind, **options)
    return out.getvalue()


def turned(orientation: int) -> bytes:
    """The quarters as a camera held at that orientation stores them."""
    image, turn = quarters(), STORED[orientation]
    exif = Image.Exif()
    exif[0x0112] = orientation
    return photo(image=image if turn is None else image.transpose(turn), exif=exif)


def telltale() -> bytes:
    """A JPEG that carries a place, a camera and a comment."""
    exif = Image.Exif()
    exif[0x010F], exif[0x0110] = "Telltale Works", "Model 7"
    exif.get_ifd(0x8825).update({1: "N", 2: (45.0, 31.0, 12.0), 3: "W", 4: (122.0, 40.0, 5.0)})
    return photo(exif=exif, comment=b"behind the shed", icc_profile=b"telltale profile")


def bomb(width: int, height: int, raw: bytes = b"\0" * 10_000, kind: int = 2) -> bytes:
    """A PNG that claims to be that large, with ``raw`` for its rows; ``kind`` 2 RGB, 0 grey."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    head = struct.pack(">IIBBBBB", width, height, 8, kind, 0, 0, 0)
    pixels = zlib.compress(raw)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", pixels) + chunk(b"IEND", b"")
    )


def many_scans(count: int, image: Image.Image | None = None) -> bytes:
    """A progressive JPEG whose last scan is sent again and again, ``count`` scans in all."""
    whole = photo(image=image, progressive=True)
    last = whole.rindex(b"\xff\xda")
    return whole[:-2] + whole[last:-2] * (count - whole.count(b"\xff\xda")) + whole[-2:]


def corner_colours(data: bytes) -> dict[str, tuple[int, int]]:
    """Which colour stands in which quarter, told within what JPEG changes."""
    image = Image.open(BytesIO(data)).convert("RGB")
    found = {}
    for x in (0, 1):
        for y in (0, 1):
            pixel = image.getpixel(
                ((2 * x + 1) * image.width // 4, (2 * y + 1) * image.height // 4)
            )
            name = min(
                COLOURS,
                key=lambda n: sum(abs(a - b) for a, b in zip(COLOURS[n], pixel, strict=True)),
            )
            found[name] = (x, y)
    return found
