"""A picture that came in: proven whole, decoded within limits, and written anew.

What is kept is never what was sent. Only the pixels of the one picture survive: no place, no
camera, no comment, nothing hidden behind its end.
"""

from __future__ import annotations

import threading
from dataclasses import dataclass
from hashlib import sha256
from io import BytesIO

from PIL import Image, ImageOps, UnidentifiedImageError

from webapp import sizes

BYTES = sizes.PHOTO
PIXELS = 40_000_000
EDGE = 2000  # the app sends 1600; more shows no more of a hub
FORMATS = ("JPEG", "PNG", "WEBP")
PNG_END = b"\0\0\0\0IEND\xaeB`\x82"
# Decoding 40 megapixels takes over 100 MB: sixteen threads at once would need what few hosts have.
DECODING = threading.Semaphore(2)


class BadPicture(ValueError):
    """A picture that is not taken; ``code`` for programs, ``fix`` says how to put it right."""

    def __init__(self, code: str, message: str, fix: str) -> None:
        super().__init__(message)
        self.code, self.message, self.fix = code, message, fix


@dataclass(frozen=True)
class Picture:
    """An upright JPEG without metadata; sizes in pixels."""

    data: bytes
    width: int
    height: int

    @property
    def sha256(self) -> str:
        return sha256(self.data).hexdigest()


AGAIN = "Take the photo again, or choose another one."


def prove(body: bytes, length: int, digest: str) -> None:
    """Raise BadPicture unless ``body`` has the length and the SHA-256 that were announced.

    A cut upload reaches the application without any exception, so both are looked at.
    """
    if len(body) != length:
        raise BadPicture(
            "cut_off",
            f"Only {len(body)} of the photo's {length} bytes arrived.",
            "The photo stays on the phone. Send it again.",
        )
    if sha256(body).hexdigest() != digest:
        raise BadPicture(
            "hash_mismatch",
            "The photo's bytes do not have the hash that was sent with them.",
            "The photo stays on the phone. Send it again.",
        )


def cleaned(body: bytes) -> Picture:
    """The picture in ``body``, decoded to its last row and encoded anew. Raises BadPicture."""
    if not body:
        raise BadPicture("empty", "The photo has no bytes.", AGAIN)
    with DECODING:
        try:
            image = decoded(body)
        except (Image.DecompressionBombError, Image.DecompressionBombWarning):
            raise too_many_pixels() from None
        except BadPicture:
            raise
        # Mangled files make Pillow raise whatever its parsers meet; none of it is our fault.
        except Exception:
            raise BadPicture(
                "not_whole", "The file is damaged or ends in the middle of the photo.", AGAIN
            ) from None
        return encoded(image)


def decoded(body: bytes) -> Image.Image:
    image = opened(body)
    if image.width * image.height > PIXELS:
        raise too_many_pixels()
    # Large JPEGs are decoded at a half or a quarter, which saves most of the memory.
    image.draft("RGB", (EDGE, EDGE))
    image.load()  # verify() would pass a JPEG cut in half
    if not ends_with_picture(body, image.format or ""):
        raise BadPicture(
            "tail",
            "The file does not end where the photo ends: something is cut off or hidden behind it.",
            AGAIN,
        )
    return ImageOps.exif_transpose(image)


def opened(body: bytes) -> Image.Image:
    try:
        return Image.open(BytesIO(body), formats=FORMATS)
    except UnidentifiedImageError:
        raise BadPicture(
            "not_a_photo",
            "The file is not a JPEG, PNG or WebP picture, whatever it is called.",
            "Send a photo as JPEG. On an iPhone choose Most Compatible under Camera, Formats.",
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


def too_many_pixels() -> BadPicture:
    return BadPicture(
        "too_many_pixels",
        f"The photo has more than {PIXELS // 1_000_000} million pixels.",
        "Send it smaller, such as 1600 pixels on its long side.",
    )
