"""Photos as a phone's camera writes them: large, turned, with a place and a time inside."""

from __future__ import annotations

from hashlib import sha256
from io import BytesIO

import numpy as np
from PIL import Image

from tests.support.records import HEADERS, uuid7

CORNERS = {"top left": (200, 30, 30), "top right": (30, 160, 30), "bottom left": (40, 40, 200)}
# How the pixels lie in the file for each value of the EXIF tag 274 (Exif 2.3, section 4.6.4):
# the inverse of what a viewer does with it.
STORED_AS = {
    1: None,
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_90,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_270,
}
ORIENTATION, GPS, MAKER, LATITUDE = 0x0112, 0x8825, 0x010F, 2


def scene(width: int, height: int) -> Image.Image:
    """Soft shapes with a camera's grain, and three corners in colours of their own."""
    rng = np.random.default_rng(20)
    coarse = rng.integers(30, 220, (height // 40 + 1, width // 40 + 1, 3), dtype=np.uint8)
    soft = Image.fromarray(coarse).resize((width, height), Image.Resampling.BICUBIC)
    grain = rng.integers(-12, 13, (height, width, 1), dtype=np.int16)
    pixels = np.clip(np.asarray(soft, dtype=np.int16) + grain, 0, 255).astype(np.uint8)
    edge = min(width, height) // 6
    pixels[:edge, :edge] = CORNERS["top left"]
    pixels[:edge, -edge:] = CORNERS["top right"]
    pixels[-edge:, :edge] = CORNERS["bottom left"]
    return Image.fromarray(pixels)


def camera_file(image: Image.Image, orientation: int = 1) -> bytes:
    """A JPEG that shows ``image`` upright once its orientation tag is followed."""
    turn = STORED_AS[orientation]
    exif = Image.Exif()
    exif[ORIENTATION] = orientation
    exif[MAKER] = "Alder Fork camera"
    exif[GPS] = {LATITUDE: (44.0, 3.0, 7.0)}
    out = BytesIO()
    stored = image if turn is None else image.transpose(turn)
    stored.save(out, "JPEG", quality=92, exif=exif)
    return out.getvalue()


def corners_of(image: Image.Image) -> dict[str, str]:
    """Which of the scene's colours each corner shows, by nearest colour."""
    width, height = image.size
    at = {
        "top left": (0.06, 0.06),
        "top right": (0.94, 0.06),
        "bottom left": (0.06, 0.94),
    }
    found = {}
    for name, (x, y) in at.items():
        pixel = image.convert("RGB").getpixel((int(x * width), int(y * height)))
        found[name] = min(
            CORNERS, key=lambda c: sum((a - b) ** 2 for a, b in zip(CORNERS[c], pixel, strict=True))
        )
    return found


def headers(body: bytes, **changes: str | None) -> dict[str, str]:
    found = {
        "X-Twentymile-Photo": uuid7(),
        "X-Twentymile-Record": uuid7(),
        "X-Twentymile-Point": "hub_heat@1L",
        "X-Twentymile-Sha256": sha256(body).hexdigest(),
        "Content-Type": "image/jpeg",
    }
    named = {"X-Twentymile-" + key.title(): value for key, value in changes.items()}
    return {k: v for k, v in (HEADERS | found | named).items() if v is not None}
